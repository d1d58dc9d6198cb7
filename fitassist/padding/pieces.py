# SPDX-License-Identifier: MIT
"""What a padding piece is: an outline in the chart, a place, and when it is laid.

The chart has x = column share times the mean girth (0 at centre front, growing to the wearer's
left) and y = height z. Pieces are laid in rising order; the last lies on top.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from shapely.geometry.base import BaseGeometry


class Kind(StrEnum):
    """The form of a piece."""

    FREE = "free"
    OVAL = "oval"
    CRESCENT = "crescent"
    WEDGE = "wedge"
    WRAP = "wrap"
    STRIP = "strip"


@dataclass(frozen=True)
class Piece:
    """One cut of material.

    Attributes
    ----------
    place
        Where it goes, a name of ``fitassist.padding.places``.
    order
        1 is laid first.
    plies
        How many sheets lie on one another: the last has this outline, each one under it is cut a
        feather smaller all round.
    outline
        Polygon in the chart, mm, where its feathered edge ends; may reach past x = 0 or the mean
        girth and then goes on at the other end.
    mirrors
        Place of the piece this one is the mirror image of; empty if none.
    """

    place: str
    kind: Kind
    order: int
    plies: int
    outline: BaseGeometry
    mirrors: str = ""

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width round the form and height of the outline's box in the chart."""
        left, low, right, high = self.outline.bounds
        return right - left, high - low
