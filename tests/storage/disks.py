# SPDX-License-Identifier: MIT
"""Disks that fail on purpose, and small events to keep on them."""

from __future__ import annotations

import errno
import os
import signal
from collections.abc import Callable, Sequence
from pathlib import Path

from fitassist.files import Disk
from fitassist.session.events import Event, NotesChanged
from fitassist.storage.record import Record

NOW = "2026-01-02T03:04:05Z"


def clock() -> str:
    return NOW


def note(text: str) -> NotesChanged:
    return NotesChanged(text=text)


def notes(*texts: str) -> list[Event]:
    return [note(text) for text in texts]


def texts(record: Record) -> list[str]:
    return [item.event.text for item in record.events if isinstance(item.event, NotesChanged)]


def everything_in(folder: Path) -> dict[str, bytes]:
    """All files of a folder by name, without locks."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.suffix != ".lock"
    }


class QuickDisk(Disk):
    """Does not wait for the platters, whoever made the process."""

    def fsync(self, handle: int) -> None:
        pass


class FailingDisk(Disk):
    """Fails the calls named, while told to, with one error; a failed write leaves some bytes."""

    def __init__(self, *, written_before_failing: int = 0) -> None:
        self.failing: frozenset[str] = frozenset()
        self.error = errno.EIO
        self.pauses: list[float] = []
        self.calls: list[str] = []
        self._partial = written_before_failing

    def fail(self, *calls: str, error: int = errno.EIO) -> None:
        self.failing, self.error = frozenset(calls), error

    def heal(self) -> None:
        self.failing = frozenset()

    def _meet(self, call: str) -> None:
        self.calls.append(call)
        if call in self.failing:
            raise OSError(self.error, os.strerror(self.error))

    def write(self, handle: int, data: bytes) -> int:
        if "write" in self.failing and self._partial:
            os.write(handle, data[: self._partial])
        self._meet("write")
        return super().write(handle, data)

    def fsync(self, handle: int) -> None:
        self._meet("fsync")
        super().fsync(handle)

    def truncate(self, handle: int, size: int) -> None:
        self._meet("truncate")
        super().truncate(handle, size)

    def replace(self, source: Path, target: Path) -> None:
        self._meet("replace")
        super().replace(source, target)

    def pause(self, seconds: float) -> None:
        self.pauses.append(seconds)


class DeadlyDisk(QuickDisk):
    """Kills its own process at one call, as a power cut would: halfway through a write."""

    def __init__(self, at_call: int) -> None:
        self._left = at_call

    def _count(self, before: Callable[[], object] = lambda: None) -> None:
        self._left -= 1
        if self._left == 0:
            before()
            os.kill(os.getpid(), signal.SIGKILL)

    def write(self, handle: int, data: bytes) -> int:
        self._count(lambda: os.write(handle, data[: len(data) // 2]))
        return super().write(handle, data)

    def fsync(self, handle: int) -> None:
        self._count()
        super().fsync(handle)

    def replace(self, source: Path, target: Path) -> None:
        self._count()
        super().replace(source, target)


def new_record(folder: Path, first: Sequence[str] = (), disk: Disk | None = None) -> Record:
    path = folder / "a1.json"
    return Record.create(path, "p1", clock, notes(*first), disk or Disk())
