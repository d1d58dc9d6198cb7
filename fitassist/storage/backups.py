# SPDX-License-Identifier: MIT
"""What a document was before it was replaced: the last ten, and the last of each of thirty days.

Order is told by a number in the file name, not by the clock, which may have been wrong.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from fitassist.errors import BadFile
from fitassist.files import DISK, Disk, make_folder, read_file, remove_file, replace_file
from fitassist.storage.document import LIMIT
from fitassist.storage.places import backup_folder

KEPT_LAST = 10
KEPT_DAYS = 30

_NAME = re.compile(r"(\d{6,})_(\d{4}-\d{2}-\d{2}|unknown)(?:T[\d-]*)?\.json")
_TIME = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}")


@dataclass(frozen=True)
class Backup:
    """One earlier document."""

    number: int  # rises with each backup
    day: str  # YYYY-MM-DD, or "unknown"
    path: Path


def list_backups(document: Path) -> tuple[Backup, ...]:
    """List the backups of a document, the newest first."""
    folder = backup_folder(document)
    if not folder.is_dir():
        return ()
    found = []
    for path in folder.iterdir():
        match = _NAME.fullmatch(path.name)
        if match and path.is_file() and not path.is_symlink():
            found.append(Backup(int(match[1]), match[2], path))
    return tuple(sorted(found, key=lambda backup: backup.number, reverse=True))


def keep_backup(document: Path, data: bytes, at: str, disk: Disk = DISK) -> None:
    """Keep the bytes of a document about to be replaced, and thin out the old ones.

    Parameters
    ----------
    at
        The time now, UTC, ISO 8601.

    Raises
    ------
    StorageFailed
        If they could not be kept.
    """
    make_folder(backup_folder(document).parent, disk)
    make_folder(backup_folder(document), disk)
    present = list_backups(document)
    if present and _holds(present[0], data):
        return
    number = present[0].number + 1 if present else 1
    time = _TIME.match(at)
    stamp = time[0].replace(":", "-") if time else "unknown"
    replace_file(backup_folder(document) / f"{number:06d}_{stamp}.json", data, disk)
    for backup in superfluous(list_backups(document)):
        remove_file(backup.path)


def _holds(backup: Backup, data: bytes) -> bool:
    try:
        return read_file(backup.path, LIMIT)[0] == data
    except BadFile:
        return False


def superfluous(backups: tuple[Backup, ...]) -> tuple[Backup, ...]:
    """Return those, of backups listed newest first, that need not be kept."""
    newest_of_day: dict[str, Backup] = {}
    for backup in backups:
        newest_of_day.setdefault(backup.day, backup)
    # The thirty days that have backups, not thirty days by a clock that may be set wrong.
    kept = {backup.number for backup in [*newest_of_day.values()][:KEPT_DAYS]}
    kept |= {backup.number for backup in backups[:KEPT_LAST]}
    return tuple(backup for backup in backups if backup.number not in kept)
