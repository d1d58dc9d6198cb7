# SPDX-License-Identifier: MIT
"""Where the dials stand now: rows of dials by seams, as they are printed."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from fitassist.domain.form import Dial, Form
from fitassist.domain.lines import Seam
from fitassist.gui import theme
from fitassist.gui.fields import NumberField, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.gui.form_draft import clicks_beside, row_dials
from fitassist.wording.language import capital
from fitassist.wording.numbers import number_text
from fitassist.wording.pages import say
from fitassist.wording.places import dial_name, row_name, seam_name

HEADER_CHARACTERS = 15
HEADER_CHARACTERS_LARGE = 10


class DialGrid(QWidget):
    """One field a dial; a seam without a dial stays empty.

    Signals
    -------
    number_set
        Name of the dial and the number it stands at.
    """

    number_set = Signal(str, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._fields: dict[str, NumberField] = {}
        self._form: Form | None = None
        self._shape: tuple[object, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.STEP)
        self._grid.setVerticalSpacing(theme.STEP)

    def show_form(self, form: Form) -> None:
        """Show where its dials stand; fields are made anew only where the dials are others."""
        if self._shape != _shape(form):
            self._build(form)
        self._form, self._shape = form, _shape(form)
        for dial in form.dials:
            field = self._fields.get(dial.name)
            if field is not None and field.number() != dial.number:
                field.set_text(number_text(dial.number, form))

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger type."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and self._form is not None:
            self.show_form(self._form)

    def field(self, dial: str) -> NumberField:
        """Return the field of a dial."""
        return self._fields[dial]

    def _build(self, form: Form) -> None:
        clear_layout(self._grid)
        self._fields = {}
        top = Qt.AlignmentFlag.AlignTop
        seams = [seam for seam in Seam if any(d.seam == seam for d in form.dials)]
        for column, seam in enumerate(seams, 1):
            header = plain_label(capital(seam_name(seam, behind=False)), "note", wraps=True)
            room = HEADER_CHARACTERS_LARGE if theme.is_large() else HEADER_CHARACTERS
            header.setFixedWidth(theme.characters(room))
            self._grid.addWidget(header, 0, column, Qt.AlignmentFlag.AlignBottom)
        for line, row in enumerate(form.rows, 1):
            name = plain_label(capital(row_name(row.name, form)), wraps=True)
            name.setContentsMargins(0, theme.STEP, theme.STEP, 0)
            self._grid.addWidget(name, line, 0, top)
            for dial in row_dials(form, row.name):
                if not dial.missing:
                    field = self._field_for(dial, form)
                    self._grid.addWidget(field, line, seams.index(dial.seam) + 1, top)
            note = plain_label(range_note(form, row.name), "note")
            note.setContentsMargins(theme.STEP, theme.STEP + 2, 0, 0)
            self._grid.addWidget(note, line, len(seams) + 1, top)
        self._grid.setColumnStretch(len(seams) + 1, 1)
        show_all(self._grid)

    def _field_for(self, dial: Dial, form: Form) -> NumberField:
        name = dial.name
        field = NumberField(capital(dial_name(name, form)), partial(self._check, name), True)
        field.committed.connect(lambda number, name=name: self.number_set.emit(name, number))
        self._fields[name] = field
        return field

    def _check(self, name: str, number: float) -> str:
        dial = self._form.dial(name) if self._form else None
        if dial is None or self._form is None:
            return ""
        if dial.least - 1e-6 <= number <= dial.greatest + 1e-6:
            beside = clicks_beside(dial, number)
            if beside is None:
                return ""
            below, above = (number_text(n, self._form) for n in beside)
            return say("number.between", below=below, above=above)
        return say(
            "number.range",
            least=number_text(dial.least, self._form),
            greatest=number_text(dial.greatest, self._form),
        )


def range_note(form: Form, row: str) -> str:
    """Return what is printed in a row: from where to where, and how it clicks."""
    dials = row_dials(form, row)
    if not dials:
        return ""
    dial = dials[0]
    values = {
        "least": number_text(dial.least, form),
        "greatest": number_text(dial.greatest, form),
    }
    if dial.click is None:
        return say("form.range_smooth", **values)
    return say("form.range_clicks", click=number_text(dial.click, form), **values)


def _shape(form: Form) -> tuple[object, ...]:
    """Return what the grid is built from, without the numbers."""
    dials = tuple((d.name, d.least, d.greatest, d.click, d.missing, d.readable) for d in form.dials)
    return theme.scale(), form.units, form.dial_meaning, form.rows, dials
