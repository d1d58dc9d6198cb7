# SPDX-License-Identifier: MIT
"""The one torso of the sheets: front, side and back in plain lines, with what is to be shown on it.

Nothing on it is to scale; heights and widths are the same for everybody, so that a sheet tells
nothing of a body that its words do not tell.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from fitassist.domain.form import Form
from fitassist.domain.lines import USUAL_HEIGHTS_MM, Seam
from fitassist.report.flow import QUIET, circle
from fitassist.report.page import Item, Line, Point, Polygon, Text
from fitassist.wording.places import line_name
from fitassist.wording.sheet_words import words

# Half widths of the torso by height above the waist, mm of a body; drawn smaller. Our own figure.
FRONT_HALF = (
    (-290.0, 158.0), (-205.0, 176.0), (-105.0, 160.0), (0.0, 122.0), (80.0, 133.0), (160.0, 152.0),
    (240.0, 162.0), (300.0, 178.0), (336.0, 170.0), (366.0, 90.0), (384.0, 56.0), (430.0, 54.0),
)  # fmt: skip
SIDE_FRONT = (
    (-290.0, 96.0), (-205.0, 104.0), (-105.0, 104.0), (0.0, 92.0), (80.0, 104.0), (160.0, 128.0),
    (240.0, 104.0), (310.0, 74.0), (366.0, 46.0), (430.0, 52.0),
)  # fmt: skip
SIDE_BACK = (
    (-290.0, 112.0), (-205.0, 128.0), (-105.0, 108.0), (0.0, 80.0), (80.0, 88.0), (160.0, 104.0),
    (240.0, 112.0), (310.0, 104.0), (366.0, 66.0), (430.0, 54.0),
)  # fmt: skip
TOP_MM, FOOT_MM = 430.0, -290.0
SCALE = 0.092  # of the balance figure on A4; a shorter page has a smaller one
DIAL_SCALE = 0.1
NECK_FIGURE_MM = 7.0


def _half_at(z: float, half: Sequence[tuple[float, float]]) -> float:
    for (low, narrow), (high, wide) in pairwise(half):
        if low <= z <= high:
            return narrow + (wide - narrow) * (z - low) / (high - low)
    return half[0][1] if z < half[0][0] else half[-1][1]


def _smooth(points: Sequence[Point], steps: int = 6) -> list[Point]:
    """Round a polyline through its points (Catmull and Rom's cubic)."""
    rounded: list[Point] = []
    for i in range(len(points) - 1):
        a, b, c, d = (points[max(min(i + k, len(points) - 1), 0)] for k in (-1, 0, 1, 2))
        for step in range(steps):
            t = step / steps
            rounded.append((_cubic(a[0], b[0], c[0], d[0], t), _cubic(a[1], b[1], c[1], d[1], t)))
    return [*rounded, points[-1]]


def _cubic(a: float, b: float, c: float, d: float, t: float) -> float:
    return 0.5 * (
        2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3
    )


def torso(
    middle: float, scale: float, left: Sequence[tuple[float, float]],
    right: Sequence[tuple[float, float]],
) -> list[Item]:  # fmt: skip
    """Return the outline about a middle, its top at y = 0."""

    def side(half: Sequence[tuple[float, float]], sign: float) -> list[Point]:
        return _smooth([(middle + sign * x * scale, (TOP_MM - z) * scale) for z, x in half])

    one, other = side(left, -1.0), side(right, 1.0)
    return [Polygon((*one, *reversed(other)), width_mm=0.3, grey=0.97)]


def _level(z: float, middle: float, scale: float, halves: tuple[float, float], line: Line) -> Item:
    """Draw a level line a little bowed, as it is seen from slightly above."""
    y = (TOP_MM - z) * scale
    left, right = middle - halves[0] * scale, middle + halves[1] * scale
    bow = 0.03 * (right - left)
    points = ((left, y), ((3 * left + right) / 4, y + bow * 0.75), ((left + right) / 2, y + bow),
              ((left + 3 * right) / 4, y + bow * 0.75), (right, y))  # fmt: skip
    return Polygon(points, width_mm=line.width_mm, dash_mm=line.dash_mm, is_closed=False)


TAPE = Line((0.0, 0.0), (0.0, 0.0), width_mm=0.7)
THIN = Line((0.0, 0.0), (0.0, 0.0), width_mm=0.15, dash_mm=1.2)


def high_mm(scale: float) -> float:
    """Return how high a figure is drawn at a scale, its words under it included."""
    return (TOP_MM - FOOT_MM) * scale + 10.0


def balance_figure(width_mm: float, scale: float = SCALE) -> list[Item]:
    """Return front, side and back with the tapes on them."""
    items: list[Item] = []
    places = ((0.18, "front"), (0.5, "side"), (0.82, "back"))
    for share, name in places:
        middle = share * width_mm
        halves = (SIDE_BACK, SIDE_FRONT) if name == "side" else (FRONT_HALF, FRONT_HALF)
        items += torso(middle, scale, *halves)
        for z in (160.0, 0.0, -205.0):
            ends = _half_at(z, halves[0]), _half_at(z, halves[1])
            items.append(_level(z, middle, scale, ends, TAPE))
        items += _plumb(middle, name, scale)
        foot = (TOP_MM - FOOT_MM) * scale + 6.0
        items.append(Text((middle, foot), words(f"figure_{name}"), 3.0, is_centred=True))
    return items


def _plumb(middle: float, name: str, scale: float) -> list[Item]:
    def at(x: float, z: float) -> Point:
        return middle + x * scale, (TOP_MM - z) * scale

    if name == "side":
        items: list[Item] = [Line(at(0.0, 215.0), at(0.0, FOOT_MM), 0.7)]
        hole = _smooth([at(-14, 348), at(-34, 280), at(-10, 222), at(26, 240), at(30, 290)])
        return [*items, Polygon((*hole, at(-14, 348)), 0.7, is_closed=False)]
    neck = 384.0 if name == "back" else 340.0
    items = [Line(at(0.0, neck), at(0.0, FOOT_MM), 0.7)]
    bow = 12.0 if name == "back" else 48.0
    curve = [at(-56, 386), at(-34, 386 - 0.75 * bow), at(0, 386 - bow),
             at(34, 386 - 0.75 * bow), at(56, 386)]  # fmt: skip
    items.append(Polygon(tuple(_smooth(curve)), 0.7, is_closed=False))
    for sign in (-1, 1):
        items.append(Line(at(sign * 56, 386), at(sign * 166, 340), 0.7))
        arm = [at(sign * 166, 340), at(sign * 140, 290), at(sign * 158, 222)]
        items.append(Polygon(tuple(_smooth(arm)), 0.7, is_closed=False))
    return items


# -- dials -----------------------------------------------------------------------------------------


def row_heights(form: Form) -> Mapping[str, float]:
    """Return where rows are drawn: at their line's usual height; two at one line stand apart."""
    heights = {}
    for number, row in enumerate(form.rows):
        z = USUAL_HEIGHTS_MM.get(row.line, 60.0 - 60.0 * number)
        both = sum(one.line == row.line for one in form.rows) > 1
        heights[row.name] = z + (16.0 if row.half == "upper" else -16.0) * both
    return heights


def dial_figure(
    form: Form, numbers: Mapping[str, str], width_mm: float, scale: float = DIAL_SCALE
) -> list[Item]:
    """Return front and back of the form with the number of each dial beside it."""
    items: list[Item] = []
    heights = row_heights(form)
    for share, name in ((0.27, "front"), (0.75, "back")):
        middle = share * width_mm
        items += torso(middle, scale, FRONT_HALF, FRONT_HALF)
        for row, z in heights.items():
            ends = (_half_at(z, FRONT_HALF), _half_at(z, FRONT_HALF))
            items.append(_level(z, middle, scale, ends, THIN))
            y = (TOP_MM - z) * scale
            if name == "front":
                title = Text((0.0, y + 1.0), line_name(row), 3.0, grey=QUIET)
                items.append(title)
            items += _dials(row, name, middle, y, ends[0] * scale, numbers)
        foot = (TOP_MM - FOOT_MM) * scale + 6.0
        items.append(Text((middle, foot), words(f"figure_{name}"), 3.0, is_centred=True))
    return items


def _dials(
    row: str, view: str, middle: float, y: float, half: float, numbers: Mapping[str, str]
) -> list[Item]:
    """Draw the dials of a row seen from front or back; the form's left is at the right in front."""
    facing = 1.0 if view == "front" else -1.0
    places = {Seam.LEFT: facing * half, Seam.RIGHT: -facing * half}
    places[Seam.FRONT if view == "front" else Seam.BACK] = 0.0
    items: list[Item] = []
    for seam, x in places.items():
        number = numbers.get(f"{row}.{seam.value}")
        if number is None:
            continue
        is_side = x != 0.0
        if is_side and view == "back":
            continue  # told once, on the front
        items.append(circle(middle + x, y, 1.1, 0.0))
        size = 4.0
        if not is_side and y < NECK_FIGURE_MM:  # no room above it
            items.append(Text((middle + half + 1.5, y + 1.5), number, size, is_bold=True))
        elif not is_side:
            items.append(Text((middle, y - 2.0), number, size, is_centred=True, is_bold=True))
        elif x > 0:
            items.append(Text((middle + x + 3.0, y + 1.5), number, size, is_bold=True))
        else:
            at = (middle + x - 3.0, y + 1.5)
            items.append(Text(at, number, size, is_bold=True, ends_there=True))
    return items
