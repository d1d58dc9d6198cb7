# SPDX-License-Identifier: MIT
"""Beside the fields: where the tape goes, in a drawing and a sentence, and the readings so far."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Measurement
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.drawings import DrawingView, drawing_names
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.session.person import BodyReading
from fitassist.wording.body_words import reading_text
from fitassist.wording.catalogue_words import how_to_measure, label_text
from fitassist.wording.pages import say

WIDTH = 320
PICTURE_HEIGHT = 300


class MeasurementGuide(QFrame):
    """The card about the measurement that has the focus.

    Signals
    -------
    withdraw_asked
        The number of the event of a reading that should not count.
    """

    withdraw_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self._title = plain_label(role="title", wraps=True)
        self._how = plain_label(wraps=True)
        self._helper = plain_label(say("measure.helper_why"), "note", wraps=True)
        self._picture = DrawingView("", theme.palette())
        self._picture.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._picture.setFixedHeight(PICTURE_HEIGHT)
        self._readings_title = plain_label(say("measure.readings"), "label")
        self._readings = QVBoxLayout()
        self._readings.setSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        for widget in (self._title, self._picture, self._how, self._helper, self._readings_title):
            column.addWidget(widget)
        column.addLayout(self._readings)
        column.addStretch(1)

    def show_measurement(
        self,
        measurement: Measurement,
        kind: Kind,
        readings: Sequence[BodyReading],
        unit: AnyUnit,
        can_change: bool,
    ) -> None:
        """Show where the tape goes for a measurement, and what it read."""
        self._title.setText(label_text(measurement, kind))
        how = how_to_measure(measurement)
        self._how.setText(how)
        self._helper.setVisible(measurement.helper)
        has_picture = measurement.picture in drawing_names()
        self._picture.setVisible(has_picture)
        self._picture.show_drawing(measurement.picture if has_picture else "", how)
        self._show_readings(readings, unit, can_change)

    def _show_readings(
        self, readings: Sequence[BodyReading], unit: AnyUnit, can_change: bool
    ) -> None:
        clear_layout(self._readings)
        self._readings_title.setVisible(bool(readings))
        for reading in readings:
            self._readings.addWidget(self._line(reading, unit, can_change))
        show_all(self._readings)

    def _line(self, reading: BodyReading, unit: AnyUnit, can_change: bool) -> QWidget:
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        text = reading_text(reading.mm, reading.text, reading.how, unit)
        row.addWidget(plain_label(text, wraps=True), 1)
        if can_change:
            out = button(say("measure.withdraw"), "link", f"{say('measure.withdraw')}: {text}")
            out.clicked.connect(lambda _on=False, seq=reading.seq: self.withdraw_asked.emit(seq))
            row.addWidget(out, 0, Qt.AlignmentFlag.AlignTop)
        return line

    def changeEvent(self, event: QEvent) -> None:
        """Draw in the colours of the look that came."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.StyleChange):
            self._picture.set_colours(theme.palette())
