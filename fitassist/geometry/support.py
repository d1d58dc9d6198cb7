# SPDX-License-Identifier: MIT
"""Convex outlines by their support function: how far they reach in each of 180 directions.

Girth, breadth and depth are exact linear sums of it, and a small change of it is the same change
of the outline along its normal; so uncertainty of an outline can be carried and drawn simply.
Direction 0 points to the front, then every 2 degrees towards the body's own left. x grows to the
left, y to the front, mm.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DIRECTIONS = 180
STEP_RAD = 2.0 * math.pi / DIRECTIONS
FRONT, LEFT, BACK, RIGHT = 0, DIRECTIONS // 4, DIRECTIONS // 2, 3 * DIRECTIONS // 4
_ANGLES = np.arange(DIRECTIONS) * STEP_RAD
NORMALS: Floats = np.column_stack((np.sin(_ANGLES), np.cos(_ANGLES)))
NORMALS[[FRONT, BACK], 0] = 0.0
NORMALS[[LEFT, RIGHT], 1] = 0.0
TANGENTS: Floats = np.column_stack((NORMALS[:, 1], -NORMALS[:, 0]))
# The length of a polygon whose sides lie on all these lines is this times the sum of supports.
GIRTH_PER_SUM = 2.0 * math.tan(STEP_RAD / 2.0)


def support(points: Floats) -> Floats:
    """Return how far points of shape (..., n, 2) reach in each direction, shape (..., 180)."""
    return np.asarray((points @ NORMALS.T).max(axis=-2))


def mirrored(half: Floats) -> Floats:
    """Return supports (..., 180) from those of front, left, back: shape (..., 91)."""
    return np.concatenate((half, half[..., -2:0:-1]), axis=-1)


def girth_of(reach_mm: Floats) -> float:
    """Return the girth of the outline of these supports."""
    return float(reach_mm.sum() * GIRTH_PER_SUM)


def edge_lengths(reach_mm: Floats) -> Floats:
    """Return the side on each support line, shape (180,); below zero where it is not convex."""
    bent = 2.0 * math.cos(STEP_RAD) * reach_mm
    around = np.roll(reach_mm, 1) + np.roll(reach_mm, -1)
    return np.asarray((around - bent) / math.sin(STEP_RAD))


def corners(reach_mm: Floats) -> Floats:
    """Return the corners between neighbouring support lines, shape (180, 2)."""
    ahead = (np.roll(reach_mm, -1) - math.cos(STEP_RAD) * reach_mm) / math.sin(STEP_RAD)
    return np.asarray(reach_mm[:, None] * NORMALS + ahead[:, None] * TANGENTS)


def tightened(reach_mm: Floats) -> Floats:
    """Return the supports of the largest convex outline within all support lines.

    The lines that count are the corners of the hull of their duals, n / h (polar duality of
    convex sets).

    Parameters
    ----------
    reach_mm
        Shape (180,), all above zero.
    """
    if edge_lengths(reach_mm).min() >= 0.0:
        return reach_mm
    from scipy.spatial import ConvexHull  # slow to import, and seldom needed

    active = np.sort(ConvexHull(NORMALS / reach_mm[:, None]).vertices)
    ahead = np.roll(active, -1)
    n, m = NORMALS[active], NORMALS[ahead]
    cross = n[:, 0] * m[:, 1] - n[:, 1] * m[:, 0]
    a, b = reach_mm[active], reach_mm[ahead]
    x = (a * m[:, 1] - b * n[:, 1]) / cross
    y = (b * n[:, 0] - a * m[:, 0]) / cross
    return support(np.column_stack((x, y)))


def made_convex(reach_mm: Floats) -> Floats:
    """Return the supports tightened to a convex outline and scaled to the girth they had."""
    smaller = tightened(reach_mm)
    return np.asarray(smaller * (reach_mm.sum() / smaller.sum()))


def outside_mm(points: Floats, reach_mm: Floats) -> tuple[Floats, NDArray[np.intp]]:
    """Return how far points (n, 2) lie outside an outline, and the direction it is seen in.

    Below zero inside. Exact inside; outside, short by at most one part in 6000 (half a step of
    direction).
    """
    beyond = points @ NORMALS.T - reach_mm
    nearest = beyond.argmax(axis=1)
    return beyond[np.arange(len(points)), nearest], nearest


def evenly_spaced(closed: Floats, count: int = 256) -> Floats:
    """Return points at equal steps along a closed curve of shape (n, 2), first not repeated."""
    ring = np.vstack((closed, closed[:1]))
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))))
    steps = np.arange(count) * (along[-1] / count)
    return np.column_stack([np.interp(steps, along, ring[:, k]) for k in (0, 1)])


def rms_difference(body: Floats, form: Floats, count: int = 256) -> float:
    """Return the root mean square distance of one closed curve from another, mm.

    Parameters
    ----------
    body, form
        Shape (n, 2) and (m, 2), mm, any direction of turning. Points at equal steps along the
        body are held against the nearest point of the form's sides.
    count
        How many points.
    """
    points = evenly_spaced(body, count)
    start = form
    side = np.roll(form, -1, axis=0) - start
    square = np.maximum((side * side).sum(axis=1), 1e-12)
    away = points[:, None, :] - start[None, :, :]
    share = np.clip((away * side).sum(axis=2) / square, 0.0, 1.0)
    gap = away - share[:, :, None] * side
    return float(np.sqrt((gap * gap).sum(axis=2).min(axis=1).mean()))
