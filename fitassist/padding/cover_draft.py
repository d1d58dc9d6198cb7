# SPDX-License-Identifier: MIT
"""Covers whose centre back seam is shaped: pinned out of a rectangle on the form, or drafted.

Either way every line is cut smaller than its girth by the same share of negative ease, so the knit
is stretched alike all over, by e / (1 - e).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.interpolate import PchipInterpolator

from fitassist.errors import FitError
from fitassist.padding.cover import (
    HEM_MM,
    LEAST_STRETCH,
    SEAM_MM,
    USABLE_SHARE,
    CoverLine,
    neck_tube,
    needed,
    plan_cover,
    strain_of,
)
from fitassist.padding.surface import Floats

USUAL_EASE = 0.05  # 3 to 8 % is usual on girths (common practice, from memory)
# More than this taken out of a rectangle at one line drags its grain askew (own choice).
MOST_TAKEN = 1.0 / 3.0
# A fall of 23 degrees is what tables of the trade give for a shoulder (from memory).
SLOPE_DEG = 23.0
USUAL_SHOULDER_MM = 120.0  # own choice, used only where the shoulder was not measured
FOAM_MM, FOAM_LAYERS = 10.0, 3  # under the disc of the pincushion (common practice, no source)
CURVE_STEP_MM = 10.0

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class CoverGirth:
    """The finished form at a line: its girth, and how high the line lies above the waist, mm."""

    line: str
    girth_mm: float
    z_mm: float


@dataclass(frozen=True)
class CoverFit:
    """How the cover lies at a line: what is taken out at centre back, and the knit's stretch."""

    line: str
    girth_mm: float
    cut_mm: float
    taken_mm: float
    strain: float


@dataclass(frozen=True)
class ShapedCover:
    """What to cut, in mm; the knit's stretch runs round the form.

    Attributes
    ----------
    cut_mm
        Width and height of the rectangle, seam allowances and hem in it.
    most
        The stretch that may be used, as a share.
    tube_mm, disc_mm, foam_mm
        Neck tube, fabric disc of the pincushion, and the foam discs under it.
    needed_mm
        (width, length) of fabric.
    """

    ease: float
    cut_mm: tuple[float, float]
    fits: tuple[CoverFit, ...]
    most: float
    tube_mm: tuple[float, float]
    disc_mm: float
    foam_mm: float
    needed_mm: tuple[tuple[float, float], ...]


def shaped_cover(
    lines: Sequence[CoverGirth],
    stretch: float,
    height_mm: float,
    neck_mm: float,
    ease: float = USUAL_EASE,
    is_pinned: bool = True,
) -> ShapedCover:
    """Return the pieces of a cover that is shaped at centre back.

    Parameters
    ----------
    stretch
        What the knit gives across, as a share (stretched less rest over rest).
    height_mm
        Along the form from the neck to the lower edge.
    neck_mm
        Girth of the form's neck where the tube sits.
    is_pinned
        Cut as a rectangle and pinned on the form; else drafted.

    Raises
    ------
    FitError
        ``padding_too_few_lines``, ``cover_no_stretch``, ``cover_ease``, ``cover_height``,
        ``cover_neck``, ``cover_overstretched`` or ``cover_pinned_too_much``.
    """
    if not lines:
        raise FitError("padding_too_few_lines")
    if not LEAST_STRETCH <= stretch <= 3.0:
        raise FitError("cover_no_stretch", field="stretch", least=100.0 * LEAST_STRETCH)
    if not 0.0 < ease < 0.6:
        raise FitError("cover_ease", field="ease")
    if not 50.0 <= height_mm <= 2000.0:
        raise FitError("cover_height", field="height_mm")
    if not 150.0 <= neck_mm <= 800.0:
        raise FitError("cover_neck", field="neck_mm")
    widest = max(lines, key=lambda one: one.girth_mm)
    narrowest = min(lines, key=lambda one: one.girth_mm)
    strain, most = strain_of(ease), USABLE_SHARE * stretch
    if strain > most + 1e-9:
        told = 100.0 * strain, 100.0 * most
        raise FitError("cover_overstretched", line=widest.line, strain=told[0], most=told[1])
    flat = widest.girth_mm * (1.0 - ease)
    taken = flat - narrowest.girth_mm * (1.0 - ease)
    if is_pinned and taken > MOST_TAKEN * flat:
        raise FitError("cover_pinned_too_much", line=narrowest.line, mm=taken)
    disc = neck_mm / math.pi + 2.0 * SEAM_MM + 2.0 * FOAM_LAYERS * FOAM_MM
    body = (flat + 2.0 * SEAM_MM, height_mm + SEAM_MM + HEM_MM)
    tube = neck_tube(neck_mm, stretch)
    fits = [
        CoverFit(one.line, one.girth_mm, cut, flat - cut, one.girth_mm / cut - 1.0)
        for one in lines
        for cut in [one.girth_mm * (1.0 - ease)]
    ]
    found = needed(body, tube, disc)
    foam = neck_mm / math.pi
    return ShapedCover(ease, body, tuple(fits), most, tube, disc, foam, found)


def tube_cover(
    lines: Sequence[CoverGirth], stretch: float, height_mm: float, neck_mm: float
) -> ShapedCover:
    """Return a plain tube, nothing taken out: snug at the narrowest line, stretched at the others.

    Raises
    ------
    FitError
        As ``plan_cover`` does, and ``cover_neck``.
    """
    if not 150.0 <= neck_mm <= 800.0:
        raise FitError("cover_neck", field="neck_mm")
    turn = np.linspace(0.0, 2.0 * math.pi, 360, endpoint=False)
    radius = neck_mm / (2.0 * math.pi)
    neck = radius * np.column_stack([np.sin(turn), np.cos(turn)])
    told = [CoverLine(one.line, one.girth_mm) for one in lines]
    cover = plan_cover(told, stretch, height_mm, neck)
    strains = dict(cover.strains)
    fits = [
        CoverFit(one.line, one.girth_mm, cover.girth_mm, 0.0, strains[one.line]) for one in lines
    ]
    disc = neck_mm / math.pi + 2.0 * SEAM_MM + 2.0 * FOAM_LAYERS * FOAM_MM
    cut = cover.cut_width_mm, cover.cut_height_mm
    tube = neck_tube(neck_mm, stretch)
    return ShapedCover(
        ease=1.0 - cover.girth_mm / max(one.girth_mm for one in lines),
        cut_mm=cut,
        fits=tuple(fits),
        most=USABLE_SHARE * stretch,
        tube_mm=tube,
        disc_mm=disc,
        foam_mm=neck_mm / math.pi,
        needed_mm=needed(cut, tube, disc),
    )


@dataclass(frozen=True)
class Draft:
    """Half a cover, the fold at x = 0, y up; seam allowances are not in it.

    Attributes
    ----------
    outline
        Corners in order, from the lower edge at the fold.
    lines
        Name and two ends of each line of the body across it.
    shoulder
        Front and back edge that are sewn together: neck, tip, and down to the side.
    """

    outline: Ring
    lines: tuple[tuple[str, tuple[float, float], tuple[float, float]], ...]
    shoulder: tuple[Ring, Ring]


def draft_cover(
    lines: Sequence[CoverGirth],
    ease: float,
    below_mm: float,
    neck_z_mm: float,
    neck_mm: float,
    shoulder_mm: float = USUAL_SHOULDER_MM,
    slope_deg: float = SLOPE_DEG,
) -> Draft:
    """Return half a cover with a shaped centre back seam and shoulder seams.

    Each line is as wide as half its girth less the ease. The neck is a quarter circle of the
    neck's own radius in front and a shallow one behind, the shoulder falls by its slope, and the
    edge of shoulder and armhole is one seam down to the side (our own draft; it is trimmed on the
    form).

    Parameters
    ----------
    below_mm
        How far the lower edge lies below the lowest line.
    neck_z_mm
        Height of the back neck above the waist.

    Raises
    ------
    FitError
        ``padding_too_few_lines`` with fewer than two, ``cover_neck_low`` where the neck lies no
        higher than the highest line.
    """
    ordered = sorted(lines, key=lambda one: one.z_mm)
    if len(ordered) < 2:
        raise FitError("padding_too_few_lines")
    heights = np.array([one.z_mm for one in ordered])
    if neck_z_mm < heights[-1] + 40.0 or (np.diff(heights) < 1.0).any():
        raise FitError("cover_neck_low")
    halves = np.array([0.5 * one.girth_mm * (1.0 - ease) for one in ordered])
    low, top = float(heights[0] - below_mm), float(heights[-1])
    back = _back_edge(heights, halves, low)
    wide = back[-1][0]
    radius = neck_mm / (2.0 * math.pi) * (1.0 - ease)
    fall, out = math.sin(math.radians(slope_deg)), math.cos(math.radians(slope_deg))
    reach = min(shoulder_mm, max((0.5 * wide - radius - 5.0) / out, 30.0))
    front_neck, front_tip = (radius, neck_z_mm), (radius + reach * out, neck_z_mm - reach * fall)
    back_neck, back_tip = (wide - radius, neck_z_mm), (wide - front_tip[0], front_tip[1])
    side = (0.5 * wide, min(top, front_tip[1] - 20.0))
    outline = [
        (0.0, low),
        *back,
        *reversed(_shallow(wide, radius, neck_z_mm)),
        back_tip,
        side,
        front_tip,
        *reversed(_scoop(radius, neck_z_mm)),
    ]
    marks = [
        (one.line, (0.0, one.z_mm), (float(half), one.z_mm))
        for one, half in zip(ordered, halves, strict=True)
    ]
    seams = ((front_neck, front_tip, side), (back_neck, back_tip, side))
    return Draft(tuple((float(x), float(y)) for x, y in outline), tuple(marks), seams)


def _back_edge(heights: Floats, halves: Floats, low: float) -> list[tuple[float, float]]:
    """Return the centre back seam from the lower edge up to the highest line."""
    bent = PchipInterpolator(heights, halves)
    top = float(heights[-1])
    steps = max(2, round((top - low) / CURVE_STEP_MM) + 1)
    return [
        (float(bent(np.clip(z, heights[0], top))), float(z)) for z in np.linspace(low, top, steps)
    ]


def _scoop(radius: float, neck_z_mm: float) -> list[tuple[float, float]]:
    """Return the front of the neck, from the fold to the shoulder."""
    return [
        (radius * math.sin(t), neck_z_mm - radius * math.cos(t))
        for t in np.linspace(0.0, math.pi / 2.0, 10)
    ]


def _shallow(wide: float, radius: float, neck_z_mm: float) -> list[tuple[float, float]]:
    """Return the back of the neck, from the shoulder to centre back."""
    return [
        (wide - radius * math.cos(t), neck_z_mm - 0.25 * radius * math.sin(t))
        for t in np.linspace(0.0, math.pi / 2.0, 8)
    ]
