# SPDX-License-Identifier: MIT
"""The plain shapes that may lie at each usual place, with the thickness they would lay."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitassist.padding.places import ALL_ROUND, PLACES, Place, line_heights, sided
from fitassist.padding.shapes import Bands, Shapes
from fitassist.padding.surface import Floats, Surface

LEAST_SIZE_MM = 50.0  # about 2 in; less cannot be cut and laid well (common practice, no source)
HALF_WIDTHS_MM = (28.0, 40.0, 58.0, 82.0, 115.0, 160.0)
HALF_HEIGHTS_MM = (28.0, 42.0, 62.0, 92.0, 130.0, 185.0)
CENTRE_GAP_MM = 2.0  # a piece of a pair ends this far from the centre line
BEYOND_SHARE = 2.0  # of the margin: how much farther a piece may reach above and below it
BAND_STEP_MM = 22.0
CRESCENT_SHIFTS = (-0.6, 0.6)  # of the whole height


@dataclass(frozen=True, eq=False)
class Offer:
    """The shapes of one place.

    Attributes
    ----------
    sides
        Which halves they are fitted to: 0 left, 1 right.
    has_twin
        Whether a mirror image is laid on the right as well.
    shares
        Shape (shapes, points): share of full thickness at the points of the left half.
    squares
        Shape (shapes,): sums of the squares of ``shares``.
    """

    place: Place | None
    sides: tuple[int, ...]
    has_twin: bool
    shapes: Shapes | Bands
    shares: NDArray[np.float32]
    squares: NDArray[np.float32]

    def name(self, side: int) -> str:
        """Return the name of the place on a side."""
        return ALL_ROUND if self.place is None else sided(self.place, ("left", "right")[side])


def offers_for(
    surface: Surface,
    x: Floats,
    z: Floats,
    feather_mm: float,
    is_alike: bool,
    clear: NDArray[np.bool_],
) -> list[Offer]:
    """Return the offers of all places on a form.

    Parameters
    ----------
    x, z
        Points of the left half, shape (points,), in the chart.
    is_alike
        Whether both sides get the same pieces.
    clear
        Shape (points,): where something may lie.
    """
    offers = []
    weight = np.where((x == x.min()) | (x == x.max()), 0.5, 1.0).astype(np.float32)
    for place in (None, *PLACES):
        shapes = _bands(surface) if place is None else _shapes(surface, place)
        shares = shapes.shares(x, z, feather_mm)
        free = ~(shares[:, ~clear] > 0.0).any(axis=1)
        if not free.any():
            continue
        shapes, shares = shapes.pick(np.flatnonzero(free)), shares[free]
        squares = np.asarray((shares**2) @ weight)
        is_pair = place is not None and place.is_pair
        if is_alike:
            offers.append(Offer(place, (0,), is_pair, shapes, shares, squares))
            continue
        for sides in ((0,), (1,)) if is_pair else ((0, 1),):
            offers.append(Offer(place, sides, False, shapes, shares, squares))
    return offers


def fits(surface: Surface, place: Place | None, shapes: Shapes | Bands) -> NDArray[np.bool_]:
    """Return which shapes are large enough, stay on the form and off the other half."""
    beyond = BEYOND_SHARE * surface.margin_mm
    bottom, top = surface.z_mm[0] - beyond, surface.z_mm[-1] + beyond
    if isinstance(shapes, Bands):
        tall = shapes.high_z - shapes.low_z >= 2.0 * LEAST_SIZE_MM
        return np.asarray(tall & (shapes.low_z >= bottom) & (shapes.high_z <= top))
    a, b = shapes.half_width, shapes.half_height
    good = np.minimum(a, b) >= LEAST_SIZE_MM / 2
    good &= (shapes.z - b >= bottom) & (shapes.z + b <= top)
    good &= (shapes.shift == 0.0) | (np.abs(shapes.shift) >= LEAST_SIZE_MM)
    if place is not None and place.is_pair:
        good &= shapes.x - a >= CENTRE_GAP_MM
        good &= shapes.x + a <= surface.width_mm / 2 - CENTRE_GAP_MM
    elif place is not None:
        good &= np.abs(shapes.x - place.from_share * surface.width_mm) < 1e-6
        good &= a <= surface.width_mm / 4
    return np.asarray(good)


def _bands(surface: Surface) -> Bands:
    low, high = surface.z_mm[0], surface.z_mm[-1]
    ends = np.linspace(low, high, max(2, round((high - low) / BAND_STEP_MM) + 1))
    lower, upper = (axis.ravel() for axis in np.meshgrid(ends, ends))
    found = Bands(lower, upper, surface.width_mm)
    return found.pick(np.flatnonzero(fits(surface, None, found)))


def _shapes(surface: Surface, place: Place) -> Shapes:
    heights = line_heights(surface)
    bottom, top = surface.z_mm[0], surface.z_mm[-1]
    low, high = (float(np.clip(heights[end], bottom, top)) for end in (place.low, place.high))
    middles = np.unique(np.linspace(place.from_share, place.to_share, 4) * surface.width_mm)
    grid = np.meshgrid(
        middles,
        np.unique(np.linspace(low, high, 5)),
        HALF_WIDTHS_MM,
        HALF_HEIGHTS_MM,
        (0.0, *CRESCENT_SHIFTS),
    )
    x, z, a, b, shift = (axis.ravel() for axis in grid)
    found = Shapes(x, z, a, b, shift * 2.0 * b)
    return found.pick(np.flatnonzero(fits(surface, place, found)))
