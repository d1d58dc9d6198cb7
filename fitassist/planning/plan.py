# SPDX-License-Identifier: MIT
r"""Where the dials should stand: whole clicks, within ranges, with as few turns as will do.

A plan is a number for every dial. For one row at a time, the others held, every sensible setting
of its dials is looked at together: left and right alike, front and back at most a few clicks from
the row's mean, and small changes of single dials from where they stand now, which is how a girth is
corrected finely (one seam's click is a quarter of the row's). Rows are taken in turn until nothing
improves, from two starts: where the form stands, and the solution in real numbers. The loss is

.. math::

    -\sum_g \log P_g + k \max(0, \log c - \sum_g \log P_g) + \lambda_t T + \lambda_c C + \ldots

with P_g the chance of goal g, c the wished confidence, T the dials turned, C the clicks. A chance
is the belief's, with the slop of the turn and the doubt about each effect in it, so a long turn of
an unknown dial is seen for what it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product

import numpy as np

from fitassist.domain.lines import Seam
from fitassist.planning.belief import Belief
from fitassist.planning.chance import Goal
from fitassist.planning.forecast import Forecast
from fitassist.planning.layout import Bools, Floats, Ints


@dataclass(frozen=True)
class Rules:
    """What a plan must keep to, and what turning costs (in nats of chance)."""

    confidence: float = 0.95
    stuck: frozenset[str] = frozenset()
    ceilings: Mapping[str, float] | None = None  # a dial that stopped: not beyond this number
    floors: Mapping[str, float] | None = None  # the same when closing
    uneven: frozenset[str] = frozenset()  # rows whose left and right differ on purpose
    # Clicks by which the body's shape wants a dial off its row's mean (front wide, sides less).
    shape: Mapping[str, float] | None = None
    opposite_equal: bool = False
    halves_differ: bool = False  # the body asks for left and right of their own
    fine_clicks: int = 4  # how far front or back may stand from the row's mean
    uneven_clicks: int = 8  # the same where left and right are to differ
    turn_cost: float = 0.015
    walk_cost: float = 0.01
    click_cost: float = 0.0005
    uneven_cost: float = 0.002


@dataclass(frozen=True)
class Plan:
    """Numbers for every dial, what is expected there, and what it takes to get there."""

    numbers: Floats  # (D,) printed numbers
    chance: float  # product of the goals' chances
    chances: Floats  # (G,)
    means_mm: Floats  # (G,)
    spreads_mm: Floats  # (G,)
    turns: int
    loss: float


# A click between left and right that the body does not ask for weighs as much as so many clicks
# of front or back off their row.
LOPSIDED = 100.0
# A line with no more chance than this under the best plan is past what the dials can do.
HOPELESS = 0.02
# What half a tolerance off the middle costs, in nats: it breaks ties between good lines, and
# brings a line past the dials' reach as near as the others allow.
MISS_COST, HOPELESS_MISS_COST = 0.05, 0.3
# How far off a common level front and back are looked at when a row is set anew.
EVEN_CLICKS = 2


@cache
def _even_changes(n_groups: int, size: int) -> Ints:
    """(K, n_groups) clicks off a row's mean: all dials alike, then the others a little off."""
    fine = [range(-size, size + 1) if g else (0,) for g in range(n_groups)]
    return np.array([[c, *(c + f for f in rest)] for c, _, *rest in product(range(-3, 4), *fine)])


@cache
def _small_changes(n_groups: int, most: int = 6) -> Ints:
    """(K, n_groups) clicks by which each group of dials may be changed from where it stands.

    A few clicks of any, or more of two groups with the others untouched: turning only front and
    back, or only the sides, is half the turns of turning all.
    """
    found = []
    for changes in product(range(-most, most + 1), repeat=n_groups):
        size = sum(map(abs, changes))
        touched = sum(1 for change in changes if change)
        if size <= 3 or (touched <= 2 and changes[0] == 0) or touched == 1:
            found.append(changes)
    return np.array(found)


class Search:
    """One search for a plan; call ``best``."""

    def __init__(self, belief: Belief, goals: Sequence[Goal], rules: Rules) -> None:
        self.forecast = Forecast(belief, goals)
        self.layout = belief.layout
        self.rules = rules
        self.goals = tuple(goals)
        self.now = self.layout.least + belief.openings / self.layout.unit_mm
        self.half = np.array([goal.half_mm for goal in goals])
        self.centre = np.array([goal.centre_mm for goal in goals])
        self._hoped = np.ones(len(goals), dtype=bool)  # others count by how near they come only
        self._miss_costs = np.full(len(goals), MISS_COST)
        self.top = self.layout.greatest.copy()
        for name, number in (rules.ceilings or {}).items():
            i = self.layout.dial_index[name]
            self.top[i] = min(self.top[i], max(number, self.now[i]))
        self.bottom = self.layout.least.copy()
        for name, number in (rules.floors or {}).items():
            i = self.layout.dial_index[name]
            self.bottom[i] = max(self.bottom[i], min(number, self.now[i]))
        self.rows = [r for r in self._rows_that_matter() if self._dials(r).size]
        wanted = rules.shape or {}
        self.shape = np.array([wanted.get(name, 0.0) for name in self.layout.dials])
        row_of = np.array(self.layout.dial_rows)
        self._at_row: list[Ints] = [np.flatnonzero(row_of == r) for r in self.rows]
        self._sides = [self._sides_of(r, at) for r, at in zip(self.rows, self._at_row, strict=True)]

    def _rows_that_matter(self) -> list[int]:
        """Rows of the goals' own lines; for a line without dials, the row that moves it most."""
        rows = self.layout.form.rows
        row_of = np.array(self.layout.dial_rows)
        matter = set()
        for goal, effects in zip(self.goals, self.forecast.effects(), strict=True):
            own = [r for r, row in enumerate(rows) if row.line == goal.line]
            moved = [float(np.abs(effects[row_of == r]).sum()) for r in range(len(rows))]
            matter |= set(own) or ({int(np.argmax(moved))} if any(moved) else set())
        return sorted(matter)

    def _dials(self, row: int) -> Ints:
        """Indexes of the dials of a row that can be turned."""
        return np.array(
            [
                i
                for i, name in enumerate(self.layout.dials)
                if self.layout.dial_rows[i] == row and name not in self.rules.stuck
            ],
            dtype=int,
        )

    def _losses(
        self, numbers: Floats, base: Floats | None = None, dials: Ints | None = None
    ) -> tuple[Floats, Floats, Floats, Floats]:
        """(K,) losses and (K, G) chances, means, spreads of (K, D) numbers.

        Where only some `dials` differ from the (D,) numbers in `base`, saying so saves most of the
        work.
        """
        rules, layout = self.rules, self.layout
        openings = (numbers - layout.least) * layout.unit_mm
        if base is None or dials is None:
            means, spreads = self.forecast.at(openings)
        else:
            held = (base - layout.least) * layout.unit_mm
            means, spreads = self.forecast.vary(held, dials, openings[:, dials])
        chances = self.forecast.chances(means, spreads)
        logs = np.log(chances + 1e-7)[:, self._hoped].sum(axis=1)
        short = np.maximum(np.log(min(rules.confidence + 0.004, 0.999)) - logs, 0.0)
        miss = np.abs(means - self.centre) / self.half
        moved = np.abs(numbers - self.now) > 1e-9
        clicks = np.abs(numbers - self.now) / layout.steps
        touched = sum((moved[:, at].any(axis=1) for at in self._at_row), np.zeros(len(numbers)))
        cost = rules.turn_cost * moved.sum(axis=1) + rules.click_cost * clicks.sum(axis=1)
        cost += rules.walk_cost * touched + rules.uneven_cost * self._uneven(numbers)
        losses = -0.3 * logs + 2.0 * short + miss @ self._miss_costs + cost
        return losses, chances, means, spreads

    def _uneven(self, numbers: Floats) -> Floats:
        """(K,) clicks by which dials stand off where shape wants them, and left from right."""
        total = np.zeros(len(numbers))
        for at, sides in zip(self._at_row, self._sides, strict=True):
            off = self._off_shape(numbers, at)
            total += np.abs(off).sum(axis=1)
            if sides is not None:
                total += LOPSIDED * np.abs(off[:, sides[0]] - off[:, sides[1]])
        return total

    def _sides_of(self, row: int, at: Ints) -> tuple[int, int] | None:
        """Which of a row's dials are left and right; None where they need not be alike."""
        seams = {Seam(self.layout.dials[i].rpartition(".")[2]): k for k, i in enumerate(at)}
        wanted = self.rules.halves_differ or self.layout.form.rows[row].name in self.rules.uneven
        if wanted or Seam.LEFT not in seams or Seam.RIGHT not in seams:
            return None
        return seams[Seam.LEFT], seams[Seam.RIGHT]

    def _off_shape(self, numbers: Floats, at: Ints) -> Floats:
        """(K, n) clicks of a row's dials off its mean, less what shape wants of them."""
        clicks = numbers[:, at] / self.layout.steps[at] - self.shape[at]
        return np.asarray(clicks - clicks.mean(axis=1, keepdims=True))

    def best(self) -> Plan:
        """Return the best plan found."""
        if not self.rows:  # nothing left to turn
            return self.plan(self.now.copy())
        plan = self.plan(self._least_loss())
        hopeless = plan.chances < HOPELESS
        if hopeless.any():
            # The log of a chance near nothing is steep: the others would be given up for it.
            self._hoped = ~hopeless
            self._miss_costs[hopeless] = HOPELESS_MISS_COST
            plan = self.plan(self._least_loss())
        return plan

    def _least_loss(self) -> Floats:
        """(D,) numbers of least loss found from two starts."""
        starts = [self.now.copy(), self._real_solution()]
        found = [self._descend(start) for start in starts]
        return min(found, key=lambda item: item[0])[1]

    def plan(self, numbers: Floats) -> Plan:
        """Return what is expected at these numbers."""
        losses, chances, means, spreads = self._losses(numbers[None, :])
        turns = int((np.abs(numbers - self.now) > 1e-9).sum())
        return Plan(
            numbers,
            float(chances.prod()),
            chances[0],
            means[0],
            spreads[0],
            turns,
            float(losses[0]),
        )

    def _real_solution(self) -> Floats:
        """Numbers, whole clicks, near the least-squares solution with all dials of a row alike."""
        numbers = self.now.copy()
        for r in self.rows:
            at = self._dials(r)
            numbers[at] = numbers[at].mean() + self.shape[at] * self.layout.steps[at]
        for _ in range(3):
            stands = np.tile(numbers, (1 + len(self.rows), 1))  # here, and each row a click further
            for k, r in enumerate(self.rows, 1):
                at = self._dials(r)
                stands[k, at] += self.layout.steps[at]
            means, _ = self.forecast.at((stands - self.layout.least) * self.layout.unit_mm)
            a = ((means[1:] - means[0]) / self.half).T
            ridge = 1e-3 * np.eye(a.shape[1])
            miss = (self.centre - means[0]) / self.half
            change = np.linalg.solve(a.T @ a + ridge, a.T @ miss)
            for r, clicks in zip(self.rows, change, strict=True):
                at = self._dials(r)
                numbers[at] += clicks * self.layout.steps[at]
            numbers = np.clip(numbers, self.bottom, self.top)
        return self._on_grid(numbers)

    def _on_grid(self, numbers: Floats) -> Floats:
        layout = self.layout
        clicks = np.round((numbers - layout.least) / layout.steps)
        grid = np.clip(layout.least + clicks * layout.steps, self.bottom, self.top)
        held = [i for i, name in enumerate(layout.dials) if name in self.rules.stuck]
        grid[held] = self.now[held]
        for row in self._at_row:
            if not self._no_more_lopsided(grid[None], row)[0]:
                grid[row] = self.now[row]
        return grid

    def _descend(self, numbers: Floats) -> tuple[float, Floats]:
        best = float(self._losses(numbers[None, :])[0][0])
        for _ in range(4):
            before = best
            for r in self.rows:
                options = self._options(r, numbers)
                losses = self._losses(options, numbers, self._dials(r))[0]
                k = int(np.argmin(np.round(losses, 9)))  # of equals the first, on any machine
                if losses[k] < best - 1e-9:
                    best, numbers = float(losses[k]), options[k]
            if best > before - 1e-9:
                break
        return best, numbers

    def _options(self, row: int, numbers: Floats) -> Floats:
        """(K, D) settings of one row worth looking at, the other rows as in `numbers`."""
        groups = self._groups(row)
        layout = self.layout
        at = np.concatenate(groups)
        step, least = layout.steps[at[0]], layout.least[at[0]]
        # First, the row at one level near where it is, front and back a few clicks off it.
        level = least + np.round((numbers[at].mean() - least) / step) * step
        even = _even_changes(len(groups), EVEN_CLICKS)
        # Second, small changes of its dials from where they are in the plan, and in truth.
        small = _small_changes(len(groups))
        stands = [numbers] if np.array_equal(numbers[at], self.now[at]) else [numbers, self.now]
        table = np.tile(numbers, (len(even) + len(stands) * len(small), 1))
        for g, group in enumerate(groups):
            changes = [level + (even[:, g, None] + np.round(self.shape[group])) * step]
            changes += [stand[group] + small[:, g, None] * step for stand in stands]
            table[:, group] = np.concatenate(changes)
        table = np.round(table, 9)
        return table[self._allowed(table, at)]

    def _groups(self, row: int) -> list[Ints]:
        """Dials that move together: left with right, unless the body's halves differ."""
        seams = {Seam(self.layout.dials[i].rpartition(".")[2]): int(i) for i in self._dials(row)}
        sides = (
            [[Seam.LEFT], [Seam.RIGHT]] if self.rules.halves_differ else [[Seam.LEFT, Seam.RIGHT]]
        )
        centre = [[Seam.FRONT], [Seam.BACK]]
        if self.rules.opposite_equal:
            centre = [[Seam.FRONT, Seam.BACK]]
        groups = [[seams[s] for s in together if s in seams] for together in (*sides, *centre)]
        return [np.array(group) for group in groups if group]

    def _no_more_lopsided(self, table: Floats, row: Ints) -> Bools:
        """(K,) which settings leave left and right of a row no further apart than they stand.

        So a side that is stuck or at its end is not made up for by the other side.
        """
        seams = {Seam(self.layout.dials[i].rpartition(".")[2]): int(i) for i in row}
        if Seam.LEFT not in seams or Seam.RIGHT not in seams:
            return np.ones(len(table), dtype=bool)
        left, right = seams[Seam.LEFT], seams[Seam.RIGHT]
        wanted = self.shape[left] - self.shape[right]
        step = self.layout.steps[left]

        def apart(numbers: Floats) -> Floats:
            off = (numbers[..., left] - numbers[..., right]) / step - wanted
            return np.asarray(np.abs(off))

        return np.asarray(apart(table) <= apart(self.now) + 1e-6)

    def _allowed(self, table: Floats, at: Ints) -> Bools:
        """(K,) which settings keep to the ranges and to the fine range about the row's mean."""
        layout = self.layout
        inside = (table >= self.bottom - 1e-9) & (table <= self.top + 1e-9)
        row = np.flatnonzero(np.array(layout.dial_rows) == layout.dial_rows[int(at[0])])
        off = np.abs(self._off_shape(table, row)).max(axis=1)
        name = layout.form.rows[layout.dial_rows[int(at[0])]].name
        lopsided = self.rules.halves_differ or name in self.rules.uneven
        clicks = self.rules.uneven_clicks if lopsided else self.rules.fine_clicks
        # Shape seldom wants whole clicks: half a click more lets the nearest ones through.
        slack = 0.5 if self.shape[row].any() else 0.0
        near = off <= clicks + slack + 1e-6
        if not lopsided:
            near &= self._no_more_lopsided(table, row)
        unchanged = np.abs(table[:, row] - self.now[row]).max(axis=1) < 1e-9
        return np.asarray(inside.all(axis=1) & (near | unchanged))
