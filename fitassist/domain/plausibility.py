# SPDX-License-Identifier: MIT
"""Questions about readings that look like a slip. A question is asked once and never refuses.

Bodies differ more than any table: the limits ask about what is far outside published figures or
against geometry, and "keep" is always an answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import asin, degrees, fsum, hypot, log
from typing import Literal, NamedTuple

from pydantic import Field

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Catalogue
from fitassist.domain.model import Model

Code = Literal[
    "outside_usual",
    "slip_unit",
    "slip_digits",
    "slip_tenfold",
    "waist_over_hip",
    "waist_hip_ratio",
    "bust_under_bust",
    "halves_sum",
    "front_back_sum",
    "boards_too_wide",
    "boards_too_narrow",
    "part_over_whole",
    "drop_over_length",
    "shoulder_slope",
    "heights_swapped",
    "lengths_swapped",
    "repeats_apart",
]

# Adults. Derived limits: the lower ends from the 507 adults of openintro/bdims (Heinz et al.,
# J. Statistics Education 11(2), 2003), the upper ends from memory of the EN 13402 size series.
ADULT_GIRTHS_MM: dict[str, tuple[float, float]] = {
    "bust": (650.0, 1550.0),
    "waist": (550.0, 1500.0),
    "hip": (750.0, 1550.0),
}
WAIST_HIP_RATIO = (0.60, 1.20)  # derived from the same
BUST_LESS_UNDER_BUST_MM = (0.0, 350.0)  # derived from the same

# Beyond the adult limits by less than this share a reading is far likelier a person than a slip, so
# no slip is suggested. Our own choice; the catalogue's limits are wide enough without it.
NO_SLIP_WITHIN = 1.15

# Two parts of 8 mm spread and a girth of 6 mm differ by 12.8 mm from nothing but the tape (see
# spreads); about three times that. Our own choice.
SUM_TOLERANCE_MM = 40.0

# One part alone is a fifth to four fifths of its girth (own choice; real shares lie near a half).
PART_SHARE = (0.2, 0.8)
# Usual share of a girth in front of a plumb line at the side, and of a half: means of the 420
# outlines in resources/shape, women and men together, rounded.
USUAL_SHARE: dict[str, float] = {"bust": 0.50, "waist": 0.52, "hip": 0.475}
# Two parts that are off their usual share by nearly the same factor agree with each other, and the
# whole is the odd one out. Our own choice.
PARTS_AGREE = 0.05
# Degrees below level from the side of the neck to the outer bone. Derived: single shoulders were
# read from 13.9 to 35 degrees (surveys named in the test), with some room on both sides.
SHOULDER_SLOPE_DEG = (10.0, 38.0)
# Nearer to the waist first; both are measured from the same elastic, so the order is geometry.
LENGTH_PAIRS = (("waist_to_high_hip", "waist_to_hip"), ("waist_to_under_bust", "waist_to_bust"))

# Largest less smallest repeat, in spreads of one reading. The range of five normal readings stays
# below 5 in 99.6 of 100 cases (mathematics). Our own choice.
REPEATS_APART = 5.0

CENTIMETRE_MM, INCH_MM = 10.0, 25.4
# Into how many parts people divide a unit when they type a length: tenths, sixteenths of an inch.
PARTS_TYPED: dict[float, tuple[float, ...]] = {CENTIMETRE_MM: (10.0,), INCH_MM: (10.0, 16.0)}

_LINES = ("bust", "waist", "hip")
_NOTHING = 1e-6  # mm; equality in the identities below is no contradiction


class Question(Model):
    """Something to look at again.

    ``values`` holds each reading asked about under its key, and what else the sentence needs;
    lengths in mm. ``likelier`` is the key of the reading that is likelier wrong, or empty.
    """

    code: Code
    keys: tuple[str, ...]
    values: dict[str, float] = Field(default_factory=dict)
    likelier: str = ""


class Repeats(NamedTuple):
    """The readings of one measurement that were taken more than once; mm."""

    least_mm: float
    most_mm: float
    spread_mm: float  # of one reading, the default for how it was taken


def questions(
    readings: Mapping[str, float],
    kind: Kind,
    catalogue: Catalogue | None = None,
    repeats: Mapping[str, Repeats] | None = None,
) -> tuple[Question, ...]:
    """Return what is worth asking about these readings.

    Parameters
    ----------
    readings
        Catalogue key to length in mm (the average, where there are repeats).
    kind
        Whose body; limits from adults are not put to children.
    catalogue
        Its wide limits catch slips where no narrower ones are known; None leaves them out.
    repeats
        Catalogue key to the extent of its repeats.

    Returns
    -------
    tuple of Question
        In a fixed order; empty if nothing stands out.
    """
    found = [*_outside(readings, kind, catalogue)]
    if kind != "child":
        found += _adult_relations(readings)
    for line in _LINES:
        found += _sums(readings, line)
        found += _boards(readings, line)
    found += _lengths(readings)
    found += _repeats_apart(repeats or {})
    return tuple(found)


def question_key(question: Question) -> str:
    """Return what marks a question as answered: with another reading it is another question.

    Lengths are rounded to 0.1 mm, so that adding up in another order does not ask again.
    """
    values = ",".join(f"{name}={value:.1f}" for name, value in sorted(question.values.items()))
    return f"{question.code}:{values}"


def _ask(code: Code, readings: Mapping[str, float], *keys: str, **more: float) -> Question:
    return Question(code=code, keys=keys, values={key: readings[key] for key in keys} | more)


def _outside(
    readings: Mapping[str, float], kind: Kind, catalogue: Catalogue | None
) -> Iterator[Question]:
    for key, mm in readings.items():
        limits = _limits(key, kind, catalogue)
        if limits is None or limits[0] <= mm <= limits[1]:
            continue
        slip = _probable_slip(mm, limits, _neighbour_mm(key, readings))
        margin = NO_SLIP_WITHIN if kind != "child" and key in ADULT_GIRTHS_MM else 1.0
        if slip is not None and not limits[0] / margin <= mm <= limits[1] * margin:
            code, instead = slip
            yield _ask(code, readings, key, instead_mm=instead)
        else:
            yield _ask("outside_usual", readings, key, least_mm=limits[0], most_mm=limits[1])


def _limits(key: str, kind: Kind, catalogue: Catalogue | None) -> tuple[float, float] | None:
    if kind != "child" and key in ADULT_GIRTHS_MM:
        return ADULT_GIRTHS_MM[key]
    found = catalogue.get(key) if catalogue else None
    return (found.least_mm, found.most_mm) if found else None


def _neighbour_mm(key: str, readings: Mapping[str, float]) -> float | None:
    """Return about how large the great girths of this body are without this one, or None."""
    others = [
        readings[other]
        for other, (least, most) in ADULT_GIRTHS_MM.items()
        if key in ADULT_GIRTHS_MM and other != key and least <= readings.get(other, 0.0) <= most
    ]
    return fsum(others) / len(others) if others else None


def _probable_slip(
    mm: float, limits: tuple[float, float], near_mm: float | None
) -> tuple[Code, float] | None:
    """Return the likeliest slip that would bring a length within its limits, and that length.

    Where several would, the one nearest to the other girths in ratio is taken; without others
    the first in the order other unit, digits swapped, point misplaced (our own judgement).
    """
    candidates: list[tuple[Code, float]] = []
    if _is_likely_entry(mm, INCH_MM):  # a number of centimetres taken for inches
        candidates.append(("slip_unit", mm / 2.54))
    if _is_likely_entry(mm, CENTIMETRE_MM):  # and the other way round
        candidates.append(("slip_unit", mm * 2.54))
    candidates += [("slip_digits", other) for other in _swapped(mm)]
    candidates += [("slip_tenfold", mm / 10.0), ("slip_tenfold", mm * 10.0)]
    fitting = [(code, other) for code, other in candidates if limits[0] <= other <= limits[1]]
    if near_mm is None:
        return next(iter(fitting), None)
    return min(fitting, key=lambda one: abs(log(one[1] / near_mm)), default=None)


def _is_likely_entry(mm: float, unit_mm: float) -> bool:
    """Return whether a length is one that people type in this unit."""
    numbers = (mm / unit_mm * parts for parts in PARTS_TYPED[unit_mm])
    return any(abs(number - round(number)) <= 0.01 for number in numbers)


def _swapped(mm: float) -> Iterator[float]:
    """Yield the length with two neighbouring digits of the whole number changed about."""
    for unit_mm in (CENTIMETRE_MM, INCH_MM):
        if not _is_likely_entry(mm, unit_mm):
            continue
        number = mm / unit_mm
        whole = str(int(number + 1e-9))
        rest = number - int(whole)
        for i in range(len(whole) - 1):
            other = whole[:i] + whole[i + 1] + whole[i] + whole[i + 2 :]
            if other != whole and other[0] != "0":
                yield (int(other) + rest) * unit_mm


def _adult_relations(readings: Mapping[str, float]) -> Iterator[Question]:
    if "waist" in readings and "hip" in readings:
        ratio = readings["waist"] / readings["hip"]
        if not WAIST_HIP_RATIO[0] <= ratio <= WAIST_HIP_RATIO[1]:
            yield _ask("waist_hip_ratio", readings, "waist", "hip")
        elif ratio > 1.0:
            yield _ask("waist_over_hip", readings, "waist", "hip")
    if "bust" in readings and "under_bust" in readings:
        less = readings["bust"] - readings["under_bust"]
        if not BUST_LESS_UNDER_BUST_MM[0] <= less <= BUST_LESS_UNDER_BUST_MM[1]:
            yield _ask("bust_under_bust", readings, "bust", "under_bust")


def _sums(readings: Mapping[str, float], line: str) -> Iterator[Question]:
    front = USUAL_SHARE[line]
    pairs: tuple[tuple[Code, str, str, float], ...] = (
        ("halves_sum", f"{line}_left_half", f"{line}_right_half", 0.5),
        ("front_back_sum", f"{line}_front", f"{line}_back", front),
    )
    for code, one, other, share in pairs:
        if line not in readings:
            continue
        if one in readings and other in readings:
            together = readings[one] + readings[other]
            if abs(together - readings[line]) > SUM_TOLERANCE_MM:
                asked = _ask(code, readings, line, one, other, together_mm=together)
                odd = odd_one_out(readings[line], readings[one], readings[other], share)
                yield asked.model_copy(update={"likelier": (line, one, other)[odd]})
            continue
        for part in (key for key in (one, other) if key in readings):
            if not PART_SHARE[0] < readings[part] / readings[line] < PART_SHARE[1]:
                yield _ask("part_over_whole", readings, part, line)


def odd_one_out(whole: float, one: float, other: float, share: float) -> int:
    """Return which of a girth and its two parts is likelier wrong: 0 the girth, 1 or 2 a part.

    ``share`` is the usual one of the first part. Where both parts are off it by the same factor
    they agree with each other, and the whole is the odd one out.
    """
    off = log(one / (share * whole)), log(other / ((1.0 - share) * whole))
    if off[0] * off[1] > 0.0 and abs(off[0] - off[1]) <= PARTS_AGREE:
        return 0
    return 1 if abs(off[0]) > abs(off[1]) else 2


def _boards(readings: Mapping[str, float], line: str) -> Iterator[Question]:
    """Ask where no convex section can have this girth between these boards.

    For every convex section 2 * sqrt(B**2 + D**2) <= girth <= 2 * (B + D) (mathematics: the four
    points that touch the boards, and the box they make). A taut tape is convex. One pair of boards
    alone still bounds it: a section of no depth at all is twice its breadth round.
    """
    keys = tuple(key for key in (f"{line}_breadth", f"{line}_depth") if key in readings)
    if line not in readings or not keys:
        return
    girth, across = readings[line], [readings[key] for key in keys]
    if 2.0 * hypot(*across) > girth + _NOTHING:
        yield _ask("boards_too_wide", readings, line, *keys, least_mm=2.0 * hypot(*across))
    elif len(across) == 2 and girth > 2.0 * fsum(across) + _NOTHING:
        yield _ask("boards_too_narrow", readings, line, *keys, most_mm=2.0 * fsum(across))


def _lengths(readings: Mapping[str, float]) -> Iterator[Question]:
    shoulder = readings.get("shoulder_length")
    for drop in ("shoulder_drop_left", "shoulder_drop_right"):
        # A drop is one leg of a right triangle with the shoulder as its longest side.
        if shoulder is not None and readings.get(drop, 0.0) > shoulder:
            yield _ask("drop_over_length", readings, drop, "shoulder_length")
        elif shoulder is not None and drop in readings:
            slope = degrees(asin(readings[drop] / shoulder))
            if not SHOULDER_SLOPE_DEG[0] <= slope <= SHOULDER_SLOPE_DEG[1]:
                yield _ask("shoulder_slope", readings, drop, "shoulder_length")
    heights = ("floor_to_waist", "floor_to_shoulder")
    if all(key in readings for key in heights) and readings[heights[0]] >= readings[heights[1]]:
        yield _ask("heights_swapped", readings, *heights)
    for near, far in LENGTH_PAIRS:
        if near in readings and far in readings and readings[near] >= readings[far]:
            yield _ask("lengths_swapped", readings, near, far)


def _repeats_apart(repeats: Mapping[str, Repeats]) -> Iterator[Question]:
    for key, (least, most, spread) in repeats.items():
        if most - least > REPEATS_APART * spread:
            yield Question(
                code="repeats_apart", keys=(key,), values={"least_mm": least, "most_mm": most}
            )
