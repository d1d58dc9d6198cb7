# SPDX-License-Identifier: MIT
"""All that a page may show of a body in the round, and of a form beside it, as frozen data.

Readings that cannot be true together are left out here and said, so that there is always a picture
as good as the rest allows; what was left out makes its band wider by itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.measurements import Catalogue, Measurement
from fitassist.errors import FitError
from fitassist.geometry.outline import TorsoOutlines, torso_outlines
from fitassist.geometry.outline_readings import HEIGHT_LENGTHS, OutlineReading
from fitassist.geometry.shape_prior import PriorKind, ShapePrior, ShapePriors
from fitassist.geometry.sharpening import what_sharpens
from fitassist.session.posture import WORTH_MM, Carriage, carriage
from fitassist.session.shape_form import form_stack, set_heights, torso_pull_mm
from fitassist.session.shape_sections import (
    BodyStack,
    Section,
    Silhouettes,
    at_line,
    in_order,
    stacked,
)
from fitassist.session.shaping import DEFAULT_SPREAD_MM, kind_of

SHOWN_SHARPER = 3
OFF_ROW_MM = 15.0  # a tape laid half an inch off a row still follows it (own choice)
LEAST_GAIN = 0.97  # a reading that narrows its own line's band by less is not worth the walk
_OUT_OF_PLACE = {"not_used"}  # doubts that say nothing about the outlines
# What to leave out of a line, and the lengths, for each way in which readings cannot be true.
_DROPPED: Mapping[str, frozenset[What]] = {
    "outline_breadth_depth_misfit": frozenset((What.BREADTH, What.DEPTH)),
    "outline_parts_misfit": frozenset((What.FRONT, What.BACK, What.LEFT_HALF, What.RIGHT_HALF)),
}


@dataclass(frozen=True)
class Sharper:
    """A measurement that would narrow the bands: its key, and what is left of them as a share."""

    key: str
    line: str
    what: What
    left_at_line: float
    left: float


@dataclass(frozen=True)
class ShapeNote:
    """Something to say beside the outlines: a code with its line, lengths in mm, fields to see."""

    code: str
    line: str = ""
    values: Mapping[str, float] = field(default_factory=dict)
    keys: tuple[str, ...] = ()


@dataclass(frozen=True)
class ShapeView:
    """What the page about shape shows of one body.

    Attributes
    ----------
    kind
        Whose outlines it is drawn after.
    lines
        Body and form at the named lines, upper chest first.
    stack, silhouettes
        For the heights between; None where the heights contradict each other.
    sharper
        What would narrow the bands most, best first.
    notes
        What is in doubt, was left out, or lies elsewhere than on the form.
    missing
        Lines without a girth, while there are too few of them to draw anything.
    carriage
        How the body is carried, where its lengths tell.
    pulled_mm
        How much longer than it stands the torso of the form is drawn, where that moves its lines.
    """

    kind: PriorKind
    lines: tuple[Section, ...] = ()
    stack: BodyStack | None = None
    silhouettes: Silhouettes | None = None
    sharper: tuple[Sharper, ...] = ()
    notes: tuple[ShapeNote, ...] = ()
    missing: tuple[str, ...] = ()
    carriage: Carriage | None = None
    pulled_mm: float = 0.0


def shape_view(
    body: Body,
    form: Form | None,
    priors: ShapePriors,
    catalogue: Catalogue,
    kind: PriorKind | None = None,
) -> ShapeView:
    """Return what can be shown of a body's shape, and of a form beside it.

    Parameters
    ----------
    form
        With its dials where they stand; None: the body alone.
    catalogue
        What can be measured; only that is proposed.
    kind
        Whose outlines to draw after; None: as the body says.
    """
    kind = kind or kind_of(body)
    outlines, readings, notes = _believed(body, priors[kind], catalogue)
    if outlines is None:
        return ShapeView(kind, missing=_missing(readings), notes=tuple(notes))
    levels = list(outlines.levels.values())
    heights = {level.line: level.height_mm for level in levels}
    measured = {HEIGHT_LENGTHS[r.line][0] for r in readings if r.line in HEIGHT_LENGTHS}
    form_there, pulled = None, 0.0
    if form is not None:
        try:
            form_there = form_stack(form, body, heights, measured, priors)
            known = set_heights(form, body)
            notes += _places(heights, measured, form, known, catalogue)
            pulled = _pulled(form, body, known, measured)
        except FitError:
            notes.append(ShapeNote("form_outline_unknown"))
    girths = {one.line for one in readings if one.what == What.GIRTH}
    lines = tuple(at_line(level, form_there, level.line in girths) for level in levels)
    stack = views = None
    if in_order(levels):
        stack, views = stacked(levels, form_there)
    else:
        notes.append(ShapeNote("heights_unclear"))
    told = what_sharpens(priors[kind], outlines, readings)
    sharper = [
        Sharper(found.key, one.line, one.what, one.band_left_at_line, one.band_left)
        for one in told
        if one.band_left_at_line < LEAST_GAIN and (found := _asked(catalogue, one.line, one.what))
    ]
    told_apart, carried = _apart(sharper), carriage(body, form)
    return ShapeView(
        kind, lines, stack, views, told_apart, tuple(notes), carriage=carried, pulled_mm=pulled
    )


def _pulled(form: Form, body: Body, known: Mapping[str, float], measured: set[str]) -> float:
    """Return how much longer the torso is drawn, where a line is drawn higher for it."""
    pull = torso_pull_mm(form, body)
    moves = any(line in measured and mm > 0.0 for line, mm in known.items())
    return pull if moves and abs(pull) >= WORTH_MM else 0.0


def _believed(
    body: Body, prior: ShapePrior, catalogue: Catalogue
) -> tuple[TorsoOutlines | None, list[OutlineReading], list[ShapeNote]]:
    """Return outlines from what can be true together, those readings, and what there is to say.

    Without outlines too few girths are left.
    """
    readings, notes = _readings(body), list[ShapeNote]()
    while True:
        try:
            outlines = torso_outlines(prior, readings)
        except FitError as error:
            kept = _without(readings, error)
            if error.code == "outline_too_few_girths" or len(kept) == len(readings):
                return None, readings, notes
            notes.append(_left_out(error, readings, kept, catalogue))
            readings = kept
            continue
        notes += [
            ShapeNote(doubt.code, doubt.line, _numbers(doubt.values))
            for doubt in outlines.doubts
            if doubt.code not in _OUT_OF_PLACE
        ]
        return outlines, readings, notes


def _readings(body: Body) -> list[OutlineReading]:
    return [
        OutlineReading(t.line, t.what, t.value_mm, t.spread_mm or DEFAULT_SPREAD_MM)
        for t in body.targets
        if t.what != What.LENGTH or t.line in HEIGHT_LENGTHS or t.line == "back_neck_to_waist"
    ]


def _without(readings: Sequence[OutlineReading], error: FitError) -> list[OutlineReading]:
    """Return the readings less those that an error says cannot be true."""
    line = str(error.values.get("line", ""))
    if error.code == "outline_bad_reading":
        what = error.values.get("what")
        return [one for one in readings if (one.line, one.what.value) != (line, what)]
    if error.code == "outline_lengths_out_of_order":
        mm = (error.values.get("near_mm"), error.values.get("far_mm"))
        return [one for one in readings if not (one.line in HEIGHT_LENGTHS and one.mm in mm)]
    dropped = _DROPPED.get(error.code, frozenset())
    return [one for one in readings if one.line != line or one.what not in dropped]


def _left_out(
    error: FitError,
    readings: Sequence[OutlineReading],
    kept: Sequence[OutlineReading],
    catalogue: Catalogue,
) -> ShapeNote:
    gone = [one for one in readings if one not in kept]
    found = [_asked(catalogue, one.line, one.what) for one in gone]
    keys = tuple(one.key for one in found if one is not None)
    line = str(error.values.get("line", ""))
    return ShapeNote(error.code, line, _numbers(error.values), keys)


def _numbers(values: Mapping[str, object]) -> dict[str, float]:
    return {k: float(v) for k, v in values.items() if isinstance(v, int | float) and np.isfinite(v)}


def _asked(catalogue: Catalogue, line: str, what: What) -> Measurement | None:
    every = catalogue.measurements
    return next((one for one in every if (one.line, one.what) == (line, what)), None)


def _missing(readings: Sequence[OutlineReading]) -> tuple[str, ...]:
    """Return the lines that have no girth yet, those that tell most first."""
    there = {one.line for one in readings if one.what == What.GIRTH}
    order = ("bust", "waist", "hip", "under_bust", "high_hip")
    return tuple(line for line in order if line not in there)


def _apart(sharper: Sequence[Sharper]) -> tuple[Sharper, ...]:
    """Return the best few, front and back of one line counting once."""
    found: dict[tuple[str, What], Sharper] = {}
    for one in sharper:
        what = What.FRONT if one.what == What.BACK else one.what
        found.setdefault((one.line, what), one)
    return tuple(found.values())[:SHOWN_SHARPER]


def _places(
    heights: Mapping[str, float],
    measured: set[str],
    form: Form,
    known: Mapping[str, float],
    catalogue: Catalogue,
) -> list[ShapeNote]:
    """Say where the body's fullest places lie elsewhere than the form has them.

    Only where they were measured: what is usual says little about one body's heights.
    """
    rows = {row.line for row in form.rows} & set(known)
    lowest = min(known.values(), default=-np.inf)
    found, unknown = [], []
    for key, (line, _up) in HEIGHT_LENGTHS.items():
        if line not in ("bust", "hip") or line not in known:
            continue
        off = heights[line] - known[line]
        if line not in measured:
            unknown += [key] if _asked(catalogue, key, What.LENGTH) else []
        elif heights[line] < lowest - OFF_ROW_MM:
            values = {"off_mm": lowest - heights[line]}
            found.append(ShapeNote("below_form", line, values, (key,)))
        elif abs(off) > OFF_ROW_MM and line in rows:
            where = "above_row" if off > 0 else "below_row"
            found.append(ShapeNote(where, line, {"off_mm": abs(off)}, (key,)))
    if unknown:
        found.append(ShapeNote("heights_not_measured", keys=tuple(unknown)))
    return found
