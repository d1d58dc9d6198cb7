# SPDX-License-Identifier: MIT
"""The short form of long use: nothing of Qt is left over; and the checks see what grows."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import pytest

from tests.trust import soak
from tests.trust.soak import Sample, Soaked


def samples(bytes_an_event: float = 0.0, growth: float = 0.0, left: int = 0) -> list[Sample]:
    return [
        Sample(
            events=30 * n,
            memory=int(2e8 + 30 * n * bytes_an_event),
            answer_s=[0.05 * (1 + growth * n / 40)] * 5,
            begin_s=0.2,
            things={"widgets": 900 + left * n, "timers": 2},
        )
        for n in range(40)
    ]


def test_use_that_leaves_nothing_behind_has_no_fault() -> None:
    assert Soaked(samples(), Counter()).faults() == []
    assert Soaked(samples(bytes_an_event=900.0), Counter()).faults() == []


def test_memory_that_grows_is_a_fault() -> None:
    soaked = Soaked(samples(bytes_an_event=1500.0), Counter())
    assert soaked.bytes_an_event() == pytest.approx(1500.0)
    assert "1500 bytes an event" in soaked.faults()[0]


def test_answers_that_take_longer_and_longer_are_a_fault() -> None:
    assert "times as long" in Soaked(samples(growth=2.0), Counter()).faults()[0]


def test_widgets_left_over_are_a_fault() -> None:
    assert Soaked(samples(left=1), Counter()).faults() == ["23 widgets left over"]


def test_a_list_that_keeps_memory_at_each_look_is_a_fault() -> None:
    soaked = Soaked(samples(), Counter(), listing_memory=[n * 200_000 for n in range(8)])
    assert soaked.faults() == ["a look through the list keeps 200000 bytes"]


@pytest.mark.skipif(sys.platform != "linux", reason="reads memory from /proc")
def test_some_fittings_in_the_real_window_leave_nothing_behind(tmp_path: Path, qapp) -> None:
    # Counted after every fitting: how many fittings make so many events is not the same each time.
    soaked = soak.run(tmp_path, events=130, switches=25, records=40, count_each=1)
    assert soaked.counts["events"] >= 130
    assert soaked.counts["switches"] >= 25
    assert len([one for one in soaked.settled() if one.things]) >= 2
    assert not any(soaked.left_over().values()), soaked.left_over()
