# SPDX-License-Identifier: MIT
"""The table of people with its search: thousands of rows, of which only those seen are made."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QTableView, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.people_model import WHICH, PeopleModel
from fitassist.gui.people_ports import PersonRow
from fitassist.gui.people_table import dress_table, fit_columns
from fitassist.wording.pages import say as page_say
from fitassist.wording.people_words import say


class PeopleList(QWidget):
    """Search, which people, and the table.

    Signals
    -------
    current_changed
        Another person is chosen, or nobody.
    opened
        Enter or a double click.
    new_asked, in_asked, out_asked
        A new person, a table brought in, all taken out.
    """

    current_changed = Signal()
    opened = Signal()
    new_asked = Signal()
    in_asked = Signal()
    out_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._n_unread = 0
        self.model = PeopleModel(self)
        self.search = QLineEdit()
        self.search.setPlaceholderText(say("search"))
        self.search.setAccessibleName(say("search"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._on_search)
        self.search.returnPressed.connect(self.opened)
        self.new_button = button(page_say("people.new"))
        self.new_button.clicked.connect(self.new_asked)
        self.which = ChoiceRow(say("which"), [(one, say(f"which.{one}")) for one in WHICH])
        self.which.chosen.connect(self._on_which)
        self._count = plain_label(role="quiet")
        self.list_view = QTableView()
        dress_table(self.list_view, self.model, page_say("people.list"))
        self.model.modelReset.connect(self._on_reset)
        self.list_view.activated.connect(lambda _index: self.opened.emit())
        chosen = self.list_view.selectionModel().currentChanged
        chosen.connect(lambda *_: self.current_changed.emit())
        self.in_button = button(say("bring_in"), "link")
        self.in_button.clicked.connect(self.in_asked)
        self.out_button = button(say("take_out_all"), "link")
        self.out_button.clicked.connect(self.out_asked)
        self._lay_out()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(theme.STEP)
        top.addWidget(self.search, 1)
        top.addWidget(self.new_button)
        under = QHBoxLayout()
        under.addWidget(self.which)
        under.addSpacing(theme.STEP)
        under.addWidget(self._count)
        under.addStretch(1)
        foot = QHBoxLayout()
        for way in (self.in_button, self.out_button):
            foot.addWidget(way)
        foot.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addLayout(top)
        column.addLayout(under)
        column.addWidget(self.list_view, 1)
        column.addLayout(foot)

    def changeEvent(self, event: QEvent) -> None:
        """Give the table room for larger type."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "list_view"):
            fit_columns(self.list_view)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as many columns as there is room for."""
        super().resizeEvent(event)
        fit_columns(self.list_view)

    def show_people(self, people: Sequence[PersonRow], n_unread: int, choose: str) -> None:
        """Show these people and choose one; so many more are still to be read."""
        self._n_unread = n_unread
        self.model.show_people(people)
        self.choose(choose)

    def choose(self, person_id: str) -> None:
        """Choose a person, or the first where that one is not found."""
        row = self.model.row_of(person_id)
        index = self.model.index(max(row, 0), 0)
        if index.isValid():
            self.list_view.setCurrentIndex(index)

    def current(self) -> PersonRow | None:
        """Return the chosen person, or None."""
        index = self.list_view.currentIndex()
        return self.model.person(index.row()) if index.isValid() else None

    def current_id(self) -> str:
        """Return the id of the chosen person, or an empty text."""
        entry = self.current()
        return entry.id if entry else ""

    def is_searching(self) -> bool:
        """Say whether something is looked for."""
        return bool(self.search.text().strip())

    def _on_search(self, text: str) -> None:
        keep = self.current_id()
        self.model.search(text)
        self.choose(keep)
        self.current_changed.emit()

    def _on_which(self, which: str) -> None:
        keep = self.current_id()
        self.model.show_which(which)
        self.choose(keep)
        self.current_changed.emit()

    def _on_reset(self) -> None:
        shown, known = self.model.rowCount(), len(self.model.everybody())
        text = say("counted", shown=shown, all=known)
        if self._n_unread:
            text = say("reading", done=known, all=known + self._n_unread)
        self._count.setText(text)
