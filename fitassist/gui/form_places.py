# SPDX-License-Identifier: MIT
"""Heights and girths of the form's lines, as far as its owner knows them."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from fitassist.domain.form import Form, FormLine, KnownGirth
from fitassist.domain.units import AnyUnit, Length, Unit
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.fields import LengthField, button, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.pages import say
from fitassist.wording.places import line_name

BELOW_WAIST = ("high_hip", "hip")
_COLUMNS = ("height", "closed_girth", "girth_now")


class FormPlaces(QWidget):
    """One line a line: height, girth when closed, girth as it stands now.

    Signals
    -------
    changed
        The ``Form`` as it now is.
    """

    changed = Signal(object)

    def __init__(self, unit: AnyUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = Unit(unit)
        self._form: Form | None = None
        self._fields: dict[tuple[str, str], LengthField] = {}
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(theme.STEP)
        self._grid.setVerticalSpacing(theme.HALF)
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.STEP, theme.HALF, 0, theme.STEP * 2)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("form.girths_why"), "note", wraps=True))
        column.addLayout(self._grid)

    def set_unit(self, unit: AnyUnit) -> None:
        """Say and read lengths in this unit."""
        self._unit = Unit(unit)
        if self._form is not None:
            form, self._form = self._form, None
            self.show_form(form)

    def show_form(self, form: Form) -> None:
        """Show what is known of the lines."""
        shape_before = None if self._form is None else _shape(self._form)
        self._form = form
        if shape_before != _shape(form):
            self._build(form)
        for line in form.lines:
            height = _shown_height_mm(form, line)
            self._fill(line.name, "height", height)
            self._fill(line.name, "closed_girth", line.closed_girth_mm)

    def field(self, line: str, which: str) -> LengthField:
        """Return the field of a line's ``height``, ``closed_girth`` or ``girth_now``."""
        return self._fields[line, which]

    def _fill(self, line: str, which: str, mm: float | None) -> None:
        field = self._fields.get((line, which))
        if field is None or field.line_edit.hasFocus():
            return
        now = field.length()
        if mm is None:
            field.set_text("")
        elif now is None or abs(now.mm - mm) > 0.5:
            field.set_text(say_length(mm, self._unit))

    def _build(self, form: Form) -> None:
        had_focus = next(
            (key for key, field in self._fields.items() if field.line_edit.hasFocus()), None
        )
        clear_layout(self._grid)
        self._fields = {}
        for column, key in enumerate(_COLUMNS, 1):
            self._grid.addWidget(plain_label(say(f"form.{key}"), "label"), 0, column)
        at = 1
        for line in form.lines:
            at = self._build_line(at, line, form)
        self._grid.setColumnStretch(len(_COLUMNS) + 1, 1)
        show_all(self._grid)
        if had_focus in self._fields:
            self._fields[had_focus].setFocus()

    def _build_line(self, at: int, line: FormLine, form: Form) -> int:
        top = Qt.AlignmentFlag.AlignTop
        name = capital(line_name(line.name))
        below = f"{name} {say('form.below')}" if line.name in BELOW_WAIST else name
        label = plain_label(below)
        label.setContentsMargins(0, theme.STEP, theme.STEP, 0)
        self._grid.addWidget(label, at, 0, top)
        for column, key in enumerate(_COLUMNS, 1):
            if key == "height" and line.name == "waist":
                continue
            said = f"{name}, {say('form.' + key)}"
            if key == "height" and line.name in BELOW_WAIST:
                said = f"{said} {say('form.below')}"
            field = LengthField(said, self._unit, commit_on_leave=key != "girth_now")
            field.committed.connect(partial(self._on_length, line.name, key))
            if key != "girth_now":
                field.emptied.connect(partial(self._on_emptied, line.name, key))
            if key == "height" and line.name in BELOW_WAIST:
                field.line_edit.setPlaceholderText(say("form.below"))
            self._fields[line.name, key] = field
            self._grid.addWidget(field, at, column, top)
        for index, known in enumerate(line.girths):
            at += 1
            self._grid.addWidget(self._known(line.name, index, known, form), at, 1, 1, 4)
        return at + 1

    def _known(self, line: str, index: int, known: KnownGirth, form: Form) -> QWidget:
        numbers = sorted({number_text(n, form) for n in known.numbers.values()})
        text = say(
            "form.known",
            length=say_length(known.girth_mm, self._unit),
            numbers=", ".join(numbers) or "-",
        )
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(plain_label(text, "quiet"))
        out = button(say("form.known_forget"), "link", f"{say('form.known_forget')}: {text}")
        out.clicked.connect(lambda _on=False: self._forget(line, index))
        row.addWidget(out)
        row.addStretch(1)
        return holder

    def _forget(self, line: str, index: int) -> None:
        if self._form is not None:
            self.changed.emit(form_draft.without_known_girth(self._form, line, index))

    def _on_length(self, line: str, key: str, length: Length) -> None:
        if self._form is None:
            return
        try:
            if key == "girth_now":
                form = form_draft.with_known_girth(self._form, line, length.mm)
            elif key == "closed_girth":
                form = form_draft.with_line(self._form, line, closed_girth_mm=length.mm)
            else:
                sign = -1.0 if line in BELOW_WAIST else 1.0
                height = _waist_mm(self._form) + sign * length.mm
                form = form_draft.with_line(self._form, line, height_mm=height)
        except FitError:
            self._fields[line, key].show_error(say("form.error.form_not_possible"))
            return
        self.changed.emit(form)

    def _on_emptied(self, line: str, key: str) -> None:
        if self._form is not None:
            name = "height_mm" if key == "height" else "closed_girth_mm"
            self.changed.emit(form_draft.with_line(self._form, line, **{name: None}))


def _waist_mm(form: Form) -> float:
    waist = form.line("waist")
    return waist.height_mm if waist and waist.height_mm is not None else 0.0


def _shown_height_mm(form: Form, line: FormLine) -> float | None:
    if line.height_mm is None:
        return None
    return abs(line.height_mm - _waist_mm(form))


def _shape(form: Form) -> tuple[object, ...]:
    return tuple((line.name, line.girths) for line in form.lines)
