# SPDX-License-Identifier: MIT
"""What the sections are drawn from: which lines, and how far each seam stands open there."""

from __future__ import annotations

from collections.abc import Sequence

from fitassist.domain.lines import NAMED_LINES, What
from fitassist.domain.seam_gaps import seam_gaps
from fitassist.session.view import LineView

__all__ = ["chosen_lines", "in_two_lines", "seam_gaps"]

SHOWN = 3
PREFERRED = ("bust", "waist", "hip")


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
