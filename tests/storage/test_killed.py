# SPDX-License-Identifier: MIT
"""A program killed at any moment: whatever it acknowledged is there when the record reopens."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from fitassist.storage.record import Record
from tests.storage.disks import QuickDisk, clock, everything_in, new_record, texts

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs fork and SIGKILL")

KILLS = 15

# Starts once and forks a writer for each kill, so that nobody waits for imports.
NURSERY = """
import os, sys
from pathlib import Path
from fitassist.storage import record as module
from fitassist.storage.record import Record
from tests.storage.disks import DeadlyDisk, clock, note

module.FOLD_AFTER = 3  # so that documents are replaced all the time

def write(path, first, at_call):
    record = Record.open(Path(path), clock, disk=DeadlyDisk(at_call))
    number = first
    while True:
        record.append([note(str(number)), note(str(number + 1))])
        os.write(1, b"kept %d\\n" % (number + 1))
        number += 2

for line in sys.stdin:
    path, first, at_call = line.split()
    child = os.fork()
    if child == 0:
        try:
            write(path, int(first), int(at_call))
        finally:
            os.write(1, b"failed\\n")
            os._exit(1)
    os.write(1, b"writer %d\\n" % child)
    os.waitpid(child, 0)
    os.write(1, b"ended\\n")
"""


class Nursery:
    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c", NURSERY],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )

    def run(self, path: Path, first: int, at_call: int = 0, kill_after: int | None = None) -> int:
        """Let a writer work until it dies; return the last number it acknowledged."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(f"{path} {first} {at_call}\n")
        self.process.stdin.flush()
        writer, acknowledged, lines = 0, first - 1, 0
        for line in self.process.stdout:
            words = line.split()
            assert words != ["failed"]
            if words[0] == "writer":
                writer = int(words[1])
            elif words[0] == "kept":
                acknowledged, lines = int(words[1]), lines + 1
            else:
                break
            if writer and kill_after is not None and lines >= kill_after:
                os.kill(writer, signal.SIGKILL)
                kill_after = None
        return acknowledged


@pytest.fixture(scope="module")
def nursery() -> Iterator[Nursery]:
    made = Nursery()
    yield made
    made.process.communicate()


def check_and_count(path: Path, acknowledged: int) -> int:
    """Everything acknowledged is there, in order; return how many are there at all."""
    with Record.open(path, clock, disk=QuickDisk()) as record:
        found = texts(record)
        assert [item.seq for item in record.events] == list(range(1, len(found) + 1))
        assert {notice.code for notice in record.notices} <= {"journal_torn"}
    assert found == [str(number) for number in range(len(found))]
    assert len(found) > acknowledged
    assert len(found) <= acknowledged + 3  # at most the answer being written besides
    return len(found)


def test_fifteen_kills_from_outside_lose_nothing_acknowledged(
    tmp_path: Path, nursery: Nursery
) -> None:
    chance = random.Random(15)
    new_record(tmp_path, ["0"]).close()
    path, next_number = tmp_path / "a1.json", 1
    for _ in range(KILLS):
        acknowledged = nursery.run(path, next_number, kill_after=chance.randrange(1, 8))
        next_number = check_and_count(path, acknowledged)
    assert next_number > KILLS


def test_a_power_cut_at_each_single_step_of_writing_loses_nothing_acknowledged(
    tmp_path: Path, nursery: Nursery
) -> None:
    """The writer dies at its n-th call to the disk, halfway through if it is a write."""
    new_record(tmp_path, ["0"]).close()
    path, next_number = tmp_path / "a1.json", 1
    for at_call in range(1, 41):
        acknowledged = nursery.run(path, next_number, at_call=at_call)
        next_number = check_and_count(path, acknowledged)
    assert next_number > 40
    assert not [name for name in everything_in(tmp_path) if Path(name).name.startswith(".")]
