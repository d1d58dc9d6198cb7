# SPDX-License-Identifier: MIT
"""Describing one body of a person: what it is called, whose it is, what is worn under the tape."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from fitassist.domain.person_name import clean_name
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.session.events import BodyDescribed
from fitassist.session.person import BodyState
from fitassist.wording.body_words import kinds
from fitassist.wording.pages import say
from fitassist.wording.sentences import sentence

WIDTH = 640


class BodyCard(QFrame):
    """A small form about one body.

    Signals
    -------
    described
        The ``BodyDescribed`` the user means.
    left
        The user would rather not.
    """

    described = Signal(object)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        theme.at_most(self, WIDTH)
        self._body_id = ""
        self._depth = "quick"
        self._intro = plain_label(wraps=True)
        self.name_edit = QLineEdit()
        self.kind_row = ChoiceRow(say("body.kind"), kinds())
        self.under_edit = QLineEdit()
        self.under_edit.setPlaceholderText(say("body.under_example"))
        self._error = plain_label(role="error", wraps=True)
        self.done = button(say("body.begin"), "primary")
        self.done.clicked.connect(self._finish)
        self.cancel = button(say("people.cancel"), "link")
        self.cancel.clicked.connect(self.left)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        column.addWidget(self._intro)
        self._ready_names = self._build_ready_names()
        for key, widget in (
            ("body.name", self.name_edit),
            ("body.kind", self.kind_row),
            ("body.under", self.under_edit),
        ):
            label = plain_label(say(key), "label")
            label.setBuddy(widget)
            widget.setAccessibleName(say(key))
            column.addWidget(label)
            column.addWidget(widget)
            if widget is self.name_edit:
                column.addWidget(self._error)
                column.addWidget(self._ready_names)
        for edit in (self.name_edit, self.under_edit):
            edit.returnPressed.connect(self._finish)
        row = QHBoxLayout()
        row.addWidget(self.done)
        row.addStretch(1)
        row.addWidget(self.cancel)
        column.addSpacing(theme.STEP)
        column.addLayout(row)

    def _build_ready_names(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for key in ("body.everyday", "body.corset", "body.pads"):
            made = button(say(key), "link")
            made.clicked.connect(lambda _on=False, key=key: self.name_edit.setText(say(key)))
            row.addWidget(made)
        row.addStretch(1)
        return holder

    def begin(self, body_id: str, first: bool) -> None:
        """Ask about a new body."""
        self._body_id = body_id
        self._depth = "quick"
        self._intro.setText(say("body.first") if first else say("body.another_why"))
        self.name_edit.setText(say("body.everyday") if first else "")
        self.under_edit.clear()
        self.kind_row.set_value("woman")
        self._ready_names.setVisible(not first)
        self.cancel.setVisible(not first)
        self.done.setText(say("body.begin"))
        self._show_error("")

    def change(self, body: BodyState) -> None:
        """Ask about a body that was described before."""
        self.begin(body.body_id, first=False)
        self._depth = body.depth
        self._intro.setText(say("body.change_why"))
        self.name_edit.setText(body.name)
        self.under_edit.setText(body.undergarment)
        self.kind_row.set_value(body.kind)
        self._ready_names.hide()
        self.done.setText(say("body.change"))

    def show_failure(self, text: str) -> None:
        """Say why it could not be kept; what was typed stays."""
        self._show_error(text)

    def _show_error(self, text: str) -> None:
        self._error.setText(text)
        self._error.setVisible(bool(text))
        self.name_edit.setAccessibleDescription(text)

    def _finish(self) -> None:
        try:
            name = clean_name(self.name_edit.text())
        except FitError as error:
            self._show_error(sentence(error))
            self.name_edit.setFocus()
            return
        self._show_error("")
        self.described.emit(
            BodyDescribed.model_validate(
                {
                    "body_id": self._body_id,
                    "name": name,
                    "body_kind": self.kind_row.value(),
                    "undergarment": " ".join(self.under_edit.text().split()),
                    "depth": self._depth,
                }
            )
        )
