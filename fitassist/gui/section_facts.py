# SPDX-License-Identifier: MIT
"""What the sections are drawn from: which lines, and how far each seam stands open there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import NAMED_LINES, Seam, What
from fitassist.session.view import LineView

SHOWN = 3
PREFERRED = ("bust", "waist", "hip")


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


def chosen_lines(lines: Sequence[LineView]) -> tuple[str, ...]:
    """Return the lines that are drawn: bust, waist and hip where they have targets, else others."""
    there = [view.line for view in lines if view.what == What.GIRTH]
    wanted = [line for line in PREFERRED if line in there]
    wanted += [line for line in there if line not in wanted]
    order = {name: i for i, name in enumerate(NAMED_LINES)}
    return tuple(sorted(wanted[:SHOWN], key=lambda line: order.get(line, len(order))))


def in_two_lines(text: str) -> str:
    """Break a text at the gap that leaves two lines as alike in length as can be."""
    gaps = [i for i, letter in enumerate(text) if letter == " " and not text[i + 1].isdigit()]
    if not gaps:
        return text
    # A way to go is broken before "to go", wherever its middle is.
    end = text.rfind(" to go")
    if end > 0:
        return f"{text[:end]}\n{text[end + 1 :]}"
    best = min(gaps, key=lambda i: abs(2 * i - len(text)))
    return f"{text[:best]}\n{text[best + 1 :]}"
