# SPDX-License-Identifier: MIT
"""One writer a record: a lock file that says who holds it, and that a dead holder cannot keep.

A lock is advice: it keeps honest programs apart. What protects the events is that every append
first looks whether lock, journal and document are still as this program left them.
"""

from __future__ import annotations

import contextlib
import getpass
import json
import os
import secrets
import socket
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import DISK, Disk, read_file, remove_file, replace_file, storage_failed

PROGRAM = "fitassist"
_LIMIT = 4096  # bytes


@dataclass(frozen=True)
class Holder:
    """Who holds a lock. ``began`` tells two processes that had the same number apart."""

    pid: int = 0
    host: str = ""
    program: str = ""
    began: str = ""
    token: str = ""
    user: str = ""  # as the system calls them; empty in locks of older programs

    @classmethod
    def this_process(cls) -> Holder:
        """Describe this process, with a token of its own for each lock."""
        pid = os.getpid()
        token = secrets.token_hex(8)
        return cls(pid, socket.gethostname(), PROGRAM, _began(pid), token, _user())

    @property
    def is_dead(self) -> bool:
        """True only if the holder ran on this machine and runs no more."""
        if self.host != socket.gethostname() or self.pid <= 0:
            return False
        if not _is_running(self.pid):
            return True
        return bool(self.began) and self.began != _began(self.pid)


def read_holder(path: Path) -> Holder | None:
    """Return who holds the lock, None if nobody; an unreadable lock has an unknown holder."""
    try:
        data, _ = read_file(path, _LIMIT)
    except BadFile as error:
        return None if error.code == "not_found" else Holder()
    try:
        raw = json.loads(data)
        return Holder(
            pid=int(raw["pid"]),
            host=str(raw["host"]),
            program=str(raw["program"]),
            began=str(raw.get("began", "")),
            token=str(raw["token"]),
            user=str(raw.get("user", "")),
        )
    except (ValueError, TypeError, KeyError, OverflowError, RecursionError, AttributeError):
        return Holder()


class Lock:
    """A lock file held by this process."""

    def __init__(self, path: Path, holder: Holder, disk: Disk) -> None:
        self._path = path
        self._holder = holder
        self._disk = disk

    @classmethod
    def take(cls, path: Path, disk: Disk = DISK, *, take_over: bool = False) -> Lock:
        """Take the lock.

        Parameters
        ----------
        take_over
            Take it even from a holder that lives; that one's next append fails with
            ``lock_taken``.

        Raises
        ------
        StorageFailed
            ``open_elsewhere`` with the values ``host``, ``pid`` and ``program`` of the holder, or
            why the lock could not be written.
        """
        lock = cls(path, Holder.this_process(), disk)
        if lock._make():
            return lock
        holder = read_holder(path)
        if holder is not None and not take_over and not holder.is_dead:
            raise _failed("open_elsewhere", path, holder)
        replace_file(path, lock._text(), disk)
        lock.check()  # two may find the same dead holder: the last to replace it has the lock
        return lock

    def check(self) -> None:
        """Make sure the lock is still ours; take it again if it merely vanished.

        Raises
        ------
        StorageFailed
            ``lock_taken`` with the new holder.
        """
        holder = read_holder(self._path)
        if holder is None and self._make():
            return
        if holder is None or holder.token != self._holder.token:
            raise _failed("lock_taken", self._path, holder or Holder())

    def release(self) -> None:
        """Remove the lock if it is ours; one left behind is found dead by the next program."""
        holder = read_holder(self._path)
        if holder is not None and holder.token == self._holder.token:
            with contextlib.suppress(StorageFailed):
                remove_file(self._path)

    def _text(self) -> bytes:
        return (json.dumps(asdict(self._holder)) + "\n").encode("ascii")

    def _make(self) -> bool:
        """Make the lock file with its contents in one step; False if there is one."""
        fresh = self._path.with_name(f".{self._path.name}.{self._holder.token}")
        try:
            replace_file(fresh, self._text(), self._disk)
            os.link(fresh, self._path)
        except FileExistsError:
            return False
        except OSError:
            return self._make_without_link()
        finally:
            with contextlib.suppress(OSError):
                fresh.unlink()
        return True

    def _make_without_link(self) -> bool:
        # Memory sticks have no hard links; the moment between making and writing must do there.
        try:
            handle = os.open(self._path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except FileExistsError:
            return False
        except OSError as error:
            raise storage_failed(error, self._path) from error
        os.close(handle)
        replace_file(self._path, self._text(), self._disk)
        return True


def _failed(code: str, path: Path, holder: Holder) -> StorageFailed:
    return StorageFailed(
        code,
        path=str(path),
        host=holder.host,
        pid=holder.pid,
        program=holder.program,
        user=holder.user,
    )


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # the system knows nobody of that number
        return ""


if sys.platform == "win32":

    def _is_running(pid: int) -> bool:
        # os.kill would end the process here.
        import ctypes

        query, still_active = 0x1000, 259
        kernel = ctypes.windll.kernel32
        handle = kernel.OpenProcess(query, False, pid)
        if not handle:
            return False
        code = ctypes.c_ulong()
        kernel.GetExitCodeProcess(handle, ctypes.byref(code))
        kernel.CloseHandle(handle)
        return code.value == still_active

else:

    def _is_running(pid: int) -> bool:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return False
        except (PermissionError, OverflowError):
            return True
        return _stat_fields(pid)[:1] not in (["Z"], ["X"])


def _stat_fields(pid: int) -> list[str]:
    try:
        text = Path(f"/proc/{pid}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return []
    return text.rpartition(")")[2].split()


def _began(pid: int) -> str:
    """Tell when a process began, where the system says so (Linux): boot and clock ticks since."""
    fields = _stat_fields(pid)
    try:
        boot = Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip()
    except OSError:
        return ""
    # Field 22 of proc(5) stat; the list starts with field 3.
    return f"{boot}:{fields[19]}" if len(fields) > 19 else ""
