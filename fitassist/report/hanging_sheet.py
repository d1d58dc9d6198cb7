# SPDX-License-Identifier: MIT
"""One large page to hang beside the form: what to do so that it becomes this person again."""

from __future__ import annotations

from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.report.facts import Facts
from fitassist.report.flow import Flow, Foot, Measure, roughly
from fitassist.report.padding_facts import Padding, piece_facts
from fitassist.report.page import Page
from fitassist.report.paper import A4, Paper
from fitassist.report.person_sheet import dial_columns, dial_rows, dial_unit, lead
from fitassist.wording.lengths import say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.padding_words import place_text
from fitassist.wording.places import line_name
from fitassist.wording.sheet_words import words

STEP_MM, NUMBER_MM = 4.6, 6.4  # read from a step away


def hanging_pages(
    facts: Facts,
    paper: Paper = A4,
    unit: AnyUnit = "in",
    measure: Measure = roughly,
    padding: Padding | None = None,
    is_blind: bool = False,
) -> list[Page]:
    """Return the page to hang beside the form.

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
    flow.title(words("hang_title", name=name), lead(facts, is_blind=True))
    flow.heading(words("hang_before"))
    flow.steps(_before(facts, form, unit, is_blind), STEP_MM)
    if form.dials:
        flow.heading(words("hang_turn"), keep_mm=50.0)
        flow.paragraph(words("person_dials_how", unit=dial_unit(form)))
        numbers = {d.name: number_text(d.number, form) for d in form.dials if not d.missing}
        flow.table(dial_columns(), dial_rows(form, numbers), NUMBER_MM, row_mm=12.0)
        flow.paragraph(words("hang_order"), STEP_MM)
    flow.heading(words("hang_after"))
    flow.steps(_after(facts, unit, padding, is_blind), STEP_MM)
    flow.space(6.0)
    flow.paragraph(words("hang_done"), STEP_MM)
    foot = Foot(
        words("hang_title", name=name),
        lambda number, pages: words("page_of", number=number, pages=pages),
    )
    return flow.pages(foot)


def _before(facts: Facts, form: Form, unit: AnyUnit, is_blind: bool) -> list[str]:
    steps = [words("hang_clear"), words("hang_safe")]
    if form.lock:
        steps.append(words("hang_lock"))
    if form.opens:
        steps.append(words("hang_opens", text=form.opens))
    if form.overlaps:
        steps.append(words("hang_overlaps", text=form.overlaps))
    if facts.torso_mm is not None and form.torso.parts != "none" and not is_blind:
        steps.append(words("hang_torso", mm=say_length(facts.torso_mm, unit)))
    if facts.stand_mm is not None and not is_blind:
        steps.append(words("hang_stand", mm=say_length(facts.stand_mm, unit)))
    if facts.body.undergarment:
        steps.append(words("hang_under", undergarment=facts.body.undergarment))
    return steps


def _after(facts: Facts, unit: AnyUnit, padding: Padding | None, is_blind: bool) -> list[str]:
    steps = []
    if padding is not None and not padding.is_empty:
        if padding.is_slip_on:
            steps.append(words("hang_slip_on"))
        else:
            places = list(dict.fromkeys(place_text(p.place) for p in piece_facts(padding)))
            places += [line_name(line) for line, _sheets in padding.wraps]
            places += [place_text(padding.wedge[0])] if padding.wedge else []
            if places:
                steps.append(words("hang_pieces", places=", ".join(places)))
        steps.append(words("hang_cover"))
    girths = [line for line in facts.lines if line.what == What.GIRTH]
    if is_blind:
        named = ", ".join(line_name(line.line) for line in girths)
        steps.append(words("hang_check_blind", lines=named))
    else:
        named = ", ".join(
            words("hang_check_one", line=line_name(one.line), mm=say_length(one.target_mm, unit))
            for one in girths
        )
        steps.append(words("hang_check", lines=named))
    return [*steps, words("hang_off")]
