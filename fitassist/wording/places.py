# SPDX-License-Identifier: MIT
"""What places on the form are called: lines, rows, seams, and what the tape says there.

Left and right are always the form's own; each time they are said, so is whose hand that is.
"""

from __future__ import annotations

from fitassist.domain.form import Form
from fitassist.domain.lines import Seam, What
from fitassist.wording.language import N_, _, plain

_LINES = {
    "neck": N_("neck"),
    "upper_chest": N_("upper chest"),
    "bust": N_("bust"),
    "under_bust": N_("under-bust"),
    "waist": N_("waist"),
    "high_hip": N_("high hip"),
    "hip": N_("hip"),
    "thigh": N_("thigh"),
    "back_neck_to_waist": N_("back neck to waist"),
    "shoulder_length": N_("shoulder length"),
    "torso_length": N_("back neck to waist"),
    "body_rise": N_("body rise"),
    "inside_leg": N_("inside leg"),
    "floor_to_shoulder": N_("floor to shoulder"),
}

_SEAMS = {
    Seam.FRONT: N_("front"),
    Seam.BACK: N_("back"),
    Seam.LEFT: N_("form's left"),
    Seam.RIGHT: N_("form's right"),
}

_SIDES_FACING = {
    Seam.LEFT: N_("form's left (your right as you face it)"),
    Seam.RIGHT: N_("form's right (your left as you face it)"),
}

_SIDES_BEHIND = {
    Seam.LEFT: N_("form's left (your left, from behind)"),
    Seam.RIGHT: N_("form's right (your right, from behind)"),
}

_WHATS = {
    What.FRONT: N_("{line}, front, side to side"),
    What.BACK: N_("{line}, back, side to side"),
    What.LEFT_HALF: N_("{line}, form's left half"),
    What.RIGHT_HALF: N_("{line}, form's right half"),
    What.BREADTH: N_("{line}, breadth"),
    What.DEPTH: N_("{line}, depth"),
}


def line_name(line: str) -> str:
    """Return what a line is called; a line of the user's own keeps its name."""
    known = _LINES.get(line)
    return _(known) if known else plain(line.replace("_", " "), 40)


def row_name(row: str, form: Form | None = None) -> str:
    """Return what a row of dials is called; its half is said where a line has two rows."""
    found = next((r for r in form.rows if r.name == row), None) if form else None
    if found is None or form is None:
        return line_name(row)
    name = line_name(found.line)
    if found.half == "whole" or sum(r.line == found.line for r in form.rows) < 2:
        return name
    half = _("{line}, upper half") if found.half == "upper" else _("{line}, lower half")
    return half.format(line=name)


def seam_name(seam: Seam, behind: bool | None = None) -> str:
    """Return what a seam is called.

    Parameters
    ----------
    seam
        The seam, left and right being the form's own.
    behind
        True: said to somebody standing at the back; False: at the front; None: without saying
        whose hand it is.
    """
    if behind is not None:
        sides = _SIDES_BEHIND if behind else _SIDES_FACING
        if seam in sides:
            return _(sides[seam])
    return _(_SEAMS[seam])


def dial_name(dial: str, form: Form | None = None, behind: bool | None = None) -> str:
    """Return what one dial is called: its row, then its seam."""
    row, _dot, seam = dial.rpartition(".")
    try:
        where = seam_name(Seam(seam), behind)
    except ValueError:
        return plain(dial, 40)
    return _("{row}, {seam}").format(row=row_name(row, form), seam=where)


def place_name(line: str, what: What = What.GIRTH) -> str:
    """Return what is measured, as a name: "bust", or "bust, front, side to side"."""
    pattern = _WHATS.get(what)
    name = line_name(line)
    return _(pattern).format(line=name) if pattern else name
