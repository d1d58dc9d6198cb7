# SPDX-License-Identifier: MIT
"""Knowing the truth: the best symmetric setting of a form."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from scipy.optimize import least_squares

from tests.virtual.form import VirtualForm
from tests.virtual.outlines import FLOATS

MOST_APART = 2  # clicks front or back may stand from the mean of their row
_NEAR = np.array(list(product((-1, 0, 1), repeat=3)))
_NEXT = np.array(list(product((-2, -1, 0, 1, 2), repeat=3)))


@dataclass(frozen=True)
class Setting:
    """Dials on whole clicks, (3 rows, 4 seams) printed numbers, and the worst miss there."""

    numbers: FLOATS
    worst_mm: float


class _Clicks:
    """Settings as whole clicks per row of (sides, front, back)."""

    def __init__(self, form: VirtualForm, targets_mm: dict[str, float]) -> None:
        made = form.made
        self.form, self.lines = form, tuple(targets_mm)
        self.targets = np.array([targets_mm[line] for line in self.lines])
        self.least, self.step = made.least, made.step
        self.most = round(float(made.greatest[0] - made.least[0]) / made.step)

    def numbers(self, clicks: FLOATS) -> FLOATS:
        """Return printed numbers (..., 3, 4) for clicks (..., 3, 3)."""
        return np.asarray(self.least[:, None] + self.step * clicks[..., [1, 0, 2, 0]])

    def miss(self, clicks: FLOATS) -> FLOATS:
        """Return girth less target, (..., lines), mm."""
        return np.asarray(self.form.girths(self.numbers(clicks), self.lines) - self.targets)

    def allowed(self, clicks: FLOATS) -> FLOATS:
        """Keep the settings (n, 3) of one row that are in range and nearly even."""
        mean = (2 * clicks[:, 0] + clicks[:, 1] + clicks[:, 2]) / 4
        even = np.abs(clicks[:, 1:] - mean[:, None]).max(axis=1) <= MOST_APART
        inside = ((clicks >= 0) & (clicks <= self.most)).all(axis=1)
        return np.asarray(clicks[even & inside])

    def even(self) -> FLOATS:
        """Return the best setting with all four dials of a row alike, not on clicks, (3,)."""

        def miss(common: FLOATS) -> FLOATS:
            return self.miss(np.repeat(common[:, None], 3, axis=1))

        start = np.full(3, self.most / 2.0)
        found = least_squares(miss, start, bounds=(0.0, float(self.most)), diff_step=1e-3)
        return np.asarray(found.x)

    def around(self, centre: FLOATS, near: FLOATS) -> tuple[FLOATS, float]:
        """Return the best whole-click setting near a centre (3, 3) and its worst miss."""
        choices = [self.allowed(centre[row] + near) for row in range(3)]
        base = self.miss(centre)
        moves = []
        for row, options in enumerate(choices):
            trial = np.repeat(centre[None], len(options), axis=0)
            trial[:, row] = options
            moves.append(self.miss(trial) - base)
        total = base + moves[0][:, None, None] + moves[1][None, :, None] + moves[2][None, None, :]
        worst = np.abs(total).max(axis=-1)
        first = np.argpartition(worst.ravel(), min(48, worst.size - 1))[:48]
        picks = np.unravel_index(first, worst.shape)
        trials = np.stack([choices[row][picks[row]] for row in range(3)], axis=1)
        exact = np.abs(self.miss(trials)).max(axis=1)
        best = int(np.argmin(exact))
        return trials[best], float(exact[best])


def best_setting(form: VirtualForm, targets_mm: dict[str, float], good_mm: float = 0.0) -> Setting:
    """Return the whole-click setting with the smallest worst miss, left = right.

    First all dials of a row alike and between clicks, then every combination of neighbouring
    clicks (rows taken as additive, the best few computed exactly), moving on while it improves.
    Stops early once the worst miss is at most ``good_mm``.
    """
    clicks = _Clicks(form, targets_mm)
    even = clicks.even()
    centre = np.repeat(np.round(even)[:, None], 3, axis=1)
    worst = float(np.abs(clicks.miss(centre)).max())
    # The largest miss is never below the root mean square, and that is smallest at `even`;
    # standing unevenly within a row changes a girth by a few mm at most.
    between = clicks.miss(np.repeat(even[:, None], 3, axis=1))
    if np.sqrt((between**2).mean()) > good_mm + 5.0:
        return Setting(clicks.numbers(centre), worst)
    for near in (_NEAR, _NEAR, _NEAR, _NEXT, _NEXT):
        found, miss = clicks.around(centre, near)
        if miss >= worst and near is _NEXT:
            break
        if miss < worst:
            centre, worst = found, miss
        if worst <= good_mm:
            break
    return Setting(clicks.numbers(centre), worst)
