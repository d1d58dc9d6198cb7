# SPDX-License-Identifier: MIT
"""Going back to an earlier document. What stands now is kept first, whatever state it is in."""

from __future__ import annotations

import contextlib
from pathlib import Path

from fitassist.errors import BadFile
from fitassist.files import DISK, Disk, move_aside, read_file, replace_file
from fitassist.storage.backups import Backup, keep_backup
from fitassist.storage.document import LIMIT, read_document
from fitassist.storage.lock import Lock
from fitassist.storage.places import journal_path, lock_path
from fitassist.storage.record import Clock, Record


def restore_backup(document: Path, backup: Backup, clock: Clock, disk: Disk = DISK) -> None:
    """Put a backup in the place of the document, after keeping the present one as a backup.

    Raises
    ------
    BadFile
        If the backup cannot be understood; nothing is changed then.
    StorageFailed
        ``open_elsewhere``, or why something could not be written.
    """
    data, _ = read_file(backup.path, LIMIT)
    read_document(data)
    # A damaged record is the very reason to restore; it is then kept as it is.
    with contextlib.suppress(BadFile):
        Record.open(document, clock, disk=disk).close()  # folds the journal in
    lock = Lock.take(lock_path(document), disk)
    try:
        _keep_present(document, clock(), disk)
        replace_file(document, data, disk)
    finally:
        lock.release()


def _keep_present(document: Path, at: str, disk: Disk) -> None:
    try:
        present, _ = read_file(document, LIMIT)
    except BadFile as error:
        if error.code != "not_found":
            raise
    else:
        keep_backup(document, present, at, disk)
    # A journal still here could not be read; it must not be replayed on the restored document.
    if journal_path(document).exists():
        move_aside(journal_path(document), disk)
