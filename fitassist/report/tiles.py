# SPDX-License-Identifier: MIT
"""One large drawing on many sheets: windows that overlap, with crosses that meet.

A cross stands in the middle of every overlap, so it is whole on both sheets; when the crosses lie
on one another, so does the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.errors import FitError
from fitassist.report.page import Item, Line, Page, Polygon, Text, box_of, shifted
from fitassist.report.paper import SAFE_MM, Paper

OVERLAP_MM = 14.0
CROSS_MM = 4.0  # half length of an arm
LEAST_ROOM_MM = (120.0, 215.0)  # the test squares stand above one another in this
MOST_PAGES = 200


@dataclass(frozen=True)
class Tiling:
    """How a drawing is cut up.

    Attributes
    ----------
    names
        Of each tile, row by row: "A1", "A2".
    windows_mm
        (left, top, right, bottom) of each tile in the drawing.
    crosses_mm
        Where crosses stand in the drawing.
    """

    paper: Paper
    names: tuple[str, ...]
    windows_mm: tuple[tuple[float, float, float, float], ...]
    crosses_mm: tuple[tuple[float, float], ...]


def plan_tiles(width_mm: float, height_mm: float, paper: Paper, first_row: int = 0) -> Tiling:
    """Return the windows that cover a drawing; ``first_row`` is the first letter of their names.

    Raises
    ------
    FitError
        ``paper_too_small``, ``paper_too_many_pages`` (values: pages, most).
    """
    room_x, room_y = paper.room_mm
    if paper.height_mm == 0.0:
        room_y = max(height_mm, LEAST_ROOM_MM[1])
    if room_x < LEAST_ROOM_MM[0] or room_y < LEAST_ROOM_MM[1]:
        raise FitError("paper_too_small", paper=paper.name)
    step_x, step_y = room_x - OVERLAP_MM, room_y - OVERLAP_MM
    across = max(1, math.ceil((width_mm - OVERLAP_MM) / step_x - 1e-9))
    down = max(1, math.ceil((height_mm - OVERLAP_MM) / step_y - 1e-9))
    if across * down > MOST_PAGES:
        raise FitError("paper_too_many_pages", pages=across * down, most=MOST_PAGES)
    windows = tuple(
        (c * step_x, r * step_y, c * step_x + room_x, r * step_y + room_y)
        for r in range(down)
        for c in range(across)
    )
    names = tuple(f"{_letters(first_row + r)}{c + 1}" for r in range(down) for c in range(across))
    crosses = []
    half = OVERLAP_MM / 2
    for row in range(down):
        for share in (0.25, 0.75):
            y = row * step_y + share * room_y
            crosses += [(c * step_x + half, y) for c in range(1, across)]
    for column in range(across):
        for share in (0.25, 0.75):
            x = column * step_x + share * room_x
            crosses += [(x, r * step_y + half) for r in range(1, down)]
    return Tiling(paper, names, windows, tuple(crosses))


def _letters(number: int) -> str:
    first, rest = divmod(number, 26)
    return (chr(64 + first) if first else "") + chr(65 + rest)


def drawn_on(items: Sequence[Item], tiling: Tiling) -> list[bool]:
    """Tell of each sheet whether anything is drawn on it."""
    boxes = [box_of(item) for item in items]
    return [any(_meets(box, window) for box in boxes) for window in tiling.windows_mm]


def tile(items: Sequence[Item], tiling: Tiling) -> list[Page]:
    """Return the sheets of a drawing; those on which nothing is drawn are left out."""
    paper = tiling.paper
    boxes = [(item, box_of(item)) for item in items]
    pages = []
    for name, window in zip(tiling.names, tiling.windows_mm, strict=True):
        inside = [item for item, box in boxes if _meets(box, window)]
        if not inside:
            continue
        left, top, right, bottom = window
        dx, dy = SAFE_MM - left, SAFE_MM - top
        drawn = [shifted(item, dx, dy) for item in inside]
        for x, y in tiling.crosses_mm:
            if (
                left + CROSS_MM <= x <= right - CROSS_MM
                and top + CROSS_MM <= y <= bottom - CROSS_MM
            ):
                drawn += cross(x + dx, y + dy)
        frame = (SAFE_MM, SAFE_MM, right + dx, bottom + dy)
        height = paper.height_mm or bottom - top + 2.0 * SAFE_MM
        label = Text((frame[2] - 12.0, frame[3] - 3.0), name, 5.0)
        pages.append(
            Page(paper.width_mm, height, (label, _frame(frame)), clipped=tuple(drawn), clip=frame)
        )
    return pages


def cross(x: float, y: float) -> list[Item]:
    """Return a cross of thin lines."""
    arm = CROSS_MM
    return [
        Line((x - arm, y), (x + arm, y), width_mm=0.15),
        Line((x, y - arm), (x, y + arm), width_mm=0.15),
    ]


def _frame(box: tuple[float, float, float, float]) -> Polygon:
    left, top, right, bottom = box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Polygon(corners, width_mm=0.1, dash_mm=2.0)


def _meets(box: tuple[float, ...], window: tuple[float, ...]) -> bool:
    return box[0] < window[2] and box[2] > window[0] and box[1] < window[3] and box[3] > window[1]
