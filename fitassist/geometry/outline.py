# SPDX-License-Identifier: MIT
"""A torso's outlines from whatever was measured of it, with how far they may be off.

Readings condition the shape prior; each line's outline is the mean that remains, its band the
spread along the outline's normal. Seen from above, mm: x to the body's own left, y to the front.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from fitassist.domain.lines import What
from fitassist.geometry.outline_readings import Doubt, OutlineReading, observations_of
from fitassist.geometry.shape_prior import (
    CENTRES,
    GIRTHS,
    HEIGHTS,
    OUTLINE_LINES,
    SHAPE,
    SHARES,
    SIDES,
    Conditioned,
    ShapePrior,
    condition,
    girth_mm,
    half_shape,
)
from fitassist.geometry.support import (
    BACK,
    FRONT,
    LEFT,
    NORMALS,
    RIGHT,
    Floats,
    corners,
    girth_of,
    made_convex,
    mirrored,
    support,
    tightened,
)

NORMAL_90 = 1.6449  # half the width of a band that holds 90 % of a normal distribution
# Real girths tell shape about 1.2 times less sharply than those of the synthetic bodies (checked
# by those who made them against the 507 adults of bdims); bands shown are wider by it.
REAL_PEOPLE = 1.2
# A shape farther out than this many spreads was not seen: it is drawn no farther.
FARTHEST_SHAPE = 4.0


@dataclass(frozen=True)
class LevelOutline:
    """The outline of one line.

    Attributes
    ----------
    line
        Which.
    reach_mm
        Supports in 180 directions from the front over the left, shape (180,).
    raw_mm, shown_mm
        Standard deviation along the normal in each direction: as the prior has it, and as it is
        to be shown, shape (180,).
    girth_mm, girth_spread_mm
        Of the whole outline.
    front_mm
        Part of the girth in front of a plumb line at the side of the waist.
    left_half_mm, right_half_mm
        From centre front to centre back.
    height_mm, height_spread_mm
        Above the waist.
    centre_mm
        How far the middle of its depth lies before that of the waist.
    """

    line: str
    reach_mm: Floats
    raw_mm: Floats
    shown_mm: Floats
    girth_mm: float
    girth_spread_mm: float
    front_mm: float
    left_half_mm: float
    right_half_mm: float
    height_mm: float
    height_spread_mm: float
    centre_mm: float

    @property
    def points(self) -> Floats:
        """The outline's corners about its own centre, front first, over the left: (180, 2)."""
        return corners(self.reach_mm)

    @property
    def breadth_mm(self) -> float:
        """Between flat boards at the sides."""
        return float(self.reach_mm[LEFT] + self.reach_mm[RIGHT])

    @property
    def depth_mm(self) -> float:
        """Between flat boards in front and behind."""
        return float(self.reach_mm[FRONT] + self.reach_mm[BACK])

    def band(self, shown: bool = True) -> tuple[Floats, Floats]:
        """Return inner and outer edge of the 90 % band, convex, each closed points (180, 2).

        Every support line is moved in or out by its own spread; where that would leave the inner
        edge no room it stays a tenth of the outline.
        """
        away = NORMAL_90 * (self.shown_mm if shown else self.raw_mm)
        inner = np.maximum(self.reach_mm - away, 0.1 * self.reach_mm)
        return corners(tightened(inner)), corners(tightened(self.reach_mm + away))

    def band_mm(self, shown: bool = True) -> float:
        """Return half the width of the 90 % band, averaged round the outline."""
        return float(NORMAL_90 * (self.shown_mm if shown else self.raw_mm).mean())


@dataclass(frozen=True)
class TorsoOutlines:
    """All outlines of one torso, upper chest first.

    Attributes
    ----------
    levels
        By line.
    widened
        How many times wider than for a usual body the bands are, because readings disagree.
    doubts
        What was not quite believed, for a page to say.
    known
        The state behind it, for asking what would sharpen it.
    """

    levels: dict[str, LevelOutline]
    widened: float
    doubts: tuple[Doubt, ...]
    known: Conditioned = field(repr=False)

    def band_mm(self, shown: bool = True) -> float:
        """Return half the width of the 90 % band, averaged over all lines."""
        return float(np.mean([level.band_mm(shown) for level in self.levels.values()]))


def torso_outlines(
    prior: ShapePrior,
    readings: Sequence[OutlineReading],
    fewest_girths: int = 3,
    real_people: float = REAL_PEOPLE,
) -> TorsoOutlines:
    """Return the outlines of a torso at the six lines.

    Parameters
    ----------
    prior
        What is known before.
    readings
        What was measured, each with its spread; two halves or front and back stand for a girth.
    fewest_girths
        So many lines need one (not counting the upper chest).
    real_people
        How many times wider the band shown is than the prior's own.

    Raises
    ------
    FitError
        ``outline_bad_reading``, ``outline_too_few_girths``, ``outline_breadth_depth_misfit``,
        ``outline_parts_misfit`` or ``outline_lengths_out_of_order``: see ``outline_readings``.
    """
    observations, doubts = observations_of(readings, fewest_girths)
    known = condition(prior, observations)
    widened = float(np.sqrt(max(1.0, known.surprise)))
    if widened > 1.5:
        doubts = (*doubts, Doubt("readings_disagree", "", {"times": round(widened, 2)}))
    state, beyond = _kept_near(known.mean)
    if beyond:
        doubts = (*doubts, Doubt("unlike_bodies_known", "", {}))
        widened *= 1.5
    sided = {one.at for one in observations if one.what in (What.LEFT_HALF, What.RIGHT_HALF)}
    levels = {
        line: _level(prior, known, state, at, widened * real_people, at in sided)
        for at, line in enumerate(OUTLINE_LINES)
    }
    return TorsoOutlines(levels, widened, doubts, known)


def _kept_near(state: Floats) -> tuple[Floats, bool]:
    """Return the state with its shape no farther out than was seen, and whether it was."""
    near = state.copy()
    near[SHAPE] = np.clip(state[SHAPE], -FARTHEST_SHAPE, FARTHEST_SHAPE)
    return near, bool(np.abs(near - state).max() > 0.0)


def _level(
    prior: ShapePrior, known: Conditioned, state: Floats, at: int, wider: float, sided: bool
) -> LevelOutline:
    girth = girth_mm(state, at)
    shape = half_shape(prior, at, state)
    reach = made_convex(mirrored(girth / 1000.0 * shape))
    raw = np.sqrt(mirrored(half_variances(prior, known.covariance, at, girth, shape)))
    points = corners(reach)
    lean_sd = float(np.sqrt(known.covariance[SIDES.start + at, SIDES.start + at]))
    per_mm = _reach_per_lean(points)
    if sided:
        reach = support(_leaning(points, float(state[SIDES.start + at])))
    heights = HEIGHTS.start + at
    girth_row = GIRTHS.start + at
    lean = float(state[SIDES.start + at]) if sided else 0.0
    length = girth_of(reach)
    return LevelOutline(
        line=OUTLINE_LINES[at],
        reach_mm=reach,
        raw_mm=raw,
        shown_mm=np.hypot(wider * raw, lean_sd * per_mm),
        girth_mm=length,
        girth_spread_mm=girth * float(np.sqrt(known.covariance[girth_row, girth_row])) / 100.0,
        front_mm=length * float(state[SHARES.start + at]) / 100.0,
        left_half_mm=length / 2.0 + lean,
        right_half_mm=length / 2.0 - lean,
        height_mm=10.0 * float(state[heights]),
        height_spread_mm=10.0 * float(np.sqrt(known.covariance[heights, heights])),
        centre_mm=10.0 * float(state[CENTRES.start + at]),
    )


def half_gradient(prior: ShapePrior, at: int, girth: float, shape: Floats) -> Floats:
    """Return how the half outline's supports answer to the state, shape (91, S)."""
    rows: Floats = girth / 1000.0 * prior.effect[at]
    rows[:, GIRTHS.start + at] += girth / 1000.0 * shape / 100.0
    return rows


def half_variances(
    prior: ShapePrior, covariance: Floats, at: int, girth: float, shape: Floats
) -> Floats:
    """Return the variance of the half outline's supports, shape (91,), mm squared."""
    rows = half_gradient(prior, at, girth, shape)
    told = ((rows @ covariance) * rows).sum(axis=1)
    return np.asarray(np.maximum(told, 0.0) + (girth / 1000.0 * prior.rest[at]) ** 2)


def _reach_per_lean(points: Floats) -> Floats:
    """Return how far each direction moves if the left half grows by 1 mm, without sign, (180,)."""
    where = (points + np.roll(points, 1, axis=0)) / 2.0
    stretch = np.abs(NORMALS[:, 0] * where[:, 0])
    return np.asarray(stretch / _stretch_answer(points[:BACK]))


def _stretch_answer(half: Floats) -> float:
    """Return d(length of a half) / d(its stretch across), mm."""
    side = np.diff(half, axis=0)
    length = np.maximum(np.hypot(side[:, 0], side[:, 1]), 1e-9)
    return float((side[:, 0] ** 2 / length).sum() + abs(half[0, 0]) + abs(half[-1, 0]))


def _leaning(points: Floats, lean_mm: float) -> Floats:
    """Return a symmetric outline with its halves stretched across apart.

    The left half becomes `lean_mm` longer, the right as much shorter; breadth moves with them,
    depth stays. At centre front and back the outline is level, so it stays convex.
    """
    half = points[:BACK]
    found = points.copy()
    for part, sign in ((slice(0, BACK), 1.0), (slice(BACK, None), -1.0)):
        found[part, 0] *= _stretch_for(half, sign * lean_mm)
    return found


def _stretch_for(half: Floats, longer_mm: float) -> float:
    """Return by what a half is to be stretched across to become longer by so much (Newton)."""
    wanted = _half_length(half) + longer_mm
    stretch = 1.0
    for _ in range(8):
        stretched = half * np.array([stretch, 1.0])
        missing = wanted - _half_length(stretched)
        if abs(missing) < 1e-6:
            break
        stretch = max(0.3, stretch + missing * stretch / _stretch_answer(stretched))
    return stretch


def _half_length(half: Floats) -> float:
    side = np.diff(half, axis=0)
    return float(np.hypot(side[:, 0], side[:, 1]).sum() + abs(half[0, 0]) + abs(half[-1, 0]))
