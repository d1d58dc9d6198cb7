# SPDX-License-Identifier: MIT
"""What a state of a record holds, in a few numbers, and where two states of it differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitassist.domain.measurements import Catalogue, Measurement
from fitassist.errors import FitError
from fitassist.session.events import DialsSet, FittingStarted, FormRead, Recorded
from fitassist.session.person import BodyState, PersonState, average, fold_person


class StateFacts(NamedTuple):
    """One state of a record: the present one, an earlier one, or one in conflict."""

    key: str  # number of a backup, or name of a file
    name: str = ""
    changed_at: str = ""  # UTC, ISO 8601, of the last event
    n_bodies: int = 0
    n_readings: int = 0
    n_fittings: int = 0
    n_events: int = 0
    problem: FitError | None = None  # why it cannot be read
    kept_on: str = ""  # YYYY-MM-DD when a backup was made
    says_nothing_new: bool = False
    rows: tuple[Difference, ...] = ()
    fits_too: bool = False  # one fitting was gone on with in both states


class Difference(NamedTuple):
    """A length that two states give differently; None where one has none."""

    measurement: Measurement
    body: str
    here_mm: float | None
    there_mm: float | None


def facts_of(key: str, events: Sequence[Recorded]) -> StateFacts:
    """Return what a state of a record holds."""
    person = fold_person(events)
    return StateFacts(
        key=key,
        name=person.name,
        changed_at=events[-1].at if events else "",
        n_bodies=len(person.bodies),
        n_readings=sum(
            len(taken) for body in person.bodies.values() for taken in body.readings.values()
        ),
        n_fittings=len(person.fittings),
        n_events=len(events),
    )


def one_fitting_in_both(here: Sequence[Recorded], there: Sequence[Recorded]) -> bool:
    """Whether two states of a record part within one fitting that both went on with."""
    common = next(
        (i for i, (one, other) in enumerate(zip(here, there, strict=False)) if one != other),
        min(len(here), len(there)),
    )
    began = any(isinstance(one.event, FittingStarted) for one in here[:common])
    return began and all(_goes_on(events[common:]) for events in (here, there))


def _goes_on(events: Sequence[Recorded]) -> bool:
    """Whether dials were set or lines read before any other fitting began."""
    for one in events:
        if isinstance(one.event, FittingStarted):
            return False
        if isinstance(one.event, DialsSet | FormRead):
            return True
    return False


def differences(
    here: PersonState, there: PersonState, catalogue: Catalogue
) -> tuple[Difference, ...]:
    """Return the lengths that two states of a record do not agree on, body by body."""
    found = []
    for body_id in dict.fromkeys((*here.bodies, *there.bodies)):
        mine, theirs = here.bodies.get(body_id), there.bodies.get(body_id)
        named = mine or theirs
        assert named is not None
        for one in catalogue.measurements:
            pair = _mean(mine, one), _mean(theirs, one)
            if pair[0] != pair[1]:
                found.append(Difference(one, named.name, *pair))
    return tuple(found)


def _mean(body: BodyState | None, measurement: Measurement) -> float | None:
    taken = body.readings.get(measurement.key) if body is not None else None
    return average(taken, measurement).mm if taken else None
