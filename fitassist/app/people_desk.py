# SPDX-License-Identifier: MIT
"""What can be done with people from their list, tied to the files.

Before a record is changed from the list, what we ourselves hold open of it is let go.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import Unit
from fitassist.errors import FitError
from fitassist.files import read_file
from fitassist.session.events import FittingStarted, MeasuringBegan, PersonArchived, PersonTagged
from fitassist.session.person import fold_person
from fitassist.storage.document import LIMIT, read_document
from fitassist.wording.history_words import reminder_text
from fitassist.wording.people_words import say

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom
    from fitassist.gui.people_ports import BodyHistory, FileKind, ImportWork, Settle
    from fitassist.session.people_import import Options, PlannedPerson
    from fitassist.session.record_facts import StateFacts
    from fitassist.session.taking_in import Together
    from fitassist.storage.backups import Backup
    from fitassist.storage.copies import Copy
    from fitassist.storage.exchange import Exporting, Importing
    from fitassist.storage.library import Library
    from fitassist.storage.people_folder import Listing
    from fitassist.storage.taking_back import TakingBack


class PeopleDesk:
    """The people of a library, as their pages see them.

    Parameters
    ----------
    let_go
        Closes the record of an id if it is open in this window.
    erased
        Told the id of a person who was erased.
    unit, today
        The unit and the day (YYYY-MM-DD) as they are just now.
    reminds
        Whether the user wants to be told when somebody was last measured.
    """

    def __init__(
        self,
        library: Library,
        catalogue: Catalogue,
        let_go: Callable[[str], None],
        erased: Callable[[str], None],
        unit: Callable[[], Unit],
        today: Callable[[], str],
        reminds: Callable[[], bool] = lambda: False,
    ) -> None:
        self._library = library
        self._catalogue = catalogue
        self._let_go = let_go
        self._erased = erased
        self._unit = unit
        self._today = today
        self._reminds = reminds
        self._listed: Listing | None = None

    @property
    def catalogue(self) -> Catalogue:
        """What can be measured."""
        return self._catalogue

    @property
    def unit(self) -> Unit:
        """The unit lengths are said in."""
        return self._unit()

    # -- the list -----------------------------------------------------------------------------

    def listing(self) -> Listing:
        """List whom the index knows, without reading a record."""
        self._listed = self._library.listing()
        return self._listed

    def read_on(self, seconds: float) -> Listing:
        """Read records of the last listing for about so long, and list again."""
        listed = self._listed or self._library.listing()
        self._listed = self._library.read_on(listed, seconds)
        return self._listed

    def keep_index(self) -> None:
        """Keep what was read for the next time."""
        self._library.keep_index()

    # -- one person ---------------------------------------------------------------------------

    def tag_person(self, person_id: str, tags: tuple[str, ...]) -> None:
        """Keep other tags."""
        self._let_go(person_id)
        self._library.add_to_person(person_id, [PersonTagged(tags=tags)])

    def put_away(self, person_id: str, archived: bool) -> None:
        """Leave a person out of the daily list, or bring them back."""
        self._let_go(person_id)
        self._library.add_to_person(person_id, [PersonArchived(archived=archived)])

    def copy_person(self, person_id: str, name: str) -> str:
        """Begin a second record with the same measurements and return its id."""
        return self._library.copy_person(person_id, name)

    def erase_person(self, person_id: str) -> None:
        """Remove everything kept of a person for good."""
        self._let_go(person_id)
        held = self._library.held_by(person_id)
        self._library.erase_person(person_id)
        for one in (person_id, *held):
            self._erased(one)

    # -- earlier states and versions in conflict ----------------------------------------------

    def states(self, person_id: str) -> tuple[StateFacts, ...]:
        """List the earlier states, the newest first."""
        return tuple(_backup_facts(one) for one in self._library.backups(person_id))

    def restore(self, person_id: str, key: str) -> None:
        """Go back to an earlier state; the present one is kept."""
        self._let_go(person_id)
        self._library.restore_person(person_id, int(key))

    def copies(self, person_id: str) -> tuple[StateFacts, ...]:
        """List this record, then the versions in conflict beside it with where they differ."""
        from fitassist.session.record_facts import differences, facts_of, one_fitting_in_both

        with self._library.open_person(person_id, read_only=True) as record:
            events = record.events
        here = fold_person(events)
        found = [facts_of("", events)]
        for copy in self._library.copies(person_id):
            facts = _copy_facts(copy)
            if copy.problem is None:
                rows = differences(here, fold_person(copy.events), self._catalogue)
                facts = facts._replace(
                    rows=rows,
                    says_nothing_new=copy.says_nothing_new,
                    fits_too=one_fitting_in_both(events, copy.events),
                )
            found.append(facts)
        return tuple(found)

    def settle(self, person_id: str, key: str, how: Settle) -> None:
        """Put an end to a conflict."""
        self._let_go(person_id)
        self._library.settle_copy(person_id, key, how)

    # -- readings through time ----------------------------------------------------------------

    def history(self, person_id: str) -> tuple[BodyHistory, ...]:
        """Return the readings of each body by day."""
        from fitassist.gui.people_ports import BodyHistory
        from fitassist.session.history import body_history, pooled

        with self._library.open_person(person_id, read_only=True) as record:
            events = record.events
        person = fold_person(events)
        repeats = pooled(one.repeats for one in self._library.people())
        forms = {
            started.body_id: started.form
            for span in person.fittings
            if isinstance(started := events[span.first].event, FittingStarted)
        }
        padding = _padding_by_line()
        return tuple(
            BodyHistory(
                body_id,
                body.name,
                body_history(body, self._catalogue, repeats),
                forms.get(body_id),
                padding,
            )
            for body_id, body in person.bodies.items()
        )

    def measure_anew(self, person_id: str, event: MeasuringBegan) -> None:
        """Let later readings take the place of earlier ones."""
        self._let_go(person_id)
        self._library.add_to_person(person_id, [event])

    def reminder(self, last_measured: str) -> str:
        """Return a sentence on when somebody was last measured, if the user wants to know."""
        return reminder_text(last_measured, self._today()) if self._reminds() else ""

    # -- two records of one person ------------------------------------------------------------

    def look_together(self, into: str, other: str) -> Together:
        """Return what taking two records together would give."""
        return self._library.look_together(into, other, say("also_named"))

    def take_together(self, into: str, other: str) -> Together:
        """Make the first record hold both; the second is kept until confirmed."""
        self._let_go(into)
        self._let_go(other)
        return self._library.take_together(into, other, say("also_named"))

    def take_apart(self, into: str) -> None:
        """Undo the last taking together that is not confirmed."""
        self._let_go(into)
        self._library.take_apart(into)

    def confirm_together(self, into: str) -> None:
        """Remove the records that were taken into this one."""
        for other in self._library.held_by(into):
            self._let_go(other)
            self._library.erase_person(other)
            self._erased(other)

    # -- tables and files ---------------------------------------------------------------------

    def read_table_file(self, path: str) -> bytes:
        """Return the bytes of a file the user chose."""
        from fitassist.storage.exchange import read_table_file

        return read_table_file(Path(path))

    def bring_in(self, people: Sequence[PlannedPerson], options: Options) -> Importing:
        """Begin to keep people."""
        from fitassist.storage.exchange import Importing

        for one in people:
            if one.known_id:
                self._let_go(one.known_id)
        return Importing(self._library, self._catalogue, people, options, self._today())

    def take_back(self, work: ImportWork) -> TakingBack:
        """Begin to undo what was just brought in."""
        from fitassist.storage.exchange import Importing
        from fitassist.storage.taking_back import TakingBack

        assert isinstance(work, Importing)  # made by bring_in
        return TakingBack(self._library, work.brought)

    def take_out(
        self, ids: Sequence[str], path: str, kind: FileKind, with_names: bool
    ) -> Exporting:
        """Begin to write people to a file."""
        from fitassist.session.people_export import ExportHeads
        from fitassist.storage.exchange import Exporting

        heads = ExportHeads(
            name=say("head.name"),
            tags=say("head.tags"),
            notes=say("head.notes"),
            body=say("head.body"),
            undergarment=say("head.undergarment"),
            date=say("head.date"),
            numbered=say("out.numbered", n="{n}"),
        )
        return Exporting(
            self._library, self._catalogue, ids, Path(path), kind, heads, self.unit, with_names
        )


def people_desk(room: Workroom) -> PeopleDesk:
    """Return the desk of a workroom."""
    return PeopleDesk(
        room.library,
        room.catalogue,
        room.let_go,
        room.forget,
        unit=lambda: Unit(room.settings.units),
        today=lambda: datetime.now(UTC).date().isoformat(),
        reminds=lambda: room.settings.remind_measured,
    )


def _padding_by_line() -> dict[str, tuple[str, ...]]:
    """Return the usual places of padding between whose lines a line lies."""
    from fitassist.padding.places import PLACES, USUAL_Z_MM, sided  # brings numpy

    return {
        line: tuple(
            sided(place, side)
            for place in PLACES
            if USUAL_Z_MM[place.low] <= z <= USUAL_Z_MM[place.high]
            for side in (("left", "right") if place.is_pair else ("left",))
        )
        for line, z in USUAL_Z_MM.items()
    }


def _backup_facts(backup: Backup) -> StateFacts:
    from fitassist.session.record_facts import StateFacts, facts_of

    key = str(backup.number)
    try:
        events = read_document(read_file(backup.path, LIMIT)[0]).events
    except FitError as error:
        return StateFacts(key, problem=error, kept_on=backup.day)
    return facts_of(key, events)._replace(kept_on=backup.day)


def _copy_facts(copy: Copy) -> StateFacts:
    from fitassist.session.record_facts import StateFacts, facts_of

    if copy.problem is not None:
        return StateFacts(copy.name, problem=copy.problem)
    return facts_of(copy.name, copy.events)
