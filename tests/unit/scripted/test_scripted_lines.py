# SPDX-License-Identifier: MIT
"""Kinds of line that files seldom bring about, by a small stand-in for the fitting."""

from __future__ import annotations

import io
from collections.abc import Callable

from fitassist.domain.answers import Answer, Done
from fitassist.domain.body import Preferences
from fitassist.domain.steps import (
    Ask,
    Check,
    Finished,
    Instruction,
    LineResult,
    Measure,
    Note,
    Reason,
    SetDials,
    Turn,
)
from fitassist.scripted.loop import Loop
from fitassist.session.view import FittingView, LineView
from tests.unit.scripted.partner import (
    Lines,
    a_form,
    line,
    said,
)


class Staged:
    """A fitting that asks what it is told to ask, and takes everything."""

    def __init__(self, *steps: Instruction, notes: tuple[Note, ...] = ()) -> None:
        self._steps = list(steps)
        self._notes = notes
        self.taken: list[Answer] = []
        self.fail: Callable[[], None] = lambda: None

    @property
    def instruction(self) -> Instruction:
        return self._steps[0]

    def submit(self, answer: Answer) -> None:
        self.fail()
        self.taken.append(answer)
        self._steps.pop(0)

    def view(self) -> FittingView:
        shown = LineView(
            line="hip", has_dials=True, target_mm=1000, tolerance_mm=(-9.525, 9.525),
            predicted_mm=None, spread_mm=None, chance=None, state="not_yet",
        )  # fmt: skip
        return FittingView(
            revision=0, instruction=self.instruction, lines=(shown,), first_minute=self._notes
        )


END = Finished(
    id=90,
    verdict="as_near_as_dials_go",
    joint=0.123456,
    readings=1,
    turns=2,
    walks=1,
    clicks=3,
    lines=(
        LineResult(
            line="hip",
            target_mm=1000,
            predicted_mm=979.96,
            spread_mm=2,
            chance=0.98765,
            left_for_padding_mm=20.04,
        ),
    ),
    dials={"hip.front": 38.0},
)


def staged(fitting: Staged, *lines: bytes) -> Lines:
    sink = io.BytesIO()
    loop = Loop(fitting, a_form(), Preferences(), io.BytesIO(b"".join(lines)), sink)
    end = loop.run()
    if end is not None:
        loop.finish(end)
    return said(sink.getvalue())


def test_a_plain_step_is_a_note_and_needs_no_answer() -> None:
    fitting = Staged(Check(id=1, code="marks"), END)
    lines = staged(fitting)
    assert [one["kind"] for one in lines] == ["hello", "note", "note", "done"]
    assert lines[1]["code"] == "step"
    assert fitting.taken == [Done()]


def test_what_a_form_can_never_do_is_said_first() -> None:
    reason = Reason(code="too_big_girth", values={"line": "hip", "mm": 12.0})
    note = Note(code="too_big", line="hip", amount_mm=12.04, reason=reason)
    lines = staged(Staged(END, notes=(note, note)))
    assert [one["kind"] for one in lines] == ["hello", "note", "note", "done"]
    assert lines[1]["code"] == "too_big"
    assert lines[1]["line"] == "hip"
    assert lines[1]["amount_mm"] == 12.0
    assert "larger than the body at the hip" in lines[1]["text"]
    assert lines[2]["code"] == "dial_limit"
    assert lines[2]["amount_mm"] == 20.0


def test_lengths_are_rounded_to_a_tenth_and_chances_to_four_digits() -> None:
    done = staged(Staged(END))[-1]
    assert done["joint"] == 0.1235
    assert done["lines"] == [
        {
            "line": "hip",
            "target_mm": 1000.0,
            "predicted_mm": 980.0,
            "spread_mm": 2.0,
            "chance": 0.9877,
            "left_for_padding_mm": 20.0,
        }
    ]


def test_cautions_are_said_once_before_the_first_turn_they_fit() -> None:
    def turn(start: float, number: float) -> SetDials:
        action = "open" if number > start else "close"
        one = Turn(dial="hip.front", action=action, start=start, number=number, clicks=4)
        return SetDials(id=1, row="hip", turns=(one,))

    fitting = Staged(turn(37, 38), turn(38, 39), turn(39, 38), END)
    lines = staged(fitting, *(line(to=n, answer="done") for n in (3, 4, 7)))
    kinds = [one["kind"] for one in lines]
    assert kinds == ["hello", "note", "set", "set", "note", "note", "set", "note", "done"]
    cautions = [one["text"] for one in lines if one.get("code") == "caution"]
    assert len(set(cautions)) == 3


def test_a_question_about_an_unknown_instruction_says_null() -> None:
    ask = Ask(id=5, code="symmetry", about=77, choices=("even", "keep"))
    asked = staged(Staged(ask, END))[-1]
    assert asked["about"] is None
    assert asked["choices"] == ["even", "keep"]


def test_an_answer_that_could_not_be_kept_is_not_taken() -> None:
    from fitassist.errors import StorageFailed

    fitting = Staged(Measure(id=1, line="hip", expect_mm=None, spread_mm=None, target_mm=None), END)

    def full() -> None:
        raise StorageFailed("disk_full")

    fitting.fail = full
    lines = staged(fitting, line(to=2, answer="reading", value=900))
    assert lines[-1]["code"] == "not_kept"
    assert lines[-1]["to"] == 2
    assert "disk is full" in lines[-1]["text"]
    assert lines[-2]["expect_mm"] is None
