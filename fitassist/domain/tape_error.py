# SPDX-License-Identifier: MIT
"""Whether two readings of one length differ by more than the tape does by itself.

Two readings of an unchanged length differ by more than sqrt(2) * 1.96 * TEM once in twenty times
(TEM: technical error of measurement; the factor is from memory, no source named yet).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import fsum, sqrt
from typing import Literal, NamedTuple

from fitassist.domain.measurements import Catalogue, Measurement, Sort

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
