# SPDX-License-Identifier: MIT
"""Turn, measure, ask or stop: the next thing worth doing, and why.

The order of thought, after every answer:

1. A reading that is probably a slip is questioned before anything is built on it.
2. If all lines are within tolerance with the wished confidence, stop.
3. Find the best plan. If a line is surely off, go there, unless readings taken now would make the
   turn so much surer that fewer would be needed after it.
4. Otherwise measure every line that is uncertain before a small correction, the one that helps the
   common chance most first.
5. Correct if the correction is expected to do; if more sureness is needed than turning can give,
   measure the line that gives most of it.
6. If the best plan still falls short because dials end, the rest is for padding.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal

import numpy as np
from scipy.special import ndtr, ndtri

from fitassist.planning.belief import Belief, moments, sight
from fitassist.planning.chance import Goal, Outlook, outlook
from fitassist.planning.forecast import Forecast
from fitassist.planning.layout import Floats
from fitassist.planning.plan import Plan, Rules, Search

Kind = Literal["stop", "set", "measure"]


@dataclass(frozen=True)
class Reads:
    """How often a goal was read."""

    since_turn: int = 0  # since a dial last moved
    ever: int = 0  # in this fitting


@dataclass(frozen=True)
class Policy:
    """Thresholds of the order of thought; found by trying many on virtual forms (no source)."""

    doubt: float = 0.15  # a reading more doubtful than this is questioned
    surely_off: float = 0.12  # a line less likely within tolerance than this needs a turn anyway
    nearer: float = 0.25  # by at least this share of its tolerance
    lost: float = 0.05  # a line less likely within tolerance than this at the best plan is given up
    read_first_gain: float = 0.35  # chance gained after a turn that is worth reading before it
    unsure: float = 1.10  # a spread above this many tape spreads is worth a reading before a move
    worth_turning: float = 0.03  # gain in common chance worth a correction that will not yet do
    most_readings_of_one: int = 4  # of one line between two turns
    hope: float = 0.12  # a smaller chance that more readings would settle it is none
    centred: float = 0.35  # a line this near its target, in tolerances, can be centred by clicks
    reserve: float = 0.65  # stop only when the chance of a miss is this share of the one accepted


def stopping_chance(confidence: float, policy: Policy) -> float:
    """Return the common chance at which to stop.

    Chances are themselves estimates and stopping picks the lucky ones, so the chance of a miss is
    held below what is accepted.
    """
    return 1.0 - policy.reserve * (1.0 - confidence)


@dataclass(frozen=True)
class Advice:
    """What to do next."""

    kind: Kind
    now: Outlook
    plan: Plan
    goal: int = -1  # which goal to measure
    why: str = ""
    out_of_reach: frozenset[int] = field(default_factory=frozenset)


def advise(
    belief: Belief,
    goals: Sequence[Goal],
    rules: Rules,
    tape_mm: float,
    reads: Sequence[Reads],
    policy: Policy | None = None,
) -> Advice:
    """Return the next thing worth doing.

    Parameters
    ----------
    belief, goals, rules
        What is believed, wanted and allowed. Goals must be of lines that dials can move.
    tape_mm
        Spread of one wrap of the tape.
    reads
        (G,) how often each goal was read.
    """
    policy = policy or Policy()
    rules = replace(rules, confidence=stopping_chance(rules.confidence, policy))
    now = outlook(belief, goals)
    search = Search(belief, goals, rules)
    if now.joint >= rules.confidence:
        return Advice("stop", now, search.plan(search.now), why="good_enough")
    plan = search.best()
    return _Thought(belief, tuple(goals), rules, tape_mm, tuple(reads), policy, now, plan).next()


@dataclass(frozen=True)
class _Thought:
    """One thinking over of what is known; ``next`` is its outcome."""

    belief: Belief
    goals: tuple[Goal, ...]
    rules: Rules
    tape_mm: float
    reads: tuple[Reads, ...]
    policy: Policy
    now: Outlook
    plan: Plan

    @cached_property
    def lost(self) -> frozenset[int]:
        """Goals that even the best plan almost surely misses."""
        return frozenset(int(g) for g in np.flatnonzero(self.plan.chances < self.policy.lost))

    @cached_property
    def half_mm(self) -> Floats:
        """(G,) half the width of each tolerance."""
        return np.array([goal.half_mm for goal in self.goals])

    @cached_property
    def centre_mm(self) -> Floats:
        """(G,) middle of each tolerance."""
        return np.array([goal.centre_mm for goal in self.goals])

    def next(self) -> Advice:
        """Return the advice."""
        # One wrap may be a slip: nobody is told a form is too big, or too small, on one alone.
        alone = [g for g in self.lost if self.reads[g].ever == 1 and self._may_read(g)]
        if alone:
            return self._advice("measure", "confirm", alone[0])
        wanted = [g for g in range(len(self.goals)) if g not in self.lost]
        joint = float(np.prod(self.now.chances[wanted])) if self.lost else self.now.joint
        reachable = float(np.prod(self.plan.chances[wanted]))
        if self.lost and self.plan.turns == 0 and joint >= self.rules.confidence:
            return self._advice("stop", "as_near")
        if self.plan.turns and self._surely_off():
            first = self._worth_reading_first()
            return self._advice("measure", "aim", first) if first >= 0 else self._turn("far")
        unsure = [g for g in range(len(self.goals)) if self._is_unsure(g)]
        if unsure:
            pick = max(unsure, key=lambda g: self.now.spreads_mm[g] / self.half_mm[g])
            return self._advice("measure", "unsure", pick)
        gain = reachable - joint
        if self.plan.turns and (
            reachable >= self.rules.confidence or gain > self.policy.worth_turning
        ):
            return self._turn("fine")
        return self._surer()

    def _advice(self, kind: Kind, why: str, goal: int = -1) -> Advice:
        return Advice(kind, self.now, self.plan, goal, why, self.lost)

    def _turn(self, why: str) -> Advice:
        return self._advice("set", why)

    def _may_read(self, goal: int) -> bool:
        return self.reads[goal].since_turn < self.policy.most_readings_of_one

    def _is_unsure(self, goal: int) -> bool:
        """Whether a line wants a reading before a small move; a lost one needs no exact figure."""
        lost = 1.5 * self.half_mm[goal]
        enough = lost if goal in self.lost else self.policy.unsure * self.tape_mm
        return bool(self.now.spreads_mm[goal] > enough) and self._may_read(goal)

    def _surely_off(self) -> bool:
        """Whether some line is off beyond reasonable doubt and the plan brings it nearer."""
        here = np.abs(self.now.means_mm - self.centre_mm)
        nearer = (here - np.abs(self.plan.means_mm - self.centre_mm)) / self.half_mm
        off = self.now.chances < self.policy.surely_off
        return bool(np.any(off & (nearer > self.policy.nearer)))

    def _surer(self) -> Advice:
        """Measure what makes the verdict surer, or stop when nothing can."""
        open_goals = [g for g in range(len(self.goals)) if g not in self.lost and self._may_read(g)]
        if not open_goals:
            return self._turn("fine") if self.plan.turns else self._advice("stop", "as_near")
        if self._hope() < self.policy.hope:
            return self._advice("stop", "as_near")
        gains = self._centred_gain()
        return self._advice("measure", "confirm", max(open_goals, key=lambda g: gains[g]))

    def _after_reading(self) -> Floats:
        """(G,) spreads after one more reading of each goal as the form stands."""
        spreads = self.now.spreads_mm
        return np.asarray(spreads * self.tape_mm / np.hypot(spreads, self.tape_mm))

    def _centred_gain(self) -> Floats:
        """(G,) log-chance gained by one reading of each goal if the line is centred afterwards."""
        before, after = (
            np.log(2 * ndtr(self.half_mm / s) - 1)
            for s in (self.now.spreads_mm, self._after_reading())
        )
        return np.asarray(after - before)

    def _hope(self) -> float:
        """Chance that one more round of readings would let the fitting stop well.

        A line that the dials can centre will do. One that they cannot (a row at its stop) must be
        found nearer its target than it is now believed to be: after a reading its mean moves by a
        Gaussian of variance (spread before)^2 - (spread after)^2.
        """
        spreads, after = self.plan.spreads_mm, self._after_reading()
        moves = np.sqrt(np.maximum(spreads**2 - np.minimum(after, spreads) ** 2, 1e-6))
        off = np.abs(self.plan.means_mm - self.centre_mm)
        needed = ndtri(0.5 + 0.5 * self.rules.confidence ** (1.0 / len(self.goals)))
        room = self.half_mm - needed * after
        found = ndtr((room - off) / moves) - ndtr((-room - off) / moves)
        held = (off > self.policy.centred * self.half_mm) & np.array(
            [g not in self.lost for g in range(len(self.goals))]
        )
        return float(np.prod(np.where(held, np.maximum(found, 0.0), 1.0)))

    def _worth_reading_first(self) -> int:
        """Return a goal to read before a large turn, or -1.

        After reading every goal where the form stands now, the spread expected at the planned
        stand is worked out (it does not depend on what the tape will say). If the common chance
        there rises by enough, the readings save others after the turn.
        """
        before = self.plan.spreads_mm
        after = spreads_after_reading(self.belief, self.goals, self.plan, self.tape_mm)
        sure, as_is = (np.prod(2 * ndtr(self.half_mm / s) - 1) for s in (after, before))
        if sure - as_is < self.policy.read_first_gain:
            return -1
        unread = np.array([reads.since_turn == 0 for reads in self.reads])
        gains = np.where(unread, before / after, -1.0)
        pick = int(np.argmax(gains))
        return pick if gains[pick] > 1.15 else -1


def spreads_after_reading(
    belief: Belief, goals: Sequence[Goal], plan: Plan, tape_mm: float
) -> Floats:
    """(G,) spreads at the planned stand if every goal were read once where the form stands now."""
    mean, cov = moments(belief)
    diagonal = np.diagonal(cov)
    rows = np.array([sight(belief, g.line, g.what, mean, diagonal)[0] for g in goals])
    seen = rows @ cov
    s = seen @ rows.T + np.eye(len(goals)) * tape_mm**2
    learnt = cov - seen.T @ np.linalg.solve(s, seen)
    narrowed = Belief(
        belief.layout,
        np.zeros(1),
        mean[None],
        learnt[None],
        np.ones(1),
        np.zeros(1),
        belief.openings,
    )
    forecast = Forecast(narrowed, goals)
    openings = (plan.numbers - belief.layout.least) * belief.layout.unit_mm
    return np.asarray(forecast.at(openings[None])[1][0])
