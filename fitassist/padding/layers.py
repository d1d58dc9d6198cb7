# SPDX-License-Identifier: MIT
"""Free-form pieces: nested level sets of the thickness wanted.

Layer k of n covers where at least k - 1/2 sheets are wanted, so that sheets are rounded to the
nearest and never pile up by more than half of one. The smallest, k = n, is laid first.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from contourpy import FillType, contour_generator
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from fitassist.errors import FitError
from fitassist.padding.gap import GapMap
from fitassist.padding.pieces import Kind, Piece
from fitassist.padding.places import nearest_place
from fitassist.padding.surface import COLUMNS, Floats

SMOOTH_MM = 8.0  # least radius of an edge that scissors follow
LEAST_AREA_MM2 = 900.0  # a scrap smaller than this is not worth cutting
SIMPLIFY_MM = 0.4
MOST_LAYERS = 30


def layer_count(gap: GapMap, thickness_mm: float) -> int:
    """Return how many sheets lie on one another at the deepest place.

    Raises
    ------
    FitError
        ``padding_thickness`` unless the thickness lies above zero, ``padding_too_thick`` (values:
        gap_mm, thickness_mm) when even one sheet is more than is missing anywhere,
        ``padding_too_many_layers`` (values: layers, most).
    """
    if not 0.0 < thickness_mm < 100.0:
        raise FitError("padding_thickness", field="thickness_mm")
    deepest = float(gap.thickness_mm.max())
    layers = int(np.floor(deepest / thickness_mm + 0.5))
    if deepest > 0.0 and layers == 0:
        raise FitError("padding_too_thick", gap_mm=deepest, thickness_mm=thickness_mm)
    if layers > MOST_LAYERS:
        raise FitError("padding_too_many_layers", layers=layers, most=MOST_LAYERS)
    return layers


def free_pieces(
    gap: GapMap, thickness_mm: float, feather_mm: float, keep_clear: BaseGeometry | None = None
) -> tuple[Piece, ...]:
    """Return nested pieces in the order they are laid.

    Parameters
    ----------
    gap
        Measured with a margin of at least ``feather_mm``, so that edges thin beyond the lines.
    keep_clear
        Where nothing may lie, in the chart (the armholes).

    Raises
    ------
    FitError
        As ``layer_count``.
    """
    layers = layer_count(gap, thickness_mm)
    surface = gap.surface
    wanted = gap.thickness_mm
    start = _seam_column(wanted)
    width = surface.width_mm
    x = (start + np.arange(COLUMNS + 1)) / COLUMNS * width
    rolled = np.roll(wanted, -start, axis=1)
    field = np.concatenate([rolled, rolled[:, :1]], axis=1)
    lines = contour_generator(x, surface.z_mm, field, fill_type=FillType.OuterOffset)
    room: BaseGeometry = box(x[0], surface.z_mm[0], x[-1], surface.z_mm[-1])
    if keep_clear is not None:
        room = room.difference(keep_clear)
    pieces: list[Piece] = []
    outer: BaseGeometry = room
    levels: list[BaseGeometry] = []
    for layer in range(1, layers + 1):
        level = _smooth(filled(lines.filled((layer - 0.5) * thickness_mm, np.inf)), feather_mm)
        outer = level.intersection(outer).buffer(0.0)
        levels.append(outer)
    for order, level in enumerate(reversed(levels), start=1):
        for part in _parts(level):
            place = nearest_place(part.centroid.x / width, part.centroid.y, surface)
            pieces.append(Piece(place, Kind.FREE, order, 1, part))
    return tuple(pieces)


def _seam_column(wanted: Floats) -> int:
    """Return the column to cut a layer that goes all the way round: where least is wanted."""
    return int(np.argmin(wanted.sum(axis=0)))


def filled(found: Any) -> BaseGeometry:
    """Make polygons of what contourpy gives: points, and where each ring of them begins."""
    polygons = []
    for points, offsets in zip(*found, strict=True):
        rings = [points[a:b] for a, b in pairwise(offsets)]
        rings = [ring for ring in rings if len(ring) >= 4]
        if rings:
            polygons.append(Polygon(rings[0], rings[1:]))
    return shapely.union_all([polygon.buffer(0.0) for polygon in polygons])


def _smooth(level: BaseGeometry, feather_mm: float) -> BaseGeometry:
    """Round the edge off, drop slivers, and add half the feather that will be thinned away."""
    opened = level.buffer(-SMOOTH_MM).buffer(2.0 * SMOOTH_MM).buffer(-SMOOTH_MM)
    return opened.buffer(feather_mm / 2.0).simplify(SIMPLIFY_MM)


def _parts(level: BaseGeometry) -> list[Polygon]:
    parts = list(level.geoms) if isinstance(level, MultiPolygon) else [level]
    return [p for p in parts if isinstance(p, Polygon) and p.area >= LEAST_AREA_MM2]
