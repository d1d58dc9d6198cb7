# SPDX-License-Identifier: MIT
"""A cover over the padding: one rectangle of knit, pulled snug, with a neck tube and a disc on top.

A rectangle has one girth. At a line of girth G a tube of girth C is strained by G / C - 1; cut with
a share e of negative ease it is strained by e / (1 - e). It must be snug at the narrowest line and
use at most half of what the knit gives at the widest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from fitassist.errors import FitError
from fitassist.padding.surface import Floats, tape_hull

# Half of the usable stretch, and a knit that gives less than 18 % across does not stretch:
# common practice, no source.
USABLE_SHARE = 0.5
LEAST_STRETCH = 0.18
LEAST_STRAIN = 0.02  # less hangs loose; common practice, no source
SEAM_MM = 10.0
HEM_MM = 30.0
# Neck less 2 in or 5 cm, 7 to 10 in or 18 to 25 cm long: common practice, no source.
NECK_LESS_MM = 50.0
NECK_TUBE_MM = 215.0
USUAL_WIDTHS_MM = (910.0, 1120.0, 1370.0, 1470.0, 1830.0, 2740.0)  # trade tables: 36 to 108 in


@dataclass(frozen=True)
class CoverLine:
    """The girth of the padded form at a line."""

    line: str
    girth_mm: float


@dataclass(frozen=True)
class Cover:
    """What to cut, in mm; the knit's stretch runs round the form.

    Attributes
    ----------
    girth_mm
        Of the finished tube; ``cut_width_mm`` has both seam allowances.
    strains
        Share of stretch at each line.
    needed_mm
        Length of fabric for each usual width that is wide enough.
    """

    girth_mm: float
    cut_width_mm: float
    cut_height_mm: float
    tube_mm: tuple[float, float]
    disc_mm: float
    strains: tuple[tuple[str, float], ...]
    needed_mm: tuple[tuple[float, float], ...]


def strain_of(ease: float) -> float:
    """Return the stretch of a cover cut with a share of negative ease."""
    return ease / (1.0 - ease)


def plan_cover(
    lines: Sequence[CoverLine],
    stretch: float,
    height_mm: float,
    neck_mm: Floats,
    ease: float | None = None,
) -> Cover:
    """Return the pieces of a cover, or say by a code why there is none.

    Parameters
    ----------
    lines
        All lines it goes over.
    stretch
        How much the knit gives across, as a share (hand test: stretched less rest over rest).
    height_mm
        From the neck to the lower edge, along the form.
    neck_mm
        Outline of the neck, shape (n, 2).
    ease
        Negative ease at the widest line as a share; chosen if not given.

    Raises
    ------
    FitError
        ``padding_too_few_lines``, ``cover_no_stretch``, ``cover_ease``, ``cover_height``,
        ``cover_overstretched`` or ``cover_loose`` (values: line, strain and most in %).
    """
    if not lines:
        raise FitError("padding_too_few_lines")
    if not LEAST_STRETCH <= stretch <= 3.0:
        raise FitError("cover_no_stretch", field="stretch", least=100.0 * LEAST_STRETCH)
    if ease is not None and not 0.0 < ease < 0.6:
        raise FitError("cover_ease", field="ease")
    if not 50.0 <= height_mm <= 2000.0:
        raise FitError("cover_height", field="height_mm")
    girth = _girth(lines, stretch, ease)
    ring = shapely.LinearRing(tape_hull(neck_mm, "neck"))
    tube = neck_tube(ring.length, stretch)
    disc = 2.0 * math.sqrt(shapely.Polygon(ring).area / math.pi) + 2.0 * SEAM_MM
    body = (girth + 2.0 * SEAM_MM, height_mm + SEAM_MM + HEM_MM)
    return Cover(
        girth_mm=girth,
        cut_width_mm=body[0],
        cut_height_mm=body[1],
        tube_mm=tube,
        disc_mm=disc,
        strains=tuple((one.line, one.girth_mm / girth - 1.0) for one in lines),
        needed_mm=needed(body, tube, disc),
    )


def _girth(lines: Sequence[CoverLine], stretch: float, ease: float | None) -> float:
    widest = max(lines, key=lambda one: one.girth_mm)
    narrowest = min(lines, key=lambda one: one.girth_mm)
    most = USABLE_SHARE * stretch
    smallest = widest.girth_mm / (1.0 + most)
    largest = narrowest.girth_mm / (1.0 + LEAST_STRAIN)
    # Snug at the narrowest and no tighter: the widest line is spared.
    girth = largest if ease is None else widest.girth_mm * (1.0 - ease)
    if girth < smallest - 1e-9:
        raise FitError(
            "cover_overstretched",
            line=widest.line,
            strain=100.0 * (widest.girth_mm / girth - 1.0),
            most=100.0 * most,
        )
    if girth > largest + 1e-9:
        raise FitError("cover_loose", line=narrowest.line, mm=girth - largest)
    return girth


def neck_tube(neck_mm: float, stretch: float) -> tuple[float, float]:
    """Return what to cut for the neck: width with seam allowances, and length, mm.

    It is cut smaller than the neck by what is usual, but never so small that the knit would be
    stretched past half of what it gives.
    """
    girth = max(neck_mm - NECK_LESS_MM, neck_mm / (1.0 + USABLE_SHARE * stretch))
    return girth + 2.0 * SEAM_MM, NECK_TUBE_MM


def needed(
    body: tuple[float, float], tube: tuple[float, float], disc: float
) -> tuple[tuple[float, float], ...]:
    """Return (width, length) of fabric for each usual width that is wide enough, mm.

    Tube and disc go beside the body where the fabric is wide enough, else below it.
    """
    found = []
    for width in USUAL_WIDTHS_MM:
        if body[0] > width:
            continue
        left_over = width - body[0]
        small = tube[0] + disc <= width
        below = max(tube[1], disc) if small else tube[1] + disc
        beside = tube[0] <= left_over and tube[1] + disc <= body[1]
        found.append((width, float(np.ceil(body[1] + (0.0 if beside else below)))))
    return tuple(found)
