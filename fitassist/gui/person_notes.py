# SPDX-License-Identifier: MIT
"""A person's name and free notes, folded away until wanted."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from fitassist.domain.person_name import clean_name
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import Fold
from fitassist.wording.pages import say
from fitassist.wording.sentences import sentence

LINES = 5
WIDTH = 640


class PersonNotes(QWidget):
    """Name and notes, each kept by its own button or by Enter.

    Signals
    -------
    named, noted
        The new text, cleaned.
    """

    named = Signal(str)
    noted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = ""
        self._notes = ""
        self.name_edit = QLineEdit()
        self.name_edit.setAccessibleName(say("people.name"))
        self.name_edit.textChanged.connect(self._on_changed)
        self.name_edit.returnPressed.connect(self._keep_name)
        self.keep_name = button(say("measure.rename"))
        self.keep_name.clicked.connect(self._keep_name)
        self.notes_edit = QPlainTextEdit()
        self.notes_edit.setAccessibleName(say("measure.notes"))
        self.notes_edit.setTabChangesFocus(True)
        self.notes_edit.setFixedHeight(self.notes_edit.fontMetrics().lineSpacing() * LINES + 16)
        self.notes_edit.textChanged.connect(self._on_changed)
        self.keep_notes = button(say("measure.keep_notes"))
        self.keep_notes.clicked.connect(self._keep_notes)
        self._error = plain_label(role="error", wraps=True)
        inside = QWidget()
        theme.at_most(inside, WIDTH)
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("people.name"), "label"))
        row = QHBoxLayout()
        row.addWidget(self.name_edit, 1)
        row.addWidget(self.keep_name)
        column.addLayout(row)
        column.addWidget(plain_label(say("measure.notes"), "label"))
        column.addWidget(self.notes_edit)
        column.addWidget(self.keep_notes, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._error)
        self.fold = Fold(say("measure.name_notes"), inside)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.fold)
        self.show_failure("")

    def show_person(self, name: str, notes: str, can_change: bool) -> None:
        """Show what is kept; what is being typed is left alone."""
        if name != self._name:
            self._name = name
            if self.name_edit.text() != name:
                self.name_edit.setText(name)
        if notes != self._notes:
            self._notes = notes
            if self.notes_edit.toPlainText() != notes:
                self.notes_edit.setPlainText(notes)
        self.name_edit.setReadOnly(not can_change)
        self.notes_edit.setReadOnly(not can_change)
        self._on_changed()

    def show_failure(self, text: str) -> None:
        """Say why something was not kept; what was typed stays."""
        self._error.setText(text)
        self._error.setVisible(bool(text))

    def keep_pending(self) -> None:
        """Keep notes that were typed and not yet kept."""
        if not self.notes_edit.isReadOnly() and self.notes_edit.toPlainText() != self._notes:
            self._keep_notes()

    def _on_changed(self) -> None:
        self.keep_name.setEnabled(self.name_edit.text() != self._name)
        self.keep_notes.setEnabled(self.notes_edit.toPlainText() != self._notes)

    def _keep_name(self) -> None:
        try:
            name = clean_name(self.name_edit.text())
        except FitError as error:
            self.show_failure(sentence(error))
            return
        self.name_edit.setText(name)
        if name != self._name:
            self.named.emit(name)

    def _keep_notes(self) -> None:
        self.noted.emit(self.notes_edit.toPlainText())
