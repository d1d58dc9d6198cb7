# SPDX-License-Identifier: MIT
"""One padding plan from sections to shapes to cut, with what it comes to."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.padding.flatten import FlatPiece, flatten
from fitassist.padding.gap import GapMap, measure_gap
from fitassist.padding.layers import free_pieces
from fitassist.padding.laying import Outcome, outcome
from fitassist.padding.pieces import Piece
from fitassist.padding.strips import GapStrip, gap_strips
from fitassist.padding.surface import Section, Surface
from fitassist.padding.tidy import tidy_pieces

# Beyond about eight sheets a thicker material is less work and lies better (no source).
MANY_SHEETS = 8
LEAST_FEATHER_MM, FEATHER_SHEETS = 10.0, 1.5  # how far edges are thinned out


class Manner(StrEnum):
    """How pieces are shaped."""

    TIDY = "tidy"
    FREE = "free"


@dataclass(frozen=True)
class Armhole:
    """Where nothing may lie: above a height, about each side.

    Attributes
    ----------
    low_z_mm
        Lowest point of the armhole's edge.
    half_width_mm
        How far it reaches to the front and to the back of the side.
    """

    low_z_mm: float
    half_width_mm: float

    def region(self, surface: Surface) -> BaseGeometry:
        """Return the kept-clear part of the chart, both sides, on all copies of the form."""
        top = float(surface.z_mm[-1]) + 500.0
        return unary_union(
            [
                box(x - self.half_width_mm, self.low_z_mm, x + self.half_width_mm, top)
                for turn in (-1, 0, 1)
                for share in (0.25, 0.75)
                for x in [(turn + share) * surface.width_mm]
            ]
        )


@dataclass(frozen=True)
class PaddingPlan:
    """What to cut and lay, and what it comes to.

    Attributes
    ----------
    pieces, shapes
        Each piece in order of laying, and its flat shapes to cut.
    strips
        Bridges over open seams; laid before everything.
    most_sheets
        Sheets on one another at the deepest place.
    thicker_mm
        Working thickness that would need eight sheets at most; 0 when this one does.
    """

    gap: GapMap
    thickness_mm: float
    feather_mm: float
    pieces: tuple[Piece, ...]
    shapes: tuple[tuple[FlatPiece, ...], ...]
    strips: tuple[GapStrip, ...]
    outcome: Outcome
    most_sheets: int
    thicker_mm: float

    @property
    def distortion(self) -> float:
        """The distortion of the flat shape that fits worst."""
        return max((flat.distortion for flats in self.shapes for flat in flats), default=0.0)


def feather_of(thickness_mm: float) -> float:
    """Return how far from its edge a sheet is thinned out, mm."""
    return max(LEAST_FEATHER_MM, FEATHER_SHEETS * thickness_mm)


def plan_padding(
    sections: Sequence[Section],
    thickness_mm: float,
    *,
    manner: Manner = Manner.TIDY,
    ignored_mm: float = 0.0,
    armhole: Armhole | None = None,
    gaps_mm: Mapping[str, Mapping[Seam, float]] | None = None,
    watch: Callable[[float], None] | None = None,
) -> PaddingPlan:
    """Return the padding that brings a form to a body.

    Parameters
    ----------
    sections
        Body and form at two heights or more.
    thickness_mm
        Working thickness of one sheet.
    ignored_mm
        Tolerance or uncertainty of the outlines; smaller gaps get nothing.
    gaps_mm
        Width of open seams by line.
    watch
        Told now and then which share is done; what it raises ends the work.

    Raises
    ------
    FitError
        Codes of ``measure_gap``, ``layer_count`` and ``gap_strips``.
    """
    if not 0.0 < thickness_mm < 100.0:
        raise FitError("padding_thickness", field="thickness_mm")
    feather = feather_of(thickness_mm)
    gap = measure_gap(sections, ignored_mm, margin_mm=feather)
    clear = armhole.region(gap.surface) if armhole is not None else None
    if manner == Manner.TIDY:
        pieces = tidy_pieces(gap, thickness_mm, feather, clear, watch)
    else:
        pieces = free_pieces(gap, thickness_mm, feather, clear)
    deepest = float(gap.thickness_mm.max())
    by_line = gaps_mm or {}
    heights = [(section.z_mm, by_line.get(section.line, {})) for section in sections]
    return PaddingPlan(
        gap=gap,
        thickness_mm=thickness_mm,
        feather_mm=feather,
        pieces=pieces,
        shapes=tuple(flatten(gap.surface, piece.outline) for piece in pieces),
        strips=gap_strips(heights, feather),
        outcome=outcome(gap, pieces, thickness_mm, feather),
        most_sheets=round(deepest / thickness_mm),
        thicker_mm=deepest / MANY_SHEETS if deepest > (MANY_SHEETS + 0.5) * thickness_mm else 0.0,
    )
