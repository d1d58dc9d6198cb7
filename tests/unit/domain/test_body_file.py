# SPDX-License-Identifier: MIT
"""Any text is a body or is refused by name; targets keep their millimetres to the last bit."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fitassist.domain.body import Body, Target
from fitassist.domain.body_file import body_from_json, body_to_json, load_body_text
from fitassist.domain.form_file import FIELD_REASONS, FILE_CODES, MAX_BYTES, load_form_text
from fitassist.domain.lines import What
from fitassist.domain.units import LENGTH_CODES
from fitassist.errors import BadFile

TEXT = """
{
  "format": "fitassist-body", "version": 1,
  "name": "Everyday", "kind": "woman", "undergarment": "soft bra",
  "targets": [
    {"line": "bust", "what": "girth", "value": 38.625, "unit": "in", "spread": 0.25,
     "tolerance": [-0.25, 0.5]},
    {"line": "waist", "value": "30 1/2", "unit": "in", "spread": null},
    {"line": "hip", "what": "front", "value": "52,5 cm", "tolerance_mm": [-5, 3]},
    {"line": "back_length", "what": "length", "value_mm": 401.3, "spread_mm": 0, "text": "401"}
  ]
}
"""


def whole() -> dict[str, Any]:
    return json.loads(TEXT)


def changed(number: int, **fields: object) -> dict[str, Any]:
    """Return the body with fields of one target changed; a field that is `...` is taken out."""
    data = copy.deepcopy(whole())
    data["targets"][number] |= fields
    data["targets"][number] = {k: v for k, v in data["targets"][number].items() if v is not ...}
    return data


def refusal(data: object) -> BadFile:
    with pytest.raises(BadFile) as caught:
        body_from_json(data)  # type: ignore[arg-type]
    return caught.value


def test_a_body_is_read_with_its_targets_in_mm():
    body = load_body_text(TEXT)
    # 1 in = 25.4 mm exactly (international inch); the products were worked out by hand.
    assert body == Body(
        name="Everyday",
        kind="woman",
        undergarment="soft bra",
        targets=(
            Target(line="bust", value_mm=981.075, spread_mm=6.35, tolerance_mm=(-6.35, 12.7)),
            Target(line="waist", value_mm=774.7, text="30 1/2"),
            Target(line="hip", what=What.FRONT, value_mm=525, text="52,5 cm", tolerance_mm=(-5, 3)),
            Target(line="back_length", what=What.LENGTH, value_mm=401.3, spread_mm=0, text="401"),
        ),
    )


def test_reading_changes_nothing_in_the_object_it_is_given():
    data = whole()
    body_from_json(data)
    assert data == whole()


def test_what_is_written_is_read_as_the_same_body_and_in_a_likely_unit():
    body = load_body_text(TEXT)
    written = json.loads(json.dumps(body_to_json(body)))
    assert body_from_json(written) == body
    assert [target["unit"] for target in written["targets"]] == ["in", "in", "cm", "cm"]
    odd = body_to_json(Body(name="", targets=(Target(line="bust", value_mm=980.44),)))
    assert odd["targets"][0]["unit"] == "cm"  # 38.6 in, which no tape shows
    assert written["targets"][0]["value"] == 38.625
    assert written["targets"][0]["tolerance"] == [-0.25, 0.5]


def test_fields_of_a_later_version_survive_reading_and_writing_at_every_level():
    data = changed(1, colour=["grey", {"n": 1}]) | {"pet": {"a": None}, "validate": 3}
    written = body_to_json(body_from_json(data))
    assert (written["pet"], written["validate"]) == ({"a": None}, 3)
    assert written["targets"][1]["colour"] == ["grey", {"n": 1}]
    assert body_from_json(written) == body_from_json(data)


def test_sides_of_a_tolerance_may_be_texts_with_a_sign():
    tolerance = ["-1/4", "1 cm"]
    body = body_from_json(changed(0, tolerance=tolerance))
    assert body.targets[0].tolerance_mm == (-6.35, 10)


@pytest.mark.parametrize(
    ("data", "code", "field"),
    [
        (whole() | {"format": "fitassist-form"}, "foreign_file", "format"),
        (whole() | {"version": 2}, "newer_version", "version"),
        ({"targets": []}, "missing_field", "name"),
        ({"name": "Everyday"}, "missing_field", "targets"),
        (changed(1, line=...), "missing_field", "targets[1].line"),
        (changed(1, value=...), "missing_field", "targets[1].value"),
        (changed(1, unit=...), "missing_field", "targets[1].unit"),
        (changed(0, unit=...), "missing_field", "targets[0].unit"),
        (changed(3, spread_mm=..., spread=1), "missing_field", "targets[3].unit"),
    ],
)
def test_what_is_missing_or_foreign_is_named(data, code, field):
    error = refusal(data)
    assert (error.code, error.field) == (code, field)


@pytest.mark.parametrize(
    ("data", "field", "why"),
    [
        (whole() | {"kind": "other kind"}, "kind", "not_allowed"),
        (whole() | {"name": "x" * 301}, "name", "too_long"),
        (whole() | {"undergarment": "x" * 301}, "undergarment", "too_long"),
        (whole() | {"targets": {}}, "targets", "wrong_type"),
        (whole() | {"targets": [3]}, "targets[0]", "wrong_type"),
        (changed(1, line="bust"), "targets[1].line", "same_name"),
        (changed(1, line="  "), "targets[1].line", "blank"),
        (changed(1, line=7), "targets[1].line", "wrong_type"),
        (changed(1, what="round"), "targets[1].what", "not_allowed"),
        (changed(1, unit="ft"), "targets[1].unit", "not_allowed"),
        (changed(1, value="30 9/8"), "targets[1].value", "length_improper_fraction"),
        (changed(1, value=0), "targets[1].value", "out_of_range"),
        (changed(1, value=119), "targets[1].value", "out_of_range"),
        (changed(1, value=None), "targets[1].value", "wrong_type"),
        (changed(1, value=[30]), "targets[1].value", "wrong_type"),
        (changed(1, value_mm=3), "targets[1].value", "given_twice"),
        (changed(0, spread=-0.1), "targets[0].spread", "out_of_range"),
        (changed(0, tolerance_mm=[-1, 1]), "targets[0].tolerance", "given_twice"),
        (changed(0, tolerance=[0.25, 0.25]), "targets[0].tolerance", "least_not_below_greatest"),
        (changed(0, tolerance=[-0.25, "x"]), "targets[0].tolerance[1]", "length_no_number"),
        (changed(0, tolerance=[-0.25]), "targets[0].tolerance[1]", None),
        (changed(0, tolerance=0.25), "targets[0].tolerance", "wrong_type"),
        (changed(2, tolerance_mm=[-5000, 3]), "targets[2].tolerance_mm[0]", "out_of_range"),
        (changed(3, text="x" * 301), "targets[3].text", "too_long"),
    ],
)
def test_a_field_that_cannot_be_used_is_named_with_the_reason(data, field, why):
    error = refusal(data)
    assert (error.field, error.values.get("why")) == (field, why)
    assert error.code == ("bad_field" if why else "missing_field")


def test_more_targets_than_any_body_has_are_refused():
    targets = [{"line": f"line {i}", "value_mm": 100} for i in range(201)]
    error = refusal({"name": "", "targets": targets})
    assert (error.field, error.values["why"]) == ("targets", "too_many")


BAD_TEXTS = [
    ("", "bad_json"),
    ("{", "bad_json"),
    ("{'name': 1}", "bad_json"),
    ('{"name": "\\ud800", "lines": [], "rows": [], "dials": [], "targets": []}', "bad_json"),
    ("[]", "not_object"),
    ("null", "not_object"),
    ('"fitassist-form"', "not_object"),
    ('{"a": NaN}', "not_finite"),
    ('{"a": -Infinity}', "not_finite"),
    ('{"a": [1e999]}', "not_finite"),
    ('{"a": ' + "9" * 401 + "}", "not_finite"),
    ('{"a": ' + "9" * 5000 + "}", "not_finite"),
    ('{"a": 1, "b": {"c": 1, "c": 1}}', "duplicate_key"),
    ("[" * 100_000, "too_deep"),
    ('{"a": ' + "[" * 70 + "]" * 70 + "}", "too_deep"),
    ('{"a":' * 100_000, "too_deep"),
    (" " * (MAX_BYTES + 1), "too_large"),
    ("é" * (MAX_BYTES // 2 + 1), "too_large"),
]


@pytest.mark.parametrize("load", [load_body_text, load_form_text])
@pytest.mark.parametrize(("text", "code"), BAD_TEXTS, ids=[code for _, code in BAD_TEXTS])
def test_a_text_that_is_no_sound_object_is_neither_body_nor_form(load, text, code):
    with pytest.raises(BadFile) as caught:
        load(text)
    assert caught.value.code == code


def test_a_repeated_key_is_named_and_a_broken_place_is_told():
    with pytest.raises(BadFile) as caught:
        load_body_text('{"name": 1, "name": 1}')
    assert caught.value.field == "name"
    with pytest.raises(BadFile) as caught:
        load_body_text('{"name":\n  oops}')
    assert (caught.value.values["line"], caught.value.values["column"]) == (2, 3)


def test_every_code_is_raised_by_some_file_here_or_by_a_folder():
    raised = {code for _, code in BAD_TEXTS}
    raised |= {"foreign_file", "newer_version", "missing_field", "bad_field"}
    assert raised | {"unreadable"} == set(FILE_CODES)


def test_a_byte_order_mark_is_no_part_of_the_text():
    assert load_body_text("\ufeff" + TEXT) == load_body_text(TEXT)


@pytest.mark.parametrize("data", [{1: 2}, {"a": {1}}, {"a": object()}, {"a": float("nan")}])
def test_an_object_that_never_was_json_is_refused(data):
    assert refusal(data).code in {"bad_json", "not_finite"}


KEYS = st.sampled_from(["name", "targets", "line", "value", "unit", "tolerance", "spread_mm", ""])
LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.sampled_from(["in", "cm", "bust", "38 5/8", "-3 in", "girth"])
    | st.text(max_size=8)
)
JSON = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=8,
)


def body_or_refusal(data: object) -> None:
    """Read a body that is then written and read again unchanged, or a refusal with known codes."""
    try:
        body = body_from_json(data)  # type: ignore[arg-type]
    except BadFile as error:
        refused = error
    else:
        assert body_from_json(json.loads(json.dumps(body_to_json(body), allow_nan=False))) == body
        return
    assert refused.code in FILE_CODES
    if refused.code == "bad_field":
        assert refused.values["why"] in {*FIELD_REASONS, *LENGTH_CODES}
        assert refused.field


@given(JSON)
@example({"name": "", "targets": []})
def test_any_json_value_is_a_body_or_is_refused(data):
    body_or_refusal(data)


@given(
    st.integers(0, 3),
    st.dictionaries(
        st.sampled_from(
            ["line", "what", "value", "value_mm", "unit", "spread", "tolerance", "text", "more"]
        ),
        JSON | st.just(...),
        max_size=3,
    ),
)
def test_a_body_with_anything_changed_in_a_target_is_a_body_or_is_refused(number, fields):
    body_or_refusal(changed(number, **fields))


@given(st.floats(0.001, 3000), st.none() | st.floats(0, 300), st.none() | st.floats(0.01, 300))
def test_a_body_made_in_the_program_is_read_back_to_the_last_bit(value, spread, side):
    tolerance = None if side is None else (-side, side / 2)
    target = Target(line="bust", value_mm=value, spread_mm=spread, tolerance_mm=tolerance)
    body = Body(name="Everyday", targets=(target,))
    assert body_from_json(json.loads(json.dumps(body_to_json(body)))) == body
