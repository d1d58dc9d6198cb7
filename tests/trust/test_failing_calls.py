# SPDX-License-Identifier: MIT
"""Each single call to the disk fails during a whole session: said, nothing lost, gone on with."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from fitassist.files import Disk
from tests.trust.sessions import Session

ANSWERS = 4
NAMES = ("write", "fsync", "truncate", "replace")


class Fault:
    """Counts the calls of every disk and lets one, or all from one on, fail."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.calls, self.first, self.for_good = 0, 0, False
        self.error = errno.ENOSPC
        for name in NAMES:
            patch.setattr(Disk, name, self._failing(name, getattr(Disk, name)))
        patch.setattr(Disk, "pause", lambda _self, _seconds: None)

    def _failing(self, name: str, real: Any) -> Any:
        def call(disk: Disk, *arguments: Any) -> Any:
            self.calls += 1
            if self.first and (self.calls == self.first or (self.for_good and self._is_past())):
                if name == "write":  # as much as there was room for
                    os.write(arguments[0], arguments[1][: len(arguments[1]) // 2])
                raise OSError(self.error, os.strerror(self.error))
            return None if name == "fsync" else real(disk, *arguments)

        return call

    def _is_past(self) -> bool:
        return self.calls >= self.first

    def heal(self) -> None:
        self.first = 0


@pytest.fixture
def fault(monkeypatch: pytest.MonkeyPatch) -> Fault:
    return Fault(monkeypatch)


def calls_of_a_session(folder: Path, fault: Fault) -> int:
    folder.mkdir()
    session = Session(folder, folder / "p.json")
    code, person, _lines = session.run(ANSWERS)
    assert (code, len(person.facts)) == (3, ANSWERS)
    assert session.kept() == person.facts
    return fault.calls


@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EIO])
@pytest.mark.parametrize("for_good", [False, True], ids=["once", "for_good"])
def test_no_failing_call_loses_an_acknowledged_answer(
    tmp_path: Path, fault: Fault, for_good: bool, error: int
) -> None:
    number = calls_of_a_session(tmp_path / "sound", fault)
    assert number > 20, "the calls of a session are counted"
    fault.for_good, fault.error = for_good, error
    said = set()
    # With one error all calls, with the other every fourth: an error's number changes only words.
    for first in range(1, number + 1, 1 if error == errno.ENOSPC else 4):
        folder = tmp_path / str(first)
        folder.mkdir()
        fault.calls, fault.first = 0, first
        session = Session(folder, folder / "p.json")
        code, person, lines = session.run(ANSWERS)
        said |= {line["code"] for line in lines if line["kind"] == "error"}
        refused_at_start = code == 2
        assert refused_at_start == (lines[0]["kind"] == "error")
        fault.heal()
        kept = []
        if refused_at_start:
            assert (len(lines), person.facts) == (1, [])
        else:
            kept = session.kept()
            assert kept[: len(person.facts)] == person.facts
            # A disk that takes nothing back may keep, besides, what it was told last.
            assert len(kept) <= len(person.facts) + for_good
            if not for_good:
                assert len(person.facts) == ANSWERS, "one failure never ends a session"
        # Healed, the same command goes on where it was.
        code, later, lines = session.run(1)
        assert (code, lines[0]["kind"]) == (3, "hello")
        assert session.kept() == kept + later.facts
        assert len(later.facts) == 1
        left = [path.name for path in folder.iterdir() if path.name.startswith(".")]
        assert left == [], "nothing half-written stays"
    assert said == {"not_kept"}


def test_a_folder_that_vanishes_and_comes_back_loses_nothing(tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    session = Session(tmp_path, tmp_path / "stick" / "p.json")
    pulled: list[int] = []

    def before(acknowledged: int) -> None:
        if acknowledged == 2 and not pulled:
            (tmp_path / "stick").rename(tmp_path / "away")
            pulled.append(1)
        elif pulled and (tmp_path / "away").exists():
            (tmp_path / "away").rename(tmp_path / "stick")

    code, person, lines = session.run(4, before=before)
    assert [line["code"] for line in lines if line["kind"] == "error"] == ["not_kept"]
    assert (code, len(person.facts)) == (3, 4)
    assert session.kept() == person.facts
