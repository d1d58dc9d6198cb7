# SPDX-License-Identifier: MIT
"""What is drawn and offered once a fitting has ended, so that picture and verdict agree."""

from __future__ import annotations

from fitassist.domain.steps import Finished, Instruction, Reason
from fitassist.session.view import FittingView, LineView
from fitassist.wording.fitting_words import SURE


def lines_as_ended(view: FittingView) -> tuple[LineView, ...]:
    """Return the lines of a view; those the verdict calls good ask for the tape no more."""
    step = view.instruction
    if not isinstance(step, Finished):
        return view.lines
    least = 0.0 if step.verdict == "good_enough" else SURE
    return tuple(
        line.model_copy(update={"state": "good", "reason": Reason(code="not_needed")})
        if line.has_dials and line.state == "measure_again" and (line.chance or 0.0) >= least
        else line
        for line in view.lines
    )


def leaves_padding(step: Instruction) -> bool:
    """Whether a fitting has ended with lines that padding can bring out."""
    return isinstance(step, Finished) and any(one.left_for_padding_mm > 0 for one in step.lines)
