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
from typing import Literal

import numpy as np
from scipy.special import ndtr

from fitassist.planning.belief import Belief, moments, sight
from fitassist.planning.chance import Goal, Outlook, outlook
from fitassist.planning.forecast import Forecast
from fitassist.planning.layout import Floats
from fitassist.planning.plan import Plan, Rules, Search


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
    reserve: float = 0.75  # stop only when the chance of a miss is this share of the one accepted


def stopping_chance(confidence: float, policy: Policy) -> float:
    """Return the common chance at which to stop.

    Chances are themselves estimates and stopping picks the lucky ones, so the chance of a miss is
    held below what is accepted.
    """
    return 1.0 - policy.reserve * (1.0 - confidence)


@dataclass(frozen=True)
class Advice:
    """What to do next."""

    kind: Literal["stop", "set", "measure", "ask"]
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
    reads_since_turn: Sequence[int],
    policy: Policy | None = None,
) -> Advice:
    """Return the next thing worth doing.

    Parameters
    ----------
    belief, goals, rules
        What is believed, wanted and allowed. Goals must be of lines that dials can move.
    tape_mm
        Spread of one wrap of the tape.
    reads_since_turn
        (G,) readings of each goal since a dial last moved it.
    """
    policy = policy or Policy()
    rules = replace(rules, confidence=stopping_chance(rules.confidence, policy))
    now = outlook(belief, goals)
    search = Search(belief, goals, rules)
    if now.joint >= rules.confidence:
        stay = search.plan(search.now)
        return Advice("stop", now, stay, why="good_enough")
    plan = search.best()
    lost = frozenset(int(g) for g in np.flatnonzero(plan.chances < policy.lost))
    return _next(belief, goals, rules, tape_mm, reads_since_turn, policy, now, plan, search, lost)


def _next(
    belief: Belief,
    goals: Sequence[Goal],
    rules: Rules,
    tape_mm: float,
    reads: Sequence[int],
    policy: Policy,
    now: Outlook,
    plan: Plan,
    search: Search,
    lost: frozenset[int],
) -> Advice:
    wanted = [g for g in range(len(goals)) if g not in lost]
    joint = now.joint if not lost else float(np.prod(now.chances[wanted]))
    reachable = float(np.prod(plan.chances[wanted]))
    if lost and plan.turns == 0 and joint >= rules.confidence:
        return Advice("stop", now, plan, why="as_near", out_of_reach=lost)
    if plan.turns and _surely_off(now, plan, goals, policy):
        first = _worth_reading_first(belief, goals, plan, tape_mm, policy, reads, lost)
        if first >= 0:
            return Advice("measure", now, plan, first, "aim", lost)
        return Advice("set", now, plan, why="far", out_of_reach=lost)
    unsure = [
        g
        for g in range(len(goals))
        if now.spreads_mm[g] > _unsure_above(g in lost, goals[g], tape_mm, policy)
        and reads[g] < policy.most_readings_of_one
    ]
    if unsure:
        pick = max(unsure, key=lambda g: now.spreads_mm[g] / goals[g].half_mm)
        return Advice("measure", now, plan, pick, "unsure", lost)
    if plan.turns and (reachable >= rules.confidence or reachable - joint > policy.worth_turning):
        return Advice("set", now, plan, why="fine", out_of_reach=lost)
    return _surer(belief, goals, rules, tape_mm, reads, policy, now, plan, lost)


def _unsure_above(lost: bool, goal: Goal, tape_mm: float, policy: Policy) -> float:
    """Return the spread above which a goal is worth a reading; a lost one needs no exact figure."""
    return 1.5 * goal.half_mm if lost else policy.unsure * tape_mm


def _surely_off(now: Outlook, plan: Plan, goals: Sequence[Goal], policy: Policy) -> bool:
    """Whether some line is off beyond reasonable doubt and the plan brings it nearer."""
    half = np.array([goal.half_mm for goal in goals])
    centre = np.array([goal.centre_mm for goal in goals])
    nearer = (np.abs(now.means_mm - centre) - np.abs(plan.means_mm - centre)) / half
    return bool(np.any((now.chances < policy.surely_off) & (nearer > policy.nearer)))


def _surer(
    belief: Belief,
    goals: Sequence[Goal],
    rules: Rules,
    tape_mm: float,
    reads: Sequence[int],
    policy: Policy,
    now: Outlook,
    plan: Plan,
    lost: frozenset[int],
) -> Advice:
    """Measure what makes the verdict surer, or stop when nothing can."""
    open_goals = [
        g for g in range(len(goals)) if g not in lost and reads[g] < policy.most_readings_of_one
    ]
    if not open_goals:
        if plan.turns:
            return Advice("set", now, plan, why="fine", out_of_reach=lost)
        return Advice("stop", now, plan, why="as_near", out_of_reach=lost)
    gains = _centred_gain(now.spreads_mm, goals, tape_mm)
    pick = max(open_goals, key=lambda g: gains[g])
    return Advice("measure", now, plan, pick, "confirm", lost)


def _centred_gain(spreads: Floats, goals: Sequence[Goal], tape_mm: float) -> Floats:
    """(G,) log-chance gained by one reading of each goal if the line is centred afterwards."""
    half = np.array([goal.half_mm for goal in goals])
    after = spreads * tape_mm / np.sqrt(spreads**2 + tape_mm**2)
    gain = np.log(2 * ndtr(half / after) - 1) - np.log(2 * ndtr(half / spreads) - 1)
    return np.asarray(gain)


def _worth_reading_first(
    belief: Belief,
    goals: Sequence[Goal],
    plan: Plan,
    tape_mm: float,
    policy: Policy,
    reads: Sequence[int],
    lost: frozenset[int],
) -> int:
    """Return a goal to read before a large turn, or -1.

    After reading every goal where the form stands now, the spread expected at the planned stand is
    worked out (it does not depend on what the tape will say). If the common chance there rises by
    enough, the readings save others after the turn.
    """
    before = plan.spreads_mm
    after = spreads_after_reading(belief, goals, plan, tape_mm)
    half = np.array([goal.half_mm for goal in goals])
    chance = np.prod(2 * ndtr(half / after) - 1) - np.prod(2 * ndtr(half / before) - 1)
    if chance < policy.read_first_gain:
        return -1
    gains = np.where(np.array(reads) > 0, -1.0, before / after)
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
