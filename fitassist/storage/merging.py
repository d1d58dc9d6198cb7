# SPDX-License-Identifier: MIT
"""Two records of one person in the place of one; the second stays until the user confirms.

The first becomes a backup as it was and is replaced whole; then the second says that it was given
over. Killed in between, both are as good as before or better, and the same can be done again.
"""

from __future__ import annotations

from pathlib import Path

from fitassist.errors import BadFile, FitError
from fitassist.files import DISK, Disk, read_file, replace_file
from fitassist.session.events import Event, Recorded, RecordGivenOver
from fitassist.session.person import TakenIn, fold_person
from fitassist.session.taking_in import Together, take_in
from fitassist.storage.backups import keep_backup
from fitassist.storage.document import LIMIT, Document, read_document, write_document
from fitassist.storage.lock import Lock
from fitassist.storage.places import lock_path
from fitassist.storage.record import Clock, Record


def look_together(into: Path, other: Path, clock: Clock, also_named: str) -> Together:
    """Return what taking two records together would give; nothing is written.

    Raises
    ------
    FitError
        If one cannot be read, or see ``take_in``.
    """
    with (
        Record.open(into, clock, read_only=True) as first,
        Record.open(other, clock, read_only=True) as second,
    ):
        return take_in(first.events, second.events, second.id, clock(), also_named=also_named)


def take_together(
    into: Path, other: Path, clock: Clock, also_named: str, disk: Disk = DISK
) -> Together:
    """Make the first record hold both, and mark the second as given over.

    Raises
    ------
    BadFile, StorageFailed
        If one cannot be read, is open elsewhere, or could not be written.
    FitError
        ``same_person`` for one record twice; ``merge_under_way``, see ``take_in``.
    """
    if into == other:
        raise FitError("same_person")
    with Record.open(other, clock, disk=disk) as second:
        Record.open(into, clock, disk=disk).close()  # folds the journal in
        lock = Lock.take(lock_path(into), disk)
        try:
            data, _ = read_file(into, LIMIT)
            present = read_document(data)
            made = take_in(present.events, second.events, second.id, clock(), also_named=also_named)
            new = Document(present.person_id, tuple(made.events), present.extra)
            _replace(into, data, new, clock, disk)
        finally:
            lock.release()
        second.append([RecordGivenOver(into=into.stem)])
    return made


def take_apart(into: Path, clock: Clock, disk: Disk = DISK) -> str:
    """Make two of two again: the first as it was before; return the id of the other.

    What was entered in between stays in the backup that is made of the present record.

    Raises
    ------
    FitError
        ``nothing_taken_in`` if there is no second record to bring back.
    BadFile, StorageFailed
        If one cannot be read, is open elsewhere, or could not be written.
    """
    Record.open(into, clock, disk=disk).close()
    lock = Lock.take(lock_path(into), disk)
    try:
        data, _ = read_file(into, LIMIT)
        present = read_document(data)
        taken = last_taken_in(into, present.events, clock)
        if taken is None:
            raise FitError("nothing_taken_in")
        before = Document(present.person_id, present.events[: taken.first_seq - 1], present.extra)
        _append(into.with_name(f"{taken.person_id}.json"), RecordGivenOver(), clock, disk)
        _replace(into, data, before, clock, disk)
    finally:
        lock.release()
    return taken.person_id


def last_taken_in(into: Path, events: tuple[Recorded, ...], clock: Clock) -> TakenIn | None:
    """Return the last record taken in that is still kept and says it was given over to this."""
    for taken in reversed(fold_person(events).taken_in):
        other = into.with_name(f"{taken.person_id}.json")
        if taken.person_id and _given_over_to(other, clock) == into.stem:
            return taken
    return None


def _given_over_to(path: Path, clock: Clock) -> str:
    try:
        with Record.open(path, clock, read_only=True) as record:
            return fold_person(record.events).given_over_to
    except BadFile:
        return ""


def _append(path: Path, event: Event, clock: Clock, disk: Disk) -> None:
    with Record.open(path, clock, disk=disk) as record:
        record.append([event])


def _replace(path: Path, data: bytes, new: Document, clock: Clock, disk: Disk) -> None:
    keep_backup(path, data, clock(), disk)
    replace_file(path, write_document(new), disk)
