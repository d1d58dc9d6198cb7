# SPDX-License-Identifier: MIT
"""From a fitting as its dials stand to what may be padded: body and form at each line.

The tape is believed before the shape: at no line is more wanted than its girth is short, and a
difference of shape counts only as far as it is larger than the outlines' own uncertainty. What
lies within tolerance is left alone. Both are held middle on middle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from fitassist.domain.body import Body, Preferences
from fitassist.domain.form import Form
from fitassist.domain.lines import USUAL_HEIGHTS_MM, Seam, What
from fitassist.domain.seam_gaps import seam_gaps
from fitassist.errors import FitError
from fitassist.geometry.form_outline import centred, form_section
from fitassist.geometry.outline import LevelOutline, TorsoOutlines
from fitassist.geometry.shape_prior import OUTLINE_LINES, ShapePriors
from fitassist.geometry.support import Floats, corners, support, tightened
from fitassist.padding.plan import Armhole
from fitassist.padding.surface import Section
from fitassist.session.events import FittingStarted
from fitassist.session.goals import goal_of
from fitassist.session.shaping import body_outlines, form_outlines
from fitassist.session.view import FittingView, LineView

# Past this spread a girth of the form is a guess, and what its neighbours lack says more.
UNSURE_MM = 12.0
# How far a line's shortfall may lie off what its neighbours tell of it (own choice).
BETWEEN_MM, BEYOND_MM = 12.0, 18.0
BEYOND_SHARE = 0.5  # of a shortfall that is left one line further, towards the hard frame
FORM_GUESS_MM = 25.0  # of a form's girth that only the outlines tell
HEIGHT_KNOWN_MM = 10.0  # spread up to which a height of the body was as good as measured
MOST_STRETCH = 1.25  # of the shape's gap, to make up the girth
LEAST_IGNORED_MM = 1.0
# Kept clear: from half-way between bust and upper chest, about each side (common practice).
ARMHOLE_HALF_MM = 55.0


@dataclass(frozen=True)
class LineShort:
    """How much one line is short of the body, in girth.

    Attributes
    ----------
    short_mm
        Goal less form: above zero, room for padding; below, the form stands out past the body.
    spread_mm
        Of that.
    allowed_mm
        How far it may be off either way and still be left alone: (below, above).
    is_sure
        Whether the girth of the form itself is known there; else it is worth a reading.
    """

    line: str
    z_mm: float
    goal_mm: float
    form_mm: float
    short_mm: float
    spread_mm: float
    allowed_mm: tuple[float, float]
    is_sure: bool = True

    @property
    def wanted_mm(self) -> float:
        """What padding is to add to the girth; 0 within tolerance or uncertainty."""
        return self.short_mm if self.short_mm > max(-self.allowed_mm[0], self.spread_mm) else 0.0

    @property
    def over_mm(self) -> float:
        """By how much the form is surely larger than the body; 0 within tolerance."""
        return -self.short_mm if -self.short_mm > max(self.allowed_mm[1], self.spread_mm) else 0.0


@dataclass(frozen=True)
class PaddingTask:
    """What is to be padded.

    Attributes
    ----------
    sections
        From the lowest line to the highest; empty where only girths are known.
    why
        Code of why there are only girths, or empty.
    lines
        All lines with a goal, from the top.
    unsure
        Lines whose girth on the form is only guessed.
    gaps_mm
        Open seams by line.
    """

    lines: tuple[LineShort, ...]
    sections: tuple[Section, ...] = ()
    gaps_mm: Mapping[str, Mapping[Seam, float]] = field(default_factory=dict)
    armhole: Armhole | None = None
    ignored_mm: float = LEAST_IGNORED_MM
    why: str = ""

    @property
    def unsure(self) -> tuple[str, ...]:
        """Lines whose girth on the form is only guessed."""
        return tuple(one.line for one in self.lines if not one.is_sure)

    @property
    def over(self) -> tuple[LineShort, ...]:
        """Lines at which the form is surely larger than the body."""
        return tuple(one for one in self.lines if one.over_mm > 0.0)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is to be padded anywhere."""
        return not any(one.wanted_mm > 0.0 for one in self.lines)

    def line(self, name: str) -> LineShort | None:
        """Return what is short at a line, or None."""
        return next((one for one in self.lines if one.line == name), None)


@dataclass(frozen=True)
class _Level:
    """The form at one line as it stands: its supports, its girth, and how sure that is."""

    reach_mm: Floats
    girth_mm: float
    spread_mm: float


def padding_task(
    started: FittingStarted, view: FittingView, priors: ShapePriors | None
) -> PaddingTask:
    """Return what is to be padded after the dials of a fitting as they stand.

    Goes by girths alone, with a reason, where outlines of body or form are not known.
    """
    body, form = started.body, started.form
    plain = _girth_only(started, view)
    if priors is None:
        return PaddingTask(plain, why="shape_prior_unreadable")
    try:
        shape = body_outlines(body, priors)
    except FitError as error:
        return PaddingTask(plain, why=error.code)
    try:
        closed = form_outlines(form, body, priors)
        return _with_shape(started, view, shape, closed)
    except FitError as error:
        return PaddingTask(plain, why=error.code)


def _padded_preferences(preferences: Preferences) -> Preferences:
    """Return how near padding is to come: the usual tolerance, not the wider one before it."""
    return preferences.model_copy(update={"padding_follows": False})


def _predicted(view: FittingView) -> dict[str, LineView]:
    return {one.line: one for one in view.lines if one.what == What.GIRTH}


def _girth_only(started: FittingStarted, view: FittingView) -> tuple[LineShort, ...]:
    """Return how much each line is short that both body and form tell a girth of."""
    preferences = _padded_preferences(started.preferences)
    found = []
    for name, seen in _predicted(view).items():
        target = started.body.target(name)
        if target is None or seen.predicted_mm is None or name == "neck":
            continue
        goal = goal_of(target, preferences)
        spread = seen.spread_mm or 0.0
        found.append(
            LineShort(
                name,
                _own_height(started.form, name, 0.0),
                goal.target_mm,
                seen.predicted_mm,
                goal.target_mm - seen.predicted_mm,
                spread,
                (goal.below_mm, goal.above_mm),
                spread <= UNSURE_MM,
            )
        )
    return tuple(sorted(found, key=lambda one: -one.z_mm))


def _own_height(form: Form, name: str, otherwise: float) -> float:
    """Return a line's height above the form's own waist, where it was measured."""
    line, waist = form.line(name), form.line("waist")
    if line is None or line.height_mm is None or waist is None or waist.height_mm is None:
        return otherwise if otherwise else USUAL_HEIGHTS_MM.get(name, 0.0)
    return line.height_mm - waist.height_mm


def _with_shape(
    started: FittingStarted, view: FittingView, shape: TorsoOutlines, closed: TorsoOutlines
) -> PaddingTask:
    form = started.form
    heights = {n: _own_height(form, n, closed.levels[n].height_mm) for n in OUTLINE_LINES}
    gaps = _gaps_by_line(form, view.numbers, heights)
    levels = {n: _form_level(closed.levels[n], gaps[n], _predicted(view).get(n)) for n in heights}
    lowest, highest = _reach_of(form)
    names = [n for n in OUTLINE_LINES if lowest <= OUTLINE_LINES.index(n) <= highest]
    body_z = {n: _body_height(shape.levels[n], heights[n]) for n in names}
    at_body = _at_heights([heights[n] for n in names], [levels[n] for n in names], body_z)
    shorts = _shorts(started, shape, at_body, body_z)
    sections = tuple(
        Section(n, body_z[n], *_outlines(shape.levels[n], at_body[n], short, started.preferences))
        for n, short in shorts.items()
    )
    measured = {one.line for one in started.body.targets if one.what == What.GIRTH}
    told = tuple(one for n, one in shorts.items() if n in measured)
    allowed = np.median([max(-one.allowed_mm[0], one.allowed_mm[1]) for one in shorts.values()])
    return PaddingTask(
        lines=told,
        sections=sections[::-1],
        gaps_mm=gaps,
        armhole=_armhole(body_z),
        ignored_mm=max(LEAST_IGNORED_MM, float(allowed) / (2.0 * np.pi)),
    )


def _reach_of(form: Form) -> tuple[int, int]:
    """Return the first and last line that the form has; above a bust there always is a chest."""
    there = [OUTLINE_LINES.index(one.name) for one in form.lines if one.name in OUTLINE_LINES]
    if not there:
        raise FitError("padding_too_few_lines")
    first = min(there)
    return (0 if first <= 1 else first), max(there)


def _gaps_by_line(
    form: Form, numbers: Mapping[str, float], heights: Mapping[str, float]
) -> dict[str, dict[Seam, float]]:
    """Return the open seams at each line: at rows as dialled, between them in proportion."""
    rows = {row.line: seam_gaps(form, row.line, numbers) for row in form.rows}
    known = sorted((heights[n], gaps) for n, gaps in rows.items() if n in heights)
    if not known:
        return {n: {} for n in heights}
    z = [height for height, _gaps in known]
    return {
        n: {
            seam: float(np.interp(heights[n], z, [gaps.get(seam, 0.0) for _z, gaps in known]))
            for seam in Seam
        }
        for n in heights
    }


def _form_level(closed: LevelOutline, gaps: Mapping[Seam, float], seen: LineView | None) -> _Level:
    """Return the form at a line with its seams open, as large as the belief has it."""
    girth = seen.predicted_mm if seen is not None else None
    spread = seen.spread_mm if seen is not None else None
    if girth is None or spread is None:
        section = form_section(closed.points, gaps)
        return _Level(support(centred(section.hull)), section.girth_mm, FORM_GUESS_MM)
    try:
        section = form_section(closed.points, gaps, girth)
    except FitError:  # dials that print something else than they open: the girth is what counts
        section = form_section(closed.points, {}, None)
        hull = centred(section.hull) * (girth / section.girth_mm)
        return _Level(support(hull), girth, spread)
    return _Level(support(centred(section.hull)), girth, spread)


def _body_height(level: LevelOutline, own_z: float) -> float:
    """Return the body's height of a line where it was measured and is another, or the form's."""
    is_known = level.height_spread_mm <= HEIGHT_KNOWN_MM
    is_surely_off = abs(level.height_mm - own_z) > 2.0 * level.height_spread_mm
    return level.height_mm if is_known and is_surely_off else own_z


def _at_heights(
    heights: Sequence[float], levels: Sequence[_Level], wanted: Mapping[str, float]
) -> dict[str, _Level]:
    """Return the form at the body's heights: supports mixed between its own lines."""
    order = np.argsort(heights)
    z = np.array(heights)[order]
    reach = np.stack([levels[i].reach_mm for i in order])
    girth = np.array([levels[i].girth_mm for i in order])
    spread = np.array([levels[i].spread_mm for i in order])
    found = {}
    for name, at in wanted.items():
        mixed = np.array([np.interp(at, z, column) for column in reach.T])
        found[name] = _Level(mixed, float(np.interp(at, z, girth)), float(np.interp(at, z, spread)))
    return found


def _shorts(
    started: FittingStarted,
    shape: TorsoOutlines,
    form: Mapping[str, _Level],
    body_z: Mapping[str, float],
) -> dict[str, LineShort]:
    """Return how much each line is short; a guessed one leans on its neighbours."""
    preferences = _padded_preferences(started.preferences)
    found: dict[str, LineShort] = {}
    for name, level in form.items():
        target = started.body.target(name)
        outline = shape.levels[name]
        below, above = preferences.default_tolerance_mm
        cover = 2.0 * np.pi * preferences.cover_mm
        goal_mm, body_spread = outline.girth_mm - cover, outline.girth_spread_mm
        if target is not None:
            goal = goal_of(target, preferences)
            goal_mm, below, above = goal.target_mm, goal.below_mm, goal.above_mm
            body_spread = 0.0  # is within the tolerance
        spread = float(np.hypot(level.spread_mm, body_spread))
        found[name] = LineShort(
            name,
            body_z[name],
            goal_mm,
            level.girth_mm,
            goal_mm - level.girth_mm,
            spread,
            (below, above),
            spread <= UNSURE_MM,
        )
    return {name: _leaning(one, found) for name, one in found.items()}


def _leaning(one: LineShort, every: Mapping[str, LineShort]) -> LineShort:
    """Return an unsure line with what its sure neighbours tell of it, by their weights."""
    sure = sorted((other.z_mm, other.short_mm) for other in every.values() if other.is_sure)
    if one.is_sure or not sure:
        return one
    z = [height for height, _short in sure]
    told = float(np.interp(one.z_mm, z, [short for _z, short in sure]))
    is_between = z[0] < one.z_mm < z[-1]
    told, off = (told, BETWEEN_MM) if is_between else (BEYOND_SHARE * told, BEYOND_MM)
    own, theirs = one.spread_mm**-2, off**-2
    short = (own * one.short_mm + theirs * told) / (own + theirs)
    spread = float((own + theirs) ** -0.5)
    return LineShort(
        one.line,
        one.z_mm,
        one.goal_mm,
        one.goal_mm - short,
        short,
        min(spread, -one.allowed_mm[0]),
        one.allowed_mm,
        False,
    )


def _outlines(
    level: LevelOutline, form: _Level, short: LineShort, preferences: Preferences
) -> tuple[Floats, Floats]:
    """Return form and wanted outline at a line, (180, 2) each, middle on middle.

    The mean gap is what the girth is short. Of the rest, the shape, so much is believed as it
    is larger than its spread: d^2 / (d^2 + s^2) of it. What is added in all never exceeds what
    the girth is short, whatever stands out elsewhere.
    """
    own_girth = 2.0 * np.pi * float(form.reach_mm.mean())
    reach = form.reach_mm + (short.form_mm - own_girth) / (2.0 * np.pi)
    body = support(centred(level.points))
    body = body + (short.goal_mm - level.girth_mm) / (2.0 * np.pi)
    off = body - reach
    off = off - off.mean()
    believed = off**3 / (off**2 + level.shown_mm**2)
    gap = (short.wanted_mm - short.over_mm) / (2.0 * np.pi) + believed
    more = np.maximum(gap, 0.0)
    added = 2.0 * np.pi * float(more.mean())
    share = min(short.wanted_mm / added, MOST_STRETCH) if added > 1e-6 else 0.0
    wanted = reach + np.where(gap > 0.0, share * gap, gap)
    return corners(tightened(reach)), corners(tightened(np.maximum(wanted, 0.3 * reach)))


def _armhole(body_z: Mapping[str, float]) -> Armhole | None:
    """Return what is kept clear, where both lines about the lower edge of the armhole are."""
    if "upper_chest" not in body_z or "bust" not in body_z:
        return None
    return Armhole((body_z["upper_chest"] + body_z["bust"]) / 2.0, ARMHOLE_HALF_MM)


def bust_apex_mm(body: Body) -> float | None:
    """Return how far a bust point lies from centre front, if it was measured."""
    apart = body.target("bust_point_to_bust_point", What.LENGTH)
    return apart.value_mm / 2.0 if apart is not None else None
