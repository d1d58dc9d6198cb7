# SPDX-License-Identifier: MIT
"""Copies in conflict beside a record, left where both sides of a shared folder were changed.

They are found by their names, shown, and never lost: a copy is settled in one of three ways, and
whatever is not used becomes a backup of the record.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fitassist.errors import BadFile, FitError
from fitassist.files import DISK, Disk, read_file, remove_file, replace_file
from fitassist.session.events import Recorded
from fitassist.session.taking_in import common_length, take_in
from fitassist.storage.backups import keep_backup
from fitassist.storage.document import LIMIT, Document, read_document, write_document
from fitassist.storage.journal import read_lines
from fitassist.storage.lock import Lock
from fitassist.storage.places import is_unfinished, lock_path
from fitassist.storage.record import Clock, Record

Settle = Literal["keep", "use", "both"]

_ID_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyz0123456789")


@dataclass(frozen=True)
class Copy:
    """One copy in conflict and what it holds."""

    path: Path
    events: tuple[Recorded, ...] = ()
    common: int = 0  # events it begins with in common with the record
    problem: FitError | None = None  # why it cannot be read

    @property
    def name(self) -> str:
        """Return the file's name."""
        return self.path.name

    @property
    def says_nothing_new(self) -> bool:
        """Whether all it holds is in the record too."""
        return self.problem is None and self.common == len(self.events)


def owner_of(name: str, ids: Collection[str]) -> str:
    """Return the id of the record a file lies beside as a copy, or an empty text.

    ``ID (conflicted copy 2026-01-02).json``, ``ID.sync-conflict-20260102-030405-ABC.json``,
    ``ID (1).json``, ``ID-HOST.json``, ``ID.journal.aside-1`` and their like: the id, something that
    is no letter or figure, and the ending of a record or journal somewhere behind it.
    """
    if name.startswith(".") or (".json" not in name and ".journal" not in name):
        return ""
    for end in range(len(name) - 1, 0, -1):
        if name[end] not in _ID_LETTERS and name[:end] in ids:
            own = name[end:] in (".json", ".journal", ".lock") or is_unfinished(name)
            return "" if own else name[:end]
    return ""


def read_copy(path: Path, present: tuple[Recorded, ...]) -> Copy:
    """Read a copy of a record or of its journal; one that cannot be read says why."""
    try:
        data, _ = read_file(path, LIMIT)
        if b'"crc32"' in data[:40]:
            events = _of_journal(data, present)
        else:
            events = read_document(data).events
    except FitError as error:
        return Copy(path, problem=error)
    return Copy(path, events, common_length(present, events))


def _of_journal(data: bytes, present: tuple[Recorded, ...]) -> tuple[Recorded, ...]:
    """Return the record a journal was the end of, as far as the present one tells its beginning."""
    tail = read_lines(data).events
    if not tail or tail[0].seq > len(present) + 1:
        raise BadFile("document_missing")
    return (*present[: tail[0].seq - 1], *tail)


def settle_copy(
    document: Path, copy_path: Path, how: Settle, clock: Clock, disk: Disk = DISK
) -> None:
    """Put an end to a conflict.

    Parameters
    ----------
    how
        ``keep`` the record as it is, ``use`` the copy in its place, or ``both``: the record, and
        what only the copy holds after it.

    Raises
    ------
    BadFile
        If one of the two cannot be understood; nothing is changed then.
    StorageFailed
        ``open_elsewhere``, or why something could not be written.
    FitError
        ``merge_under_way``, see ``take_in``.
    """
    Record.open(document, clock, disk=disk).close()  # folds the journal in
    lock = Lock.take(lock_path(document), disk)
    try:
        data, _ = read_file(document, LIMIT)
        present = read_document(data)
        copy = read_copy(copy_path, present.events)
        if copy.problem is not None:
            raise copy.problem
        theirs = Document(present.person_id, copy.events, present.extra)
        if how == "both" and not copy.says_nothing_new:
            made = take_in(present.events, copy.events, "", clock())
            new = Document(present.person_id, tuple(made.events), present.extra)
        else:
            new = theirs if how == "use" else present
        if how != "use":
            keep_backup(document, write_document(theirs), clock(), disk)
        if new is not present:
            keep_backup(document, data, clock(), disk)
            replace_file(document, write_document(new), disk)
        remove_file(copy_path)
    finally:
        lock.release()
