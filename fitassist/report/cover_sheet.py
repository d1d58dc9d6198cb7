# SPDX-License-Identifier: MIT
"""The sheet of a cover: the knit's test, what to cut, how lines are stretched, how to sew it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fitassist.domain.lines import NAMED_LINES, USUAL_HEIGHTS_MM, What
from fitassist.domain.units import AnyUnit, Unit, format_length
from fitassist.errors import FitError
from fitassist.padding.cover import SEAM_MM
from fitassist.padding.cover_draft import (
    FOAM_LAYERS,
    FOAM_MM,
    SLOPE_DEG,
    USUAL_EASE,
    USUAL_SHOULDER_MM,
    CoverGirth,
    Draft,
    ShapedCover,
    draft_cover,
    shaped_cover,
    tube_cover,
)
from fitassist.report.facts import Facts
from fitassist.report.flow import Column, Flow, Foot, Measure, roughly
from fitassist.report.page import Item, Line, Page, Polygon, Text, shifted
from fitassist.report.paper import A4, Paper
from fitassist.report.templates import check_squares
from fitassist.report.tiles import plan_tiles, tile
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_amount
from fitassist.wording.padding_words import printed
from fitassist.wording.places import line_name
from fitassist.wording.sheet_words import bare_length, short_length, words

Manner = Literal["rectangle", "drafted", "tube"]
GAUGE_MM = 100.0  # folded and stretched by hand (common practice): 10 cm or 4 in
BELOW_MM = 60.0  # the lower edge lies below the lowest line by so much, open for later (own choice)
FIGURE_HIGH_MM = 62.0
ADDS_MM = 6.35  # a cover that adds a quarter inch more than allowed is told of (own choice)


@dataclass(frozen=True)
class CoverWanted:
    """What the maker of a cover says.

    Attributes
    ----------
    rest_mm, stretched_mm
        The stretch test on a fold, across the grain.
    neck_mm
        Girth of the form's neck where the tube sits; 0: the body's base of the neck.
    knit_mm
        Thickness of the knit; 0: not told.
    """

    stretched_mm: float
    rest_mm: float = GAUGE_MM
    ease: float = USUAL_EASE
    manner: Manner = "rectangle"
    neck_mm: float = 0.0
    knit_mm: float = 0.0

    @property
    def stretch(self) -> float:
        """Stretched less rest over rest."""
        return (self.stretched_mm - self.rest_mm) / self.rest_mm if self.rest_mm > 0 else 0.0


def cover_girths(facts: Facts) -> tuple[CoverGirth, ...]:
    """Return the finished form's girths from the lowest line up; what was fitted goes first."""
    fitted = {one.line: one.target_mm for one in facts.lines if one.what == What.GIRTH}
    found = []
    for line in NAMED_LINES[1:]:
        girth = fitted.get(line, facts.girth_mm(line))
        if girth is not None:
            found.append(CoverGirth(line, girth, _height(facts, line)))
    return tuple(sorted(found, key=lambda one: one.z_mm))


def _height(facts: Facts, line: str) -> float:
    """Return a line's height above the waist: of the form, of the body, else the usual one."""
    form = facts.form
    own, waist = (form.line(name) if form else None for name in (line, "waist"))
    if own and waist and own.height_mm is not None and waist.height_mm is not None:
        return own.height_mm - waist.height_mm
    below = facts.length_mm("waist_to_hip")
    if line == "hip" and below:
        return -below
    return USUAL_HEIGHTS_MM[line]


def neck_height_mm(facts: Facts) -> float:
    """Return how high the back neck lies above the waist, along the back."""
    return facts.torso_mm or facts.length_mm("back_neck_to_waist") or USUAL_HEIGHTS_MM["neck"]


def plan_of(facts: Facts, wanted: CoverWanted) -> ShapedCover:
    """Return the pieces of the cover that is wanted.

    Raises
    ------
    FitError
        As ``shaped_cover`` does, and ``cover_no_neck`` where no neck is known.
    """
    girths = cover_girths(facts)
    if not girths:
        raise FitError("padding_too_few_lines")
    neck = wanted.neck_mm or facts.girth_mm("neck")
    if neck is None:
        raise FitError("cover_no_neck", field="neck_mm")
    height = neck_height_mm(facts) - girths[0].z_mm + BELOW_MM
    if wanted.manner == "tube":
        return tube_cover(girths, wanted.stretch, height, neck)
    is_pinned = wanted.manner == "rectangle"
    return shaped_cover(girths, wanted.stretch, height, neck, wanted.ease, is_pinned)


def cover_pages(
    facts: Facts,
    wanted: CoverWanted,
    paper: Paper = A4,
    unit: AnyUnit = "in",
    measure: Measure = roughly,
) -> list[Page]:
    """Return the sheet of the cover, and for a drafted one its half pattern at true size.

    Raises
    ------
    FitError
        As ``plan_of`` and ``draft_cover`` do; ``paper_too_small``, ``paper_too_many_pages``.
    """
    cover = plan_of(facts, wanted)
    name = facts.person or words("someone")
    flow = Flow(paper, measure)
    flow.title(words("cover_title", name=name))
    flow.paragraph(words("cover_lead"))
    _test(flow, wanted, cover, unit)
    flow.heading(words("cover_cut"))
    if wanted.manner != "drafted":
        flow.drawing(rectangle_figure(cover, unit), FIGURE_HIGH_MM)
    for text in _pieces(facts, wanted, cover, unit):
        flow.paragraph(text)
    _strain(flow, cover, unit)
    flow.heading(words("cover_fabric"), keep_mm=30.0)
    flow.paragraph(words(f"all_in_{Unit(unit).value}"))
    columns = [Column(words(f"cover_col_{head}"), 1.0, True) for head in ("width", "length")]
    rows = [[_usual(wide, unit), bare_length(long, unit)] for wide, long in cover.needed_mm]
    flow.table(columns, rows, size_mm=3.2)
    flow.heading(words("cover_sew"), keep_mm=30.0)
    keys = [f"cover_{wanted.manner}_{number}" for number in range(1, 5)]
    flow.steps([words(key) for key in (*keys, "cover_tube", "cover_edge", "cover_cushion")])
    foot = Foot(
        words("cover_title", name=name),
        lambda number, pages: words("page_of", number=number, pages=pages),
    )
    pages = flow.pages(foot)
    return [*pages, *_pattern(facts, wanted, paper)] if wanted.manner == "drafted" else pages


def _test(flow: Flow, wanted: CoverWanted, cover: ShapedCover, unit: AnyUnit) -> None:
    flow.heading(words("cover_test"))
    rest, stretched = (short_length(mm, unit) for mm in (wanted.rest_mm, wanted.stretched_mm))
    flow.paragraph(
        words(
            "cover_tested",
            rest=rest,
            stretched=stretched,
            stretch=_percent(wanted.stretch),
            most=_percent(cover.most),
        )
    )


def _pieces(facts: Facts, wanted: CoverWanted, cover: ShapedCover, unit: AnyUnit) -> list[str]:
    said = []
    if wanted.manner != "drafted":
        width, height = (short_length(mm, unit) for mm in cover.cut_mm)
        said.append(words("cover_rectangle", width=width, height=height))
    else:
        said.append(words("cover_drafted", seam=say_amount(SEAM_MM, unit)))
    width, height = (short_length(mm, unit) for mm in cover.tube_mm)
    said.append(words("cover_neck_tube", width=width, height=height))
    said.append(words("cover_which_neck" if wanted.neck_mm else "cover_base_of_neck"))
    disc, foam = (short_length(mm, unit) for mm in (cover.disc_mm, cover.foam_mm))
    thick = say_amount(FOAM_MM, unit)
    said.append(words("cover_disc", disc=disc, foam=foam, layers=FOAM_LAYERS, thick=thick))
    if wanted.knit_mm:
        adds = 2.0 * math.pi * wanted.knit_mm
        allowed = 2.0 * math.pi * facts.preferences.cover_mm
        over = adds - allowed > ADDS_MM
        key = "cover_adds_too_much" if over else "cover_adds"
        told = {"mm": say_amount(adds, unit), "allowed": say_amount(allowed, unit)}
        said.append(words(key, **told))
    return said


def _strain(flow: Flow, cover: ShapedCover, unit: AnyUnit) -> None:
    flow.heading(words("cover_strain"), keep_mm=40.0)
    flow.paragraph(words(f"all_in_{Unit(unit).value}"))
    heads = ("line", "girth", "cover", "taken", "strain", "most")
    columns = [Column(words(f"cover_col_{head}"), 1.0, head != "line") for head in heads]
    rows = [
        [
            capital(line_name(one.line)),
            *(bare_length(mm, unit) for mm in (one.girth_mm, one.cut_mm, one.taken_mm)),
            _percent(one.strain),
            _percent(cover.most),
        ]
        for one in reversed(cover.fits)
    ]
    flow.table(columns, rows, size_mm=3.2)


def _usual(width_mm: float, unit: AnyUnit) -> str:
    """Return a usual width of fabric as it is sold: in whole inches or centimetres."""
    if Unit(unit) == Unit.IN:
        return format_length(width_mm, unit, denominator=1)
    return bare_length(width_mm, unit)


def _percent(share: float) -> str:
    return f"{100.0 * share:.1f} %"


def rectangle_figure(cover: ShapedCover, unit: AnyUnit) -> list[Item]:
    """Return the rectangle, small, with its measures, the way it gives and the pinned seam."""
    width, height = cover.cut_mm
    by = min(46.0 / height, 90.0 / width)
    left, top, wide, high = 22.0, 4.0, width * by, height * by
    corners = ((left, top), (left + wide, top), (left + wide, top + high), (left, top + high))
    items: list[Item] = [Polygon(corners, width_mm=0.35, grey=0.97)]
    middle = left + wide / 2
    items.append(Line((middle, top), (middle, top + high), 0.15, 1.5))
    items.append(Text((middle + 1.5, top + 5.0), words("cover_at_front"), 2.8))
    y = top + high / 2 + 4.0
    items += _double_arrow(middle - 18.0, middle + 18.0, y)
    items.append(Text((middle + 1.5, y + 4.5), words("cover_gives"), 2.8))
    for x, turn in ((left - 2.0, -90.0), (left + wide + 2.0, 90.0)):
        at = (x, top + high / 2 + (12.0 if turn < 0 else -12.0))
        items.append(Text(at, words("cover_at_back"), 2.8, angle_deg=turn))
    size = short_length(width, unit), short_length(height, unit)
    items.append(Text((middle, top + high + 5.0), size[0], 3.4, is_centred=True, is_bold=True))
    items.append(Text((left + wide + 8.0, top + high / 2), size[1], 3.4, is_bold=True))
    return items


def _double_arrow(left: float, right: float, y: float) -> list[Item]:
    items: list[Item] = [Line((left, y), (right, y), 0.25)]
    for x, sign in ((left, 1.0), (right, -1.0)):
        points = ((x + sign * 2.0, y - 1.2), (x, y), (x + sign * 2.0, y + 1.2))
        items.append(Polygon(points, width_mm=0.25, is_closed=False))
    return items


def draft_of(facts: Facts, wanted: CoverWanted) -> Draft:
    """Return the half pattern of a drafted cover; raises FitError as ``draft_cover`` does."""
    drops = [facts.length_mm(f"shoulder_drop_{side}") for side in ("left", "right")]
    known = [mm for mm in drops if mm is not None]
    shoulder = facts.length_mm("shoulder_length") or USUAL_SHOULDER_MM
    slope = SLOPE_DEG
    if known and max(known) < shoulder:
        slope = math.degrees(math.asin(max(known) / shoulder))
    neck = wanted.neck_mm or facts.girth_mm("neck") or 0.0
    girths = cover_girths(facts)
    height = neck_height_mm(facts)
    return draft_cover(girths, wanted.ease, BELOW_MM, height, neck, shoulder, slope)


def _pattern(facts: Facts, wanted: CoverWanted, paper: Paper) -> list[Page]:
    draft = draft_of(facts, wanted)
    points = [(x, -y) for x, y in draft.outline]
    left, top = (min(one[axis] for one in points) for axis in (0, 1))
    right, bottom = (max(one[axis] for one in points) for axis in (0, 1))
    items: list[Item] = [Polygon(tuple(points), width_mm=0.4)]
    for line, start, end in draft.lines:
        items.append(Line((start[0], -start[1]), (end[0], -end[1]), 0.15, 2.0))
        items.append(Text((start[0] + 20.0, -start[1] - 1.5), line_name(line), 3.5))
    items += _pattern_words(draft, bottom)
    drawing = [shifted(item, 2.0 - left, 2.0 - top) for item in items]
    tiling = plan_tiles(right - left + 4.0, bottom - top + 4.0, paper)
    keys = ("full_size", "measure", "join")
    said = [words("cover_pattern"), *map(printed, keys), words("cover_pattern_how")]
    return [check_squares(paper, said), *tile(drawing, tiling)]


def _pattern_words(draft: Draft, bottom: float) -> Sequence[Item]:
    (neck, tip, side), (back_neck, _tip, _side) = draft.shoulder
    wide = max(x for x, _y in draft.outline)
    middle = bottom - 120.0
    return [
        Text((8.0, middle), words("cover_fold"), 4.0, angle_deg=-90.0),
        Text((wide * 0.5 - 40.0, bottom - 6.0), words("cover_edge_open"), 4.0),
        Text((wide * 0.5 - 30.0, bottom - 80.0), words("cover_cut_one"), 4.5, is_bold=True),
        Text((neck[0] + 4.0, -neck[1] + 12.0), words("cover_shoulder"), 3.5),
        Text((back_neck[0] - 40.0, -back_neck[1] + 12.0), words("cover_shoulder"), 3.5),
        Text((side[0] - 18.0, -side[1] + 8.0), words("cover_side"), 3.5),
        Text((tip[0] - 14.0, -tip[1] + 26.0), words("cover_sew_on"), 3.5),
        Text((wide * 0.78, middle), words("cover_back_seam"), 4.0, angle_deg=-90.0),
    ]
