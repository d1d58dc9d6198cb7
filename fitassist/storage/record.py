# SPDX-License-Identifier: MIT
"""One person's record on disk: every event is there before anybody is shown it.

``NAME.json`` is only ever replaced whole; ``NAME.journal`` holds what happened since, and is folded
into the document on a clean close or when it is long. Replaying skips what the document has, so a
crash between any two steps does no harm. Nothing is written over a change made elsewhere.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import (
    DISK,
    Disk,
    Fingerprint,
    cut_file,
    keep_aside,
    move_aside,
    read_file,
    replace_file,
    storage_failed,
)
from fitassist.session.events import Event, Recorded
from fitassist.storage.backups import keep_backup
from fitassist.storage.document import (
    LIMIT,
    Document,
    number_events,
    read_document,
    write_document,
)
from fitassist.storage.journal import Journal, JournalText, news, read_lines, write_lines
from fitassist.storage.lock import Lock
from fitassist.storage.places import journal_path, lock_path, sweep
from fitassist.storage.quiet import without_collecting
from fitassist.storage.sharing import Sharing

FOLD_AFTER = 500  # journal lines

Clock = Callable[[], str]  # the time now, UTC, ISO 8601
_Known = tuple[bytes, Document] | None  # a document understood already, which takes time


@dataclass(frozen=True)
class Notice:
    """Something met on the way that harmed nothing acknowledged, or that was kept aside."""

    code: str  # journal_torn, journal_tail, journal_middle, journal_conflict, fold_failed
    aside: Path | None = None  # where the bytes that were not used are kept


class Record:
    """The events of one person, kept on disk. Made by ``create`` or ``open``."""

    def __init__(self, path: Path, document: Document, clock: Clock, disk: Disk) -> None:
        self._path = path
        self._document = document
        self._fingerprint: Fingerprint | None = None
        self._clock = clock
        self._disk = disk
        self._sharing = Sharing()
        self._journal = Journal(journal_path(path), disk)
        self._journal_lines = 0
        self._fold_at = FOLD_AFTER
        self._lock: Lock | None = None
        self._lost: StorageFailed | None = None  # why this record can never be written again
        self._notices: list[Notice] = []

    # ---- opening

    @classmethod
    def create(
        cls,
        path: Path,
        person_id: str,
        clock: Clock,
        events: Sequence[Event] = (),
        disk: Disk = DISK,
    ) -> Record:
        """Make a new record that begins with ``events``.

        Raises
        ------
        StorageFailed
            ``already_exists``, or why it could not be written.
        """
        lock = Lock.take(lock_path(path), disk)
        try:
            if path.exists() or path.is_symlink() or journal_path(path).exists():
                raise StorageFailed("already_exists", path=str(path))
            recorded, _ = number_events(events, 1, clock())
            record = cls(path, Document(person_id, recorded), clock, disk)
            try:
                record._replace_document(write_document(record._document))
            except StorageFailed:
                with contextlib.suppress(OSError):
                    path.unlink()  # in place but not flushed: nobody was told it is there
                raise
            record._lock = lock
        except BaseException:
            lock.release()
            raise
        return record

    @classmethod
    @without_collecting()
    def open(
        cls,
        path: Path,
        clock: Clock,
        *,
        read_only: bool = False,
        take_over: bool = False,
        disk: Disk = DISK,
    ) -> Record:
        """Open a record and replay its journal.

        Parameters
        ----------
        read_only
            Take no lock and write nothing.
        take_over
            Take the lock even if another program holds it; that one can write no more.

        Raises
        ------
        BadFile
            If the document or journal cannot be understood; both are untouched.
        StorageFailed
            ``open_elsewhere`` (with ``host``, ``pid``, ``program``), or why the lock could not be
            written or a damaged journal not be put in order.
        """
        if read_only:
            return cls._load_steady(path, clock, disk)
        data, _ = read_file(path, LIMIT)
        known = (data, read_document(data))  # leave not even a lock beside a foreign file
        lock = Lock.take(lock_path(path), disk, take_over=take_over)
        try:
            sweep(path)
            record = cls._load(path, clock, disk, mend=True, known=known)
            record._sharing.share(record.events)
        except BaseException:
            lock.release()
            raise
        record._lock = lock
        return record

    @classmethod
    def _load_steady(cls, path: Path, clock: Clock, disk: Disk) -> Record:
        """Load without a lock, again if the journal was folded in between the two files."""
        for _ in range(5):
            record = cls._load(path, clock, disk, mend=False)
            if record._fingerprint is not None and record._fingerprint.matches(path):
                break
        return record

    @classmethod
    def _load(
        cls, path: Path, clock: Clock, disk: Disk, *, mend: bool, known: _Known = None
    ) -> Record:
        data, about = read_file(path, LIMIT)
        document = known[1] if known and known[0] == data else read_document(data)
        record = cls(path, document, clock, disk)
        record._fingerprint = Fingerprint.of(data, about)
        text = record._journal.read()
        journal = read_lines(text)
        added = news(record._document.events, journal.events)
        if added is None:
            aside = move_aside(journal_path(path), disk) if mend else None
            record._notices.append(Notice("journal_conflict", aside))
            record._journal.read()
            return record
        if journal.damage or journal.ends_open:
            record._mend(text, journal, mend)
        record._journal_lines = len(journal.events)
        record._add(added)
        return record

    def _mend(self, text: bytes, journal: JournalText, mend: bool) -> None:
        """Keep aside what follows the good part of the journal, and cut it off."""
        path = journal_path(self._path)
        aside = None
        if mend and journal.damage in ("tail", "middle"):
            aside = keep_aside(path, text[journal.good_size :], self._disk)
        if journal.damage:
            self._notices.append(Notice(f"journal_{journal.damage}", aside))
        if not mend:
            return
        if journal.ends_open:
            replace_file(path, text[: journal.good_size] + b"\n", self._disk)
        else:
            try:  # needs no room, so that a full disk can still be opened
                cut_file(path, journal.good_size, self._disk)
            except OSError as error:
                raise storage_failed(error, path) from error
        self._journal.read()

    # ---- reading

    @property
    def path(self) -> Path:
        """The document."""
        return self._path

    @property
    def id(self) -> str:
        """The name of the record's files, by which the library knows it."""
        return self._path.stem

    @property
    def person_id(self) -> str:
        """Whose record this is."""
        return self._document.person_id

    @property
    def events(self) -> tuple[Recorded, ...]:
        """Everything that happened, in order; all of it is on disk."""
        return self._document.events

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What the user should be told about the files."""
        return tuple(self._notices)

    @property
    def read_only(self) -> bool:
        """True if nothing can be appended."""
        return self._lock is None

    @property
    def is_current(self) -> bool:
        """True if this is open for writing and the files say just what is known here."""
        try:
            self._check_unchanged()
        except StorageFailed:
            return False
        return self._lock is not None

    # ---- writing

    def append(self, events: Sequence[Event]) -> tuple[Recorded, ...]:
        """Write what happened; it is on disk before this returns.

        Raises
        ------
        StorageFailed
            ``disk_full``, ``no_permission``, ``folder_gone``, ``write_failed``, ``read_only``,
            ``lock_taken`` or ``changed_elsewhere``. The record is then as before; trying again
            may succeed, and ``save_copy`` works always.
        """
        if self._lock is None:
            raise StorageFailed("read_only", path=str(self._path))
        recorded, payloads = number_events(events, len(self.events) + 1, self._clock())
        if not recorded:
            return ()
        self._check_unchanged()
        path = journal_path(self._path)
        try:
            self._journal.append(write_lines(payloads))
        except FileExistsError as error:
            raise StorageFailed("changed_elsewhere", path=str(path)) from error
        except OSError as error:
            raise storage_failed(error, path) from error
        self._check_kept()
        self._sharing.share(recorded)
        self._journal_lines += len(recorded)
        self._add(recorded)
        if self._journal_lines > self._fold_at:
            self._fold_later()
        return recorded

    def save_copy(self, path: Path, also: Sequence[Event] = ()) -> None:
        """Write the whole record to another place, with events that could not be appended.

        Raises
        ------
        StorageFailed
            If that failed too.
        """
        more, _ = number_events(also, len(self.events) + 1, self._clock())
        document = Document(self.person_id, self.events + more, self._document.extra)
        replace_file(path, write_document(document), self._disk)

    def close(self) -> None:
        """Fold the journal into the document and give the lock back.

        Raises
        ------
        StorageFailed
            If folding failed. The record is closed all the same, and every event is safe in the
            journal.
        """
        if self._lock is None:
            return
        try:
            self._fold()
        except StorageFailed as error:
            if error.code != "lock_taken":  # who took it has read our journal
                raise
        finally:
            self._lock.release()
            self._lock = None

    def __enter__(self) -> Record:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # ---- the steps of writing

    def _add(self, recorded: Sequence[Recorded]) -> None:
        document = self._document
        self._document = Document(document.person_id, (*document.events, *recorded), document.extra)

    def _check_unchanged(self, *, thorough: bool = False) -> None:
        if not self._path.parent.is_dir():
            raise StorageFailed("folder_gone", path=str(self._path.parent))
        self._check_lock()
        if self._fingerprint is None or not self._fingerprint.matches(
            self._path, thorough=thorough
        ):
            raise StorageFailed("changed_elsewhere", path=str(self._path))
        try:
            self._journal.check(thorough=thorough)
        except OSError as error:
            raise storage_failed(error, journal_path(self._path)) from error

    def _check_kept(self) -> None:
        # Whoever took the lock before our write was on the disk may have read the journal without
        # it; only if the lock is ours even now will every later reader see what we acknowledge.
        try:
            self._check_lock()
        except StorageFailed as error:
            self._lost = error  # the journal is ahead of our memory: never go on from here
            raise

    def _check_lock(self) -> None:
        """Raise if another took the lock; from then on this record is never written again."""
        if self._lost is not None:
            raise self._lost
        if self._lock is None:
            return
        try:
            self._lock.check()
        except StorageFailed as error:
            if error.code == "lock_taken":
                self._lost = error
            raise

    def _fold(self) -> None:
        if not self._journal_lines:
            with contextlib.suppress(StorageFailed):
                self._journal.remove()  # an empty one may be left
            return
        self._check_unchanged(thorough=True)
        keep_backup(self._path, self._on_disk(), self._clock(), self._disk)
        self._replace_document(write_document(self._document))
        self._journal.remove()
        self._journal_lines = 0

    def _fold_later(self) -> None:
        """Fold, but never let that spoil an append that has succeeded."""
        try:
            self._fold()
            self._fold_at = FOLD_AFTER
        except StorageFailed:
            self._fold_at = self._journal_lines + FOLD_AFTER
            self._notices.append(Notice("fold_failed"))

    def _replace_document(self, data: bytes) -> None:
        try:
            about = replace_file(self._path, data, self._disk)
        except StorageFailed:
            # It may have been replaced and only the folder not flushed: then it is ours all the
            # same, and the journal, still there, makes it safe.
            with contextlib.suppress(BadFile):
                found, about = read_file(self._path, LIMIT)
                if found == data:
                    self._fingerprint = Fingerprint.of(data, about)
            raise
        self._fingerprint = Fingerprint.of(data, about)

    def _on_disk(self) -> bytes:
        """Return the bytes of the document, just found unchanged."""
        try:
            return read_file(self._path, LIMIT)[0]
        except BadFile as error:
            raise StorageFailed("changed_elsewhere", path=str(self._path)) from error
