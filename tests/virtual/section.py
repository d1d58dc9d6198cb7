# SPDX-License-Identifier: MIT
"""One level of the shell: four rigid panels moved apart, and the taut tape round them.

The tape lies on the convex hull. Its length is the mean of the support function over all
directions times 2 pi (Cauchy), which costs a few array operations and no sorting of points.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from tests.virtual.outlines import FLOATS

SEAMS = ("front", "left", "back", "right")
DIRECTIONS = 480
_ANGLES = np.arange(DIRECTIONS) * (2.0 * np.pi / DIRECTIONS)
_UNIT = np.stack([np.cos(_ANGLES), np.sin(_ANGLES)])  # (2, directions)

# Panels front left, back left, back right, front right: half of each neighbouring gap, by seam.
# Opening a front or back seam parts left from right; opening a side parts front from back.
_PART_X = 0.5 * np.array([[1, 0, 0, 0], [0, 0, 1, 0], [0, 0, -1, 0], [-1, 0, 0, 0]], dtype=float)
_PART_Y = 0.5 * np.array([[0, 1, 0, 0], [0, -1, 0, 0], [0, 0, 0, -1], [0, 0, 0, 1]], dtype=float)


def displacement(gaps_mm: FLOATS) -> FLOATS:
    """Return how far each panel moves, (..., 4 panels, 2), from gaps (..., 4 seams)."""
    return np.stack([gaps_mm @ _PART_X.T, gaps_mm @ _PART_Y.T], axis=-1)


def hull(points: FLOATS) -> FLOATS:
    """Return the convex hull of points (n, 2), counter-clockwise (monotone chain)."""
    order = sorted(map(tuple, np.asarray(points, dtype=float).tolist()))
    chains: list[list[tuple[float, float]]] = []
    for run in (order, order[::-1]):
        chain: list[tuple[float, float]] = []
        for x, y in run:
            while len(chain) >= 2:
                (ax, ay), (bx, by) = chain[-2], chain[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                chain.pop()
            chain.append((x, y))
        chains.append(chain[:-1])
    return np.array(chains[0] + chains[1])


def perimeter(points: FLOATS) -> float:
    """Return the length of the closed polygon through points (n, 2), in order."""
    return float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum())


def length_beyond(points: FLOATS, start: FLOATS, end: FLOATS) -> float:
    """Return the length of a closed polygon that lies to the left of the line start -> end."""
    along = end - start
    side = along[0] * (points[:, 1] - start[1]) - along[1] * (points[:, 0] - start[0])
    after = np.roll(side, -1)
    lengths = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1)
    spread = np.where(np.abs(after - side) > 1e-12, after - side, 1.0)
    crossing = np.clip(-side / spread, 0.0, 1.0)
    share = np.where(
        (side > 0) & (after > 0),
        1.0,
        np.where(side > 0, crossing, np.where(after > 0, 1.0 - crossing, 0.0)),
    )
    return float((lengths * share).sum())


class Section:
    """The shell at one level.

    Parameters
    ----------
    outline_mm
        (n, 2) convex outline, n even, mirrored left to right, from centre front by the left;
        cut at centre front, at centre back and where it is broadest.
    """

    def __init__(self, outline_mm: FLOATS) -> None:
        count = len(outline_mm)
        back = count // 2
        left = 1 + int(np.argmax(outline_mm[1:back, 0]))
        cuts = (0, left, back, count - left, count)
        ring = np.concatenate([outline_mm, outline_mm[:1]])
        self.panels = tuple(ring[a : b + 1] for a, b in pairwise(cuts))
        self.support = np.stack([(panel @ _UNIT).max(axis=0) for panel in self.panels])
        self.closed_girth_mm = float(self.girth(np.zeros(4)))

    def girth(self, gaps_mm: FLOATS) -> FLOATS:
        """Return the taut girth, (...), mm, for gaps (..., 4) at front, left, back, right."""
        moved = self.support + displacement(gaps_mm) @ _UNIT
        return np.asarray(moved.max(axis=-2).mean(axis=-1) * (2.0 * np.pi))

    def placed(self, gaps_mm: FLOATS) -> tuple[FLOATS, ...]:
        """Return the panels where the gaps put them."""
        shift = displacement(gaps_mm)
        return tuple(panel + by for panel, by in zip(self.panels, shift, strict=True))

    def other(self, gaps_mm: FLOATS, what: str) -> float:
        """Return one of front, back, left_half, right_half, breadth, depth; mm."""
        front_left, back_left, back_right, front_right = panels = self.placed(gaps_mm)
        taut = hull(np.concatenate(panels))
        if what in ("breadth", "depth"):
            return float(np.ptp(taut[:, 0 if what == "breadth" else 1]))
        if what in ("front", "back"):
            ends = ((front_right[0] + back_right[-1]) / 2, (front_left[-1] + back_left[0]) / 2)
        else:
            ends = ((front_left[0] + front_right[-1]) / 2, (back_left[-1] + back_right[0]) / 2)
        forward = what in ("front", "left_half")
        return length_beyond(taut, *(ends if forward else ends[::-1]))
