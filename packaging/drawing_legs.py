# SPDX-License-Identifier: MIT
"""Drawings of what is measured on legs: round one, down its inner side, and the rise of a seat."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from drawing_figures import BODY, LEG_INNER, LEG_OUTER, Point, arc
from drawing_sheets import FINE, FLOOR_Y, Sheet, line, whole_body

CROTCH: Point = LEG_INNER[0]
THIGH_Y = 345.0  # just below the crotch, where a thigh is fullest
LOWER_BODY = (-250.0, -60.0, 500.0, 812.0)
TO_THE_FLOOR = (-330.0, -60.0, 660.0, 1100.0)


def _across(points: list[Point], y: float) -> float:
    """Return how far out a curve through these points is at a height, near enough for a tape."""
    for (x, top), (other, bottom) in itertools.pairwise(points):
        if top <= y <= bottom:
            return x + (other - x) * (y - top) / (bottom - top)
    raise ValueError(f"no point of the curve is as high as {y}")


def thigh_girth() -> Sheet:
    """Tape level round one leg, as high as it goes."""
    sheet = whole_body()
    sheet.box = LOWER_BODY
    inner, outer = _across(LEG_INNER, THIGH_Y), _across(LEG_OUTER, THIGH_Y)
    sheet.tape(arc((inner, THIGH_Y), (outer, THIGH_Y), -12), behind=True)
    sheet.tape(arc((inner, THIGH_Y), (outer, THIGH_Y), 12))
    return sheet


def inside_leg() -> Sheet:
    """Upright tape from the crotch to the floor."""
    sheet = whole_body()
    sheet.box = TO_THE_FLOOR
    sheet.tape(line((CROTCH[0], CROTCH[1] + 6), (CROTCH[0], FLOOR_Y)))
    for y in (CROTCH[1] + 6, FLOOR_Y):
        sheet.tick((CROTCH[0], y), (0, 1), 24)
    return sheet


def body_rise() -> Sheet:
    """Upright tape beside the body from the waist down to the height of the crotch."""
    sheet = whole_body()
    sheet.box = LOWER_BODY
    x = 215.0
    ends = (("waist", BODY.side.x_at(0), 0.0), ("crotch", CROTCH[0], CROTCH[1]))
    for name, start, y in ends:
        sheet.path(line((start, y), (x, y)), f"level-{name}", stroke=FINE, dash="5 4")
        sheet.tick((x, y), (0, 1), 24)
    sheet.tape(line((x, 0), (x, CROTCH[1])))
    return sheet


LEG_SHEETS: dict[str, Callable[[], Sheet]] = {
    "thigh_girth": thigh_girth,
    "body_rise": body_rise,
    "inside_leg": inside_leg,
}
