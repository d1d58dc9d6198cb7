# SPDX-License-Identifier: MIT
"""Cases are what they are called, and those who know the truth need least work."""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
import pytest

from tests.virtual.cases import REACH, Case, make_case, make_second, reachable
from tests.virtual.form import DIALS
from tests.virtual.judge import Outcome
from tests.virtual.made import ROWS
from tests.virtual.oracle import fewest_turns
from tests.virtual.rounds import common_round
from tests.virtual.search import best_setting

SEEDS = range(300, 324)
FEW = range(300, 306)


@cache
def fewest(seed: int, even: bool = False) -> int:
    found = fewest_turns(make_case(seed), even=even)
    assert found is not None
    return found


def misses(case: Case, numbers: np.ndarray) -> np.ndarray:
    """Return the worst miss (n,) of settings (n, 3, 4), without slop and noise."""
    targets = np.array(list(case.targets_mm.values()))
    girths = case.form.girths(numbers, tuple(case.targets_mm))
    return np.abs(girths - targets).max(axis=-1)


def everything(case: Case, greatest: bool) -> np.ndarray:
    made = case.form.made
    return np.repeat((made.greatest if greatest else made.least)[:, None], 4, axis=1)


def test_the_same_number_is_the_same_case() -> None:
    one, other = make_case(7), make_case(7)
    assert one.targets_mm == other.targets_mm
    assert one.form.description() == other.form.description()
    assert common_round(one) == common_round(other)
    assert make_second(one, 3).targets_mm == make_second(other, 3).targets_mm
    assert make_case(8).targets_mm != one.targets_mm


@pytest.mark.parametrize("between", [False, True])
def test_a_fair_case_has_an_even_setting_on_whole_clicks(between: bool) -> None:
    for seed in list(SEEDS)[: 4 if between else 24]:
        case = make_case(seed, between=between)
        made = case.form.made
        found = best_setting(case.form, case.targets_mm, REACH * case.tolerance_mm)
        assert misses(case, found.numbers[None])[0] <= REACH * case.tolerance_mm
        clicks = (found.numbers - made.least[:, None]) / made.step
        assert clicks == pytest.approx(np.round(clicks))
        assert (clicks >= 0).all()
        assert (found.numbers <= made.greatest[:, None]).all()
        assert (clicks[:, 1] == clicks[:, 3]).all()
        assert np.abs(clicks - clicks.mean(axis=1, keepdims=True))[:, [0, 2]].max() <= 2


def test_no_case_is_called_out_of_reach_that_trying_out_can_reach() -> None:
    """Every combination of rows with all four dials alike, on every second click."""
    rejected = 0
    for seed in range(40):
        case = make_case(seed, want=("apart", "beyond")[seed % 2])
        for share in (4.0, 7.0):
            made = case.form.made
            steps = np.arange(0, 33, 2) * made.step
            rows = np.array(list(product(steps, repeat=3)))
            numbers = np.repeat((made.least + rows)[:, :, None], 4, axis=2)
            if misses(case, numbers[:: 1 if seed < 4 else 7]).min() <= share * case.tolerance_mm:
                assert reachable(case, share)
            else:
                rejected += 1
    assert rejected > 20


def test_cases_beyond_the_range_are_beyond_it() -> None:
    for seed in SEEDS:
        case = make_case(seed, want="beyond")
        most = case.form.girths(everything(case, True), tuple(case.targets_mm))
        short = np.array(list(case.targets_mm.values())) - most
        assert not reachable(case, 1.0)
        assert short.max() > case.tolerance_mm


def test_cases_too_small_lie_below_the_closed_form() -> None:
    for seed in SEEDS:
        case = make_case(seed, want="too_small")
        least = case.form.girths(everything(case, False), tuple(case.targets_mm))
        over = least - np.array(list(case.targets_mm.values()))
        assert not reachable(case, 1.0)
        assert over.max() > case.tolerance_mm


def test_rows_pulled_apart_cannot_all_be_right() -> None:
    """Each line alone is in range; random even settings near the best never bring all three."""
    rng = np.random.default_rng(5)
    for seed in SEEDS:
        case = make_case(seed, want="apart")
        made = case.form.made
        assert not reachable(case, 1.0)
        rows = rng.integers(0, 33, (1500, 3, 1)) * made.step
        numbers = made.least[:, None] + np.repeat(rows, 4, axis=2)
        assert misses(case, numbers).min() > case.tolerance_mm


def test_a_second_person_meets_the_form_where_the_first_left_it() -> None:
    for seed in SEEDS:
        case = make_case(seed)
        common_round(case)
        second = make_second(case, 1)
        assert second.form.numbers == case.form.numbers
        assert second.form.made is case.form.made
        assert second.targets_mm != case.targets_mm
        assert reachable(second)


def rounds(count: int) -> list[Outcome]:
    return [common_round(make_case(1000 + seed)) for seed in range(count)]


def test_the_common_round_reads_each_line_twice_a_pass_and_turns_whole_rows() -> None:
    for outcome in rounds(30):
        assert outcome.readings % 6 == 0
        assert outcome.readings <= 15 * 6
        assert outcome.turns <= 4 * outcome.walks
        assert outcome.walks <= outcome.readings // 2


def test_the_common_round_ends_within_its_own_last_readings_at_least_mostly() -> None:
    """No outside source: bounds that only a grave slip in noise or counting would break."""
    outcomes = rounds(150)
    assert 18 < np.mean([o.readings for o in outcomes]) < 32
    assert 24 < np.mean([o.turns for o in outcomes]) < 46
    assert 0.85 < np.mean([o.within for o in outcomes]) < 0.98


def test_without_noise_the_common_round_ends_within_tolerance() -> None:
    for seed in range(25):
        case = make_case(seed, tape_spread_mm=0.0, gross_share=0.0, round_to_mm=0.01, slop=False)
        if common_round(case).readings < 15 * 6:
            assert case.worst_mm() <= 0.8 * case.tolerance_mm + 0.01


def test_knowing_the_truth_takes_no_more_turns_than_the_common_round() -> None:
    compared = 0
    for seed in FEW:
        common = common_round(make_case(seed))
        assert fewest(seed) <= fewest(seed, even=True) + 2  # neither search is exhaustive
        if common.within and common.turns:
            compared += 1
            assert fewest(seed) <= common.turns
    assert compared >= 4


def test_fewer_turns_than_the_fewest_do_not_do() -> None:
    """Every number of every single dial tried out: none suffices where two or more were said."""
    said = 0
    for seed in FEW:
        if fewest(seed) < 2:
            continue
        said += 1
        case = make_case(seed)
        made, start = case.form.made, case.form.standing
        numbers = np.repeat(start[None], 12 * 33, axis=0)
        for place, (dial, click) in enumerate(product(range(len(DIALS)), range(33))):
            row, seam = divmod(dial, 4)
            numbers[place, row, seam] = made.least[row] + click * made.step
        assert misses(case, numbers).min() > case.tolerance_mm
    assert said >= 4


def test_nothing_is_turned_on_a_form_that_already_fits() -> None:
    case = make_case(12)
    found = best_setting(case.form, case.targets_mm, REACH * case.tolerance_mm)
    for dial, number in zip(DIALS, found.numbers.ravel().tolist(), strict=True):
        case.form.turn(dial, number)
    assert fewest_turns(case) == 0
    assert case.form.numbers[f"{ROWS[0]}.left"] == case.form.numbers[f"{ROWS[0]}.right"]


def test_unknown_kinds_of_cases_are_refused() -> None:
    with pytest.raises(ValueError, match="no such case"):
        make_case(1, want="easy")
    with pytest.raises(ValueError, match="no such case"):
        make_case(1, noise=3.0)
