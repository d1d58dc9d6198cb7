# SPDX-License-Identifier: MIT
"""What is kept of people from a table, once confirmed: the events of new and of known records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitassist.domain.measurements import DEPTHS, Catalogue, Depth
from fitassist.session.events import (
    BodyDescribed,
    Event,
    MeasurementBrought,
    MeasuringBegan,
    NotesChanged,
    PersonTagged,
)
from fitassist.session.people_import import Options, PlannedPerson, Reading, clean_tags, name_key
from fitassist.session.person import BodyState, PersonState


def events_of_new(
    person: PlannedPerson, catalogue: Catalogue, options: Options
) -> tuple[Event, ...]:
    """Return what begins the record of a person, after the name."""
    events: list[Event] = []
    if person.tags:
        events.append(PersonTagged(tags=person.tags))
    if person.notes:
        events.append(NotesChanged(text=person.notes))
    for number, (name, readings) in enumerate(person.bodies.items(), 1):
        body_id = f"body-{number}"
        events.append(_described(person, body_id, name, catalogue, options))
        events += _brought(body_id, readings, {})
    return tuple(events)


def events_of_known(
    person: PlannedPerson,
    state: PersonState,
    n_events: int,
    today: str,
    catalogue: Catalogue,
    options: Options,
) -> tuple[Event, ...]:
    """Return what is added to the record of a person kept already.

    Readings of a later day than those kept count from now on; those of an earlier day are told of
    the past; the same reading of the same day is not added twice.

    Parameters
    ----------
    n_events
        How many events the record has.
    today
        YYYY-MM-DD, for rows without a date.
    """
    events: list[Event] = []
    tags = clean_tags((*state.tags, *person.tags))
    if tags != state.tags:
        events.append(PersonTagged(tags=tags))
    if person.notes and person.notes not in state.notes:
        events.append(NotesChanged(text=f"{state.notes}\n\n{person.notes}".strip()))
    free = _free_ids(state)
    for name, readings in person.bodies.items():
        here = next((b for b in state.bodies.values() if name_key(b.name) == name_key(name)), None)
        dated = [one if one.day else one._replace(day=today) for one in readings]
        if here is None:
            body_id = next(free)
            events.append(_described(person, body_id, name, catalogue, options))
            events += _brought(body_id, dated, {})
        else:
            events += _added(here, dated, n_events)
    return tuple(events)


def _added(here: BodyState, readings: Sequence[Reading], n_events: int) -> list[Event]:
    fresh = [
        one
        for one in readings
        if not any(
            (kept.mm, kept.day) == (one.length.mm, one.day)
            for kept in (
                *here.readings.get(one.measurement, ()),
                *here.past.get(one.measurement, ()),
            )
        )
    ]
    newest = {key: max(one.day for one in taken) for key, taken in here.readings.items()}
    later = sorted({one.measurement for one in fresh if one.day > newest.get(one.measurement, "")}
                   & newest.keys())  # fmt: skip
    events: list[Event] = []
    if later:
        events.append(
            MeasuringBegan(body_id=here.body_id, after_seq=n_events, measurements=tuple(later))
        )
    return events + _brought(here.body_id, fresh, newest)


def _brought(body_id: str, readings: Sequence[Reading], kept: dict[str, str]) -> list[Event]:
    """Return readings as events; of each measurement those of the last day count."""
    newest = dict(kept)
    for one in readings:
        newest[one.measurement] = max(newest.get(one.measurement, ""), one.day)
    return [
        MeasurementBrought(
            body_id=body_id,
            measurement=one.measurement,
            mm=one.length.mm,
            text=one.length.text[:60],
            taken_on=one.day,
            counts=one.day == newest[one.measurement],
        )
        for one in readings
    ]


def _described(
    person: PlannedPerson, body_id: str, name: str, catalogue: Catalogue, options: Options
) -> BodyDescribed:
    keys = {one.measurement for one in person.bodies.get(name, ())}
    depth: Depth = next(
        (one for one in DEPTHS if keys <= {m.key for m in catalogue.at_depth(one)}), "full"
    )
    return BodyDescribed(
        body_id=body_id,
        name=name,
        body_kind=options.kind,
        undergarment=person.undergarments.get(name, ""),
        depth=depth,
    )


def _free_ids(state: PersonState) -> Iterator[str]:
    number = 1
    while True:
        if f"body-{number}" not in state.bodies:
            yield f"body-{number}"
        number += 1
