# SPDX-License-Identifier: MIT
r"""Which reading of a form teaches most about how its dials open it, before anybody is fitted.

A candidate sets all dials of one row to a number, the others closed, and reads one line. How much
its reading y is expected to tell about the effects e of the dials is their mutual information,
which for Gaussians needs no reading yet:

.. math::

    I(y; e) = \tfrac12 \log \frac{\operatorname{var} y}{\operatorname{var}(y \mid e)}

(Lindley 1956, on the information of an experiment; for one linear reading it is half the fall of
the log-determinant of the covariance of e, which a test compares). The best candidate is asked for;
its reading is noted with the form's girths, and the next is chosen after it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.planning.belief import Belief, moments, sight, turned
from fitassist.planning.layout import Floats, Layout
from fitassist.planning.learned import KNOWN_GIRTH_MM, belief_for

LEVELS = (1.0 / 3.0, 2.0 / 3.0)  # of a row's range: far enough to tell, short of where it may bind
MOST = 5  # readings; more are better spent in a fitting
LEAST_NATS = 0.2  # a reading expected to tell less is not worth a walk; our own choice


@dataclass(frozen=True)
class Lesson:
    """One row set to a number, one line read, and how much that is expected to tell."""

    row: str
    line: str
    numbers: dict[str, float]  # of every dial of the form
    nats: float


def next_lesson(form: Form) -> Lesson | None:
    """Return the reading that teaches most now; None if none teaches enough, or enough were taken.

    Parameters
    ----------
    form
        With the girths noted so far: each at known numbers counts as a lesson taken.
    """
    taken = sum(len(line.girths) for line in form.lines)
    found = lessons(form) if taken < MOST else ()
    best = max(found, key=lambda one: one.nats, default=None)
    return best if best is not None and best.nats >= LEAST_NATS else None


def lessons(form: Form) -> tuple[Lesson, ...]:
    """Return every candidate with what it is expected to teach."""
    rows = [row for row in form.rows if any(dial.row == row.name for dial in form.dials)]
    if not rows:
        return ()
    layout = Layout.of(form, [(row.line, What.GIRTH) for row in rows])
    belief = belief_for(layout, {})
    closed = {dial.name: dial.least for dial in form.dials}
    found = []
    for row in rows:
        for level in LEVELS:
            numbers = closed | _at(form, row.name, level)
            there = turned(belief, numbers)
            for line in dict.fromkeys(one.line for one in rows):
                found.append(Lesson(row.name, line, numbers, information(there, line)))
    return tuple(found)


def information(belief: Belief, line: str) -> float:
    """Return how much a girth read as the form stands is expected to tell of the effects, nats."""
    layout = belief.layout
    mean, cov = moments(belief)
    j, _constant, extra = sight(belief, line, What.GIRTH, mean, np.diagonal(cov))
    noise = extra + KNOWN_GIRTH_MM**2
    whole = float(j @ cov @ j) + noise
    rest = float(j @ _given_effects(cov, layout) @ j) + noise
    return 0.5 * float(np.log(whole / rest))


def _given_effects(cov: Floats, layout: Layout) -> Floats:
    """(S, S) covariance of all unknowns once the effects of the dials are known."""
    effects = slice(0, layout.girth.start)
    block = cov[effects, effects] + 1e-12 * np.eye(layout.girth.start)
    across = cov[:, effects]
    return np.asarray(cov - across @ np.linalg.solve(block, across.T))


def _at(form: Form, row: str, level: float) -> dict[str, float]:
    """Return the numbers of a row's dials at a share of their range, in whole clicks."""
    numbers = {}
    for dial in form.dials:
        if dial.row == row and not dial.missing:
            clicks = round(level * (dial.greatest - dial.least) / dial.step)
            numbers[dial.name] = min(dial.least + clicks * dial.step, dial.greatest)
    return numbers
