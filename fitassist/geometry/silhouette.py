# SPDX-License-Identifier: MIT
"""Outlines stacked by height: how a torso looks from the front and from the side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fitassist.errors import FitError
from fitassist.geometry.outline import LevelOutline
from fitassist.geometry.support import BACK, FRONT, LEFT, RIGHT, Floats


@dataclass(frozen=True)
class Silhouette:
    """Curves over height, lowest first, each of shape (n,), mm.

    Attributes
    ----------
    height_mm
        Above the waist.
    front_mm, back_mm
        Front-most and back-most, from the middle of the waist's depth, positive to the front.
    left_mm, right_mm
        Farthest to the body's own left and right (below zero).
    """

    height_mm: Floats
    front_mm: Floats
    back_mm: Floats
    left_mm: Floats
    right_mm: Floats


def silhouette(levels: Sequence[LevelOutline], step_mm: float = 5.0) -> Silhouette:
    """Return front and side view, smooth between the lines and exact at them.

    Piecewise cubics that keep the order of neighbouring values (PCHIP; Fritsch and Carlson 1980,
    from memory), so nothing bulges between two lines that neither has.

    Parameters
    ----------
    levels
        At least two, in any order.
    step_mm
        Largest step in height, above 0.

    Raises
    ------
    FitError
        ``outline_lengths_out_of_order`` (line) if two lines share one height.
    """
    from scipy.interpolate import PchipInterpolator  # slow to import

    ordered = sorted(levels, key=lambda level: level.height_mm)
    heights = np.array([level.height_mm for level in ordered])
    for low, high in pairwise(ordered):
        if high.height_mm - low.height_mm < 1.0:
            raise FitError("outline_lengths_out_of_order", line=high.line)
    ends = np.array(
        [
            (
                level.centre_mm + level.reach_mm[FRONT],
                level.centre_mm - level.reach_mm[BACK],
                level.reach_mm[LEFT],
                -level.reach_mm[RIGHT],
            )
            for level in ordered
        ]
    )
    count = int(np.ceil((heights[-1] - heights[0]) / step_mm)) + 1
    z = np.union1d(np.linspace(heights[0], heights[-1], count), heights)
    curves = PchipInterpolator(heights, ends)(z)
    return Silhouette(z, *curves.T)
