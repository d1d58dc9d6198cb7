# SPDX-License-Identifier: MIT
"""Body and form at one height, seen from above, and both stacked by height as silhouettes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from fitassist.geometry.form_outline import FormSection, centred, clearance
from fitassist.geometry.outline import NORMAL_90, LevelOutline
from fitassist.geometry.shape_prior import OUTLINE_LINES
from fitassist.geometry.silhouette import Silhouette, silhouette
from fitassist.geometry.support import (
    BACK,
    FRONT,
    LEFT,
    RIGHT,
    Floats,
    corners,
    girth_of,
    tightened,
)
from fitassist.session.shape_form import FormStack, along_heights
from fitassist.session.shaping import STANDS_OUT_MM


@dataclass(frozen=True)
class Room:
    """How far a form stands from a body at one height; mm, and which sides.

    Sides are ``front``, ``left``, ``back`` and ``right``, those where it is most.
    """

    stands_out_mm: float
    stands_out_at: tuple[str, ...]
    room_mm: float
    room_at: tuple[str, ...]


@dataclass(frozen=True)
class FormHere:
    """A form at one height: its panels and the taut tape round them, (n, 2), middle on 0."""

    panels: tuple[Floats, ...]
    hull: Floats
    girth_mm: float
    breadth_mm: float
    depth_mm: float
    room: Room


@dataclass(frozen=True)
class Section:
    """Body and form at one height, seen from above; mm, x to the left, y to the front.

    Attributes
    ----------
    line
        Its name, or an empty text between two lines.
    height_mm
        Above the body's waist.
    body, inner, outer
        Its outline and the edges of the 90 % band, (180, 2), middle on 0.
    girth_mm, breadth_mm, depth_mm
        Of the outline.
    girth_band_mm, band_mm
        Half of the 90 % band: of the girth, and of the outline, averaged round it.
    is_measured
        Whether its girth was.
    form
        The form there, if known.
    """

    line: str
    height_mm: float
    body: Floats
    inner: Floats
    outer: Floats
    girth_mm: float
    breadth_mm: float
    depth_mm: float
    girth_band_mm: float
    band_mm: float
    is_measured: bool
    form: FormHere | None


@dataclass(frozen=True)
class Silhouettes:
    """Front and side view over height, of the body, the edges of its band, and the form."""

    body: Silhouette
    inner: Silhouette
    outer: Silhouette
    form: Silhouette | None


@dataclass(frozen=True)
class BodyStack:
    """A body's outlines by height, lowest first, and the form's; for the heights between lines.

    ``heights_mm`` (n,) above the waist, rising; ``reach_mm`` and ``shown_mm`` (n, 180) supports and
    their spreads; ``girth_spread_mm`` (n,).
    """

    heights_mm: Floats
    reach_mm: Floats
    shown_mm: Floats
    girth_spread_mm: Floats
    form: FormStack | None

    def at(self, height_mm: float) -> Section:
        """Return body and form at a height above the waist, kept within the lines."""
        height = float(np.clip(height_mm, self.heights_mm[0], self.heights_mm[-1]))
        reach = along_heights(self.heights_mm, self.reach_mm, np.array([height]))[0]
        shown = [np.interp(height, self.heights_mm, column) for column in self.shown_mm.T]
        section = body_section("", height, reach, np.array(shown))
        girth = float(np.interp(height, self.heights_mm, self.girth_spread_mm))
        form = self.form.at_height(height) if self.form is not None else None
        return replace(
            section, girth_band_mm=NORMAL_90 * girth, form=_form_here(form, section.body)
        )


def in_order(levels: Sequence[LevelOutline]) -> bool:
    """Say whether the lines lie above each other as they must, a millimetre apart at least."""
    ordered = sorted(levels, key=lambda level: -level.height_mm)
    apart = all(a.height_mm - b.height_mm >= 1.0 for a, b in pairwise(ordered))
    return apart and [one.line for one in ordered] == list(OUTLINE_LINES)


def stacked(
    levels: Sequence[LevelOutline], form: FormStack | None
) -> tuple[BodyStack, Silhouettes]:
    """Return the levels of a body, which are in order, for any height between, and silhouettes."""
    ordered = sorted(levels, key=lambda level: level.height_mm)
    moved = [_edges(level) for level in ordered]
    stack = BodyStack(
        heights_mm=np.array([level.height_mm for level in ordered]),
        reach_mm=np.array([level.reach_mm for level in ordered]),
        shown_mm=np.array([level.shown_mm for level in ordered]),
        girth_spread_mm=np.array([level.girth_spread_mm for level in ordered]),
        form=form,
    )
    views = Silhouettes(
        body=silhouette(ordered),
        inner=silhouette([inner for inner, _outer in moved]),
        outer=silhouette([outer for _inner, outer in moved]),
        form=silhouette(form.levels) if form is not None else None,
    )
    return stack, views


def _edges(level: LevelOutline) -> tuple[LevelOutline, LevelOutline]:
    away = NORMAL_90 * level.shown_mm
    inner = tightened(np.maximum(level.reach_mm - away, 0.1 * level.reach_mm))
    return replace(level, reach_mm=inner), replace(level, reach_mm=tightened(level.reach_mm + away))


def at_line(level: LevelOutline, stack: FormStack | None, is_measured: bool) -> Section:
    """Return body and form at one line, each at its own."""
    section = body_section(level.line, level.height_mm, level.reach_mm, level.shown_mm)
    form = stack.at_line(level.line) if stack is not None else None
    return replace(
        section,
        girth_band_mm=NORMAL_90 * level.girth_spread_mm,
        is_measured=is_measured,
        form=_form_here(form, section.body),
    )


def body_section(line: str, height_mm: float, reach: Floats, shown: Floats) -> Section:
    """Return the body's part of a section, the middle of its breadth and depth on 0."""
    away = NORMAL_90 * shown
    inner = tightened(np.maximum(reach - away, 0.1 * reach))
    points = corners(reach)
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    return Section(
        line=line,
        height_mm=height_mm,
        body=points - middle,
        inner=corners(inner) - middle,
        outer=corners(tightened(reach + away)) - middle,
        girth_mm=girth_of(reach),
        breadth_mm=float(reach[LEFT] + reach[RIGHT]),
        depth_mm=float(reach[FRONT] + reach[BACK]),
        girth_band_mm=0.0,
        band_mm=float(away.mean()),
        is_measured=False,
        form=None,
    )


def _form_here(section: FormSection | None, body: Floats) -> FormHere | None:
    if section is None:
        return None
    middle = (section.hull.min(axis=0) + section.hull.max(axis=0)) / 2.0
    hull = centred(section.hull)
    size = np.ptp(hull, axis=0)
    return FormHere(
        panels=tuple(panel - middle for panel in section.panels),
        hull=hull,
        girth_mm=section.girth_mm,
        breadth_mm=float(size[0]),
        depth_mm=float(size[1]),
        room=_room(hull, body),
    )


def _room(hull: Floats, body: Floats) -> Room:
    found = clearance(hull, body)
    # Quarters round the front, left, back and right.
    quarter = np.floor((found.polar_rad + np.pi / 4.0) / (np.pi / 2.0)).astype(int) % 4
    out, room = (
        [max(0.0, float((sign * found.room_mm[quarter == k]).max(initial=0.0))) for k in range(4)]
        for sign in (-1.0, 1.0)
    )
    return Room(max(out), _sides(out), max(room), _sides(room))


def _sides(by_quarter: Sequence[float]) -> tuple[str, ...]:
    """Return the sides at which something is about as large as anywhere."""
    most = max(by_quarter)
    sides = ("front", "left", "back", "right")
    if most < STANDS_OUT_MM:
        return ()
    return tuple(side for side, mm in zip(sides, by_quarter, strict=True) if mm >= 0.7 * most)
