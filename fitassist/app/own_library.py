# SPDX-License-Identifier: MIT
"""The library as the pages see it: the same, but it lets go of what we ourselves hold open."""

from __future__ import annotations

from collections.abc import Callable

from fitassist.domain.form import Form
from fitassist.storage.library import FormEntry, Library, PersonEntry
from fitassist.storage.record import Record


class OwnLibrary:
    """Passes everything on; erasing the person who is open closes the record first."""

    def __init__(self, library: Library, let_go: Callable[[str], None]) -> None:
        self._library = library
        self._let_go = let_go

    def people(self) -> tuple[PersonEntry, ...]:
        """List the people."""
        return self._library.people()

    def create_person(self, name: str) -> Record:
        """Begin a record."""
        return self._library.create_person(name)

    def open_person(
        self, person_id: str, *, read_only: bool = False, take_over: bool = False
    ) -> Record:
        """Open a record."""
        return self._library.open_person(person_id, read_only=read_only, take_over=take_over)

    def erase_person(self, person_id: str) -> None:
        """Remove a record for good."""
        self._let_go(person_id)
        self._library.erase_person(person_id)

    def forms(self) -> tuple[FormEntry, ...]:
        """List the forms."""
        return self._library.forms()

    def load_form(self, form_id: str) -> Form:
        """Read a form."""
        return self._library.load_form(form_id)

    def save_form(self, form_id: str, form: Form) -> str:
        """Keep a form."""
        return self._library.save_form(form_id, form)
