# SPDX-License-Identifier: MIT
"""In which order to walk round the form: exact search over how far each row has been turned.

A plan is split into walks. A walk turns the dials of one row by at most the largest turn; a row
further off than that needs several. The order is the cheapest path from no walks done to all walks
done, over the lattice of counts (w_1, ..., w_R), found by dynamic programming; rows are few, so it
is exact and quick. A step costs

* what it disturbs: the leak of this walk into lines whose own row is already at its number;
* a penalty for every neighbour row further away, on one seam, than panels bear without binding;
* a trifle for setting the half that sits underneath before the other, and for going back and forth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from fitassist.planning.layout import Floats, Layout

# In printed numbers: an inch or two centimetres and a half of number is a quarter of that of gap.
LARGEST_TURN = {"in": 2.0, "cm": 5.0}
# Rows above one another may differ by this much of number on one seam (our own choice; a plan that
# itself differs by more is followed as evenly as can be).
LARGEST_STEP = {"in": 3.0, "cm": 7.5}
# The exact search is for forms as they are; beyond these it would take seconds.
MOST_STATES = 3000
MOST_WALKS = 200
BINDING = 1000.0
HABIT = 0.02
ZIGZAG = 0.01


@dataclass(frozen=True)
class Walk:
    """One walk: a row, the numbers its dials are to have, and which part of how many."""

    row: int
    numbers: tuple[tuple[str, float], ...]
    part: tuple[int, int]


def walks(
    layout: Layout, effects: Floats, now: Floats, target: Floats, largest_turn: float | None = None
) -> tuple[Walk, ...]:
    """Return the walks from `now` to `target` (both (D,) printed numbers) in the best order.

    Parameters
    ----------
    effects
        (L, D) mm of line per mm of opening, for what a walk disturbs.
    largest_turn
        Largest turn of one dial in one go, printed numbers; None: the usual for the form's unit.
    """
    largest = largest_turn or layout.form.largest_turn or LARGEST_TURN[layout.form.units]
    stands = [_stands(layout, row, now, target, largest) for row in range(len(layout.form.rows))]
    order = _cheapest(layout, effects, stands, now, target)
    done = [0] * len(stands)
    found = []
    for row in order:
        done[row] += 1
        was, is_ = stands[row][done[row] - 1], stands[row][done[row]]
        moved = [i for i in _dials(layout, row) if abs(was[i] - is_[i]) > 1e-9]
        numbers = tuple((layout.dials[i], float(is_[i])) for i in moved)
        found.append(Walk(row, numbers, (done[row], len(stands[row]) - 1)))
    return tuple(found)


def _dials(layout: Layout, row: int) -> list[int]:
    return [i for i, r in enumerate(layout.dial_rows) if r == row]


def _stands(layout: Layout, row: int, now: Floats, target: Floats, largest: float) -> list[Floats]:
    """Where the row's dials stand after 0, 1, ... of its walks; whole clicks in between.

    A part-turn smaller than half a click turns nothing and is no walk.
    """
    at = _dials(layout, row)
    change = np.zeros_like(now)
    change[at] = target[at] - now[at]
    size = float(np.abs(change).max()) if at else 0.0
    if size < 1e-9:
        return [now]
    n = max(1, int(np.ceil(size / largest - 1e-9)))
    stands = [now]
    for k in range(1, n):
        step = layout.steps
        between = now + np.round(change * k / n / step) * step
        between = np.where(change != 0.0, between, now)
        if np.abs(between - stands[-1]).max() > 1e-9:
            stands.append(between)
    there = np.where(change != 0.0, target, now)
    if np.abs(there - stands[-1]).max() > 1e-9:
        stands.append(there)
    return stands


def _cheapest(
    layout: Layout, effects: Floats, stands: Sequence[Sequence[Floats]], now: Floats, target: Floats
) -> tuple[int, ...]:
    lengths = tuple(len(s) - 1 for s in stands)
    disturb = _disturbance(layout, effects, stands)
    strain = _strain(layout, stands, now, target)
    habit = _habit(layout)

    if np.prod([length + 1.0 for length in lengths]) > MOST_STATES or sum(lengths) > MOST_WALKS:
        return _greedy(lengths, disturb, strain, habit)

    @cache
    def rest(done: tuple[int, ...], last: int) -> tuple[float, tuple[int, ...]]:
        if done == lengths:
            return 0.0, ()
        best: tuple[float, tuple[int, ...]] = (np.inf, ())
        for row, length in enumerate(lengths):
            if done[row] == length:
                continue
            after = (*done[:row], done[row] + 1, *done[row + 1 :])
            cost = sum(
                disturb[row][line] / lengths[row]
                for line in range(len(lengths))
                if line != row and lengths[line] and done[line] == lengths[line]
            )
            cost += strain(after) + habit[row] * sum(done) + (ZIGZAG if row != last else 0.0)
            further, path = rest(after, row)
            if cost + further < best[0] - 1e-12:
                best = (cost + further, (row, *path))
        return best

    return rest((0,) * len(lengths), -1)[1]


def _greedy(
    lengths: tuple[int, ...],
    disturb: list[list[float]],
    strain: Callable[[tuple[int, ...]], float],
    habit: list[float],
) -> tuple[int, ...]:
    """Return an order that takes the cheapest next walk each time; for very many walks only."""
    done, path = (0,) * len(lengths), []
    while done != lengths:
        options = []
        for row, length in enumerate(lengths):
            if done[row] == length:
                continue
            after = (*done[:row], done[row] + 1, *done[row + 1 :])
            over = sum(
                disturb[row][line] / length
                for line in range(len(lengths))
                if line != row and lengths[line] and done[line] == lengths[line]
            )
            options.append((strain(after) + over - habit[row], row, after))
        _, row, done = min(options)
        path.append(row)
    return tuple(path)


def _disturbance(
    layout: Layout, effects: Floats, stands: Sequence[Sequence[Floats]]
) -> list[list[float]]:
    """[row][other row] mm by which turning the whole row moves the other row's line."""
    table = []
    for s in stands:
        change = (s[-1] - s[0]) * layout.unit_mm
        table.append(
            [
                abs(float(effects[layout.lines.index(other.line)] @ change))
                for other in layout.form.rows
            ]
        )
    return table


def _strain(
    layout: Layout, stands: Sequence[Sequence[Floats]], now: Floats, target: Floats
) -> Callable[[tuple[int, ...]], float]:
    """Return a function of the counts: penalty for neighbour rows too far apart on one seam."""
    rows = sorted(
        range(len(layout.form.rows)),
        key=lambda r: layout.heights_mm[layout.form.rows[r].line],
    )
    seams = [
        {layout.dials[i].rpartition(".")[2]: i for i in _dials(layout, r)}
        for r in range(len(layout.form.rows))
    ]
    pairs = [
        (a, b, seams[a][seam], seams[b][seam])
        for a, b in pairwise(rows)
        for seam in seams[a]
        if seam in seams[b]
    ]

    def apart(x: Floats, y: Floats, i: int, j: int) -> float:
        return abs(float((x[i] - layout.least[i]) - (y[j] - layout.least[j])))

    usual = LARGEST_STEP[layout.form.units]
    limits = [
        max(usual, apart(now, now, i, j), apart(target, target, i, j)) for _, _, i, j in pairs
    ]

    def strain(done: tuple[int, ...]) -> float:
        over = 0.0
        for (a, b, i, j), limit in zip(pairs, limits, strict=True):
            over += max(apart(stands[a][done[a]], stands[b][done[b]], i, j) - limit, 0.0)
        return BINDING * over

    return strain


def _habit(layout: Layout) -> list[float]:
    """Return a trifle a walk for rows better set early: the half that sits underneath."""
    first = layout.form.set_first
    heights = layout.heights_mm
    high_first = sorted(
        range(len(layout.form.rows)), key=lambda r: -heights[layout.form.rows[r].line]
    )
    if first == "lower":
        high_first.reverse()
    rank = {row: n for n, row in enumerate(high_first)}
    # Walks taken late multiply the trifle, so rows to be set first get the larger one.
    return [HABIT * (len(rank) - rank[r]) for r in range(len(rank))]
