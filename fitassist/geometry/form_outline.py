# SPDX-License-Identifier: MIT
"""A form's section: its closed outline cut at four seams, opened by its gaps, and the tape round.

A panel is rigid and moves by half of each gap beside it: across by that of the front or back seam,
to front or back by that of its side seam. Seen from above, mm: x to the left, y to the front.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.geometry.outline import TorsoOutlines, torso_outlines
from fitassist.geometry.outline_readings import OutlineReading
from fitassist.geometry.shape_prior import ShapePrior
from fitassist.geometry.support import Floats, evenly_spaced, outside_mm, support

SEAMS = (Seam.FRONT, Seam.LEFT, Seam.BACK, Seam.RIGHT)
# A form is built after bodies but is none: its outline is known less well (own choice, no source).
FORM_WIDER = 1.5
# The closed outline may be this much off to meet a girth; beyond, gaps and girth cannot both be.
SCALE_LIMITS = (0.75, 1.33)
NEAR_MM = 1e-7
# Half a gap, by seam, that moves each panel: front left, back left, back right, front right.
SHIFTS: Floats = np.array(
    [
        [[0.5, 0.0, 0.0, 0.0], [0.0, 0.5, 0.0, 0.0]],
        [[0.0, 0.0, 0.5, 0.0], [0.0, -0.5, 0.0, 0.0]],
        [[0.0, 0.0, -0.5, 0.0], [0.0, 0.0, 0.0, -0.5]],
        [[-0.5, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.5]],
    ]
)
Panels = tuple[Floats, Floats, Floats, Floats]


@dataclass(frozen=True)
class FormSection:
    """A form at one line.

    Attributes
    ----------
    panels
        Open curves (n, 2), mm: front left, back left, back right, front right.
    hull
        What a taut tape follows: corners (m, 2), clockwise seen from above with the front up.
    girth_mm
        Its length.
    scale
        By what the closed outline was scaled for the girth to be met; 1 if none was asked for.
    """

    panels: Panels
    hull: Floats
    girth_mm: float
    scale: float


@dataclass(frozen=True)
class Clearance:
    """Room between a form and a body, point by point round the form.

    Attributes
    ----------
    points, normals
        On the form's hull at equal steps, and outward there, (n, 2).
    polar_rad
        Direction from the middle: 0 to the front, growing to the left, (n,).
    room_mm
        Along the normal to the body's outline: above zero room for padding; below zero the form
        stands out past the body there, by its distance from the body's nearest point, (n,).
    """

    points: Floats
    normals: Floats
    polar_rad: Floats
    room_mm: Floats


def closed_outlines(prior: ShapePrior, readings: Sequence[OutlineReading]) -> TorsoOutlines:
    """Return a closed form's outlines from what was read of it; one girth is enough.

    Raises
    ------
    FitError
        As ``torso_outlines`` does.
    """
    return torso_outlines(prior, readings, fewest_girths=1, real_people=FORM_WIDER)


def taut(points: Floats) -> tuple[Floats, float]:
    """Return the taut tape round points (n, 2): its corners, clockwise, and its length."""
    from scipy.spatial import ConvexHull  # slow to import

    hull = ConvexHull(points)
    return points[hull.vertices[::-1]], float(hull.area)


def gap_vector(gaps_mm: Mapping[Seam, float]) -> Floats:
    """Return gaps in the order of ``SEAMS``, shape (4,); a seam not named is shut.

    Raises
    ------
    FitError
        ``form_gap_below_zero`` (seam, mm).
    """
    for seam, gap in gaps_mm.items():
        if not 0.0 <= gap < np.inf:
            raise FitError("form_gap_below_zero", seam.value, seam=seam.value, mm=gap)
    return np.array([gaps_mm.get(seam, 0.0) for seam in SEAMS])


def cut(closed: Floats, side_mm: float = 0.0) -> Panels:
    """Cut a convex outline at centre front and back and at its sides.

    Parameters
    ----------
    closed
        Corners (n, 2) in order, round the middle.
    side_mm
        Where the side seams lie: this far before the middle.
    """
    ring = np.vstack((closed, closed[:1]))
    middle = np.array([0.0, side_mm])
    seams = [
        _crossing(ring - middle, axis=0, towards=1.0),
        _crossing(ring - middle, axis=1, towards=1.0),
        _crossing(ring - middle, axis=0, towards=-1.0),
        _crossing(ring - middle, axis=1, towards=-1.0),
    ]
    away = closed - middle
    turn = np.arctan2(away[:, 0], away[:, 1]) % (2.0 * np.pi)
    panels = []
    for quarter in range(4):
        start = quarter * np.pi / 2.0
        inside = np.flatnonzero((turn > start + 1e-9) & (turn < start + np.pi / 2.0 - 1e-9))
        inside = inside[turn[inside].argsort()]
        ends = seams[quarter], seams[(quarter + 1) % 4]
        panels.append(np.vstack((ends[0], away[inside], ends[1])) + middle)
    return panels[0], panels[1], panels[2], panels[3]


def _crossing(ring: Floats, axis: int, towards: float) -> Floats:
    """Return where a ring about the origin crosses the axis on one side, shape (2,)."""
    start, end = ring[:-1], ring[1:]
    a, b = start[:, axis], end[:, axis]
    crosses = np.flatnonzero(((a <= 0.0) & (b > 0.0)) | ((a > 0.0) & (b <= 0.0)))
    share = (a[crosses] / (a[crosses] - b[crosses]))[:, None]
    found = start[crosses] + share * (end[crosses] - start[crosses])
    best = found[(towards * found[:, 1 - axis]).argmax()]
    best[axis] = 0.0
    return np.asarray(best)


def opened(panels: Panels, gaps: Floats) -> Panels:
    """Return the panels moved out by their gaps, in the order of ``SEAMS``."""
    a, b, c, d = (panel + SHIFTS[k] @ gaps for k, panel in enumerate(panels))
    return a, b, c, d


def form_section(
    closed: Floats,
    gaps_mm: Mapping[Seam, float],
    girth_mm: float | None = None,
    side_mm: float = 0.0,
) -> FormSection:
    """Return a form's section with its gaps open.

    Parameters
    ----------
    closed
        Corners of the closed outline, (n, 2).
    gaps_mm
        Width of each open seam.
    girth_mm
        What the tape is known or predicted to read; the panels are scaled a little, all alike, so
        that it does. None: take the outline as it is.
    side_mm
        Where the side seams lie, before the middle.

    Raises
    ------
    FitError
        ``form_gap_below_zero``, or ``form_girth_misfit`` (girth_mm, opened_mm) if gaps and girth
        cannot both be.
    """
    gaps = gap_vector(gaps_mm)
    panels = cut(closed, side_mm)
    moved = opened(panels, gaps)
    hull, length = taut(np.concatenate(moved))
    first, scale = length, 1.0
    for _ in range(20):
        if girth_mm is None or abs(girth_mm - length) < NEAR_MM:
            break
        scale *= 1.0 + (girth_mm - length) / max(length - float(gaps.sum()), length / 4.0)
        if not SCALE_LIMITS[0] <= scale <= SCALE_LIMITS[1]:
            raise FitError("form_girth_misfit", girth_mm=girth_mm, opened_mm=first)
        a, b, c, d = (scale * panel for panel in panels)
        moved = opened((a, b, c, d), gaps)
        hull, length = taut(np.concatenate(moved))
    return FormSection(moved, hull, length, scale)


def centred(points: Floats) -> Floats:
    """Return points moved so that the middle of breadth and depth is the origin."""
    return np.asarray(points - (points.min(axis=0) + points.max(axis=0)) / 2.0)


def clearance(form_hull: Floats, body: Floats, count: int = 256) -> Clearance:
    """Return the signed normal distance from a form's hull to a body's outline, both as they lie.

    Parameters
    ----------
    form_hull, body
        Corners of convex outlines, clockwise, (n, 2) and (m, 2); centre them first if they are to
        be held middle on middle.
    count
        How many points round the form.
    """
    points = evenly_spaced(form_hull, count)
    along = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    normals = np.column_stack((-along[:, 1], along[:, 0]))
    normals /= np.hypot(normals[:, 0], normals[:, 1])[:, None]
    side = np.roll(body, -1, axis=0) - body
    lengths = np.hypot(side[:, 0], side[:, 1])
    kept = lengths > 1e-9
    outward = np.column_stack((-side[kept, 1], side[kept, 0])) / lengths[kept, None]
    inside = (outward * body[kept]).sum(axis=1)[None, :] - points @ outward.T
    facing = normals @ outward.T
    ahead = np.where(facing > 1e-9, inside / np.where(facing > 1e-9, facing, 1.0), np.inf)
    beyond = outside_mm(points, support(body))[0]
    nearest = inside.min(axis=1)
    room = np.where(nearest >= 0.0, ahead.min(axis=1), np.minimum(-beyond, nearest))
    middle = (form_hull.min(axis=0) + form_hull.max(axis=0)) / 2.0
    away = points - middle
    return Clearance(points, normals, np.arctan2(away[:, 0], away[:, 1]), room)
