# SPDX-License-Identifier: MIT
"""Padding laid in thought: each piece adds its thickness, thinning to nothing at its edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from fitassist.padding.gap import GapMap, padded_girth
from fitassist.padding.pieces import Kind, Piece
from fitassist.padding.surface import COLUMNS, Floats, Surface

JOIN_MM = 0.05  # edges that meet are laid as one


@dataclass(frozen=True)
class Outcome:
    """What padding comes to, in mm and mm3.

    Attributes
    ----------
    laid_mm
        Shape (rows, COLUMNS).
    before_mm, after_mm
        Root mean square distance between body and form, bare and padded.
    girth_mm, girth_miss_mm
        Shape (lines,): taut tape round the padded form; that less the body's.
    most_over_mm
        How far the padded form stands out past the body at worst where it did not before.
    volume_mm3
        Of all cut pieces, edges included.
    gap_volume_mm3
        What is missing between form and body.
    """

    laid_mm: Floats
    before_mm: float
    after_mm: float
    girth_mm: Floats
    girth_miss_mm: Floats
    most_over_mm: float
    volume_mm3: float
    gap_volume_mm3: float


def lay(
    surface: Surface, pieces: Sequence[Piece], thickness_mm: float, feather_mm: float
) -> Floats:
    """Return the thickness laid at each point of the grid, shape (rows, COLUMNS)."""
    laid = np.zeros(surface.points_mm.shape[:2])
    by_order: dict[tuple[str, int], list[Piece]] = {}
    for piece in pieces:
        # Free pieces of one layer may be cut from one sheet and butt against each other.
        key = ("" if piece.kind == Kind.FREE else piece.place, piece.order)
        by_order.setdefault(key, []).append(piece)
    for together in by_order.values():
        whole = shapely.union_all([piece.outline.buffer(JOIN_MM) for piece in together])
        plies = together[0].plies
        # Each of several plies is cut a feather smaller than the one above it.
        laid += plies * thickness_mm * cover(surface, whole, feather_mm * plies)
    return laid


def cover(
    surface: Surface, outline: BaseGeometry, feather_mm: float, z_mm: Floats | None = None
) -> Floats:
    """Return the share of full thickness under an outline: 0 outside, 1 a feather inside it.

    Parameters
    ----------
    z_mm
        Heights it is told at, shape (n,); None: the rows of the grid.

    Returns
    -------
    Shape (n, COLUMNS).
    """
    width = surface.width_mm
    copies = [shapely.affinity.translate(outline, shift) for shift in (-width, 0.0, width)]
    whole = shapely.union_all([copy.buffer(JOIN_MM) for copy in copies])
    shapely.prepare(whole)
    x = np.arange(COLUMNS) / COLUMNS * width
    grid_x, grid_z = np.meshgrid(x, surface.z_mm if z_mm is None else z_mm)
    shares = np.zeros(grid_x.shape)
    inside = shapely.contains_xy(whole, grid_x, grid_z)
    points = shapely.points(grid_x[inside], grid_z[inside])
    deep = shapely.distance(points, whole.boundary)
    shares[inside] = np.clip(deep / max(feather_mm, 1e-9), 0.0, 1.0)
    return shares


def outcome(
    gap: GapMap, pieces: Sequence[Piece], thickness_mm: float, feather_mm: float
) -> Outcome:
    """Return what the pieces make of the gap, told between the lowest and highest height."""
    surface = gap.surface
    laid = lay(surface, pieces, thickness_mm, feather_mm)
    known = surface.is_known
    wanted, got = gap.gap_mm[known], laid[known]
    over = np.where(got > 0.0, got - np.maximum(wanted, 0.0), 0.0)
    level_laid = np.stack([_at_height(surface, laid, z) for z in surface.level_z_mm])
    girths = padded_girth(surface.level_points_mm, level_laid)
    area = _cell_areas(surface)
    return Outcome(
        laid_mm=laid,
        before_mm=_rms(wanted),
        after_mm=_rms(wanted - got),
        girth_mm=girths,
        girth_miss_mm=girths - gap.body_girth_mm,
        most_over_mm=float(over.max()),
        volume_mm3=cut_area_mm2(pieces, feather_mm) * thickness_mm,
        gap_volume_mm3=float((np.maximum(gap.gap_mm, 0.0) * area[:, None]).sum()),
    )


def cut_area_mm2(pieces: Sequence[Piece], feather_mm: float) -> float:
    """Return the area of all sheets to cut, those stepped out under a piece included."""
    return float(
        sum(
            piece.outline.buffer(-ply * feather_mm).area
            for piece in pieces
            for ply in range(piece.plies)
        )
    )


def _at_height(surface: Surface, laid: Floats, z_mm: float) -> Floats:
    above = int(np.clip(np.searchsorted(surface.z_mm, z_mm), 1, len(surface.z_mm) - 1))
    low, high = surface.z_mm[above - 1], surface.z_mm[above]
    share = (z_mm - low) / (high - low)
    return np.asarray((1.0 - share) * laid[above - 1] + share * laid[above])


def _cell_areas(surface: Surface) -> Floats:
    """Return the chart area each grid point of a row stands for, shape (rows,)."""
    heights = np.gradient(surface.z_mm)
    heights[[0, -1]] /= 2.0
    return np.asarray(heights * surface.width_mm / COLUMNS)


def _rms(values: Floats) -> float:
    return float(np.sqrt(np.mean(values**2)))
