# SPDX-License-Identifier: MIT
"""Rows looked at before anything is kept: each bad cell named by its row, the rest unharmed."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitassist.domain.measurements import load_catalogue
from fitassist.domain.units import Unit
from fitassist.errors import FitError
from fitassist.session.column_guess import Column
from fitassist.session.events import BodyDescribed, MeasurementTaken, PersonNamed, Recorded
from fitassist.session.import_events import events_of_known, events_of_new
from fitassist.session.people_import import (
    MOST_PROBLEMS,
    Options,
    TableReader,
    clean_tags,
    read_day,
    without_guard,
)
from fitassist.session.person import fold_person
from fitassist.wording.import_words import problem_text

CATALOGUE = load_catalogue(Path(__file__).parents[3] / "resources" / "measurements.json")
HEAD = ("Name", "Waist", "Bust", "Date", "Notes", "Tags", "Body")
COLUMNS = (
    Column("name"),
    Column("waist", Unit.CM),
    Column("bust", Unit.IN),
    Column("date"),
    Column("notes"),
    Column("tags"),
    Column("body"),
)


def look(*rows, known=(), **options):
    full = [tuple(row) + ("",) * (len(HEAD) - len(row)) for row in rows]
    reader = TableReader((HEAD, *full), COLUMNS, CATALOGUE, known, Options(**options))
    assert reader.read_on(60.0)
    return reader.preview


def problems(preview):
    return [(one.row, one.column, one.error.code) for one in preview.problems]


def folded(*events):
    return fold_person(
        [Recorded(seq=i, at="2026-06-01T00:00:00Z", event=e) for i, e in enumerate(events, 1)]
    )


def test_decimal_commas_fractions_and_units_in_cells_are_understood() -> None:
    found = look(("Ada", "71,4", "38 5/8"), ("Bo", "714 mm", "38⅝"), ("Cy", '28.1"', "98.1 cm"))
    mm = [[r.length.mm for r in p.bodies["Everyday"]] for p in found.people]
    # 1 in = 25.4 mm exactly: 38.625 in = 981.075 mm, 28.1 in = 713.74 mm.
    assert mm[0] == pytest.approx([714, 981.075])
    assert mm[1] == pytest.approx([714, 981.075])
    assert mm[2] == pytest.approx([713.74, 981])
    assert found.n_problems == 0


def test_each_bad_value_is_named_by_row_and_column_and_only_it_is_left_out() -> None:
    found = look(
        ("Ada", "abc", "38"),
        ("", "70"),
        ("Bo", "7", "1.041,5"),
        ("Cy", "70", "", "31.2.2026"),
        ("D\u202ee", "70"),
        ("E", "70", "", "", "n" * 20_000),
        (),
        ("F", "9999"),
    )
    assert problems(found) == [
        (2, "Waist", "length_no_number"),
        (3, "", "name_empty"),
        (4, "Waist", "length_too_small"),
        (4, "Bust", "length_separators"),
        (5, "Date", "table_date"),
        (6, "", "name_control"),
        (7, "Notes", "table_too_long"),
        (9, "Waist", "length_too_large"),
    ]
    assert [p.name for p in found.people] == ["Ada", "Bo", "Cy", "E", "F"]
    assert found.n_readings == 3
    for one in found.problems:
        said = problem_text(one.row, one.column, one.error, "cm")
        assert said.startswith(f"Row {one.row}")
        assert said.endswith(".")
        assert "this version has no words" not in said


def test_without_a_column_of_names_nothing_is_looked_at() -> None:
    with pytest.raises(FitError) as caught:
        TableReader((HEAD,), (Column("waist", Unit.CM),), CATALOGUE, (), Options())
    assert caught.value.code == "table_no_name"


def test_first_and_last_name_make_one_name() -> None:
    columns = (Column("first_name"), Column("last_name"))
    reader = TableReader((("a", "b"), ("Ada", "Ex")), columns, CATALOGUE, (), Options())
    reader.read_on(9)
    assert [p.name for p in reader.preview.people] == ["Ada Ex"]


def test_rows_of_one_name_are_one_person_or_each_their_own() -> None:
    rows = (
        ("Ada", "70", "", "2025-01-01"),
        ("ada ", "72", "", "2026-01-01"),
        ("Ada", "60", "", "", "", "", "Corset"),
    )
    together = look(*rows)
    assert [(p.name, p.rows) for p in together.people] == [("Ada", [2, 3, 4])]
    state = folded(
        PersonNamed(name="Ada"), *events_of_new(together.people[0], CATALOGUE, Options())
    )
    everyday, corset = state.bodies.values()
    assert [r.mm for r in everyday.readings["waist"]] == [720]
    assert [(r.mm, r.day) for r in everyday.past["waist"]] == [(700, "2025-01-01")]
    assert [r.mm for r in corset.readings["waist"]] == [600]
    assert len(look(*rows, same_name="each").people) == 3


def test_a_name_kept_already_is_left_out_added_to_or_begun_anew_as_the_user_says() -> None:
    known = [("p1", "Ada  EX"), ("p2", "Twin"), ("p3", "twin")]
    rows = (("Ada Ex", "70"), ("Twin", "70"), ("New", "70"))
    left = look(*rows, known=known)
    assert [p.name for p in left.people] == ["New"]
    assert problems(left) == [(2, "", "table_name_known"), (3, "", "table_name_known")]
    added = look(*rows, known=known, known_name="add")
    assert [(p.name, p.known_id) for p in added.people] == [("Ada Ex", "p1"), ("New", "")]
    assert problems(added) == [(3, "", "table_name_twice")]
    anew = look(*rows, known=known, known_name="new")
    assert [p.known_id for p in anew.people] == ["", "", ""]


def test_added_readings_count_by_their_day_and_never_twice() -> None:
    before = (
        PersonNamed(name="Ada"),
        BodyDescribed(body_id="body-1", name="everyday"),
        MeasurementTaken(body_id="body-1", measurement="waist", mm=700),  # of 2026-06-01
    )
    found = look(
        ("Ada", "65", "", "2024-01-01"),
        ("Ada", "70", "", "2026-06-01"),
        ("Ada", "72", "", "2026-07-01"),
        known=[("p", "Ada")],
        known_name="add",
    )
    args = (folded(*before), len(before), "2026-08-01", CATALOGUE, Options())
    after = folded(*before, *events_of_known(found.people[0], *args)).bodies["body-1"]
    assert [r.mm for r in after.readings["waist"]] == [720]
    assert sorted(r.mm for r in after.past["waist"]) == [650, 700]
    assert events_of_known(found.people[0], folded(*before), 3, "", CATALOGUE, Options())


def test_hostile_cells_stay_text() -> None:
    found = look(("=HYPERLINK(1)", "70", "", "", "<b>x</b>", "+1,@x,\x07y"), ("'=kept", "71"))
    assert [p.name for p in found.people] == ["=HYPERLINK(1)", "=kept"]
    assert found.people[0].tags == ("+1", "@x", "y")
    assert without_guard("'Neill") == "'Neill"
    assert clean_tags(["a" * 500, "A" * 500, " ", "b"]) == ("a" * 60, "b")


def test_days_are_read_in_the_usual_writings_and_no_other() -> None:
    assert read_day("2026-03-04T10:00", True) == "2026-03-04"
    assert read_day("4.3.2026", False) == "2026-03-04"
    assert read_day("3/4/2026", True) == "2026-04-03"
    assert read_day("3/4/2026", False) == "2026-03-04"
    assert read_day("25/4/2026", False) == read_day("4/25/2026", True) == "2026-04-25"
    for odd in ("2026-02-30", "32/1/2026", "yesterday", "4.3.26", "", "0000-01-01"):
        assert read_day(odd, True) == "", odd


def test_many_rows_are_gone_through_in_slices_and_problems_are_bounded() -> None:
    rows = [(f"P {n}", "70" if n % 2 else "x") for n in range(20_000)]
    reader = TableReader((HEAD, *rows), COLUMNS, CATALOGUE, (), Options())
    slices = 0
    while not reader.read_on(0.0):
        slices += 1
        assert slices < 1000
    assert slices > 10
    assert len(reader.preview.people) == 20_000
    assert reader.preview.n_problems == 10_000
    assert len(reader.preview.problems) == MOST_PROBLEMS
