# SPDX-License-Identifier: MIT
"""Changing a form one thing at a time: each function returns another, valid form or refuses.

What is refused is a ``FitError`` whose code begins with ``form_``; nothing here knows a widget.
"""

from __future__ import annotations

from math import floor
from typing import Any, Final, Literal

from pydantic import ValidationError

from fitassist.domain.form import Dial, Form, FormLine, KnownGirth, Row
from fitassist.domain.lines import NAMED_LINES, USUAL_HEIGHTS_MM, Seam
from fitassist.errors import FitError

OFF_CLICK: Final = 0.02  # clicks; a third typed as .33 is still the third
DialState = Literal["dial", "worn", "follows", "none"]
DIAL_STATES: Final[tuple[DialState, ...]] = ("dial", "worn", "follows", "none")

# Where a form described from nothing begins; its owner types what is really printed.
_BLANK_RANGE: Final = {"neck": (14.0, 17.0), "waist": (28.0, 36.0), "under_bust": (31.0, 39.0)}
_OTHER_RANGE: Final = (36.0, 44.0)
_CM_IN_INCH: Final = 2.54


def changed(form: Form, **updates: Any) -> Form:
    """Return the form with fields replaced, checked as if it came from a file."""
    values = {**form.model_dump(), **updates}
    try:
        return Form.model_validate(values)
    except ValidationError as error:
        raise FitError("form_not_possible", detail=str(error)) from error


def blank_form(name: str, units: Literal["in", "cm"] = "in") -> Form:
    """Return a plain form with dials at bust, waist and hip, to be described by its owner."""
    form = Form(
        name=name,
        units=units,
        lines=tuple(FormLine(name=n, height_mm=USUAL_HEIGHTS_MM[n]) for n in NAMED_LINES),
        rows=(),
        dials=(),
    )
    for line in ("bust", "waist", "hip"):
        form = with_row(form, line)
    return form


def with_number(form: Form, dial: str, number: float) -> Form:
    """Return the form with one dial standing elsewhere."""
    found = form.dial(dial)
    if found is None:
        raise FitError("form_no_dial", dial=dial)
    if not found.least - 1e-6 <= number <= found.greatest + 1e-6:
        raise FitError("form_out_of_range", least=found.least, greatest=found.greatest)
    return form.at({dial: number})


def clicks_beside(dial: Dial, number: float) -> tuple[float, float] | None:
    """Return the two clicks a number lies between, or None if the dial can hold there."""
    if dial.click is None:
        return None
    count = (number - dial.least) / dial.click
    if abs(count - round(count)) < OFF_CLICK or number >= dial.greatest - 1e-6:
        return None
    below = dial.least + floor(count) * dial.click
    return below, min(below + dial.click, dial.greatest)


def closed(form: Form) -> Form:
    """Return the form with every dial at its least number."""
    return form.at({dial.name: dial.least for dial in form.dials})


def row_dials(form: Form, row: str) -> tuple[Dial, ...]:
    """Return the dials of a row, as they go round: front, left, back, right."""
    order = list(Seam)
    found = [dial for dial in form.dials if dial.row == row]
    return tuple(sorted(found, key=lambda dial: order.index(dial.seam)))


def free_lines(form: Form) -> tuple[str, ...]:
    """Return the lines that have no row of dials yet."""
    taken = {row.line for row in form.rows}
    return tuple(line for line in NAMED_LINES if line not in taken)


def with_row(form: Form, line: str) -> Form:
    """Return the form with a row of dials at a line, in its place from the neck down."""
    if any(row.name == line for row in form.rows):
        raise FitError("form_row_there", row=line)
    lines = form.lines
    if form.line(line) is None:
        lines = (*lines, FormLine(name=line, height_mm=USUAL_HEIGHTS_MM.get(line)))
    rows = (*form.rows, Row(name=line, line=line))
    order = {name: i for i, name in enumerate(NAMED_LINES)}
    rows = tuple(sorted(rows, key=lambda row: order.get(row.line, len(order))))
    seams = (Seam.BACK,) if line == "neck" else tuple(Seam)
    new = tuple(_new_dial(form, line, seam) for seam in seams)
    return changed(form, lines=lines, rows=rows, dials=(*form.dials, *new))


def without_row(form: Form, row: str) -> Form:
    """Return the form without a row and its dials."""
    return changed(
        form,
        rows=tuple(r for r in form.rows if r.name != row),
        dials=tuple(d for d in form.dials if d.row != row),
    )


def with_range(form: Form, row: str, least: float, greatest: float, click: float | None) -> Form:
    """Return the form with another printed range for a row; its numbers are brought into it."""
    if not least < greatest:
        raise FitError("form_range_crossed")
    if click is not None and not 0 < click <= greatest - least:
        raise FitError("form_click")
    update = {"least": least, "greatest": greatest, "click": click}
    dials = tuple(
        dial.model_copy(update={**update, "number": min(max(dial.number, least), greatest)})
        if dial.row == row
        else dial
        for dial in form.dials
    )
    return changed(form, dials=dials)


def dial_state(form: Form, row: str, seam: Seam) -> DialState:
    """Return what there is at a seam of a row."""
    dial = form.dial(f"{row}.{seam.value}")
    if dial is None:
        return "none"
    if dial.missing:
        return "follows"
    return "dial" if dial.readable else "worn"


def with_dial_state(form: Form, row: str, seam: Seam, state: DialState) -> Form:
    """Return the form with something else at a seam of a row; the last dial of a row stays."""
    name = f"{row}.{seam.value}"
    others = tuple(dial for dial in form.dials if dial.name != name)
    if state == "none":
        if not any(dial.row == row for dial in others):
            raise FitError("form_last_dial")
        return changed(form, dials=others)
    dial = form.dial(name) or _new_dial(form, row, seam)
    new = dial.model_copy(update={"missing": state == "follows", "readable": state != "worn"})
    if form.dial(name) is None:
        return changed(form, dials=(*form.dials, new))
    return changed(form, dials=tuple(new if d.name == name else d for d in form.dials))


def with_line(form: Form, name: str, **updates: float | None) -> Form:
    """Return the form with a line's height or closed girth replaced."""
    lines = tuple(
        line.model_copy(update=updates) if line.name == name else line for line in form.lines
    )
    return changed(form, lines=lines)


def with_known_girth(form: Form, name: str, girth_mm: float, undergarment: str = "") -> Form:
    """Return the form with one more girth read with the dials as they stand now."""
    known = KnownGirth(girth_mm=girth_mm, numbers=form.numbers(), undergarment=undergarment)
    lines = tuple(
        line.model_copy(update={"girths": (*line.girths, known)}) if line.name == name else line
        for line in form.lines
    )
    return changed(form, lines=lines)


def without_known_girth(form: Form, name: str, index: int) -> Form:
    """Return the form without one of the girths read earlier."""
    lines = tuple(
        line.model_copy(
            update={"girths": tuple(g for i, g in enumerate(line.girths) if i != index)}
        )
        if line.name == name
        else line
        for line in form.lines
    )
    return changed(form, lines=lines)


def with_dial(form: Form, name: str, **updates: object) -> Form:
    """Return the form with fields of one dial replaced."""
    dials = tuple(d.model_copy(update=updates) if d.name == name else d for d in form.dials)
    return changed(form, dials=dials)


def copied(form: Form, name: str, with_learned: bool) -> Form:
    """Return another form of the same make; whose double it was and what was met stay behind."""
    own: dict[str, Any] = {
        "quirk": "",
        "stuck": False,
        "stopped_above": None,
        "stopped_below": None,
    }
    dials = tuple(dial.model_copy(update=own) for dial in form.dials)
    learned = form.learned if with_learned else {}
    return changed(form, name=name, dials=dials, learned=learned, last_fitted=None)


def with_units(form: Form, units: Literal["in", "cm"]) -> Form:
    """Return the form with its printed numbers understood in another unit; they stay as printed."""
    return changed(form, units=units)


def _new_dial(form: Form, row: str, seam: Seam) -> Dial:
    beside = next(iter(row_dials(form, row)), None)
    if beside is not None:
        return beside.model_copy(
            update={"name": f"{row}.{seam.value}", "missing": False, "readable": True}
        )
    least, greatest = _BLANK_RANGE.get(row, _OTHER_RANGE)
    click = 0.25
    if form.units == "cm":
        least, greatest = round(least * _CM_IN_INCH), round(greatest * _CM_IN_INCH)
        click = 0.5
    return Dial(
        name=f"{row}.{seam.value}", least=least, greatest=greatest, click=click, number=least
    )
