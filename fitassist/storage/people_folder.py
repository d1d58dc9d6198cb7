# SPDX-License-Identifier: MIT
"""The people of one profile folder: listed, begun, opened, erased, gone back to, taken together."""

from __future__ import annotations

import contextlib
import os
import shutil
import time
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from weakref import WeakValueDictionary

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import DISK, Disk, make_folder, remove_file, storage_failed, sync_folder
from fitassist.session.events import Event, PersonNamed, Recorded
from fitassist.session.person import fold_person
from fitassist.session.taking_in import Together, copied_events
from fitassist.storage.backups import Backup, list_backups
from fitassist.storage.copies import Copy, Settle, owner_of, read_copy, settle_copy
from fitassist.storage.ids import checked_id, is_id, random_id
from fitassist.storage.index import Entries, Seen, index_path, read_index, remove_index, write_index
from fitassist.storage.lock import Lock
from fitassist.storage.merging import look_together, take_apart, take_together
from fitassist.storage.person_entry import PersonEntry, describe
from fitassist.storage.places import backup_folder, beside, lock_path
from fitassist.storage.record import Clock, Record
from fitassist.storage.restore import restore_backup

_NO_FILE = (0, 0, 0, 0)


@dataclass(frozen=True)
class _Folder:
    """What lay in the folder at one moment."""

    seen: dict[str, Seen]  # by id
    copies: dict[str, tuple[str, ...]]  # names of files in conflict, by id


@dataclass(frozen=True)
class Listing:
    """The people known at once, and the ids whose records must be read first."""

    people: tuple[PersonEntry, ...]
    unread: tuple[str, ...]
    folder: _Folder


class PeopleFolder:
    """The people below one folder."""

    def __init__(
        self,
        root: Path,
        clock: Clock,
        new_id: Callable[[], str] = random_id,
        disk: Disk = DISK,
    ) -> None:
        self._root = root
        self._people = root / "people"
        self._clock = clock
        self._new_id = new_id
        self._disk = disk
        self._known: Entries | None = None
        self._open: WeakValueDictionary[str, Record] = WeakValueDictionary()
        self._is_index_old = False

    # ---- the list

    def people(self) -> tuple[PersonEntry, ...]:
        """List everybody, the last changed first; damaged records are listed with a problem."""
        folder = self._look()
        self._read(self._unread(folder), folder)
        return self._listed(folder)

    def listing(self) -> Listing:
        """List whom the index knows, without reading any record."""
        folder = self._look()
        return Listing(self._listed(folder), self._unread(folder), folder)

    def read_on(self, listed: Listing, seconds: float) -> Listing:
        """Read records of a listing for about so long, and list again."""
        until = time.monotonic() + seconds
        read = 0
        for person_id in listed.unread:
            self._read((person_id,), listed.folder)
            read += 1
            if time.monotonic() > until:
                break
        return Listing(self._listed(listed.folder), listed.unread[read:], listed.folder)

    def has_person(self, person_id: str) -> bool:
        """Say whether there is a record of that id, without reading it."""
        return is_id(person_id) and self._person_path(person_id).is_file()

    def is_empty(self) -> bool:
        """Say whether nobody is kept here."""
        return not self._look().seen

    def keep_index(self) -> None:
        """Keep what was read for the next start; that it could not be kept costs only time."""
        if self._is_index_old and self._known is not None:
            with contextlib.suppress(StorageFailed):
                write_index(self._root, self._known, self._disk)
                self._is_index_old = False

    def _entries(self) -> Entries:
        if self._known is None:
            self._known = read_index(self._root)
        return self._known

    def _look(self) -> _Folder:
        try:
            names = {entry.name for entry in os.scandir(self._people)}
        except OSError:
            return _Folder({}, {})
        documents = {name[:-5] for name in names if name.endswith(".json")}
        journals = {name[:-8] for name in names if name.endswith(".journal")}
        ids = {stem for stem in documents | journals if is_id(stem)}
        start = str(self._people) + os.sep
        seen: dict[str, Seen] = {
            one: (
                *_about(f"{start}{one}.json"),
                *(_about(f"{start}{one}.journal") if one in journals else _NO_FILE),
            )
            for one in ids
        }
        others = {name for name in names if name.rpartition(".")[0] not in ids}
        return _Folder(seen, _copies(others, ids))

    def _unread(self, folder: _Folder) -> tuple[str, ...]:
        known = self._entries()
        return tuple(
            sorted(
                person_id
                for person_id, seen in folder.seen.items()
                if person_id not in known or known[person_id][0] != seen
            )
        )

    def _read(self, ids: Iterable[str], folder: _Folder) -> None:
        known = self._entries()
        for person_id in ids:
            known[person_id] = (folder.seen[person_id], self._entry(person_id))
            self._is_index_old = True

    def _entry(self, person_id: str) -> PersonEntry:
        path = self._person_path(person_id)
        ours = self._open.get(person_id)
        if ours is not None and ours.is_current:  # a long one takes time and room to read anew
            return describe(person_id, ours.events, ours.person_id)
        try:
            with Record.open(path, self._clock, read_only=True, disk=self._disk) as record:
                return describe(person_id, record.events, record.person_id)
        except BadFile as error:
            if error.code == "not_found":  # only a journal is left
                error = BadFile("document_missing", path=str(path))
            return PersonEntry(person_id, person_id, problem=error)

    def _listed(self, folder: _Folder) -> tuple[PersonEntry, ...]:
        known = self._entries()
        gone = known.keys() - folder.seen.keys()
        for person_id in gone:
            del known[person_id]
        self._is_index_old = self._is_index_old or bool(gone)
        entries = {
            person_id: one[1]
            for person_id, one in known.items()
            if one[0] == folder.seen[person_id]
        }
        copies = {person_id: list(names) for person_id, names in folder.copies.items()}
        holds: dict[str, list[str]] = {}
        hidden = set()
        for person_id, entry in entries.items():
            owner = entry.person_id
            if owner and owner != person_id and owner in entries:
                copies.setdefault(owner, []).append(f"{person_id}.json")
                hidden.add(person_id)
            elif entry.given_over_to and self._is_held(entry):
                holds.setdefault(entry.given_over_to, []).append(person_id)
                hidden.add(person_id)
        for person_id in copies.keys() | holds.keys():
            if person_id in entries:
                entries[person_id] = replace(
                    entries[person_id],
                    copies=tuple(sorted(copies.get(person_id, ()))),
                    holds=tuple(sorted(holds.get(person_id, ()))),
                )
        shown = [entries[one] for one in sorted(entries.keys() - hidden)]
        return tuple(sorted(shown, key=lambda entry: entry.changed_at, reverse=True))

    def _is_held(self, entry: PersonEntry) -> bool:
        """Say whether another record holds all of this one, and not each the other."""
        by = self._entries().get(entry.given_over_to)
        return by is not None and entry.id not in (by[1].id, by[1].given_over_to)

    # ---- one record

    def create_person(self, name: str, events: Sequence[Event] = ()) -> Record:
        """Make a record of a new person and open it.

        Raises
        ------
        StorageFailed
            If it could not be written.
        """
        make_folder(self._people, self._disk)
        person_id = self._unused_id(self._people)
        path = self._person_path(person_id)
        first: list[Event] = [PersonNamed(name=name), *events]
        return self._opened(Record.create(path, person_id, self._clock, first, self._disk))

    def open_person(
        self, person_id: str, *, read_only: bool = False, take_over: bool = False
    ) -> Record:
        """Open the record of a person; see ``Record.open`` for what may be raised."""
        path = self._person_path(person_id)
        return self._opened(
            Record.open(
                path, self._clock, read_only=read_only, take_over=take_over, disk=self._disk
            )
        )

    def _opened(self, record: Record) -> Record:
        """Note that a record is open here, if it is open for writing."""
        if not record.read_only:
            self._open[record.id] = record
        return record

    def add_to_person(self, person_id: str, events: Sequence[Event]) -> tuple[Recorded, ...]:
        """Open a record, add to it and close it; for what is done from the list."""
        with self.open_person(person_id) as record:
            return record.append(events)

    def copy_person(self, person_id: str, name: str) -> str:
        """Begin a second record with the same bodies and readings, and return its id."""
        with self.open_person(person_id, read_only=True) as record:
            events = copied_events(fold_person(record.events), name)
        with self.create_person(name, events[1:]) as copy:
            return copy.id

    def erase_person(self, person_id: str) -> None:
        """Remove everything kept of a person.

        Record, journal, backups, copies in conflict, what was kept aside, records given over to
        this one, and the entries in the indexes.

        Raises
        ------
        StorageFailed
            ``open_elsewhere``, or why something stays; the person is then still listed.
        """
        path = self._person_path(person_id)
        if not self._people.is_dir():
            raise BadFile("not_found", path=str(path))
        lock = Lock.take(lock_path(path), self._disk)
        try:
            for other in self.held_by(person_id):
                self.erase_person(other)
            for copy in self._copies_of(person_id):
                remove_file(copy)
            if backup_folder(path).is_dir():
                shutil.rmtree(backup_folder(path))
            self._forget(person_id)
            # The document goes last: whatever interrupts this, the person can be erased again.
            for other_file in beside(path):
                if other_file != lock_path(path):
                    remove_file(other_file)
            remove_file(path)
            sync_folder(self._people, self._disk)
        except OSError as error:
            raise storage_failed(error, path) from error
        finally:
            lock.release()

    def held_by(self, person_id: str) -> tuple[str, ...]:
        """Return the records given over to this one and still kept."""
        self.people()
        return tuple(
            other
            for other, (_, entry) in self._entries().items()
            if entry.given_over_to == person_id and self._is_held(entry)
        )

    def _forget(self, person_id: str) -> None:
        """Take a person out of the index; those of other computers are removed whole."""
        self._entries().pop(person_id, None)
        has_index = index_path(self._root).is_file()
        remove_index(self._root)
        if has_index:
            self._is_index_old = True
            self.keep_index()

    # ---- earlier and other states

    def backups(self, person_id: str) -> tuple[Backup, ...]:
        """List the earlier documents of a person, the newest first."""
        return list_backups(self._person_path(person_id))

    def restore_person(self, person_id: str, number: int) -> None:
        """Go back to an earlier document; the present one is kept as a backup first.

        Raises
        ------
        BadFile
            ``not_found``, or why the backup cannot be understood.
        StorageFailed
            ``open_elsewhere``, or why it could not be written.
        """
        found = [backup for backup in self.backups(person_id) if backup.number == number]
        if not found:
            raise BadFile("not_found", number=number)
        restore_backup(self._person_path(person_id), found[0], self._clock, self._disk)

    def copies(self, person_id: str) -> tuple[Copy, ...]:
        """Read the copies in conflict beside a record."""
        paths = self._copies_of(person_id)
        if not paths:
            return ()
        with self.open_person(person_id, read_only=True) as record:
            return tuple(read_copy(path, record.events) for path in paths)

    def _copies_of(self, person_id: str) -> tuple[Path, ...]:
        found = next((one for one in self.people() if one.id == person_id), None)
        names = found.copies if found else self._look().copies.get(person_id, ())
        return tuple(self._people / name for name in names)

    def settle_copy(self, person_id: str, name: str, how: Settle) -> None:
        """Put an end to a conflict; see ``copies.settle_copy``."""
        found = [path for path in self._copies_of(person_id) if path.name == name]
        if not found:
            raise BadFile("not_found", path=name)
        settle_copy(self._person_path(person_id), found[0], how, self._clock, self._disk)

    def look_together(self, into: str, other: str, also_named: str) -> Together:
        """Return what taking two records together would give; nothing is written."""
        paths = self._person_path(into), self._person_path(other)
        return look_together(*paths, self._clock, also_named)

    def take_together(self, into: str, other: str, also_named: str) -> Together:
        """Make the first record hold both; the second stays, given over, until confirmed."""
        paths = self._person_path(into), self._person_path(other)
        return take_together(*paths, self._clock, also_named, self._disk)

    def take_apart(self, into: str) -> str:
        """Undo the last taking together that is not confirmed, and return the other's id."""
        return take_apart(self._person_path(into), self._clock, self._disk)

    # ---- names of files

    def _person_path(self, person_id: str) -> Path:
        return self._people / f"{checked_id(person_id)}.json"

    def _unused_id(self, folder: Path) -> str:
        for _ in range(100):
            new = checked_id(self._new_id())
            if not (folder / f"{new}.json").exists() and not (folder / f"{new}.journal").exists():
                return new
        raise StorageFailed("already_exists", path=str(folder))


def _about(path: str) -> tuple[int, int, int, int]:
    try:
        about = os.lstat(path)
    except OSError:
        return _NO_FILE
    return about.st_size, about.st_mtime_ns, about.st_ctime_ns, about.st_ino


def _copies(names: Collection[str], ids: Collection[str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name in sorted(names):
        owner = owner_of(name, ids)
        if owner:
            found.setdefault(owner, []).append(name)
    return {owner: tuple(files) for owner, files in found.items()}
