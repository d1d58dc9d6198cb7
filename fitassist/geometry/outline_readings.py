# SPDX-License-Identifier: MIT
"""What was measured, looked through before it is believed: impossible, doubtful or usable.

For any convex outline 2 sqrt(B^2 + D^2) <= girth <= 2 (B + D); front and back, and left and right,
add up to the girth; a line lower down lies lower.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.geometry.shape_prior import BACK_LENGTH, OUTLINE_LINES, Observation

# A misfit of so many spreads is a slip and not a matter of noise; between the two the bands widen.
REFUSED_SPREADS, DOUBTED_SPREADS = 5.0, 2.0
LEAST_SPREAD_MM, MOST_SPREAD_MM = 0.5, 1000.0
# Wide, children included: only for catching slips (own choice, as in the list of measurements).
GIRTH_LIMITS_MM = (250.0, 2500.0)
PART_LIMITS_MM = (60.0, 1500.0)
LENGTH_LIMITS_MM = (5.0, 900.0)

# Lengths and the lines whose heights they tell, with the sign of up.
HEIGHT_LENGTHS = {
    "waist_to_hip": ("hip", -1.0),
    "waist_to_high_hip": ("high_hip", -1.0),
    "waist_to_under_bust": ("under_bust", 1.0),
    "waist_to_bust": ("bust", 1.0),
    "waist_to_upper_chest": ("upper_chest", 1.0),
}
# A tape along the body is longer than the height it spans; no source, our own choice.
ALONG_SPREAD_MM = 6.0
_PAIRS = ((What.FRONT, What.BACK), (What.LEFT_HALF, What.RIGHT_HALF))


@dataclass(frozen=True)
class OutlineReading:
    """One reading: a line and what (or a length named by its key), mm, standard deviation."""

    line: str
    what: What
    mm: float
    spread_mm: float


@dataclass(frozen=True)
class Doubt:
    """Something a page may say beside an outline; bands are wider for it already.

    Codes: ``breadth_depth_doubtful`` and ``parts_doubtful`` (values: girth_mm and what it was
    held against), ``readings_disagree`` (times), ``unlike_bodies_known``, ``not_used`` (what).
    """

    code: str
    line: str
    values: Mapping[str, object] = field(default_factory=dict)


def observations_of(
    readings: Sequence[OutlineReading], fewest_girths: int
) -> tuple[list[Observation], tuple[Doubt, ...]]:
    """Return what can be believed, and what only half.

    Raises
    ------
    FitError
        ``outline_bad_reading`` (line, what, number): not a length a torso has.
        ``outline_too_few_girths`` (known, needed).
        ``outline_breadth_depth_misfit`` (line, girth_mm, least_mm, most_mm): no outline has them.
        ``outline_parts_misfit`` (line, girth_mm, sum_mm): they do not add up.
        ``outline_lengths_out_of_order`` (line, near_mm, far_mm).
    """
    doubts: list[Doubt] = []
    kept: list[OutlineReading] = []
    for one in readings:
        if (one.line in OUTLINE_LINES and one.what is not What.LENGTH) or _is_length(one):
            _require_sound(one)
            kept.append(one)
        else:
            doubts.append(Doubt("not_used", one.line, {"what": one.what.value}))
    by_line = {line: {one.what: one for one in kept if one.line == line} for line in OUTLINE_LINES}
    known = sum(_has_girth(by_line[line]) for line in OUTLINE_LINES[1:])
    if known < fewest_girths:
        raise FitError("outline_too_few_girths", known=known, needed=fewest_girths)
    _require_order(kept)
    loose: dict[str, float] = {}
    for line, told in by_line.items():
        for check in (_check_parts, _check_box):
            extra, doubt = check(line, told)
            loose[line] = max(loose.get(line, 0.0), extra)
            doubts.extend(doubt)
    return [_observation(one, loose.get(one.line, 0.0)) for one in kept], tuple(doubts)


def _is_length(one: OutlineReading) -> bool:
    named = one.line in HEIGHT_LENGTHS or one.line == "back_neck_to_waist"
    return one.what is What.LENGTH and named


def _require_sound(one: OutlineReading) -> None:
    limits = {What.GIRTH: GIRTH_LIMITS_MM, What.LENGTH: LENGTH_LIMITS_MM}
    least, most = limits.get(one.what, PART_LIMITS_MM)
    sound = math.isfinite(one.mm) and least <= one.mm <= most
    if not sound or not 0.0 <= one.spread_mm <= MOST_SPREAD_MM:
        raise FitError(
            "outline_bad_reading", one.line, line=one.line, what=one.what.value, number=one.mm
        )


def _has_girth(told: Mapping[What, OutlineReading]) -> bool:
    return What.GIRTH in told or any(a in told and b in told for a, b in _PAIRS)


def _girth_of(told: Mapping[What, OutlineReading]) -> tuple[float, float] | None:
    """Return the girth and its spread, from its two parts if it was not read itself."""
    if What.GIRTH in told:
        return told[What.GIRTH].mm, told[What.GIRTH].spread_mm
    for a, b in _PAIRS:
        if a in told and b in told:
            spread = math.hypot(told[a].spread_mm, told[b].spread_mm)
            return told[a].mm + told[b].mm, spread
    return None


Checked = tuple[float, list[Doubt]]


def _check_parts(line: str, told: Mapping[What, OutlineReading]) -> Checked:
    """Return by how much to loosen a line whose parts do not quite add up to its girth."""
    whole = _girth_of(told)
    if whole is None:
        return 0.0, []
    loosest, doubts = 0.0, []
    for a, b in _PAIRS:
        if a in told and b in told:
            total = told[a].mm + told[b].mm
            spread = math.hypot(whole[1], told[a].spread_mm, told[b].spread_mm)
        elif a in told or b in told:
            # One part alone: it has to be a plausible share, a fifth to four fifths.
            part = told[a if a in told else b]
            if not 0.2 < part.mm / whole[0] < 0.8:
                raise FitError(
                    "outline_parts_misfit", line, line=line, girth_mm=whole[0], sum_mm=part.mm
                )
            continue
        else:
            continue
        misfit = abs(total - whole[0]) / max(spread, LEAST_SPREAD_MM)
        if misfit > REFUSED_SPREADS:
            raise FitError("outline_parts_misfit", line, line=line, girth_mm=whole[0], sum_mm=total)
        if misfit > DOUBTED_SPREADS:
            values = {"girth_mm": whole[0], "sum_mm": total}
            doubts.append(Doubt("parts_doubtful", line, values))
            loosest = max(loosest, abs(total - whole[0]) / 2.0)
    return loosest, doubts


def _check_box(line: str, told: Mapping[What, OutlineReading]) -> Checked:
    """Return by how much to loosen a line whose girth does not quite fit breadth and depth."""
    whole = _girth_of(told)
    across, deep = told.get(What.BREADTH), told.get(What.DEPTH)
    if whole is None or (across is None and deep is None):
        return 0.0, []
    girth, spread = whole
    breadth = across.mm if across else 0.0
    depth = deep.mm if deep else 0.0
    least = 2.0 * math.hypot(breadth, depth)
    most = 2.0 * (breadth + depth) if across and deep else math.inf
    noise = 2.0 * math.hypot(
        across.spread_mm if across else 0.0, deep.spread_mm if deep else 0.0, spread / 2.0
    )
    beyond = max(least - girth, girth - most, 0.0)
    misfit = beyond / max(noise, LEAST_SPREAD_MM)
    values = {"girth_mm": girth, "least_mm": least, "most_mm": most}
    if misfit > DOUBTED_SPREADS:
        raise FitError("outline_breadth_depth_misfit", line, line=line, **values)
    if beyond > 0.0:
        return beyond, [Doubt("breadth_depth_doubtful", line, values)]
    return 0.0, []


def _require_order(readings: Sequence[OutlineReading]) -> None:
    """Refuse lengths that would put a lower line above a higher one."""
    told = {one.line: one.mm for one in readings if one.line in HEIGHT_LENGTHS}
    for near, far in (
        ("waist_to_high_hip", "waist_to_hip"),
        ("waist_to_under_bust", "waist_to_bust"),
        ("waist_to_bust", "waist_to_upper_chest"),
        ("waist_to_under_bust", "waist_to_upper_chest"),
    ):
        if near in told and far in told and told[near] >= told[far]:
            raise FitError(
                "outline_lengths_out_of_order",
                far,
                line=HEIGHT_LENGTHS[far][0],
                near_mm=told[near],
                far_mm=told[far],
            )


def _observation(one: OutlineReading, loose_mm: float) -> Observation:
    spread = math.hypot(max(one.spread_mm, LEAST_SPREAD_MM), loose_mm)
    if one.what is What.LENGTH:
        spread = math.hypot(spread, ALONG_SPREAD_MM)
        if one.line == "back_neck_to_waist":
            return Observation(one.what, BACK_LENGTH, one.mm, spread)
        line, up = HEIGHT_LENGTHS[one.line]
        return Observation(one.what, OUTLINE_LINES.index(line), up * one.mm, spread)
    return Observation(one.what, OUTLINE_LINES.index(one.line), one.mm, spread)
