# SPDX-License-Identifier: MIT
"""Pieces laid flat for cutting: arc length round the form against height along it.

Each level ring of a piece becomes a circular arc as long as the ring, curved as the ring curves
within the surface (its length's growth along the form over its length), and the arcs are spaced
along the piece's middle by the height along the form there. On a cylinder and a circular cone this
is exact. On a sphere it is the polyconic projection, whose area is too large by
``(1 - cos^2(lat) cos(lon sin(lat))) / sin^2(lat)`` (textbooks of map projection; from memory). What
cannot lie flat is told as distortion, and split down the middle where it is too much.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from fitassist.padding.surface import COLUMNS, Floats, Surface

DENSE_MM = 6.0  # between points of an outline before it is bent
MOST_DISTORTION = 0.04  # a soft sheet gives this much without a fold (common practice, no source)
MOST_SPLITS = 2
TOLD_SHARE = 0.95  # of all lengths differ by no more than the distortion that is told
LEAST_MARK_MM = 5.0  # a line that only grazes a piece is not marked
CENTRES = ("centre_front", "left_side", "centre_back", "right_side")
_FLAT = 1e-9


@dataclass(frozen=True)
class Mark:
    """Where a line of the body or a centre line crosses a flat shape: its two ends, mm."""

    name: str
    start: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True)
class FlatPiece:
    """A shape to cut.

    Attributes
    ----------
    outline_mm
        Closed ring, shape (n, 2): x to the wearer's left, y up, the middle at (0, 0).
    holes_mm
        Rings cut out of it.
    distortion
        Share by which 95 % of lengths along rings and across them differ from the form's at most.
    area_error
        Share by which the flat area exceeds that on the form.
    parts
        Into how many the piece was split so that each can lie flat.
    middle
        Column share and height of its middle on the form.
    marks
        Lines and centre lines that cross it.
    """

    outline_mm: Floats
    holes_mm: tuple[Floats, ...]
    distortion: float
    area_error: float
    parts: int
    middle: tuple[float, float]
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class _Bending:
    """The flat map of one stretch of the surface about a middle column."""

    middle_x: float
    z_mm: Floats
    along_mm: Floats
    girth_mm: Floats
    curving: Floats
    width_mm: float

    def flat(self, points_mm: Floats) -> Floats:
        """Map points of the chart, shape (n, 2), to the plane."""
        x, z = points_mm.T
        growth = np.interp(z, self.z_mm, self.girth_mm) / self.width_mm
        arc = (x - self.middle_x) * growth
        curving = np.interp(z, self.z_mm, self.curving)
        up = np.interp(z, self.z_mm, self.along_mm)
        turn = arc * curving
        bent = np.where(np.abs(turn) < 1e-6, 1.0, curving)
        across = np.where(np.abs(turn) < 1e-6, arc, np.sin(turn) / bent)
        rise = np.where(np.abs(turn) < 1e-6, turn * arc / 2, (1.0 - np.cos(turn)) / bent)
        return np.column_stack([across, up - rise])


def flatten(surface: Surface, outline: BaseGeometry) -> tuple[FlatPiece, ...]:
    """Return the flat shapes of an outline in the chart, split where it could not lie flat."""
    return _flatten(surface, _polygon(outline), MOST_SPLITS)


def _flatten(surface: Surface, outline: Polygon, splits: int) -> tuple[FlatPiece, ...]:
    flat = _flat_piece(surface, outline)
    if flat.distortion <= MOST_DISTORTION or splits == 0:
        return (flat,)
    left, low, right, high = outline.bounds
    middle = (left + right) / 2
    line = LineString([(middle, low - 1.0), (middle, high + 1.0)])
    halves = [part for part in split(outline, line).geoms if isinstance(part, Polygon)]
    found = [piece for half in halves for piece in _flatten(surface, half, splits - 1)]
    return tuple(replace(piece, parts=len(found)) for piece in found)


def _flat_piece(surface: Surface, outline: Polygon) -> FlatPiece:
    bending = _bending(surface, outline)
    dense = shapely.segmentize(outline, DENSE_MM)
    ring = bending.flat(np.asarray(dense.exterior.coords))
    holes = tuple(bending.flat(np.asarray(hole.coords)) for hole in dense.interiors)
    centre = np.asarray(Polygon(ring).envelope.centroid.coords[0])
    distortion, area_error = _distortion(surface, bending, outline)
    left, low, right, high = outline.bounds
    return FlatPiece(
        outline_mm=ring - centre,
        holes_mm=tuple(hole - centre for hole in holes),
        distortion=distortion,
        area_error=area_error,
        parts=1,
        middle=((left + right) / 2 / surface.width_mm % 1.0, (low + high) / 2),
        marks=_marks(surface, bending, outline, centre),
    )


def _marks(
    surface: Surface, bending: _Bending, outline: Polygon, centre: Floats
) -> tuple[Mark, ...]:
    left, low, right, high = outline.bounds
    drawn = [
        (name, LineString([(left - 1.0, z), (right + 1.0, z)]))
        for name, z in zip(surface.lines, surface.level_z_mm.tolist(), strict=True)
    ]
    for quarter in range(-4, 9):
        x = quarter * surface.width_mm / 4
        drawn.append((CENTRES[quarter % 4], LineString([(x, low - 1.0), (x, high + 1.0)])))
    found = []
    for name, line in drawn:
        crossed = line.intersection(outline)
        if crossed.length < LEAST_MARK_MM:
            continue
        start_x, start_z, end_x, end_z = crossed.bounds
        ends = bending.flat(np.array([[start_x, start_z], [end_x, end_z]])) - centre
        start, end = ((float(x), float(y)) for x, y in ends)
        found.append(Mark(name, start, end))
    return tuple(found)


def _bending(surface: Surface, outline: Polygon) -> _Bending:
    left, low, right, high = outline.bounds
    middle = (left + right) / 2
    rows = surface.z_mm
    column = _column(surface, middle / surface.width_mm)
    steps = np.hypot(np.linalg.norm(np.diff(column, axis=0), axis=1), np.diff(rows))
    along = np.concatenate([[0.0], np.cumsum(steps)])
    curving = np.gradient(surface.girth_mm, along) / surface.girth_mm
    # The form goes on straight up and down as far as the piece reaches.
    below, above = max(rows[0] - low, 0.0) + 1.0, max(high - rows[-1], 0.0) + 1.0
    return _Bending(
        middle_x=middle,
        z_mm=np.concatenate([[rows[0] - below], rows, [rows[-1] + above]]),
        along_mm=np.concatenate([[along[0] - below], along, [along[-1] + above]]),
        girth_mm=np.pad(surface.girth_mm, 1, mode="edge"),
        curving=np.pad(curving, 1, mode="edge"),
        width_mm=surface.width_mm,
    )


def _column(surface: Surface, share: float) -> Floats:
    at = share % 1.0 * COLUMNS
    first = int(at) % COLUMNS
    part = at - int(at)
    points = surface.points_mm
    found: Floats = (1.0 - part) * points[:, first] + part * points[:, (first + 1) % COLUMNS]
    return found


def _distortion(surface: Surface, bending: _Bending, outline: Polygon) -> tuple[float, float]:
    """Compare lengths and area of the cells inside an outline, flat and on the form."""
    width = surface.width_mm
    left, _low, right, _high = outline.bounds
    columns = np.arange(np.floor(left / width * COLUMNS), np.ceil(right / width * COLUMNS) + 1)
    x = columns / COLUMNS * width
    grid_x, grid_z = np.meshgrid(x, surface.z_mm)
    which = columns.astype(int) % COLUMNS
    solid = np.concatenate(
        [surface.points_mm[:, which], np.broadcast_to(grid_z[..., None], (*grid_z.shape, 1))],
        axis=2,
    )
    flat = bending.flat(np.column_stack([grid_x.ravel(), grid_z.ravel()])).reshape(*grid_x.shape, 2)
    inside = shapely.contains_xy(outline, grid_x, grid_z)
    cells = inside[:-1, :-1] & inside[1:, :-1] & inside[:-1, 1:] & inside[1:, 1:]
    if not cells.any():
        return 0.0, 0.0
    errors = []
    for axis in (0, 1):
        true = np.linalg.norm(np.diff(solid, axis=axis), axis=2)
        got = np.linalg.norm(np.diff(flat, axis=axis), axis=2)
        ratio = (got / true)[: cells.shape[0], : cells.shape[1]]
        errors.append(np.abs(ratio[cells] - 1.0))
    true_area, flat_area = (_cell_areas(points)[cells].sum() for points in (solid, flat))
    return float(np.quantile(np.concatenate(errors), TOLD_SHARE)), float(
        flat_area / max(true_area, _FLAT) - 1.0
    )


def _cell_areas(points: Floats) -> Floats:
    """Return the areas of the cells of a grid, shape (rows - 1, columns - 1), in 2 or 3 D."""
    one = points[1:, 1:] - points[:-1, :-1]
    two = points[1:, :-1] - points[:-1, 1:]
    dot = (one * two).sum(axis=2)
    squares = (one**2).sum(axis=2) * (two**2).sum(axis=2) - dot**2
    return np.asarray(np.sqrt(np.maximum(squares, 0.0)) / 2)


def _polygon(outline: BaseGeometry) -> Polygon:
    if isinstance(outline, MultiPolygon):
        outline = max(outline.geoms, key=lambda part: part.area)
    return Polygon(outline) if not isinstance(outline, Polygon) else outline
