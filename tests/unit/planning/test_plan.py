# SPDX-License-Identifier: MIT
"""Plans keep to clicks, ranges and what is stuck, and are better than doing nothing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.chance import Goal
from fitassist.planning.forecast import Forecast
from fitassist.planning.layout import Layout
from fitassist.planning.plan import Rules, Search
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH


def a_search(targets: dict[str, float], rules: Rules | None = None, **fields: object) -> Search:
    belief = beliefs.start(Layout.of(a_form(**fields), [(line, GIRTH) for line in LEAST]))
    goals = [Goal(line, GIRTH, mm, -6.35, 6.35) for line, mm in targets.items()]
    return Search(belief, goals, rules or Rules())


girths = st.fixed_dictionaries(
    {"bust": st.floats(850, 1010), "waist": st.floats(650, 820), "hip": st.floats(890, 1060)}
)


@given(girths, st.sampled_from([0.0, 1.0, 4.25]))
def test_a_plan_is_in_whole_clicks_within_range_symmetric_and_no_worse_than_staying(
    targets, opened
):
    search = a_search(targets, opened=opened)
    plan = search.best()
    clicks = (plan.numbers - search.layout.least) / 0.25
    assert np.allclose(clicks, np.round(clicks))
    assert np.all(plan.numbers >= search.layout.least - 1e-9)
    assert np.all(plan.numbers <= search.layout.greatest + 1e-9)
    numbers = dict(zip(search.layout.dials, plan.numbers, strict=True))
    for row in LEAST:
        assert numbers[f"{row}.left"] == numbers[f"{row}.right"]
        mean = np.mean([numbers[f"{row}.{s}"] for s in ("front", "left", "back", "right")])
        assert abs(numbers[f"{row}.front"] - mean) <= 1.0 + 1e-9
        assert abs(numbers[f"{row}.back"] - mean) <= 1.0 + 1e-9
    assert plan.loss <= search.plan(search.now).loss + 1e-9


@given(girths)
def test_the_same_belief_gives_the_same_plan(targets):
    first, second = a_search(targets).best(), a_search(targets).best()
    assert np.array_equal(first.numbers, second.numbers)


def test_a_stuck_dial_stays_and_the_others_make_up_for_it():
    rules = Rules(stuck=frozenset({"bust.front"}))
    search = a_search({"bust": 900.0, "waist": 700.0, "hip": 950.0}, rules)
    plan = search.best()
    numbers = dict(zip(search.layout.dials, plan.numbers, strict=True))
    assert numbers["bust.front"] == LEAST["bust"] + 1.0
    assert plan.means_mm[0] > search.plan(search.now).means_mm[0] + 10.0


@pytest.mark.parametrize("waist_mm", [560.0, 600.0, 900.0, 1000.0])
def test_good_lines_are_not_given_up_for_one_past_what_the_dials_can_do(waist_mm: float) -> None:
    search = a_search({"bust": 905.0, "hip": 955.0, "waist": waist_mm})
    plan = search.best()
    off = np.abs(plan.means_mm - search.centre)
    assert plan.chances[2] < 0.02  # else this would say nothing
    assert off[:2].max() <= 3.0  # a click of one dial
    assert off[2] <= np.abs(search.plan(search.now).means_mm - search.centre)[2]


def test_a_dial_that_stopped_is_not_sent_further():
    rules = Rules(ceilings={"hip.left": LEAST["hip"] + 1.5})
    search = a_search({"bust": 900.0, "waist": 700.0, "hip": 980.0}, rules)
    numbers = dict(zip(search.layout.dials, search.best().numbers, strict=True))
    assert numbers["hip.left"] <= LEAST["hip"] + 1.5


def test_opposite_seams_are_kept_equal_when_asked():
    search = a_search({"bust": 903.0, "waist": 701.0, "hip": 957.0}, Rules(opposite_equal=True))
    numbers = dict(zip(search.layout.dials, search.best().numbers, strict=True))
    for row in LEAST:
        assert numbers[f"{row}.front"] == numbers[f"{row}.back"]
        assert numbers[f"{row}.left"] == numbers[f"{row}.right"]


def test_a_forecast_agrees_with_the_belief_turned_there():
    search = a_search({"bust": 900.0, "waist": 700.0, "hip": 950.0}, opened=3.0)
    belief = beliefs.start(search.layout)
    numbers = search.now + 0.5
    moved = beliefs.turned(belief, dict(zip(search.layout.dials, numbers, strict=True)))
    openings = (numbers - search.layout.least) * search.layout.unit_mm
    means, spreads = Forecast(belief, search.goals).at(openings[None])
    for g, goal in enumerate(search.goals):
        mean, spread = beliefs.predict(moved, goal.line)
        assert means[0, g] == pytest.approx(mean, abs=0.2)
        assert spreads[0, g] == pytest.approx(spread, rel=0.03)


def test_a_row_takes_the_shape_that_is_wanted_of_it():
    wanted = {"bust.front": 3.0, "bust.back": 1.0, "bust.left": -2.0, "bust.right": -2.0}
    plain = a_search({"bust": 930.0, "waist": 700.0, "hip": 950.0})
    search = a_search({"bust": 930.0, "waist": 700.0, "hip": 950.0}, Rules(shape=wanted))
    plan, even = search.best(), plain.best()
    numbers = dict(zip(search.layout.dials, plan.numbers, strict=True))
    clicks = {s: numbers[f"bust.{s}"] / 0.25 for s in ("front", "back", "left", "right")}
    mean = np.mean(list(clicks.values()))
    assert clicks["left"] == clicks["right"]
    for seam, value in clicks.items():
        assert value - mean == pytest.approx(wanted[f"bust.{seam}"], abs=1.51)
    # The girth is as good as without it: shape only says which seam gives it.
    assert plan.means_mm[0] == pytest.approx(even.means_mm[0], abs=2.0)


@pytest.mark.parametrize(
    "rules",
    [
        Rules(stuck=frozenset({"bust.left"})),
        Rules(stuck=frozenset({"bust.front", "bust.left"})),
        Rules(ceilings={"bust.left": LEAST["bust"] + 1.0}),
    ],
)
def test_a_side_that_cannot_turn_is_not_made_up_for_by_the_other_side(rules):
    search = a_search({"bust": 960.0, "waist": 700.0, "hip": 950.0}, rules)
    numbers = dict(zip(search.layout.dials, search.best().numbers, strict=True))
    assert numbers["bust.left"] == numbers["bust.right"] == LEAST["bust"] + 1.0


def test_a_row_varied_from_any_stand_is_forecast_as_if_it_stood_alone():
    # Two ways to one number: few dials varied from a stand that is held, or all dials at once.
    search = a_search({"bust": 900.0, "waist": 700.0, "hip": 950.0})
    forecast, rng = search.forecast, np.random.default_rng(4)
    for _ in range(5):  # what is kept of one stand must not leak into the next
        base = rng.uniform(0.0, 60.0, size=12)
        for row in range(3):
            dials = np.flatnonzero(np.array(search.layout.dial_rows) == row)
            varied = rng.uniform(0.0, 60.0, size=(6, 4))
            means, spreads = forecast.vary(base, dials, varied)
            for k in range(6):
                alone = base.copy()
                alone[dials] = varied[k]
                other_means, other_spreads = forecast.at(alone[None])
                assert means[k] == pytest.approx(other_means[0])
                assert spreads[k] == pytest.approx(other_spreads[0])


def test_a_forecast_of_where_the_dials_stand_is_what_the_belief_predicts():
    search = a_search({"bust": 900.0, "waist": 700.0, "hip": 950.0}, opened=2.0)
    belief = beliefs.start(search.layout)
    means, spreads = search.forecast.at(belief.openings[None])
    for g, line in enumerate(LEAST):
        mean, spread = beliefs.predict(belief, line)
        assert means[0, g] == pytest.approx(mean)
        assert spreads[0, g] == pytest.approx(spread)
