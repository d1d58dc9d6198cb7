# SPDX-License-Identifier: MIT
"""Where narrow tape goes on the finished form: centres, sides, level lines, shoulders, armholes.

The panels are taken as equally wide at a line (our model). Once front and back stand open by
different amounts, the middle of a side gap is no longer where the body's side is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import NAMED_LINES, Seam, What
from fitassist.domain.units import AnyUnit, Unit
from fitassist.errors import FitError
from fitassist.report.facts import Facts, gaps_mm
from fitassist.report.figure import SCALE, balance_figure, high_mm
from fitassist.report.flow import QUIET, Column, Flow, Foot, Measure, roughly
from fitassist.report.page import Page
from fitassist.report.paper import A4, Paper
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.places import line_name
from fitassist.wording.sheet_words import bare_length, words

MAIN = ("bust", "waist", "hip")
BELOW_ARMHOLE_MM = (
    25.0  # underarm of a garment below the armhole plate (common practice, no source)
)


@dataclass(frozen=True)
class Side:
    """Where the side line crosses a level line.

    Attributes
    ----------
    from_front_mm
        Along the tape from centre front.
    behind_seam_mm
        Behind the middle of that side's gap; less than nothing: before it. None: not known.
    """

    from_front_mm: float
    behind_seam_mm: float | None


@dataclass(frozen=True)
class Balance:
    """The tapes at one line, mm.

    Attributes
    ----------
    above_waist_mm
        None where heights were not given.
    front_gap_mm, back_gap_mm
        Widths of the centre gaps; the tape lies in their middle. None: not known.
    is_measured
        Whether the body's own front and back were measured here.
    """

    line: str
    girth_mm: float
    above_waist_mm: float | None
    front_gap_mm: float | None
    back_gap_mm: float | None
    left: Side
    right: Side
    is_measured: bool


def balance_of(facts: Facts, fronts: Mapping[str, float] | None = None) -> tuple[Balance, ...]:
    """Return the tapes of the finished form, from the neck down.

    Parameters
    ----------
    fronts
        Share of the girth that lies before the plumb side line, by line, as far as the body's
        outlines are known; what was measured goes first.

    Raises
    ------
    FitError
        ``sheet_no_form`` where nothing was fitted yet.
    """
    form = facts.form
    if form is None:
        raise FitError("sheet_no_form")
    found = []
    ends = {one.line: one for one in facts.lines if one.what == What.GIRTH}
    for line in NAMED_LINES[1:]:
        end = ends.get(line)
        girth = end.target_mm if end else facts.girth_mm(line)
        if girth is None:
            continue
        row = next((one.name for one in form.rows if one.line == line), "")
        gaps = gaps_mm(form, row) if row else None
        front = _front_share(facts, line)
        share = front if front is not None else (fronts or {}).get(line, 0.5)
        known = form.line(line)
        waist = form.line("waist")
        has_height = known and waist and None not in (known.height_mm, waist.height_mm)
        above = (known.height_mm or 0.0) - (waist.height_mm or 0.0) if known and waist else 0.0
        found.append(
            Balance(
                line=line,
                girth_mm=girth,
                above_waist_mm=above if has_height else None,
                front_gap_mm=gaps.get(Seam.FRONT, 0.0) if gaps else None,
                back_gap_mm=gaps.get(Seam.BACK, 0.0) if gaps else None,
                left=_side(girth, gaps, Seam.LEFT, share),
                right=_side(girth, gaps, Seam.RIGHT, share),
                is_measured=front is not None,
            )
        )
    return tuple(found)


def _front_share(facts: Facts, line: str) -> float | None:
    front, back = (facts.targets.get((line, what)) for what in (What.FRONT, What.BACK))
    return front.value_mm / (front.value_mm + back.value_mm) if front and back else None


def _side(girth: float, gaps: Mapping[Seam, float] | None, seam: Seam, share: float) -> Side:
    if gaps is None:
        return Side(share * girth / 2.0, None)
    panel = (girth - sum(gaps.values())) / 4.0
    front, back, own = (gaps.get(one, 0.0) for one in (Seam.FRONT, Seam.BACK, seam))
    half = front / 2.0 + panel + own + panel + back / 2.0
    from_front = share * half
    return Side(from_front, from_front - (front / 2.0 + panel + own / 2.0))


def balance_rows(found: Sequence[Balance], unit: AnyUnit) -> list[list[str]]:
    """Return the table of the tapes: line, height, centres, and both sides."""

    def bare(mm: float | None) -> str:
        return "" if mm is None else bare_length(mm, unit)

    def off(side: Side) -> str:
        if side.behind_seam_mm is None:
            return ""
        amount = bare_length(abs(side.behind_seam_mm), unit)
        if amount == bare_length(0.0, unit):
            return words("balance_on_seam")
        return words("balance_behind" if side.behind_seam_mm > 0 else "balance_before", mm=amount)

    rows = []
    for one in found:
        above = "" if one.above_waist_mm is None else bare(abs(one.above_waist_mm))
        if one.above_waist_mm:
            above = words("balance_up" if one.above_waist_mm > 0 else "balance_down", mm=above)
        centres = [bare(None if gap is None else gap / 2.0) for gap in _gaps(one)]
        left, right = one.left, one.right
        sides = [bare(left.from_front_mm), off(left), bare(right.from_front_mm), off(right)]
        rows.append([capital(line_name(one.line)), above, *centres, *sides])
    return rows


def _gaps(one: Balance) -> tuple[float | None, float | None]:
    return one.front_gap_mm, one.back_gap_mm


def balance_columns() -> list[Column]:
    """Return the heads of that table."""
    heads = ("line", "height", "cf", "cb", "left", "left_off", "right", "right_off")
    return [
        Column(words(f"balance_col_{head}"), 1.25 if head == "line" else 1.0, head != "line")
        for head in heads
    ]


def balance_texts(facts: Facts, unit: AnyUnit) -> list[str]:
    """Return what is said of the tapes that no level line holds."""

    def said(key: str, mm: float | None) -> str:
        if mm is None:
            return words(f"{key}_plain")
        return words(key, mm=say_length(mm, unit))

    across = facts.length_mm("across_back")
    points = facts.length_mm("bust_point_to_bust_point")
    below = bare_length(BELOW_ARMHOLE_MM, unit) + f" {Unit(unit).value}"
    return [
        said("balance_neck", facts.girth_mm("neck")),
        said("balance_shoulder", facts.length_mm("shoulder_length")),
        said("balance_armhole", across / 2.0 if across else None)
        + " "
        + words("balance_underarm", mm=below),
        said("balance_points", points / 2.0 if points else None),
    ]


def balance_pages(
    facts: Facts,
    paper: Paper = A4,
    unit: AnyUnit = "in",
    measure: Measure = roughly,
    fronts: Mapping[str, float] | None = None,
) -> list[Page]:
    """Return the sheet of balance lines.

    Raises
    ------
    FitError
        ``sheet_no_form``.
    """
    found = balance_of(facts, fronts)
    flow = Flow(paper, measure)
    flow.title(words("balance_title", name=facts.person or words("someone")))
    flow.paragraph(words("balance_lead"))
    flow.space(3.0)
    scale = SCALE if flow.paper.height_mm >= A4.height_mm else 0.75 * SCALE
    flow.drawing(balance_figure(flow.width_mm, scale), high_mm(scale))
    flow.heading(words("balance_centres"))
    flow.steps([words("balance_cf"), words("balance_cb"), words("balance_level")])
    flow.heading(words("balance_distances"), keep_mm=50.0)
    flow.paragraph(words(f"all_in_{Unit(unit).value}") + " " + words("balance_sides_how"))
    flow.table(balance_columns(), balance_rows(found, unit), size_mm=3.2)
    guessed = [line_name(one.line) for one in found if not one.is_measured]
    if guessed:
        shared = words("balance_by_shape" if fronts else "balance_by_half")
        flow.paragraph(words("balance_guessed", lines=", ".join(guessed), how=shared), grey=QUIET)
    if facts.form is not None and facts.form.dial_meaning == DialMeaning.PLAIN_TURNS:
        flow.paragraph(words("balance_no_gap"), grey=QUIET)
    flow.heading(words("balance_rest"))
    flow.steps(balance_texts(facts, unit))
    foot = Foot(
        words("balance_title", name=facts.person or words("someone")),
        lambda number, pages: words("page_of", number=number, pages=pages),
    )
    return flow.pages(foot)
