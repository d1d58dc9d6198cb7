# SPDX-License-Identifier: MIT
"""All people and forms of one profile folder. File names come from ids, never from typed text."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fitassist.domain.form import Form
from fitassist.domain.form_file import form_from_json, form_to_json, load_form_text
from fitassist.errors import BadFile, FitError
from fitassist.files import DISK, Disk, make_folder, read_file, replace_file
from fitassist.storage.ids import checked_id, is_id, random_id
from fitassist.storage.people_folder import PeopleFolder
from fitassist.storage.person_entry import PersonEntry
from fitassist.storage.record import Clock

__all__ = ["FormEntry", "Library", "PersonEntry"]

_FORM_LIMIT = 4 * 1024 * 1024  # bytes


@dataclass(frozen=True)
class FormEntry:
    """One form in the list."""

    id: str
    name: str  # the id where the form cannot be read
    problem: FitError | None = None  # what keeps the form from being loaded


class Library(PeopleFolder):
    """The people and forms below one folder."""

    def __init__(
        self,
        root: Path,
        clock: Clock,
        new_id: Callable[[], str] = random_id,
        disk: Disk = DISK,
    ) -> None:
        super().__init__(root, clock, new_id, disk)
        self._forms = root / "forms"

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
        return self._forms / f"{checked_id(form_id)}.json"


def _files(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    if not folder.is_dir():
        return []
    found = (path for path in folder.iterdir() if path.suffix in endings)
    return sorted(path for path in found if is_id(path.stem))
