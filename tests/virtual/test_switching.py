# SPDX-License-Identifier: MIT
"""From one person back to another on virtual forms: what a form remembers saves readings."""

from __future__ import annotations

import copy
from dataclasses import replace

import numpy as np
import pytest

from tests.bench.switching import MOST_READINGS, switched
from tests.virtual.cases import make_case, make_second

SEEDS = range(2_100_000, 2_100_008)


@pytest.fixture(scope="module")
def found():
    """Return readings and success of coming back, by what is remembered; the same forms each."""
    readings: dict[str, list[int]] = {"same": [], "other": [], "stranger": []}
    within: dict[str, list[bool]] = {kind: [] for kind in readings}
    for seed in SEEDS:
        b = make_case(seed)
        switched(b, "b", "her own", 1)
        a = make_second(b, seed)
        if a is None:
            continue
        switched(a, "a", "his own", 1)
        for kind, who, worn in (
            ("same", "b", "her own"),
            ("other", "b", "another"),
            ("stranger", "z", "another"),
        ):
            form = copy.deepcopy(a.form).next_person(np.random.default_rng([seed, 7]))
            if kind == "same":
                form.undergarment_mm = b.form.undergarment_mm.copy()
            one = switched(replace(b, form=form), who, worn, 2).outcome
            readings[kind].append(one.readings)
            within[kind].append(one.within)
    return readings, within


def test_coming_back_in_the_same_undergarment_needs_next_to_no_reading(found):
    readings, within = found
    assert np.mean(readings["same"]) <= MOST_READINGS["same"]
    assert np.mean(within["same"]) >= 0.85


def test_coming_back_in_another_undergarment_needs_few_readings(found):
    readings, within = found
    assert np.mean(np.array(readings["other"]) <= MOST_READINGS["other"]) >= 0.85
    assert np.mean(within["other"]) >= 0.85


def test_who_was_fitted_on_the_form_before_needs_fewer_readings_than_who_was_not(found):
    readings, _within = found
    assert sum(readings["same"]) < sum(readings["other"]) < sum(readings["stranger"])
