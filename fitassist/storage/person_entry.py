# SPDX-License-Identifier: MIT
"""What a list says of one person, worked out from the record and from nothing else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fitassist.errors import FitError
from fitassist.session.events import Recorded
from fitassist.session.history import repeats_of
from fitassist.session.person import PersonState, fold_person


@dataclass(frozen=True)
class PersonEntry:
    """One person in the list."""

    id: str
    name: str  # the id where the record cannot be read
    changed_at: str = ""  # UTC, ISO 8601; empty if not known
    n_events: int = 0
    has_open_fitting: bool = False
    problem: FitError | None = None  # what keeps the record from being opened
    tags: tuple[str, ...] = ()
    archived: bool = False
    last_measured: str = ""  # YYYY-MM-DD
    last_fitted: str = ""  # YYYY-MM-DD
    is_finished: bool = False  # the last fitting came to its end
    n_bodies: int = 0
    n_fittings: int = 0
    given_over_to: str = ""  # the record that holds all of this one
    person_id: str = ""  # as the document says; differs from the id in a copy
    copies: tuple[str, ...] = ()  # names of files in conflict beside the record
    holds: tuple[str, ...] = ()  # ids of records this one holds all of, kept until confirmed
    repeats: Mapping[str, tuple[int, float]] = field(default_factory=dict)
    """Of each measurement read more than once on one day: degrees of freedom, squares in mm²."""


def describe(person_id: str, events: Sequence[Recorded], said_id: str = "") -> PersonEntry:
    """Return the entry of a person from all events of the record."""
    person = fold_person(events)
    fitted = person.fittings[-1] if person.fittings else None
    return PersonEntry(
        person_id,
        person.name or person_id,
        changed_at=events[-1].at if events else "",
        n_events=len(events),
        has_open_fitting=fitted is not None and not fitted.finished,
        tags=person.tags,
        archived=person.archived,
        last_measured=_last_measured(person),
        last_fitted=fitted.at[:10] if fitted is not None else "",
        is_finished=fitted is not None and fitted.finished,
        n_bodies=len(person.bodies),
        n_fittings=len(person.fittings),
        given_over_to=person.given_over_to,
        person_id=said_id,
        repeats=repeats_of(person),
    )


def _last_measured(person: PersonState) -> str:
    return max(
        (
            one.day
            for body in person.bodies.values()
            for readings in (body.readings, body.past)
            for taken in readings.values()
            for one in taken
        ),
        default="",
    )
