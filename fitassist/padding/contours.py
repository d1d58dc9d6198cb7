# SPDX-License-Identifier: MIT
"""The map of a gap: regions by how many sheets are wanted, and where the form stands out.

The map has centre back at both ends and centre front in its middle: x runs from -1/2 to 1/2 of the
way round, growing to the wearer's left, y is the height in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from contourpy import FillType, contour_generator
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from fitassist.padding.gap import GapMap
from fitassist.padding.layers import MOST_LAYERS, filled
from fitassist.padding.surface import COLUMNS, Floats

Ring = Floats  # shape (n, 2)
# Regions smaller than this share of the map bear no number of their own.
LEAST_LABELLED = 0.004


@dataclass(frozen=True)
class Region:
    """One connected part of a level, as an outline and its holes.

    Attributes
    ----------
    sheets
        As many are wanted within, to the nearest; 0 where the form stands out.
    label_at
        A point to write the number at, outside of deeper regions; None where there is no room.
    """

    sheets: int
    rings: tuple[Ring, ...]
    label_at: tuple[float, float] | None


def _field(values: Floats) -> tuple[Floats, Floats]:
    """Return x and values with centre back at both ends."""
    half = COLUMNS // 2
    rolled = np.roll(values, half, axis=1)
    whole = np.concatenate([rolled, rolled[:, :1]], axis=1)
    return (np.arange(COLUMNS + 1) - half) / COLUMNS, whole


def map_regions(gap: GapMap, thickness_mm: float, least_out_mm: float) -> tuple[Region, ...]:
    """Return the regions of a map, the shallowest first.

    Parameters
    ----------
    thickness_mm
        Of one sheet; sheets are rounded to the nearest.
    least_out_mm
        Where the form stands out by more, it is told.
    """
    known = gap.surface.is_known
    z = gap.surface.z_mm[known]
    x, wanted = _field(gap.thickness_mm[known])
    lines = contour_generator(x, z, wanted, fill_type=FillType.OuterOffset)
    most = min(int(np.floor(wanted.max() / thickness_mm + 0.5)), MOST_LAYERS)
    levels = [filled(lines.filled((k - 0.5) * thickness_mm, np.inf)) for k in range(1, most + 1)]
    found: list[Region] = []
    least = LEAST_LABELLED * (z[-1] - z[0])
    for k, level in enumerate(levels, start=1):
        deeper = levels[k] if k < len(levels) else Polygon()
        for part in _parts(level):
            found.append(Region(k, _rings(part), _label_at(part, deeper, least)))
    _x, out = _field(gap.stands_out_mm[known])
    lines = contour_generator(x, z, out, fill_type=FillType.OuterOffset)
    for part in _parts(filled(lines.filled(least_out_mm, np.inf))):
        at = _inner_point(part) if part.area > least else None
        found.append(Region(0, _rings(part), at))
    return tuple(found)


def outline_rings(outline: BaseGeometry, width_mm: float) -> tuple[Ring, ...]:
    """Return a piece's outline on the map, once for each way it shows round centre back."""
    rings = []
    for turn in (-1.0, 0.0, 1.0):
        for part in _parts(outline):
            for ring in _rings(part):
                moved = np.column_stack([ring[:, 0] / width_mm + turn, ring[:, 1]])
                if moved[:, 0].max() > -0.5 and moved[:, 0].min() < 0.5:
                    rings.append(moved)
    return tuple(rings)


def _parts(level: BaseGeometry) -> Iterator[Polygon]:
    for part in getattr(level, "geoms", [level]):
        if isinstance(part, Polygon) and not part.is_empty:
            yield part


def _rings(part: Polygon) -> tuple[Ring, ...]:
    return tuple(shapely.get_coordinates(ring) for ring in (part.exterior, *part.interiors))


def _label_at(part: Polygon, deeper: BaseGeometry, least: float) -> tuple[float, float] | None:
    """Return a point of the widest part of a level that no deeper one covers, if it is wide."""
    own = max(_parts(part.difference(deeper)), key=lambda one: one.area, default=None)
    return _inner_point(own) if own is not None and own.area > least else None


def _inner_point(part: Polygon) -> tuple[float, float]:
    point = part.representative_point()
    return float(point.x), float(point.y)
