# SPDX-License-Identifier: MIT
"""Strips that bridge open seams flush with the panels, laid before all padding."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fitassist.domain.lines import Seam
from fitassist.errors import FitError

LEAST_GAP_MM = 3.0  # a narrower slit needs no bridge (common practice, no source)
MOST_GAP_MM = 300.0


@dataclass(frozen=True)
class GapStrip:
    """A strip as wide as the gap, fixed to one side only so that the form can still move.

    Attributes
    ----------
    edges_mm
        (height, width) from the lowest to the highest line where the seam is open.
    """

    seam: Seam
    edges_mm: tuple[tuple[float, float], ...]

    @property
    def length_mm(self) -> float:
        """How long the strip is, along the height."""
        return self.edges_mm[-1][0] - self.edges_mm[0][0]

    @property
    def outline_mm(self) -> tuple[tuple[float, float], ...]:
        """Ring of the flat strip, x across and y up, first point not repeated."""
        right = [(width / 2, z) for z, width in self.edges_mm]
        left = [(-width / 2, z) for z, width in reversed(self.edges_mm)]
        return (*right, *left)


def gap_strips(
    gaps: Sequence[tuple[float, Mapping[Seam, float]]], z_below_mm: float = 0.0
) -> tuple[GapStrip, ...]:
    """Return a strip for each seam that is open somewhere.

    Parameters
    ----------
    gaps
        (height mm, gap mm by seam) at each line.
    z_below_mm
        How far each strip goes on above and below the lines, mm.

    Raises
    ------
    FitError
        ``padding_gap`` (value: seam) for a gap below zero or beyond any form.
    """
    found = []
    ordered = sorted(gaps, key=lambda pair: pair[0])
    for seam in Seam:
        widths = [(z, float(by_seam.get(seam, 0.0))) for z, by_seam in ordered]
        if not all(0.0 <= width <= MOST_GAP_MM for _z, width in widths):
            raise FitError("padding_gap", seam=seam.value)
        is_open = [width >= LEAST_GAP_MM for _z, width in widths]
        if len(widths) < 2 or not any(is_open):
            continue
        first = max(is_open.index(True) - 1, 0)
        last = min(len(is_open) - is_open[::-1].index(True), len(is_open) - 1)
        edges = widths[first : last + 1]
        edges[0] = (edges[0][0] - (z_below_mm if first == 0 else 0.0), edges[0][1])
        edges[-1] = (edges[-1][0] + (z_below_mm if is_open[-1] else 0.0), edges[-1][1])
        found.append(GapStrip(seam, tuple(edges)))
    return tuple(found)
