# SPDX-License-Identifier: MIT
"""Which seams to open so that a form's section comes nearest a body's, at a girth.

Works on supports: the hull of four moved panels reaches, in each direction, as far as the farthest
of them, so girth and difference cost a few microseconds and slopes are exact.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.geometry.form_outline import SEAMS, SHIFTS, centred, cut, gap_vector
from fitassist.geometry.support import (
    BACK,
    FRONT,
    GIRTH_PER_SUM,
    LEFT,
    NORMALS,
    RIGHT,
    Floats,
    evenly_spaced,
    outside_mm,
    support,
)

BODY_POINTS = 128
GIRTH_NEAR_MM = 1e-4
LARGEST_OPENING_MM = 1000.0  # in all; a form that had to open farther is the wrong one
COARSE = 8  # the simplex of shares is first looked over in eighths
FINE = 1.0 / 512.0
# A share is of the whole opening: front, left, back, right. Three free: left = right.
_SPREAD: Floats = np.array([[1.0, 0.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [0.0, 0.5, 0.0, 0.5]])


@dataclass(frozen=True)
class Shell:
    """A closed form's panels and a body, ready for many gaps.

    Attributes
    ----------
    reach
        Supports of the four panels, (4, 180).
    moves
        What a gap adds to each, (4, 180, 4).
    body
        Points at equal steps on the body's outline, middle on the origin, (128, 2).
    """

    reach: Floats
    moves: Floats
    body: Floats


@dataclass(frozen=True)
class BestGaps:
    """Gaps that bring a section nearest a body; mm.

    Attributes
    ----------
    gaps_mm
        By seam.
    rms_mm
        What difference remains.
    equal_rms_mm
        What would remain with all four gaps alike at the same girth.
    girth_mm
        Of the opened section.
    """

    gaps_mm: Mapping[Seam, float]
    rms_mm: float
    equal_rms_mm: float
    girth_mm: float


@dataclass(frozen=True)
class GapSlopes:
    """How the square of the RMS difference (mm squared) answers to one more mm of each gap.

    Attributes
    ----------
    free
        Just so. Below zero: opening this seam brings the section nearer.
    at_equal_girth
        With the other gaps giving way so that the girth stays.
    girth
        What one mm of gap adds to the girth.
    """

    free: Mapping[Seam, float]
    at_equal_girth: Mapping[Seam, float]
    girth: Mapping[Seam, float]


def shell_of(closed: Floats, body: Floats, side_mm: float = 0.0) -> Shell:
    """Return panels and body made ready.

    Parameters
    ----------
    closed, body
        Corners of the outlines, (n, 2) and (m, 2), mm.
    side_mm
        Where the side seams lie, before the middle of the closed form.
    """
    return Shell(
        reach=np.array([support(panel) for panel in cut(centred(closed), side_mm)]),
        moves=np.einsum("dc,kcg->kdg", NORMALS, SHIFTS),
        body=centred(evenly_spaced(body, BODY_POINTS)),
    )


def section_reach(shell: Shell, gaps: Floats) -> Floats:
    """Return supports of the opened section, middle on the origin, (180,)."""
    reach = (shell.reach + shell.moves @ gaps).max(axis=0)
    return np.asarray(reach - NORMALS @ _middle(reach))


def _middle(reach: Floats) -> Floats:
    """Return the middle of breadth and depth of supports (180, ...), shape (2, ...)."""
    across = (reach[LEFT] - reach[RIGHT]) / 2.0
    return np.array([across, (reach[FRONT] - reach[BACK]) / 2.0])


def _girth(shell: Shell, gaps: Floats) -> float:
    return float((shell.reach + shell.moves @ gaps).max(axis=0).sum() * GIRTH_PER_SUM)


def difference(shell: Shell, gaps: Floats) -> float:
    """Return the RMS distance of the body from the opened section, mm."""
    away, _ = outside_mm(shell.body, section_reach(shell, gaps))
    return float(np.sqrt((away * away).mean()))


def opening_for(shell: Shell, shares: Floats, girth_mm: float) -> Floats:
    """Return gaps in the proportion of `shares` (4,) at which the girth is met (secant).

    Zero if the form is as large already.
    """
    shares = shares / shares.sum()
    opening, length = 0.0, _girth(shell, np.zeros(4))
    if girth_mm <= length:
        return np.zeros(4)
    for _ in range(25):
        missing = girth_mm - length
        if abs(missing) < GIRTH_NEAR_MM:
            break
        # The girth is convex in the opening, so its slope from here never over-reaches.
        opening += missing / max(_girth_slope(shell, opening * shares, shares), 0.2)
        length = _girth(shell, opening * shares)
    return np.asarray(opening * shares)


def _girth_slope(shell: Shell, gaps: Floats, shares: Floats) -> float:
    return float(_answers(shell, gaps).sum(axis=0) @ shares * GIRTH_PER_SUM)


def _answers(shell: Shell, gaps: Floats) -> Floats:
    """Return d(support) / d(gap), (180, 4); the mean of panels that reach equally far.

    Two panels tie in front of a form that is the same left and right.
    """
    reach = shell.reach + shell.moves @ gaps
    ties = reach > reach.max(axis=0) - 1e-9
    return np.asarray(np.einsum("kd,kdg->dg", ties / ties.sum(axis=0), shell.moves))


def best_gaps(closed: Floats, body: Floats, girth_mm: float, side_mm: float = 0.0) -> BestGaps:
    """Return the gaps (left = right) that bring a section of a girth nearest a body's outline.

    The shares of front, back and sides are looked over in eighths, then refined by halving steps;
    for each, the opening that meets the girth is solved for.

    Parameters
    ----------
    closed, body
        Corners of the closed form's and the body's outline, (n, 2) and (m, 2), mm.
    girth_mm
        What the tape round the opened form is to read. At or below the closed form's all gaps
        are zero.
    side_mm
        Where the side seams lie.

    Raises
    ------
    FitError
        ``form_too_small`` (girth_mm, closed_mm) if it would have to open by more than a metre.
    """
    shell = shell_of(closed, body, side_mm)
    shut = _girth(shell, np.zeros(4))
    if not girth_mm - shut < LARGEST_OPENING_MM:
        raise FitError("form_too_small", girth_mm=girth_mm, closed_mm=shut)

    def miss(free: tuple[float, float]) -> float:
        front, back = free
        shares = np.array([front, back, 1.0 - front - back]) @ _SPREAD
        return difference(shell, opening_for(shell, shares, girth_mm))

    front, back = _least(miss)
    gaps = opening_for(shell, np.array([front, back, 1.0 - front - back]) @ _SPREAD, girth_mm)
    equal = opening_for(shell, np.ones(4), girth_mm)
    return BestGaps(
        gaps_mm={seam: float(gap) for seam, gap in zip(SEAMS, gaps, strict=True)},
        rms_mm=difference(shell, gaps),
        equal_rms_mm=difference(shell, equal),
        girth_mm=_girth(shell, gaps),
    )


def _least(miss: Callable[[tuple[float, float]], float]) -> tuple[float, float]:
    """Return the point of the simplex at which a smooth function is least."""
    steps = [k / COARSE for k in range(COARSE + 1)]
    starts = [(a, b) for a in steps for b in steps if a + b <= 1.0]
    value, best = min((miss(start), start) for start in starts)
    step = 0.5 / COARSE
    while step >= FINE:
        around = [
            (best[0] + a * step, best[1] + b * step)
            for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, -1), (-1, 1))
        ]
        inside = [(a, b) for a, b in around if min(a, b) >= 0.0 and a + b <= 1.0]
        found, where = min(((miss(one), one) for one in inside), default=(value, best))
        if found < value:
            value, best = found, where
        else:
            step /= 2.0
    return best


def gap_slopes(shell: Shell, gaps_mm: Mapping[Seam, float]) -> GapSlopes:
    """Return d(RMS squared) / d(gap) where the gaps stand, for choosing which seam comes next.

    Exact away from the few gaps at which another panel becomes the farthest in some direction.
    """
    gaps = gap_vector(gaps_mm)
    answers = _answers(shell, gaps)
    girth = answers.sum(axis=0) * GIRTH_PER_SUM
    away, direction = outside_mm(shell.body, section_reach(shell, gaps))
    moved = answers - NORMALS @ _middle(answers)
    free = (-2.0 * away[:, None] * moved[direction]).mean(axis=0)
    level = free - girth * (free @ girth) / max(float(girth @ girth), 1e-12)
    names = [dict(zip(SEAMS, map(float, one), strict=True)) for one in (free, level, girth)]
    return GapSlopes(*names)
