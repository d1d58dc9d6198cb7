# SPDX-License-Identifier: MIT
"""Paper to print on, and the part of it every printer reaches.

A4 and A3 by ISO 216, Letter as 8 1/2 by 11 in; a roll is as long as it needs to be. Inkjets keep
up to 6.7 mm at an edge clear, lasers 5.1 mm (printer specifications), so 10 mm is safe.
"""

from __future__ import annotations

from dataclasses import dataclass

SAFE_MM = 10.0


@dataclass(frozen=True)
class Paper:
    """A size in mm, upright; height 0 is a roll, as long as needed."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height inside the safe margin; a roll's height is 0."""
        height = self.height_mm - 2.0 * SAFE_MM if self.height_mm else 0.0
        return self.width_mm - 2.0 * SAFE_MM, height


A4 = Paper("A4", 210.0, 297.0)
A3 = Paper("A3", 297.0, 420.0)
LETTER = Paper("Letter", 215.9, 279.4)
ROLL = Paper("roll", 610.0, 0.0)  # 24 in, the narrower of the usual plotter widths (from memory)
PAPERS = {paper.name: paper for paper in (A4, LETTER, A3, ROLL)}
