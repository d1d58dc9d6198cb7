# SPDX-License-Identifier: MIT
"""One measurement on a body: its field, what its readings come to, and a question about them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Measurement
from fitassist.domain.units import AnyUnit, Length, Unit, parse_length
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import LengthField, button, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.session.person import BodyReading, average
from fitassist.wording.body_words import average_text, how_text
from fitassist.wording.catalogue_words import label_text
from fitassist.wording.language import inside
from fitassist.wording.pages import say

LABEL_CHARACTERS = 20
LABEL_CHARACTERS_LARGE = 13
SUMMARY_CHARACTERS = 12  # what the column has left for it in the smallest window


class AskBar(QFrame):
    """A plain question with keep and change.

    Signals
    -------
    kept, change_asked
        The answer.
    """

    kept = Signal()
    change_asked = Signal()

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "ask")
        self._text = plain_label(text, wraps=True)
        self.keep_button = button(say("ask.keep"), name=f"{say('ask.keep')}: {text}")
        self.change_button = button(say("ask.change"), name=f"{say('ask.change')}: {text}")
        self.keep_button.clicked.connect(self.kept)
        self.change_button.clicked.connect(self.change_asked)
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.STEP * 2, theme.STEP, theme.STEP, theme.STEP)
        row.setSpacing(theme.STEP)
        row.addWidget(self._text, 1)
        row.addWidget(self.keep_button)
        row.addWidget(self.change_button)

    def text(self) -> str:
        """Return the question."""
        return self._text.text()


class MeasurementRow(QWidget):
    """Label, field, average and questions of one measurement.

    Signals
    -------
    entered
        The focus came to this measurement.
    taken
        A ``Length`` was entered as one more reading.
    corrected
        A ``Length`` was entered in place of the last reading.
    """

    entered = Signal()
    taken = Signal(object)
    corrected = Signal(object)

    def __init__(self, measurement: Measurement, kind: Kind, unit: AnyUnit) -> None:
        super().__init__()
        self.measurement = measurement
        self.name = label_text(measurement, kind)
        self._unit = Unit(unit)
        self._readings: Sequence[BodyReading] = ()
        self._is_adding = False
        self.field = LengthField(self.name, unit, commit_on_leave=True)
        self.field.entered.connect(self.entered)
        self.field.committed.connect(self._on_committed)
        self._summary = plain_label(role="quiet", wraps=True)
        self.again = button(say("measure.again"), "link", f"{say('measure.again')}: {self.name}")
        self.again.clicked.connect(self.begin_another)
        self._asks = QVBoxLayout()
        self._asks.setSpacing(theme.HALF)
        self._lay_out()

    def _lay_out(self) -> None:
        label = plain_label(self.name, wraps=True)
        label.setBuddy(self.field.line_edit)
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(label)
        if self.measurement.helper:
            names.addWidget(plain_label(say("measure.helper"), "note", wraps=True))
        names.addStretch(1)
        holder = QWidget()
        holder.setLayout(names)
        names.setContentsMargins(0, theme.STEP, theme.STEP, 0)
        self._label_holder = holder
        self._summary.setContentsMargins(0, theme.STEP, 0, 0)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.STEP)
        self._grid.setVerticalSpacing(theme.HALF)
        self._grid.addWidget(holder, 0, 0, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(self.field, 0, 1, Qt.AlignmentFlag.AlignTop)
        self._grid.addLayout(self._asks, 2, 0, 1, 4)
        self._grid.setColumnStretch(3, 1)
        self._place_summary()

    def _place_summary(self) -> None:
        """Put what the readings come to beside the field, or below it where the type is large."""
        is_large = theme.is_large()
        characters = LABEL_CHARACTERS_LARGE if is_large else LABEL_CHARACTERS
        width = theme.characters(characters)
        self._label_holder.setFixedWidth(width)
        self._summary.setMinimumWidth(0 if is_large else theme.characters(SUMMARY_CHARACTERS))
        top = Qt.AlignmentFlag.AlignTop
        if is_large:
            self._grid.addWidget(self.again, 0, 2, top)
            self._grid.addWidget(self._summary, 1, 1, 1, 3, top)
        else:
            self._grid.addWidget(self.again, 0, 2, top)
            self._grid.addWidget(self._summary, 0, 3, top)
        # Only now: shown before it stands in the row it would be a window and take the keys.
        self._summary.setVisible(bool(self._summary.text()) or not is_large)

    def changeEvent(self, event: QEvent) -> None:
        """Stand differently where the type is larger."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_grid"):
            self._place_summary()

    def show_readings(self, readings: Sequence[BodyReading], unit: AnyUnit) -> None:
        """Show what counts; a text being typed is left alone."""
        is_same = tuple(self._readings) == tuple(readings) and self._unit == unit
        self._readings = readings
        if self._unit != unit:
            self._unit = Unit(unit)
            self.field.set_unit(unit)
        if not is_same or (not self._is_adding and not self.field.text()):
            self._is_adding = False
            self.field.line_edit.setPlaceholderText("")
            self.field.set_text(typed_text(readings[-1], unit) if readings else "")
        self.again.setVisible(bool(readings))
        self._summary.setText(self._summed_up())
        self._place_summary()

    def show_questions(self, asks: Sequence[AskBar]) -> None:
        """Show these questions under the field instead of the ones before."""
        clear_layout(self._asks)
        for ask in asks:
            self._asks.addWidget(ask)
        show_all(self._asks)

    def summary(self) -> QLabel:
        """Return the label that says what the readings come to."""
        return self._summary

    def begin_another(self) -> None:
        """Empty the field for one more reading; those before still count."""
        self._is_adding = True
        self.field.clear()
        self.field.line_edit.setPlaceholderText(say("measure.another"))
        self.field.setFocus()

    def is_blank(self) -> bool:
        """Say whether nothing has been read here yet."""
        return not self._readings

    def _summed_up(self) -> str:
        if not self._readings:
            return ""
        if len(self._readings) == 1:
            how = self._readings[0].how
            return "" if how == "helped" else inside(how_text(how))
        taken = average(self._readings, self.measurement)
        return average_text(taken.n, taken.mm, taken.spread_mm, self._unit)

    def _on_committed(self, length: Length) -> None:
        if not self._readings or self._is_adding:
            self.taken.emit(length)
        elif typed_text(self._readings[-1], self._unit) != length.text:
            self.corrected.emit(length)


def typed_text(reading: BodyReading, unit: AnyUnit) -> str:
    """Return a reading as it was typed, with its unit where it would now be read otherwise."""
    for text in (reading.text, *(f"{reading.text} {u.value}" for u in Unit)):
        try:
            if abs(parse_length(text, unit).mm - reading.mm) < 0.01:
                return text
        except FitError:
            continue
    return f"{reading.mm:.1f} mm"
