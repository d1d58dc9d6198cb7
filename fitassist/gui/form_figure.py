# SPDX-License-Identifier: MIT
"""Where a form's own lines and dials lie on the drawing of the form.

The drawing gives the outline and the usual lines; a line of the owner's own is placed between them
by its height. Points are in the drawing's units, which are millimetres above the waist, downwards.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import Literal

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from fitassist.domain.form import Form, Row
from fitassist.domain.lines import NAMED_LINES, Seam, What
from fitassist.gui.drawings import element_path

Shown = Literal["front", "back", "side"]

# What each view shows at the left, in the middle and at the right of the page. Seen from the front
# the form's left is on the reader's right; the side view is seen from the form's own left.
SEAMS: dict[Shown, tuple[Seam, Seam, Seam]] = {
    "front": (Seam.RIGHT, Seam.FRONT, Seam.LEFT),
    "back": (Seam.LEFT, Seam.BACK, Seam.RIGHT),
    "side": (Seam.FRONT, Seam.LEFT, Seam.BACK),
}
# Where a length that is no line of the form runs: view, start and end in the drawing's units.
LENGTHS: dict[str, tuple[Shown, QPointF, QPointF]] = {
    "back_neck_to_waist": ("back", QPointF(0, -374), QPointF(0, 12)),
    "torso_length": ("back", QPointF(0, -374), QPointF(0, 12)),
    "shoulder_length": ("front", QPointF(60, -386), QPointF(178, -340)),
}
_TOP_Y, _BOTTOM_Y = -322.0, 268.0  # lines of the owner's own stay between shoulder and hem
_BELOW_SPLIT_Y = 66.0
_FAR_SHARE = -0.8  # the far half of a level line, seen from a little above


def shows(view: Shown, seam: Seam) -> bool:
    """Say whether a seam can be seen in a view."""
    return seam in SEAMS[view]


def has_split(form: Form) -> bool:
    """Say whether the form parts across into an upper and a lower half."""
    return form.parts >= 8 or any(row.half != "whole" for row in form.rows)


def row_of(form: Form, name: str) -> Row | None:
    """Return the row of dials of that name, or None."""
    return next((row for row in form.rows if row.name == name), None)


def line_y(form: Form, line: str) -> float:
    """Return how far down the drawing a line lies, at the outline."""
    if line in NAMED_LINES:
        return _named_y(line)
    heights = {known.name: known.height_mm for known in form.lines if known.height_mm is not None}
    fixed = sorted(
        (height, _named_y(name)) for name, height in heights.items() if name in NAMED_LINES[1:]
    )
    if line not in heights:
        return _between_neighbours(form, line)
    if not fixed:  # nothing known to hold on to: spread the heights from bust to hip
        low, high = min(heights.values()), max(heights.values())
        share = (high - heights[line]) / (high - low) if high > low else 0.5
        return _named_y("bust") * (1 - share) + _named_y("hip") * share
    return min(max(_along(fixed, heights[line]), _TOP_Y), _BOTTOM_Y)


def _named_y(line: str) -> float:
    return element_path("form_front", f"line-{line}").pointAtPercent(0).y()


def _along(fixed: list[tuple[float, float]], height: float) -> float:
    """Read y at a height from known pairs, straight between them and true to scale beyond."""
    if height <= fixed[0][0]:
        return fixed[0][1] + fixed[0][0] - height
    for (h0, y0), (h1, y1) in pairwise(fixed):
        if height <= h1:
            return y0 + (y1 - y0) * (height - h0) / (h1 - h0)
    return fixed[-1][1] + fixed[-1][0] - height


def _between_neighbours(form: Form, line: str) -> float:
    """Place a line without a height between the named lines listed before and after it."""
    names = [known.name for known in form.lines]
    at = names.index(line) if line in names else len(names)
    before = [_named_y(name) for name in names[:at] if name in NAMED_LINES]
    after = [_named_y(name) for name in names[at + 1 :] if name in NAMED_LINES]
    top = before[-1] if before else (after[0] - 80 if after else 0.0)
    bottom = after[0] if after else top + 80
    return min(max((top + bottom) / 2, _TOP_Y), _BOTTOM_Y)


@lru_cache(maxsize=256)
def level_path(view: Shown, y: float, share: float = 1.0) -> QPainterPath:
    """Return the near half of a level line from side to side; the far half for a share below 0."""
    left, right = _ends(view, y)
    half = (right - left) / 2
    # The same bow as the drawing's own lines have.
    deep = share * half * (0.095 + 0.00012 * y) * 4 / 3
    path = QPainterPath(QPointF(left, y))
    path.cubicTo(
        QPointF(left + half * 0.44, y + deep), QPointF(right - half * 0.44, y + deep),
        QPointF(right, y),
    )  # fmt: skip
    return path


def line_path(form: Form, view: Shown, line: str, *, far: bool = False) -> QPainterPath:
    """Return a line of the form as a view shows it; its hidden half if `far`."""
    if line == "neck":
        near = element_path(f"form_{view}", "line-neck")
        return _neck_far(near) if far else near
    return level_path(view, line_y(form, line), _FAR_SHARE if far else 1.0)


def _neck_far(near: QPainterPath) -> QPainterPath:
    start, end = near.pointAtPercent(0), near.pointAtPercent(1)
    path = QPainterPath(start)
    path.quadTo(QPointF((start.x() + end.x()) / 2, min(start.y(), end.y()) - 14), end)
    return path


def row_path(form: Form, view: Shown, row: Row) -> QPainterPath:
    """Return the level curve on which a row's dials lie."""
    if row.line == "neck":
        return line_path(form, view, "neck")
    y = line_y(form, row.line)
    if row.half == "lower" and has_split(form) and abs(y - 30) < 36:
        y = _BELOW_SPLIT_Y  # these dials sit on the lower half, below where it parts
    return level_path(view, y)


def _ends(view: Shown, y: float) -> tuple[float, float]:
    """Return where the outline lies at a height, left and right."""
    across = [
        p[0] + (q[0] - p[0]) * (y - p[1]) / (q[1] - p[1])
        for p, q in pairwise(_outline(view))
        if min(p[1], q[1]) <= y <= max(p[1], q[1]) and p[1] != q[1]
    ]
    return min(across), max(across)


@lru_cache(maxsize=4)
def _outline(view: Shown) -> tuple[tuple[float, float], ...]:
    polygon = element_path(f"form_{view}", "outline").toFillPolygon()
    return tuple((point.x(), point.y()) for point in polygon.toList())


@lru_cache(maxsize=16)
def _seam_points(view: Shown, seam: Seam) -> tuple[QPointF, ...]:
    path = element_path(f"form_{view}", f"seam-{seam.value}")
    return tuple(path.pointAtPercent(i / 400) for i in range(401))


def dial_spot(form: Form, view: Shown, dial: str) -> QPointF | None:
    """Return where a dial lies in a view; None where it cannot be seen or is not known."""
    row_name, _dot, seam_name = dial.rpartition(".")
    row = row_of(form, row_name)
    if row is None or not shows(view, Seam(seam_name)):
        return None
    path = row_path(form, view, row)
    place = SEAMS[view].index(Seam(seam_name))
    if place != 1:
        return path.pointAtPercent(0 if place == 0 else 1)
    return crossing(path, middle_x(view, path))


def middle_x(view: Shown, path: QPainterPath) -> float:
    """Return x of the seam in the middle of a view where a level curve meets it."""
    if view != "side":
        return 0.0
    y = path.pointAtPercent(0.5).y()
    return min(_seam_points("side", Seam.LEFT), key=lambda point: abs(point.y() - y)).x()


def crossing(path: QPainterPath, x: float) -> QPointF:
    """Return the point of a level curve at x (it runs from left to right)."""
    low, high = 0.0, 1.0
    for _ in range(24):
        mid = (low + high) / 2
        if path.pointAtPercent(mid).x() < x:
            low = mid
        else:
            high = mid
    return path.pointAtPercent((low + high) / 2)


def seam_piece(view: Shown, seam: Seam, y: float, reach: float = 30.0) -> QPainterPath:
    """Return the short piece of a seam above and below a dial, the gap that a turn changes."""
    near = [point for point in _seam_points(view, seam) if abs(point.y() - y) <= reach]
    piece = QPainterPath()
    for i, point in enumerate(near):
        piece.lineTo(point) if i else piece.moveTo(point)
    return piece


def tape_paths(form: Form, view: Shown, line: str, what: What) -> tuple[QPainterPath, QPainterPath]:
    """Return where the tape runs in a view: what is seen of it, and what is behind.

    Both are empty where the drawing has no such place.
    """
    nothing = QPainterPath()
    if line in LENGTHS:
        _view, start, end = LENGTHS[line]
        straight = QPainterPath(start)
        straight.lineTo(end)
        return straight, nothing
    known = form.line(line) is not None or line in NAMED_LINES
    if not known or what == What.LENGTH:
        return nothing, nothing
    near = line_path(form, view, line)
    if what == What.GIRTH:
        return near, line_path(form, view, line, far=True)
    if what in (What.LEFT_HALF, What.RIGHT_HALF):
        seam = Seam.LEFT if what == What.LEFT_HALF else Seam.RIGHT
        return _half(near, middle_x(view, near), left=SEAMS[view][0] == seam), nothing
    return near, nothing


def _half(path: QPainterPath, x: float, *, left: bool) -> QPainterPath:
    """Return the part of a level curve on one side of x."""
    points = [path.pointAtPercent(i / 100) for i in range(101)]
    meeting = crossing(path, x)
    kept = [p for p in points if (p.x() < x if left else p.x() > x)]
    run = [*kept, meeting] if left else [meeting, *kept]
    piece = QPainterPath(run[0])
    for point in run[1:]:
        piece.lineTo(point)
    return piece
