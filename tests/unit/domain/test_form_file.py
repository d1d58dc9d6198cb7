# SPDX-License-Identifier: MIT
"""Any text is a form or is refused by name; what is read is written again, known or not."""

from __future__ import annotations

import copy
import json
import re
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pydantic import model_validator

from fitassist.domain.form import Dial, DialMeaning, Form, FormLine, KnownGirth, Row, Torso
from fitassist.domain.form_file import (
    FIELD_REASONS,
    FILE_CODES,
    build,
    form_from_json,
    form_to_json,
    load_form_text,
)
from fitassist.domain.model import Model
from fitassist.domain.units import LENGTH_CODES
from fitassist.errors import BadFile

TEXT = """
{
  "format": "fitassist-form", "version": 1,
  "name": "Our form", "parts": 8, "units": "in", "dial_meaning": "whole_girth",
  "lines": [
    {"name": "bust", "height": "6 1/2 in", "closed_girth": 35.5, "girths": [
      {"girth": "945 mm", "numbers": {"bust.front": 37.0, "bust": 36}, "undergarment": "none"}]},
    {"name": "waist", "height": 0, "closed_girth_mm": 700.1},
    {"name": "hip", "height": "−8", "closed_girth": null}
  ],
  "rows": [
    {"name": "bust", "line": "bust", "half": "upper"},
    {"name": "hip", "line": "hip", "half": "lower"}
  ],
  "dials": [
    {"name": "bust.front", "least": 35, "greatest": 43, "click": 0.25, "number": 36.5,
     "missing": false, "readable": true},
    {"name": "bust.back", "least": 35, "greatest": 43, "click": null, "number": 35},
    {"name": "hip.left", "least": 36, "greatest": 44, "number": 40, "missing": true}
  ],
  "largest_turn": 1.5,
  "torso": {"parts": "one", "least": 15, "greatest": 17, "length": 15.5},
  "shoulder_length": "11,5 cm",
  "stand": {"least": "120 cm", "greatest": 60, "height_mm": 1400},
  "post": "centre", "lock": true, "opens": "to the left", "overlaps": "", "set_first": "lower",
  "learned": {"gain": [0.25, {"deep": null}]}
}
"""


def whole() -> dict[str, Any]:
    return json.loads(TEXT)


def steps(field: str) -> tuple[int | str, ...]:
    """Take "lines[0].name" apart into ("lines", 0, "name")."""
    parts = re.findall(r"[^.\[\]]+", field)
    return tuple(int(part) if part.isdigit() else part for part in parts)


def put(data: Any, path: tuple[int | str, ...], value: object) -> Any:
    """Return a copy of the data with one place changed."""
    data = copy.deepcopy(data)
    place = data
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return data


def remove(data: Any, path: tuple[int | str, ...]) -> Any:
    data = put(data, path, None)
    place = data
    for step in path[:-1]:
        place = place[step]
    del place[path[-1]]
    return data


def refusal(data: object) -> BadFile:
    with pytest.raises(BadFile) as caught:
        form_from_json(data)  # type: ignore[arg-type]
    return caught.value


def test_a_form_is_read_with_its_lengths_in_mm():
    form = load_form_text(TEXT)
    # 1 in = 25.4 mm exactly (international inch); the products were worked out by hand.
    assert [line.height_mm for line in form.lines] == [165.1, 0, -203.2]
    assert [line.closed_girth_mm for line in form.lines] == [901.7, 700.1, None]
    assert form.lines[0].girths == (
        KnownGirth(girth_mm=945, numbers={"bust.front": 37, "bust": 36}, undergarment="none"),
    )
    assert form.torso == Torso(parts="one", least_mm=381, greatest_mm=431.8, length_mm=393.7)
    assert (form.stand.least_mm, form.stand.greatest_mm, form.stand.height_mm) == (1200, 1524, 1400)
    assert form.shoulder_length_mm == 115
    assert form.dial("bust.front") == Dial(
        name="bust.front", least=35, greatest=43, click=0.25, number=36.5
    )
    assert form.dial("hip.left").missing
    assert form.dial_meaning is DialMeaning.WHOLE_GIRTH
    assert (form.lock, form.opens, form.set_first) == (True, "to the left", "lower")


def test_numbers_of_a_form_in_cm_are_cm():
    data = remove(put(whole(), ("units",), "cm"), ("stand",))
    data = put(data, ("lines", 0, "closed_girth"), 90.17)
    assert form_from_json(data).lines[0].closed_girth_mm == 901.7


def test_reading_changes_nothing_in_the_object_it_is_given():
    data = whole()
    form_from_json(data)
    assert data == whole()


def test_what_is_written_is_read_as_the_same_form():
    written = json.loads(json.dumps(form_to_json(load_form_text(TEXT))))
    assert form_from_json(written) == load_form_text(TEXT)
    assert (written["format"], written["version"]) == ("fitassist-form", 1)
    assert written["lines"][0]["closed_girth"] == 35.5
    assert written["lines"][1]["closed_girth_mm"] == 700.1  # no short number of inches says this
    assert written["stand"] == {"least_mm": 1200.0, "greatest": 60.0, "height_mm": 1400.0}


LEVELS = ["", "lines[0]", "lines[0].girths[0]", "rows[1]", "dials[2]", "torso", "stand", "learned"]


@pytest.mark.parametrize("level", LEVELS)
def test_fields_of_a_later_version_survive_reading_and_writing_at_every_level(level):
    strange = {"colour": ["grey", {"n": 10**30}], "row": 1, "model_config": None, "ünï": 1.5}
    data = whole()
    for key, value in strange.items():
        data = put(data, (*steps(level), key), value)
    written = form_to_json(form_from_json(data))
    place: Any = written
    for step in steps(level):
        place = place[step]
    assert {key: place[key] for key in strange} == strange
    assert form_from_json(written) == form_from_json(data)


def test_a_file_without_format_and_version_is_of_the_first():
    assert form_from_json(remove(remove(whole(), ("format",)), ("version",))) == load_form_text(
        TEXT
    )


@pytest.mark.parametrize(
    ("key", "value", "code"),
    [
        ("format", "fitassist-body", "foreign_file"),
        ("format", None, "foreign_file"),
        ("version", 2, "newer_version"),
        ("version", 10**50, "newer_version"),
        ("version", 0, "bad_field"),
        ("version", "1", "bad_field"),
        ("version", True, "bad_field"),
    ],
)
def test_another_format_or_a_newer_version_is_refused(key, value, code):
    error = refusal(put(whole(), (key,), value))
    assert (error.code, error.field) == (code, key)


NEEDED = (
    "name lines rows dials units lines[1].name lines[0].girths[0].girth lines[0].girths[0].numbers"
    " rows[1].line dials[2].name dials[1].least dials[1].greatest dials[0].number"
)


@pytest.mark.parametrize("field", NEEDED.split())
def test_a_field_that_is_needed_and_missing_is_named(field):
    error = refusal(remove(whole(), steps(field)))
    assert (error.code, error.field) == ("missing_field", field)


def test_units_are_needed_only_where_a_number_would_mean_nothing_without():
    form = {
        "name": "",
        "rows": [],
        "dials": [],
        "lines": [{"name": "bust", "closed_girth": "35 in"}],
    }
    assert form_from_json(form).lines[0].closed_girth_mm == 889
    dial = {"name": "bust.front", "least": 35, "greatest": 43, "number": 35}
    rows = [{"name": "bust", "line": "bust"}]
    assert refusal(form | {"rows": rows, "dials": [dial]}).field == "units"
    for bare in (35, "35"):
        assert refusal(put(form, ("lines", 0, "closed_girth"), bare)).field == "units"


LONG = "x" * 301
BAD_FIELDS: list[tuple[str, object, str]] = [
    ("parts", "8", "wrong_type"),
    ("parts", 0, "out_of_range"),
    ("parts", 10**40, "out_of_range"),
    ("name", 5, "wrong_type"),
    ("name", LONG, "too_long"),
    ("units", "inch", "not_allowed"),
    ("units", ["in"], "wrong_type"),
    ("dial_meaning", "guess", "not_allowed"),
    ("lock", 1, "wrong_type"),
    ("largest_turn", -1, "out_of_range"),
    ("opens", "x" * 4001, "too_long"),
    ("learned", [], "wrong_type"),
    ("lines", {}, "wrong_type"),
    ("lines[0]", "bust", "wrong_type"),
    ("lines[0].name", " ", "blank"),
    ("lines[1].name", LONG, "too_long"),
    ("lines[1].name", "bust", "same_name"),
    ("lines[0].height", True, "wrong_type"),
    ("lines[0].height", 119, "out_of_range"),
    ("lines[0].height", -(10**400) + 1, "out_of_range"),
    ("lines[0].height", "tall", "length_no_number"),
    ("lines[0].closed_girth", 0, "out_of_range"),
    ("lines[0].closed_girth", "-3 in", "length_negative"),
    ("lines[1].closed_girth_mm", -1, "out_of_range"),
    ("lines[0].girths[0].girth", None, "wrong_type"),
    ("lines[0].girths[0].numbers.bust", "3", "wrong_type"),
    ("lines[0].girths[0].numbers.bust", 20000.0, "out_of_range"),
    ("lines[0].girths[0].undergarment", LONG, "too_long"),
    ("lines[0].girths[0].numbers.x", 1, "unknown_dial"),
    ("dials[1].name", "bust.front", "same_name"),
    ("rows[0].line", "chin", "unknown_line"),
    ("rows[1].name", "bust", "same_name"),
    ("rows[1].half", "left", "not_allowed"),
    ("dials[0].name", "knee.front", "unknown_row"),
    ("dials[0].name", "bust.inside", "unknown_seam"),
    ("dials[0].least", "35", "wrong_type"),
    ("dials[0].least", 43, "least_not_below_greatest"),
    ("dials[0].greatest", 1e300, "out_of_range"),
    ("dials[0].number", 34.9, "outside_range"),
    ("dials[0].click", 0, "bad_click"),
    ("dials[0].click", 1e-300, "bad_click"),
    ("dials[0].click", 9, "bad_click"),
    ("torso", None, "wrong_type"),
    ("torso.least", 17.5, "least_not_below_greatest"),
    ("torso.parts", "two", "not_allowed"),
    ("stand.height_mm", 1e300, "out_of_range"),
    ("shoulder_length", "4 1/0", "length_zero_denominator"),
]


@pytest.mark.parametrize(("field", "value", "why"), BAD_FIELDS)
def test_a_field_that_cannot_be_used_is_named_with_the_reason(field, value, why):
    error = refusal(put(whole(), steps(field), value))
    assert (error.code, error.field, error.values["why"]) == ("bad_field", field, why)


def test_a_length_that_is_given_twice_is_named_by_its_plain_key():
    error = refusal(put(whole(), steps("lines[0].height_mm"), 165.1))
    assert (error.field, error.values["why"]) == ("lines[0].height", "given_twice")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("lines", [1] * 65),
        ("rows", [1] * 65),
        ("dials", [1] * 257),
        ("lines[0].girths", [1] * 501),
        ("lines[0].girths[0].numbers", {str(i): "" for i in range(501)}),
    ],
)
def test_a_list_longer_than_any_form_has_is_refused_before_its_entries_are(field, value):
    error = refusal(put(whole(), steps(field), value))
    assert (error.field, error.values["why"]) == (field, "too_many")


def test_lists_that_are_tuples_in_the_program_are_lists_all_the_same():
    data = put(whole(), ("lines",), tuple(whole()["lines"]))
    data["lines"][0]["girths"] = tuple(data["lines"][0]["girths"])
    assert form_from_json(data) == load_form_text(TEXT)


def test_a_complaint_nobody_foresaw_still_becomes_a_refusal():
    class Touchy(Model):
        n: int

        @model_validator(mode="after")
        def _never(self) -> Touchy:
            raise ValueError("no")

    with pytest.raises(BadFile) as caught:
        build(Touchy, {"n": 1}, {"n": 1})
    assert (caught.value.code, caught.value.values["why"]) == ("bad_field", "inconsistent")


def test_every_reason_is_given_by_some_field_here():
    given_here = {why for *_, why in BAD_FIELDS} | {"too_many", "given_twice", "inconsistent"}
    assert set(FIELD_REASONS) <= given_here


def test_names_may_be_as_long_as_three_hundred_characters():
    assert len(form_from_json(put(whole(), ("name",), "ж" * 300)).name) == 300


KEYS = st.sampled_from(["name", "lines", "rows", "dials", "units", "least", "height", "x_mm", ""])
LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.sampled_from(["", "in", "cm", "bust", "bust.front", "38 5/8", "-3 in", "whole_girth"])
    | st.text(max_size=8)
)
JSON = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=8,
)


def places(data: Any, path: tuple[int | str, ...] = ()) -> list[tuple[int | str, ...]]:
    found = []
    for step, value in data.items() if isinstance(data, dict) else enumerate(data):
        found.append((*path, step))
        if isinstance(value, dict | list):
            found += places(value, (*path, step))
    return found


def form_or_refusal(data: object) -> None:
    """Read a form that can be written and read again unchanged, or a refusal with known codes."""
    try:
        form = form_from_json(data)  # type: ignore[arg-type]
    except BadFile as error:
        refused = error
    else:
        again = form_from_json(json.loads(json.dumps(form_to_json(form), allow_nan=False)))
        assert again == form
        return
    assert refused.code in FILE_CODES
    if refused.code == "bad_field":
        assert refused.values["why"] in {*FIELD_REASONS, *LENGTH_CODES}
        assert refused.field


@given(JSON)
@example({"name": "", "lines": [], "rows": [], "dials": []})
def test_any_json_value_is_a_form_or_is_refused(data):
    form_or_refusal(data)


@given(st.sampled_from(places(whole())), JSON)
@example(("name",), "\ud800")
@example(("lines", 0, "girths", 0, "numbers"), {"bust": 1e308})
def test_a_form_with_any_one_thing_changed_is_a_form_or_is_refused(path, value):
    form_or_refusal(put(whole(), path, value))


@given(st.sampled_from(places(whole())))
def test_a_form_with_any_one_thing_missing_is_a_form_or_is_refused(path):
    form_or_refusal(remove(whole(), path))


@given(st.text(max_size=40) | st.sampled_from([TEXT[:i] for i in range(0, len(TEXT) - 3, 7)]))
def test_any_text_that_is_cut_short_or_not_ours_is_refused(text):
    with pytest.raises(BadFile) as caught:
        load_form_text(text)
    assert caught.value.code in FILE_CODES


SIZES = st.floats(1, 3000)
SIGNED = st.floats(-3000, 3000)


@given(st.sampled_from(["in", "cm"]), SIGNED, SIZES, SIZES, st.floats(0.01, 100))
def test_a_form_made_in_the_program_is_read_back_to_the_last_bit(units, height, girth, size, reach):
    form = Form(
        name="Ours",
        units=units,
        lines=(
            FormLine(
                name="bust",
                height_mm=height,
                closed_girth_mm=girth,
                girths=(KnownGirth(girth_mm=size, numbers={"bust": size}),),
            ),
        ),
        rows=(Row(name="bust", line="bust"),),
        dials=(
            Dial(name="bust.front", least=size, greatest=size + reach, number=size + reach / 2),
        ),
        shoulder_length_mm=size,
        torso=Torso(least_mm=min(girth, size), greatest_mm=max(girth, size)),
        learned={"gain": girth},
    )
    assert form_from_json(json.loads(json.dumps(form_to_json(form)))) == form
