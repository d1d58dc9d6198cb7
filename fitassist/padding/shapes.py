# SPDX-License-Identifier: MIT
"""Plain shapes that pieces may have: ovals, crescents and bands, as outlines and as thickness.

A crescent is an oval with the same oval, shifted, cut away. ``share`` says how much of the full
thickness lies at a point: it thins to nothing over one feather inside the edge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from fitassist.padding.pieces import Kind
from fitassist.padding.surface import Floats

OUTLINE_POINTS = 96
# Changes of middle (x, z) and half axes (width, height) that are tried, in steps.
_OVAL_MOVES = (
    *np.eye(4).tolist(),
    *(-np.eye(4)).tolist(),
    (0.0, 0.0, 1.0, 1.0),
    (0.0, 0.0, -1.0, -1.0),
    (0.0, 1.0, 0.0, 1.0),
    (0.0, -1.0, 0.0, 1.0),
)
_BAND_MOVES = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, -1.0))
_TINY = np.float32(1e-8)  # keeps the middle of an oval from dividing by nothing


@dataclass(frozen=True)
class Shapes:
    """Many shapes at once, each field of shape (n,); mm in the chart.

    Attributes
    ----------
    x, z
        Middles.
    half_width, half_height
        Half axes of the ovals.
    shift
        How far up the cut-away oval lies; 0 for a whole oval.
    """

    x: Floats
    z: Floats
    half_width: Floats
    half_height: Floats
    shift: Floats

    def __len__(self) -> int:
        return len(self.x)

    def pick(self, which: NDArray[np.bool_] | NDArray[np.intp]) -> Shapes:
        """Return some of the shapes."""
        return Shapes(
            self.x[which],
            self.z[which],
            self.half_width[which],
            self.half_height[which],
            self.shift[which],
        )

    def changed(self, step_mm: float) -> Shapes:
        """Return the first shape with every one of its measures a step more and a step less."""
        x, z, a, b = np.array(_OVAL_MOVES).T * step_mm
        shift = self.shift[0] * (1.0 + b / self.half_height[0])
        return Shapes(self.x[0] + x, self.z[0] + z, self.half_width[0] + a,
                      self.half_height[0] + b, shift)  # fmt: skip

    def shares(self, x: Floats, z: Floats, feather_mm: float) -> NDArray[np.float32]:
        """Return the share of full thickness of every shape at points, shape (n, points)."""
        depth = self._depth(x, z, 0.0)
        cut = np.flatnonzero(self.shift)
        if len(cut):
            part = self.pick(cut)
            depth[cut] = np.minimum(depth[cut], -part._depth(x, z, part.shift[:, None]))
        depth *= np.float32(1.0 / feather_mm)
        return np.clip(depth, 0.0, 1.0, out=depth)

    def _depth(self, x: Floats, z: Floats, up: Floats | float) -> NDArray[np.float32]:
        """Distance inside the edge of an oval, to first order: exact at the edge."""
        a, b = self.half_width[:, None], self.half_height[:, None]
        across = ((x[None] - self.x[:, None]) / a).astype(np.float32)
        upward = ((z[None] - self.z[:, None] - up) / b).astype(np.float32)
        radius = np.sqrt(across**2 + upward**2 + _TINY)
        slope = (across / a.astype(np.float32)) ** 2 + (upward / b.astype(np.float32)) ** 2
        slope += (_TINY / np.minimum(a, b) ** 2).astype(np.float32)
        return np.asarray((1.0 - radius) * radius / np.sqrt(slope), dtype=np.float32)

    def outline(self, number: int) -> BaseGeometry:
        """Return the outline of one shape in the chart."""
        turn = np.linspace(0.0, 2.0 * np.pi, OUTLINE_POINTS, endpoint=False)
        x = self.x[number] + self.half_width[number] * np.cos(turn)
        z = self.z[number] + self.half_height[number] * np.sin(turn)
        oval = Polygon(np.column_stack([x, z]))
        if not self.shift[number]:
            return oval
        away = Polygon(np.column_stack([x, z + self.shift[number]]))
        return largest(oval.difference(away))

    def kind(self, number: int) -> Kind:
        """Return what one shape is called."""
        return Kind.CRESCENT if self.shift[number] else Kind.OVAL


@dataclass(frozen=True)
class Bands:
    """Bands once round the form between heights, each of shape (n,); ends meet at centre back."""

    low_z: Floats
    high_z: Floats
    width_mm: float

    def __len__(self) -> int:
        return len(self.low_z)

    def pick(self, which: NDArray[np.bool_] | NDArray[np.intp]) -> Bands:
        """Return some of the bands."""
        return Bands(self.low_z[which], self.high_z[which], self.width_mm)

    def changed(self, step_mm: float) -> Bands:
        """Return the first band with each end a step higher and lower."""
        low, high = np.array(_BAND_MOVES).T * step_mm
        return Bands(self.low_z[0] + low, self.high_z[0] + high, self.width_mm)

    def shares(self, x: Floats, z: Floats, feather_mm: float) -> NDArray[np.float32]:
        """Return the share of full thickness of every band at points, shape (n, points)."""
        del x
        below = z[None] - self.low_z[:, None]
        above = self.high_z[:, None] - z[None]
        return np.clip(np.minimum(below, above) / feather_mm, 0.0, 1.0).astype(np.float32)

    def outline(self, number: int) -> BaseGeometry:
        """Return the outline of one band in the chart."""
        half = self.width_mm / 2
        return box(-half, self.low_z[number], half, self.high_z[number])

    def kind(self, number: int) -> Kind:
        """Return what one band is called."""
        del number
        return Kind.WRAP


def largest(found: BaseGeometry) -> BaseGeometry:
    """Return the largest polygon of what was found."""
    if isinstance(found, MultiPolygon):
        return max(found.geoms, key=lambda part: part.area)
    return found
