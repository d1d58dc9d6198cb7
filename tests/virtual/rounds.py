# SPDX-License-Identifier: MIT
"""What is done without help: reading round the form and turning whole rows by the error."""

from __future__ import annotations

from tests.virtual.cases import Case
from tests.virtual.form import VirtualForm
from tests.virtual.judge import Outcome, Tally
from tests.virtual.made import ROWS, SEAMS

MOST_PASSES = 15


def common_round(case: Case) -> Outcome:
    """Fit by the common round, turning the form of the case.

    At most 15 passes. At each line with dials: read; if the error is more than half the
    tolerance, turn all four dials of the row by it (the numbers are whole girths), to whole clicks
    within range. Then read all lines; stop when the worst error read is at most 0.8 of the
    tolerance. Common practice, no source.
    """
    form, tally, tolerance = case.form, Tally(), case.tolerance_mm
    for _ in range(MOST_PASSES):
        for line in ROWS:
            if line not in case.targets_mm:
                continue
            error = case.targets_mm[line] - _read(form, line, tally)
            if abs(error) > 0.5 * tolerance:
                _turn_row(form, line, error / form.made.unit_mm, tally)
        errors = [abs(_read(form, line, tally) - t) for line, t in case.targets_mm.items()]
        if max(errors) <= 0.8 * tolerance:
            break
    return Outcome.of(tally, case.worst_mm(), tolerance)


def _read(form: VirtualForm, line: str, tally: Tally) -> float:
    tally.read()
    return form.tape(line)


def _turn_row(form: VirtualForm, row: str, by: float, tally: Tally) -> None:
    made, index = form.made, ROWS.index(row)
    least, greatest = float(made.least[index]), float(made.greatest[index])
    clicks = round(by / made.step)
    for seam in SEAMS:
        dial = f"{row}.{seam}"
        start = form.numbers[dial]
        number = min(max(start + clicks * made.step, least), greatest)
        tally.turn(dial, start, number, made.step)
        form.turn(dial, number)
