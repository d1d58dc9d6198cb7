# SPDX-License-Identifier: MIT
"""The sheet that brings a person back: dials, settings, lines, padding, sides, balance, notes.

A copy without body numbers tells dials and pieces only.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import Seam, What
from fitassist.domain.units import AnyUnit, Unit
from fitassist.errors import FitError
from fitassist.report.balance_lines import balance_columns, balance_of, balance_rows
from fitassist.report.facts import Facts, LineFact
from fitassist.report.figure import DIAL_SCALE, dial_figure, high_mm
from fitassist.report.flow import QUIET, Column, Flow, Foot, Measure, roughly
from fitassist.report.padding_facts import Padding, PieceFact, one_sided, piece_facts
from fitassist.report.page import Item, Page, Polygon, Text
from fitassist.report.paper import A4, Paper
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.padding_words import place_text, strip_text
from fitassist.wording.places import dial_name, line_name, place_name, row_name
from fitassist.wording.sheet_words import bare_length, note_text, short_length, words

ACROSS = 6  # thumbnails beside one another
THUMB_MM = (26.0, 19.0)  # room of the outline in a thumbnail
THUMB_HIGH_MM = 34.0
# Halves or shoulder drops that differ by less are told as alike (own choice: a reading is good to
# some 4 mm).
DIFFERS_MM = 6.0


def person_pages(
    facts: Facts,
    paper: Paper = A4,
    unit: AnyUnit = "in",
    measure: Measure = roughly,
    padding: Padding | None = None,
    fronts: Mapping[str, float] | None = None,
    is_blind: bool = False,
) -> list[Page]:
    """Return the sheet of a person; two pages, more where there are more than twelve pieces.

    Parameters
    ----------
    fronts
        As ``balance_of`` takes them.
    is_blind
        Leave out every length of the body, and the notes that may hold some.

    Raises
    ------
    FitError
        ``sheet_no_form`` where nothing was fitted yet.
    """
    form = facts.form
    if form is None:
        raise FitError("sheet_no_form")
    name = facts.person or words("someone")
    flow = Flow(paper, measure)
    flow.title(
        words("blind_title" if is_blind else "person_title", name=name), lead(facts, is_blind)
    )
    _dials(flow, facts, form)
    _settings(flow, facts, form, unit, is_blind)
    if not is_blind:
        _lines(flow, facts, unit)
    if flow.page_number == 1:
        flow.next_page()
    pieces = piece_facts(padding)
    _padding(flow, padding, pieces, unit, is_blind)
    if not is_blind:
        flow.heading(words("person_sides"))
        for text in differences(facts, form, pieces, unit):
            flow.paragraph(text)
        flow.heading(words("person_balance"), keep_mm=40.0)
        flow.paragraph(words(f"all_in_{Unit(unit).value}"))
        flow.table(balance_columns(), balance_rows(balance_of(facts, fronts), unit), size_mm=3.0)
        flow.heading(words("person_notes"))
        flow.paragraph(note_text(facts.notes) or words("person_no_notes"))
    else:
        flow.paragraph(words("blind_left_out"), grey=QUIET)
    foot = Foot(
        words("person_foot", name=name),
        lambda number, pages: words("page_of", number=number, pages=pages),
    )
    return flow.pages(foot)


def lead(facts: Facts, is_blind: bool = False) -> str:
    """Say which body stands on which form, and since when."""
    form = facts.form.name if facts.form else ""
    key = ("blind_lead" if is_blind else "person_lead") + ("" if facts.date else "_undated")
    said = {"body": facts.body.name, "form": form, "date": facts.date}
    wanted = ("form", "date") if is_blind else ("body", "form", "date")
    return capital(words(key, **{k: said[k] for k in wanted if said[k] or k != "date"}))


def dial_unit(form: Form) -> str:
    """Say in what the dials of a form are numbered."""
    if form.dial_meaning == DialMeaning.PLAIN_TURNS:
        return words("unit_turns")
    return words(f"unit_{form.units}")


def _dials(flow: Flow, facts: Facts, form: Form) -> None:
    flow.heading(words("person_dials"))
    if not form.dials:
        flow.paragraph(words("person_no_dials"))
        return
    flow.paragraph(words("person_dials_how", unit=dial_unit(form)))
    numbers = {dial.name: number_text(dial.number, form) for dial in form.dials if not dial.missing}
    flow.space(2.0)
    scale = DIAL_SCALE if flow.paper.height_mm >= A4.height_mm else 0.85 * DIAL_SCALE
    flow.drawing(dial_figure(form, numbers, flow.width_mm, scale), high_mm(scale))
    flow.table(dial_columns(), dial_rows(form, numbers))
    if facts.stuck:
        named = ", ".join(dial_name(dial, form) for dial in facts.stuck)
        flow.paragraph(words("person_stuck", dials=named))


def dial_columns() -> list[Column]:
    """Return the heads of the table of dials."""
    heads = ["person_col_row", *(f"seam_{seam.value}" for seam in Seam)]
    return [Column(words(head), 1.2 if not n else 1.0, n > 0) for n, head in enumerate(heads)]


def dial_rows(form: Form, numbers: Mapping[str, str]) -> list[list[str]]:
    """Return the table of dials: a row of the form, then its seams."""
    return [
        [
            capital(row_name(row.name, form)),
            *(numbers.get(f"{row.name}.{seam.value}", "") for seam in Seam),
        ]
        for row in form.rows
    ]


def _settings(flow: Flow, facts: Facts, form: Form, unit: AnyUnit, is_blind: bool) -> None:
    flow.heading(words("person_setting"))
    if not is_blind:
        if form.torso.parts == "none":
            flow.paragraph(words("person_torso_fixed"))
        elif facts.torso_mm is None:
            flow.paragraph(words("person_torso_unknown"))
        else:
            flow.paragraph(words("person_torso", mm=say_length(facts.torso_mm, unit)))
        stand = facts.stand_mm
        said = words("person_stand_unknown") if stand is None else None
        flow.paragraph(said or words("person_stand", mm=say_length(stand or 0.0, unit)))
    under = facts.body.undergarment
    flow.paragraph(words("person_under", undergarment=under) if under else words("person_no_under"))


def _lines(flow: Flow, facts: Facts, unit: AnyUnit) -> None:
    flow.heading(words("person_lines"), keep_mm=40.0)
    flow.paragraph(words(f"verdict_{facts.verdict or 'open'}"))
    heads = (("line", 1.3), ("wanted", 0.8), ("tolerance", 1.5), ("now", 1.2), ("end", 1.4))
    columns = [Column(words(f"person_col_{head}"), share) for head, share in heads]
    flow.table(columns, [_line_row(line, unit) for line in facts.lines], size_mm=3.2)


def _line_row(line: LineFact, unit: AnyUnit) -> list[str]:
    low, high = line.tolerance_mm
    below, above = say_amount(max(-low, 0.0), unit), say_amount(max(high, 0.0), unit)
    between = words("person_either", mm=above)
    if below != above:
        between = words("person_between", below=below, above=above)
    now = ""
    if line.now_mm is not None:
        key = "person_now_read" if line.was_read else "person_now_reckoned"
        now = words(key, mm=say_length(line.now_mm, unit))
    off = abs((line.now_mm or 0.0) - line.target_mm)
    end = words(f"person_{line.end}", mm=say_amount(off, unit))
    name = capital(place_name(line.line, line.what))
    return [name, say_length(line.target_mm, unit), between, now, end]


# -- padding and sides -----------------------------------------------------------------------------


def _padding(
    flow: Flow,
    padding: Padding | None,
    pieces: Sequence[PieceFact],
    unit: AnyUnit,
    is_blind: bool,
) -> None:
    flow.heading(words("person_padding"))
    if padding is None or padding.is_empty:
        flow.paragraph(words("person_no_padding"))
        return
    thick = say_length(padding.thickness_mm, "mm")
    if padding.material:
        flow.paragraph(words("person_material", material=capital(padding.material), mm=thick))
    else:
        flow.paragraph(words("person_thickness", mm=thick))
    flow.paragraph(words("person_slip_on" if padding.is_slip_on else "person_pinned"))
    if padding.plan is not None and padding.plan.strips:
        seams = ", ".join(strip_text(strip.seam.value) for strip in padding.plan.strips)
        flow.paragraph(words("person_strips", seams=seams))
    for line, sheets in padding.wraps:
        flow.paragraph(words("person_wrap", line=capital(line_name(line)), sheets=sheets))
    if padding.wedge is not None:
        place, wedge = padding.wedge
        named = capital(place_text(place))
        flow.paragraph(words("person_wedge", place=named, sheets=len(wedge.lengths_mm)))
    if padding.read_mm and not is_blind:
        read = [f"{line_name(k)} {say_length(mm, unit)}" for k, mm in padding.read_mm.items()]
        flow.paragraph(words("person_padded", lines=", ".join(read)))
    each = flow.width_mm / ACROSS
    for first in range(0, len(pieces), ACROSS):
        row = pieces[first : first + ACROSS]
        items = [
            item
            for number, piece in enumerate(row)
            for item in _thumbnail(piece, number * each, each, unit, is_blind, flow)
        ]
        flow.drawing(items, THUMB_HIGH_MM)


def _thumbnail(
    piece: PieceFact, left: float, wide: float, unit: AnyUnit, is_blind: bool, flow: Flow
) -> list[Item]:
    xs, ys = zip(*piece.ring_mm, strict=True)
    across, down = max(xs) - min(xs), max(ys) - min(ys)
    by = min(THUMB_MM[0] / across, THUMB_MM[1] / down, 0.12)
    middle, centre = left + wide / 2, 11.0
    x0, y0 = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
    ring = tuple((middle + (x - x0) * by, centre + (y - y0) * by) for x, y in piece.ring_mm)
    items: list[Item] = [Polygon(ring, width_mm=0.3, grey=0.94)]
    said = [words("person_layer", layer=piece.number, place=place_text(piece.place))]
    if not is_blind:
        numbers = [bare_length(mm, unit) for mm in (piece.width_mm,)]
        numbers.append(short_length(piece.height_mm, unit))
        said.append(words("person_size", width=numbers[0], height=numbers[1]))
    if piece.plies > 1:
        said.append(words("person_plies", plies=piece.plies))
    for number, text in enumerate(said):
        size = flow.fitted(text, wide - 1.0, 2.6)
        at = (middle, 24.0 + 3.4 * number)
        items.append(Text(at, text, size, is_centred=True))
    return items


def differences(facts: Facts, form: Form, pieces: Sequence[PieceFact], unit: AnyUnit) -> list[str]:
    """Say where left and right differ: dials, halves, shoulders, pieces."""
    found = []
    for row in form.rows:
        left, right = (form.dial(f"{row.name}.{seam.value}") for seam in (Seam.LEFT, Seam.RIGHT))
        if left and right and abs(left.number - right.number) > 1e-6:
            numbers = {"left": number_text(left.number, form)}
            numbers["right"] = number_text(right.number, form)
            found.append(
                words("person_row_differs", row=capital(row_name(row.name, form)), **numbers)
            )
    for line in dict.fromkeys(line for line, _what in facts.targets):
        left_half, right_half = (
            facts.targets.get((line, what)) for what in (What.LEFT_HALF, What.RIGHT_HALF)
        )
        if left_half and right_half:
            pair = left_half.value_mm, right_half.value_mm
            found += _pair("person_half_differs", pair, unit, line=capital(line_name(line)))
    drops = facts.length_mm("shoulder_drop_left"), facts.length_mm("shoulder_drop_right")
    if drops[0] is not None and drops[1] is not None:
        found += _pair("person_drop_differs", (drops[0], drops[1]), unit)
    places = one_sided(pieces)
    if places:
        found.append(words("person_one_sided", places=", ".join(map(place_text, places))))
    return found or [words("person_alike")]


def _pair(key: str, pair: tuple[float, float], unit: AnyUnit, **more: str) -> list[str]:
    if abs(pair[0] - pair[1]) < DIFFERS_MM:
        return []
    said = {"left": say_length(pair[0], unit), "right": say_length(pair[1], unit)}
    return [words(key, **said, **more)]
