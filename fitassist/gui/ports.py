# SPDX-License-Identifier: MIT
"""What the pages need from whatever keeps the files; ``app`` brings something that does it.

Each of these may raise ``StorageFailed`` or ``BadFile``; the page shows its sentence in place.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from fitassist.domain.form import Form
from fitassist.errors import FitError
from fitassist.session.events import Event, Recorded


class Entry(Protocol):
    """One line of a list: a person or a form that is kept."""

    @property
    def id(self) -> str:
        """Stable name of the file."""

    @property
    def name(self) -> str:
        """What the user called it; the id where the file cannot be read."""

    @property
    def problem(self) -> FitError | None:
        """Why it cannot be opened, or None."""


class PersonListed(Entry, Protocol):
    """A person in the list."""

    @property
    def has_open_fitting(self) -> bool:
        """Whether a fitting has begun and not come to its end."""


class Record(Protocol):
    """All that happened to one person, open for reading on and for adding to."""

    @property
    def id(self) -> str:
        """The id the library knows it by."""

    @property
    def events(self) -> Sequence[Recorded]:
        """What happened, oldest first."""

    @property
    def read_only(self) -> bool:
        """Whether nothing can be added: opened elsewhere, or on a disk that takes nothing."""

    def append(self, events: Sequence[Event]) -> Sequence[Recorded]:
        """Keep what happened, safe on disk before it returns."""

    def close(self) -> None:
        """Let go of the file."""


class Library(Protocol):
    """People and forms that are kept."""

    def people(self) -> Sequence[PersonListed]:
        """List the people, in the order they should be shown."""

    def create_person(self, name: str) -> Record:
        """Begin a record."""

    def open_person(
        self, person_id: str, *, read_only: bool = False, take_over: bool = False
    ) -> Record:
        """Open a record."""

    def erase_person(self, person_id: str) -> None:
        """Remove a record for good."""

    def forms(self) -> Sequence[Entry]:
        """List the user's forms."""

    def load_form(self, form_id: str) -> Form:
        """Read a form."""

    def save_form(self, form_id: str, form: Form) -> str:
        """Keep a form and return its id; an empty id makes a new one."""
