# SPDX-License-Identifier: MIT
"""How far a body reading may lie from the truth: a default per kind of distance, better by repeats.

Every spread is a standard deviation in mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum, sqrt
from typing import Literal, NamedTuple

from fitassist.domain.measurements import Sort

How = Literal["helped", "alone", "card", "clothed"]
"""Taken by another person; by oneself; found on an old card; taken over clothes."""

# One reading taken by a second person. Where the figures come from:
# - large girths: Barrios et al., BMC Med. Res. Methodol. 2016;16:49 found duplicate readings of
#   waist, hip and neck, by untrained people and by a technician, to differ with a technical error
#   of 2.0 to 19.3 mm. 6 mm is the geometric middle of the two; ISO 20685 asks 9 mm of a mean.
# - all others: the limits of ISO 20685 for the mean error (small girths, breadths and heights
#   4 mm, segment lengths and depths 5 mm), taken as the spread of a careful single reading.
#   Reading them as such is our own choice.
# - part girths: our own choice, the tape (6 mm) and the unmarked side or centre (5 mm) together.
HELPED_MM: dict[Sort, float] = {
    "large_girth": 6.0,
    "small_girth": 4.0,
    "part_girth": 8.0,
    "breadth": 4.0,
    "depth": 5.0,
    "length": 5.0,
    "height": 4.0,
}

# Our own choice, made so that every large girth stays within the bounds of Barrios 2016.
HOW_FACTOR: dict[How, float] = {"helped": 1.0, "alone": 1.5, "card": 2.0, "clothed": 3.0}

# The share of the default that sits in where the line was thought to be (or in the cloth, or in
# the age of the card) and so comes back in every repeat. Our own choice.
PLACING_SHARE: dict[How, float] = {"helped": 0.5, "alone": 0.5, "card": 0.9, "clothed": 0.9}

# How many repeats' worth of belief the default carries against the repeats seen. Our own choice:
# two equal readings then claim 0.89 of the default scatter, not none.
DEFAULT_WEIGHT = 4.0


class Average(NamedTuple):
    """Several readings of one thing taken together; lengths in mm."""

    mm: float
    spread_mm: float
    n: int
    range_mm: float  # largest less smallest


def default_spread_mm(sort: Sort, how: How) -> float:
    """Return the spread of one reading of this sort, taken this way."""
    return HELPED_MM[sort] * HOW_FACTOR[how]


def technical_error_mm(repeats: Iterable[Sequence[float]]) -> float:
    """Return the technical error of measurement of repeated readings.

    For N pairs it is sqrt(sum(d**2) / 2N), d being the difference of the two (Gupta and Zakaria
    (eds.), Anthropometry, Apparel Sizing and Design, 2nd ed., eq. 2.2). For n repeats of each
    thing it is the root of the summed squares about each mean over the summed n - 1, which for
    pairs is the same.

    Raises
    ------
    ValueError
        If nothing was read twice.
    """
    groups = [tuple(group) for group in repeats]
    freedom = sum(len(group) - 1 for group in groups if group)
    if freedom < 1:
        raise ValueError("nothing was read twice")
    return sqrt(fsum(_squares_about_mean(group) for group in groups) / freedom)


def scatter_mm(values: Sequence[float], sort: Sort, how: How) -> float:
    """Return the spread of one wrap about the mean of its repeats, default and repeats pooled.

    The default scatter w counts as if it had been seen with ``DEFAULT_WEIGHT`` degrees of
    freedom: sqrt((weight * w**2 + sum of squares) / (weight + n - 1)). This is the scale of the
    scaled inverse chi-square that follows from such a prior and normal readings.
    """
    share = PLACING_SHARE[how]
    usual = default_spread_mm(sort, how) * sqrt(1.0 - share * share)
    freedom = DEFAULT_WEIGHT + max(len(values) - 1, 0)
    return sqrt((DEFAULT_WEIGHT * usual * usual + _squares_about_mean(values)) / freedom)


def mean_spread_mm(values: Sequence[float], sort: Sort, how: How) -> float:
    """Return the spread of the mean of repeats taken the same way.

    The scatter shrinks with the root of their number; the error of placing the line does not.
    A single reading has exactly the default spread.
    """
    placing = PLACING_SHARE[how] * default_spread_mm(sort, how)
    return sqrt(placing * placing + scatter_mm(values, sort, how) ** 2 / len(values))


def average_of(readings: Sequence[tuple[float, How]], sort: Sort) -> Average:
    """Return the average of readings that may have been taken in several ways.

    Readings taken the same way are averaged plainly; the averages are then weighed by one over
    their variance. Where they disagree by more than their spreads allow, the spread is widened by
    the root of chi-square over its degrees of freedom (Birge's ratio, from memory).

    Parameters
    ----------
    readings
        Pairs of length in mm and how it was taken; at least one.
    sort
        What kind of distance it is.

    Raises
    ------
    ValueError
        If there are no readings.
    """
    if not readings:
        raise ValueError("no readings to average")
    by_how: dict[How, list[float]] = {}
    for mm, how in readings:
        by_how.setdefault(how, []).append(mm)
    means = [fsum(group) / len(group) for group in by_how.values()]
    weights = [mean_spread_mm(group, sort, how) ** -2 for how, group in by_how.items()]
    total = fsum(weights)
    mean = fsum(m * w for m, w in zip(means, weights, strict=True)) / total
    chi_square = fsum(w * (m - mean) ** 2 for m, w in zip(means, weights, strict=True))
    widen = sqrt(max(1.0, chi_square / (len(means) - 1))) if len(means) > 1 else 1.0
    every = [mm for mm, _ in readings]
    least, most = min(every), max(every)
    return Average(
        mm=min(max(mean, least), most),  # rounding must not carry a mean outside its readings
        spread_mm=widen / sqrt(total),
        n=len(every),
        range_mm=most - least,
    )


def _squares_about_mean(values: Sequence[float]) -> float:
    if len(values) < 2:
        return 0.0
    mean = fsum(values) / len(values)
    return fsum((value - mean) ** 2 for value in values)
