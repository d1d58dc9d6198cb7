# SPDX-License-Identifier: MIT
"""A dial's number: typed as printed, or moved click by click with the arrow keys and the wheel."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from fitassist.domain.form import Dial, Form
from fitassist.gui.fields import NumberField
from fitassist.wording.fitting_words import say
from fitassist.wording.numbers import number_text


class DialNumberField(NumberField):
    """The number at which one dial stands, kept to the range of that dial."""

    def __init__(self, name: str, form: Form, dial: Dial, parent: QWidget | None = None) -> None:
        super().__init__(name, check=self._complaint, parent=parent)
        self._form, self._dial = form, dial
        self.line_edit.installEventFilter(self)

    def show_number(self, number: float) -> None:
        """Show a number as the form prints it."""
        self.set_text(number_text(number, self._form))

    def in_range(self) -> float | None:
        """Return the number, if it is one that this dial can show."""
        number = self.number()
        return None if number is None or self._complaint(number) else number

    def _complaint(self, number: float) -> str:
        least, greatest = self._dial.least, self._dial.greatest
        if least - 1e-9 <= number <= greatest + 1e-9:
            return ""
        return say(
            "number_range",
            least=number_text(least, self._form),
            greatest=number_text(greatest, self._form),
        )

    def turn(self, clicks: int) -> None:
        """Move the number by some clicks, as far as the dial goes."""
        number = self.number()
        start = self._dial.number if number is None else number
        moved = start + clicks * self._dial.step
        moved = min(max(moved, self._dial.least), self._dial.greatest)
        self.line_edit.setText(number_text(moved, self._form))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let up and down, and the wheel over a field in use, turn the dial by a click."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            ways = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}
            if event.key() in ways:
                self.turn(ways[Qt.Key(event.key())])
                return True
        if isinstance(event, QWheelEvent) and self.line_edit.hasFocus():
            self.turn(1 if event.angleDelta().y() > 0 else -1)
            return True
        return super().eventFilter(watched, event)
