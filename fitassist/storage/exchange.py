# SPDX-License-Identifier: MIT
"""People brought in from a table and taken out to a file, a slice at a time.

Each person brought in is a record of its own, on the disk before the next; stopped half-way, those
kept so far are whole. A file taken out appears whole, under its name, at the very end.
"""

from __future__ import annotations

import json
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import Unit
from fitassist.errors import FitError
from fitassist.files import DISK, Disk, read_file, replace_file
from fitassist.session.import_events import events_of_known, events_of_new
from fitassist.session.people_export import (
    FORMAT,
    VERSION,
    ExportHeads,
    csv_head,
    csv_rows,
    person_json,
)
from fitassist.session.people_import import Options, PlannedPerson
from fitassist.session.people_table import MOST_BYTES
from fitassist.session.person import fold_person
from fitassist.storage.people_folder import PeopleFolder
from fitassist.storage.taking_back import Brought

_NO_USE_GOING_ON = ("disk_full", "no_permission", "folder_gone", "write_failed")

FileKind = Literal["json", "csv"]


def read_table_file(path: Path) -> bytes:
    """Return the bytes of a table.

    Raises
    ------
    BadFile
        If it is not there, too large, or no plain file.
    """
    return read_file(path, MOST_BYTES)[0]


class Importing:
    """Keeps people looked at before, once the user has said so."""

    def __init__(
        self,
        folder: PeopleFolder,
        catalogue: Catalogue,
        people: Sequence[PlannedPerson],
        options: Options,
        today: str,
    ) -> None:
        self._folder = folder
        self._catalogue = catalogue
        self._people = people
        self._options = options
        self._today = today
        self.done = 0
        self.kept: list[str] = []  # ids
        self.brought: list[Brought] = []  # what was done to whom, so that it can be undone
        self.failed: list[tuple[str, FitError]] = []  # names, and why not
        self.stopped_by: FitError | None = None  # the disk takes no more

    def go_on(self, seconds: float) -> bool:
        """Keep people for about so long; return whether all are dealt with."""
        until = time.monotonic() + seconds
        while self.done < len(self._people):
            person = self._people[self.done]
            try:
                self.kept.append(self._keep(person))
            except FitError as error:
                self.failed.append((person.name, error))
                if error.code in _NO_USE_GOING_ON:
                    self.stopped_by = error
                    return True
            self.done += 1
            if time.monotonic() > until:
                break
        return self.done >= len(self._people)

    def _keep(self, person: PlannedPerson) -> str:
        if not person.known_id:
            events = events_of_new(person, self._catalogue, self._options)
            with self._folder.create_person(person.name, events) as record:
                self.brought.append(Brought(record.id, 0, len(record.events)))
                return record.id
        with self._folder.open_person(person.known_id) as record:
            state = fold_person(record.events)
            events = events_of_known(
                person, state, len(record.events), self._today, self._catalogue, self._options
            )
            before = len(record.events)
            record.append(events)
            self.brought.append(Brought(record.id, before, len(record.events)))
            return record.id


class Exporting:
    """Writes people to one file."""

    def __init__(
        self,
        folder: PeopleFolder,
        catalogue: Catalogue,
        ids: Sequence[str],
        path: Path,
        kind: FileKind,
        heads: ExportHeads,
        unit: Unit,
        with_names: bool,
        disk: Disk = DISK,
    ) -> None:
        self._folder = folder
        self._catalogue = catalogue
        self._ids = ids
        self._path = path
        self._kind = kind
        self._heads = heads
        self._unit = unit
        self._with_names = with_names
        self._disk = disk
        self._parts: list[str] = []
        self.done = 0
        self.failed: list[tuple[str, FitError]] = []  # ids, and why not

    def go_on(self, seconds: float) -> bool:
        """Read people for about so long; return whether the file is written.

        Raises
        ------
        StorageFailed
            If the file could not be written.
        """
        until = time.monotonic() + seconds
        while self.done < len(self._ids):
            try:
                self._parts.append(self._part(self._ids[self.done], self.done + 1))
            except FitError as error:
                self.failed.append((self._ids[self.done], error))
            self.done += 1
            if time.monotonic() > until:
                break
        if self.done < len(self._ids):
            return False
        replace_file(self._path, self._whole(), self._disk)
        return True

    def _part(self, person_id: str, number: int) -> str:
        with self._folder.open_person(person_id, read_only=True) as record:
            person = fold_person(record.events)
        if self._kind == "csv":
            return csv_rows(
                person, number, self._catalogue, self._heads, self._unit, self._with_names
            )
        plain = person_json(person, number, self._catalogue, self._heads, self._with_names)
        return json.dumps(plain, ensure_ascii=False, allow_nan=False)

    def _whole(self) -> bytes:
        if self._kind == "csv":
            head = csv_head(self._catalogue, self._heads, self._unit, self._with_names)
            # The mark in front tells spreadsheets that it is UTF-8.
            return ("".join([head, *self._parts])).encode("utf-8-sig", "replace")
        start = f'{{"format":"{FORMAT}","version":{VERSION},"unit":"mm","people":[\n'
        return (start + ",\n".join(self._parts) + "\n]}\n").encode("utf-8", "replace")
