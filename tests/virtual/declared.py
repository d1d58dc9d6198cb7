# SPDX-License-Identifier: MIT
"""What the owner of a virtual form knows and writes down: numbers as printed, girths as read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from fitassist.domain.form import Dial, Form, FormLine, Row
from tests.virtual.made import ROW_LINE, ROWS, SEAMS, FormOptions, Made
from tests.virtual.outlines import LINES


@dataclass(frozen=True)
class Declared:
    """The unchanging part of a form file; lengths in printed units."""

    units: str
    unit_mm: float
    parts: int
    halves: tuple[str, ...]
    heights: tuple[float, ...]  # by line
    closed: tuple[float | None, ...]  # by line
    least: tuple[float, ...]  # by row
    greatest: tuple[float, ...]
    click: float | None

    def as_file(self, numbers: dict[str, float], learned: dict[str, Any]) -> dict[str, Any]:
        """Return the form file as plain data."""
        return {
            "format": "fitassist-form",
            "version": 1,
            "name": "A form",
            "parts": self.parts,
            "units": self.units,
            "dial_meaning": "whole_girth",
            "lines": [
                {"name": name, "height": height, "closed_girth": closed, "girths": []}
                for name, height, closed in zip(LINES, self.heights, self.closed, strict=True)
            ],
            "rows": [
                {"name": row, "line": row, "half": half}
                for row, half in zip(ROWS, self.halves, strict=True)
            ],
            "dials": [
                {
                    "name": f"{row}.{seam}",
                    "least": self.least[i],
                    "greatest": self.greatest[i],
                    "click": self.click,
                    "number": numbers[f"{row}.{seam}"],
                    "missing": False,
                }
                for i, row in enumerate(ROWS)
                for seam in SEAMS
            ],
            "largest_turn": None,
            "torso": {},
            "stand": {},
            "post": "centre",
            "learned": learned,
        }

    def as_form(self, numbers: dict[str, float], learned: dict[str, Any]) -> Form:
        """Return the same in the words of the domain; lengths in mm."""
        written = self.as_file(numbers, learned)
        lines = tuple(
            FormLine(
                name=line["name"],
                height_mm=line["height"] * self.unit_mm,
                closed_girth_mm=None
                if line["closed_girth"] is None
                else line["closed_girth"] * self.unit_mm,
            )
            for line in written["lines"]
        )
        return Form(
            name=written["name"],
            parts=self.parts,
            units=written["units"],
            lines=lines,
            rows=tuple(Row(**row) for row in written["rows"]),
            dials=tuple(Dial(**dial) for dial in written["dials"]),
            post="centre",
            learned=learned,
        )


def declare(rng: np.random.Generator, made: Made, options: FormOptions) -> Declared:
    """Return what the owner wrote down: one reading per line of the closed form, or nothing.

    The closed girths were read over an earlier undergarment, to an eighth of an inch or 3 mm.
    """
    eighth = 0.125 if options.units == "in" else 0.3
    closed_numbers = np.broadcast_to(made.least[:, None], (3, 4))
    girths = made.girths(closed_numbers) + made.first_undergarment_mm + rng.normal(0.0, 3.0, 5)
    read = np.round(girths / made.unit_mm / eighth) * eighth
    chance = rng.random(5)
    if options.closed == "none":
        known = np.zeros(5, dtype=bool)
    elif options.closed == "read":
        known = np.ones(5, dtype=bool)
    else:  # lines with dials mostly, lines between them half the time
        known = chance < np.where(np.isin(np.arange(5), ROW_LINE), 0.8, 0.5)
    heights = np.round(made.height_mm / made.unit_mm / eighth) * eighth
    return Declared(
        units=options.units,
        unit_mm=made.unit_mm,
        parts=made.parts,
        halves=made.halves,
        heights=tuple(heights.tolist()),
        closed=tuple(round(float(g), 4) if k else None for g, k in zip(read, known, strict=True)),
        least=tuple(made.least.tolist()),
        greatest=tuple(made.greatest.tolist()),
        click=made.click,
    )
