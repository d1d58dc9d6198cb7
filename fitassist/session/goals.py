# SPDX-License-Identifier: MIT
"""From a body's targets to what the form should measure, and what it can never do."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.shaping import Shaping
from fitassist.domain.steps import Note, Reason
from fitassist.planning.chance import Goal
from fitassist.planning.layout import SEAM_WEIGHTS

# Halves of a body that differ by less than this are called alike (our own choice: two readings of a
# half girth, each good to some 4 mm, differ by as much without meaning anything).
HALVES_DIFFER_MM = 12.0
LEAST_WIDTH_MM = 1.0  # of a tolerance; files refuse finer ones, records may hold anything


@dataclass(frozen=True)
class Aims:
    """Goals that dials steer by, and those only reported."""

    steered: tuple[Goal, ...]
    reported: tuple[Goal, ...]  # lines without dials
    halves_differ: bool


def tolerance(target: Target, preferences: Preferences) -> tuple[float, float]:
    """Return how far below and above its target a line may end, in mm.

    The target's own tolerance goes first, as it is. Without one, every line may fall short further
    where padding follows; else the line's goes before the default. These two are never finer than
    the spread of the body's own reading.
    """
    if target.tolerance_mm is not None:
        return _sound(*target.tolerance_mm)
    if preferences.padding_follows:
        below, above = preferences.padded_tolerance_mm
    else:
        below, above = preferences.line_tolerance_mm.get(
            target.line, preferences.default_tolerance_mm
        )
    spread = target.spread_mm or 0.0
    return _sound(min(below, -spread), max(above, spread))


def _sound(below: float, above: float) -> tuple[float, float]:
    """Return a tolerance the right way round and not finer than a tape can tell."""
    low, high = min(below, above), max(below, above)
    return (low, high) if high - low >= LEAST_WIDTH_MM else (low - 0.5, low - 0.5 + LEAST_WIDTH_MM)


def allowed_for_cover(target: Target, preferences: Preferences) -> float:
    """Return the target less what a cover adds.

    A layer of thickness t all round adds 2 pi t to the girth of a convex section (Steiner), half of
    that to a half, twice t to breadth and depth.
    """
    t = preferences.cover_mm
    added = {What.GIRTH: 2 * math.pi * t, What.BREADTH: 2 * t, What.DEPTH: 2 * t, What.LENGTH: 0.0}
    return target.value_mm - added.get(target.what, math.pi * t)


def goal_of(target: Target, preferences: Preferences) -> Goal:
    """Return what the form itself should measure for a target."""
    below, above = tolerance(target, preferences)
    return Goal(target.line, target.what, allowed_for_cover(target, preferences), below, above)


# Lines without dials that stand in for one that is left to padding.
STANDS_IN = {"bust": ("upper_chest", "under_bust")}


def aims(body: Body, form: Form, preferences: Preferences, shaping: Shaping | None = None) -> Aims:
    """Return the goals a form's dials steer by, and the others its lines are compared with.

    Half girths steer only where the body's halves differ; otherwise left equals right. A line left
    to padding is only compared, and the lines about it steer in its place.
    """
    shaping = shaping or Shaping()
    dialled = {row.line for row in form.rows if _has_dials(form, row.name)}
    for line in shaping.left_to_padding:
        dialled = (dialled - {line}) | set(STANDS_IN.get(line, ()))
    known = {line.name for line in form.lines}
    steered: list[Goal] = []
    reported: list[Goal] = []
    differ = False
    for target in body.targets:
        if target.line not in known or target.what not in SEAM_WEIGHTS:
            continue
        goal = goal_of(target, preferences)
        if target.what == What.GIRTH and target.line in shaping.girths_mm:
            goal = replace(goal, target_mm=shaping.girths_mm[target.line])
        if target.what == What.GIRTH:
            (steered if target.line in dialled else reported).append(goal)
        elif (
            target.what == What.LEFT_HALF
            and target.line in dialled
            and halves_differ(body, target.line)
        ):
            steered.append(goal)
            differ = True
    return Aims(tuple(steered), tuple(reported), differ)


def halves_differ(body: Body, line: str) -> bool:
    """Whether left and right halves of the body differ at a line by more than reading error."""
    left, right = body.target(line, What.LEFT_HALF), body.target(line, What.RIGHT_HALF)
    if left is None or right is None:
        return False
    return abs(left.value_mm - right.value_mm) > HALVES_DIFFER_MM


def _has_dials(form: Form, row: str) -> bool:
    return any(dial.row == row and not dial.missing for dial in form.dials)


def never(body: Body, form: Form, preferences: Preferences) -> tuple[Note, ...]:
    """Return what this form can never do for this body, from its description alone.

    A closed girth, shoulder length or torso length larger than the body's can only be lived with:
    dials add, they take nothing away (common practice, no source).
    """
    notes = []
    for target in body.targets:
        line = form.line(target.line)
        if target.what != What.GIRTH or line is None or line.closed_girth_mm is None:
            continue
        goal = goal_of(target, preferences)
        over = line.closed_girth_mm - goal.target_mm
        if line.closed_girth_mm > goal.high_mm:
            notes.append(_too_big(target.line, over, "too_big_girth"))
    lengths = {t.line: t for t in body.targets if t.what == What.LENGTH}
    for key, least in (
        ("shoulder_length", form.shoulder_length_mm),
        ("back_neck_to_waist", form.torso.least_mm or form.torso.length_mm),
    ):
        if least is not None and key in lengths:
            over = least - lengths[key].value_mm
            if over > tolerance(lengths[key], preferences)[1]:
                notes.append(_too_big(key, over, f"too_big_{key}"))
    return tuple(notes)


def _too_big(line: str, over_mm: float, code: str) -> Note:
    reason = Reason(code=code, values={"line": line, "mm": over_mm})
    return Note(code="too_big", line=line, amount_mm=over_mm, reason=reason)
