# SPDX-License-Identifier: MIT
"""Ribbons that do not stretch, one a girth or length: as a cutting table, at true size, or blank.

The ribbon of a girth starts and ends at centre front and carries the sides and centre back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fitassist.domain.lines import NAMED_LINES, What
from fitassist.domain.units import AnyUnit, Unit
from fitassist.errors import FitError
from fitassist.report.facts import Facts
from fitassist.report.flow import Column, Flow, Foot, Measure, roughly
from fitassist.report.page import Item, Line, Page, Polygon, Text
from fitassist.report.paper import A4, Paper
from fitassist.report.templates import check_squares
from fitassist.report.tiles import plan_tiles, tile
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.padding_words import printed
from fitassist.wording.places import line_name
from fitassist.wording.sheet_words import bare_length, short_length, words

TAIL_MM = 25.0  # beyond both end marks, to lap and to hold
STRIP_MM = 20.0  # width of a strip printed at true size
APART_MM = 8.0
NAMED_MM = 65.0  # room a name wants before the next mark
NAME_EVERY_MM = 170.0  # less than a sheet's step, so that every part of a strip is named
# The lengths a ribbon holds: where it starts and ends.
LENGTHS = {
    "shoulder_to_bust": ("at_shoulder", "at_bust"),
    "back_neck_to_waist": ("at_back_neck", "at_waist"),
}


@dataclass(frozen=True)
class Ribbon:
    """One ribbon.

    Attributes
    ----------
    length_mm
        From start to end mark.
    marks
        Key of the words and distance from the start, those of start and end not among them.
    is_guessed
        Whether a mark stands at a quarter because nothing finer was measured.
    """

    line: str
    length_mm: float
    marks: tuple[tuple[str, float], ...]
    is_girth: bool
    is_guessed: bool = False


def ribbons_of(facts: Facts) -> tuple[Ribbon, ...]:
    """Return the ribbons of what was measured: girths from the neck down, then lengths."""
    girths = [line for line in NAMED_LINES if facts.girth_mm(line) is not None]
    others = sorted({line for line, what in facts.targets if what == What.GIRTH} - set(NAMED_LINES))
    found = [_girth(facts, line) for line in (*girths, *others)]
    for key in LENGTHS:
        mm = facts.length_mm(key)
        if mm is not None:
            found.append(Ribbon(key, mm, (("mark_half", mm / 2),), is_girth=False))
    return tuple(found)


def _girth(facts: Facts, line: str) -> Ribbon:
    girth = facts.girth_mm(line) or 0.0

    def share(one: What, other: What) -> float | None:
        first, second = (facts.targets.get((line, what)) for what in (one, other))
        return first.value_mm / (first.value_mm + second.value_mm) if first and second else None

    left = share(What.LEFT_HALF, What.RIGHT_HALF)
    front = share(What.FRONT, What.BACK)
    half = girth * (0.5 if left is None else left)
    before = 0.5 if front is None else front
    marks = (
        ("mark_left_side", half * before),
        ("mark_centre_back", half),
        ("mark_right_side", half + (girth - half) * (1.0 - before)),
    )
    return Ribbon(line, girth, marks, is_girth=True, is_guessed=left is None or front is None)


def ribbon_pages(
    facts: Facts, paper: Paper = A4, unit: AnyUnit = "in", measure: Measure = roughly
) -> list[Page]:
    """Return the cutting table: marks as distances, and room to write what the tape says.

    Raises
    ------
    FitError
        ``sheet_no_ribbon``.
    """
    ribbons = _some(facts)
    flow = Flow(paper, measure)
    tail = say_length(TAIL_MM, unit)
    flow.title(words("ribbons_title", name=_name(facts)))
    flow.paragraph(words("ribbons_lead", tail=tail))
    flow.paragraph(words(f"all_in_{Unit(unit).value}"))
    girths = [ribbon for ribbon in ribbons if ribbon.is_girth]
    if girths:
        flow.heading(words("ribbons_girths"))
        heads = ("ribbon", "whole", "left_side", "centre_back", "right_side", "cut", "write")
        flow.table(_columns(heads), [_row(one, unit) for one in girths], row_mm=9.0)
        if any(one.is_guessed for one in girths):
            flow.paragraph(words("ribbons_quarters"), grey=0.35)
    lengths = [ribbon for ribbon in ribbons if not ribbon.is_girth]
    missing = [key for key in LENGTHS if facts.length_mm(key) is None]
    flow.heading(words("ribbons_lengths"))
    rows = [_row(one, unit) for one in lengths]
    rows += [[capital(line_name(key)), words("not_measured"), "", "", ""] for key in missing]
    flow.table(_columns(("ribbon", "whole", "half", "cut", "write")), rows, row_mm=9.0)
    flow.heading(words("ribbons_use"))
    flow.steps([words(f"ribbons_use_{n}") for n in (1, 2, 3)])
    return flow.pages(_foot("ribbons_title", facts))


def strip_pages(
    facts: Facts, paper: Paper = A4, unit: AnyUnit = "in", measure: Measure = roughly
) -> list[Page]:
    """Return the ribbons at true size on sheets that meet, after a page to test the printer.

    Raises
    ------
    FitError
        ``sheet_no_ribbon``, ``paper_too_small``, ``paper_too_many_pages``.
    """
    ribbons = _some(facts)
    longest = max(ribbon.length_mm for ribbon in ribbons) + 2.0 * TAIL_MM
    room = plan_tiles(1.0, 1.0, paper).paper.room_mm
    if not paper.height_mm:  # along the roll, not across it
        return [_first_page(paper), *_on_a_roll(ribbons, paper, unit)]
    each = STRIP_MM + APART_MM
    at_once = max(1, int((room[1] - 2.0) // each))
    pages = [_first_page(paper)]
    for first in range(0, len(ribbons), at_once):
        some = ribbons[first : first + at_once]
        drawing: list[Item] = []
        for number, ribbon in enumerate(some):
            drawing += _strip(ribbon, 1.0, number * each + 1.0, unit)
        high = len(some) * each
        pages += tile(drawing, plan_tiles(longest + 2.0, high, paper, first // at_once))
    return pages


def blank_pages(
    paper: Paper = A4, measure: Measure = roughly, lines: Sequence[str] = NAMED_LINES
) -> list[Page]:
    """Return the sheet for taking ribbons first and reading their numbers later."""
    flow = Flow(paper, measure)
    flow.title(words("blank_title"), words("blank_lead"))
    flow.paragraph(words("blank_on"))
    flow.space(2.0)
    flow.steps([words(f"blank_{number}") for number in range(1, 8)])
    flow.space(2.0)
    heads = ("ribbon", "left_side", "centre_back", "right_side", "end")
    names = [capital(line_name(line)) for line in (*lines, *LENGTHS)]
    flow.table(
        _columns(heads, True), [[name, "", "", "", ""] for name in [*names, "", ""]], row_mm=9.5
    )
    return flow.pages(Foot(words("blank_title"), _count))


def _first_page(paper: Paper) -> Page:
    keys = ("full_size", "measure", "join")
    said = [words("strips_title"), *map(printed, keys), words("strips_lead")]
    return check_squares(paper, said)


def _some(facts: Facts) -> tuple[Ribbon, ...]:
    found = ribbons_of(facts)
    if not found:
        raise FitError("sheet_no_ribbon")
    return found


def _columns(heads: Sequence[str], is_blank: bool = False) -> list[Column]:
    shares = {"ribbon": 1.5, "write": 1.6}
    return [
        Column(
            words(f"col_{head}"),
            shares.get(head, 1.0),
            is_figure=head not in ("ribbon", "write") and not is_blank,
            is_written=head == "write" or (is_blank and head != "ribbon"),
        )
        for head in heads
    ]


def _row(ribbon: Ribbon, unit: AnyUnit) -> list[str]:
    distances = [ribbon.length_mm, *(mm for _key, mm in ribbon.marks)]
    distances.append(ribbon.length_mm + 2.0 * TAIL_MM)
    texts = [bare_length(mm, unit) for mm in distances]
    return [capital(line_name(ribbon.line)), *texts, ""]


def _ends(ribbon: Ribbon) -> tuple[str, str]:
    if ribbon.is_girth:
        return words("mark_start"), words("mark_end")
    start, end = LENGTHS[ribbon.line]
    return words("mark_from", place=words(start)), words("mark_to", place=words(end))


def _strip(ribbon: Ribbon, left: float, top: float, unit: AnyUnit) -> list[Item]:
    """Draw a strip along x: dashed where it is cut, a line across it at each mark."""
    start, end = left + TAIL_MM, left + TAIL_MM + ribbon.length_mm
    right, bottom = end + TAIL_MM, top + STRIP_MM
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    items: list[Item] = [Polygon(corners, width_mm=0.25)]
    first, last = _ends(ribbon)
    marks = [(first, start), *((words(key), start + mm) for key, mm in ribbon.marks), (last, end)]
    for text, x in marks:
        is_end = x in (start, end)
        items.append(Line((x, top), (x, bottom), 0.4 if is_end else 0.25))
        items.append(Text((x + 1.0, top + 4.0), text, 2.8))
    name = words(
        "strip", name=capital(line_name(ribbon.line)), length=short_length(ribbon.length_mm, unit)
    )
    places = [x for _text, x in marks]
    for here, following in pairwise(places):
        x = here + 4.0
        while x < following - NAMED_MM or x == here + 4.0:
            items.append(Text((x, top + 11.0), name, 4.0, is_bold=True))
            items.append(Text((x, top + 17.5), words("strip_write"), 3.0))
            x += NAME_EVERY_MM
    return items


def _on_a_roll(ribbons: Sequence[Ribbon], paper: Paper, unit: AnyUnit) -> list[Page]:
    """Lay the strips down the roll, beside one another."""
    each = STRIP_MM + APART_MM
    wide = len(ribbons) * each
    drawing = [
        _turned(item, wide)
        for number, ribbon in enumerate(ribbons)
        for item in _strip(ribbon, 1.0, (len(ribbons) - 1 - number) * each + APART_MM, unit)
    ]
    longest = max(ribbon.length_mm for ribbon in ribbons) + 2.0 * TAIL_MM + 2.0
    return tile(drawing, plan_tiles(wide, longest, paper))


def _turned(item: Item, wide_mm: float) -> Item:
    """Turn an item by a quarter, so that what ran to the right runs down."""
    if isinstance(item, Line):
        (a, b), (c, d) = item.start, item.end
        return Line((wide_mm - b, a), (wide_mm - d, c), item.width_mm)
    if isinstance(item, Polygon):
        return Polygon(tuple((wide_mm - y, x) for x, y in item.points), item.width_mm)
    x, y = item.at
    return Text((wide_mm - y, x), item.text, item.size_mm, angle_deg=90.0, is_bold=item.is_bold)


def _name(facts: Facts) -> str:
    return facts.person or words("someone")


def _count(number: int, pages: int) -> str:
    return words("page_of", number=number, pages=pages)


def _foot(title: str, facts: Facts) -> Foot:
    return Foot(words(title, name=_name(facts)), _count)
