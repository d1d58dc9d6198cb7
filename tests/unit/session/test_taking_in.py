# SPDX-License-Identifier: MIT
"""Two records of one person in one: nothing of either is lost, and the later day counts."""

from __future__ import annotations

import pytest

from fitassist.domain.body import Body, Target
from fitassist.errors import FitError
from fitassist.session.events import (
    BodyDescribed,
    CheckDone,
    Event,
    FittingLeft,
    FittingStarted,
    MeasurementBrought,
    MeasurementTaken,
    MeasurementWithdrawn,
    NotesChanged,
    PersonNamed,
    PersonTagged,
    Recorded,
    Undone,
)
from fitassist.session.person import fold_person
from fitassist.session.taking_in import common_length, copied_events, take_in
from tests.builders import a_form

NOW = "2026-06-01T00:00:00Z"


def record(*events: Event, day: str = "2026-01-01") -> list[Recorded]:
    return [Recorded(seq=i, at=f"{day}T09:00:00Z", event=e) for i, e in enumerate(events, 1)]


def body(body_id: str = "body-1", name: str = "Everyday", **more: str) -> BodyDescribed:
    return BodyDescribed(body_id=body_id, name=name, **more)  # type: ignore[arg-type]


def took(mm: float, key: str = "waist", body_id: str = "body-1") -> MeasurementTaken:
    return MeasurementTaken(body_id=body_id, measurement=key, mm=mm)


def note(text: str) -> NotesChanged:
    return NotesChanged(text=text)


def fitting(name: str, body_id: str = "body-1") -> FittingStarted:
    target = Target(line="bust", value_mm=900)
    return FittingStarted(
        fitting_id=name, body_id=body_id, body=Body(name="b", targets=(target,)), form=a_form()
    )


def test_of_a_line_read_in_both_the_later_day_counts_and_the_other_is_history() -> None:
    old = record(PersonNamed(name="Ada"), body(), took(700), took(950, "hip"))
    new = record(PersonNamed(name="Ada"), body("x"), took(720, body_id="x"), day="2026-05-05")
    for base, other, counts in ((old, new, "b"), (new, old, "")):
        made = take_in(base, other, "b", NOW)
        person = fold_person(made.events)
        (one,) = person.bodies.values()
        assert [r.mm for r in one.readings["waist"]] == [720]
        assert [r.mm for r in one.past["waist"]] == [700]
        assert [r.day for r in one.readings["waist"]] == ["2026-05-05"]
        assert [r.mm for r in one.readings["hip"]] == [950]
        assert made.joined == ["Everyday"]
        assert person.taken_in[-1].person_id == "b"
        assert made.events[: len(base)] == base, counts


def test_what_was_read_twice_the_same_on_one_day_is_one_reading() -> None:
    base = record(PersonNamed(name="Ada"), body(), took(700), took(701))
    other = record(PersonNamed(name="Ada E."), body(), took(700), took(700), took(702))
    made = take_in(base, other, "b", NOW)
    (one,) = fold_person(made.events).bodies.values()
    assert sorted(r.mm for r in one.readings["waist"]) == [700, 700, 701, 702]
    assert (made.readings, made.same_readings) == (2, 1)


def test_another_body_comes_along_under_a_name_and_id_of_its_own() -> None:
    base = record(PersonNamed(name="Ada"), body(), took(700))
    other = record(
        PersonNamed(name="Ada"),
        body(undergarment="corset"),
        took(640),
        took(6400),
        MeasurementWithdrawn(taken_seq=4),
    )
    made = take_in(base, other, "b", NOW)
    person = fold_person(made.events)
    assert {b.name for b in person.bodies.values()} == {"Everyday", "Everyday (2)"}
    second = person.bodies["body-1-2"]
    assert [r.mm for r in second.readings["waist"]] == [640]
    assert [r.mm for r in person.bodies["body-1"].readings["waist"]] == [700]


def test_names_notes_and_tags_of_both_are_kept() -> None:
    base = record(PersonNamed(name="Ada"), note("left-handed"), PersonTagged(tags=("a",)))
    other = record(PersonNamed(name="A. Ex"), note("tall"), PersonTagged(tags=("b", "a")))
    person = fold_person(take_in(base, other, "b", NOW, also_named="Also: {name}").events)
    assert person.name == "Ada"
    assert person.tags == ("a", "b")
    assert person.notes == "left-handed\n\nAlso: A. Ex\n\ntall"


def test_fittings_come_along_whole_and_once() -> None:
    base = record(PersonNamed(name="Ada"), body(), fitting("f1"), FittingLeft())
    other = record(
        PersonNamed(name="Ada"),
        body("z", "Corset"),
        fitting("f2", "z"),
        CheckDone(to=1, code="marks"),
        Undone(undone_seq=4),
        FittingLeft(),
    )
    made = take_in(base, other, "b", NOW)
    person = fold_person(made.events)
    assert [(f.fitting_id, f.body_id, f.finished) for f in person.fittings] == [
        ("f1", "body-1", True),
        ("f2", "z", True),
    ]
    undone = next(one for one in made.events if isinstance(one.event, Undone))
    assert isinstance(undone.event, Undone)
    assert isinstance(made.events[undone.event.undone_seq - 1].event, CheckDone)
    again = take_in(made.events, other, "b", NOW)
    assert again.fittings == again.readings == 0


def test_a_fitting_under_way_is_never_buried_under_another() -> None:
    base = record(PersonNamed(name="Ada"), body(), fitting("f1"))
    other = record(PersonNamed(name="Ada"), body(), fitting("f2"), FittingLeft())
    with pytest.raises(FitError) as caught:
        take_in(base, other, "b", NOW)
    assert caught.value.code == "merge_under_way"
    made = take_in(other, base, "a", NOW)
    assert fold_person(made.events).last_fitting_id == "f1"


def test_two_versions_of_one_record_share_what_they_begin_with() -> None:
    start = record(PersonNamed(name="Ada"), body(), took(700))
    mine = [*start, Recorded(seq=4, at="2026-02-01T00:00:00Z", event=took(900, "hip"))]
    theirs = [
        *start,
        Recorded(seq=4, at="2026-02-02T00:00:00Z", event=took(700)),
        Recorded(seq=5, at="2026-02-02T00:00:00Z", event=MeasurementWithdrawn(taken_seq=3)),
    ]
    assert common_length(mine, theirs) == 3
    made = take_in(mine, theirs, "", NOW)
    person = fold_person(made.events)
    assert [r.mm for r in person.bodies["body-1"].readings["hip"]] == [900]
    assert [(r.mm, r.day) for r in person.bodies["body-1"].readings["waist"]] == [
        (700, "2026-02-02")
    ]
    assert person.taken_in[-1].why == "conflict"


def test_a_fitting_gone_on_with_in_both_is_left_out_and_counted() -> None:
    start = record(PersonNamed(name="Ada"), body(), fitting("f1"))
    mine = [*start, Recorded(seq=4, event=CheckDone(to=1, code="marks"))]
    theirs = [*start, Recorded(seq=4, event=FittingLeft())]
    made = take_in(mine, theirs, "", NOW)
    assert made.left_out == 1
    assert fold_person(made.events).fittings[-1].finished is False


def test_a_copy_holds_the_same_readings_with_their_days_and_no_fitting() -> None:
    state = fold_person(
        record(
            PersonNamed(name="Ada"),
            NotesChanged(text="n"),
            body(),
            MeasurementBrought(
                body_id="body-1", measurement="waist", mm=690, taken_on="2024-01-01", counts=False
            ),
            took(700),
            fitting("f1"),
        )
    )
    copy = fold_person(
        [Recorded(seq=i, at=NOW, event=e) for i, e in enumerate(copied_events(state, "Bo"), 1)]
    )
    assert (copy.name, copy.notes, copy.fittings) == ("Bo", "n", ())
    before, after = state.bodies["body-1"], copy.bodies["body-1"]
    assert [(r.mm, r.day) for r in after.readings["waist"]] == [(700, "2026-01-01")]
    assert [(r.mm, r.day) for r in after.past["waist"]] == [(690, "2024-01-01")]
    assert (after.name, after.kind, after.depth) == (before.name, before.kind, before.depth)
