# SPDX-License-Identifier: MIT
"""How likely every line lies within tolerance, for one stand of the dials or for many at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.special import ndtr, ndtri
from scipy.stats import qmc

from fitassist.domain.lines import What
from fitassist.planning.belief import Belief, moments, sight
from fitassist.planning.layout import Floats

LEAST_SHARE = 2e-3  # hypotheses below this weight cannot change a chance that matters
DRAWS = 4096  # points of the fixed low-discrepancy set; a chance is good to about 0.001


@dataclass(frozen=True)
class Goal:
    """What one quantity should measure, and how far off it may be."""

    line: str
    what: What
    target_mm: float
    below_mm: float  # negative
    above_mm: float

    @property
    def low_mm(self) -> float:
        """Smallest value within tolerance."""
        return self.target_mm + self.below_mm

    @property
    def high_mm(self) -> float:
        """Largest value within tolerance."""
        return self.target_mm + self.above_mm

    @property
    def centre_mm(self) -> float:
        """Middle of what is within tolerance."""
        return self.target_mm + 0.5 * (self.below_mm + self.above_mm)

    @property
    def half_mm(self) -> float:
        """Half the width of the tolerance."""
        return 0.5 * (self.above_mm - self.below_mm)


@dataclass(frozen=True)
class Outlook:
    """What is expected of the goals as the form stands."""

    means_mm: Floats  # (G,)
    spreads_mm: Floats  # (G,)
    chances: Floats  # (G,)
    joint: float


@lru_cache(maxsize=16)
def _normals(n: int) -> Floats:
    """(DRAWS, n) standard normals from an unscrambled Sobol set (no random number involved)."""
    points = qmc.Sobol(n, scramble=False).random(DRAWS)
    return np.asarray(ndtri(points + 0.5 / DRAWS))


def outlook(belief: Belief, goals: Sequence[Goal]) -> Outlook:
    """Return prediction, spread and chance of each goal and of all together, as the form stands."""
    n = len(goals)
    if n == 0:
        empty = np.zeros(0)
        return Outlook(empty, empty, empty, 1.0)
    mean, cov = moments(belief)
    rows, constants, extras = _sights(belief, goals, mean, np.diagonal(cov))
    values = belief.means @ rows.T + constants  # (H, G)
    spreads = np.matmul(np.matmul(rows, belief.covs), rows.T)  # (H, G, G)
    spreads[:, np.arange(n), np.arange(n)] += extras
    low = np.array([goal.low_mm for goal in goals])
    high = np.array([goal.high_mm for goal in goals])
    sd = np.sqrt(np.maximum(spreads[:, np.arange(n), np.arange(n)], 1e-12))
    each = ndtr((high - values) / sd) - ndtr((low - values) / sd)
    w = belief.weights
    chances = w @ each
    joint = _joint(w, values, spreads, low, high) if n > 1 else float(chances[0])
    centre = w @ values
    variance = w @ (sd**2 + (values - centre) ** 2)
    return Outlook(centre, np.sqrt(variance), chances, min(joint, float(chances.min())))


def _sights(
    belief: Belief, goals: Sequence[Goal], mean: Floats, diagonal: Floats
) -> tuple[Floats, Floats, Floats]:
    seen = [sight(belief, goal.line, goal.what, mean, diagonal) for goal in goals]
    return (
        np.array([s[0] for s in seen]),
        np.array([s[1] for s in seen]),
        np.array([s[2] for s in seen]),
    )


def _joint(w: Floats, values: Floats, spreads: Floats, low: Floats, high: Floats) -> float:
    """Chance that all goals hold, by a fixed set of draws a hypothesis."""
    z = _normals(values.shape[1])
    total = 0.0
    likely = np.flatnonzero(w > LEAST_SHARE)
    for h in likely:
        cov = spreads[h] + np.eye(len(low)) * 1e-9
        x = values[h] + z @ np.linalg.cholesky(cov).T
        total += w[h] * float(np.mean(np.all((x >= low) & (x <= high), axis=1)))
    return total / float(w[likely].sum())
