# SPDX-License-Identifier: MIT
"""A form that can be turned and measured like a real one: it answers with slop and tape noise."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np

from tests.virtual.declared import Declared, declare
from tests.virtual.made import ROWS, SEAMS, FormOptions, Made, draw_form, draw_undergarment
from tests.virtual.outlines import FLOATS, LINES

_SHARE_OF_GIRTH = {  # of what an undergarment adds all round
    "front": 0.5,
    "back": 0.5,
    "left_half": 0.5,
    "right_half": 0.5,
    "breadth": 1.0 / np.pi,
    "depth": 1.0 / np.pi,
}
GROSS_MM = 25.4

DIALS = tuple(f"{row}.{seam}" for row in ROWS for seam in SEAMS)


class VirtualForm:
    """One adjustable form standing somewhere, wearing something.

    Parameters
    ----------
    made
        What it is like inside.
    declared
        What its owner wrote down about it.
    options
        Tape and slop.
    start
        (3, 4) printed numbers it stands at.
    rng
        Source of the undergarment, of slop and of tape noise, each with a stream of its own.
    """

    def __init__(
        self,
        made: Made,
        declared: Declared,
        options: FormOptions,
        start: FLOATS,
        rng: np.random.Generator,
    ) -> None:
        self.made = made
        self.options = options
        self.learned: dict[str, Any] = {}
        self._declared = declared
        self._number = np.array(start, dtype=float)
        self._dress(rng)

    @classmethod
    def draw(cls, rng: np.random.Generator, options: FormOptions, shell: int) -> VirtualForm:
        """Return a form cut from the outlines of one body, everything hidden drawn by chance."""
        made = draw_form(rng, options, shell)
        return cls(made, declare(rng, made, options), options, _former_person(rng, made), rng)

    def _dress(self, rng: np.random.Generator) -> None:
        self.undergarment_mm = draw_undergarment(rng, self.options.undergarment_factor)
        self._slop_rng, self._tape_rng = rng.spawn(2)
        self._slop = self._slip((3, 4))

    def _slip(self, size: tuple[int, ...] | None = None) -> Any:
        half_click = 0.5 * self.made.step if self.options.slop else 0.0
        return self._slop_rng.uniform(-half_click, half_click, size)

    @property
    def dials(self) -> tuple[str, ...]:
        """Names of all dials."""
        return DIALS

    @property
    def numbers(self) -> dict[str, float]:
        """Printed numbers of all dials."""
        return dict(zip(DIALS, self._number.ravel().tolist(), strict=True))

    @property
    def standing(self) -> FLOATS:
        """Printed numbers as (3 rows, 4 seams); a copy."""
        return self._number.copy()

    def turn(self, dial: str, number: float) -> None:
        """Turn one dial to a printed number; where it truly comes to rest is left to chance."""
        row, seam = divmod(DIALS.index(dial), 4)
        made = self.made
        if not made.least[row] - 1e-9 <= number <= made.greatest[row] + 1e-9:
            raise ValueError(f"{dial} cannot stand at {number}")
        if made.click:
            clicks = (number - made.least[row]) / made.click
            if abs(clicks - round(clicks)) > 1e-6:
                raise ValueError(f"{dial} does not hold at {number}")
        if abs(number - self._number[row, seam]) < 1e-9:
            return
        self._number[row, seam] = number
        self._slop[row, seam] = self._slip()

    def truth(self, line: str, what: str = "girth") -> float:
        """Return what an exact tape would say here and now, mm."""
        return self._measured(self._number + self._slop, line, what)

    def without_slop(self, line: str, what: str = "girth") -> float:
        """Return what it would measure if every dial stood exactly at its number, mm."""
        return self._measured(self._number, line, what)

    def _measured(self, numbers: FLOATS, line: str, what: str) -> float:
        place = LINES.index(line)
        section, gaps = self.made.sections[place], self.made.gaps(numbers)[place]
        added = float(self.undergarment_mm[place])
        if what == "girth":
            return float(section.girth(gaps)) + added
        return section.other(gaps, what) + added * _SHARE_OF_GIRTH[what]

    def girths(self, numbers: FLOATS, lines: tuple[str, ...] = LINES) -> FLOATS:
        """Return girths (..., lines) with dials exactly at numbers (..., 3, 4), mm."""
        places = tuple(LINES.index(line) for line in lines)
        return self.made.girths(numbers, places) + self.undergarment_mm[list(places)]

    def tape(self, line: str, what: str = "girth") -> float:
        """Wrap the tape once and read it, mm."""
        options = self.options
        seen = self.truth(line, what) + self._tape_rng.normal(0.0, options.tape_spread_mm)
        if self._tape_rng.random() < options.gross_share:
            seen += GROSS_MM if self._tape_rng.random() < 0.5 else -GROSS_MM
        return float(round(seen / options.round_to_mm) * options.round_to_mm)

    def description(self) -> dict[str, Any]:
        """Return the form file its owner could write now."""
        return self._declared.as_file(self.numbers, self.learned)

    def as_form(self) -> Any:
        """Return the same as ``fitassist.domain.form.Form``."""
        return self._declared.as_form(self.numbers, self.learned)

    def next_person(self, rng: np.random.Generator) -> VirtualForm:
        """Return this form another day: other undergarment, slop and tape, same inside."""
        later = copy.copy(self)
        later._number = self._number.copy()
        later._dress(rng)
        return later


def _former_person(rng: np.random.Generator, made: Made) -> FLOATS:
    """Return where the last person left the dials: lower half, left = right, front near back."""
    clicks_in_half = round(float(made.greatest[0] - made.least[0]) / made.step / 2)
    clicks = np.zeros((3, 4))
    if rng.random() < 0.9:  # else put away closed
        for row in range(3):
            side = int(rng.integers(0, clicks_in_half))
            front, back = (max(0, side + int(rng.integers(-1, 2))) for _ in range(2))
            clicks[row] = (front, side, back, side)
    return made.least[:, None] + clicks * made.step
