# SPDX-License-Identifier: MIT
"""In place of the fitting while there is none to show: what is happening, or what to do first."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label

WIDTH = 640


class WaitingView(QWidget):
    """A heading, a sentence and at most one button.

    Signals
    -------
    pressed
        The button.
    """

    pressed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heading = plain_label(role="heading", wraps=True)
        self._text = plain_label(wraps=True)
        for label in (self._heading, self._text):
            label.setMaximumWidth(WIDTH)
        self.go = button("", "primary")
        self.go.clicked.connect(self.pressed)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP * 2)
        column.addStretch(1)
        column.addWidget(self._heading)
        column.addWidget(self._text)
        column.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(3)

    def show_words(self, heading: str, text: str, action: str = "") -> None:
        """Say something, with one thing to do about it if `action` names it."""
        self._heading.setText(heading)
        self._text.setText(text)
        self.go.setText(action)
        self.go.setAccessibleName(action)
        self.go.setVisible(bool(action))
        self.setAccessibleName(heading)
        self.setAccessibleDescription(text)

    def heading(self) -> str:
        """Return the heading."""
        return self._heading.text()

    def text(self) -> str:
        """Return the sentence."""
        return self._text.text()
