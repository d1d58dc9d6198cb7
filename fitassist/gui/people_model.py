# SPDX-License-Identifier: MIT
"""The people as rows of a table: thousands of them found and sorted while one types.

Nothing is made per row but plain texts, and those only once they are wanted.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
from typing import Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from fitassist.gui.people_ports import PersonRow
from fitassist.wording.pages import say as page_say
from fitassist.wording.people_words import day_text, say

Index = QModelIndex | QPersistentModelIndex
_Role = Qt.ItemDataRole

COLUMNS: Final = ("name", "tags", "measured", "fitted", "fitting")
WHICH: Final = ("in_use", "away", "all")


def plain_key(text: str) -> str:
    """Return a text as it is searched: small letters without marks over or under them."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in parts if not unicodedata.combining(char))


class PeopleModel(QAbstractTableModel):
    """The people that are found, in the order wanted; what cannot be read is there too."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._people: tuple[PersonRow, ...] = ()
        self._rows: list[PersonRow] = []
        self._keys: dict[str, str] = {}  # by id, what is searched
        self._words: tuple[str, ...] = ()
        self._which = "in_use"
        self._column = -1
        self._descending = False

    # -- what is shown ------------------------------------------------------------------------

    def show_people(self, people: Sequence[PersonRow]) -> None:
        """Show these people; their order counts where no column is sorted by."""
        self._keys = {}
        self._people = tuple(people)
        self._find()

    def search(self, text: str) -> None:
        """Show those with every word of a text in their name or tags."""
        self._words = tuple(plain_key(text).split())
        self._find()

    def show_which(self, which: str) -> None:
        """Show those in use, those put away, or all."""
        self._which = which
        self._find()

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column; -1: the last changed first."""
        self._column = column
        self._descending = order == Qt.SortOrder.DescendingOrder
        self._find()

    def person(self, row: int) -> PersonRow:
        """Return the person of a row."""
        return self._rows[row]

    def row_of(self, person_id: str) -> int:
        """Return the row of a person, or -1."""
        return next((i for i, e in enumerate(self._rows) if e.id == person_id), -1)

    def everybody(self) -> tuple[PersonRow, ...]:
        """Return all people, found or not."""
        return self._people

    def _find(self) -> None:
        rows = [one for one in self._people if self._is_wanted(one)]
        if self._words:
            words = self._words
            keys = [self._key(one) for one in rows]
            rows = [one for one, key in zip(rows, keys, strict=True)
                    if all(word in key for word in words)]  # fmt: skip
        self.beginResetModel()
        self._rows = self._sorted(rows)
        self.endResetModel()

    def _is_wanted(self, one: PersonRow) -> bool:
        if self._which == "all" or one.problem is not None:
            return True
        return one.archived == (self._which == "away")

    def _key(self, one: PersonRow) -> str:
        key = self._keys.get(one.id)
        if key is None:
            key = self._keys[one.id] = plain_key(" ".join((one.name, *one.tags)))
        return key

    def _sorted(self, rows: list[PersonRow]) -> list[PersonRow]:
        if not 0 <= self._column < len(COLUMNS):
            return rows
        key = _SORT_KEYS[COLUMNS[self._column]]
        return sorted(rows, key=key, reverse=self._descending)

    # -- Qt -----------------------------------------------------------------------------------

    def rowCount(self, parent: Index | None = None) -> int:
        """Return how many people are found."""
        return 0 if parent is not None and parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index | None = None) -> int:
        """Return how many columns there are."""
        return 0 if parent is not None and parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = _Role.DisplayRole) -> object:
        """Return the text of a cell; to a screen reader the first cell says the whole row."""
        if not index.isValid():
            return None
        one = self._rows[index.row()]
        if role in (_Role.DisplayRole, _Role.ToolTipRole):
            return cell_text(one, COLUMNS[index.column()])
        if role == _Role.AccessibleTextRole:
            if index.column():
                return cell_text(one, COLUMNS[index.column()])
            return ", ".join(text for column in COLUMNS if (text := cell_text(one, column)))
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole
    ) -> object:
        """Return the head of a column."""
        if orientation == Qt.Orientation.Horizontal and role == _Role.DisplayRole:
            return say(f"column.{COLUMNS[section]}")
        return None


def cell_text(one: PersonRow, column: str) -> str:
    """Return what stands in a cell."""
    if column == "name":
        return page_say("people.damaged", name=one.name) if one.problem else one.name
    if column == "tags":
        return ", ".join(one.tags)
    if column == "measured":
        return day_text(one.last_measured) if one.last_measured else ""
    if column == "fitted":
        return day_text(one.last_fitted) if one.last_fitted else ""
    return fitting_text(one)


def fitting_text(one: PersonRow) -> str:
    """Return how the last fitting stands, or an empty text."""
    if one.problem is not None:
        return say("unreadable")
    if one.has_open_fitting:
        return say("under_way")
    return say("finished") if one.is_finished else ""


_SORT_KEYS: Final[dict[str, Callable[[PersonRow], Any]]] = {
    "name": lambda one: plain_key(one.name),
    "tags": lambda one: plain_key(" ".join(one.tags)),
    "measured": lambda one: one.last_measured,
    "fitted": lambda one: one.last_fitted,
    "fitting": lambda one: (one.has_open_fitting, one.is_finished),
}
