# SPDX-License-Identifier: MIT
"""What is known of a torso's outlines before it is measured: one Gaussian over all lines at once.

The unknowns are the logarithms of six girths, what share of each lies in front, heights, centres,
left against right, and a few shape modes a line; readings of any of them condition all the rest.
The prior is learned from synthetic bodies by ``shape_learning`` and kept in a small file.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, get_args

import numpy as np

from fitassist.domain.lines import What
from fitassist.errors import BadFile
from fitassist.geometry.support import BACK, FRONT, LEFT, Floats

OUTLINE_LINES = ("upper_chest", "bust", "under_bust", "waist", "high_hip", "hip")
PriorKind = Literal["woman", "man", "any"]
PRIOR_KINDS: tuple[PriorKind, ...] = get_args(PriorKind)
HALF = BACK + 1  # directions from front over left to back
MODES = 5  # shape modes of each learned line
UPPER_CHEST_MODES = 3
LEARNED_LINES = OUTLINE_LINES[1:]
ROUNDING = 1e-4  # the file keeps whole multiples of it

_N = len(OUTLINE_LINES)
# Where the unknowns stand in the state. Units: 100 ln(girth / 1 m); % of girth; cm; cm; cm; mm.
GIRTHS = slice(0, _N)
SHARES = slice(_N, 2 * _N)
HEIGHTS = slice(2 * _N, 3 * _N)
CENTRES = slice(3 * _N, 4 * _N)
BACK_LENGTH = 4 * _N
SIDES = slice(4 * _N + 1, 5 * _N + 1)
SHAPE = slice(5 * _N + 1, 5 * _N + 1 + MODES * len(LEARNED_LINES) + UPPER_CHEST_MODES)
STATE_SIZE = SHAPE.stop

_PARTS = ("mean", "covariance", "base", "effect", "rest")


@dataclass(frozen=True)
class ShapePrior:
    """A Gaussian over the state, and how the state draws an outline.

    Attributes
    ----------
    mean, covariance
        Of the state, shape (S,) and (S, S).
    base
        Mean support of a half outline (front, left, back) in mm at a girth of 1 m, (6, 91).
    effect
        What one unit of each unknown adds to it, (6, 91, S).
    rest
        Standard deviation of what the modes leave out, same unit, (6, 91).
    """

    mean: Floats
    covariance: Floats
    base: Floats
    effect: Floats
    rest: Floats


ShapePriors = dict[PriorKind, ShapePrior]


@dataclass(frozen=True)
class Conditioned:
    """The state after readings.

    Attributes
    ----------
    mean, covariance
        Shape (S,) and (S, S).
    surprise
        Chi-square of the readings against prior and noise, over their number; about 1.
    """

    mean: Floats
    covariance: Floats
    surprise: float


@dataclass(frozen=True)
class Observation:
    """One reading of the state: what, at which of the six lines, mm, and its noise.

    A length is the height of the line above the waist; at ``BACK_LENGTH``, back neck to waist.
    """

    what: What
    at: int
    mm: float
    spread_mm: float


def half_shape(prior: ShapePrior, at: int, state: Floats) -> Floats:
    """Return the half outline's supports at a girth of 1 m, shape (91,)."""
    return np.asarray(prior.base[at] + prior.effect[at] @ state)


def girth_mm(state: Floats, at: int) -> float:
    """Return the girth a state has at a line."""
    return float(1000.0 * np.exp(state[GIRTHS.start + at] / 100.0))


def predict(prior: ShapePrior, state: Floats, one: Observation) -> tuple[float, Floats, float]:
    """Return what a reading would say, its gradient (S,), and the variance the modes leave out."""
    row = np.zeros(len(state))
    if one.what is What.LENGTH:
        row[one.at if one.at == BACK_LENGTH else HEIGHTS.start + one.at] = 10.0
        return float(row @ state), row, 0.0
    at, girth = one.at, girth_mm(state, one.at)
    row[GIRTHS.start + at] = girth / 100.0
    if one.what is What.GIRTH:
        return girth, row, 0.0
    if one.what in (What.FRONT, What.BACK):
        sign = 1.0 if one.what is What.FRONT else -1.0
        share = state[SHARES.start + at] / 100.0
        share = share if sign > 0 else 1.0 - share
        row *= share
        row[SHARES.start + at] = sign * girth / 100.0
        return girth * float(share), row, 0.0
    if one.what in (What.LEFT_HALF, What.RIGHT_HALF):
        sign = 1.0 if one.what is What.LEFT_HALF else -1.0
        row *= 0.5
        row[SIDES.start + at] = sign
        return girth / 2.0 + sign * float(state[SIDES.start + at]), row, 0.0
    ends = [LEFT, LEFT] if one.what is What.BREADTH else [FRONT, BACK]
    across = float(half_shape(prior, at, state)[ends].sum()) / 1000.0
    row *= across
    row += girth / 1000.0 * prior.effect[at][ends].sum(axis=0)
    return girth * across, row, float((girth / 1000.0 * prior.rest[at][ends].sum()) ** 2)


def condition(prior: ShapePrior, observations: list[Observation]) -> Conditioned:
    """Return what is known of the state once the observations are believed.

    Gauss-Newton on the few mild non-linearities (girth is kept as a logarithm); three rounds
    change the third by less than a hundredth of a millimetre at usual readings.
    """
    if not observations:
        return Conditioned(prior.mean, prior.covariance, 1.0)
    state, covariance = prior.mean, prior.covariance
    values = np.array([one.mm for one in observations])
    noise = np.array([one.spread_mm**2 for one in observations])
    for _ in range(3):
        told = [predict(prior, state, one) for one in observations]
        rows = np.array([row for _mm, row, _rest in told])
        innovation = values - np.array([mm for mm, _row, _rest in told])
        innovation += rows @ (state - prior.mean)
        spread = rows @ covariance @ rows.T
        spread[np.diag_indices(len(values))] += noise + np.array([rest for *_, rest in told])
        solved = np.linalg.solve(spread, np.column_stack((innovation, rows @ covariance)))
        state = prior.mean + covariance @ rows.T @ solved[:, 0]
    after = covariance - covariance @ rows.T @ solved[:, 1:]
    surprise = float(innovation @ solved[:, 0]) / len(values)
    return Conditioned(state, (after + after.T) / 2.0, surprise)


def pack_priors(priors: ShapePriors) -> bytes:
    """Return the file of the priors: the same bytes for the same numbers at 1e-4."""
    arrays = {
        f"{kind}_{part}": np.rint(getattr(prior, part) / ROUNDING).astype(np.int32)
        for kind, prior in sorted(priors.items())
        for part in _PARTS
    }
    file = io.BytesIO()
    np.savez_compressed(file, **arrays)
    return file.getvalue()


def load_priors(source: Path | bytes) -> ShapePriors:
    """Return the priors of a file, by kind.

    Raises
    ------
    BadFile
        ``shape_prior_unreadable`` (value: name) if it is missing or not as it should be.
    """
    name = "" if isinstance(source, bytes) else source.name
    try:
        content = source if isinstance(source, bytes) else source.read_bytes()
        with np.load(io.BytesIO(content), allow_pickle=False) as arrays:
            return {kind: _unpacked(arrays, kind) for kind in PRIOR_KINDS}
    except (OSError, ValueError, KeyError, EOFError, AttributeError, zipfile.BadZipFile) as error:
        raise BadFile("shape_prior_unreadable", name=name) from error


def _unpacked(arrays: np.lib.npyio.NpzFile, kind: PriorKind) -> ShapePrior:
    size, lines = STATE_SIZE, len(OUTLINE_LINES)
    shapes = {
        "mean": (size,),
        "covariance": (size, size),
        "base": (lines, HALF),
        "effect": (lines, HALF, size),
        "rest": (lines, HALF),
    }
    found = {part: arrays[f"{kind}_{part}"] for part in _PARTS}
    if any(found[part].shape != shape for part, shape in shapes.items()):
        raise ValueError(kind)
    return ShapePrior(**{part: found[part] * ROUNDING for part in _PARTS})
