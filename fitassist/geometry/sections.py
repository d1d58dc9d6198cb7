# SPDX-License-Identifier: MIT
"""Level sections for the screen: ellipses of the right girth, an assumption said on screen.

Nobody measured the shape; only the girth is known. The form's section is such an ellipse cut at its
four seams, its panels moved apart by the gaps, so that a taut tape round them reads the girth.
Seen from above in mm: x grows towards the form's left, y towards its back.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitassist.domain.lines import Seam

Points = NDArray[np.float64]

# Breadth over depth of a torso: waist 1.36, hip 1.35 (mean of 29 men, worked out from the open
# sample of the ANSUR II survey, calipers outside the body). Taken for every line: it only draws.
USUAL_BREADTH_PER_DEPTH = 1.35
LEAST_SHARE = 0.5  # of the girth stays panel, however wide the gaps are said to be
POINTS_PER_PANEL = 33
NEAR_MM = 1e-7


@dataclass(frozen=True)
class SectionOutline:
    """A section: the pieces it is made of, and what a taut tape round them follows.

    Attributes
    ----------
    panels
        Open curves, shape (n, 2) each, mm: front left, back left, back right, front right.
    hull
        Closed convex curve, shape (m, 2), first point repeated at the end, mm.
    """

    panels: tuple[Points, ...]
    hull: Points


def ellipse_girth(semi_a: float, semi_b: float) -> float:
    """Return the perimeter of an ellipse to the precision of a float.

    The complete elliptic integral by the arithmetic-geometric mean (Gauss; see Abramowitz and
    Stegun 17.6, from memory), which doubles its digits at every turn.
    """
    a, b = max(semi_a, semi_b), min(semi_a, semi_b)
    if b <= 0.0:
        return 4.0 * a
    mean, other, weight, total = a, b, 0.5, a * a
    total -= weight * (a * a - b * b)
    while abs(mean - other) > 1e-15 * a:
        mean, other, half = (mean + other) / 2, math.sqrt(mean * other), (mean - other) / 2
        weight *= 2
        total -= weight * half * half
    return 2.0 * math.pi * total / mean


def semi_axes(girth_mm: float, breadth_per_depth: float) -> tuple[float, float]:
    """Return half the breadth and half the depth of the ellipse of a girth, mm."""
    ratio = min(max(breadth_per_depth, 0.2), 5.0)
    depth = girth_mm / ellipse_girth(ratio, 1.0)
    return ratio * depth, depth


def body_section(
    girth_mm: float, breadth_per_depth: float = USUAL_BREADTH_PER_DEPTH, points: int = 129
) -> Points:
    """Return the outline of a body at a line: closed, shape (points, 2), mm."""
    a, b = semi_axes(girth_mm, breadth_per_depth)
    turn = np.linspace(-math.pi / 2, 1.5 * math.pi, points)
    return np.column_stack((a * np.cos(turn), b * np.sin(turn)))


def form_section(
    girth_mm: float,
    gaps_mm: Mapping[Seam, float],
    breadth_per_depth: float = USUAL_BREADTH_PER_DEPTH,
) -> SectionOutline:
    """Return the four panels of a form at a line and the tape round them.

    Parameters
    ----------
    girth_mm
        What a taut tape reads, above 0.
    gaps_mm
        Width of each open seam; a seam not named is shut. Gaps wider than half the girth together
        are drawn narrower, all in the same proportion.
    breadth_per_depth
        Of the closed form.
    """
    gaps = {seam: max(gaps_mm.get(seam, 0.0), 0.0) for seam in Seam}
    widest = (1.0 - LEAST_SHARE) * girth_mm
    together = sum(gaps.values())
    if together > widest:
        gaps = {seam: gap * widest / together for seam, gap in gaps.items()}
        together = widest
    closed = girth_mm - together
    for _ in range(12):
        panels = _panels(closed, gaps, breadth_per_depth)
        hull = convex_hull(np.concatenate(panels))
        missing = girth_mm - outline_length(hull)
        if abs(missing) < NEAR_MM:
            break
        closed += missing
    return SectionOutline(panels=panels, hull=hull)


def _panels(
    closed_mm: float, gaps: Mapping[Seam, float], breadth_per_depth: float
) -> tuple[Points, ...]:
    """Cut the closed ellipse at its four seams and move each quarter out by half its gaps."""
    a, b = semi_axes(closed_mm, breadth_per_depth)
    found = []
    for quarter, (across, down) in enumerate(
        (
            (gaps[Seam.FRONT], -gaps[Seam.LEFT]),
            (gaps[Seam.BACK], gaps[Seam.LEFT]),
            (-gaps[Seam.BACK], gaps[Seam.RIGHT]),
            (-gaps[Seam.FRONT], -gaps[Seam.RIGHT]),
        )
    ):
        start = (quarter - 1) * math.pi / 2
        turn = np.linspace(start, start + math.pi / 2, POINTS_PER_PANEL)
        x, y = a * np.cos(turn) + across / 2, b * np.sin(turn) + down / 2
        found.append(np.column_stack((x, y)))
    return tuple(found)


def convex_hull(points: Points) -> Points:
    """Return the convex curve round points, anticlockwise, first point repeated at the end.

    Parameters
    ----------
    points
        Shape (n, 2), n at least 3, not all on one straight line.
    """
    ordered = sorted({(float(x), float(y)) for x, y in points})
    below = _half_hull(ordered)
    above = _half_hull(ordered[::-1])
    return np.array([*below[:-1], *above])


def _half_hull(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
    kept: list[tuple[float, float]] = []
    for point in ordered:
        while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0.0:
            kept.pop()
        kept.append(point)
    return kept


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def outline_length(closed: Points) -> float:
    """Return how long a closed curve of shape (n, 2) is; its last point repeats the first."""
    return float(np.hypot(*np.diff(closed, axis=0).T).sum())
