# SPDX-License-Identifier: MIT
"""What is lit on the form for a step: dials of a set, the line measured or asked about."""

from __future__ import annotations

from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Instruction, Measure, SetDials
from fitassist.gui.torso_view import TorsoView


def show_step(torso: TorsoView, step: Instruction) -> None:
    """Show where a step is carried out."""
    if isinstance(step, SetDials):
        torso.show_dials("auto", [turn.dial for turn in step.turns])
    elif isinstance(step, Measure):
        torso.show_line(step.line, step.what)
    elif isinstance(step, Ask) and isinstance(step.values.get("line"), str):
        what = step.values.get("what", What.GIRTH)
        torso.show_line(step.values["line"], What(what))
    elif isinstance(step, Ask) and isinstance(step.values.get("row"), str):
        row = step.values["row"]
        torso.show_dials("front", [f"{row}.left", f"{row}.right"])
    else:
        torso.clear()
        torso.turn("front")
