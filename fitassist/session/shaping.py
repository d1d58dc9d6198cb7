# SPDX-License-Identifier: MIT
"""Which seam should give the girth: from the outlines of body and form to dials off their row.

The body's outline at each row follows from whatever was measured, the form's from its closed girth
(``geometry.outline``). The best gaps at the wanted girth (``geometry.best_gaps``) say how much each
seam should open; the difference of a seam from the mean of its row, in clicks, is handed to the
planner as a wish beside the girths. Centre seams also spread the neck, the shoulders, the
across-back and the bust points (common practice, no source), so they open no further than the body
is wide there, where both are known.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from fitassist.domain.body import Body, Preferences
from fitassist.domain.form import DialMeaning, Form, Row
from fitassist.domain.lines import Seam, What
from fitassist.domain.shaping import Setting, Shaping, frame_lines
from fitassist.errors import FitError
from fitassist.geometry.best_gaps import best_gaps
from fitassist.geometry.form_outline import centred, clearance, closed_outlines, form_section
from fitassist.geometry.outline import TorsoOutlines, torso_outlines
from fitassist.geometry.outline_readings import HEIGHT_LENGTHS, OutlineReading
from fitassist.geometry.shape_prior import PriorKind, ShapePriors
from fitassist.planning.layout import PLAIN_TURN_MM, Floats
from fitassist.session.goals import goal_of, halves_differ

FRAME_MISSING = "frame_lines_missing"  # doubt: frame first, with nothing to set the frame by
FORM_UNKNOWN = "form_outline_unknown"  # doubt: neither closed girths nor printed ones
# A gap is no further off the mean of its row than this: panels that differ more bind (own choice).
MOST_OFF_MM = 20.0
STANDS_OUT_MM = 3.0  # radial; more than this cannot be hidden by a cover
DEFAULT_SPREAD_MM = 6.0
FORM_SPREAD_MM = 4.0
# Of the centre gaps at the bust row, what shows above it: a shoulder is half a panel, so it widens
# by a quarter of front and back gap each (our model: panels move by half a gap, and the shoulder
# seam lies half-way between the centre seams).
SHOULDER_SHARE = 0.25
# Of the centre gaps at the bust row, what reaches the base of the neck: panels that tilt about the
# shoulders bring less there than at the row (our own choice, no source).
NECK_SHARE = 0.5
SHOULDERS = ("shoulder_length", "shoulder_length_left", "shoulder_length_right")


@dataclass(frozen=True)
class Outlines:
    """Outlines of a body and of a closed form, where both are known."""

    body: TorsoOutlines
    form: TorsoOutlines


@dataclass(frozen=True)
class KnownOutlines:
    """Outlines of a body and of a closed form as far as they are known; None: not at all."""

    body: TorsoOutlines | None
    form: TorsoOutlines | None


def known_outlines(body: Body, form: Form, priors: ShapePriors) -> KnownOutlines:
    """Return the outlines of body and closed form, each where enough is known of it."""
    of_body = of_form = None
    with suppress(FitError):
        of_body = body_outlines(body, priors)
    with suppress(FitError):
        of_form = form_outlines(form, body, priors)
    return KnownOutlines(of_body, of_form)


def kind_of(body: Body) -> PriorKind:
    """Return which prior a body's outlines are drawn from."""
    kinds: Mapping[str, PriorKind] = {"woman": "woman", "man": "man"}
    return kinds.get(body.kind, "any")


def body_outlines(body: Body, priors: ShapePriors) -> TorsoOutlines:
    """Return a body's outlines from its targets; raises FitError if too little is known."""
    readings = [
        OutlineReading(t.line, t.what, t.value_mm, t.spread_mm or DEFAULT_SPREAD_MM)
        for t in body.targets
        if t.what != What.LENGTH or t.line in HEIGHT_LENGTHS or t.line == "back_neck_to_waist"
    ]
    return torso_outlines(priors[kind_of(body)], readings)


def form_outlines(form: Form, body: Body, priors: ShapePriors) -> TorsoOutlines:
    """Return a closed form's outlines from its closed girths; raises FitError if none is known."""
    readings = [
        OutlineReading(line.name, What.GIRTH, line.closed_girth_mm, FORM_SPREAD_MM)
        for line in form.lines
        if line.closed_girth_mm is not None
    ]
    if not readings:
        readings = [
            OutlineReading(row.line, What.GIRTH, girth, 4 * FORM_SPREAD_MM)
            for row in form.rows
            if (girth := _printed_closed_girth(form, row)) is not None
        ]
    return closed_outlines(priors[kind_of(body)], readings)


def _printed_closed_girth(form: Form, row: Row) -> float | None:
    """Girth printed at a row's closed numbers, if its scale prints girths."""
    least = [dial.least for dial in form.dials if dial.row == row.name]
    if form.dial_meaning != DialMeaning.WHOLE_GIRTH or not least:
        return None
    return float(np.mean(least)) * form.unit_mm


def shaping_for(
    body: Body, form: Form, preferences: Preferences, priors: ShapePriors, setting: Setting
) -> Shaping:
    """Return what shape asks of the dials; goes by girths alone where outlines are not known."""
    try:
        shape = body_outlines(body, priors)
    except FitError as error:
        return shaping_without(body, form, setting, error.code)
    try:
        outlines = Outlines(shape, form_outlines(form, body, priors))
    except FitError:
        return shaping_without(body, form, setting, FORM_UNKNOWN)
    offsets: dict[str, float] = {}
    girths: dict[str, float] = {}
    doubts: list[str] = []
    for row in form.rows:
        line = _shaped_by(body, form, row, setting)
        target = body.target(line)
        if target is None or line not in outlines.body.levels:
            continue
        goal = goal_of(target, preferences)
        try:
            girth, gaps = _row_gaps(body, form, row, line, outlines, goal.target_mm, setting)
        except FitError as error:
            doubts.append(error.code)
            continue
        if setting == "room_for_padding":
            girths[row.line] = girth
        offsets |= _clicks(form, row, gaps)
    doubts += [doubt.code for doubt in outlines.body.doubts if doubt.code != "not_used"]
    frame = _frame(body, form, setting, doubts)
    return Shaping(setting=setting, offsets=offsets, girths_mm=girths, **frame)


def shaping_without(body: Body, form: Form, setting: Setting, doubt: str) -> Shaping:
    """Return the shaping of a fitting that goes by girths alone, and why."""
    return Shaping(setting=setting, **_frame(body, form, setting, [doubt]))


def _frame(
    body: Body, form: Form, setting: Setting, doubts: Sequence[str]
) -> dict[str, tuple[str, ...]]:
    """Return which lines frame first leaves to padding, with what is in doubt, each once.

    The bust is left where the frame can be set by; else it is said that it cannot.
    """
    if setting != "frame_first":
        return {"doubts": tuple(dict.fromkeys(doubts))}
    if frame_lines(body, form):
        return {"left_to_padding": ("bust",), "doubts": tuple(dict.fromkeys(doubts))}
    return {"doubts": tuple(dict.fromkeys((*doubts, FRAME_MISSING)))}


def _shaped_by(body: Body, form: Form, row: Row, setting: Setting) -> str:
    """Return the line whose outline a row follows: its own, or for frame first the frame's."""
    frame = frame_lines(body, form)
    return frame[0] if setting == "frame_first" and row.line == "bust" and frame else row.line


def _row_gaps(
    body: Body,
    form: Form,
    row: Row,
    line: str,
    outlines: Outlines,
    target_mm: float,
    setting: Setting,
) -> tuple[float, dict[Seam, float]]:
    """Return the girth a row should give the form, and the gaps that give a line its best shape."""
    outline = outlines.body.levels[line].points
    closed = outlines.form.levels[line].points
    girth = target_mm
    if setting == "room_for_padding":
        girth = _largest_inside(closed, outline, target_mm)
    found = best_gaps(closed, outline, girth)
    return girth, _sided(body, row.line, _within_lengths(body, form, row, dict(found.gaps_mm)))


def _sided(body: Body, line: str, gaps: dict[Seam, float]) -> dict[Seam, float]:
    """Return gaps whose side seams differ as the body's halves do, the sum staying as it is.

    All of a side gap lies in its own half, and a half of each centre gap in either.
    """
    if not halves_differ(body, line):
        return gaps
    left, right = body.target(line, What.LEFT_HALF), body.target(line, What.RIGHT_HALF)
    assert left is not None
    assert right is not None
    both = gaps[Seam.LEFT] + gaps[Seam.RIGHT]
    more = min(max(left.value_mm - right.value_mm, -both), both)  # no seam closes below shut
    return {**gaps, Seam.LEFT: (both + more) / 2, Seam.RIGHT: (both - more) / 2}


def _largest_inside(closed: Floats, body: Floats, target_mm: float) -> float:
    """Return the largest girth at which the form stands out past the body nowhere too far."""

    def stands_out(girth: float) -> float:
        section = form_section(closed, best_gaps(closed, body, girth).gaps_mm)
        return -float(clearance(centred(section.hull), centred(body)).room_mm.min())

    low, high = 0.75 * target_mm, target_mm
    if stands_out(high) <= STANDS_OUT_MM:
        return high
    for _ in range(12):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if stands_out(middle) <= STANDS_OUT_MM else (low, middle)
    return low


def _within_lengths(body: Body, form: Form, row: Row, gaps: dict[Seam, float]) -> dict[Seam, float]:
    """Return gaps whose centre seams spread nothing above further than the body is wide there.

    What a centre seam may not give, the sides give instead, so that the girth stays.
    """
    if row.line not in ("bust", "upper_chest", "under_bust"):
        return gaps
    most = dict.fromkeys((Seam.FRONT, Seam.BACK), float("inf"))
    shoulders = [
        target.value_mm
        for key in SHOULDERS
        if (target := body.target(key, What.LENGTH)) is not None
    ]
    if shoulders and form.shoulder_length_mm is not None:  # the shorter one has the last word
        room = max(min(shoulders) - form.shoulder_length_mm, 0.0) / (2 * SHOULDER_SHARE)
        most = dict.fromkeys(most, room)
    extra = form.model_extra or {}
    for seam, key in ((Seam.FRONT, "bust_point_to_bust_point"), (Seam.BACK, "across_back")):
        target, closed = body.target(key, What.LENGTH), extra.get(f"{key}_mm")
        if target is not None and isinstance(closed, int | float):
            most[seam] = min(most[seam], max(target.value_mm - float(closed), 0.0))
    most = _within_neck(body, form, gaps, most)
    over = 0.0
    for seam, limit in most.items():
        over += max(gaps[seam] - limit, 0.0)
        gaps[seam] = min(gaps[seam], limit)
    for seam in (Seam.LEFT, Seam.RIGHT):
        gaps[seam] += over / 2
    return gaps


def _within_neck(
    body: Body, form: Form, gaps: Mapping[Seam, float], most: Mapping[Seam, float]
) -> dict[Seam, float]:
    """Return limits of the centre gaps under which the form's neck grows no larger than the body's.

    Of both gaps together, ``NECK_SHARE`` is added to the girth of the neck; each is cut by the same
    share, so that front and back keep their proportion. A dial at the neck can be closed again, so
    it is the closed neck that counts.
    """
    target, line = body.target("neck"), form.line("neck")
    if target is None or line is None or line.closed_girth_mm is None:
        return dict(most)
    room = max(target.value_mm - line.closed_girth_mm, 0.0) / NECK_SHARE
    wanted = {seam: min(gaps[seam], limit) for seam, limit in most.items()}
    both = sum(wanted.values())
    if both <= room:
        return dict(most)
    return {seam: gap * room / both for seam, gap in wanted.items()}


def _clicks(form: Form, row: Row, gaps: Mapping[Seam, float]) -> dict[str, float]:
    """Return clicks of each dial of a row off the row's mean that would give these gaps."""
    every = [d for d in form.dials if d.row == row.name]
    dials = [d for d in every if not d.missing]
    if len(dials) < 3:  # one or two dials have no shape to give
        return {}
    turns = form.dial_meaning == DialMeaning.PLAIN_TURNS
    # A seam whose dial is missing still takes its share of the printed girth.
    share = 1.0 / len(every) if form.dial_meaning == DialMeaning.WHOLE_GIRTH else 1.0
    unit_mm = PLAIN_TURN_MM if turns else form.unit_mm
    off = np.array([gaps[d.seam] for d in dials])
    off = off - off.mean()
    # Less of the same shape, rather than another shape, where it is too much.
    off *= min(1.0, MOST_OFF_MM / max(float(np.abs(off).max()), 1e-9))
    return {
        d.name: round(float(x) / (share * unit_mm * d.step), 2)
        for d, x in zip(dials, off, strict=True)
    }
