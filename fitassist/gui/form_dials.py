# SPDX-License-Identifier: MIT
"""What is printed beside the dials, how they turn, and at which seams there are any."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.fields import ChoiceRow, NumberField, button, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.wording.language import capital
from fitassist.wording.numbers import number_text
from fitassist.wording.pages import form_refusal, say
from fitassist.wording.places import line_name, row_name, seam_name


class FormDials(QWidget):
    """Range, click and seams of every row.

    Signals
    -------
    changed
        The ``Form`` as it now is.
    """

    changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._form: Form | None = None
        self._numbers: dict[tuple[str, str], NumberField] = {}
        self._states: dict[str, QPushButton] = {}
        self.units_row = ChoiceRow(
            say("form.units"), [("in", say("form.units_in")), ("cm", say("form.units_cm"))]
        )
        self.units_row.chosen.connect(
            lambda units: self._try(lambda form: form_draft.changed(form, units=units))
        )
        self.meaning_row = ChoiceRow(
            say("form.meaning"),
            [
                (DialMeaning.WHOLE_GIRTH.value, say("form.meaning_whole")),
                (DialMeaning.SEAM_GAP.value, say("form.meaning_gap")),
                (DialMeaning.PLAIN_TURNS.value, say("form.meaning_turns")),
            ],
        )
        self.meaning_row.chosen.connect(
            lambda key: self._try(lambda form: form_draft.changed(form, dial_meaning=key))
        )
        self.largest = NumberField(say("form.largest_turn"), commit_on_leave=True)
        self.largest.committed.connect(
            lambda n: self._try(lambda form: form_draft.changed(form, largest_turn=n or None))
        )
        self._error = plain_label(role="error", wraps=True)
        self._error.hide()
        self._rows = QGridLayout()
        self._rows.setHorizontalSpacing(theme.STEP)
        self._rows.setVerticalSpacing(theme.HALF)
        self._adding = QHBoxLayout()
        self._lay_out()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(theme.MARGIN)
        for key, widget in (
            ("form.units", self.units_row),
            ("form.meaning", self.meaning_row),
            ("form.largest_turn", self.largest),
        ):
            pair = QVBoxLayout()
            pair.setSpacing(theme.HALF)
            pair.addWidget(plain_label(say(key), "label"))
            pair.addWidget(widget)
            top.addLayout(pair)
        top.addStretch(1)
        states = plain_label(say("form.states"), "note", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.STEP, theme.HALF, 0, theme.STEP * 2)
        column.setSpacing(theme.STEP)
        column.addLayout(top)
        column.addWidget(states)
        column.addLayout(self._rows)
        column.addWidget(self._error)
        column.addLayout(self._adding)

    def show_form(self, form: Form) -> None:
        """Show what is printed; rows are made anew only where they are others."""
        shape_before = None if self._form is None else _shape(self._form)
        self._form = form
        self.units_row.set_value(form.units)
        self.meaning_row.set_value(form.dial_meaning.value)
        largest = "" if form.largest_turn is None else number_text(form.largest_turn, form)
        if not self.largest.line_edit.hasFocus():
            self.largest.set_text(largest)
        if shape_before != _shape(form):
            self._build(form)
        for row in form.rows:
            dials = form_draft.row_dials(form, row.name)
            if dials:
                self._fill(row.name, "least", dials[0].least)
                self._fill(row.name, "greatest", dials[0].greatest)
                self._fill(row.name, "click", dials[0].click)
            for seam in Seam:
                state = form_draft.dial_state(form, row.name, seam)
                made = self._states[f"{row.name}.{seam.value}"]
                text = say(f"form.state_{state}")
                made.setText(text)
                made.setAccessibleName(
                    f"{capital(row_name(row.name, form))}, {seam_name(seam)}: {text}"
                )

    def number_field(self, row: str, which: str) -> NumberField:
        """Return the field of a row's ``least``, ``greatest`` or ``click``."""
        return self._numbers[row, which]

    def state_button(self, dial: str) -> QPushButton:
        """Return the button that says what is at a seam of a row."""
        return self._states[dial]

    def said(self) -> QLabel:
        """Return the label where a refusal is said."""
        return self._error

    def _fill(self, row: str, which: str, number: float | None) -> None:
        field = self._numbers[row, which]
        if number is None:
            field.set_text("")
        elif field.number() != number and self._form is not None:
            field.set_text(number_text(number, self._form))

    def _build(self, form: Form) -> None:
        for box in (self._rows, self._adding):
            clear_layout(box)
        self._numbers, self._states = {}, {}
        heads = ("row", "least", "greatest", "click")
        for column, head in enumerate(heads):
            self._rows.addWidget(plain_label(say(f"form.{head}"), "label"), 0, column)
        for column, seam in enumerate(Seam, len(heads)):
            self._rows.addWidget(plain_label(capital(seam_name(seam)), "label"), 0, column)
        for line, row in enumerate(form.rows, 1):
            self._build_row(line, row.name, form)
        self._rows.setColumnStretch(len(heads) + len(Seam) + 1, 1)
        if form_draft.free_lines(form):
            self._adding.addWidget(plain_label(say("form.add_row"), "label"))
        for name in form_draft.free_lines(form):
            made = button(line_name(name), "link", f"{say('form.add_row')} {line_name(name)}")
            made.clicked.connect(
                lambda _on=False, n=name: self._try(lambda f: form_draft.with_row(f, n))
            )
            self._adding.addWidget(made)
        self._adding.addStretch(1)
        show_all(self._rows)
        show_all(self._adding)

    def _build_row(self, line: int, row: str, form: Form) -> None:
        top = Qt.AlignmentFlag.AlignTop
        name = capital(row_name(row, form))
        label = plain_label(name)
        label.setContentsMargins(0, theme.STEP, theme.STEP, 0)
        self._rows.addWidget(label, line, 0, top)
        for column, which in enumerate(("least", "greatest", "click"), 1):
            field = NumberField(f"{name}, {say('form.' + which)}", commit_on_leave=True)
            field.committed.connect(partial(self._on_range, row))
            if which == "click":  # an empty click is an answer: it turns smoothly
                field.emptied.connect(partial(self._on_range, row, 0.0))
            self._numbers[row, which] = field
            self._rows.addWidget(field, line, column, top)
        for column, seam in enumerate(Seam, 4):
            made = button("")
            made.clicked.connect(partial(self._on_state, row, seam))
            self._states[f"{row}.{seam.value}"] = made
            self._rows.addWidget(made, line, column, top)
        remove = button(say("form.remove_row"), "link", f"{say('form.remove_row')}: {name}")
        remove.clicked.connect(
            lambda _on=False: self._try(lambda f: form_draft.without_row(f, row))
        )
        self._rows.addWidget(remove, line, 8, top)

    def _on_range(self, row: str, _number: float) -> None:
        least = self._numbers[row, "least"].number()
        greatest = self._numbers[row, "greatest"].number()
        click = self._numbers[row, "click"].number()
        if least is not None and greatest is not None:
            self._try(lambda f: form_draft.with_range(f, row, least, greatest, click))

    def _on_state(self, row: str, seam: Seam, _on: bool = False) -> None:
        def turn_on(form: Form) -> Form:
            states = form_draft.DIAL_STATES
            now = states.index(form_draft.dial_state(form, row, seam))
            return form_draft.with_dial_state(form, row, seam, states[(now + 1) % len(states)])

        def skip_none(form: Form) -> Form:
            return form_draft.with_dial_state(form, row, seam, form_draft.DIAL_STATES[0])

        # The last dial of a row cannot go; the round of choices then begins anew.
        if not self._try(turn_on):
            self._try(skip_none, quietly=True)

    def _try(self, change: Callable[[Form], Form], quietly: bool = False) -> bool:
        if self._form is None:
            return False
        try:
            form = change(self._form)
        except FitError as error:
            self._error.setText(form_refusal(error.code))
            self._error.show()
            return False
        if not quietly:
            self._error.hide()
        self.changed.emit(form)
        return True


def _shape(form: Form) -> tuple[object, ...]:
    return form.rows, form.units
