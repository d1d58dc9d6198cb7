# SPDX-License-Identifier: MIT
"""The form with one place of padding on it: its edge drawn strong, the place itself hatched.

Where each place lies is common practice, no source, as in the program's own list of places.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import pairwise
from math import cos, pi, sin

from drawing_figures import FORM, Point
from drawing_sheets import FORM_BOTTOM_Y, FORM_BOX, FORM_SHOULDER, Sheet, form

PAD = "#000005"
EDGE_PX, HATCH_PX = 2.5, 1.0
HATCH_STEP = 15.0  # between two lines of the hatch
SHOWN_LINES = ("bust", "waist", "hip")
TORSO_BOX = (FORM_BOX[0] - 10, FORM_BOX[1], FORM_BOX[2] + 20, 820.0)
Shape = list[Point]


def _figure(view: str) -> Sheet:
    """Draw the form without its stand, with three lines to find one's way."""
    sheet = form(view)
    sheet.box = TORSO_BOX
    left_out = ('id="pole', 'id="foot', 'id="split', 'id="line-')
    shown = tuple(f'id="line-{name}"' for name in SHOWN_LINES)
    sheet.items = [
        item
        for item in sheet.items
        if any(name in item for name in shown) or not any(name in item for name in left_out)
    ]
    return sheet


def _oval(x: float, y: float, half_wide: float, half_high: float) -> Shape:
    """Return the points of an oval."""
    turns = (2 * pi * n / 48 for n in range(48))
    return [(x + half_wide * cos(turn), y + half_high * sin(turn)) for turn in turns]


def _along(edge: Shape, inside: float, outside: float, towards: int) -> Shape:
    """Return a lens over a run of an outline, thin at both ends; `towards`: where outside is."""
    last = len(edge) - 1
    swell = [sin(pi * n / last) for n in range(len(edge))]
    outer = [(x + towards * outside * s, y) for (x, y), s in zip(edge, swell, strict=True)]
    inner = [(x - towards * inside * s, y) for (x, y), s in zip(edge, swell, strict=True)]
    return outer + inner[-2:0:-1]


def _hatch(shape: Shape) -> str:
    """Return slanted lines that fill a shape, as path data."""
    root = 2**-0.5
    turned = [((x + y) * root, (y - x) * root) for x, y in shape]
    low, high = min(v for _u, v in turned), max(v for _u, v in turned)
    data, at = "", low + HATCH_STEP / 2
    while at < high:
        met = sorted(
            u + (at - v) / (v2 - v) * (u2 - u)
            for (u, v), (u2, v2) in pairwise([*turned, turned[0]])
            if (v <= at) != (v2 <= at)
        )
        for start, end in zip(met[::2], met[1::2], strict=True):
            ends = [((u - at) * root, (u + at) * root) for u in (start, end)]
            data += "".join(f"{k}{x:.1f} {y:.1f}" for k, (x, y) in zip("ML", ends, strict=True))
        at += HATCH_STEP
    return data


def padded(view: str, *shapes: Shape) -> Sheet:
    """Draw the form with these shapes laid on it."""
    sheet = _figure(view)
    for number, shape in enumerate(shapes, 1):
        edge = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in shape) + "Z"
        sheet.path(_hatch(shape), f"hatch-{number}", stroke=PAD, px=HATCH_PX)
        sheet.path(edge, f"pad-{number}", stroke=PAD, px=EDGE_PX)
    return sheet


def _mirrored(shape: Shape) -> Shape:
    return [(-x, y) for x, y in shape]


def _level(points: Shape) -> Shape:
    """Return every eighth point of a run and its last: enough for an even edge."""
    return [*points[:-1:8], points[-1]]


def _shoulder() -> Shape:
    """Return the wedge on a shoulder: nothing at the neck, thickest at the tip."""
    top = FORM_SHOULDER.points(12)
    last = len(top) - 1
    raised = [(x, y - 30 * n / last) for n, (x, y) in enumerate(top)]
    return raised + [(x, y + 16 * n / last) for n, (x, y) in enumerate(top)][:0:-1]


def _all_round() -> Shape:
    edge = [(x + 9, y) for x, y in _level(FORM.side.between(-215, 240))]
    return edge + _mirrored(edge)[::-1]


def _side_strip() -> Shape:
    edge = _level(FORM.side.between(-226, FORM_BOTTOM_Y))
    return [(x + 5, y) for x, y in edge] + [(x - 24, y) for x, y in edge][::-1]


def _middle_strip(top: float) -> Shape:
    return [(-16, top), (16, top), (16, FORM_BOTTOM_Y + 14), (-16, FORM_BOTTOM_Y + 14)]


# One of each pair, as it lies on the right of the page.
_PAIRS: dict[str, tuple[str, Shape]] = {
    "cup": ("front", _oval(80, -150, 52, 56)),
    "side": ("front", _along(_level(FORM.side.between(-160, -10)), 42, 14, 1)),
    "shoulder_blade": ("back", _oval(86, -225, 42, 58)),
    "front_hip": ("front", _oval(96, 125, 46, 62)),
    "hip": ("front", _along(_level(FORM.side.between(20, 262)), 46, 20, 1)),
    "seat": ("back", _oval(82, 178, 62, 66)),
    "shoulder": ("front", _shoulder()),
}
_SINGLE: dict[str, tuple[str, Shape]] = {
    "rounded_back": ("side", _along(_level(FORM.back.between(-385, -150)), 34, 22, 1)),
    "small_of_back": ("side", _along(_level(FORM.back.between(-120, 110)), 34, 20, 1)),
    "midriff": ("front", _oval(0, -76, 62, 50)),
    "tummy": ("front", _oval(0, 100, 84, 70)),
    "all_round": ("front", _all_round()),
    "strip_front": ("front", _middle_strip(-336)),
    "strip_back": ("back", _middle_strip(-372)),
    "strip_left": ("front", _side_strip()),
    "strip_right": ("front", _mirrored(_side_strip())),
}


def _sheets() -> dict[str, Callable[[], Sheet]]:
    made = {f"pad_{name}": partial(padded, *told) for name, told in _SINGLE.items()}
    for name, (view, on_right) in _PAIRS.items():
        on_left = _mirrored(on_right)
        # Seen from the front the form's left is on the right of the page; from the back it is not.
        left, right = (on_right, on_left) if view == "front" else (on_left, on_right)
        made[f"pad_left_{name}"] = partial(padded, view, left)
        made[f"pad_right_{name}"] = partial(padded, view, right)
        made[f"pad_{name}"] = partial(padded, view, left, right)
    return dict(made)


PADDING_SHEETS = _sheets()
