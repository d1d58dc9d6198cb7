# SPDX-License-Identifier: MIT
"""A form in the round as its dials stand: outlines of its lines, and of any height between.

Its closed outlines follow from its closed girths, each seam is opened by what its dials say, and
where the planner's belief knows what the tape would read there, the section is made to agree.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from fitassist.domain.body import Body
from fitassist.domain.form import DialMeaning, Form, Row
from fitassist.domain.lines import Seam, What
from fitassist.errors import FitError
from fitassist.geometry.form_outline import SEAMS, FormSection, form_section
from fitassist.geometry.outline import LevelOutline
from fitassist.geometry.shape_prior import OUTLINE_LINES, ShapePriors
from fitassist.geometry.support import Floats, corners, girth_of, made_convex, support
from fitassist.planning.belief import predict
from fitassist.planning.layout import PLAIN_TURN_MM, Layout
from fitassist.planning.learned import belief_for
from fitassist.session.shaping import form_outlines

# A prediction less sure than this says nothing the closed outline does not (own choice).
MOST_DOUBT_MM = 60.0
# Gaps between two rows may be this much wider than a straight line between them (own choice).
MOST_GAP_SHARE = 1.5


@dataclass(frozen=True)
class FormStack:
    """A form's closed outlines, gaps and heights at the six lines, lowest first.

    Attributes
    ----------
    lines
        Their names.
    heights_mm
        Above the waist, rising, (n,).
    reach_mm
        Supports of the closed outlines, made to agree with what the tape would read, (n, 180).
    gaps_mm
        Front, left, back, right, (n, 4).
    centres_mm
        How far the middle of the depth lies before that of the waist, (n,).
    levels
        The opened outlines, for silhouettes.
    """

    lines: tuple[str, ...]
    heights_mm: Floats
    reach_mm: Floats
    gaps_mm: Floats
    centres_mm: Floats
    levels: tuple[LevelOutline, ...]

    def at_line(self, line: str) -> FormSection:
        """Return the section at one of the lines."""
        at = self.lines.index(line)
        return _section(self.reach_mm[at], self.gaps_mm[at])

    def at_height(self, height_mm: float) -> FormSection | None:
        """Return the section at a height above the waist; None above and below what is known."""
        if not self.heights_mm[0] <= height_mm <= self.heights_mm[-1]:
            return None
        reach = along_heights(self.heights_mm, self.reach_mm, np.array([height_mm]))[0]
        gaps = [np.interp(height_mm, self.heights_mm, self.gaps_mm[:, k]) for k in range(4)]
        return _section(reach, np.array(gaps))


def along_heights(heights_mm: Floats, reach_mm: Floats, wanted_mm: Floats) -> Floats:
    """Return convex supports (m, 180) at heights between those of given ones (n, 180).

    Their girths are between those of the neighbours, as PCHIP keeps it (see ``silhouette``).
    """
    from scipy.interpolate import PchipInterpolator  # slow to import

    found = PchipInterpolator(heights_mm, reach_mm)(wanted_mm)
    sums = PchipInterpolator(heights_mm, reach_mm.sum(axis=1))(wanted_mm)
    convex = np.array([made_convex(reach) for reach in found])
    return np.asarray(convex * (sums / convex.sum(axis=1))[:, None])


def form_stack(
    form: Form,
    body: Body,
    body_heights_mm: Mapping[str, float],
    measured: Collection[str],
    priors: ShapePriors,
) -> FormStack:
    """Return a form as its dials stand now.

    Parameters
    ----------
    body_heights_mm
        Of the body's lines above its waist.
    measured
        Lines whose height was measured on the body. Only there is the form drawn at heights of its
        own: elsewhere the body's are no more than usual ones, and nothing could be compared.

    Raises
    ------
    FitError
        If too little is known of the form's girths, as ``torso_outlines`` says.
    """
    closed = form_outlines(form, body, priors).levels
    heights = form_heights(set_heights(form, body), body_heights_mm, measured)
    order = sorted(OUTLINE_LINES, key=lambda line: heights[line])
    told = _predicted_girths(form)
    rows = {row.line for row in form.rows}
    reach, gaps, levels = [], [], []
    for line in order:
        level = closed[line]
        opened = _gaps_at(form, heights, heights[line])
        section, scale, used = _agreeing(level, opened, told.get(line), line in rows)
        reach.append(scale * level.reach_mm)
        gaps.append(used)
        levels.append(
            replace(
                level,
                reach_mm=support(section.hull),
                girth_mm=section.girth_mm,
                height_mm=heights[line],
            )
        )
    return FormStack(
        lines=tuple(order),
        heights_mm=np.array([heights[line] for line in order]),
        reach_mm=np.array(reach),
        gaps_mm=np.array(gaps),
        centres_mm=np.array([closed[line].centre_mm for line in order]),
        levels=tuple(levels),
    )


def known_heights(form: Form) -> dict[str, float]:
    """Return the heights above the waist of the lines whose heights a form gives."""
    waist = form.line("waist")
    if waist is None or waist.height_mm is None:
        return {}
    return {
        line.name: line.height_mm - waist.height_mm
        for line in form.lines
        if line.height_mm is not None
    }


def torso_set_mm(form: Form, body: Body) -> float | None:
    """Return back neck to waist as a form can be set for a body; None where that is not known."""
    torso, back = form.torso, body.target("back_neck_to_waist", What.LENGTH)
    if torso.parts == "none" or back is None:
        return torso.length_mm
    least = torso.least_mm if torso.least_mm is not None else back.value_mm
    greatest = torso.greatest_mm if torso.greatest_mm is not None else back.value_mm
    return min(max(back.value_mm, least), greatest)


def torso_pull_mm(form: Form, body: Body) -> float:
    """Return how much longer than it stands a form's torso is pulled for a body."""
    set_to = torso_set_mm(form, body)
    if form.torso.parts == "none" or not set_to or not form.torso.length_mm:
        return 0.0
    return set_to - form.torso.length_mm


def set_heights(form: Form, body: Body) -> dict[str, float]:
    """Return the heights a form gives, its torso set for a body: it takes its upper half along."""
    pull = torso_pull_mm(form, body)
    return {k: mm + pull if mm > 0.0 else mm for k, mm in known_heights(form).items()}


def form_heights(
    known_mm: Mapping[str, float], body_heights_mm: Mapping[str, float], measured: Collection[str]
) -> dict[str, float]:
    """Return the heights of the six lines on a form: its own, and the body's stretched between."""
    there = {*measured, "waist"} & set(body_heights_mm)
    pairs = sorted((body_heights_mm[k], v) for k, v in known_mm.items() if k in there)
    if not pairs or any(b[1] - a[1] < 1.0 for a, b in pairwise(pairs)):
        return dict(body_heights_mm)
    xs, ys = (np.array(column) for column in zip(*pairs, strict=True))
    found = {}
    for line, height in body_heights_mm.items():
        beyond = height - float(np.clip(height, xs[0], xs[-1]))
        found[line] = float(np.interp(height, xs, ys)) + beyond
    return found


def row_gaps(form: Form, row: Row) -> dict[Seam, float]:
    """Return how wide each seam of a row stands open, mm, read off its dials.

    A seam without a dial follows the others of its row.
    """
    dials = [dial for dial in form.dials if dial.row == row.name]
    whole = form.dial_meaning == DialMeaning.WHOLE_GIRTH
    turns = form.dial_meaning == DialMeaning.PLAIN_TURNS
    unit = (PLAIN_TURN_MM if turns else form.unit_mm) / (len(dials) if whole and dials else 1)
    read = {d.seam: max(d.number - d.least, 0.0) * unit for d in dials if not d.missing}
    usual = float(np.mean(list(read.values()))) if read else 0.0
    return {seam: read.get(seam, usual) for seam in Seam}


def _gaps_at(form: Form, heights: Mapping[str, float], height_mm: float) -> Floats:
    """Return the gaps at a height: those of the rows above and below, in proportion."""
    half = "upper" if height_mm >= 0.0 else "lower"
    told = [
        (heights[row.line], [row_gaps(form, row)[seam] for seam in SEAMS])
        for row in form.rows
        if row.half in (half, "whole") and row.line in heights
    ]
    if not told:
        return np.zeros(4)
    told.sort(key=lambda one: one[0])
    at = [where for where, _gaps in told]
    return np.array([np.interp(height_mm, at, [gaps[k] for _at, gaps in told]) for k in range(4)])


def _predicted_girths(form: Form) -> dict[str, float]:
    """Return what the tape would read at the form's lines, as far as it can be told."""
    lines = [line.name for line in form.lines if line.name in OUTLINE_LINES]
    layout = Layout.of(form, [(line, What.GIRTH) for line in lines])
    try:
        belief = belief_for(layout, {})
    except FitError:  # what earlier fittings taught cannot be read: go by the dials alone
        return {}
    told = {line: predict(belief, line) for line in layout.lines if line in lines}
    return {line: mm for line, (mm, spread) in told.items() if spread <= MOST_DOUBT_MM}


def _agreeing(
    level: LevelOutline, gaps: Floats, girth_mm: float | None, has_dials: bool
) -> tuple[FormSection, float, Floats]:
    """Return a section that agrees with a girth, by what it was scaled, and the gaps used.

    Off the rows it is the gaps that give way, on a row the panels: there the dials are read.
    """
    section = _section(level.reach_mm, gaps)
    if girth_mm is None:
        return section, 1.0, gaps
    shut = girth_of(level.reach_mm)
    if not has_dials and section.girth_mm - shut > 1.0:
        share = (girth_mm - shut) / (section.girth_mm - shut)
        gaps = gaps * float(np.clip(share, 0.0, MOST_GAP_SHARE))
    try:
        section = _section(level.reach_mm, gaps, girth_mm)
    except FitError:  # gaps and girth cannot both be; the dials were read, the girth was not
        return _section(level.reach_mm, gaps), 1.0, gaps
    return section, section.scale, gaps


def _section(reach: Floats, gaps: Floats, girth_mm: float | None = None) -> FormSection:
    opened = {seam: float(gap) for seam, gap in zip(SEAMS, gaps, strict=True)}
    return form_section(corners(reach), opened, girth_mm)
