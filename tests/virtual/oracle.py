# SPDX-License-Identifier: MIT
"""Knowing the truth: the fewest dials that have to be turned."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from tests.virtual.cases import Case
from tests.virtual.outlines import FLOATS
from tests.virtual.search import MOST_APART, best_setting

_SHARES = (0.9, 0.75, 0.95)  # of the tolerance, so that what is not linear fits into the rest
_PATIENCE_S = 0.25


def fewest_turns(case: Case, even: bool = False) -> int | None:
    """Return the fewest dials turned from where they stand to within tolerance; None if never.

    Without slop and noise, on whole clicks. Girths are made linear in the clicks (secants
    between the start and the last setting tried) and the dials chosen by integer programming;
    only settings whose exact girths are within tolerance count. Not proved to be the very fewest.

    Parameters
    ----------
    even
        Left stands like right, and front and back at most two clicks from their row's mean.
        Otherwise each dial may stand anywhere, which no careful person would do.
    """
    form, lines = case.form, tuple(case.targets_mm)
    targets = np.array([case.targets_mm[line] for line in lines])
    start = form.standing.ravel()
    most = round(float(form.made.greatest[0] - form.made.least[0]) / form.made.step)
    least = np.repeat(form.made.least, 4)

    def miss(numbers: FLOATS) -> FLOATS:
        girths = form.girths(numbers.reshape(*numbers.shape[:-1], 3, 4), lines)
        return np.asarray(girths - targets)

    now = miss(start)
    if np.abs(now).max() <= case.tolerance_mm:
        return 0
    known = best_setting(form, case.targets_mm, good_mm=0.5 * case.tolerance_mm)
    fewest: int | None = None
    if known.worst_mm <= case.tolerance_mm:
        fewest = int((np.abs(known.numbers.ravel() - start) > 1e-9).sum())
    at = np.round((start - least) / form.made.step)
    trial = known.numbers.ravel()
    for share in _SHARES:
        slopes = _secants(miss, start, trial, form.made.step)
        chosen = _choose(slopes, now, share * case.tolerance_mm, at, most, even)
        if chosen is None:
            continue
        trial = start + chosen * form.made.step
        if np.abs(miss(trial)).max() <= case.tolerance_mm:
            turned = int((chosen != 0).sum())
            fewest = turned if fewest is None else min(fewest, turned)
    return fewest


def _secants(miss: Callable[[FLOATS], FLOATS], start: FLOATS, end: FLOATS, step: float) -> FLOATS:
    """Return mm per click, (lines, 12): the mean effect of each dial at both ends of its way."""
    moved = np.where(np.abs(end - start) > 1e-9, end - start, 4 * step)
    change = np.zeros((len(miss(start)), 12))
    for base in (start, end):
        there = np.where(base == start, start + moved, start)  # swing each dial over its way
        back = np.where(base == start, start, start + moved)
        trials_there = np.where(np.eye(12, dtype=bool), there, base)
        trials_back = np.where(np.eye(12, dtype=bool), back, base)
        sign = np.where(base == start, 1.0, -1.0)
        swing = (miss(trials_there) - miss(trials_back)).T * sign
        change += 0.5 * swing / (moved / step)
    return change


def _choose(
    slopes: FLOATS, now: FLOATS, room_mm: float, at: FLOATS, most: int, even: bool
) -> FLOATS | None:
    """Return clicks per dial, (12,), that turn the fewest dials; None if there are none."""
    eye = np.eye(12)
    nothing = np.zeros_like(slopes)
    limits = [
        LinearConstraint(np.hstack([slopes, nothing]), -room_mm - now, room_mm - now),
        LinearConstraint(np.hstack([eye, -most * eye]), -np.inf, 0.0),
        LinearConstraint(np.hstack([eye, most * eye]), 0.0, np.inf),
    ]
    if even:
        for row in range(3):
            left, right = eye[4 * row + 1], eye[4 * row + 3]
            mean = eye[4 * row : 4 * row + 4].mean(axis=0)
            pick = np.stack([left - right, eye[4 * row] - mean, eye[4 * row + 2] - mean])
            stands = pick @ at
            low, high = -np.array([0, 1, 1]) * MOST_APART, np.array([0, 1, 1]) * MOST_APART
            limits.append(
                LinearConstraint(
                    np.hstack([pick, np.zeros_like(pick)]), low - stands, high - stands
                )
            )
    found = milp(
        np.concatenate([np.full(12, 1e-4 / most), np.ones(12)]),
        constraints=limits,
        integrality=np.ones(24),
        bounds=Bounds(
            np.concatenate([-at, np.zeros(12)]), np.concatenate([most - at, np.ones(12)])
        ),
        options={"time_limit": _PATIENCE_S, "mip_rel_gap": 0.02},
    )
    return None if found.x is None else np.round(found.x[:12])
