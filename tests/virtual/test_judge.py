# SPDX-License-Identifier: MIT
"""Work is counted by its definitions, and chances are judged by how often they came true."""

from __future__ import annotations

import numpy as np
import pytest

from tests.virtual.judge import BINS, Outcome, Tally, calibration, table_lines


def test_every_wrap_is_a_reading() -> None:
    tally = Tally()
    for _ in range(3):
        tally.read()
    assert (tally.readings, tally.turns, tally.walks, tally.clicks) == (3, 0, 0, 0)


def test_part_turns_of_one_dial_between_two_readings_are_one_turn() -> None:
    tally = Tally()
    tally.turn("bust.front", 34.0, 35.0, 0.25)
    tally.turn("bust.left", 34.0, 35.0, 0.25)
    tally.turn("bust.front", 35.0, 35.5, 0.25)
    tally.read()
    assert (tally.turns, tally.walks, tally.clicks) == (2, 1, 10)


def test_a_dial_turned_back_before_the_reading_is_no_turn_but_costs_clicks() -> None:
    tally = Tally()
    tally.turn("hip.back", 40.0, 41.0, 0.25)
    tally.turn("hip.back", 41.0, 40.0, 0.25)
    tally.read()
    assert (tally.turns, tally.walks, tally.clicks) == (0, 1, 8)


def test_the_same_dial_after_a_reading_is_another_turn_and_another_walk() -> None:
    tally = Tally()
    for start in (40.0, 40.25):
        tally.turn("hip.back", start, start + 0.25, 0.25)
        tally.read()
    assert (tally.turns, tally.walks, tally.clicks) == (2, 2, 2)


def test_going_to_another_row_and_back_is_three_walks() -> None:
    tally = Tally()
    for dial, start in (("bust.front", 34.0), ("hip.front", 40.0), ("bust.front", 35.0)):
        tally.turn(dial, start, start + 1.0, 0.25)
    tally.read()
    assert (tally.turns, tally.walks) == (2, 3)


def test_a_dial_set_to_where_it_stands_costs_nothing() -> None:
    tally = Tally()
    tally.turn("bust.front", 34.0, 34.0, 0.25)
    tally.read()
    assert (tally.turns, tally.walks, tally.clicks) == (0, 0, 0)


def test_turns_after_the_last_reading_count_too() -> None:
    tally = Tally()
    tally.turn("bust.front", 34.0, 35.0, 0.25)
    assert Outcome.of(tally, 3.0, 6.35).turns == 1
    assert Outcome.of(tally, 6.36, 6.35).within is False


def test_chances_that_come_true_as_often_as_said_are_calibrated() -> None:
    rng = np.random.default_rng(1)
    chances = rng.uniform(0, 1, 40_000)
    bins = calibration([(float(c), bool(rng.random() < c)) for c in chances])
    assert [b.low for b in bins] == list(BINS[:-1])
    assert sum(b.count for b in bins) == 40_000
    for b in bins:
        # five binomial spreads
        room = 5 * np.sqrt(b.stated * (1 - b.stated) / b.count)
        assert b.true == pytest.approx(b.stated, abs=room)


def test_boastful_chances_show_in_the_bins() -> None:
    bins = calibration([(0.95, i % 2 == 0) for i in range(100)] + [(1.0, True)])
    assert [(b.count, b.stated, b.true) for b in bins if b.count] == [
        (100, pytest.approx(0.95), 0.5),
        (1, 1.0, 1.0),
    ]


def test_the_table_relates_every_method_to_the_common_round() -> None:
    def outcome(readings: int) -> Outcome:
        return Outcome(readings, 10, 4, 50, True, 3.0)

    lines = table_lines({"x": [outcome(20), outcome(28)], "y": [outcome(6)]}, against="x")
    assert "24.0 / 24 / 28 (1.00)" in lines[1]
    assert "6.0 / 6 / 6 (0.25)" in lines[2]
