# SPDX-License-Identifier: MIT
"""The real program killed in the middle of a fitting keeps what it acknowledged."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.trust import kills

KILLS = 25


@pytest.mark.skipif(os.name == "nt", reason="needs SIGKILL")
def test_kills_at_random_moments_of_a_fitting_lose_no_acknowledged_answer(tmp_path: Path) -> None:
    counts = kills.run(tmp_path, KILLS, seed=25)
    assert counts["kills"] == KILLS
    assert counts["answers"] >= KILLS, "most rounds got as far as an answer"


def test_a_lost_answer_would_be_seen(tmp_path: Path) -> None:
    """The check itself: a record one answer behind is not accepted."""
    siege = kills.Siege(tmp_path, seed=1)
    program = kills.Program(tmp_path, siege.person)
    asked = program.next_open()
    assert asked is not None
    answer, fact = siege._reply(asked)
    program.say(answer)
    assert program.next_open() is not None
    program.kill()
    siege._acknowledge(fact)
    siege._check(None)
    siege._acknowledge(("read", 900.0))  # as if it had been acknowledged too
    with pytest.raises(AssertionError):
        siege._check(None)
