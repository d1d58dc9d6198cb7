# SPDX-License-Identifier: MIT
"""Said in the first minute: what this form can never do for this body; put away, not lost."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from fitassist.domain.steps import Note
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.wording import reasons
from fitassist.wording.fitting_words import say


class NeverStrip(QFrame):
    """A few plain sentences above the instruction.

    Signals
    -------
    put_away
        The user has read it.
    """

    put_away = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "ask")
        self.setAccessibleName(say("never"))
        self._text = plain_label(wraps=True)
        self.away = button(say("never_hide"), "link")
        self.away.clicked.connect(self._on_away)
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.STEP * 2, theme.HALF, theme.STEP, theme.HALF)
        row.addWidget(self._text, 1)
        row.addWidget(self.away, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def show_notes(self, notes: Sequence[Note], unit: AnyUnit) -> None:
        """Say the notes; without any, the strip is not there."""
        text = "\n".join(reasons.note(note, unit) for note in notes)
        self._text.setText(text)
        self.setAccessibleDescription(text)
        self.setVisible(bool(notes))

    def text(self) -> str:
        """Return what is said."""
        return self._text.text()

    def _on_away(self) -> None:
        self.hide()
        self.put_away.emit()
