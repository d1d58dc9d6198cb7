# SPDX-License-Identifier: MIT
"""Tidy pieces: at most four ovals or crescents a place, and bands all round, fitted to the gap.

One shape after the other is chosen from a list of plain ones, each time the one that lowers the
squared distance to the body most; then all are moved and resized in ever smaller steps, each in the
light of the others, while the aim is corrected for what the tape would read. Where the body is
alike on both sides, so are the pieces. What would stand out past the body counts several times.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import scale
from shapely.geometry.base import BaseGeometry

from fitassist.padding.gap import GapMap, padded_girth
from fitassist.padding.layers import layer_count
from fitassist.padding.offers import Offer, fits, offers_for
from fitassist.padding.pieces import Piece
from fitassist.padding.shapes import Bands, Shapes
from fitassist.padding.surface import COLUMNS, Floats, Surface

MOST_A_PLACE = 4
MOST_PLIES = 3
COARSE, FINE = (2, 2), (1, 1)  # columns and rows of the grid used for choosing and improving
OVER_WEIGHT = 1.5  # of a mm too much against a mm missing
# Tried one after the other, the best outcome is taken: how heavily standing out by more than most
# of a sheet weighs while choosing, and which share of the squared gap (or of two sheets) makes a
# piece worth its work.
TRIALS = ((2.0, 0.004), (12.0, 0.004), (40.0, 0.004), (6.0, 0.01))
# Root mean square distance that is good enough: of what it was before, or of one sheet. A little
# less than pieces are to keep to, since the whole grid is finer than the one looked at here.
NEAR_SHARE, NEAR_SHEETS = 0.32, 0.5
NEAR_TAPE = 0.4  # of a sheet all round, in the same way
TRIM_WEIGHT, TRIM_SHARE, MOST_TRIMS = 200.0, 0.9, 15
MOST_TAPE_TURNS, TAPE_SHARE = 8, 0.35
FAR_OVER_SHARE = 0.7
SHORTLIST = 24
# After each round of choosing: how far pieces are moved, and how heavily standing out weighs.
STEPS_MM = (
    ((16.0, 30.0), (8.0, 30.0), (8.0, 30.0), (4.0, 30.0)),
    ((8.0, 30.0), (8.0, 30.0), (4.0, 30.0), (4.0, 60.0), (2.0, 100.0)),
)
_Shares = NDArray[np.float32]


@dataclass(eq=False)
class _Taken:
    """A piece that was chosen, with the share of full thickness it lays."""

    offer: Offer
    shape: Shapes | Bands
    share: _Shares
    plies: int


@dataclass
class _Fit:
    """The folded grid: on each side what is aimed at and what is laid, shape (points,)."""

    surface: Surface
    steps: tuple[int, int]
    x: Floats
    z: Floats
    weight: Floats
    clear: NDArray[np.bool_]
    thickness_mm: float
    feather_mm: float
    aim: list[Floats]
    laid: list[Floats]
    taken: list[_Taken] = field(default_factory=list)
    far_weight: float = 0.0
    shift: list[Floats] | None = None  # of the aim, away from the body, for the tape's sake

    def shares(self, shapes: Shapes | Bands, plies: int) -> _Shares:
        """Return the share of full thickness; several plies are stepped out one after another."""
        return shapes.shares(self.x, self.z, self.feather_mm * plies)

    def cost(self, missing: Floats, side: int = 0) -> Floats:
        """Return the weighted squares of what is missing, shape (...,)."""
        far = self._far(missing, side)
        squares = np.where(missing < 0.0, OVER_WEIGHT, 1.0) * missing**2
        return np.asarray((squares + self.far_weight * far**2) @ self.weight)

    def _far(self, missing: Floats, side: int) -> Floats:
        """Return by how much it stands out too far past the body, whatever is aimed at."""
        over = -missing if self.shift is None else self.shift[side] - missing
        return np.asarray(np.maximum(over - FAR_OVER_SHARE * self.thickness_mm, 0.0))

    def slope(self, side: int) -> _Shares:
        """Return how the cost falls at each point with more laid there, halved."""
        missing = self.aim[side] - self.laid[side]
        far = self._far(missing, side)
        fall = np.where(missing < 0.0, OVER_WEIGHT, 1.0) * missing - self.far_weight * far
        return np.asarray(self.weight * fall, dtype=np.float32)

    def gain(self, sides: Sequence[int], more: NDArray[np.floating[Any]]) -> Floats:
        """Return by how much the cost falls with more laid, shape (..., points)."""
        total = np.zeros(more.shape[:-1])
        for side in sides:
            missing = self.aim[side] - self.laid[side]
            total += self.cost(missing, side) - self.cost(missing - more, side)
        return total

    def take(self, taken: Sequence[_Taken]) -> None:
        """Lay exactly these pieces."""
        self.taken = list(taken)
        self.laid = [np.zeros(len(self.x)) for _ in self.aim]
        for one in self.taken:
            one.share = self.shares(one.shape, one.plies)[0]
            self.lay(one, 1.0)

    def shift_aim(self, wanted: Sequence[Floats], more: Floats) -> None:
        """Aim so much higher than what is wanted, where anything is wanted."""
        self.aim = [np.where(aim > 0.0, np.maximum(aim + more, 0.0), 0.0) for aim in wanted]
        self.shift = [aim - true for aim, true in zip(self.aim, wanted, strict=True)]

    def lay(self, taken: _Taken, sign: float) -> None:
        """Lay a piece, or take it up again with the sign -1."""
        for side in taken.offer.sides:
            more = sign * taken.plies * self.thickness_mm * taken.share
            self.laid[side] = self.laid[side] + more


def tidy_pieces(
    gap: GapMap,
    thickness_mm: float,
    feather_mm: float,
    keep_clear: BaseGeometry | None = None,
    watch: Callable[[float], None] | None = None,
) -> tuple[Piece, ...]:
    """Return ovals, crescents and bands in the order they are laid at each place.

    Parameters
    ----------
    gap
        Measured with a margin of at least ``feather_mm``.
    keep_clear
        Where nothing may lie, in the chart (the armholes).
    watch
        Told which share is done; what it raises ends the work.

    Raises
    ------
    FitError
        As ``layer_count``.
    """
    if layer_count(gap, thickness_mm) == 0:
        return ()
    coarse, fine = (
        _folded(gap, thickness_mm, feather_mm, keep_clear, steps) for steps in (COARSE, FINE)
    )
    offers = offers_for(
        gap.surface,
        coarse.x,
        coarse.z,
        feather_mm,
        is_alike=len(coarse.aim) == 1,
        clear=coarse.clear,
    )
    tried = []
    for trial, (far_weight, gain_share) in enumerate(TRIALS):
        if watch is not None:
            watch((trial + 0.3) / (len(TRIALS) + 0.5))
        coarse.far_weight = far_weight
        coarse.take(())
        fine.take(())
        _fit_all(coarse, fine, offers, gap, gain_share)
        tried.append((*_blame(fine, gap), fine.taken))
        if not tried[-1][1]:
            fine.taken = [replace(taken) for taken in fine.taken]
            _trim(fine)
            tried.append((*_blame(fine, gap), fine.taken))
        if tried[-1][1]:  # another trial could only be a little nearer, and takes its time
            break
    fine.taken = min(tried, key=lambda one: (not one[1], one[0]))[2]
    return _as_pieces(fine)


def _blame(fit: _Fit, gap: GapMap) -> tuple[float, bool]:
    """Return how bad an outcome is, and whether it is good enough.

    The first, mm2, is made of distance, tape, standing out, and wasted material.
    """
    missing = [aim - laid for aim, laid in zip(fit.aim, fit.laid, strict=True)]
    squares = float(np.mean([np.average(one**2, weights=fit.weight) for one in missing]))
    tape = float(np.abs(_missing_girths(fit, gap)).max()) / (2.0 * np.pi)
    too_short = max(tape - 0.5 * fit.thickness_mm, 0.0)  # half a sheet all round is allowed
    over = max(float(-one.min()) for one in missing)
    too_far = max(over - 0.97 * fit.thickness_mm, 0.0)
    cut = sum(
        float(fit.weight @ (one.share > 0.0)) * one.plies * fit.thickness_mm * len(one.offer.sides)
        for one in fit.taken
    )
    waste = max(cut / max(float(sum(fit.weight @ aim for aim in fit.aim)), 1e-9) - 1.2, 0.0)
    before = float(np.mean([np.average(one**2, weights=fit.weight) for one in fit.aim]))
    near = max(NEAR_SHARE * np.sqrt(before), NEAR_SHEETS * fit.thickness_mm)
    is_near = tape <= NEAR_TAPE * fit.thickness_mm and squares <= near**2
    is_good = is_near and max(too_far, waste) <= 0.0
    blame = squares + (20.0 * too_short) ** 2 + (6.0 * too_far) ** 2 + (30.0 * waste) ** 2
    return blame, is_good


def _fit_all(
    coarse: _Fit, fine: _Fit, offers: Sequence[Offer], gap: GapMap, gain_share: float
) -> None:
    """Choose on the coarse grid, improve on the fine one, twice; the pieces are left on both."""
    square = float(sum(coarse.cost(aim) for aim in coarse.aim))
    most = len(coarse.aim) * float(coarse.weight.sum()) * (2.0 * coarse.thickness_mm) ** 2
    wanted = [aim.copy() for aim in fine.aim]
    for steps_mm in STEPS_MM:
        coarse.take(fine.taken)
        _choose(coarse, offers, gain_share * min(square, most))
        fine.take(coarse.taken)
        for step_mm, fine.far_weight in steps_mm:
            _correct_aim(fine, gap, wanted)
            for taken in list(fine.taken):
                _improve(fine, taken, step_mm)
    _settle_tape(fine, gap, wanted)
    fine.aim, fine.shift = wanted, None


def _settle_tape(fit: _Fit, gap: GapMap, wanted: Sequence[Floats]) -> None:
    """Shift the aim at each line until the tape reads right, however pieces resist at first.

    A correction in proportion leaves a rest where a piece is wanted for its neighbours' sake;
    adding up what is still missing removes it.
    """
    owed = np.zeros(len(fit.surface.level_z_mm))
    for turn in range(MOST_TAPE_TURNS):
        miss = _missing_girths(fit, gap) / (2.0 * np.pi)
        if np.abs(miss).max() <= TAPE_SHARE * fit.thickness_mm:
            return
        owed += np.clip(miss, -6.0, 6.0)
        more = np.interp(fit.z, fit.surface.level_z_mm, owed)
        fit.shift_aim(wanted, more)
        for taken in list(fit.taken):
            _improve(fit, taken, (4.0, 2.0)[turn % 2])


def _folded(
    gap: GapMap,
    thickness_mm: float,
    feather_mm: float,
    keep_clear: BaseGeometry | None,
    steps: tuple[int, int],
) -> _Fit:
    surface = gap.surface
    columns = np.arange(0, COLUMNS // 2 + 1, steps[0])
    rows = np.arange(0, len(surface.z_mm), steps[1])
    x = columns / COLUMNS * surface.width_mm
    grid_x, grid_z = (axis.ravel() for axis in np.meshgrid(x, surface.z_mm[rows]))
    # Where the form stands out past the body nothing is missing.
    left = np.maximum(gap.gap_mm[np.ix_(rows, columns)].ravel(), 0.0)
    right = np.maximum(gap.gap_mm[np.ix_(rows, -columns % COLUMNS)].ravel(), 0.0)
    aim = [left, right] if gap.is_two_sided else [(left + right) / 2]
    weight = np.where((grid_x == x[0]) | (grid_x == x[-1]), 0.5, 1.0)
    clear = np.ones(len(grid_x), dtype=bool)
    if keep_clear is not None:
        clear = ~shapely.intersects_xy(keep_clear, grid_x, grid_z)
    laid = [np.zeros(len(grid_x)) for _ in aim]
    return _Fit(surface, steps, grid_x, grid_z, weight, clear, thickness_mm, feather_mm, aim, laid)


def _choose(fit: _Fit, offers: Sequence[Offer], least_gain: float) -> None:
    """Take one shape after the other until none is worth it."""
    while True:
        slopes = [fit.slope(side) for side in range(len(fit.aim))]
        found = [
            _best_of(fit, offer, slopes)
            for offer in offers
            if sum(taken.offer is offer for taken in fit.taken) < MOST_A_PLACE
        ]
        if not found:
            return
        gain, taken = max(found, key=lambda pair: pair[0])
        if gain < least_gain:
            return
        fit.lay(taken, 1.0)
        fit.taken.append(taken)


def _best_of(fit: _Fit, offer: Offer, slopes: Sequence[_Shares]) -> tuple[float, _Taken]:
    """Try the most promising shapes of an offer with every number of plies."""
    along = offer.shares @ np.sum([slopes[side] for side in offer.sides], axis=0)
    plies = np.arange(1, MOST_PLIES + 1)[:, None] * fit.thickness_mm
    guesses = 2.0 * plies * along - plies**2 * offer.squares * len(offer.sides)
    count = min(SHORTLIST, guesses.size)
    flat = np.argpartition(guesses, -count, axis=None)[-count:]
    which_plies, which = np.unravel_index(flat, guesses.shape)
    more = (which_plies + 1)[:, None] * fit.thickness_mm * offer.shares[which]
    gain = fit.gain(offer.sides, more)
    at = int(np.argmax(gain))
    shape = offer.shapes.pick(which[at : at + 1])
    taken = _Taken(offer, shape, offer.shares[which[at]], int(which_plies[at]) + 1)
    return float(gain[at]), taken


def _improve(fit: _Fit, taken: _Taken, step_mm: float) -> None:
    """Move or resize one piece, or change its plies, if that lowers the cost."""
    fit.lay(taken, -1.0)
    near = taken.shape.changed(step_mm)
    near = near.pick(np.flatnonzero(fits(fit.surface, taken.offer.place, near)))
    shares = np.concatenate([taken.share[None], fit.shares(near, taken.plies)])
    is_free = ~(shares[:, ~fit.clear] > 0.0).any(axis=1)
    plies = np.full(len(shares), taken.plies)
    if taken.plies > 1:
        fewer = fit.shares(taken.shape, taken.plies - 1)
        shares, plies = np.concatenate([shares, fewer]), np.append(plies, taken.plies - 1)
        is_free = np.append(is_free, True)
    gain = fit.gain(taken.offer.sides, plies[:, None] * fit.thickness_mm * shares)
    at = int(np.argmax(np.where(is_free, gain, -np.inf)))
    if 0 < at <= len(near):
        taken.shape = near.pick(np.array([at - 1]))
    taken.share, taken.plies = shares[at], int(plies[at])
    if gain[at] > 0.0:
        fit.lay(taken, 1.0)
    else:
        fit.taken.remove(taken)


def _trim(fit: _Fit) -> None:
    """Change only what lies where the padded form stands out by more than a sheet."""
    fit.far_weight = TRIM_WEIGHT
    for turn in range(MOST_TRIMS):
        over = [laid - aim for aim, laid in zip(fit.aim, fit.laid, strict=True)]
        side = int(np.argmax([one.max() for one in over]))
        point = int(np.argmax(over[side]))
        if over[side][point] <= TRIM_SHARE * fit.thickness_mm:
            return
        for taken in list(fit.taken):
            if side in taken.offer.sides and taken.share[point] > 0.0:
                _improve(fit, taken, (8.0, 4.0, 2.0)[turn % 3])


def _correct_aim(fit: _Fit, gap: GapMap, wanted: Sequence[Floats]) -> None:
    """Aim higher at lines where the tape would read too little, lower where too much."""
    miss = np.clip(_missing_girths(fit, gap) / (2.0 * np.pi), -12.0, 12.0)
    more = np.interp(fit.z, fit.surface.level_z_mm, miss)
    fit.shift_aim(wanted, more)


def _missing_girths(fit: _Fit, gap: GapMap) -> Floats:
    """Return the body's girth at each line less what the tape would read, shape (lines,)."""
    surface = fit.surface
    columns = np.arange(0, COLUMNS // 2 + 1, fit.steps[0])
    rows = surface.z_mm[:: fit.steps[1]]
    sides = [laid.reshape(len(rows), len(columns)) for laid in fit.laid]
    around = np.concatenate([sides[0], sides[-1][:, -2:0:-1]], axis=1)
    level_laid = np.stack(
        [np.interp(surface.level_z_mm, rows, column) for column in around.T], axis=1
    )
    girths = padded_girth(surface.level_points_mm[:, :: fit.steps[0]], np.maximum(level_laid, 0.0))
    return np.asarray(gap.body_girth_mm - girths)


def _as_pieces(fit: _Fit) -> tuple[Piece, ...]:
    found: list[Piece] = []
    for offer in dict.fromkeys(taken.offer for taken in fit.taken):
        mine = [taken for taken in fit.taken if taken.offer is offer]
        outlines = [(taken, taken.shape.outline(0)) for taken in mine]
        outlines.sort(key=lambda pair: pair[1].area)
        for order, (taken, outline) in enumerate(outlines, start=1):
            kind = taken.shape.kind(0)
            twin = scale(outline, -1.0, 1.0, origin=(0.0, 0.0))
            side = offer.sides[0]
            seen = outline if side == 0 else twin
            found.append(Piece(offer.name(side), kind, order, taken.plies, seen))
            if offer.has_twin:
                found.append(Piece(offer.name(1), kind, order, taken.plies, twin, offer.name(0)))
    return tuple(found)
