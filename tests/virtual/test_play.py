# SPDX-License-Identifier: MIT
"""A fitting played from the first instruction to the end against a virtual form."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from fitassist.domain.answers import Answer, Choose, Done, TapeReading
from fitassist.domain.form_file import load_form_text
from fitassist.domain.steps import Ask, Check, Finished, Instruction, Measure, SetDials, Turn
from tests.virtual.cases import Case, make_case, make_second
from tests.virtual.play import Endless, play, start_fitting
from tests.virtual.table import report, run
from tests.virtual.wire import Broken, play_scripted

QUIET = {"tape_spread_mm": 0.0, "gross_share": 0.0, "round_to_mm": 0.01, "slop": False}


class Told:
    """A fitting that says what it was told to say, over and over if it does not end."""

    def __init__(self, instructions: list[Instruction]) -> None:
        self._left = instructions
        self.answers: list[Answer] = []

    @property
    def instruction(self) -> Instruction:
        return self._left[0]

    def submit(self, answer: Answer) -> None:
        self.answers.append(answer)
        if len(self._left) > 1:
            self._left = self._left[1:]

    def view(self) -> Any:
        return SimpleNamespace(joint=0.5 if len(self.answers) > 1 else None)


def finished() -> Finished:
    return Finished(
        id=9, verdict="left", joint=0.5, readings=0, turns=0, walks=0, clicks=0, lines=(), dials={}
    )


def measure(line: str = "hip") -> Measure:
    return Measure(id=2, line=line, expect_mm=None, spread_mm=None, target_mm=None)


def turn(case: Case, dial: str, by: float) -> SetDials:
    start = case.form.numbers[dial]
    one = Turn(dial=dial, action="open", start=start, number=start + by, clicks=round(by / 0.25))
    return SetDials(id=1, row=dial.partition(".")[0], turns=(one,))


def test_the_person_does_what_is_asked_and_counts_it() -> None:
    case = make_case(3)
    stood = case.form.numbers["hip.left"]
    told = Told(
        [
            Check(id=1, code="ready"),
            turn(case, "hip.left", 1.0),
            measure(),
            Ask(id=3, code="reading_unlikely", choices=("keep", "again")),
            Ask(id=4, code="another", choices=("first", "again")),
            measure("waist"),
            finished(),
        ]
    )
    outcome = play(told, case)  # type: ignore[arg-type]
    assert case.form.numbers["hip.left"] == stood + 1.0
    assert (outcome.readings, outcome.turns, outcome.walks, outcome.clicks) == (2, 1, 1, 4)
    assert [type(a) for a in told.answers] == [Done, Done, TapeReading, Choose, Choose, TapeReading]
    assert [a.choice for a in told.answers if isinstance(a, Choose)] == ["again", "first"]
    assert outcome.verdict == "left"
    assert outcome.stated == ((0.5, case.within()),) * 5


def test_a_fitting_without_an_end_is_given_up() -> None:
    with pytest.raises(Endless, match="no end"):
        play(Told([measure()]), make_case(3))  # type: ignore[arg-type]


def test_an_exact_tape_and_dials_without_slop_end_within_tolerance() -> None:
    for seed in (21, 22):
        case = make_case(seed, **QUIET)
        outcome = play(start_fitting(case), case)
        assert outcome.verdict == "good_enough"
        assert outcome.within
        assert outcome.stated


def test_a_fitting_counts_its_readings_turns_and_clicks_as_we_do() -> None:
    case = make_case(23)
    fitting = start_fitting(case)
    outcome = play(fitting, case)
    end = fitting.instruction
    assert isinstance(end, Finished)
    ours = (outcome.readings, outcome.turns, outcome.clicks)
    assert (end.readings, end.turns, end.clicks) == ours
    assert end.dials == case.form.numbers


def test_a_second_person_can_start_with_what_the_form_has_taught() -> None:
    case = make_case(24)
    first = start_fitting(case)
    play(first, case)
    case.form.learned = first.learned()
    second = make_second(case, 1)
    assert second.form.description()["learned"] == first.learned() != {}
    assert play(start_fitting(second), second).readings > 0


def test_the_same_fitting_over_a_pipe_takes_the_same_course(tmp_path: Path) -> None:
    case, over_pipe = make_case(25), make_case(25)
    inside = play(start_fitting(case), case)
    outside, end = play_scripted(over_pipe, tmp_path)
    assert outside.worst_mm == inside.worst_mm
    assert (outside.readings, outside.turns, outside.clicks, outside.verdict) == (
        inside.readings,
        inside.turns,
        inside.clicks,
        inside.verdict,
    )
    assert (end["readings"], end["turns"], end["clicks"]) == (
        outside.readings,
        outside.turns,
        outside.clicks,
    )
    assert end["dials"] == over_pipe.form.numbers
    assert len(outside.stated) == len(inside.stated)
    for (wired, _), (stated, _) in zip(outside.stated, inside.stated, strict=True):
        assert wired == pytest.approx(stated, abs=6e-5)  # four digits on the wire
    kept = load_form_text((tmp_path / "learned.json").read_text("utf-8"))
    assert kept.numbers() == over_pipe.form.numbers
    assert kept.learned


def test_a_process_that_breaks_off_is_noticed(tmp_path: Path) -> None:
    with pytest.raises(Broken, match="ended with 5"):
        play_scripted(make_case(3), tmp_path, (sys.executable, "-c", "raise SystemExit(5)"))


def test_the_table_tells_every_method_and_hides_no_broken_case() -> None:
    results, broken = run(range(40, 42), "a,d", {}, workers=1)
    text = "\n".join(report(results, broken))
    assert not broken
    for name in ("a common round", "d fewest turns", "d even"):
        assert len(results[name]) == 2
        assert name in text
    results, broken = run(range(40, 41), "a", {"no_such": 1}, workers=1)
    assert not results
    assert "BROKEN: 1" in "\n".join(report(results, broken))
