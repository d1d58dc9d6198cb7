# SPDX-License-Identifier: MIT
"""Which reading not yet taken would narrow the outlines' bands most, and by how much.

A Gaussian's spread after a reading does not depend on what the reading says, so it can be told
before anybody fetches the tape.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitassist.domain.lines import What
from fitassist.geometry.outline import TorsoOutlines, half_gradient
from fitassist.geometry.outline_readings import OutlineReading
from fitassist.geometry.shape_prior import (
    OUTLINE_LINES,
    Observation,
    ShapePrior,
    girth_mm,
    half_shape,
    predict,
)
from fitassist.geometry.support import Floats

# Tape and boards as in the benchmark: our own choice, near the defaults of domain.spreads.
USUAL_SPREAD_MM: Mapping[What, float] = {
    What.GIRTH: 5.0,
    What.BREADTH: 6.0,
    What.DEPTH: 6.0,
    What.FRONT: 7.0,
    What.BACK: 7.0,
}


@dataclass(frozen=True)
class Sharpening:
    """What one more reading would do.

    Attributes
    ----------
    line, what
        The reading.
    band_left
        Mean band of all lines afterwards, as a share of now: 0.5 halves it.
    band_left_at_line
        The same, of its own line.
    """

    line: str
    what: What
    band_left: float
    band_left_at_line: float


def what_sharpens(
    prior: ShapePrior,
    outlines: TorsoOutlines,
    taken: Sequence[OutlineReading],
    lines: Sequence[str] = OUTLINE_LINES,
    spreads_mm: Mapping[What, float] = USUAL_SPREAD_MM,
) -> tuple[Sharpening, ...]:
    """Return every reading not yet taken, the one that narrows the mean band most first.

    Parameters
    ----------
    prior, outlines, taken
        As given to and got from ``torso_outlines``.
    lines
        Those that may be measured and are shown; bands are averaged over them.
    spreads_mm
        What may be read, with the spread it usually has.
    """
    done = {(one.line, one.what) for one in taken}
    # The back says what girth and front have said already.
    done |= {(line, What.BACK) for line, what in done if what is What.FRONT}
    done |= {(line, What.FRONT) for line, what in done if what is What.BACK}
    wanted = [(line, what) for line in lines for what in spreads_mm if (line, what) not in done]
    if not wanted:
        return ()
    state, covariance = outlines.known.mean, outlines.known.covariance
    gradients, noise = [], []
    for line, what in wanted:
        one = Observation(what, OUTLINE_LINES.index(line), 0.0, spreads_mm[what])
        _mm, row, rest = predict(prior, state, one)
        gradients.append(row)
        noise.append(one.spread_mm**2 + rest)
    rows = np.array(gradients)
    told = covariance @ rows.T
    denominators = (rows.T * told).sum(axis=0) + np.array(noise)
    now, after = [], []
    for line in lines:
        before, later = _spreads(prior, state, covariance, told / np.sqrt(denominators), line)
        now.append(before)
        after.append(later)
    total = np.mean(now)
    shares = np.mean(after, axis=0) / total
    found = []
    for k, (line, what) in enumerate(wanted):
        at = list(lines).index(line)
        found.append(Sharpening(line, what, float(shares[k]), float(after[at][k] / now[at])))
    return tuple(sorted(found, key=lambda one: one.band_left))


def _spreads(
    prior: ShapePrior, state: Floats, covariance: Floats, told: Floats, line: str
) -> tuple[float, Floats]:
    """Return a line's mean spread now, and after each candidate, shape (k,)."""
    at = OUTLINE_LINES.index(line)
    girth, shape = girth_mm(state, at), half_shape(prior, at, state)
    rows = half_gradient(prior, at, girth, shape)
    rest = (girth / 1000.0 * prior.rest[at]) ** 2
    now = np.maximum(((rows @ covariance) * rows).sum(axis=1), 0.0) + rest
    less = (rows @ told) ** 2
    weight = np.ones(len(now))
    weight[[0, -1]] = 0.5
    weight /= weight.sum()
    after = np.sqrt(np.maximum(now[:, None] - less, rest[:, None]))
    return float(weight @ np.sqrt(now)), np.asarray(weight @ after)
