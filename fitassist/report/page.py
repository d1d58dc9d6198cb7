# SPDX-License-Identifier: MIT
"""What a page is made of. All in mm, from its top left corner, x to the right and y down."""

from __future__ import annotations

from dataclasses import dataclass, replace

Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A straight line; ``dash_mm`` 0 draws it whole; ``grey`` 0 is black, 1 white."""

    start: Point
    end: Point
    width_mm: float = 0.2
    dash_mm: float = 0.0
    grey: float = 0.0


@dataclass(frozen=True)
class Polygon:
    """An outline; open ones are polylines; ``grey`` 0 (black) to 1 fills it."""

    points: tuple[Point, ...]
    width_mm: float = 0.35
    dash_mm: float = 0.0
    is_closed: bool = True
    grey: float | None = None


@dataclass(frozen=True)
class Text:
    """Words from the left end of their baseline, centred on it or ending there.

    ``size_mm`` is the font's size; ``grey`` 0 is black, 1 white.
    """

    at: Point
    text: str
    size_mm: float = 3.5
    is_centred: bool = False
    angle_deg: float = 0.0
    is_bold: bool = False
    ends_there: bool = False
    grey: float = 0.0


Item = Line | Polygon | Text


@dataclass(frozen=True)
class Page:
    """A page of a size; ``clip`` (left, top, right, bottom) bounds what of each item is drawn."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    clipped: tuple[Item, ...] = ()
    clip: tuple[float, float, float, float] | None = None


def shifted(item: Item, dx: float, dy: float) -> Item:
    """Return an item moved right and down."""
    if isinstance(item, Line):
        start, end = item.start, item.end
        return replace(item, start=(start[0] + dx, start[1] + dy), end=(end[0] + dx, end[1] + dy))
    if isinstance(item, Polygon):
        return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))
    return replace(item, at=(item.at[0] + dx, item.at[1] + dy))


def scaled(item: Item, by: float) -> Item:
    """Return an item drawn larger or smaller about the origin; lines keep their width."""
    if isinstance(item, Line):
        start, end = item.start, item.end
        return replace(item, start=(start[0] * by, start[1] * by), end=(end[0] * by, end[1] * by))
    if isinstance(item, Polygon):
        return replace(item, points=tuple((x * by, y * by) for x, y in item.points))
    return replace(item, at=(item.at[0] * by, item.at[1] * by), size_mm=item.size_mm * by)


def box_of(item: Item) -> tuple[float, float, float, float]:
    """Return left, top, right, bottom of an item; words are taken as 0.6 of their size a letter."""
    if isinstance(item, Line):
        points: tuple[Point, ...] = (item.start, item.end)
    elif isinstance(item, Polygon):
        points = item.points
    else:
        wide = 0.6 * item.size_mm * len(item.text)
        x, y = item.at
        x -= wide / 2 if item.is_centred else wide if item.ends_there else 0.0
        points = ((x, y - item.size_mm), (x + wide, y + 0.3 * item.size_mm))
    across, down = zip(*points, strict=True)
    return min(across), min(down), max(across), max(down)
