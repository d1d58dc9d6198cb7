# SPDX-License-Identifier: MIT
"""One person as the record tells it: bodies, their readings, and which fittings were begun.

The record is folded anew each time; what was undone or withdrawn stays in it but does not count.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise

from pydantic import Field

from fitassist.domain.body import Body, Kind, Target
from fitassist.domain.measurements import Catalogue, Depth, Measurement
from fitassist.domain.model import Model
from fitassist.domain.person_name import clean_name
from fitassist.domain.plausibility import Question, Repeats, question_key, questions
from fitassist.domain.spreads import Average, average_of, default_spread_mm
from fitassist.errors import FitError
from fitassist.session.events import (
    Advised,
    BodyDescribed,
    FittingLeft,
    FittingStarted,
    HowTaken,
    MeasurementBrought,
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    MeasuringBegan,
    NotesChanged,
    PersonArchived,
    PersonNamed,
    PersonTagged,
    Recorded,
    RecordGivenOver,
    RecordTakenIn,
    Undone,
)

__all__ = [
    "BodyReading",
    "BodyState",
    "FittingSpan",
    "PersonState",
    "TakenIn",
    "average",
    "body_for_fitting",
    "clean_name",
    "fold_person",
    "open_questions",
]


class BodyReading(Model):
    """One reading that counts."""

    seq: int  # of its event, to withdraw it by
    mm: float
    text: str = ""
    how: HowTaken = "helped"
    at: str = ""
    taken_on: str = ""  # the day, where the user said it

    @property
    def day(self) -> str:
        """The day it was taken, YYYY-MM-DD; empty if not known."""
        return self.taken_on or self.at[:10]


class BodyState(Model):
    """One body of the person, as last described."""

    body_id: str
    name: str
    kind: Kind = "woman"
    undergarment: str = ""
    depth: Depth = "quick"
    readings: dict[str, tuple[BodyReading, ...]] = Field(default_factory=dict)
    kept: tuple[str, ...] = ()  # keys of questions answered with keep
    past: dict[str, tuple[BodyReading, ...]] = Field(default_factory=dict)  # count no more


class FittingSpan(Model):
    """One fitting and where its events lie: ``events[first:end]``, its start included."""

    fitting_id: str
    body_id: str = ""
    form_name: str
    first: int
    end: int
    at: str = ""
    finished: bool = False  # ended by the program or left by the user


class TakenIn(Model):
    """Another record that was taken into this one: ``events[first_seq - 1:seq - 1]``."""

    person_id: str
    first_seq: int
    seq: int  # of the event that says so
    at: str = ""
    why: str = "merge"


class PersonState(Model):
    """Everything known of one person outside a fitting."""

    name: str = ""
    notes: str = ""
    bodies: dict[str, BodyState] = Field(default_factory=dict)  # in order of first description
    fittings: tuple[FittingSpan, ...] = ()
    tags: tuple[str, ...] = ()
    archived: bool = False
    given_over_to: str = ""  # the record that holds all of this one
    taken_in: tuple[TakenIn, ...] = ()

    @property
    def last_fitting_id(self) -> str | None:
        """The fitting begun last, or None."""
        return self.fittings[-1].fitting_id if self.fittings else None


def fold_person(events: Sequence[Recorded]) -> PersonState:
    """Return what the record says of the person.

    Parameters
    ----------
    events
        The whole record in the order written. Fitting events are passed over but for where each
        fitting ends. Readings of a body that is not described are kept back until it is.
    """
    out = _not_counting(events)
    told = _Told()
    for recorded in events:
        if recorded.seq not in out:
            told.take(recorded)
    return PersonState(
        name=told.name,
        notes=told.notes,
        bodies={body_id: told.body(event) for body_id, event in told.described.items()},
        fittings=_fittings(events, out),
        tags=told.tags,
        archived=told.archived,
        given_over_to=told.given_over_to,
        taken_in=tuple(told.taken_in),
    )


class _Told:
    """What has been said up to some event of a record."""

    def __init__(self) -> None:
        self.name = self.notes = self.given_over_to = ""
        self.tags: tuple[str, ...] = ()
        self.archived = False
        self.described: dict[str, BodyDescribed] = {}
        self.taken_in: list[TakenIn] = []
        self._readings: dict[tuple[str, str], list[tuple[BodyReading, bool]]] = {}
        self._kept: dict[str, list[str]] = {}
        self._cuts: dict[tuple[str, str], list[int]] = {}  # no measurement: all of the body

    def take(self, recorded: Recorded) -> None:
        """Take one event that counts."""
        match recorded.event:
            case PersonNamed() as event:
                self.name = event.name
            case NotesChanged() as event:
                self.notes = event.text
            case PersonTagged() as event:
                self.tags = event.tags
            case PersonArchived() as event:
                self.archived = event.archived
            case RecordGivenOver() as event:
                self.given_over_to = event.into
            case RecordTakenIn() as event:
                self._take_in(recorded, event)
            case _:
                self._take_of_body(recorded)

    def _take_of_body(self, recorded: Recorded) -> None:
        match recorded.event:
            case BodyDescribed() as event:
                self.described[event.body_id] = event
            case MeasurementTaken() | MeasurementBrought() as event:
                self._take_reading(recorded, event)
            case MeasuringBegan() as event:
                for key in event.measurements or ("",):
                    cut = event.after_seq or recorded.seq
                    self._cuts.setdefault((event.body_id, key), []).append(cut)
            case MeasurementKept() as event:
                self._kept.setdefault(event.body_id, []).append(event.question)

    def _take_in(self, recorded: Recorded, event: RecordTakenIn) -> None:
        taken = TakenIn(
            person_id=event.person_id,
            first_seq=event.first_seq,
            seq=recorded.seq,
            at=recorded.at,
            why=event.why,
        )
        self.taken_in.append(taken)

    def _take_reading(
        self, recorded: Recorded, event: MeasurementTaken | MeasurementBrought
    ) -> None:
        brought = event if isinstance(event, MeasurementBrought) else None
        reading = BodyReading(
            seq=recorded.seq,
            mm=event.mm,
            text=event.text,
            how=event.how,
            at=recorded.at,
            taken_on=brought.taken_on if brought else "",
        )
        place = (event.body_id, event.measurement)
        counts = brought is None or brought.counts
        self._readings.setdefault(place, []).append((reading, counts))

    def body(self, event: BodyDescribed) -> BodyState:
        """Return a body as now described, with its readings."""
        body_id = event.body_id
        readings: dict[str, tuple[BodyReading, ...]] = {}
        past: dict[str, tuple[BodyReading, ...]] = {}
        for (of_body, key), taken in self._readings.items():
            if of_body != body_id:
                continue
            count = self._count_now(body_id, key, taken)
            rest = tuple(one for one, _ in taken if one not in count)
            readings |= {key: count} if count else {}
            past |= {key: rest} if rest else {}
        return BodyState(
            body_id=body_id,
            name=event.name,
            kind=event.body_kind,
            undergarment=event.undergarment,
            depth=event.depth,
            readings=readings,
            kept=tuple(self._kept.get(body_id, ())),
            past=past,
        )

    def _count_now(
        self, body_id: str, key: str, taken: Sequence[tuple[BodyReading, bool]]
    ) -> tuple[BodyReading, ...]:
        """Return the readings of the last measuring in which this was read at all."""
        cuts = sorted((*self._cuts.get((body_id, ""), ()), *self._cuts.get((body_id, key), ())))
        able = [one for one, counts in taken if counts]
        if not able:
            return ()
        last = max(bisect_left(cuts, one.seq) for one in able)
        return tuple(one for one in able if bisect_left(cuts, one.seq) == last)


def average(readings: Sequence[BodyReading], measurement: Measurement) -> Average:
    """Return the average of the readings of one measurement: mm, spread_mm, n, range_mm.

    Raises
    ------
    ValueError
        If there are no readings.
    """
    return average_of([(one.mm, one.how) for one in readings], measurement.sort)


def body_for_fitting(state: PersonState, body_id: str, catalogue: Catalogue) -> Body:
    """Return one body as targets, in the order of the catalogue.

    Every measurement read becomes a target with the spread of its average; a length is named by
    its key. Tolerances are left to the preferences of the fitting. Readings of measurements the
    catalogue does not know are left out. A body without readings has no targets.

    Raises
    ------
    FitError
        ``body_unknown`` (values: body_id) if the person has no such body.
    """
    body = state.bodies.get(body_id)
    if body is None:
        raise FitError("body_unknown", body_id=body_id)
    targets = tuple(
        _target(body.readings[one.key], one)
        for one in catalogue.measurements
        if body.readings.get(one.key)
    )
    return Body(name=body.name, kind=body.kind, undergarment=body.undergarment, targets=targets)


def open_questions(body: BodyState, catalogue: Catalogue) -> tuple[Question, ...]:
    """Return what is worth asking about the readings of a body and was not answered with keep."""
    averages: dict[str, float] = {}
    repeats: dict[str, Repeats] = {}
    for one in catalogue.measurements:
        taken = body.readings.get(one.key, ())
        if not taken:
            continue
        averages[one.key] = average(taken, one).mm
        if len(taken) > 1:
            lengths = [reading.mm for reading in taken]
            spread = max(default_spread_mm(one.sort, reading.how) for reading in taken)
            repeats[one.key] = Repeats(min(lengths), max(lengths), spread)
    asked = questions(averages, body.kind, catalogue, repeats)
    return tuple(one for one in asked if question_key(one) not in body.kept)


def _not_counting(events: Sequence[Recorded]) -> frozenset[int]:
    """Return the numbers of events taken out, seen from the end: an undone undo undoes nothing."""
    readings = {
        one.seq for one in events if isinstance(one.event, MeasurementTaken | MeasurementBrought)
    }
    out: set[int] = set()
    for recorded in reversed(events):
        if recorded.seq in out:
            continue
        match recorded.event:
            case Undone(undone_seq=seq) if seq < recorded.seq:
                out.add(seq)
            case MeasurementWithdrawn(taken_seq=seq) if seq in readings and seq < recorded.seq:
                out.add(seq)
    return frozenset(out)


def _fittings(events: Sequence[Recorded], out: frozenset[int]) -> tuple[FittingSpan, ...]:
    starts = [i for i, one in enumerate(events) if isinstance(one.event, FittingStarted)]
    spans = []
    for first, end in pairwise([*starts, len(events)]):
        recorded, event = events[first], events[first].event
        if isinstance(event, FittingStarted) and recorded.seq not in out:
            span = FittingSpan(
                fitting_id=event.fitting_id,
                body_id=event.body_id,
                form_name=event.form.name,
                first=first,
                end=end,
                at=recorded.at,
                finished=_finished(events[first:end], out),
            )
            spans.append(span)
    return tuple(spans)


def _finished(events: Sequence[Recorded], out: frozenset[int]) -> bool:
    """Tell whether the last instruction shown was the end, or the user left after it."""
    finished = False
    for recorded in events:
        if recorded.seq in out:
            continue
        if isinstance(recorded.event, FittingLeft):
            finished = True
        elif isinstance(recorded.event, Advised):
            finished = recorded.event.instruction.kind == "done"
    return finished


def _target(readings: Sequence[BodyReading], measurement: Measurement) -> Target:
    taken = average(readings, measurement)
    return Target(
        line=measurement.line,
        what=measurement.what,
        value_mm=taken.mm,
        text=readings[0].text if taken.n == 1 else "",
        spread_mm=taken.spread_mm,
    )
