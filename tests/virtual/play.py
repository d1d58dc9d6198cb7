# SPDX-License-Identifier: MIT
"""The person at the virtual form: does what a fitting asks, reads the tape, answers."""

from __future__ import annotations

from fitassist.domain.answers import Choose, Done, TapeReading
from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.steps import Ask, Finished, Instruction, Measure, SetDials
from fitassist.session.fitting import Fitting
from tests.virtual.cases import Case
from tests.virtual.judge import Outcome, Tally

MOST_ANSWERS = 200


class Endless(Exception):
    """A fitting that does not come to its end."""


def start_fitting(case: Case, opposite_equal: bool = False) -> Fitting:
    """Return a new fitting of a case as its owner would start it; the tape's spread is known."""
    room = (-case.tolerance_mm, case.tolerance_mm)
    targets = tuple(
        Target(line=line, value_mm=girth, tolerance_mm=room)
        for line, girth in case.targets_mm.items()
    )
    body = Body(name="Someone", kind="woman" if case.sex == "F" else "man", targets=targets)
    preferences = Preferences(
        opposite_equal=opposite_equal,
        tape_spread_mm=max(case.form.options.tape_spread_mm, 0.5),
        units="in" if case.form.options.units == "in" else "cm",
    )
    return Fitting.start(body, case.form.as_form(), preferences)


def play(fitting: Fitting, case: Case, most: int = MOST_ANSWERS) -> Outcome:
    """Drive a fitting to its end against the form of a case.

    Returns what it cost by our own count, how it ended, and after every answer the stated joint
    chance with whether every line was truly within tolerance at that moment.
    """
    tally = Tally()
    stated: list[tuple[float, bool]] = []
    for _ in range(most):
        instruction = fitting.instruction
        if isinstance(instruction, Finished):
            return Outcome.of(
                tally, case.worst_mm(), case.tolerance_mm, instruction.verdict, stated
            )
        fitting.submit(_answer(instruction, case, tally))
        joint = fitting.view().joint
        if joint is not None:
            stated.append((joint, case.within()))
    raise Endless(f"case {case.seed}: no end after {most} answers")


def _answer(instruction: Instruction, case: Case, tally: Tally) -> Done | TapeReading | Choose:
    form = case.form
    if isinstance(instruction, SetDials):
        for turn in instruction.turns:
            tally.turn(turn.dial, form.numbers[turn.dial], turn.number, form.made.step)
            form.turn(turn.dial, turn.number)
        return Done()
    if isinstance(instruction, Measure):
        tally.read()
        return TapeReading(mm=form.tape(instruction.line, str(instruction.what)))
    if isinstance(instruction, Ask):
        again = instruction.code == "reading_unlikely" and "again" in instruction.choices
        return Choose(choice="again" if again else instruction.choices[0])
    return Done()
