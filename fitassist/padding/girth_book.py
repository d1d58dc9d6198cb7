# SPDX-License-Identifier: MIT
"""What the tape should read at each line with any of a plan's pieces laid, quickly enough to ask.

Only the lines are looked at, not the whole grid, and what a piece lays there is worked out once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from fitassist.padding.gap import padded_girth
from fitassist.padding.laying import cover
from fitassist.padding.pieces import Piece
from fitassist.padding.surface import Floats, Surface

# A sheet under the cover works between so many times what was assumed (own choice).
LEAST_TIMES, MOST_TIMES = 0.2, 2.5


@dataclass(frozen=True)
class Reading:
    """A wrap of the tape round the padded form, with the thickness laid for one sheet then."""

    line: str
    mm: float
    sheets: Floats  # sheets laid at the line, shape (COLUMNS,)


class GirthBook:
    """Girths of a padded form by line.

    Parameters
    ----------
    surface
        The bare form.
    pieces
        All pieces that may be laid.
    feather_mm
        As planned.
    """

    def __init__(self, surface: Surface, pieces: Sequence[Piece], feather_mm: float) -> None:
        self._surface = surface
        self._pieces = tuple(pieces)
        self._feather_mm = feather_mm
        self._known: dict[tuple[int, int], Floats] = {}

    @property
    def lines(self) -> tuple[str, ...]:
        """Names of the lines, from the lowest."""
        return self._surface.lines

    def sheets(self, plies: Mapping[int, int]) -> Floats:
        """Return the sheets laid at each line, shape (lines, COLUMNS).

        Parameters
        ----------
        plies
            By the number of the piece, counted from 0, how many sheets of it lie.
        """
        found = np.zeros(self._surface.level_points_mm.shape[:2])
        for number, count in plies.items():
            if count > 0:
                found += count * self._share(number, count)
        return found

    def girths(self, sheets: Floats, thickness_mm: float) -> dict[str, float]:
        """Return what the tape should read at each line, mm."""
        read = padded_girth(self._surface.level_points_mm, thickness_mm * sheets)
        return dict(zip(self.lines, read.tolist(), strict=True))

    def reading(self, line: str, mm: float, plies: Mapping[int, int]) -> Reading | None:
        """Return a reading with what lay at its line, or None where nothing did."""
        if line not in self.lines:
            return None
        laid = self.sheets(plies)[self.lines.index(line)]
        return Reading(line, mm, laid) if laid.max() > 0.0 else None

    def working_thickness(self, readings: Sequence[Reading], assumed_mm: float) -> float | None:
        """Return the thickness of one sheet that readings tell, or None if they tell none.

        Each reading gives the thickness at which the tape would read just that; they are averaged
        by how strongly the girth answers there. A reading below the bare form's tells nothing.
        """
        found, weights = [], []
        for one in readings:
            points = self._surface.level_points_mm[self.lines.index(one.line)]

            def miss(t: float, one: Reading = one, points: Floats = points) -> float:
                return float(padded_girth(points, t * one.sheets)) - one.mm

            low, high = LEAST_TIMES * assumed_mm, MOST_TIMES * assumed_mm
            if miss(low) > 0.0 or miss(high) < 0.0:
                continue
            found.append(float(brentq(miss, low, high, xtol=1e-3)))
            weights.append((miss(high) - miss(low)) ** 2)
        return float(np.average(found, weights=weights)) if found else None

    def touches(self, number: int, line: str) -> bool:
        """Say whether a piece lies on a line."""
        if line not in self.lines:
            return False
        return bool(self._share(number, 1)[self.lines.index(line)].max() > 0.0)

    def _share(self, number: int, plies: int) -> Floats:
        key = (number, plies)
        if key not in self._known:
            outline = self._pieces[number].outline
            self._known[key] = cover(
                self._surface, outline, self._feather_mm * plies, self._surface.level_z_mm
            )
        return self._known[key]
