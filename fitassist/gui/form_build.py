# SPDX-License-Identifier: MIT
"""How the form is built and handled: torso, shoulders, stand, catch and the owner's notes."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QVBoxLayout, QWidget

from fitassist.domain.form import Form
from fitassist.domain.units import AnyUnit, Length, Unit
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.fields import ChoiceRow, LengthField, NumberField, plain_label
from fitassist.wording.lengths import say_length
from fitassist.wording.pages import form_refusal, say

# key of the words, part of the form, field of that part
_LENGTHS = (
    ("form.torso_least", "torso", "least_mm"),
    ("form.torso_greatest", "torso", "greatest_mm"),
    ("form.torso_now", "torso", "length_mm"),
    ("form.shoulder", "", "shoulder_length_mm"),
    ("form.stand_least", "stand", "least_mm"),
    ("form.stand_greatest", "stand", "greatest_mm"),
    ("form.stand_now", "stand", "height_mm"),
)

NOTE_WIDTH = 640


class _Panel(QWidget):
    """A part of a form's description.

    Signals
    -------
    changed
        The ``Form`` as it now is.
    """

    changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._form: Form | None = None
        self._error = plain_label(role="error", wraps=True)
        self._error.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(theme.STEP, theme.HALF, 0, theme.STEP * 2)
        self._column.setSpacing(theme.STEP)

    def _add(self, key: str, widget: QWidget) -> None:
        label = plain_label(say(key), "label")
        label.setBuddy(widget)
        if not widget.accessibleName():
            widget.setAccessibleName(say(key))
        self._column.addWidget(label)
        self._column.addWidget(widget)

    def _try(self, change: Callable[[Form], Form]) -> None:
        if self._form is None:
            return
        try:
            form = change(self._form)
        except FitError as error:
            self._error.setText(form_refusal(error.code))
            self._error.show()
            return
        self._error.hide()
        if form != self._form:
            self.changed.emit(form)

    def _set(self, field: str, value: Any) -> None:
        self._try(lambda form: form_draft.changed(form, **{field: value}))


class FormTorso(_Panel):
    """How the torso pulls longer, the shoulders, the stand."""

    def __init__(self, unit: AnyUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = Unit(unit)
        self.parts_row = ChoiceRow(
            say("form.torso_parts"),
            [
                ("none", say("form.torso_none")),
                ("one", say("form.torso_one")),
                ("front_back_sides", say("form.torso_parted")),
            ],
        )
        self.parts_row.chosen.connect(lambda key: self._set_part("torso", "parts", key))
        self._add("form.torso_parts", self.parts_row)
        self._fields: dict[str, LengthField] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.STEP)
        grid.setVerticalSpacing(theme.HALF)
        for line, (key, part, name) in enumerate(_LENGTHS):
            field = LengthField(say(key), unit, commit_on_leave=True)
            field.committed.connect(partial(self._on_length, part, name))
            field.emptied.connect(partial(self._set_part, part, name, None))
            label = plain_label(say(key))
            label.setBuddy(field)
            grid.addWidget(label, line, 0)
            grid.addWidget(field, line, 1)
            self._fields[key] = field
        grid.setColumnStretch(2, 1)
        self._column.addLayout(grid)
        self._column.addWidget(self._error)
        self.post_row = ChoiceRow(
            say("form.post"),
            [(k, say(f"form.post_{k}")) for k in ("centre", "offset", "hanging", "unknown")],
        )
        self.post_row.chosen.connect(partial(self._set, "post"))
        self._add("form.post", self.post_row)

    def set_unit(self, unit: AnyUnit) -> None:
        """Say and read lengths in this unit."""
        self._unit = Unit(unit)
        for field in self._fields.values():
            field.set_unit(unit)
            field.clear()
        if self._form is not None:
            self.show_form(self._form)

    def show_form(self, form: Form) -> None:
        """Show how it is built."""
        self._form = form
        self.parts_row.set_value(form.torso.parts)
        self.post_row.set_value(form.post)
        for key, part, name in _LENGTHS:
            mm: float | None = getattr(getattr(form, part) if part else form, name)
            field = self._fields[key]
            now = field.length()
            if mm is None:
                field.set_text("")
            elif now is None or abs(now.mm - mm) > 0.5:
                field.set_text(say_length(mm, self._unit))

    def field(self, key: str) -> LengthField:
        """Return the field of a length, by the key of its words."""
        return self._fields[key]

    def _on_length(self, part: str, name: str, length: Length) -> None:
        self._set_part(part, name, length.mm)

    def _set_part(self, part: str, name: str, value: Any) -> None:
        if not part:
            self._set(name, value)
        else:
            self._try(lambda form: _with_part(form, part, name, value))


class FormHandling(_Panel):
    """Parts, catch, which way opens, what overlaps, which half first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.parts = NumberField(say("form.parts"), commit_on_leave=True)
        self.parts.committed.connect(lambda n: self._set("parts", round(n)))
        self._add("form.parts", self.parts)
        self.lock = QCheckBox(say("form.lock"))
        self.lock.clicked.connect(lambda is_on: self._set("lock", is_on))
        self._column.addWidget(self.lock)
        self.opens = QLineEdit()
        theme.at_most(self.opens, NOTE_WIDTH)
        self.opens.editingFinished.connect(lambda: self._set("opens", self.opens.text()))
        self._add("form.opens", self.opens)
        self.overlaps = QLineEdit()
        theme.at_most(self.overlaps, NOTE_WIDTH)
        self.overlaps.editingFinished.connect(lambda: self._set("overlaps", self.overlaps.text()))
        self._add("form.overlaps", self.overlaps)
        self.first_row = ChoiceRow(
            say("form.set_first"),
            [("upper", say("form.set_upper")), ("lower", say("form.set_lower"))],
        )
        self.first_row.chosen.connect(partial(self._set, "set_first"))
        self._add("form.set_first", self.first_row)
        self._column.addWidget(self._error)

    def show_form(self, form: Form) -> None:
        """Show how it is handled."""
        self._form = form
        if self.parts.number() != form.parts:
            self.parts.set_text(str(form.parts))
        self.lock.setChecked(form.lock)
        for edit, text in ((self.opens, form.opens), (self.overlaps, form.overlaps)):
            if edit.text() != text:
                edit.setText(text)
        self.first_row.set_value(form.set_first)


def _with_part(form: Form, part: str, name: str, value: Any) -> Form:
    """Return the form with a field of its torso or stand replaced; least, now, most in order."""
    new = getattr(form, part).model_copy(update={name: value})
    now = new.length_mm if part == "torso" else new.height_mm
    known = [mm for mm in (new.least_mm, now, new.greatest_mm) if mm is not None]
    if known != sorted(known):
        raise FitError("form_torso")
    return form_draft.changed(form, **{part: new.model_dump()})
