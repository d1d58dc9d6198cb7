# SPDX-License-Identifier: MIT
"""What the page of forms on offer needs of people and forms, tied to the files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from fitassist.choosing.candidate import Candidate, candidate_of
from fitassist.choosing.table import MOST_BYTES, Table, read_table
from fitassist.domain.body import Body
from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import Unit
from fitassist.errors import FitError
from fitassist.files import read_file
from fitassist.gui.offer_ports import Measured
from fitassist.session.person import body_for_fitting, fold_person
from fitassist.storage.library import Library
from fitassist.storage.offers import Offers
from fitassist.wording.offer_words import body_name


class OfferDesk:
    """Forms on offer of one profile, with everybody and every form of its library."""

    def __init__(
        self, profile: Path, library: Library, catalogue: Catalogue, unit: Callable[[], Unit]
    ) -> None:
        self._offers = Offers(profile)
        self._library = library
        self._catalogue = catalogue
        self._unit = unit

    @property
    def unit(self) -> Unit:
        """The unit lengths are said in."""
        return self._unit()

    def measured(self) -> Sequence[Measured]:
        """List everybody in use who has been measured, by name."""
        people = [
            Measured(one.id, one.name)
            for one in self._library.people()
            if one.problem is None and one.last_measured and not one.archived
        ]
        return sorted(people, key=lambda one: (one.name.casefold(), one.id))

    def bodies(self, person_id: str) -> Sequence[Body]:
        """Return the bodies of a person that have readings, each named as they are together."""
        with self._library.open_person(person_id, read_only=True) as record:
            state = fold_person(record.events)
        found = [
            body_for_fitting(state, body_id, self._catalogue)
            for body_id, body in state.bodies.items()
            if body.readings
        ]
        many = len(found) > 1
        return [
            body.model_copy(update={"name": body_name(state.name, body.name if many else "")})
            for body in found
        ]

    def offers(self) -> tuple[Candidate, ...]:
        """Return the forms on offer that are kept."""
        return self._offers.load()

    def keep(self, offers: Sequence[Candidate]) -> None:
        """Keep these instead."""
        self._offers.save(offers)

    def own(self) -> tuple[Candidate, ...]:
        """Return one's own forms as candidates; those that cannot be read are left out."""
        found = []
        for entry in self._library.forms():
            try:
                found.append(candidate_of(self._library.load_form(entry.id)))
            except FitError:
                continue  # the list of forms says what is wrong with it
        return tuple(found)

    def read_table(self, path: str) -> Table:
        """Read forms on offer from a table."""
        data, _about = read_file(Path(path), MOST_BYTES)
        return read_table(data, self.unit)
