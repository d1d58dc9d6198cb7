# SPDX-License-Identifier: MIT
"""Plans against every setting there is: one row at a time, whole clicks, the same loss."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.chance import Goal
from fitassist.planning.layout import Layout
from fitassist.planning.plan import Rules, Search
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH
FAR = 9  # clicks of front, back and sides looked at either way, about the row's level in the plan


def a_search(bust_mm: float, rules: Rules | None = None, opened: float = 2.0) -> Search:
    belief = beliefs.start(Layout.of(a_form(opened=opened), [(line, GIRTH) for line in LEAST]))
    for _ in range(4):
        for line in LEAST:
            belief = beliefs.observe(belief, line, GIRTH, beliefs.predict(belief, line)[0], 3.0)
    now = beliefs.predict(belief, "bust")[0]
    return Search(belief, [Goal("bust", GIRTH, now + bust_mm, -6.35, 6.35)], rules or Rules())


def every_setting(search: Search, about: np.ndarray) -> np.ndarray:
    """Return all settings of the bust row with left like right, within what is allowed."""
    at = {name.rpartition(".")[2]: i for name, i in search.layout.dial_index.items()
          if name.startswith("bust.")}  # fmt: skip
    step = search.layout.steps[at["front"]]
    clicks = range(-FAR, FAR + 1)
    table = np.tile(about, (len(clicks) ** 3, 1))
    for row, (front, back, side) in enumerate(product(clicks, repeat=3)):
        table[row, at["front"]] += front * step
        table[row, at["back"]] += back * step
        table[row, at["left"]] += side * step
        table[row, at["right"]] += side * step
    table = np.round(table, 9)
    return table[search._allowed(table, np.array(sorted(at.values())))]


@pytest.mark.parametrize("bust_mm", [0.0, 2.0, 5.0, -7.0, 13.0, 31.0])
def test_no_setting_of_a_row_is_better_than_the_plan_by_more_than_a_turn_of_one_dial(bust_mm):
    search = a_search(bust_mm)
    plan = search.best()
    for about in (plan.numbers, search.now):
        losses = search._losses(every_setting(search, about))[0]
        assert plan.loss <= losses.min() + search.rules.turn_cost


@pytest.mark.parametrize("bust_mm", [9.0, 18.0])
def test_a_setting_that_is_not_allowed_is_never_planned(bust_mm):
    shape = {"bust.front": 3.0, "bust.left": -1.5, "bust.back": 0.0, "bust.right": -1.5}
    search = a_search(bust_mm, Rules(shape=shape))
    plan = search.best()
    at = [search.layout.dial_index[name] for name in shape]
    off = plan.numbers[at] / search.layout.steps[at] - np.array(list(shape.values()))
    assert np.abs(off - off.mean()).max() <= search.rules.fine_clicks + 0.5 + 1e-6


def test_small_corrections_turn_few_dials_and_by_few_clicks():
    # 2 mm of girth: a click of one seam is a quarter of a quarter inch, 1.6 mm.
    search = a_search(5.0)
    plan = search.best()
    clicks = np.abs(plan.numbers - search.now) / search.layout.steps
    assert 0 < plan.turns <= 2
    assert clicks.sum() <= 4


def test_what_a_plan_costs_is_told_by_its_parts():
    search = a_search(20.0)
    rules = search.rules
    numbers = search.now.copy()
    front, back = (search.layout.dial_index[f"bust.{seam}"] for seam in ("front", "back"))
    numbers[[front, back]] += np.array([2.0, 1.0]) * search.layout.steps[[front, back]]
    (loss,), (chances,), (means,), _ = search._losses(numbers[None])
    logs = float(np.log(chances + 1e-7).sum())
    short = max(np.log(rules.confidence + 0.004) - logs, 0.0)
    miss = float(np.abs(means - search.centre)[0] / search.half[0])
    uneven = sum(abs(off - 0.75) for off in (2.0, 1.0, 0.0, 0.0))
    wanted = -0.3 * logs + 2.0 * short + 0.05 * miss
    wanted += 2 * rules.turn_cost + 3 * rules.click_cost + rules.walk_cost
    assert loss == pytest.approx(wanted + rules.uneven_cost * uneven)


def test_left_may_differ_from_right_only_where_the_body_or_the_user_does():
    search = a_search(8.0)
    left = search.layout.dial_index["bust.left"]
    table = np.tile(search.now, (2, 1))
    table[1, left] += search.layout.steps[left]
    row = np.array([i for name, i in search.layout.dial_index.items() if name.startswith("bust.")])
    assert list(search._allowed(table, row)) == [True, False]
    for rules in (Rules(halves_differ=True), Rules(uneven=frozenset({"bust"}))):
        assert list(a_search(8.0, rules)._allowed(table, row)) == [True, True]
