# SPDX-License-Identifier: MIT
"""What the pages about many people need from whatever keeps the files.

Each of these may raise ``StorageFailed`` or ``BadFile``; the page shows its sentence in place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple, Protocol

from fitassist.domain.form import Form
from fitassist.domain.measurements import Catalogue
from fitassist.domain.tape_error import LineHistory
from fitassist.domain.units import Unit
from fitassist.errors import FitError
from fitassist.gui.ports import Entry
from fitassist.session.events import MeasuringBegan
from fitassist.session.people_import import Options, PlannedPerson
from fitassist.session.record_facts import StateFacts
from fitassist.session.taking_in import Together

FileKind = Literal["json", "csv"]
Settle = Literal["keep", "use", "both"]


class PersonRow(Entry, Protocol):
    """A person in the list."""

    @property
    def has_open_fitting(self) -> bool:
        """Whether a fitting has begun and not come to its end."""

    @property
    def is_finished(self) -> bool:
        """Whether the last fitting came to its end."""

    @property
    def tags(self) -> tuple[str, ...]:
        """The words the user sorts people by."""

    @property
    def archived(self) -> bool:
        """Whether the person was put away."""

    @property
    def last_measured(self) -> str:
        """YYYY-MM-DD, or an empty text."""

    @property
    def last_fitted(self) -> str:
        """YYYY-MM-DD, or an empty text."""

    @property
    def copies(self) -> tuple[str, ...]:
        """Names of versions in conflict."""

    @property
    def holds(self) -> tuple[str, ...]:
        """Ids of records taken in and not yet confirmed."""


class PeopleListed(Protocol):
    """The people known at once, and what must be read first."""

    @property
    def people(self) -> Sequence[PersonRow]:
        """Those whose record is known."""

    @property
    def unread(self) -> Sequence[str]:
        """Ids of records to be read."""


class Work(Protocol):
    """Something long, done a slice at a time."""

    done: int
    failed: list[tuple[str, FitError]]

    def go_on(self, seconds: float) -> bool:
        """Go on for about so long; return whether it has ended."""


class ImportWork(Work, Protocol):
    """People being kept."""

    kept: list[str]
    stopped_by: FitError | None


class BackWork(Protocol):
    """People brought in, being taken back."""

    done: int
    kept: list[str]

    def go_on(self, seconds: float) -> bool:
        """Go on for about so long; return whether all are dealt with."""


class BodyHistory(NamedTuple):
    """The readings of one body through time, and what its lines have to do with."""

    body_id: str
    name: str
    lines: tuple[LineHistory, ...]
    form: Form | None = None  # of the last fitting of this body
    padding: Mapping[str, tuple[str, ...]] = {}  # usual places of padding by line


class PeopleDesk(Protocol):
    """Everything that can be done with people from their list."""

    @property
    def catalogue(self) -> Catalogue:
        """What can be measured."""

    @property
    def unit(self) -> Unit:
        """The unit lengths are said in."""

    def listing(self) -> PeopleListed:
        """List whom the index knows, without reading a record."""

    def read_on(self, seconds: float) -> PeopleListed:
        """Read records of the last listing for about so long, and list again."""

    def keep_index(self) -> None:
        """Keep what was read for the next time."""

    def tag_person(self, person_id: str, tags: tuple[str, ...]) -> None:
        """Keep other tags."""

    def put_away(self, person_id: str, archived: bool) -> None:
        """Leave a person out of the daily list, or bring them back."""

    def copy_person(self, person_id: str, name: str) -> str:
        """Begin a second record with the same measurements and return its id."""

    def erase_person(self, person_id: str) -> None:
        """Remove everything kept of a person for good."""

    def states(self, person_id: str) -> tuple[StateFacts, ...]:
        """List the earlier states, the newest first."""

    def restore(self, person_id: str, key: str) -> None:
        """Go back to an earlier state; the present one is kept."""

    def copies(self, person_id: str) -> tuple[StateFacts, ...]:
        """List this record, then the versions in conflict beside it with where they differ."""

    def settle(self, person_id: str, key: str, how: Settle) -> None:
        """Put an end to a conflict."""

    def history(self, person_id: str) -> tuple[BodyHistory, ...]:
        """Return the readings of each body by day."""

    def measure_anew(self, person_id: str, event: MeasuringBegan) -> None:
        """Let later readings take the place of earlier ones."""

    def reminder(self, last_measured: str) -> str:
        """Return a sentence on when somebody was last measured, or an empty text."""

    def look_together(self, into: str, other: str) -> Together:
        """Return what taking two records together would give."""

    def take_together(self, into: str, other: str) -> Together:
        """Make the first record hold both; the second is kept until confirmed."""

    def take_apart(self, into: str) -> None:
        """Undo the last taking together that is not confirmed."""

    def confirm_together(self, into: str) -> None:
        """Remove the records that were taken into this one."""

    def read_table_file(self, path: str) -> bytes:
        """Return the bytes of a file the user chose."""

    def take_back(self, work: ImportWork) -> BackWork:
        """Begin to undo what was just brought in."""

    def bring_in(self, people: Sequence[PlannedPerson], options: Options) -> ImportWork:
        """Begin to keep people."""

    def take_out(self, ids: Sequence[str], path: str, kind: FileKind, with_names: bool) -> Work:
        """Begin to write people to a file."""
