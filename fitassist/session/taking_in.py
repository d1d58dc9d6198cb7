# SPDX-License-Identifier: MIT
"""Two records of one person made into one: what the other holds follows, renumbered and dated.

Nothing of the first record changes. Bodies of the same name, kind and undergarment are one body;
of a line read in both, the later day counts and the earlier becomes history.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fitassist.errors import FitError
from fitassist.session.events import (
    BodyDescribed,
    Event,
    FittingEvent,
    FittingStarted,
    MeasurementBrought,
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    MeasuringBegan,
    NotesChanged,
    PersonNamed,
    PersonTagged,
    Recorded,
    RecordTakenIn,
    Undone,
)
from fitassist.session.person import BodyReading, BodyState, PersonState, fold_person

_ABOUT_READINGS = (MeasurementTaken, MeasurementBrought)


@dataclass
class Together:
    """The events of both, and what came of the other record."""

    events: list[Recorded]
    readings: int = 0  # that were added
    same_readings: int = 0  # that were in both
    fittings: int = 0
    left_out: int = 0  # events of a fitting gone on with in both; they stay in the other record
    joined: list[str] = field(default_factory=list)  # names of bodies that are one now
    added: list[str] = field(default_factory=list)  # names of bodies that came along


def common_length(one: Sequence[Recorded], other: Sequence[Recorded]) -> int:
    """Return how many events two records begin with in common."""
    length = 0
    for mine, theirs in zip(one, other, strict=False):
        if mine != theirs:
            break
        length += 1
    return length


def take_in(
    base: Sequence[Recorded],
    other: Sequence[Recorded],
    other_id: str,
    at: str,
    *,
    also_named: str = "{name}",
) -> Together:
    """Return one record that holds both.

    Parameters
    ----------
    base, other
        Whole records in the order written; they may begin with the same events.
    other_id
        The id of the other record; empty for a copy of the same record in conflict.
    at
        The time now, UTC, ISO 8601.
    also_named
        How the notes tell the other name where the two differ.

    Raises
    ------
    FitError
        ``merge_under_way`` if a fitting of the first is under way and the other has fittings too:
        one fitting is gone on with at a time.
    """
    return _Joiner(base, other, other_id, at).join(also_named)


class _Joiner:
    def __init__(
        self, base: Sequence[Recorded], other: Sequence[Recorded], other_id: str, at: str
    ) -> None:
        self._common = common_length(base, other)
        self._base, self._other = fold_person(base), fold_person(other)
        self._n_base = len(base)
        self._tail = other[self._common :]
        self._other_id = other_id
        self._at = at
        self._made = Together(list(base))
        self._seqs: dict[int, int] = {}  # of the other record -> of this one
        self._fitting_known = True  # events before a fitting of the tail belong to a shared one
        self._known_fittings = {span.fitting_id for span in self._base.fittings}
        self._bodies, self._names = self._match_bodies()
        self._counts = {
            one.seq
            for body in self._other.bodies.values()
            for taken in body.readings.values()
            for one in taken
        }
        self._newer: dict[str, set[str]] = {}
        self._matched: set[int] = set()
        if self._is_under_way() and self._brings_fittings():
            raise FitError("merge_under_way", name=self._base.name)

    def _is_under_way(self) -> bool:
        return bool(self._base.fittings) and not self._base.fittings[-1].finished

    def _brings_fittings(self) -> bool:
        return any(
            isinstance(one.event, FittingStarted)
            and one.event.fitting_id not in self._known_fittings
            for one in self._tail
        )

    def _match_bodies(self) -> tuple[dict[str, str], dict[str, str]]:
        """Return the body each body of the other is here, and the names of those that are new."""
        shared = fold_person(self._made.events[: self._common]).bodies
        here = {_alike(body): body_id for body_id, body in self._base.bodies.items()}
        taken = set(self._base.bodies)
        names = {body.name for body in self._base.bodies.values()}
        ids: dict[str, str] = {}
        new_names: dict[str, str] = {}
        for body_id, body in self._other.bodies.items():
            if body_id in shared:
                ids[body_id] = body_id
            elif _alike(body) in here:
                ids[body_id] = here[_alike(body)]
                self._made.joined.append(body.name)
            else:
                ids[body_id] = _free(body_id, taken)
                new_names[body_id] = _free_name(body.name, names)
                self._made.added.append(new_names[body_id])
        return ids, new_names

    def join(self, also_named: str) -> Together:
        for recorded in self._tail:
            event = self._event(recorded)
            if event is not None:
                self._append(event, recorded.at)
                self._seqs[recorded.seq] = len(self._made.events)
        for body_id, keys in self._newer.items():
            began = MeasuringBegan(
                body_id=body_id, after_seq=self._n_base, measurements=tuple(sorted(keys))
            )
            self._append(began, self._at)
        for event in _about_person(self._base, self._other, also_named):
            self._append(event, self._at)
        taken = RecordTakenIn(
            person_id=self._other_id,
            first_seq=self._n_base + 1,
            why="merge" if self._other_id else "conflict",
        )
        self._append(taken, self._at)
        return self._made

    def _append(self, event: Event, at: str) -> None:
        self._made.events.append(Recorded(seq=len(self._made.events) + 1, at=at, event=event))

    def _event(self, recorded: Recorded) -> Event | None:
        """Return an event as it is said here, or None if it is not said."""
        event = recorded.event
        if isinstance(event, FittingStarted):
            return self._started(event)
        if isinstance(event, _ABOUT_READINGS):
            return self._reading(recorded, event)
        if isinstance(event, MeasurementWithdrawn):
            seq = self._here(event.taken_seq)
            return MeasurementWithdrawn(taken_seq=seq) if seq else None
        if isinstance(event, Undone):
            seq = self._here(event.undone_seq)
            return event.model_copy(update={"undone_seq": seq}) if seq else None
        if isinstance(event, FittingEvent):
            self._made.left_out += self._fitting_known
            return None if self._fitting_known else event
        return self._of_body(recorded)

    def _here(self, seq: int) -> int:
        return seq if seq <= self._common else self._seqs.get(seq, 0)

    def _of_body(self, recorded: Recorded) -> Event | None:
        event = recorded.event
        if isinstance(event, BodyDescribed):
            if event.body_id not in self._names:
                return None  # described here already
            name = self._names[event.body_id]
            return event.model_copy(update={"body_id": self._bodies[event.body_id], "name": name})
        if isinstance(event, MeasurementKept):
            body_id = self._bodies.get(event.body_id, event.body_id)
            return event.model_copy(update={"body_id": body_id})
        if isinstance(event, MeasuringBegan) and event.body_id in self._names:
            after = self._here(event.after_seq) or len(self._made.events)
            body_id = self._bodies[event.body_id]
            return event.model_copy(update={"body_id": body_id, "after_seq": after})
        return None  # name, notes, tags: said once, at the end

    def _started(self, event: FittingStarted) -> Event | None:
        self._fitting_known = event.fitting_id in self._known_fittings
        if self._fitting_known:
            return None
        self._known_fittings.add(event.fitting_id)
        self._made.fittings += 1
        return event.model_copy(update={"body_id": self._bodies.get(event.body_id, event.body_id)})

    def _reading(
        self, recorded: Recorded, event: MeasurementTaken | MeasurementBrought
    ) -> Event | None:
        body_id = self._bodies.get(event.body_id, event.body_id)
        brought = event if isinstance(event, MeasurementBrought) else None
        day = (brought.taken_on if brought else "") or recorded.at[:10]
        if event.body_id in self._names:
            self._made.readings += 1
            return event.model_copy(update={"body_id": body_id})
        here = self._base.bodies.get(body_id)
        now = here.readings.get(event.measurement, ()) if here else ()
        past = here.past.get(event.measurement, ()) if here else ()
        if self._is_here((*now, *past), event.mm, day):
            self._made.same_readings += 1
            return None
        self._made.readings += 1
        newest = max((one.day for one in now), default="")
        counts = recorded.seq in self._counts and day >= newest
        if counts and now and day > newest:
            self._newer.setdefault(body_id, set()).add(event.measurement)
        return MeasurementBrought(
            body_id=body_id,
            measurement=event.measurement,
            mm=event.mm,
            text=event.text,
            how=event.how,
            taken_on=day,
            counts=counts,
        )

    def _is_here(self, readings: Sequence[BodyReading], mm: float, day: str) -> bool:
        """Say whether the same reading was kept here on its own, each of ours standing for one."""
        for one in readings:
            if (
                one.seq > self._common
                and one.seq not in self._matched
                and (one.mm == mm and one.day == day)
            ):
                self._matched.add(one.seq)
                return True
        return False


def _about_person(base: PersonState, other: PersonState, also_named: str) -> list[Event]:
    events: list[Event] = []
    tags = tuple(dict.fromkeys((*base.tags, *other.tags)))
    if tags != base.tags:
        events.append(PersonTagged(tags=tags))
    more = [other.notes.strip()] if other.notes.strip() not in base.notes else []
    if other.name and other.name != base.name:
        more.insert(0, also_named.format(name=other.name))
    if any(more):
        notes = "\n\n".join(text for text in (base.notes.strip(), *more) if text)
        events.append(NotesChanged(text=notes))
    return events


def copied_events(state: PersonState, name: str) -> list[Event]:
    """Return what begins a second record of the same measurements; fittings stay where they are."""
    events: list[Event] = [PersonNamed(name=name)]
    if state.notes:
        events.append(NotesChanged(text=state.notes))
    if state.tags:
        events.append(PersonTagged(tags=state.tags))
    for body in state.bodies.values():
        events.append(
            BodyDescribed(
                body_id=body.body_id,
                name=body.name,
                body_kind=body.kind,
                undergarment=body.undergarment,
                depth=body.depth,
            )
        )
        events += _copied(body, body.past, counts=False)
        events += _copied(body, body.readings, counts=True)
        events += [MeasurementKept(body_id=body.body_id, question=key) for key in body.kept]
    return events


def _copied(
    body: BodyState, readings: Mapping[str, Sequence[BodyReading]], *, counts: bool
) -> list[Event]:
    return [
        MeasurementBrought(
            body_id=body.body_id,
            measurement=key,
            mm=one.mm,
            text=one.text,
            how=one.how,
            taken_on=one.day,
            counts=counts,
        )
        for key, taken in readings.items()
        for one in taken
    ]


def _alike(body: BodyState) -> tuple[str, str, str]:
    return body.name.strip().casefold(), body.kind, body.undergarment.strip().casefold()


def _free(body_id: str, taken: set[str]) -> str:
    new, number = body_id, 2
    while new in taken:
        new, number = f"{body_id}-{number}", number + 1
    taken.add(new)
    return new


def _free_name(name: str, taken: set[str]) -> str:
    new, number = name, 2
    while new in taken:
        new, number = f"{name} ({number})", number + 1
    taken.add(new)
    return new
