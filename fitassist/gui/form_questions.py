# SPDX-License-Identifier: MIT
"""The questions that describe an unknown form, each with what its answer makes of the form.

No Qt here. What is asked follows from the form as described so far, so that leaving and coming back
needs nothing but the form itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import Seam
from fitassist.gui import form_draft
from fitassist.wording.describing_words import say
from fitassist.wording.language import capital
from fitassist.wording.numbers import number_text
from fitassist.wording.places import row_name

Kind = Literal["text", "choice", "range", "girth", "end"]
ROWS = ("bust", "waist", "hip")
SEAMS: dict[str, tuple[Seam, ...]] = {
    "four": tuple(Seam),
    "centres": (Seam.FRONT, Seam.BACK),
    "sides": (Seam.LEFT, Seam.RIGHT),
}
PARTS = {"four": 4, "eight": 8, "one": 1}


@dataclass(frozen=True)
class Question:
    """One question: how it is asked, what may be answered, and what the answer makes of a form."""

    key: str
    kind: Kind
    title: str
    why: str
    choices: tuple[tuple[str, str], ...] = ()
    now: Any = None  # what the form says already: a choice, a text, numbers
    row: str = ""

    @property
    def drawing(self) -> str:
        """The drawing that goes with it, by its name."""
        return {"range": "part_dial", "torso": "part_lock"}.get(self.key, "form_front")


def questions(form: Form) -> tuple[Question, ...]:
    """Return all questions there are about a form as it is described so far, in their order."""
    found = [
        Question("name", "text", say("name"), say("name.why"), now=form.name),
        _choice("parts", ("four", "eight", "one"), _of(PARTS, form.parts)),
    ]
    if form.parts != 1:
        found += [
            _choice("meaning", tuple(one.value for one in DialMeaning), form.dial_meaning.value),
            _choice("units", ("in", "cm"), form.units),
            _choice("seams", tuple(SEAMS), _seams(form)),
            _choice("neck", ("yes", "no"), "yes" if _has_row(form, "neck") else "no"),
        ]
        found += [_range(form, row.name) for row in form.rows]
    lines = [row.name for row in form.rows] or list(ROWS)
    found += [_girth(form, line) for line in lines]
    found.append(_choice("post", ("centre", "offset", "hanging"), form.post))
    if form.parts != 1:
        found.append(_choice("torso", ("none", "one", "front_back_sides"), form.torso.parts))
    return tuple(found)


def answered(form: Form, question: Question, answer: Any) -> Form:
    """Return the form with an answer taken over.

    Parameters
    ----------
    answer
        A key of the choices, a text, (least, greatest, click or None), or a girth in mm.

    Raises
    ------
    FitError
        What was answered cannot be; the form is as before.
    """
    take: dict[str, Callable[[], Form]] = {
        "name": lambda: form_draft.changed(form, name=answer),
        "units": lambda: form_draft.with_units(form, answer),
        "meaning": lambda: form_draft.changed(form, dial_meaning=answer),
        "parts": lambda: _with_parts(form, PARTS[answer]),
        "neck": lambda: _with_neck(form, answer == "yes"),
        "seams": lambda: _with_seams(form, SEAMS[answer]),
        "range": lambda: form_draft.closed(form_draft.with_range(form, question.row, *answer)),
        "girth": lambda: form_draft.with_line(
            form, _line(form, question.row), closed_girth_mm=answer
        ),
        "post": lambda: form_draft.changed(form, post=answer),
        "torso": lambda: form_draft.changed(
            form, torso={**form.torso.model_dump(), "parts": answer}
        ),
    }
    return take[question.key]()


def lesson_question(form: Form, row: str, line: str, numbers: dict[str, float]) -> Question:
    """Return the question for one reading that teaches how the form opens."""
    of_row = [n for name, n in numbers.items() if name.rpartition(".")[0] == row]
    number = number_text(max(of_row, default=0.0), form)
    title = say("lesson", row=row_name(row, form), number=number, line=row_name(line, form))
    return Question("lesson", "girth", title, say("lesson.why"), now=None, row=row)


def last_question() -> Question:
    """Return what is said when nothing more is asked."""
    return Question("done", "end", say("done"), f"{say('done.why')} {say('done.skipped')}")


def _choice(key: str, choices: Sequence[str], now: str) -> Question:
    told = tuple((one, say(f"{key}.{one}")) for one in choices)
    return Question(key, "choice", say(key), say(f"{key}.why"), told, now)


def _range(form: Form, row: str) -> Question:
    dial = next(dial for dial in form.dials if dial.row == row)
    title = say("range", row=capital(row_name(row, form)))
    now = (dial.least, dial.greatest, dial.click)
    return Question("range", "range", title, say("range.why"), now=now, row=row)


def _girth(form: Form, row: str) -> Question:
    line = form.line(_line(form, row))
    title = say("girth", row=capital(row_name(row, form)))
    now = line.closed_girth_mm if line is not None else None
    return Question("girth", "girth", title, say("girth.why"), now=now, row=row)


def _line(form: Form, row: str) -> str:
    return next((one.line for one in form.rows if one.name == row), row)


def _of(table: dict[str, int], value: int) -> str:
    return next((key for key, one in table.items() if one == value), "")


def _has_row(form: Form, name: str) -> bool:
    return any(row.name == name for row in form.rows)


def _seams(form: Form) -> str:
    there = {dial.seam for dial in form.dials if dial.row in ROWS}
    return next((key for key, seams in SEAMS.items() if set(seams) == there), "")


def _with_parts(form: Form, parts: int) -> Form:
    if parts == 1:
        return form_draft.changed(form, parts=1, rows=(), dials=())
    for row in ROWS:
        if not _has_row(form, row):
            form = form_draft.with_row(form, row)
    halves = {"hip": "lower"} if parts == 8 else {}
    usual = "upper" if parts == 8 else "whole"
    rows = tuple(row.model_copy(update={"half": halves.get(row.line, usual)}) for row in form.rows)
    return form_draft.changed(form, parts=parts, rows=rows)


def _with_neck(form: Form, there: bool) -> Form:
    if there == _has_row(form, "neck"):
        return form
    if not there:
        return form_draft.without_row(form, "neck")
    return _with_parts(form_draft.with_row(form, "neck"), form.parts)


def _with_seams(form: Form, seams: tuple[Seam, ...]) -> Form:
    for row in (row.name for row in form.rows if row.name in ROWS):
        for seam in seams:
            if form.dial(f"{row}.{seam.value}") is None:
                form = form_draft.with_dial_state(form, row, seam, "dial")
        for seam in Seam:
            if seam not in seams:
                form = form_draft.with_dial_state(form, row, seam, "none")
    return form
