# SPDX-License-Identifier: MIT
r"""The belief about one form on one day: a few competing Gaussians over the unknowns of ``layout``.

Each hypothesis is a Gaussian N(x; m, P). A reading y of a quantity with row vector j is linear in
the unknowns, ``y = j x + c + noise``, so updating is the Kalman step

.. math::

    s = j P j^T + r, \quad k = P j^T / s,
    \quad m' = m + k (y - c - j m), \quad P' = P - k k^T s

(Kalman 1960; in its batch form this is ordinary Bayesian least squares, which a test compares).
Hypotheses differ in how loosely a row's dials are held, in how good the tape is, and in whether a
reading was a misreading: each new reading splits every hypothesis into "as read", "an inch too
much", "an inch too little" and "something else altogether", weighted by how well it predicted what
came. Unlikely ones are dropped. So nothing odd is believed at once, and nothing odd is forgotten:
the next reading decides.

Turning a dial draws its slop anew and loosens its lap by a share of the turn. A new fitting draws
the undergarment and all slops anew. All functions return a new belief.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.special import ndtr

from fitassist.domain.lines import What
from fitassist.planning.layout import Floats, Ints, Layout
from fitassist.planning.prior import (
    PriorSpreads,
    prior_covariance,
    prior_mean,
    slop_variances,
    undergarment_variances,
)

MM_PER_INCH = 25.4
# Chance of a slip in any one reading, our own choice: an inch up or down, or anything at all.
SLIP_INCH = 0.007
SLIP_OTHER = 0.003
SLIP_OTHER_MM = 60.0
# Tapes are not equally steady: shares of belief, and the factor on the stated spread.
TAPES = ((0.92, 1.0), (0.08, 1.7))
MOST_HYPOTHESES = 20
LEAST_WEIGHT = 1e-5
NEAR_SLIPS_MM = 9.0  # closer to its prediction than this, an inch slip need not be considered
DRIFT = 0.015  # share by which effects loosen between two fittings
PUT_ON_AGAIN_MM = 0.7  # spread of what one undergarment adds, put on another day; our own choice


@dataclass(frozen=True)
class Belief:
    """H competing Gaussians over S unknowns, and where the dials stand."""

    layout: Layout
    log_weights: Floats  # (H,)
    means: Floats  # (H, S)
    covs: Floats  # (H, S, S)
    tape: Floats  # (H,) factor on the tape's spread
    slipped: Floats  # (H,) 1 where the hypothesis calls the last reading a slip
    openings: Floats  # (D,) mm above closed, as the numbers say

    @cached_property
    def weights(self) -> Floats:
        """(H,) normalised weights."""
        w = np.exp(self.log_weights - self.log_weights.max())
        return np.asarray(w / w.sum())

    @cached_property
    def moments(self) -> tuple[Floats, Floats]:
        """(S,) mean and (S, S) covariance of the whole mixture."""
        w = self.weights
        mean = w @ self.means
        apart = self.means - mean
        return mean, np.tensordot(w, self.covs, axes=1) + (apart * w[:, None]).T @ apart

    @property
    def doubt(self) -> float:
        """Chance that the last reading was a slip."""
        return float(self.weights @ self.slipped)


def start(layout: Layout, guesses_mm: Mapping[str, float] | None = None) -> Belief:
    """Return the belief before anything was read, with the dials at the form's numbers."""
    guesses = dict(guesses_mm or {})
    n_rows = len(layout.form.rows)
    loose: list[int | None] = [None, *range(n_rows)]
    spread = PriorSpreads()
    mean = prior_mean(layout, guesses)
    covs, weights, tapes = [], [], []
    for row in loose:
        cov = prior_covariance(layout, guesses, row)
        each = min(spread.loose_row, 0.3 / max(n_rows, 1))
        chance = 1.0 - n_rows * each if row is None else each
        for share, factor in TAPES:
            covs.append(cov)
            weights.append(np.log(chance * share))
            tapes.append(factor)
    return Belief(
        layout=layout,
        log_weights=np.array(weights),
        means=np.tile(mean, (len(covs), 1)),
        covs=np.array(covs),
        tape=np.array(tapes),
        slipped=np.zeros(len(covs)),
        openings=layout.openings({}),
    )


def moments(belief: Belief) -> tuple[Floats, Floats]:
    """Return (S,) mean and (S, S) covariance of the whole mixture."""
    return belief.moments


def gaps(openings: Floats, lap: Floats, spread: Floats) -> tuple[Floats, Floats, Floats]:
    """Mean, slope and left-over variance of ``max(0, opening - lap)`` for a doubtful lap.

    With lap ~ N(lap, spread^2) and z = (opening - lap) / spread: the mean is
    spread * (z Phi(z) + phi(z)), its slope Phi(z) (rectified Gaussian, standard result). What the
    slope does not explain of the variance is returned to be treated as noise.
    """
    spread = np.maximum(spread, 1e-6)
    z = (openings - lap) / spread
    phi = np.exp(-0.5 * np.minimum(z * z, 1400.0)) / np.sqrt(2.0 * np.pi)
    p = ndtr(z)
    mean = spread * (z * p + phi)
    second = spread**2 * ((z * z + 1.0) * p + z * phi)
    variance = np.maximum(second - mean**2, 0.0)
    return mean, p, np.maximum(variance - p * p * spread**2, 0.0)


def sight(
    belief: Belief, line: str, what: What, mean: Floats, cov_diagonal: Floats
) -> tuple[Floats, float, float]:
    """Return (S,) row vector j, constant c and extra variance of a reading at the present stand."""
    layout = belief.layout
    i = layout.lines.index(line)
    w = layout.weights(what)
    lap, spread = mean[layout.lap], np.sqrt(cov_diagonal[layout.lap])
    open_mm, slope, left = gaps(belief.openings, lap, spread)
    effect = mean[layout.effects(i)]
    j = np.zeros(layout.size)
    j[layout.effects(i)] = w * open_mm
    j[layout.slop] = w * effect * slope
    j[layout.lap] = -w * effect * slope
    if what == What.GIRTH:
        j[layout.girth.start + i] = 1.0
        j[layout.undergarment.start + i] = 1.0
    else:
        j[layout.other.start + layout.others.index((line, what))] = 1.0
        j[layout.undergarment.start + i] = 0.5
    constant = float(np.sum(w * effect * slope * lap))
    extra = float(np.sum((w * effect) ** 2 * left))
    return j, constant, extra


def predict(belief: Belief, line: str, what: What = What.GIRTH) -> tuple[float, float]:
    """Return mean and spread (mm) of a quantity as the form stands, free of the tape's error."""
    mean, cov = moments(belief)
    j, c, extra = sight(belief, line, what, mean, np.diagonal(cov))
    return float(j @ mean + c), float(np.sqrt(max(float(j @ cov @ j) + extra, 0.0)))


def observe(belief: Belief, line: str, what: What, mm: float, spread_mm: float) -> Belief:
    """Return the belief after one reading of `mm` with the tape's stated spread."""
    mean = belief.weights @ belief.means
    diagonal = belief.weights @ np.diagonal(belief.covs, axis1=1, axis2=2)
    j, c, extra = sight(belief, line, what, mean, diagonal)
    expected = belief.means @ j + c
    pj = belief.covs @ j  # (H, S)
    spread_sq = pj @ j + extra
    noise = (spread_mm * belief.tape) ** 2
    lost = np.full(len(noise), SLIP_OTHER_MM**2)
    # What the tape may have done: as read, an inch too much, too little, or anything.
    tales = [(1.0 - SLIP_INCH - SLIP_OTHER, 0.0, noise, 0.0), (SLIP_OTHER, 0.0, lost, 1.0)]
    if np.abs(mm - belief.weights @ expected) >= NEAR_SLIPS_MM:
        tales += [(SLIP_INCH / 2, slip, noise, 1.0) for slip in (MM_PER_INCH, -MM_PER_INCH)]
    gaps_mm = np.concatenate([mm - slip - expected for _, slip, _, _ in tales])
    totals = np.concatenate([spread_sq + noise_sq for _, _, noise_sq, _ in tales])
    logs = np.concatenate([belief.log_weights + np.log(chance) for chance, *_ in tales])
    logs = logs - 0.5 * (gaps_mm**2 / totals + np.log(totals))
    slipped = np.repeat([slip for *_, slip in tales], len(noise))
    keep = _likeliest(logs)
    parent = keep % len(noise)
    gain = pj[parent] / totals[keep, None]
    return replace(
        belief,
        log_weights=logs[keep] - logs[keep[0]],
        means=belief.means[parent] + gain * gaps_mm[keep, None],
        covs=belief.covs[parent] - gain[:, :, None] * pj[parent][:, None, :],
        tape=belief.tape[parent],
        slipped=slipped[keep],
    )


def _likeliest(logs: Floats) -> Ints:
    """Indexes of the hypotheses worth keeping, likeliest first."""
    w = np.exp(logs - logs.max())
    w = w / w.sum()
    keep: Ints = np.argsort(-w, kind="stable")[:MOST_HYPOTHESES]
    return np.asarray(keep[w[keep] >= LEAST_WEIGHT])


def _pruned(belief: Belief) -> Belief:
    keep = _likeliest(belief.log_weights)
    return replace(
        belief,
        log_weights=belief.log_weights[keep] - belief.log_weights[keep[0]],
        means=belief.means[keep],
        covs=belief.covs[keep],
        tape=belief.tape[keep],
        slipped=belief.slipped[keep],
    )


def trusted(belief: Belief, share: float = 0.05) -> Belief:
    """Return the belief after someone vouched for the last reading: slips count for `share`."""
    logs = belief.log_weights + np.log(share) * belief.slipped
    return _pruned(replace(belief, log_weights=logs))


def turned(belief: Belief, numbers: Mapping[str, float], tolerance: float = 1e-9) -> Belief:
    """Return the belief with dials standing at other numbers; only those that moved are renewed."""
    layout = belief.layout
    openings = belief.openings.copy()
    for name, number in numbers.items():
        i = layout.dial_index.get(name)
        if i is not None:
            openings[i] = (number - layout.least[i]) * layout.unit_mm
    moved = np.flatnonzero(np.abs(openings - belief.openings) > tolerance)
    if not len(moved):
        return belief
    at_slop = layout.slop.start + moved
    at_lap = layout.lap.start + moved
    means, covs = belief.means.copy(), belief.covs.copy()
    means[:, at_slop] = 0.0
    covs[:, at_slop, :] = 0.0
    covs[:, :, at_slop] = 0.0
    covs[:, at_slop, at_slop] = slop_variances(layout)[moved]
    bend = PriorSpreads().bend * (openings[moved] - belief.openings[moved])
    covs[:, at_lap, at_lap] += bend**2
    return replace(belief, means=means, covs=covs, openings=openings)


def next_fitting(
    belief: Belief, numbers: Mapping[str, float], *, same_garment: bool = False, passed: int = 1
) -> Belief:
    """Return the belief for a new fitting of the same form, dials at `numbers`.

    Slops are drawn anew, effects loosen a little, misreadings are settled. So is the undergarment,
    unless the form wears the same one again: then it is only as doubtful as putting it on is.

    Parameters
    ----------
    same_garment
        Whether the form wears what it wore.
    passed
        Over how many fittings the effects loosened.
    """
    layout = belief.layout
    belief = turned(belief, numbers)
    means, covs = belief.means.copy(), belief.covs.copy()
    garment = layout.undergarment
    anew = [(layout.slop, slop_variances(layout))]
    if not same_garment:
        anew.append((garment, undergarment_variances(layout)))
    for part, variance in anew:
        means[:, part] = 0.0
        covs[:, part, :] = 0.0
        covs[:, :, part] = 0.0
        index = np.arange(part.start, part.stop)
        covs[:, index, index] = variance
    if same_garment:
        index = np.arange(garment.start, garment.stop)
        covs[:, index, index] += PUT_ON_AGAIN_MM**2
    effects = np.arange(0, layout.girth.start)
    covs[:, effects, effects] += passed * (DRIFT * means[:, effects]) ** 2
    return replace(belief, means=means, covs=covs, slipped=np.zeros(len(belief.log_weights)))


def known_girth(
    belief: Belief, line: str, numbers: Iterable[tuple[str, float]], mm: float, spread_mm: float
) -> Belief:
    """Return the belief after a girth noted in the past, at known numbers, in whatever it wore."""
    here = {
        name: belief.layout.least[i] + belief.openings[i] / belief.layout.unit_mm
        for name, i in belief.layout.dial_index.items()
    }
    there = turned(belief, dict(numbers))
    index = belief.layout.lines.index(line)
    garment = undergarment_variances(belief.layout)[index]
    read = observe(there, line, What.GIRTH, mm, float(np.sqrt(spread_mm**2 + garment)))
    return turned(replace(read, slipped=np.zeros(len(read.log_weights))), here)
