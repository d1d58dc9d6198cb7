# SPDX-License-Identifier: MIT
"""How wide each seam of a form stands open at a row, read off its dials."""

from __future__ import annotations

from collections.abc import Mapping

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import Seam


def seam_gaps(form: Form, line: str, numbers: Mapping[str, float]) -> dict[Seam, float]:
    """Return how wide each seam stands open at a line, in mm, read off the dials.

    A number that names the whole girth opens each of four seams by a quarter of what it adds; one
    that names its gap opens that gap. What a plain turn gives is not printed: it is drawn as a
    quarter of a unit. A seam without a number of its own follows the others of its row.
    """
    share = 1.0 if form.dial_meaning == DialMeaning.SEAM_GAP else 0.25
    found: dict[Seam, list[float]] = {}
    for row in (row for row in form.rows if row.line == line):
        dials = [dial for dial in form.dials if dial.row == row.name]
        open_mm = {
            dial.seam: (numbers[dial.name] - dial.least) * share * form.unit_mm
            for dial in dials
            if dial.name in numbers and not dial.missing
        }
        for dial in dials:
            if dial.seam not in open_mm and open_mm:
                open_mm[dial.seam] = sum(open_mm.values()) / len(open_mm)
        for seam, gap in open_mm.items():
            found.setdefault(seam, []).append(max(gap, 0.0))
    return {seam: sum(gaps) / len(gaps) for seam, gaps in found.items()}
