# SPDX-License-Identifier: MIT
"""Every refusal by example, and nothing on a line ever ends a session or makes it fail."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitassist.errors import FitError
from tests.unit.scripted.partner import (
    OPEN,
    line,
    run,
)


@pytest.mark.parametrize(
    ("sent", "code", "field"),
    [
        (b"nonsense", "bad_json", ""),
        (b"", "bad_json", ""),
        (b"[1, 2]", "bad_json", ""),
        (b'"done"', "bad_json", ""),
        (b'{"to":3,"to":3,"answer":"done"}', "bad_json", ""),
        (b'{"to":NaN,"answer":"done"}', "bad_json", ""),
        (b'{"to":3,"answer":"done","x":1e999}', "bad_json", ""),
        (b'{"to":3,"answer":"d\xffne"}', "bad_json", ""),
        (b'{"to":3,"answer":"done"\x00}', "bad_json", ""),
        (b"[" * 5000, "bad_json", ""),
        (b'{"a":' * 100 + b"1" + b"}" * 100, "bad_json", ""),
        (b'{"to":3,"answer":"done","x":"' + b"y" * 70000 + b'"}', "too_long", ""),
        (b'{"to":3,"answer":"dance"}', "unknown_answer", "answer"),
        (b'{"to":3,"answer":["done"]}', "unknown_answer", "answer"),
        (b'{"to":3,"answer":"choose","choice":"keep"}', "unknown_answer", ""),
        (b'{"to":3,"answer":"reading","value":900,"unit":"mm"}', "unknown_answer", ""),
        (b'{"to":3,"answer":"undo"}', "unknown_answer", ""),
        (b'{"to":2,"answer":"done"}', "wrong_id", "to"),
        (b'{"to":-3,"answer":"done"}', "wrong_id", "to"),
        (b'{"to":' + b"9" * 400 + b',"answer":"done"}', "wrong_id", "to"),
        (b'{"to":3}', "bad_value", "answer"),
        (b'{"answer":"done"}', "bad_value", "to"),
        (b'{"to":true,"answer":"done"}', "bad_value", "to"),
        (b'{"to":3.0,"answer":"done"}', "bad_value", "to"),
        (b'{"to":null,"answer":"free","dial":"bust.left"}', "bad_value", "to"),
        (b'{"to":3,"answer":"done","excpet":[]}', "bad_value", "excpet"),
        (b'{"to":3,"answer":"done","except":{}}', "bad_value", "except"),
        (b'{"to":3,"answer":"done","except":[3]}', "bad_value", "except"),
        (b'{"to":3,"answer":"done","except":[{"dial":"bust.left"}]}', "bad_value", "number"),
        (
            b'{"to":3,"answer":"done","except":[{"dial":"x.y","number":36,"why":"stuck"}]}',
            "bad_value",
            "dial",
        ),
        (
            b'{"to":3,"answer":"done","except":[{"dial":"bust.left","number":36,"why":"so"}]}',
            "bad_value",
            "why",
        ),
        (
            b'{"to":3,"answer":"done","except":[{"dial":"bust.left","number":99,"why":"stuck"}]}',
            "out_of_range",
            "number",
        ),
        (b'{"to":3,"answer":"volunteer","line":"hip"}', "bad_value", "value"),
        (b'{"to":3,"answer":"volunteer","line":"toe","value":900}', "bad_value", "line"),
        (b'{"to":3,"answer":"volunteer","line":"hip","what":"x","value":9}', "bad_value", "what"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":true}', "bad_value", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":"wide"}', "bad_value", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":9,"unit":"ft"}', "bad_value", "unit"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":-9}', "out_of_range", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":1e300}', "out_of_range", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":"-9"}', "out_of_range", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":"5000 cm"}', "out_of_range", "value"),
        (b'{"to":3,"answer":"volunteer","line":"hip","value":1}', "out_of_range", "value"),
        (b'{"to":3,"answer":"volunteer","line":"h\\u0007","value":900}', "bad_value", "line"),
        (b'{"to":3,"answer":"volunteer","line":"\\ud800","value":900}', "bad_json", ""),
        (b'{"to":3,"answer":"volunteer","dial":"bust.left","number":"36"}', "bad_value", "number"),
        (b'{"to":3,"answer":"volunteer","dial":"bust.left","number":99}', "out_of_range", "number"),
        (b'{"to":3,"answer":"free","dial":""}', "bad_value", "dial"),
        (b'{"to":3,"answer":"free","dial":"no.such"}', "bad_value", "dial"),
    ],
)
def test_a_refused_line_changes_nothing_and_says_why(
    files: Path, after_first: dict[str, Any], sent: bytes, code: str, field: str
) -> None:
    # Afterwards the same instruction takes its answer, as if nothing had been sent before.
    ended, lines = run(files, [sent + b"\n", line(to=OPEN, answer="done")])
    assert ended == 3
    opened, error, after = lines[-3:]
    assert (opened["kind"], opened["id"]) == ("set", OPEN)
    assert after == after_first
    assert error == {
        "kind": "error",
        "to": OPEN,
        "code": code,
        "field": field,
        "text": error["text"],
        "state": "unchanged",
    }
    assert error["text"].endswith(".")


def test_answers_to_a_measure_are_refused_by_example_too(
    files: Path, to_measure: tuple[list[bytes], dict[str, Any]]
) -> None:
    so_far, asked = to_measure
    to = asked["id"]
    wrong = [
        (line(to=to, answer="done"), "unknown_answer", ""),
        (line(to=to, answer="ribbon", marks="over", by=3), "bad_value", "marks"),
        (line(to=to, answer="ribbon", marks="apart", by=-3), "out_of_range", "by"),
        (line(to=to, answer="ribbon", marks="apart"), "bad_value", "by"),
        (line(to=to, answer="reading", value="28 1/", unit="in"), "bad_value", "value"),
        (line(to=to, answer="reading", value=0, unit="in"), "out_of_range", "value"),
        (line(to=to, answer="reading", unit="in"), "bad_value", "value"),
        (line(to=to, answer="choose", choice="keep"), "unknown_answer", ""),
    ]
    lines = run(files, so_far + [sent for sent, _code, _field in wrong])[1]
    errors = [(one["code"], one["field"]) for one in lines if one["kind"] == "error"]
    assert errors == [(code, field) for _sent, code, field in wrong]


def test_a_reading_means_the_same_in_every_unit(
    files: Path, to_measure: tuple[list[bytes], dict[str, Any]]
) -> None:
    so_far, asked = to_measure
    inches = round(asked["expect_mm"] / 25.4)
    mm = inches * 25.4  # an inch is 25.4 mm exactly
    ways: list[dict[str, object]] = [
        {"answer": "reading", "value": inches, "unit": "in"},
        {"answer": "reading", "value": str(inches), "unit": "in"},
        {"answer": "reading", "value": f"{inches} in"},
        {"answer": "reading", "value": round(mm / 10, 2), "unit": "cm"},
        {"answer": "reading", "value": round(mm, 1)},
        {"answer": "reading", "value": f"{mm / 10:.2f} cm", "unit": "mm"},
    ]
    gap = mm - asked["target_mm"]
    marks = "apart" if gap > 0 else "overlap"
    ways.append({"answer": "ribbon", "marks": marks, "by": round(abs(gap), 1), "unit": "mm"})
    outcomes = [run(files, [*so_far, line(to=asked["id"], **way)])[1][-1] for way in ways]
    assert outcomes == [outcomes[0]] * len(ways)
    assert outcomes[0]["kind"] != "error"


def test_an_unlikely_reading_is_asked_about_and_names_the_instruction(
    files: Path, to_measure: tuple[list[bytes], dict[str, Any]]
) -> None:
    so_far, asked = to_measure
    to = asked["id"]
    answers = [
        *so_far,
        line(to=to, answer="reading", value=1500, unit="mm"),
        line(to=to + 1, answer="choose", choice="maybe"),
        line(to=to + 1, answer="choose", choice="again"),
    ]
    question, refused, then = run(files, answers)[1][-3:]
    assert question["kind"] == "ask"
    assert question["code"] == "reading_unlikely"
    assert question["about"] == to
    assert {"again", "keep", "discard"} == set(question["choices"])
    assert (refused["code"], refused["field"]) == ("bad_value", "choice")
    assert then["kind"] == "measure"
    assert then["line"] == asked["line"]


def test_any_error_of_the_core_has_a_code_on_the_wire() -> None:
    from fitassist.scripted.refusals import wire_code

    known = {
        "bad_json", "unknown_answer", "wrong_id", "bad_value", "out_of_range", "too_long",
        "not_kept",
    }  # fmt: skip
    for code in ("finished", "wrong_answer", "from_the_future", "number_out_of_range"):
        assert wire_code(FitError(code)) in known


scalars = st.one_of(
    st.none(), st.booleans(), st.integers(-5, 2000), st.floats(), st.text(max_size=20)
)
answer_names = st.sampled_from(
    ["done", "reading", "ribbon", "volunteer", "skip", "undo", "choose", "free", "x", None]
)
odd_answers = st.fixed_dictionaries(
    {"to": st.one_of(st.integers(1, 30), scalars), "answer": answer_names},
    optional={
        "value": scalars,
        "unit": st.sampled_from(["in", "cm", "mm", "", 3]),
        "by": scalars,
        "marks": st.sampled_from(["apart", "overlap", 1]),
        "line": st.sampled_from(["bust", "hip", "toe", "", None]),
        "what": st.sampled_from(["girth", "front", "length", 0]),
        "dial": st.sampled_from(["bust.left", "hip.back", "toe", []]),
        "number": scalars,
        "choice": scalars,
        "except": st.lists(scalars | st.dictionaries(st.text(max_size=5), scalars), max_size=2),
        "more": st.recursive(scalars, lambda inner: st.lists(inner, max_size=2), max_leaves=5),
    },
)
odd_lines = st.one_of(
    st.binary(max_size=200).map(lambda raw: raw.replace(b"\n", b"")),
    odd_answers.map(lambda found: json.dumps(found).encode()),
    st.sampled_from(
        [b'{"to":%d,"answer":"%s"}' % (n, a) for n in range(2, 9) for a in (b"done", b"undo")]
    ),
)


@settings(max_examples=12)
@given(st.lists(odd_lines, max_size=8))
@example([b"\xff", b"{}", b"[" * 100000, b'{"to":3,"answer":"done"}', b'{"answer":"free"}'])
def test_no_line_ends_the_session_or_makes_it_fail(files: Path, sent: list[bytes]) -> None:
    code, lines = run(files, [one + b"\n" for one in sent])
    assert code == 3
    assert lines[0]["kind"] == "hello"
    refused = sum(one["kind"] == "error" for one in lines)
    taken = sum(one["kind"] in {"set", "measure", "ask"} for one in lines)
    assert refused + taken == len(sent) + 1  # each line is answered, and one instruction is open
