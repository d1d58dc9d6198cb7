# SPDX-License-Identifier: MIT
"""All people and forms of one profile folder. File names come from ids, never from typed text."""

from __future__ import annotations

import contextlib
import json
import re
import secrets
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fitassist.domain.form import Form
from fitassist.domain.form_file import form_from_json, form_to_json, load_form_text
from fitassist.errors import BadFile, FitError, StorageFailed
from fitassist.files import (
    DISK,
    Disk,
    make_folder,
    read_file,
    remove_file,
    replace_file,
    storage_failed,
    sync_folder,
)
from fitassist.session.events import PersonNamed, Recorded
from fitassist.session.person import fold_person
from fitassist.storage.backups import Backup, list_backups
from fitassist.storage.lock import Lock
from fitassist.storage.places import backup_folder, beside, journal_path, lock_path
from fitassist.storage.record import Clock, Record
from fitassist.storage.restore import restore_backup

_ID = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}")
# Names Windows keeps for devices, with any ending.
_DEVICES = re.compile(r"con|prn|aux|nul|com\d|lpt\d")
_FORM_LIMIT = 4 * 1024 * 1024  # bytes


@dataclass(frozen=True)
class PersonEntry:
    """One person in the list."""

    id: str
    name: str  # the id where the record cannot be read
    changed_at: str = ""  # UTC, ISO 8601; empty if not known
    n_events: int = 0
    has_open_fitting: bool = False
    problem: FitError | None = None  # what keeps the record from being opened


@dataclass(frozen=True)
class FormEntry:
    """One form in the list."""

    id: str
    name: str  # the id where the form cannot be read
    problem: FitError | None = None  # what keeps the form from being loaded


def _random_id() -> str:
    return secrets.token_hex(8)


class Library:
    """The people and forms below one folder."""

    def __init__(
        self,
        root: Path,
        clock: Clock,
        new_id: Callable[[], str] = _random_id,
        disk: Disk = DISK,
    ) -> None:
        self._people = root / "people"
        self._forms = root / "forms"
        self._clock = clock
        self._new_id = new_id
        self._disk = disk
        self._known: dict[str, tuple[object, PersonEntry]] = {}

    # ---- people

    def people(self) -> tuple[PersonEntry, ...]:
        """List everybody, the last changed first; damaged records are listed with a problem."""
        ids = {path.stem for path in _files(self._people, (".json", ".journal"))}
        entries = [self._entry(person_id) for person_id in sorted(ids)]
        return tuple(sorted(entries, key=lambda entry: entry.changed_at, reverse=True))

    def create_person(self, name: str) -> Record:
        """Make a record of a new person and open it.

        Raises
        ------
        StorageFailed
            If it could not be written.
        """
        make_folder(self._people, self._disk)
        person_id = self._unused_id(self._people)
        path = self._person_path(person_id)
        return Record.create(path, person_id, self._clock, [PersonNamed(name=name)], self._disk)

    def open_person(
        self, person_id: str, *, read_only: bool = False, take_over: bool = False
    ) -> Record:
        """Open the record of a person; see ``Record.open`` for what may be raised."""
        path = self._person_path(person_id)
        return Record.open(
            path, self._clock, read_only=read_only, take_over=take_over, disk=self._disk
        )

    def erase_person(self, person_id: str) -> None:
        """Remove everything kept of a person: record, journal, backups, what was kept aside.

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
            if backup_folder(path).is_dir():
                shutil.rmtree(backup_folder(path))
            # The document goes last: whatever interrupts this, the person can be erased again.
            for other in beside(path):
                if other != lock_path(path):
                    remove_file(other)
            remove_file(path)
            sync_folder(self._people, self._disk)
        except OSError as error:
            raise storage_failed(error, path) from error
        finally:
            lock.release()
        self._known.pop(person_id, None)

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

    def _person_path(self, person_id: str) -> Path:
        return self._people / f"{_checked(person_id)}.json"

    def _entry(self, person_id: str) -> PersonEntry:
        path = self._person_path(person_id)
        seen = (_look(path), _look(journal_path(path)))
        known = self._known.get(person_id)
        if known is not None and known[0] == seen:
            return known[1]
        try:
            with Record.open(path, self._clock, read_only=True, disk=self._disk) as record:
                entry = _describe(person_id, record.events)
        except BadFile as error:
            if error.code == "not_found":  # only a journal is left
                error = BadFile("document_missing", path=str(path))
            entry = PersonEntry(person_id, person_id, problem=error)
        self._known[person_id] = (seen, entry)
        return entry

    # ---- forms

    def forms(self) -> tuple[FormEntry, ...]:
        """List the user's forms by name; damaged ones are listed with a problem."""
        entries = []
        for path in _files(self._forms, (".json",)):
            try:
                entries.append(FormEntry(path.stem, self.load_form(path.stem).name))
            except FitError as error:
                entries.append(FormEntry(path.stem, path.stem, problem=error))
        return tuple(sorted(entries, key=lambda entry: (entry.name.casefold(), entry.id)))

    def load_form(self, form_id: str) -> Form:
        """Load a form.

        Raises
        ------
        BadFile
            If it is not there or cannot be understood.
        """
        data, _ = read_file(self._form_path(form_id), _FORM_LIMIT)
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise BadFile("bad_json", detail=str(error)) from error
        return load_form_text(text)

    def save_form(self, form_id: str, form: Form) -> str:
        """Save a form under an id, an empty one for a new form, and return the id.

        Raises
        ------
        BadFile
            If it could never be loaded again; nothing is written then.
        StorageFailed
            If it could not be written; an earlier one of that id then still stands.
        """
        form_from_json(form_to_json(form))
        form_id = form_id or self._unused_id(self._forms)
        path = self._form_path(form_id)
        make_folder(self._forms, self._disk)
        text = json.dumps(form_to_json(form), indent=2, ensure_ascii=False, allow_nan=False)
        replace_file(path, (text + "\n").encode("utf-8", "replace"), self._disk)
        return form_id

    def _form_path(self, form_id: str) -> Path:
        return self._forms / f"{_checked(form_id)}.json"

    def _unused_id(self, folder: Path) -> str:
        for _ in range(100):
            new = _checked(self._new_id())
            if not (folder / f"{new}.json").exists() and not (folder / f"{new}.journal").exists():
                return new
        raise StorageFailed("already_exists", path=str(folder))


def _checked(name: str) -> str:
    """Return an id that is safe as a file name in this folder, or raise BadFile ``bad_id``."""
    if not _ID.fullmatch(name) or _DEVICES.fullmatch(name):
        raise BadFile("bad_id", id=name)
    return name


def _files(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    if not folder.is_dir():
        return []
    found = (path for path in folder.iterdir() if path.suffix in endings)
    return sorted(path for path in found if _ID.fullmatch(path.stem))


def _look(path: Path) -> object:
    with contextlib.suppress(OSError):
        about = path.lstat()
        return about.st_size, about.st_mtime_ns, about.st_ino
    return None


def _describe(person_id: str, events: tuple[Recorded, ...]) -> PersonEntry:
    person = fold_person(events)
    return PersonEntry(
        person_id,
        person.name or person_id,
        changed_at=events[-1].at if events else "",
        n_events=len(events),
        has_open_fitting=bool(person.fittings) and not person.fittings[-1].finished,
    )
