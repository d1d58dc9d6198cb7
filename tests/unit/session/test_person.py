# SPDX-License-Identifier: MIT
"""A person is what the record says and nothing that was taken out of it."""

from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.domain.lines import What
from fitassist.domain.measurements import load_catalogue
from fitassist.domain.plausibility import question_key
from fitassist.domain.spreads import How, default_spread_mm
from fitassist.domain.steps import Finished, Measure
from fitassist.errors import FitError
from fitassist.session.events import (
    Advised,
    BodyDescribed,
    DialsSet,
    FittingLeft,
    FittingStarted,
    FormRead,
    HowTaken,
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    NotesChanged,
    PersonNamed,
    Recorded,
    Undone,
)
from fitassist.session.person import (
    PersonState,
    average,
    body_for_fitting,
    fold_person,
    open_questions,
)

CATALOGUE = load_catalogue(Path(__file__).parents[3] / "resources" / "measurements.json")
DAY = BodyDescribed(body_id="day", name="Everyday")
EVENING = BodyDescribed(body_id="eve", name="Corset", undergarment="corset", depth="full")


def record(*events):
    return [
        Recorded(seq=seq, at=f"2025-01-01T00:00:{seq:02}Z", event=event)
        for seq, event in enumerate(events, start=1)
    ]


def fold(*events):
    return fold_person(record(*events))


def took(measurement, mm, body_id="day", **more):
    return MeasurementTaken(body_id=body_id, measurement=measurement, mm=mm, **more)


def started(fitting_id, body_id="day"):
    form = Form(
        name=f"form of {fitting_id}",
        lines=(FormLine(name="bust"),),
        rows=(Row(name="bust", line="bust"),),
        dials=(Dial(name="bust.front", least=32, greatest=40, number=32),),
    )
    body = Body(name="Everyday", targets=(Target(line="bust", value_mm=900),))
    return FittingStarted(fitting_id=fitting_id, body_id=body_id, body=body, form=form)


ASKED = Advised(
    instruction=Measure(id=1, line="bust", expect_mm=None, spread_mm=None, target_mm=None)
)
ENDED = Advised(
    instruction=Finished(
        id=2,
        verdict="good_enough",
        joint=0.97,
        readings=1,
        turns=0,
        walks=0,
        clicks=0,
        lines=(),
        dials={},
    )
)


def mms(state, measurement, body_id="day"):
    return [one.mm for one in state.bodies[body_id].readings.get(measurement, ())]


def test_an_empty_record_is_a_person_of_whom_nothing_is_known():
    assert fold() == PersonState()
    assert fold().last_fitting_id is None


def test_name_notes_and_bodies_are_as_last_written():
    state = fold(
        PersonNamed(name="Ada"),
        NotesChanged(text="left shoulder first"),
        DAY,
        EVENING,
        PersonNamed(name="Ada B."),
        BodyDescribed(body_id="day", name="Weekday", body_kind="other", depth="good"),
    )
    assert (state.name, state.notes) == ("Ada B.", "left shoulder first")
    assert list(state.bodies) == ["day", "eve"]
    assert state.bodies["day"].name == "Weekday"
    assert (state.bodies["day"].kind, state.bodies["day"].depth) == ("other", "good")
    assert state.bodies["eve"].undergarment == "corset"


def test_readings_keep_what_was_typed_how_and_when():
    state = fold(DAY, took("bust", 914.4, text="36", how="alone"), took("bust", 910.0))
    first, second = state.bodies["day"].readings["bust"]
    assert (first.seq, first.mm, first.text, first.how) == (2, 914.4, "36", "alone")
    assert first.at == "2025-01-01T00:00:02Z"
    assert (second.seq, second.how) == (3, "helped")


def test_a_withdrawn_reading_does_not_count_and_its_return_does():
    taken = (DAY, took("bust", 900.0), took("bust", 990.0), MeasurementWithdrawn(taken_seq=3))
    assert mms(fold(*taken), "bust") == [900.0]
    assert mms(fold(*taken, Undone(undone_seq=4)), "bust") == [900.0, 990.0]
    again = (*taken, Undone(undone_seq=4), Undone(undone_seq=5))
    assert mms(fold(*again), "bust") == [900.0]


def test_only_readings_can_be_withdrawn():
    state = fold(PersonNamed(name="Ada"), DAY, MeasurementWithdrawn(taken_seq=1))
    assert state.name == "Ada"
    assert list(state.bodies) == ["day"]


@pytest.mark.parametrize("seq", range(1, 6))
def test_undoing_an_event_is_as_if_it_had_not_been(seq):
    events = [
        PersonNamed(name="Ada"),
        NotesChanged(text="x"),
        DAY,
        took("bust", 900.0),
        MeasurementKept(body_id="day", question="q"),
    ]
    undone = fold_person([*record(*events), Recorded(seq=6, event=Undone(undone_seq=seq))])
    left_out = fold_person([one for one in record(*events) if one.seq != seq])
    assert undone == left_out
    assert undone != fold(*events)


def test_a_body_described_later_gets_the_readings_already_taken():
    assert mms(fold(took("bust", 900.0), DAY), "bust") == [900.0]
    assert fold(took("bust", 900.0)).bodies == {}


def test_bodies_do_not_share_readings():
    state = fold(DAY, EVENING, took("waist", 700.0), took("waist", 650.0, "eve"))
    assert mms(state, "waist") == [700.0]
    assert mms(state, "waist", "eve") == [650.0]


def test_fittings_know_where_their_events_lie():
    events = record(DAY, started("a"), ASKED, ENDED, PersonNamed(name="Ada"), started("b", "eve"))
    first, second = fold_person(events).fittings
    assert (first.fitting_id, first.body_id, first.form_name) == ("a", "day", "form of a")
    assert events[first.first].event.fitting_id == "a"
    assert (first.first, first.end) == (1, 5)
    assert (second.first, second.end) == (5, 6)
    assert (first.finished, second.finished) == (True, False)
    assert fold_person(events).last_fitting_id == "b"


def test_a_fitting_is_finished_while_its_end_is_the_last_thing_shown():
    begun = (DAY, started("a"), ASKED)
    assert not fold(*begun).fittings[0].finished
    assert fold(*begun, FittingLeft()).fittings[0].finished
    assert not fold(*begun, FittingLeft(), Undone(undone_seq=4)).fittings[0].finished
    read = FormRead(line="bust", mm=900.0)
    assert fold(*begun, read, ENDED).fittings[0].finished
    assert not fold(*begun, read, ENDED, Undone(undone_seq=4), ASKED).fittings[0].finished


def test_a_fitting_taken_back_lends_its_events_to_no_other():
    state = fold(DAY, started("a"), ASKED, started("b"), ENDED, Undone(undone_seq=4))
    (only,) = state.fittings
    assert (only.fitting_id, only.finished) == ("a", False)


def test_the_average_of_repeats_is_surer_than_one_reading():
    bust = CATALOGUE.get("bust")
    once = fold(DAY, took("bust", 900.0)).bodies["day"].readings["bust"]
    twice = fold(DAY, took("bust", 898.0), took("bust", 902.0)).bodies["day"].readings["bust"]
    one, two = average(once, bust), average(twice, bust)
    assert one == (900.0, pytest.approx(default_spread_mm("large_girth", "helped")), 1, 0.0)
    assert (two.mm, two.n, two.range_mm) == (pytest.approx(900.0), 2, 4.0)
    assert 0 < two.spread_mm < one.spread_mm


def test_every_measurement_becomes_a_target_of_its_own():
    middles = {one.key: (one.least_mm + one.most_mm) / 2 for one in CATALOGUE.measurements}
    state = fold(DAY, *(took(key, mm) for key, mm in middles.items()), took("left_elbow", 250.0))
    body = body_for_fitting(state, "day", CATALOGUE)
    assert len(body.targets) == len(CATALOGUE.measurements)
    for one in CATALOGUE.measurements:
        target = body.target(one.line, one.what)
        assert target.value_mm == pytest.approx(middles[one.key])
        assert target.spread_mm == pytest.approx(default_spread_mm(one.sort, "helped"))
        assert target.tolerance_mm is None
    assert body.target("back_neck_to_waist", What.LENGTH).value_mm == middles["back_neck_to_waist"]
    assert body.target("hip", What.BACK).value_mm == middles["hip_back"]


@pytest.mark.parametrize("how", get_args(How))
def test_how_it_was_taken_widens_the_target(how):
    state = fold(DAY, took("hip", 990.0, how=how, text="39"))
    target = body_for_fitting(state, "day", CATALOGUE).target("hip")
    assert target.spread_mm == pytest.approx(default_spread_mm("large_girth", how))
    assert target.text == "39"


def test_record_and_spreads_know_the_same_ways_of_taking():
    assert get_args(HowTaken) == get_args(How)


def test_the_body_of_a_fitting_is_described_as_the_record_says():
    state = fold(EVENING, took("waist", 650.0, "eve"), took("waist", 652.0, "eve", text="65.2 cm"))
    body = body_for_fitting(state, "eve", CATALOGUE)
    assert (body.name, body.kind, body.undergarment) == ("Corset", "woman", "corset")
    assert body.target("waist").text == ""


def test_a_body_without_readings_has_no_targets_and_an_unknown_body_is_refused():
    state = fold(DAY)
    assert body_for_fitting(state, "day", CATALOGUE).targets == ()
    with pytest.raises(FitError, match="body_unknown"):
        body_for_fitting(state, "eve", CATALOGUE)


def test_a_question_is_asked_once_and_again_after_a_changed_reading():
    taken = (DAY, took("waist", 1000.0), took("hip", 990.0))
    (asked,) = open_questions(fold(*taken).bodies["day"], CATALOGUE)
    assert asked.code == "waist_over_hip"
    kept = (*taken, MeasurementKept(body_id="day", question=question_key(asked)))
    assert open_questions(fold(*kept).bodies["day"], CATALOGUE) == ()
    changed = (*kept, took("waist", 1004.0))
    (again,) = open_questions(fold(*changed).bodies["day"], CATALOGUE)
    assert again.values["waist"] == pytest.approx(1002.0)


def test_keeping_an_answer_for_one_body_keeps_it_for_no_other():
    taken = (DAY, EVENING, took("waist", 1000.0, "eve"), took("hip", 990.0, "eve"))
    (asked,) = open_questions(fold(*taken).bodies["eve"], CATALOGUE)
    kept = MeasurementKept(body_id="day", question=question_key(asked))
    assert open_questions(fold(*taken, kept).bodies["eve"], CATALOGUE) == (asked,)


def test_repeats_far_apart_are_asked_about_less_eagerly_from_a_card():
    def codes(how):
        taken = (took("waist", mm, how=how) for mm in (790.0, 830.0))
        return [q.code for q in open_questions(fold(DAY, *taken).bodies["day"], CATALOGUE)]

    assert codes("helped") == ["repeats_apart"]
    assert codes("card") == []


bodies = st.sampled_from(["day", "eve"])
person_events = st.one_of(
    st.builds(PersonNamed, name=st.text(max_size=5)),
    st.builds(NotesChanged, text=st.text(max_size=5)),
    st.builds(BodyDescribed, body_id=bodies, name=st.just("x")),
    st.builds(
        MeasurementTaken,
        body_id=bodies,
        measurement=st.sampled_from(["bust", "waist", "hip", "left_elbow"]),
        mm=st.floats(0.1, 5000),
        how=st.sampled_from(get_args(HowTaken)),
    ),
    st.builds(MeasurementWithdrawn, taken_seq=st.integers(1, 12)),
    st.builds(MeasurementKept, body_id=bodies, question=st.text(max_size=3)),
    st.builds(Undone, undone_seq=st.integers(1, 12)),
    st.just(started("a")),
    st.just(ASKED),
    st.just(FittingLeft()),
    st.just(DialsSet(numbers={"bust.front": 33.0})),
)


@given(st.lists(person_events, max_size=12))
def test_any_record_folds_the_same_twice_and_serves_every_page(events):
    recorded = record(*events)
    state = fold_person(recorded)
    assert state == fold_person(
        [Recorded.model_validate_json(r.model_dump_json()) for r in recorded]
    )
    for body_id, body in state.bodies.items():
        made = body_for_fitting(state, body_id, CATALOGUE)
        assert len(made.targets) == len(set(body.readings) - {"left_elbow"})
        open_questions(body, CATALOGUE)
    for span in state.fittings:
        assert recorded[span.first].event.fitting_id == span.fitting_id
        assert span.first < span.end <= len(recorded)


@given(st.lists(person_events, max_size=10), st.integers(1, 10))
def test_taking_an_undo_back_restores_what_was_there(events, seq):
    undo = Undone(undone_seq=min(seq, max(len(events), 1)))
    before = fold_person(record(*events))
    after = fold_person(record(*events, undo, Undone(undone_seq=len(events) + 1)))
    shapes = [s.model_copy(update={"end": 0}) for s in before.fittings]
    assert [s.model_copy(update={"end": 0}) for s in after.fittings] == shapes
    assert after.model_copy(update={"fittings": ()}) == before.model_copy(update={"fittings": ()})
