# SPDX-License-Identifier: MIT
"""True-size templates of a padding plan: a page to test the printer, an overview, then the sheets.

Of a mirrored pair only the left piece is drawn; the right one is cut from it turned over.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.padding.flatten import FlatPiece, Mark
from fitassist.padding.pieces import Piece
from fitassist.padding.plan import PaddingPlan
from fitassist.padding.shoulder import ShoulderWedge
from fitassist.padding.strips import GapStrip
from fitassist.report.flow import LEAST_MM, Flow, roughly
from fitassist.report.nesting import nest
from fitassist.report.page import Item, Line, Page, Point, Polygon, Text, scaled, shifted
from fitassist.report.paper import A4, SAFE_MM, Paper
from fitassist.report.tiles import OVERLAP_MM, Tiling, drawn_on, plan_tiles, tile
from fitassist.wording.padding_words import (
    cut_text,
    distortion_text,
    layer_text,
    mark_text,
    part_text,
    place_text,
    printed,
    strip_text,
)

APART_MM = 6.0
LEAST_ROOM_FOR_WORDS_MM = 10.0
TICK_MM = 8.0  # length of a mark from the edge inwards
ARROW_MM = 14.0
COLUMNS_WANTED = 3  # sheets beside one another, unless a piece is wider
# Widths materials come in: 36, 54 and 94 in (trade tables; the last from memory).
MATERIAL_WIDTHS_MM = (910.0, 1370.0, 2400.0)
TOLD_DISTORTION = 0.02  # less is not felt in a soft sheet (own choice)
SQUARE_MM = 100.0
SQUARE_IN_MM = 4.0 * 25.4


@dataclass(frozen=True)
class Template:
    """A drawing to cut round: items about (0, 0), x right and y down, and the box they take."""

    items: tuple[Item, ...]
    left: float
    top: float
    width_mm: float
    height_mm: float


def template_pages(
    plan: PaddingPlan,
    paper: Paper = A4,
    wedge: tuple[str, ShoulderWedge] | None = None,
    unit: AnyUnit = "cm",
) -> list[Page]:
    """Return everything to print for a plan, and for the wedge of a higher shoulder.

    Raises
    ------
    FitError
        ``padding_no_piece``, ``paper_too_small``, ``paper_too_many_pages``.
    """
    templates = [*_strip_templates(plan.strips), *_piece_templates(plan)]
    templates += _wedge_templates(*wedge, plan.feather_mm) if wedge else []
    if not templates:
        raise FitError("padding_no_piece")
    plan_tiles(1.0, 1.0, paper)  # refuses paper that is too small before anything is laid out
    drawing, width, height = _laid_out(templates, paper)
    tiling = plan_tiles(width, height, paper)
    sheets = tile(drawing, tiling)
    size = (width, height)
    said = _needed(plan, unit)
    return [check_squares(paper), overview(drawing, size, tiling, said), *sheets]


def _needed(plan: PaddingPlan, unit: AnyUnit) -> list[str]:
    """Say how much material all sheets take, for each usual width that is wide enough."""
    found = []
    for width in MATERIAL_WIDTHS_MM:
        try:
            found.append(cut_text(width, cut_length_mm(plan, width), unit))
        except FitError:
            continue
    return found


def _laid_out(templates: Sequence[Template], paper: Paper) -> tuple[list[Item], float, float]:
    """Lay templates out on whichever width of a few sheets takes the fewest of them."""
    widest = max(template.width_mm for template in templates)
    best: tuple[int, list[Item], float, float] | None = None
    for columns in range(1, COLUMNS_WANTED + 1 if paper.height_mm else 2):
        width = max(columns * paper.room_mm[0] - (columns - 1) * OVERLAP_MM, widest)
        laid = nest([(t.width_mm, t.height_mm) for t in templates], width, APART_MM)
        drawing = [
            shifted(item, x - template.left, y - template.top)
            for template, (x, y) in zip(templates, laid.corners, strict=True)
            for item in template.items
        ]
        used = sum(drawn_on(drawing, plan_tiles(width, laid.height_mm, paper)))
        if best is None or used < best[0]:
            best = used, drawing, width, laid.height_mm
    assert best is not None
    return best[1:]


def cut_length_mm(plan: PaddingPlan, width_mm: float) -> float:
    """Return how much of a material of a width all sheets of a plan take, strips included.

    Raises
    ------
    FitError
        ``padding_too_wide``.
    """
    sizes = []
    for piece, flats in zip(plan.pieces, plan.shapes, strict=True):
        for flat in flats:
            across, up = np.ptp(flat.outline_mm, axis=0)
            less = [2.0 * plan.feather_mm * ply for ply in range(piece.plies)]
            sizes += [(max(across - by, 1.0), max(up - by, 1.0)) for by in less]
    for strip in plan.strips:
        sizes.append((max(width for _z, width in strip.edges_mm), strip.length_mm))
    return nest(sizes, width_mm, APART_MM).height_mm


def _piece_templates(plan: PaddingPlan) -> list[Template]:
    layers = Counter()  # type: Counter[str]
    for piece in plan.pieces:
        layers[piece.place] = max(layers[piece.place], piece.order)
    mirrored = {(piece.mirrors, piece.order) for piece in plan.pieces if piece.mirrors}
    found = []
    for piece, flats in zip(plan.pieces, plan.shapes, strict=True):
        if piece.mirrors:
            continue
        twin = (piece.place, piece.order) in mirrored
        for number, flat in enumerate(flats, start=1):
            words = _words(piece, layers[piece.place], twin)
            if flat.parts > 1:
                words.append(part_text(number, flat.parts))
            if flat.distortion >= TOLD_DISTORTION:
                words.append(distortion_text(flat.distortion))
            found.append(_template(flat, words, plan.feather_mm, piece.plies))
    return found


def _words(piece: Piece, layers: int, has_twin: bool) -> list[str]:
    words = [place_text(piece.place), layer_text(piece.order, layers, piece.plies)]
    return [*words, printed("mirror")] if has_twin else words


def _template(flat: FlatPiece, words: Sequence[str], feather_mm: float, plies: int) -> Template:
    ring = flat.outline_mm * [1.0, -1.0]
    items: list[Item] = [Polygon(_points(ring[:-1]))]
    items += [Polygon(_points(hole[:-1] * [1.0, -1.0])) for hole in flat.holes_mm]
    shape = shapely.Polygon(ring).buffer(0.0)
    for inner in range(1, plies + 1):
        inside = shape.buffer(-inner * feather_mm)
        for part in getattr(inside, "geoms", [inside]):
            if not part.is_empty:
                edge = np.asarray(part.exterior.coords)[:-1]
                items.append(Polygon(_points(edge), width_mm=0.15, dash_mm=3.0))
    for mark in flat.marks:
        items += _mark_items(mark)
    middle = shape.representative_point()
    items += _arrow(middle.x, middle.y)
    for number, text in enumerate(words):
        y = middle.y + 6.0 + 4.6 * number
        size = _fitting(text, shape, y)
        items.append(Text((middle.x, y), text, size, is_centred=True))
    left, top = ring.min(axis=0)
    right, bottom = ring.max(axis=0)
    return Template(tuple(items), float(left), float(top), float(right - left), float(bottom - top))


def _fitting(text: str, shape: BaseGeometry, y: float) -> float:
    """Return the size at which words fit between a shape's edges at a height."""
    left, _top, right, _bottom = shape.bounds
    line = shapely.LineString([(left - 1.0, y), (right + 1.0, y)])
    room = 0.85 * max(shape.intersection(line).length, LEAST_ROOM_FOR_WORDS_MM)
    return float(max(min(3.5, 3.5 * room / roughly(text, 3.5)), LEAST_MM))


def _points(ring: np.ndarray) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in ring)


def _mark_items(mark: Mark) -> list[Item]:
    """Draw a short line inwards from both edges, named at the first."""
    start = np.array([mark.start[0], -mark.start[1]])
    end = np.array([mark.end[0], -mark.end[1]])
    far = float(np.linalg.norm(end - start))
    step = (end - start) / far * min(TICK_MM, far / 2)
    items: list[Item] = [
        Line(_point(start), _point(start + step)),
        Line(_point(end), _point(end - step)),
    ]
    items.append(Text(_point(start + step * 1.1 + [1.0, -1.0]), mark_text(mark.name), 2.5))
    return items


def _point(at: np.ndarray) -> Point:
    return float(at[0]), float(at[1])


def _arrow(x: float, y: float) -> list[Item]:
    tip = y - ARROW_MM
    return [
        Line((x, y), (x, tip), width_mm=0.3),
        Polygon(((x - 2.0, tip + 3.0), (x, tip), (x + 2.0, tip + 3.0)), is_closed=False),
        Text((x + 2.0, y - ARROW_MM / 2), printed("up"), 2.5),
    ]


def _strip_templates(strips: Sequence[GapStrip]) -> list[Template]:
    found = []
    for strip in strips:
        low = strip.edges_mm[0][0]
        ring = np.array([(x, low + strip.length_mm - z) for x, z in strip.outline_mm])
        left, right = float(ring[:, 0].min()), float(ring[:, 0].max())
        words = (strip_text(strip.seam.value), printed("one_side"))
        items: list[Item] = [Polygon(_points(ring))]
        for number, text in enumerate(words):
            at = (right + 4.0 + 5.0 * number, strip.length_mm * 0.9)
            items.append(Text(at, text, 3.0, angle_deg=-90.0))
        items += _arrow((left + right) / 2, strip.length_mm / 2)
        found.append(Template(tuple(items), left, 0.0, right - left + 14.0, strip.length_mm))
    return found


def _wedge_templates(place: str, wedge: ShoulderWedge, feather_mm: float) -> list[Template]:
    """Return the sheets of a wedge: the tip of the shoulder at the left, thinned to the neck."""
    found = []
    for number, length in enumerate(wedge.lengths_mm, start=1):
        corners = ((0.0, 0.0), (length, 0.0), (length, wedge.width_mm), (0.0, wedge.width_mm))
        inner = max(length - feather_mm, 0.0)
        items: list[Item] = [
            Polygon(corners),
            Line((inner, 0.0), (inner, wedge.width_mm), width_mm=0.15, dash_mm=3.0),
            Text((4.0, 6.0), printed("wedge_tip"), 2.5),
            Text((4.0, wedge.width_mm / 2), place_text(place), 3.5),
            Text(
                (4.0, wedge.width_mm / 2 + 5.0), layer_text(number, len(wedge.lengths_mm), 1), 3.5
            ),
        ]
        found.append(Template(tuple(items), 0.0, 0.0, length, wedge.width_mm))
    return found


def check_squares(paper: Paper, said: Sequence[str] = ()) -> Page:
    """Return the page on which the printer is checked: a square of 100 mm and one of 4 in.

    Sentences may be given that take the place of those about padding.
    """
    height = paper.height_mm or 297.0
    items: list[Item] = []
    top = SAFE_MM
    for side, key in ((SQUARE_MM, "square_mm"), (SQUARE_IN_MM, "square_in")):
        corners = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
        square = Polygon(corners, width_mm=0.1)
        items.append(shifted(square, SAFE_MM, top))
        items.append(Text((SAFE_MM + side / 2, top + side / 2), printed(key), 6.0, is_centred=True))
        top += side + 6.0
    room = paper.width_mm - 2.0 * SAFE_MM
    flow = Flow(paper)
    for text in said or [printed(key) for key in ("full_size", "measure", "join", "feather")]:
        for line in flow.wrapped(text, 3.5, room_mm=room):
            top += 5.0
            items.append(Text((SAFE_MM, top), line, 3.5))
    return Page(paper.width_mm, height, tuple(items))


def overview(
    drawing: Sequence[Item],
    size_mm: tuple[float, float],
    tiling: Tiling,
    said: Sequence[str] = (),
) -> Page:
    """Return one page with the whole drawing small, the sheets' edges, their names, and words."""
    paper = tiling.paper
    height = paper.height_mm or 297.0
    far_x = max(size_mm[0], *(window[2] for window in tiling.windows_mm))
    far_y = max(size_mm[1], *(window[3] for window in tiling.windows_mm))
    head = 12.0 + 5.0 * len(said)
    by = min((paper.width_mm - 2.0 * SAFE_MM) / far_x, (height - 2.0 * SAFE_MM - head) / far_y, 1.0)
    top = SAFE_MM + head
    items: list[Item] = [Text((SAFE_MM, SAFE_MM + 6.0), printed("overview"), 5.0)]
    for number, text in enumerate(said, start=1):
        items.append(Text((SAFE_MM, SAFE_MM + 6.0 + 5.0 * number), text, 3.5))
    items += [shifted(scaled(item, by), SAFE_MM, top) for item in drawing]
    printed_ones = drawn_on(drawing, tiling)
    for name, window, there in zip(tiling.names, tiling.windows_mm, printed_ones, strict=True):
        if not there:
            continue
        left, up, right, down = window
        corners = ((left, up), (right, up), (right, down), (left, down))
        frame = Polygon(corners, width_mm=0.1, dash_mm=1.0)
        items.append(shifted(scaled(frame, by), SAFE_MM, top))
        at = ((left + right) / 2 * by + SAFE_MM, (up + down) / 2 * by + top)
        items.append(Text(at, name, 4.0, is_centred=True))
    return Page(paper.width_mm, height, tuple(items))
