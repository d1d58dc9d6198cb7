# SPDX-License-Identifier: MIT
"""What is worth doing next: each branch of the thought, with chances checked by simulation."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.advise import (
    Policy,
    Reads,
    _Thought,
    advise,
    spreads_after_reading,
    stopping_chance,
)
from fitassist.planning.chance import Goal, Outlook
from fitassist.planning.forecast import Forecast
from fitassist.planning.layout import Layout
from fitassist.planning.plan import Plan, Rules, Search
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH
LINES = tuple(LEAST)
HALF = 6.35
MANY = (Reads(2, 3),) * 3


def a_belief(opened: float = 2.0) -> beliefs.Belief:
    return beliefs.start(Layout.of(a_form(opened=opened), [(line, GIRTH) for line in LINES]))


def alone(belief: beliefs.Belief) -> beliefs.Belief:
    """Return one hypothesis with the mixture's own mean and covariance."""
    mean, cov = belief.moments
    one = np.ones(1)
    return replace(
        belief, log_weights=0 * one, means=mean[None], covs=cov[None], tape=one, slipped=0 * one
    )


def goals_at(belief: beliefs.Belief, off_mm: tuple[float, ...] = (0.0, 0.0, 0.0)) -> list[Goal]:
    """Return goals so far from where the lines are believed to be."""
    return [
        Goal(line, GIRTH, beliefs.predict(belief, line)[0] + off, -HALF, HALF)
        for line, off in zip(LINES, off_mm, strict=True)
    ]


def read_often(belief: beliefs.Belief, times: int = 6) -> beliefs.Belief:
    for _ in range(times):
        for line in LINES:
            belief = beliefs.observe(belief, line, GIRTH, beliefs.predict(belief, line)[0], 3.0)
    return belief


def a_thought(
    means_off: tuple[float, ...],
    spreads: tuple[float, ...],
    plan_off: tuple[float, ...] | None = None,
    plan_spreads: tuple[float, ...] | None = None,
    turns: int = 4,
    reads: tuple[Reads, ...] = MANY,
    confidence: float = 0.95,
) -> _Thought:
    """Return a thought of what is said to be known, in mm off the targets."""
    belief = a_belief()
    goals = goals_at(belief)
    centre = np.array([goal.centre_mm for goal in goals])

    def chances(off: tuple[float, ...], sd: tuple[float, ...]) -> np.ndarray:
        return np.array(
            [stats.norm.cdf(HALF, o, s) - stats.norm.cdf(-HALF, o, s)
             for o, s in zip(off, sd, strict=True)]
        )  # fmt: skip

    now = chances(means_off, spreads)
    plan_off, plan_spreads = plan_off or means_off, plan_spreads or spreads
    there = chances(plan_off, plan_spreads)
    outlook = Outlook(centre + np.array(means_off), np.array(spreads), now, float(now.prod()))
    plan = Plan(
        numbers=belief.layout.least + 2.0,
        chance=float(there.prod()),
        chances=there,
        means_mm=centre + np.array(plan_off),
        spreads_mm=np.array(plan_spreads),
        turns=turns,
        loss=0.0,
    )
    rules = Rules(confidence=confidence)
    return _Thought(belief, tuple(goals), rules, 3.0, reads, Policy(), outlook, plan)


# -- stopping ---------------------------------------------------------------------------------


@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
def test_stopping_asks_for_a_smaller_chance_of_a_miss_than_is_accepted(confidence):
    policy = Policy()
    asked = stopping_chance(confidence, policy)
    assert 1.0 - asked == pytest.approx(policy.reserve * (1.0 - confidence))
    assert stopping_chance(confidence, Policy(reserve=1.0)) == pytest.approx(confidence)


def test_a_form_that_stands_as_wanted_and_was_read_often_is_done():
    belief = read_often(a_belief())
    advice = advise(belief, goals_at(belief), Rules(), 3.0, MANY)
    assert (advice.kind, advice.why) == ("stop", "good_enough")
    assert advice.now.joint >= stopping_chance(0.95, Policy())
    assert advice.plan.turns == 0


def test_a_form_far_off_is_turned_before_it_is_read_once_its_dials_are_known():
    belief = read_often(a_belief())
    advice = advise(belief, goals_at(belief, (45.0, 30.0, 50.0)), Rules(), 3.0, MANY)
    assert (advice.kind, advice.why) == ("set", "far")
    assert advice.plan.turns > 0
    assert np.all(np.abs(advice.plan.means_mm - advice.now.means_mm) > 20.0)


def test_a_line_the_dials_cannot_reach_is_read_a_second_time_before_it_is_given_up():
    belief = read_often(a_belief())
    goals = goals_at(belief, (0.0, -120.0, 0.0))
    once = tuple(Reads(1, 1) for _ in LINES)
    first = advise(belief, goals, Rules(), 3.0, once)
    assert first.out_of_reach == {1}
    assert (first.kind, first.why, first.goal) == ("measure", "confirm", 1)
    second = advise(belief, goals, Rules(), 3.0, (Reads(1, 1), Reads(2, 2), Reads(1, 1)))
    assert (second.kind, second.goal) != ("measure", 1)


# -- the branches of a thought ----------------------------------------------------------------


def test_goals_under_the_limit_at_the_best_plan_are_given_up_and_no_others():
    limit = Policy().lost
    off = [stats.norm.ppf(1 - limit * f) * 2.0 + HALF for f in (0.9, 1.1)]  # one side only
    thought = a_thought((off[0], off[1], 0.0), (2.0, 2.0, 2.0))
    assert thought.plan.chances[0] < limit < thought.plan.chances[1]
    assert thought.lost == {0}


def test_the_most_unsure_line_for_its_tolerance_is_read_first():
    advice = a_thought((0.0, 0.0, 0.0), (4.0, 5.5, 4.5)).next()
    assert (advice.kind, advice.why, advice.goal) == ("measure", "unsure", 1)


def test_a_line_is_not_read_beyond_what_another_wrap_can_tell():
    most = Policy().most_readings_of_one
    reads = (Reads(0, 2), Reads(most, most), Reads(0, 2))
    advice = a_thought((0.0, 0.0, 0.0), (4.0, 5.5, 4.5), reads=reads).next()
    assert (advice.kind, advice.goal) == ("measure", 2)


def test_a_line_surely_off_is_turned_even_while_it_is_unsure():
    advice = a_thought((-30.0, 0.0, 0.0), (5.0, 2.0, 2.0), (0.0, 0.0, 0.0), (5.5, 2.0, 2.0)).next()
    assert (advice.kind, advice.why) == ("set", "far")
    # Not on its account if the plan hardly brings it nearer.
    still = a_thought((-30.0, 0.0, 0.0), (5.0, 2.0, 2.0), (-29.0, 0.0, 0.0), (5.5, 2.0, 2.0))
    assert still.next().why != "far"


def test_a_correction_is_made_if_it_would_do_or_gains_enough():
    good = a_thought((4.0, 0.0, 0.0), (2.0, 1.0, 1.0), (0.0, 0.0, 0.0), (2.0, 1.0, 1.0))
    assert (good.next().kind, good.next().why) == ("set", "fine")
    # The same chance without a turn to make: nothing to set.
    assert a_thought((4.0, 0.0, 0.0), (2.0, 1.0, 1.0), turns=0).next().kind != "set"
    # A gain below what is worth a turn, and not enough at the end: a reading, or the end.
    small = a_thought((4.0, 0.0, 0.0), (3.0, 1.0, 1.0), (3.9, 0.0, 0.0), (3.0, 1.0, 1.0))
    gain = small.plan.chance - small.now.joint
    assert 0.0 < gain < Policy().worth_turning
    assert small.next().kind != "set"


def test_with_every_line_read_enough_and_nothing_to_turn_the_fitting_ends():
    most = Policy().most_readings_of_one
    done = a_thought((0.0, 5.0, 0.0), (3.0,) * 3, turns=0, reads=(Reads(most, most),) * 3)
    assert (done.next().kind, done.next().why) == ("stop", "as_near")


def test_what_is_lost_does_not_keep_the_rest_from_being_good_enough():
    thought = a_thought((0.0, 60.0, 0.0), (1.0, 2.0, 1.0), turns=0)
    assert thought.lost == {1}
    assert thought.now.joint < 0.01
    assert (thought.next().kind, thought.next().why) == ("stop", "as_near")


# -- what readings are worth ------------------------------------------------------------------


def test_one_more_reading_narrows_a_spread_as_two_gaussians_do():
    thought = a_thought((0.0,) * 3, (2.0, 4.0, 9.0))
    wanted = [1.0 / np.sqrt(1.0 / s**2 + 1.0 / 3.0**2) for s in (2.0, 4.0, 9.0)]
    assert thought._after_reading() == pytest.approx(wanted)


@pytest.mark.parametrize("off", [3.0, 6.0, 9.0])
def test_the_hope_that_readings_settle_it_is_what_simulated_readings_come_to(off):
    spread, tape, n = 4.0, 3.0, 3
    thought = a_thought((off, 0.0, 0.0), (spread, 1.0, 1.0), turns=0)
    draw = np.random.default_rng(5)
    true = draw.normal(off, spread, 200_000)
    read = draw.normal(true, tape)
    weight = spread**2 / (spread**2 + tape**2)
    mean = off + weight * (read - off)
    after = spread * tape / np.hypot(spread, tape)
    needed = stats.norm.ppf(0.5 + 0.5 * thought.rules.confidence ** (1.0 / n))
    share = float(np.mean(np.abs(mean) < HALF - needed * after))
    assert thought._hope() == pytest.approx(share, abs=0.01)


def test_lines_that_can_be_centred_take_nothing_from_the_hope():
    near = Policy().centred * HALF * 0.9
    assert a_thought((near, 0.0, 0.0), (4.0, 1.0, 1.0))._hope() == 1.0


def test_spreads_after_readings_are_those_of_the_belief_that_was_read(monkeypatch):
    # Two ways: all readings at once as linear algebra, and one Kalman step after the other; the
    # spread does not depend on what the tape says.
    monkeypatch.setattr(beliefs, "SLIP_INCH", 1e-30)
    monkeypatch.setattr(beliefs, "SLIP_OTHER", 1e-30)
    belief = alone(a_belief())
    goals = goals_at(belief, (30.0, 25.0, 35.0))
    plan = Search(belief, goals, Rules()).best()
    found = spreads_after_reading(belief, goals, plan, 3.0)
    before = Forecast(belief, goals)
    openings = (plan.numbers - belief.layout.least) * belief.layout.unit_mm
    mean, cov = belief.moments
    rows = [beliefs.sight(belief, g.line, g.what, mean, np.diagonal(cov))[0] for g in goals]
    for j in rows:
        s = float(j @ cov @ j) + 9.0
        cov = cov - np.outer(cov @ j, cov @ j) / s
    read = replace(belief, covs=cov[None])
    assert found == pytest.approx(Forecast(read, goals).at(openings[None])[1][0], rel=1e-6)
    assert np.all(found < before.at(openings[None])[1][0])
