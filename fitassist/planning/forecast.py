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
from fitassist.planning.layout import Floats, Ints, Layout
from fitassist.planning.prior import PriorSpreads, slop_variances


@dataclass(frozen=True)
class _Terms:
    """What K stands of n dials contribute, before any goal's weights."""

    features: Floats  # (K, 3 n): gaps, slopes where the present slop stays, slopes turned about
    slope: Floats  # (K, n)
    noise: Floats  # (K, n) variance of the gap that no unknown explains


@dataclass(frozen=True)
class _Weights:
    """What each of G goals makes of the terms of n dials; all rows are a goal's."""

    shift: Floats  # (n, G) of the slopes
    noise: Floats  # (n, G)
    mean: Floats  # (3 n, G) of the features
    square: Floats  # (3 n, 3 n G): the covariance, goal beside goal


@dataclass(frozen=True)
class _Held:
    """One stand of all dials, and what each goal makes of it."""

    base: Floats  # (D,)
    features: Floats  # (3 D,)
    shift: Floats  # (G, D)
    noise: Floats  # (G, D)
    mean: Floats  # (G,)
    variance: Floats  # (G,)
    slant: Floats  # (G, 3 D): twice the covariance with the features


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
        n_d, n_g = len(self.here), len(self.goals)
        size = 3 * n_d + 2
        # What the goals have of their own, stacked: weights of the features, moments, offsets.
        self._feature_weights = np.zeros((n_g, 3 * n_d))
        self._means, self._covs = np.zeros((n_g, size)), np.zeros((n_g, size, size))
        self._offsets = np.ones((n_g, 2))
        for g, goal in enumerate(self.goals):
            w, self._means[g], self._covs[g] = self._part(goal, mean, cov)
            effect = w * self._means[g, :n_d]
            self._feature_weights[g] = np.concatenate([w, effect, effect])
            self._offsets[g, 1] = 1.0 if goal.what == What.GIRTH else 0.5
        self._effect = self._feature_weights[:, n_d : 2 * n_d]
        self._weights_of: dict[bytes, _Weights] = {}
        self._last: _Held | None = None
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
        return [mean[: len(self.here)] for mean in self._means]

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
        n_d, n_g = len(base), len(self.goals)
        held, there, weights = self._held(base), self._terms(openings, dials), self._weights(dials)
        rest = np.ones(n_d, dtype=bool)
        rest[dials] = False
        columns = np.concatenate([dials, n_d + dials, 2 * n_d + dials])
        change = there.features - held.features[columns]
        means = held.mean + held.shift[:, rest].sum(axis=1)
        means = means + change @ weights.mean + there.slope @ weights.shift
        inner = (change @ weights.square).reshape(len(openings), n_g, len(columns))
        variances = held.variance + held.noise[:, rest].sum(axis=1) + there.noise @ weights.noise
        variances += change @ held.slant[:, columns].T + np.einsum("kgi,ki->kg", inner, change)
        return means, np.sqrt(np.maximum(variances, 1e-9))

    def _held(self, base: Floats) -> _Held:
        """Return one stand of all dials; the last is kept, for rows are varied from it in turn."""
        if self._last is not None and np.array_equal(self._last.base, base):
            return self._last
        n_d = len(base)
        terms = self._terms(base[None], np.arange(n_d))
        features, slope, noise = terms.features[0], terms.slope[0], terms.noise[0]
        row = np.concatenate([self._feature_weights * features, self._offsets], axis=1)
        seen = np.matmul(row[:, None, :], self._covs)[:, 0]
        self._last = _Held(
            base=base.copy(),
            features=features,
            shift=self._effect * (slope * self._lap),
            noise=self._effect**2 * noise,
            mean=(row * self._means).sum(axis=1),
            variance=(seen * row).sum(axis=1),
            slant=2.0 * seen[:, : 3 * n_d] * self._feature_weights,
        )
        return self._last

    def _weights(self, dials: Ints) -> _Weights:
        """Return what the goals make of these dials; kept, since rows are looked at many times."""
        key = dials.tobytes()
        if key not in self._weights_of:
            n_d = len(self.here)
            columns = np.concatenate([dials, n_d + dials, 2 * n_d + dials])
            weights, effect = self._feature_weights[:, columns], self._effect[:, dials]
            square = self._covs[:, columns[:, None], columns]
            square = square * weights[:, :, None] * weights[:, None, :]
            self._weights_of[key] = _Weights(
                shift=(effect * self._lap[dials]).T,
                noise=(effect**2).T,
                mean=(weights * self._means[:, columns]).T,
                square=square.transpose(1, 0, 2).reshape(len(columns), -1),
            )
        return self._weights_of[key]

    def _terms(self, openings: Floats, dials: Ints) -> _Terms:
        """Return what K stands of some dials contribute, before any goal's weights."""
        moved = np.abs(openings - self.here[dials]) > 1e-9
        gap, slope, left = gaps(openings, self._lap[dials], self._lap_sd[dials])
        bend = PriorSpreads().bend * (openings - self.here[dials])
        fresh = (self._slop_variance[dials] + bend**2) * moved
        features = np.concatenate([gap, slope * ~moved, -slope], axis=1)
        return _Terms(features, slope, slope**2 * fresh + left)

    def chances(self, means: Floats, spreads: Floats) -> Floats:
        """(K, G) chance of each goal."""
        return np.asarray(ndtr((self.high - means) / spreads) - ndtr((self.low - means) / spreads))
