# SPDX-License-Identifier: MIT
"""Forms and bodies unlike anything real are refused with a sentence, or a fitting goes on."""

from __future__ import annotations

import io
import json
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from fitassist.domain.form import Form
from fitassist.domain.form_file import form_from_json, load_form_text
from fitassist.domain.form_reach import MOST_WAYS, field_out_of_reach
from fitassist.errors import BadFile
from fitassist.scripted import main
from fitassist.storage.library import Library
from tests.builders import a_form
from tests.fuzz.extremes import NAMES, pair, plain_form

ANSWERS = 4
LONGEST_S = 15  # ten times what the slowest needs here
LONG = {"thirty fittings of four hundred entries learned"}
# By the field that is at fault; all others are taken.
REFUSED = {
    "click of a millionth": "form: dials[0].click",
    "click of a millionth in a range of a billion": "form: dials[0].greatest",
    "range to the largest number": "form: dials[0].greatest",
    "range to the largest number, smooth": "form: dials[0].greatest",
    "range from below zero": "form: dials[0].greatest",
    "turns of a thousandth": "form: largest_turn",
    "turns next to nothing": "form: largest_turn",
    "plain turns to the largest number": "form: dials[0].greatest",
    "plain turns, a hundred": "form: dials[0].greatest",
    "gaps in cm to the largest number": "form: dials[0].greatest",
    "eight rows": "form: dials[0].greatest",
    "twelve rows": "form: rows",
    "sixty-four rows": "form: rows",
    "sixty-four rows of one dial": "form: rows",
    "eight rows on one line": "form: dials[0].greatest",
    "sixty-four rows on one line": "form: rows",
    "dials without rows": "form: dials[0].name",
    "closed girths next to nothing": "form: lines[0].closed_girth",
    "closed girths beyond numbers": "form: lines[0].closed_girth_mm",
    "five hundred noted girths": "form: lines[0].girths",
    "noted girths beyond numbers": "form: lines[0].girths[0].girth_mm",
    "thousands of entries learned": "learned.fittings.0.entries",
    "learned readings beyond numbers": "learned.fittings.0.entries.1.mm",
    "learned readings below zero": "learned.fittings.0.entries.1.mm",
    "learned readings of zero": "learned.fittings.0.entries.1.mm",
    "learned spreads of zero": "learned.fittings.0.entries.1.spread_mm",
    "learned numbers beyond numbers": "learned.fittings.0.start.bust.left",
    "learned without sense": "learned.fittings",
    "learned by a newer version": "learned.version",
    "targets of a kilometre": "body: targets[0].value_mm",
    "spreads of a billion": "body: targets[0].spread_mm",
    "tolerance inverted": "body: targets[0].tolerance",
    "tolerance zero": "body: targets[0].tolerance",
    "tolerance next to zero": "body: targets[0].tolerance",
    "tolerance of an ulp": "body: targets[0].tolerance",
    "preferences: tolerance inverted": "body: preferences: default_tolerance_mm",
    "preferences: tolerance zero": "body: preferences: default_tolerance_mm",
    "preferences: tolerance beyond numbers": "body: preferences: default_tolerance_mm",
    "preferences: padded tolerance inverted": "body: preferences: padded_tolerance_mm",
    "torso turned over": "form: torso.least",
}


@contextmanager
def within(seconds: int) -> Iterator[None]:
    """Stop what hangs, where the system can."""

    def stop(*_: object) -> None:
        raise AssertionError(f"not done after {seconds} s")

    if not hasattr(signal, "SIGALRM"):
        yield
        return
    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


class Answering(io.RawIOBase):
    """Answers a few times as a person with a tape that says two mm more than expected."""

    def __init__(self, sink: io.BytesIO) -> None:
        self.sink, self.left = sink, ANSWERS

    def readline(self, size: int | None = -1) -> bytes:
        if not self.left:
            return b""
        self.left -= 1
        asked = json.loads(self.sink.getvalue().splitlines()[-1])
        answer: dict[str, Any] = {"to": asked["id"], "answer": "done"}
        if asked["kind"] == "measure":
            mm = min(max(round(asked["expect_mm"]) + 2, 20), 3000)
            answer |= {"answer": "reading", "value": mm}
        elif asked["kind"] == "ask":
            answer |= {"answer": "choose", "choice": asked["choices"][0]}
        elif asked["kind"] == "error":
            raise AssertionError(asked)
        return json.dumps(answer).encode() + b"\n"


def run(folder: Path, name: str) -> tuple[int, list[dict[str, Any]]]:
    form, body = pair(name)
    (folder / "form.json").write_text(json.dumps(form))
    (folder / "body.json").write_text(json.dumps(body))
    sink = io.BytesIO()
    names = [("--form", "form"), ("--body", "body"), ("--learned-out", "out")]
    arguments = [part for flag, stem in names for part in (flag, f"{folder}/{stem}.json")]
    code = main([*arguments, "--verbose"], Answering(sink), sink)  # type: ignore[arg-type]
    return code, [json.loads(line) for line in sink.getvalue().splitlines()]


@pytest.mark.parametrize(
    "name",
    [pytest.param(n, marks=pytest.mark.bench) if n in LONG else n for n in NAMES],
)
def test_an_extreme_pair_is_refused_by_its_field_or_guided_in_good_time(
    tmp_path: Path, name: str
) -> None:
    with within(LONGEST_S):
        code, lines = run(tmp_path, name)
    if name in REFUSED:
        assert (code, len(lines)) == (2, 1)
        assert REFUSED[name].endswith(lines[0]["field"])
        assert lines[0]["field"]
        assert lines[0]["text"]
        assert not (tmp_path / "out.json").exists()
        return
    assert code in (0, 3)
    assert lines[0]["kind"] == "hello"
    out = (tmp_path / "out.json").read_text()
    assert isinstance(load_form_text(out), Form), "the form as it stands can be loaded again"


def test_no_name_is_refused_that_is_not_tried() -> None:
    assert set(REFUSED) | LONG <= set(NAMES)
    assert len(NAMES) - len(REFUSED) > 40


@pytest.mark.parametrize(
    ("reach", "turn", "rows", "refused"),
    [
        (8, None, 6, ""),  # six rows of eight inches: 5^6 = 15,625 ways
        (8, None, 7, "dials[0].greatest"),  # 5^7 = 78,125
        (8, 0.5, 3, ""),  # 17^3 = 4,913
        (8, 0.25, 3, "largest_turn"),  # 33^3 = 35,937
        (54 - 2.0, None, 3, ""),  # 27^3 = 19,683
        (54 + 1.0, None, 3, "dials[0].greatest"),
    ],
)
def test_the_ways_round_a_form_are_counted(
    reach: float, turn: float | None, rows: int, refused: str
) -> None:
    data = plain_form()
    data["lines"] = [{"name": f"r{i}"} for i in range(rows)]
    data["rows"] = [{"name": f"r{i}", "line": f"r{i}"} for i in range(rows)]
    data["dials"] = [
        {"name": f"r{i}.left", "least": 30, "greatest": 30 + reach, "number": 30}
        for i in range(rows)
    ]
    data["largest_turn"] = turn
    if not refused:
        assert field_out_of_reach(form_from_json(data)) == ""
        assert MOST_WAYS == 20_000
        return
    with pytest.raises(BadFile) as caught:
        form_from_json(data)
    assert (caught.value.field, caught.value.values["why"]) == (refused, "out_of_range")


def test_a_form_that_could_not_be_loaded_again_is_not_saved_over_one_that_can(
    tmp_path: Path,
) -> None:
    library = Library(tmp_path, lambda: "2026-01-01T00:00:00Z")
    form_id = library.save_form("", a_form())
    before = (tmp_path / "forms" / f"{form_id}.json").read_bytes()
    with pytest.raises(BadFile) as caught:
        library.save_form(form_id, a_form(opens="x" * 5000))
    assert (caught.value.code, caught.value.field) == ("bad_field", "opens")
    assert (tmp_path / "forms" / f"{form_id}.json").read_bytes() == before
    assert library.load_form(form_id) == a_form()
