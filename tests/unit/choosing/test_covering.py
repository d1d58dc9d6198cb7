# SPDX-License-Identifier: MIT
"""The fewest forms for many people, against every subset and against an integer programme."""

from __future__ import annotations

import itertools
import time

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from fitassist.choosing.candidate import Candidate, Range
from fitassist.choosing.covering import fewest
from fitassist.choosing.judging import Judged, judged
from fitassist.domain.body import Body, Target


def random_case(seed: int, forms: int, people: int) -> list[Judged]:
    rng = np.random.default_rng(seed)
    bodies = [
        Body(
            name=f"b{i}",
            targets=(
                Target(line="bust", value_mm=float(rng.uniform(780, 1250))),
                Target(line="waist", value_mm=float(rng.uniform(600, 1050))),
            ),
        )
        for i in range(people)
    ]
    candidates = []
    for i in range(forms):
        bust, waist = rng.uniform(700, 1100), rng.uniform(520, 950)
        girths = {
            "bust": Range(least_mm=bust, greatest_mm=bust + 200),
            "waist": Range(least_mm=waist, greatest_mm=waist + 200),
        }
        candidates.append(Candidate(name=f"f{i}", girths_mm=girths))
    return [judged(one, bodies) for one in candidates]


def by_hand(found: list[Judged]) -> tuple[int, float]:
    """Return the size and padding of the best cover by looking at every subset."""
    everybody = frozenset().union(*[one.served for one in found])
    for size in range(len(found) + 1):
        costs = [
            sum(min(one.bodies[b].padding_mm for one in some if b in one.served) for b in everybody)
            for some in itertools.combinations(found, size)
            if frozenset().union(*[one.served for one in some]) == everybody
        ]
        if costs:
            return size, min(costs)
    raise AssertionError("no cover")


@pytest.mark.parametrize("seed", range(25))
def test_it_is_as_small_as_the_smallest_of_all_subsets_and_leaves_the_least_padding(seed):
    found = random_case(seed, 9, 14)
    cover = fewest(found)
    size, padding = by_hand(found)
    assert len(cover.chosen) == size
    assert cover.padding_mm == pytest.approx(padding)


def spread_case(seed: int) -> list[Judged]:
    """Twelve forms that each serve few of forty people, so that many are needed."""
    rng = np.random.default_rng(seed)
    bodies = [Body(name=f"b{i}", targets=(Target(line="bust", value_mm=900.0),)) for i in range(40)]
    out = []
    for i in range(12):
        one = judged(
            Candidate(name=f"f{i}", girths_mm={"bust": Range(least_mm=800, greatest_mm=950)}),
            bodies,
        )
        keep = rng.random(40) < 0.25
        bad = judged(
            Candidate(name="x", girths_mm={"bust": Range(least_mm=950, greatest_mm=990)}), bodies
        )
        mixed = tuple((one if k else bad).bodies[j] for j, k in enumerate(keep))
        out.append(Judged(one.candidate, mixed, (), ()))
    return out


@pytest.mark.parametrize("seed", range(12))
def test_twelve_forms_for_forty_people_agree_with_an_integer_programme_within_a_second(seed):
    found = spread_case(seed)
    began = time.perf_counter()
    cover = fewest(found)
    took = time.perf_counter() - began
    serves = np.array([[float(b in one.served) for one in found] for b in range(40)])
    serves = serves[serves.sum(axis=1) > 0]
    exact = milp(
        np.ones(12), constraints=LinearConstraint(serves, lb=1), integrality=np.ones(12),
        bounds=Bounds(0, 1),
    )  # fmt: skip
    assert len(cover.chosen) == round(exact.fun)
    assert took < 1.0  # the promise made to the user


def test_whoever_nobody_serves_is_named_and_the_others_are_still_served():
    bodies = [Body(name="b", targets=(Target(line="bust", value_mm=mm),)) for mm in (700, 900)]
    form = Candidate(name="f", girths_mm={"bust": Range(least_mm=800, greatest_mm=1000)})
    cover = fewest([judged(form, bodies)])
    assert (cover.chosen, cover.of_body, cover.unserved) == ((0,), (None, 0), (0,))


def test_without_candidates_or_people_there_is_nothing_to_have():
    assert fewest([]).chosen == ()
    form = Candidate(name="f", girths_mm={"bust": Range(least_mm=800, greatest_mm=1000)})
    assert fewest([judged(form, [])]).chosen == ()


def test_the_number_stays_exact_when_equal_covers_are_no_longer_compared(monkeypatch):
    monkeypatch.setattr("fitassist.choosing.covering.MOST_LOOKED_AT", 0)
    for seed in range(10):
        found = random_case(seed, 9, 14)
        assert len(fewest(found).chosen) == by_hand(found)[0]
