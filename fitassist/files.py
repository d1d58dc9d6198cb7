# SPDX-License-Identifier: MIT
"""Where files live, and the only ways this program reads, replaces, appends to and removes them.

A file is replaced whole and flushed to the disk, or stays as it was; what is appended is on the
disk before the call returns, or is taken back. Symbolic links are never followed.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import secrets
import stat
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from fitassist.errors import BadFile, StorageFailed

# Missing on Windows, where the bytes must instead be kept from newline translation.
_COMMON_FLAGS = (
    getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
)
# A pipe of that name must not block the program for ever.
_READ_FLAGS = os.O_RDONLY | _COMMON_FLAGS | getattr(os, "O_NONBLOCK", 0)

# Virus scanners and sync programs hold a file for some 10-200 ms.
_REPLACE_WAITS_S = (0.02, 0.04, 0.08, 0.15, 0.3)

_FAILURE_CODES = {
    errno.ENOSPC: "disk_full",
    errno.EDQUOT: "disk_full",
    errno.EFBIG: "disk_full",
    errno.EACCES: "no_permission",
    errno.EPERM: "no_permission",
    errno.EROFS: "no_permission",
    errno.ENOENT: "folder_gone",
    errno.ENOTDIR: "folder_gone",
    errno.ENODEV: "folder_gone",
    getattr(errno, "ESTALE", -1): "folder_gone",
}


class Disk:
    """The few calls to the operating system that fail when a disk does."""

    def write(self, handle: int, data: bytes) -> int:
        """Write some of the bytes and return how many."""
        return os.write(handle, data)

    def fsync(self, handle: int) -> None:
        """Return once what was written is on the disk."""
        os.fsync(handle)

    def truncate(self, handle: int, size: int) -> None:
        """Cut the open file to ``size`` bytes."""
        os.ftruncate(handle, size)

    def replace(self, source: Path, target: Path) -> None:
        """Put one file in the place of another in a single step."""
        source.replace(target)

    def pause(self, seconds: float) -> None:
        """Wait before trying once more."""
        time.sleep(seconds)


DISK = Disk()


@dataclass(frozen=True)
class Fingerprint:
    """How a file looked when it was last known to be ours."""

    size: int
    mtime_ns: int
    inode: int
    sha256: str

    @classmethod
    def of(cls, data: bytes, about: os.stat_result) -> Fingerprint:
        """Take the fingerprint of a file's bytes and its directory entry."""
        digest = hashlib.sha256(data).hexdigest()
        return cls(about.st_size, about.st_mtime_ns, about.st_ino, digest)

    def matches(self, path: Path, *, thorough: bool = False) -> bool:
        """Say whether the file still holds the same bytes.

        A file that was merely touched or copied back still matches. ``thorough`` compares the
        bytes even if size, time and inode are unchanged.
        """
        try:
            about = path.lstat()
        except OSError:
            return False
        if about.st_size != self.size:
            return False
        same_entry = (about.st_mtime_ns, about.st_ino) == (self.mtime_ns, self.inode)
        if same_entry and not thorough:
            return True
        try:
            data, _ = read_file(path, self.size)
        except BadFile:
            return False
        return hashlib.sha256(data).hexdigest() == self.sha256


def resources_dir() -> Path:
    """Return the folder of forms, drawings and translations.

    It lies beside the package in the source tree, inside the unpacked bundle of a frozen build,
    or below ``share/fitassist`` of the environment the package was installed into.
    """
    frozen = getattr(sys, "_MEIPASS", None)
    if frozen:
        return Path(frozen) / "resources"
    beside = Path(__file__).resolve().parent.parent / "resources"
    if beside.is_dir():
        return beside
    return Path(sys.prefix) / "share" / "fitassist" / "resources"


def profile_dir(override: Path | None = None) -> Path:
    """Return the folder of the user's records, forms and settings, made private if it is new.

    Parameters
    ----------
    override
        The folder given with ``--profile``; None for the system's usual place.

    Raises
    ------
    StorageFailed
        If the folder cannot be made.
    """
    folder = override or Path(platformdirs.user_data_dir("fitassist", appauthor=False))
    make_folder(folder)
    return folder


def others_can_enter(folder: Path) -> bool:
    """Say whether the system would let other users of this computer into a folder.

    Where the system keeps rights in another way (Windows) or tells none, it is taken for private.
    """
    if os.name == "nt":
        return False
    try:
        return bool(stat.S_IMODE(folder.stat().st_mode) & 0o077)
    except OSError:
        return False


def storage_failed(error: OSError, path: Path) -> StorageFailed:
    """Name what the operating system says about a failed write."""
    code = _FAILURE_CODES.get(error.errno or 0, "write_failed")
    return StorageFailed(code, path=str(path), detail=error.strerror or "")


def make_folder(folder: Path, disk: Disk = DISK) -> None:
    """Make a folder only its owner can enter, with its parents, on the disk before returning.

    A folder that exists keeps its mode.

    Raises
    ------
    StorageFailed
        If it cannot be made.
    """
    missing = [folder] if not folder.is_dir() else []
    while missing and not missing[-1].parent.is_dir():
        missing.append(missing[-1].parent)
    try:
        for new in reversed(missing):
            new.mkdir(mode=0o700, exist_ok=True)
            sync_folder(new.parent, disk)
    except OSError as error:
        raise storage_failed(error, folder) from error


def sync_folder(folder: Path, disk: Disk = DISK) -> None:
    """Flush a folder's entries, where the system can (Windows does it by itself)."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY | getattr(os, "O_DIRECTORY", 0))
    try:
        disk.fsync(handle)
    finally:
        os.close(handle)


def read_file(path: Path, limit: int) -> tuple[bytes, os.stat_result]:
    """Read a plain file of at most ``limit`` bytes.

    Raises
    ------
    BadFile
        ``not_found``, ``symlink``, ``not_a_file``, ``too_large``, ``no_permission`` or
        ``unreadable``; the file is untouched.
    """
    try:
        if path.is_symlink():
            raise BadFile("symlink", path=str(path))
        handle = os.open(path, _READ_FLAGS)
    except OSError as error:
        raise _unreadable(error, path) from error
    try:
        about = os.fstat(handle)
        if not stat.S_ISREG(about.st_mode):
            raise BadFile("not_a_file", path=str(path))
        if about.st_size > limit:
            raise BadFile("too_large", path=str(path), size=about.st_size, limit=limit)
        with open(handle, "rb", closefd=False) as stream:
            data = stream.read(limit + 1)
    except OSError as error:
        raise _unreadable(error, path) from error
    finally:
        os.close(handle)
    if len(data) > limit:
        raise BadFile("too_large", path=str(path), size=len(data), limit=limit)
    return data, about


def _unreadable(error: OSError, path: Path) -> BadFile:
    codes = {
        errno.ENOENT: "not_found",
        errno.ENOTDIR: "not_found",
        errno.EACCES: "no_permission",
        errno.EPERM: "no_permission",
        errno.ELOOP: "symlink",
        errno.EISDIR: "not_a_file",
    }
    code = codes.get(error.errno or 0, "unreadable")
    return BadFile(code, path=str(path), detail=error.strerror or "")


def replace_file(path: Path, data: bytes, disk: Disk = DISK) -> os.stat_result:
    """Put ``data`` in the place of a file: wholly and on the disk, or not at all.

    An existing file keeps its mode; a new one is readable by its owner only.

    Returns
    -------
    The new file's directory entry.

    Raises
    ------
    StorageFailed
        If it could not be written; the old file then stands as it was, unless only the last
        flush of the folder failed.
    """
    fresh = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    try:
        mode = stat.S_IMODE(path.lstat().st_mode) if path.is_file() else 0o600
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _COMMON_FLAGS, 0o600)
        try:
            if hasattr(os, "fchmod"):
                os.fchmod(handle, mode)
            _write_all(handle, data, disk)
            disk.fsync(handle)
            about = os.fstat(handle)
        finally:
            os.close(handle)
        _replace_patiently(fresh, path, disk)
        sync_folder(path.parent, disk)
    except OSError as error:
        with contextlib.suppress(OSError):
            fresh.unlink()
        raise storage_failed(error, path) from error
    return about


def _replace_patiently(source: Path, target: Path, disk: Disk) -> None:
    for wait in _REPLACE_WAITS_S:
        try:
            disk.replace(source, target)
        except PermissionError:
            disk.pause(wait)
        else:
            return
    disk.replace(source, target)


def append_bytes(path: Path, data: bytes, size: int, new: bool, disk: Disk = DISK) -> int:
    """Append to a file of ``size`` bytes; on the disk before returning, else taken back.

    Parameters
    ----------
    new
        The file must not exist yet and is made.

    Returns
    -------
    The file's modification time in ns, to know it by later.

    Raises
    ------
    OSError
        If it failed; where even taking back failed, some of ``data`` may stand at the end.
    """
    flags = os.O_WRONLY | os.O_APPEND | _COMMON_FLAGS
    handle = os.open(path, flags | (os.O_CREAT | os.O_EXCL if new else 0), 0o600)
    try:
        try:
            _write_all(handle, data, disk)
            disk.fsync(handle)
            if size == 0:  # its name may not be on the disk yet either
                sync_folder(path.parent, disk)
        except OSError:
            with contextlib.suppress(OSError):
                disk.truncate(handle, size)
            raise
        return os.fstat(handle).st_mtime_ns
    finally:
        os.close(handle)


def cut_file(path: Path, size: int, disk: Disk = DISK) -> None:
    """Cut a file to its first ``size`` bytes, on the disk before returning (OSError if not)."""
    handle = os.open(path, os.O_WRONLY | _COMMON_FLAGS)
    try:
        disk.truncate(handle, size)
        disk.fsync(handle)
    finally:
        os.close(handle)


def keep_aside(path: Path, data: bytes, disk: Disk = DISK) -> Path:
    """Write ``data`` beside ``path`` under a name not yet taken, and return where."""
    aside = _free_name(path)
    replace_file(aside, data, disk)
    return aside


def move_aside(path: Path, disk: Disk = DISK) -> Path:
    """Give a file a name not yet taken, and return it.

    Raises
    ------
    StorageFailed
        If it could not be renamed.
    """
    aside = _free_name(path)
    try:
        _replace_patiently(path, aside, disk)
        sync_folder(path.parent, disk)
    except OSError as error:
        raise storage_failed(error, path) from error
    return aside


def _free_name(path: Path) -> Path:
    number = 1
    while (aside := path.with_name(f"{path.name}.aside-{number}")).exists():
        number += 1
    return aside


def remove_file(path: Path) -> None:
    """Remove a file if it is there.

    Raises
    ------
    StorageFailed
        If it is there and stays.
    """
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise storage_failed(error, path) from error


def _write_all(handle: int, data: bytes, disk: Disk) -> None:
    rest = data
    while rest:
        written = disk.write(handle, rest)
        rest = rest[written:]
