# SPDX-License-Identifier: MIT
"""The short form of the table: whole fittings of virtual forms, fewer readings and turns.

Sixty cases are too few to hold the engine to its figures (``python -m tests.virtual.table --cases
500`` does that); they are enough to see it break. The bounds leave three standard errors or more.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.virtual.judge import Outcome
from tests.virtual.table import METHODS, run

CASES = range(7_000, 7_060)


def mean(outcomes: list[Outcome], field: str) -> float:
    return float(np.mean([getattr(o, field) for o in outcomes]))


@pytest.fixture(scope="module")
def common() -> list[Outcome]:
    results, broken = run(CASES, "a", {}, workers=1)
    assert not broken, broken[0]
    return results[METHODS["a"]]


def test_a_form_never_seen_and_then_its_second_person(common):
    results, broken = run(CASES, "b,c", {}, workers=1)
    assert not broken, broken[0]
    first, second = results[METHODS["b"]], results[METHODS["c"]]
    for outcomes, readings, turns in ((first, 0.45, 0.70), (second, 0.33, 0.56)):
        assert np.mean([o.within for o in outcomes]) >= 0.93
        assert mean(outcomes, "readings") <= readings * mean(common, "readings")
        assert mean(outcomes, "turns") <= turns * mean(common, "turns")


def test_opposite_seams_kept_equal(common):
    results, broken = run(CASES, "e", {}, workers=1)
    assert not broken, broken[0]
    outcomes = results[METHODS["e"]]
    assert np.mean([o.within for o in outcomes]) >= 0.93
    assert mean(outcomes, "readings") <= 0.55 * mean(common, "readings")
    assert mean(outcomes, "turns") <= 0.82 * mean(common, "turns")


@pytest.mark.parametrize("want", ["beyond", "too_small"])
def test_what_the_dials_cannot_do_is_said_without_many_readings(want):
    results, broken = run(range(8_000, 8_012), "b", {"want": want}, workers=1)
    assert not broken, broken[0]
    outcomes = results[METHODS["b"]]
    expected = "as_near_as_dials_go" if want == "beyond" else "too_big"
    assert np.mean([o.verdict == expected for o in outcomes]) >= 0.9
    assert mean(outcomes, "readings") <= 10.0
