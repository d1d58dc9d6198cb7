# SPDX-License-Identifier: MIT
"""What would be read with the dials elsewhere: many stands at once, from one belief.

A prediction is linear in the unknowns (see ``layout``), so its variance is a quadratic form. Where
only the dials of one row are varied, only their columns change: the form is split into what is held
and a small correction, which is what makes looking at hundreds of settings cheap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from fitassist.domain.lines import What
from fitassist.planning.belief import Belief, gaps, moments
from fitassist.planning.chance import Goal
from fitassist.planning.layout import Bools, Floats, Ints, Layout
from fitassist.planning.prior import PriorSpreads, slop_variances


@dataclass(frozen=True)
class _Terms:
    """Gaps, slopes and noise of K stands of n dials."""

    gap: Floats  # (K, n)
    slope: Floats
    still: Bools  # where the dial's present slop stays
    noise: Floats  # variance of the gap that no unknown explains
    lap: Floats  # (n,)

    def row(self, w: Floats, we: Floats) -> tuple[Floats, Floats, Floats]:
        """Return (K, 3 n) row vectors, (K,) constants and (K,) noise for one goal."""
        seen = we * self.slope
        j = np.concatenate([w * self.gap, seen * self.still, -seen], axis=1)
        return j, seen @ self.lap, self.noise @ we**2


class Forecast:
    """Predictions for many stands of the dials at once, from one belief."""

    def __init__(self, belief: Belief, goals: Sequence[Goal]) -> None:
        self.layout: Layout = belief.layout
        self.goals = tuple(goals)
        self.here = belief.openings
        mean, cov = moments(belief)
        self._lap = mean[self.layout.lap]
        self._lap_sd = np.sqrt(np.diagonal(cov)[self.layout.lap])
        self._slop_variance = slop_variances(self.layout)
        self._parts = [self._part(goal, mean, cov) for goal in self.goals]
        self.low = np.array([goal.low_mm for goal in self.goals])
        self.high = np.array([goal.high_mm for goal in self.goals])

    def _part(self, goal: Goal, mean: Floats, cov: Floats) -> tuple[Floats, Floats, Floats]:
        layout = self.layout
        i = layout.lines.index(goal.line)
        if goal.what == What.GIRTH:
            offsets = [layout.girth.start + i, layout.undergarment.start + i]
        else:
            other = layout.other.start + layout.others.index((goal.line, goal.what))
            offsets = [other, layout.undergarment.start + i]
        every = np.arange(layout.size)
        parts = [every[layout.effects(i)], every[layout.slop], every[layout.lap]]
        index = np.concatenate([*parts, np.array(offsets)])
        return layout.weights(goal.what), mean[index], cov[np.ix_(index, index)]

    def effects(self) -> list[Floats]:
        """Mean effects (D,) of all dials on each goal's line."""
        return [mean[: len(self.here)] for _, mean, _ in self._parts]

    def at(self, openings: Floats) -> tuple[Floats, Floats]:
        """Return (K, G) means and spreads in mm for (K, D) openings in mm."""
        return self.vary(openings[0], np.arange(openings.shape[1]), openings)

    def vary(self, base: Floats, dials: Ints, openings: Floats) -> tuple[Floats, Floats]:
        """Return (K, G) means and spreads with a few dials varied, the others held.

        Parameters
        ----------
        base
            (D,) openings in mm of all dials.
        dials, openings
            (n,) which dials are varied, and (K, n) where they stand instead.
        """
        n_d = len(base)
        rest = np.setdiff1d(np.arange(n_d), dials)
        held, there = self._terms(base[None], np.arange(n_d)), self._terms(openings, dials)
        other = self._terms(base[None, rest], rest)
        columns = np.concatenate([dials, n_d + dials, 2 * n_d + dials])
        means = np.empty((len(openings), len(self.goals)))
        variances = np.empty_like(means)
        for g, (w, mean, cov) in enumerate(self._parts):
            we = w * mean[:n_d]
            garment = 1.0 if self.goals[g].what == What.GIRTH else 0.5
            j = np.append(held.row(w, we)[0][0], [1.0, garment])
            j_there, shift, noise = there.row(w[dials], we[dials])
            _, shift_rest, noise_rest = other.row(w[rest], we[rest])
            change = j_there - j[columns]
            seen = j @ cov
            means[:, g] = float(j @ mean) + float(shift_rest[0]) + change @ mean[columns] + shift
            inner = change @ cov[np.ix_(columns, columns)]
            variances[:, g] = float(seen @ j) + float(noise_rest[0]) + noise
            variances[:, g] += 2.0 * (change @ seen[columns]) + (inner * change).sum(axis=1)
        return means, np.sqrt(np.maximum(variances, 1e-9))

    def _terms(self, openings: Floats, dials: Ints) -> _Terms:
        """Return what K stands of some dials contribute, before any goal's weights."""
        moved = np.abs(openings - self.here[dials]) > 1e-9
        gap, slope, left = gaps(openings, self._lap[dials], self._lap_sd[dials])
        bend = PriorSpreads().bend * (openings - self.here[dials])
        fresh = (self._slop_variance[dials] + bend**2) * moved
        return _Terms(gap, slope, ~moved, slope**2 * fresh + left, self._lap[dials])

    def chances(self, means: Floats, spreads: Floats) -> Floats:
        """(K, G) chance of each goal."""
        return np.asarray(ndtr((self.high - means) / spreads) - ndtr((self.low - means) / spreads))
