# SPDX-License-Identifier: MIT
"""Asks for a name: of a new person, or of a copy."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from fitassist.domain.person_name import clean_name
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.wording.pages import say
from fitassist.wording.sentences import sentence

WIDTH = 640


class NamingCard(QFrame):
    """One field; what was typed stays until it was kept.

    Signals
    -------
    named
        The name, cleaned.
    left
        Not now.
    """

    named = Signal(str)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        theme.at_most(self, WIDTH)
        label = plain_label(say("people.name"), "label")
        self._why = plain_label(role="quiet", wraps=True)
        self.name_edit = QLineEdit()
        self.name_edit.setAccessibleName(say("people.name"))
        label.setBuddy(self.name_edit)
        self.name_edit.returnPressed.connect(self._name)
        self._error = plain_label(role="error", wraps=True)
        self._error.hide()
        self._create = button(say("people.create"), "primary")
        self._create.clicked.connect(self._name)
        cancel = button(say("people.cancel"), "link")
        cancel.clicked.connect(self.left)
        row = QHBoxLayout()
        row.addWidget(self._create)
        row.addStretch(1)
        row.addWidget(cancel)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        for widget in (label, self._why, self.name_edit, self._error):
            column.addWidget(widget)
        column.addLayout(row)
        self.hide()

    def begin(self, words: str, name: str = "", why: str = "") -> None:
        """Ask, with the words of the button, a name to begin from and what it is for."""
        self._create.setText(words)
        self._create.setAccessibleName(words)
        self._why.setText(why)
        self._why.setVisible(bool(why))
        self.show_error("")
        self.name_edit.setText(name)
        self.show()
        self.name_edit.setFocus()
        self.name_edit.selectAll()

    def show_error(self, text: str) -> None:
        """Say under the field why the name was not kept."""
        self._error.setText(text)
        self._error.setVisible(bool(text))
        self.name_edit.setAccessibleDescription(text)

    def _name(self) -> None:
        try:
            name = clean_name(self.name_edit.text())
        except FitError as error:
            self.show_error(sentence(error))
            return
        self.named.emit(name)
