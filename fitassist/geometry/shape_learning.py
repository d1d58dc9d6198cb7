# SPDX-License-Identifier: MIT
"""Learns the shape prior from outlines of bodies; used to rebuild its file and to test it.

Five lines are learned. The upper chest is not in the data: its outline is taken half-way between
those of bust and under-bust and held loosely, its girth from the bust's.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fitassist.geometry.shape_prior import (
    BACK_LENGTH,
    CENTRES,
    GIRTHS,
    HALF,
    HEIGHTS,
    LEARNED_LINES,
    MODES,
    OUTLINE_LINES,
    SHAPE,
    SHARES,
    SIDES,
    STATE_SIZE,
    PriorKind,
    ShapePrior,
    ShapePriors,
)
from fitassist.geometry.support import (
    GIRTH_PER_SUM,
    NORMALS,
    STEP_RAD,
    Floats,
    mirrored,
)

STORED_MM = 0.05  # the data file keeps whole multiples of it
WAIST = LEARNED_LINES.index("waist")

# Correlations learned from some hundred bodies are partly chance: this much is taken off them.
SHRINKAGE = 0.05
# About as many readings as are believed at once; with few bodies the spread about a regression on
# them must be widened (the variance of prediction in linear regression).
USUAL_READINGS = 12

# Left half less half the girth. No published figure was found; our own choice. Neighbouring lines
# lean the same way by half of it.
SIDE_SPREAD_MM, SIDE_LIKENESS = 6.0, 0.5

# Women's upper chest by bust: a straight line through the logarithms of the end columns (bust
# 31 1/8 and 46 in, upper chest 31 3/4 and 43 7/8 in) of ASTM D5585-11e1 table 1; the ten columns
# between lie within 1 % of it. Men: the chest itself (no source). The spread is our own choice.
UPPER_CHEST_SLOPE: dict[PriorKind, float] = {"woman": 0.828, "man": 1.0, "any": 0.9}
UPPER_CHEST_AT_BUST_MM: dict[PriorKind, tuple[float, float]] = {
    "woman": (790.575, 806.45),
    "man": (1000.0, 1000.0),
    "any": (900.0, 900.0),
}
UPPER_CHEST_SPREAD = 3.0  # % of girth
# Its outline may be flatter, longer before than behind, squarer (mm at 1 m of girth); how much
# lies in front (%); how high (cm, 8 above the bust as in domain.lines); how far to the front.
UPPER_CHEST_SHAPE_MM = (4.0, 2.0, 2.0)
UPPER_CHEST_SHARE, UPPER_CHEST_HEIGHT, UPPER_CHEST_CENTRE = 1.5, 1.5, 1.5
UPPER_CHEST_RISE = 8.0

# Nobody of no assumption, children among them, was in the data: both kinds together, all spreads
# a third larger, and any size of body (e**0.3, 35 % up or down). Our own choices.
ANY_WIDER, ANY_SIZE, ANY_HEIGHT = 1.33, 30.0, 3.0


@dataclass(frozen=True)
class Bodies:
    """Bodies to learn from.

    Attributes
    ----------
    outlines_mm
        Taut-tape outlines, shape (n, 5, 128, 2), centred, from centre front to the left.
    front_share
        Part of each girth in front of a plumb line at the side of the waist, (n, 5).
    heights_mm, centres_mm
        Above the floor, and towards the front, (n, 5).
    back_length_mm
        Back neck to waist, (n,).
    women
        Which of them are women, (n,).
    """

    outlines_mm: Floats
    front_share: Floats
    heights_mm: Floats
    centres_mm: Floats
    back_length_mm: Floats
    women: NDArray[np.bool_]

    def only(self, which: NDArray[np.intp]) -> Bodies:
        """Return some of them."""
        return Bodies(
            self.outlines_mm[which],
            self.front_share[which],
            self.heights_mm[which],
            self.centres_mm[which],
            self.back_length_mm[which],
            self.women[which],
        )


def load_bodies(source: Path | bytes) -> Bodies:
    """Return the bodies of the data file (halves of outlines in whole steps of 0.05 mm)."""
    content = source if isinstance(source, bytes) else source.read_bytes()
    with np.load(io.BytesIO(content), allow_pickle=False) as file:
        half = np.cumsum(file["half_outlines"].astype(np.int64), axis=2) * STORED_MM
        other = half[:, :, -2:0:-1] * np.array([-1.0, 1.0])
        return Bodies(
            outlines_mm=np.concatenate((half, other), axis=2),
            front_share=file["front_share"].astype(np.float64),
            heights_mm=file["heights_mm"].astype(np.float64),
            centres_mm=file["centres_mm"].astype(np.float64),
            back_length_mm=file["back_length_mm"].astype(np.float64),
            women=file["women"],
        )


def half_supports(outlines_mm: Floats) -> Floats:
    """Return supports of front, left, back: shape (n, 5, 91), mm."""
    found = [(body @ NORMALS[:HALF].T).max(axis=-2) for body in outlines_mm]
    return np.array(found)


def learn_priors(bodies: Bodies) -> ShapePriors:
    """Return the priors of women, men, and no assumption."""
    women, men = np.flatnonzero(bodies.women), np.flatnonzero(~bodies.women)
    # Both kinds count alike, though there are fewer men.
    again = np.resize(men, len(women))
    return {
        "woman": _learn(bodies.only(women), "woman", len(women)),
        "man": _learn(bodies.only(men), "man", len(men)),
        "any": _widened(
            _learn(bodies.only(np.concatenate((women, again))), "any", len(women) + len(men))
        ),
    }


def _learn(bodies: Bodies, kind: PriorKind, count: int) -> ShapePrior:
    reach = half_supports(bodies.outlines_mm)
    girths = mirrored(reach).sum(axis=-1) * GIRTH_PER_SUM
    shapes = 1000.0 * reach / girths[:, :, None]
    base = shapes.mean(axis=0)
    scores, modes, rest = _shape_modes(shapes - base)
    lines = len(LEARNED_LINES)
    samples = np.concatenate(
        (
            100.0 * np.log(girths / 1000.0),
            100.0 * bodies.front_share,
            (bodies.heights_mm - bodies.heights_mm[:, [WAIST]]) / 10.0,
            (bodies.centres_mm - bodies.centres_mm[:, [WAIST]]) / 10.0,
            bodies.back_length_mm[:, None] / 10.0,
            scores.reshape(len(reach), -1),
        ),
        axis=1,
    )
    covariance = np.cov(samples.T) * (1.0 - SHRINKAGE)
    covariance[np.diag_indices(len(covariance))] /= 1.0 - SHRINKAGE
    covariance *= (1.0 + 1.0 / count) * (count - 1.0) / (count - 2.0 - USUAL_READINGS)
    effect = np.zeros((lines, HALF, lines * MODES))
    for line in range(lines):
        effect[line, :, line * MODES : (line + 1) * MODES] = modes[line]
    return _with_upper_chest(samples.mean(axis=0), covariance, base, effect, rest, kind)


def _shape_modes(shapes: Floats) -> tuple[Floats, Floats, Floats]:
    """Return scores (n, 5, modes) of unit spread, modes (5, 91, modes), rest (5, 91)."""
    count, lines = shapes.shape[:2]
    weight = np.ones(HALF)
    weight[[0, -1]] = 0.5  # front and back stand for one direction, all others for two
    weight = np.sqrt(weight)
    scores = np.zeros((count, lines, MODES))
    modes = np.zeros((lines, HALF, MODES))
    rest = np.zeros((lines, HALF))
    for line in range(lines):
        weighted = shapes[:, line] * weight
        variances, axes = np.linalg.eigh(weighted.T @ weighted / (count - 1.0))
        spread, right = np.sqrt(variances[: -MODES - 1 : -1]), axes[:, : -MODES - 1 : -1].T
        right = right * np.sign(right[np.arange(MODES), np.abs(right).argmax(axis=1)])[:, None]
        scores[:, line] = weighted @ right.T / spread
        modes[line] = (spread[:, None] * right / weight).T
        rest[line] = (shapes[:, line] - scores[:, line] @ modes[line].T).std(axis=0)
    return scores, modes, rest


def _with_upper_chest(
    mean: Floats,
    covariance: Floats,
    base: Floats,
    effect: Floats,
    rest: Floats,
    kind: PriorKind,
) -> ShapePrior:
    """Add the upper chest and the sides, which the data do not have."""
    lines, bust = len(LEARNED_LINES), 0
    carry = np.zeros((STATE_SIZE, len(mean)))
    shift = np.zeros(STATE_SIZE)
    own = np.zeros(STATE_SIZE)
    for where, part in enumerate((GIRTHS, SHARES, HEIGHTS, CENTRES)):
        for line in range(lines):
            carry[part.start + 1 + line, where * lines + line] = 1.0
    carry[BACK_LENGTH, 4 * lines] = 1.0
    learned = slice(SHAPE.start, SHAPE.start + lines * MODES)
    carry[learned, 4 * lines + 1 :] = np.eye(lines * MODES)
    slope = UPPER_CHEST_SLOPE[kind]
    at_bust, at_chest = (100.0 * np.log(mm / 1000.0) for mm in UPPER_CHEST_AT_BUST_MM[kind])
    carry[GIRTHS.start, bust] = slope
    shift[GIRTHS.start] = at_chest - slope * at_bust
    carry[SHARES.start, lines : lines + 2] = 0.5
    carry[HEIGHTS.start, 2 * lines + bust] = 1.0
    shift[HEIGHTS.start] = UPPER_CHEST_RISE
    carry[CENTRES.start, 3 * lines + bust] = 1.0
    own[GIRTHS.start] = UPPER_CHEST_SPREAD**2
    own[SHARES.start] = UPPER_CHEST_SHARE**2
    own[HEIGHTS.start] = UPPER_CHEST_HEIGHT**2
    own[CENTRES.start] = UPPER_CHEST_CENTRE**2
    own[learned.stop :] = 1.0
    whole = carry @ covariance @ carry.T + np.diag(own)
    count = len(OUTLINE_LINES)
    whole[SIDES, SIDES] = SIDE_SPREAD_MM**2 * (
        SIDE_LIKENESS + (1.0 - SIDE_LIKENESS) * np.eye(count)
    )
    full = np.zeros((count, HALF, STATE_SIZE))
    full[1:, :, learned] = effect
    full[0] = (full[1] + full[2]) / 2.0
    full[0, :, learned.stop :] = _upper_chest_modes()
    return ShapePrior(
        mean=carry @ mean + shift,
        covariance=whole,
        base=np.vstack(((base[0] + base[1]) / 2.0, base)),
        effect=full,
        rest=np.vstack((np.hypot(rest[0], rest[1]) / 2.0, rest)),
    )


def _upper_chest_modes() -> Floats:
    """Return three ways of another shape that keep girth and centre, shape (91, 3)."""
    angle = np.arange(HALF) * STEP_RAD
    flat, fore, square = UPPER_CHEST_SHAPE_MM
    return np.column_stack(
        (
            flat * np.cos(2.0 * angle),
            fore * (np.cos(3.0 * angle) - np.cos(angle)),
            square * np.cos(4.0 * angle),
        )
    )


def _widened(prior: ShapePrior) -> ShapePrior:
    covariance = prior.covariance * ANY_WIDER**2
    covariance[SIDES, SIDES] = prior.covariance[SIDES, SIDES]
    covariance[GIRTHS, GIRTHS] += ANY_SIZE**2
    for part in (HEIGHTS, CENTRES):
        covariance[part] *= ANY_HEIGHT
        covariance[:, part] *= ANY_HEIGHT
    covariance[BACK_LENGTH] *= ANY_HEIGHT
    covariance[:, BACK_LENGTH] *= ANY_HEIGHT
    return ShapePrior(prior.mean, covariance, prior.base, prior.effect, prior.rest * ANY_WIDER)
