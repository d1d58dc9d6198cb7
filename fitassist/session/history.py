# SPDX-License-Identifier: MIT
"""Readings of a body by day, and whether two days differ by more than the tape does by itself.

How far the tape is off is taken from readings repeated on one day in this workroom, or else from
what was published; see ``domain.tape_error``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum

from fitassist.domain.measurements import Catalogue, Measurement
from fitassist.domain.spreads import technical_error_mm
from fitassist.domain.tape_error import Day, LineHistory, Repeats, TapeError, matters, tape_error
from fitassist.session.person import BodyReading, BodyState, PersonState


def repeats_of(person: PersonState) -> dict[str, tuple[int, float]]:
    """Return, for each measurement repeated on one day, degrees of freedom and summed squares.

    Readings are repeats of each other where body, day and how they were taken are the same.
    """
    found: dict[str, tuple[int, float]] = {}
    for body in person.bodies.values():
        for key in {*body.readings, *body.past}:
            groups: dict[tuple[str, str], list[float]] = {}
            for one in (*body.past.get(key, ()), *body.readings.get(key, ())):
                if one.day:
                    groups.setdefault((one.day, one.how), []).append(one.mm)
            for group in groups.values():
                if len(group) > 1:
                    freedom, squares = found.get(key, (0, 0.0))
                    more = technical_error_mm([group]) ** 2 * (len(group) - 1)
                    found[key] = (freedom + len(group) - 1, squares + more)
    return found


def pooled(repeats: Iterable[Repeats]) -> dict[str, tuple[int, float]]:
    """Return the repeats of several people together."""
    found: dict[str, tuple[int, float]] = {}
    for one in repeats:
        for key, (freedom, squares) in one.items():
            n, total = found.get(key, (0, 0.0))
            found[key] = (n + freedom, total + squares)
    return found


def body_history(
    body: BodyState, catalogue: Catalogue, repeats: Repeats
) -> tuple[LineHistory, ...]:
    """Return the readings of a body by day, in the order of the catalogue.

    Parameters
    ----------
    repeats
        Of everybody in this workroom: degrees of freedom and squares by measurement.
    """
    found = []
    for one in catalogue.measurements:
        days = _days(body.past.get(one.key, ()), body.readings.get(one.key, ()))
        if days:
            found.append(_line(one, days, tape_error(one.sort, repeats, catalogue)))
    return tuple(found)


def _line(measurement: Measurement, days: tuple[Day, ...], tape: TapeError | None) -> LineHistory:
    if len(days) < 2:
        return LineHistory(measurement, days, None, "unknown", tape)
    change = days[-1].mm - days[-2].mm
    if len(days) == 2:
        return LineHistory(measurement, days, change, matters(change, tape), tape)
    whole = days[-1].mm - days[0].mm
    return LineHistory(
        measurement, days, change, matters(change, tape), tape, whole, matters(whole, tape)
    )


def _days(past: Sequence[BodyReading], now: Sequence[BodyReading]) -> tuple[Day, ...]:
    """Return the readings by day.

    Those whose day was said by the user stand by that day. The others stand in the order in which
    they were written, because the clock may have been set back: what was written later is later.
    """
    counting = {one.seq for one in now}
    groups: list[tuple[str, list[BodyReading]]] = []
    for one in sorted((*past, *now), key=lambda reading: reading.seq):
        if one.taken_on:
            continue
        if groups and groups[-1][0] == one.day:
            groups[-1][1].append(one)
        else:
            groups.append((one.day, [one]))
    said = [one for one in (*past, *now) if one.taken_on]
    for one in sorted(said, key=lambda reading: (reading.taken_on, reading.seq)):
        place = next((i for i, (day, _) in enumerate(groups) if day >= one.taken_on), len(groups))
        if place < len(groups) and groups[place][0] == one.taken_on:
            groups[place][1].append(one)
        else:
            groups.insert(place, (one.taken_on, [one]))
    return tuple(_day(day, taken, counting) for day, taken in groups)


def _day(day: str, taken: Sequence[BodyReading], counting: set[int]) -> Day:
    lengths = [one.mm for one in taken]
    return Day(
        day=day,
        mm=fsum(lengths) / len(lengths),
        n=len(lengths),
        range_mm=max(lengths) - min(lengths),
        counts=any(one.seq in counting for one in taken),
        seqs=tuple(one.seq for one in taken),
    )
