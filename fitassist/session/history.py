# SPDX-License-Identifier: MIT
"""Readings of a body by day, and whether two days differ by more than the tape does by itself.

Two readings of an unchanged length differ by more than sqrt(2) * 1.96 * TEM once in twenty times
(TEM: technical error of measurement; the factor is from memory, no source named yet). TEM is taken
from readings repeated on one day in this workroom, or else from what was published.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import fsum, sqrt
from typing import Literal, NamedTuple

from fitassist.domain.measurements import Catalogue, Measurement, Sort
from fitassist.domain.spreads import technical_error_mm
from fitassist.session.person import BodyReading, BodyState, PersonState

FACTOR = sqrt(2.0) * 1.96  # from memory; see above

# Barrios, Martin-Biggers, Quick, Byrd-Bredbenner, BMC Med. Res. Methodol. 2016;16:49 (abstract
# read): 41 women, waist, hip and neck read twice: TEM 0.08 to 0.76 in, 2.0 to 19.3 mm.
PUBLISHED_TEM_MM = (2.0, 19.3)
# The published figures are of girths; nothing like them was found for other distances.
PUBLISHED_SORTS: tuple[Sort, ...] = ("large_girth", "small_girth")

# Ten degrees of freedom hold a standard deviation to about a quarter of itself
# (1 / sqrt(2 * 10) = 0.22); fewer repeats say too little. Our own choice.
LEAST_FREEDOM = 10

Matter = Literal["within_tape", "may_be_tape", "change", "unknown"]
Repeats = Mapping[str, tuple[int, float]]


class TapeError(NamedTuple):
    """How far the tape is off by itself: the same twice where it is known, else a range."""

    least_mm: float
    most_mm: float
    source: Literal["own", "published"]
    freedom: int = 0  # repeats behind it, where it is our own


class Day(NamedTuple):
    """The readings of one measurement on one day."""

    day: str  # YYYY-MM-DD, empty if not known
    mm: float  # their mean
    n: int
    range_mm: float
    counts: bool  # whether the form is set by these
    seqs: tuple[int, ...]


class LineHistory(NamedTuple):
    """One measurement of a body through time, the oldest first."""

    measurement: Measurement
    days: tuple[Day, ...]
    change_mm: float | None  # the last day less the one before
    matter: Matter
    tape: TapeError | None
    since_first_mm: float | None = None  # the last day less the first, where there are more
    since_first: Matter = "unknown"


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


def tape_error(sort: Sort, repeats: Repeats, catalogue: Catalogue) -> TapeError | None:
    """Return how far readings of this sort are off: by our own repeats, as published, or None."""
    own = [repeats[one.key] for one in catalogue.measurements
           if one.sort == sort and one.key in repeats]  # fmt: skip
    freedom = sum(n for n, _ in own)
    if freedom >= LEAST_FREEDOM:
        tem = sqrt(fsum(squares for _, squares in own) / freedom)
        return TapeError(tem, tem, "own", freedom)
    if sort in PUBLISHED_SORTS:
        return TapeError(*PUBLISHED_TEM_MM, "published")
    return None


def matters(change_mm: float, tape: TapeError | None) -> Matter:
    """Say whether a difference of two readings is more than the tape's own error."""
    if tape is None:
        return "unknown"
    size = abs(change_mm)
    if size <= FACTOR * tape.least_mm:
        return "within_tape"
    return "change" if size > FACTOR * tape.most_mm else "may_be_tape"


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
