# SPDX-License-Identifier: MIT
"""The order of walks against brute force over every order."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.lines import What
from fitassist.planning import order
from fitassist.planning.layout import Layout
from tests.builders import LEAST, a_form

LAYOUT = Layout.of(a_form(), [(line, What.GIRTH) for line in LEAST])


def effects(seed: int) -> np.ndarray:
    return np.random.default_rng(seed).uniform(0.0, 0.25, (3, 12))


def cost_of(path, stands, matrix, now, target) -> float:
    """Return the cost of one order, written out step by step as the module's docstring says."""
    lengths = [len(s) - 1 for s in stands]
    disturb = order._disturbance(LAYOUT, matrix, stands)
    strain = order._strain(LAYOUT, stands, now, target)
    habit = order._habit(LAYOUT)
    done, last, total = [0] * len(lengths), -1, 0.0
    for row in path:
        total += habit[row] * sum(done) + (order.ZIGZAG if row != last else 0.0)
        total += sum(
            disturb[row][k] / lengths[row]
            for k in range(len(lengths))
            if k != row and lengths[k] and done[k] == lengths[k]
        )
        done[row] += 1
        total += strain(tuple(done))
        last = row
    return total


@given(st.integers(0, 500), st.lists(st.integers(-10, 16), min_size=3, max_size=3))
def test_no_order_of_the_same_walks_is_cheaper(seed, clicks):
    now = LAYOUT.least + 3.0
    target = now.copy()
    for row, change in enumerate(clicks):
        target[4 * row : 4 * row + 4] += 0.25 * change
    matrix = effects(seed)
    found = order.walks(LAYOUT, matrix, now, target)
    stands = [order._stands(LAYOUT, row, now, target, 2.0) for row in range(3)]
    path = tuple(walk.row for walk in found)
    brute = min(cost_of(p, stands, matrix, now, target) for p in set(permutations(path)))
    assert cost_of(path, stands, matrix, now, target) == pytest.approx(brute, abs=1e-9)


@given(st.lists(st.integers(-12, 20), min_size=12, max_size=12))
def test_walks_end_at_the_plan_and_no_turn_is_larger_than_allowed(clicks):
    now = LAYOUT.least + 3.0
    target = now + 0.25 * np.array(clicks)
    numbers = dict(zip(LAYOUT.dials, now, strict=True))
    for walk in order.walks(LAYOUT, effects(1), now, target):
        for dial, number in walk.numbers:
            assert abs(number - numbers[dial]) <= 2.0 + 0.125 + 1e-9
            assert (number - LEAST[dial.split(".")[0]]) / 0.25 == pytest.approx(
                round((number - LEAST[dial.split(".")[0]]) / 0.25)
            )
            numbers[dial] = number
    assert np.allclose([numbers[d] for d in LAYOUT.dials], target)


def test_neighbouring_rows_are_raised_together_so_that_panels_do_not_bind():
    now = LAYOUT.least.copy()
    target = now + 6.0
    stand = dict(zip(LAYOUT.dials, now, strict=True))
    for walk in order.walks(LAYOUT, effects(2), now, target):
        stand.update(walk.numbers)
        opened = [stand[f"{row}.front"] - LEAST[row] for row in ("bust", "waist", "hip")]
        assert abs(opened[0] - opened[1]) <= 3.0
        assert abs(opened[1] - opened[2]) <= 3.0


def test_nothing_to_turn_is_no_walk():
    now = LAYOUT.least + 1.0
    assert order.walks(LAYOUT, effects(3), now, now.copy()) == ()


def test_very_many_walks_are_ordered_without_searching_them_all():
    now = LAYOUT.least.copy()
    target = now + 8.0
    found = order.walks(LAYOUT, effects(4), now, target, largest_turn=0.25)
    assert len(found) == 3 * 32
    stand = dict(zip(LAYOUT.dials, now, strict=True))
    for walk in found:
        stand.update(walk.numbers)
        opened = [stand[f"{row}.front"] - LEAST[row] for row in ("bust", "waist", "hip")]
        assert abs(opened[0] - opened[1]) <= 3.0
        assert abs(opened[1] - opened[2]) <= 3.0
    assert np.allclose([stand[d] for d in LAYOUT.dials], target)
