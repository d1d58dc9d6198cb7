# SPDX-License-Identifier: MIT
"""One person as the record tells it: bodies, their readings, and which fittings were begun.

The record is folded anew each time; what was undone or withdrawn stays in it but does not count.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    NotesChanged,
    PersonNamed,
    Recorded,
    Undone,
)

__all__ = [
    "BodyReading",
    "BodyState",
    "FittingSpan",
    "PersonState",
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


class BodyState(Model):
    """One body of the person, as last described."""

    body_id: str
    name: str
    kind: Kind = "woman"
    undergarment: str = ""
    depth: Depth = "quick"
    readings: dict[str, tuple[BodyReading, ...]] = Field(default_factory=dict)
    kept: tuple[str, ...] = ()  # keys of questions answered with keep


class FittingSpan(Model):
    """One fitting and where its events lie: ``events[first:end]``, its start included."""

    fitting_id: str
    body_id: str = ""
    form_name: str
    first: int
    end: int
    at: str = ""
    finished: bool = False  # ended by the program or left by the user


class PersonState(Model):
    """Everything known of one person outside a fitting."""

    name: str = ""
    notes: str = ""
    bodies: dict[str, BodyState] = Field(default_factory=dict)  # in order of first description
    fittings: tuple[FittingSpan, ...] = ()

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
    name = notes = ""
    described: dict[str, BodyDescribed] = {}
    readings: dict[str, dict[str, list[BodyReading]]] = {}
    kept: dict[str, list[str]] = {}
    for recorded in events:
        if recorded.seq in out:
            continue
        match recorded.event:
            case PersonNamed() as event:
                name = event.name
            case NotesChanged() as event:
                notes = event.text
            case BodyDescribed() as event:
                described[event.body_id] = event
            case MeasurementTaken() as event:
                of_body = readings.setdefault(event.body_id, {})
                of_body.setdefault(event.measurement, []).append(_reading(recorded, event))
            case MeasurementKept() as event:
                kept.setdefault(event.body_id, []).append(event.question)
    bodies = {
        body_id: _body(event, readings.get(body_id, {}), kept.get(body_id, []))
        for body_id, event in described.items()
    }
    return PersonState(name=name, notes=notes, bodies=bodies, fittings=_fittings(events, out))


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
    readings = {one.seq for one in events if isinstance(one.event, MeasurementTaken)}
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


def _reading(recorded: Recorded, event: MeasurementTaken) -> BodyReading:
    return BodyReading(
        seq=recorded.seq, mm=event.mm, text=event.text, how=event.how, at=recorded.at
    )


def _body(
    event: BodyDescribed, readings: Mapping[str, Sequence[BodyReading]], kept: Sequence[str]
) -> BodyState:
    return BodyState(
        body_id=event.body_id,
        name=event.name,
        kind=event.body_kind,
        undergarment=event.undergarment,
        depth=event.depth,
        readings={key: tuple(taken) for key, taken in readings.items()},
        kept=tuple(kept),
    )


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
