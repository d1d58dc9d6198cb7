# SPDX-License-Identifier: MIT
"""The people kept here: find one, begin one, open one; erasing is asked about in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
    Signal,
)
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.person_name import clean_name
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import at_left
from fitassist.gui.ports import Library, PersonListed
from fitassist.wording.pages import say
from fitassist.wording.sentences import sentence

LINE_WIDTH = 640  # a list of names needs no more; longer lines are hard to follow

_Index = QModelIndex | QPersistentModelIndex


class PeopleModel(QAbstractListModel):
    """The people as a list; what cannot be read is there too, with a sentence."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries: tuple[PersonListed, ...] = ()

    def show_entries(self, entries: Sequence[PersonListed]) -> None:
        """Show these people, in the order given."""
        self.beginResetModel()
        self._entries = tuple(entries)
        self.endResetModel()

    def entry(self, row: int) -> PersonListed:
        """Return the person of a row."""
        return self._entries[row]

    def row_of(self, person_id: str) -> int:
        """Return the row of a person, or -1."""
        return next((i for i, e in enumerate(self._entries) if e.id == person_id), -1)

    def rowCount(self, parent: _Index | None = None) -> int:
        """Return how many people there are."""
        return 0 if parent is not None and parent.isValid() else len(self._entries)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the name, or for a damaged file the sentence about it."""
        if not index.isValid():
            return None
        entry = self._entries[index.row()]
        if role == Qt.ItemDataRole.UserRole:
            return entry.name
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            if entry.problem:
                return say("people.damaged", name=entry.name)
            if entry.has_open_fitting:
                return say("people.under_way", name=entry.name)
            return entry.name
        return None


class PeoplePage(QWidget):
    """List, search and the few things to do with a person.

    Signals
    -------
    open_asked
        The id of the person to open.
    create_asked
        The name of the person to begin.
    """

    open_asked = Signal(str)
    create_asked = Signal(str)
    erased = Signal(str)

    def __init__(self, library: Library, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._library = library
        self._model = PeopleModel(self)
        self._found = QSortFilterProxyModel(self)
        self._found.setSourceModel(self._model)
        self._found.setFilterRole(Qt.ItemDataRole.UserRole)
        self._found.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._build_empty())
        self._stack.addWidget(self._build_list())
        self._naming = self._build_naming()
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP * 2)
        column.addWidget(plain_label(say("people.heading"), "heading"))
        column.addLayout(at_left(self._naming))
        column.addWidget(self._stack, 1)
        self.reload()

    def showEvent(self, event: QShowEvent) -> None:
        """Offer the one thing to do first, where nobody is kept yet."""
        super().showEvent(event)
        if self._stack.currentIndex() == 0 and self._first.isEnabled():
            self._first.setFocus()

    # -- building -----------------------------------------------------------------------------

    def _build_empty(self) -> QWidget:
        page = QWidget()
        self._empty_text = plain_label(say("people.empty"), wraps=True)
        theme.at_most(page, LINE_WIDTH)
        self._first = button(say("people.new"), "primary")
        self._first.clicked.connect(self.begin_naming)
        column = QVBoxLayout(page)
        column.setContentsMargins(0, theme.STEP, 0, 0)
        column.setSpacing(theme.MARGIN)
        column.addWidget(self._empty_text)
        column.addWidget(self._first, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return page

    def _build_list(self) -> QWidget:
        page = QWidget()
        theme.at_most(page, LINE_WIDTH)
        self.search = QLineEdit()
        self.search.setPlaceholderText(say("people.search"))
        self.search.setAccessibleName(say("people.search"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._on_search)
        self.search.returnPressed.connect(self._open_first)
        self._new = button(say("people.new"))
        self._new.clicked.connect(self.begin_naming)
        self.list_view = QListView()
        self.list_view.setModel(self._found)
        self.list_view.setAccessibleName(say("people.list"))
        self.list_view.setUniformItemSizes(True)
        self.list_view.activated.connect(lambda _index: self._open())
        self.list_view.selectionModel().currentChanged.connect(lambda *_: self._on_current())
        self._said = plain_label(role="quiet", wraps=True)
        self._open_button = button(say("people.open"), "primary")
        self._open_button.clicked.connect(self._open)
        self._erase_button = button(say("people.erase"), "link")
        self._erase_button.clicked.connect(self._ask_erase)
        top = QHBoxLayout()
        top.setSpacing(theme.STEP)
        top.addWidget(self.search, 1)
        top.addWidget(self._new)
        self._foot = QWidget()
        foot = QHBoxLayout(self._foot)
        foot.setContentsMargins(0, 0, 0, 0)
        foot.addWidget(self._open_button)
        foot.addStretch(1)
        foot.addWidget(self._erase_button)
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addLayout(top)
        column.addWidget(self.list_view, 1)
        column.addWidget(self._said)
        column.addWidget(self._build_erasing())
        column.addWidget(self._foot)
        return page

    def _build_naming(self) -> QFrame:
        card = QFrame()
        card.setProperty("role", "card")
        theme.at_most(card, LINE_WIDTH)
        label = plain_label(say("people.name"), "label")
        self.name_edit = QLineEdit()
        self.name_edit.setAccessibleName(say("people.name"))
        label.setBuddy(self.name_edit)
        self.name_edit.returnPressed.connect(self._create)
        self._name_error = plain_label(role="error", wraps=True)
        self._name_error.hide()
        create = button(say("people.create"), "primary")
        create.clicked.connect(self._create)
        cancel = button(say("people.cancel"), "link")
        cancel.clicked.connect(self._stop_naming)
        row = QHBoxLayout()
        row.addWidget(create)
        row.addStretch(1)
        row.addWidget(cancel)
        column = QVBoxLayout(card)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        for widget in (label, self.name_edit, self._name_error):
            column.addWidget(widget)
        column.addLayout(row)
        card.hide()
        return card

    def _build_erasing(self) -> QFrame:
        card = QFrame()
        card.setProperty("role", "ask")
        self._erase_text = plain_label(wraps=True)
        self._keep = button(say("people.erase_no"))
        self._keep.clicked.connect(self._stop_erasing)
        self._erase_yes = button(say("people.erase_yes"), "link")
        self._erase_yes.clicked.connect(self._erase)
        row = QHBoxLayout()
        row.addWidget(self._keep)
        row.addStretch(1)
        row.addWidget(self._erase_yes)
        column = QVBoxLayout(card)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.addWidget(self._erase_text)
        column.addLayout(row)
        card.hide()
        self._erasing = card
        self._erasing_id = ""
        return card

    # -- what is shown ------------------------------------------------------------------------

    def reload(self, choose: str = "") -> None:
        """Read the list anew and choose a person in it."""
        keep = choose or self.current_id()
        try:
            people = self._library.people()
        except FitError as error:
            self._say(sentence(error))
            return
        self._model.show_entries(people)
        self._stack.setCurrentIndex(1 if people else 0)
        row = self._model.row_of(keep)
        index = self._found.mapFromSource(self._model.index(max(row, 0)))
        self.list_view.setCurrentIndex(index if index.isValid() else self._found.index(0, 0))
        self._on_current()

    def current_id(self) -> str:
        """Return the id of the chosen person, or an empty text."""
        entry = self._current()
        return entry.id if entry else ""

    def said(self) -> QLabel:
        """Return the line under the list where something may be said."""
        return self._said

    def show_failure(self, error: FitError) -> None:
        """Say what went wrong, where the user is looking."""
        if self._naming.isVisible():
            self._show_name_error(sentence(error))
        else:
            self._say(sentence(error))

    def _current(self) -> PersonListed | None:
        index = self._found.mapToSource(self.list_view.currentIndex())
        return self._model.entry(index.row()) if index.isValid() else None

    def _say(self, text: str) -> None:
        self._said.setText(text)
        self._said.setVisible(bool(text))

    def _on_search(self, text: str) -> None:
        self._found.setFilterFixedString(text.strip())
        if not self.list_view.currentIndex().isValid():
            self.list_view.setCurrentIndex(self._found.index(0, 0))
        self._on_current()

    def _on_current(self) -> None:
        entry = self._current()
        self._stop_erasing()
        self._open_button.setEnabled(entry is not None and entry.problem is None)
        self._erase_button.setEnabled(entry is not None)
        if entry is None:
            self._say(say("people.none_found") if self.search.text().strip() else "")
        else:
            self._say(sentence(entry.problem) if entry.problem else "")

    # -- what is done -------------------------------------------------------------------------

    def begin_naming(self) -> None:
        """Ask for the name of a new person."""
        self._naming.show()
        self._first.hide()
        self._foot.hide()
        self._new.setEnabled(False)
        self._show_name_error("")
        self.name_edit.setFocus()

    def _stop_naming(self) -> None:
        self._naming.hide()
        self._first.show()
        self._foot.show()
        self._new.setEnabled(True)
        self.name_edit.clear()
        (self._first if self._stack.currentIndex() == 0 else self._new).setFocus()

    def _create(self) -> None:
        try:
            name = clean_name(self.name_edit.text())
        except FitError as error:
            self._show_name_error(sentence(error))
            return
        self.create_asked.emit(name)

    def show_created(self, person_id: str) -> None:
        """Take the new person into the list; the name was kept."""
        self._stop_naming()
        self.search.clear()
        self.reload(person_id)

    def _show_name_error(self, text: str) -> None:
        self._name_error.setText(text)
        self._name_error.setVisible(bool(text))
        self.name_edit.setAccessibleDescription(text)

    def _open_first(self) -> None:
        if self.list_view.currentIndex().isValid():
            self._open()

    def _open(self) -> None:
        entry = self._current()
        if entry is not None and entry.problem is None:
            self.open_asked.emit(entry.id)

    def _ask_erase(self) -> None:
        entry = self._current()
        if entry is None:
            return
        self._erasing_id = entry.id
        self._erase_text.setText(say("people.erase_ask", name=entry.name))
        self._erasing.show()
        self._keep.setFocus()

    def _stop_erasing(self) -> None:
        self._erasing_id = ""
        self._erasing.hide()

    def _erase(self) -> None:
        person_id = self._erasing_id
        try:
            self._library.erase_person(person_id)
        except FitError as error:
            self._stop_erasing()
            self._say(sentence(error))
            return
        self._stop_erasing()
        self.erased.emit(person_id)
        self.reload()
