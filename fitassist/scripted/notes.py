# SPDX-License-Identifier: MIT
"""What a window shows all the time and a script must be told once: cautions, symmetry, limits."""

from __future__ import annotations

from collections.abc import Iterator

from fitassist.domain.form import Form
from fitassist.domain.steps import Finished, Instruction, Note, Reason, SetDials
from fitassist.session.view import FittingView


def notes_for(instruction: Instruction, form: Form, view: FittingView) -> Iterator[Note]:
    """Return what goes with an instruction; the caller says each of them once.

    Cautions are common practice, no source.
    """
    if isinstance(instruction, SetDials):
        yield from _cautions(instruction, form)
    for uneven in view.symmetry:
        yield Note(code="symmetry", reason=Reason(code="symmetry", values={"row": uneven.row}))
    if isinstance(instruction, Finished):
        for result in instruction.lines:
            if result.left_for_padding_mm > 0:
                yield Note(
                    code="dial_limit", line=result.line, amount_mm=result.left_for_padding_mm
                )


def _cautions(step: SetDials, form: Form) -> Iterator[Note]:
    codes = ["lock"] if form.lock else []
    codes += {"offset": ["offset_post"], "hanging": ["hanging"]}.get(form.post, [])
    actions = {turn.action for turn in step.turns}
    if "open" in actions:
        codes.append("first_resistance")
    if "close" in actions:
        codes += ["press_panels", "fingers"]
    for code in codes:
        yield Note(code="caution", reason=Reason(code=code))
