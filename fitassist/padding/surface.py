# SPDX-License-Identifier: MIT
"""The form's surface as a grid: columns around it from centre front, rows along its height.

A column is a share of the half girth: 0 lies at centre front, a quarter at the wearer's left side,
a half at centre back, three quarters at the right side; so centre lines stay columns however
different the two halves are. Between the given heights everything is a monotone cubic (PCHIP).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

from fitassist.errors import FitError

Floats = NDArray[np.float64]

COLUMNS = 144
ROW_MM = 10.0
LEAST_GIRTH_MM, MOST_GIRTH_MM = 200.0, 2500.0  # outlines beyond are a slip of the unit


@dataclass(frozen=True)
class Section:
    """Body and form at one height.

    Attributes
    ----------
    line
        Name of the line.
    z_mm
        Height, upwards, from any origin the sections share.
    form_mm, body_mm
        Closed outlines, shape (n, 2) and (m, 2): x to the wearer's left, y to the front, with the
        centre front at x = 0. Only their taut-tape hull is used.
    """

    line: str
    z_mm: float
    form_mm: Floats
    body_mm: Floats


@dataclass(frozen=True)
class Surface:
    """The form between its heights; what was given stands in ``level`` fields.

    Attributes
    ----------
    z_mm
        Shape (rows,), rising; the first and last lie ``margin_mm`` beyond the given heights.
    points_mm, normals
        Shape (rows, COLUMNS, 2): points of the hull and its outward unit normals.
    girth_mm
        Shape (rows,), lengths of the hull.
    """

    lines: tuple[str, ...]
    level_z_mm: Floats
    level_points_mm: Floats
    level_normals: Floats
    z_mm: Floats
    points_mm: Floats
    normals: Floats
    girth_mm: Floats
    margin_mm: float

    @property
    def width_mm(self) -> float:
        """Mean girth, the width of the chart: a point lies at its column share times it."""
        return float(self.girth_mm.mean())

    @property
    def is_known(self) -> NDArray[np.bool_]:
        """Rows between the lowest and the highest given height, shape (rows,)."""
        low, high = self.level_z_mm[0], self.level_z_mm[-1]
        return np.asarray((self.z_mm >= low - 1e-6) & (self.z_mm <= high + 1e-6))


def tape_hull(outline_mm: Floats, line: str = "") -> Floats:
    """Return what a taut tape follows: convex, shape (k, 2), without a repeated point.

    Raises
    ------
    FitError
        ``padding_outline`` (value: line) when the outline is missing or cannot be one.
    """
    outline = np.asarray(outline_mm, dtype=np.float64)
    is_curve = outline.ndim == 2 and outline.shape[1:] == (2,) and len(outline) >= 3
    if not is_curve or not np.isfinite(outline).all():
        raise FitError("padding_outline", line=line)
    hull = shapely.convex_hull(shapely.MultiPoint(outline))
    points: Floats = shapely.get_coordinates(hull)[:-1]
    if hull.geom_type != "Polygon" or not (points[:, 0].min() < 0.0 < points[:, 0].max()):
        raise FitError("padding_outline", line=line)
    if not LEAST_GIRTH_MM <= hull.length <= MOST_GIRTH_MM:
        raise FitError("padding_outline", line=line)
    return points


def columns_of(hull_mm: Floats, columns: int = COLUMNS) -> Floats:
    """Return points of a hull at equal arcs of each half, from centre front to the left.

    Parameters
    ----------
    hull_mm
        Shape (k, 2), convex, containing x = 0.
    """
    ring = shapely.LinearRing(hull_mm)
    y = hull_mm[:, 1]
    plumb = shapely.LineString([(0.0, y.min() - 1.0), (0.0, y.max() + 1.0)])
    cuts = shapely.get_coordinates(ring.intersection(plumb))
    front, back = float(cuts[:, 1].max()), float(cuts[:, 1].min())
    half = columns // 2
    left = _half(hull_mm, 1.0, front, back, half)
    right = _half(hull_mm, -1.0, front, back, half)
    return np.concatenate([left[:-1], right[:0:-1]])


def _half(hull_mm: Floats, side: float, front: float, back: float, count: int) -> Floats:
    """Return count + 1 points at equal arcs from centre front to centre back over one side."""
    inner = hull_mm[hull_mm[:, 0] * side > 1e-9]
    centre = np.array([0.0, (front + back) / 2])
    around = np.arctan2(side * (inner[:, 0] - centre[0]), inner[:, 1] - centre[1])
    path = np.concatenate([[[0.0, front]], inner[np.argsort(around)], [[0.0, back]]])
    arc = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
    at = np.linspace(0.0, arc[-1], count + 1)
    return np.column_stack([np.interp(at, arc, path[:, 0]), np.interp(at, arc, path[:, 1])])


def normals_of(points_mm: Floats) -> Floats:
    """Return outward unit normals of closed curves, shape (..., n, 2), going front, left, back."""
    along = np.roll(points_mm, -1, axis=-2) - np.roll(points_mm, 1, axis=-2)
    # Front to left to back is clockwise with y to the front, so outward is to the left hand.
    out = np.stack([-along[..., 1], along[..., 0]], axis=-1)
    unit: Floats = out / np.maximum(np.linalg.norm(out, axis=-1, keepdims=True), 1e-12)
    return unit


def build_surface(sections: Sequence[Section], margin_mm: float = 0.0) -> Surface:
    """Return the grid of the form through its sections.

    Raises
    ------
    FitError
        ``padding_too_few_lines`` with fewer than two heights, ``padding_same_height`` (value:
        line) when two coincide, ``padding_outline`` when an outline cannot be used.
    """
    if len(sections) < 2:
        raise FitError("padding_too_few_lines")
    ordered = sorted(sections, key=lambda section: section.z_mm)
    heights = np.array([section.z_mm for section in ordered])
    for section, step in zip(ordered[1:], np.diff(heights), strict=True):
        if not step > 1.0:
            raise FitError("padding_same_height", line=section.line)
    level = np.stack([columns_of(tape_hull(s.form_mm, s.line)) for s in ordered])
    rows = _rows(heights, margin_mm)
    points = along_height(heights, level, rows)
    steps = np.linalg.norm(np.roll(points, -1, axis=1) - points, axis=2)
    return Surface(
        lines=tuple(section.line for section in ordered),
        level_z_mm=heights,
        level_points_mm=level,
        level_normals=normals_of(level),
        z_mm=rows,
        points_mm=points,
        normals=normals_of(points),
        girth_mm=steps.sum(axis=1),
        margin_mm=margin_mm,
    )


def _rows(heights: Floats, margin_mm: float) -> Floats:
    low, high = heights[0], heights[-1]
    inside = np.linspace(low, high, max(2, round((high - low) / ROW_MM) + 1))
    if margin_mm <= 0.0:
        return np.asarray(inside)
    beyond = np.linspace(0.0, margin_mm, max(2, round(margin_mm / ROW_MM) + 1))[1:]
    return np.concatenate([low - beyond[::-1], inside, high + beyond])


def along_height(heights: Floats, values: Floats, rows: Floats) -> Floats:
    """Interpolate values, shape (heights, ...), at rows; beyond the ends they stay as they are."""
    at = np.clip(rows, heights[0], heights[-1])
    found: Floats = PchipInterpolator(heights, values, axis=0)(at)
    return found
