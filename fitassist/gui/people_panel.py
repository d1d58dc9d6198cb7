# SPDX-License-Identifier: MIT
"""What stands in the place of the list while one thing is done: heading, reason, way back."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.wording.people_words import say
from fitassist.wording.sentences import sentence

WIDTH = 1200


class PeoplePanel(QWidget):
    """A panel over the list.

    Signals
    -------
    left
        Back to the list; with the id of the person to choose there, or an empty text.
    """

    left = Signal(str)

    def __init__(self, why: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme.at_most(self, WIDTH)
        self.heading = plain_label(role="title", wraps=True)
        self._why = plain_label(why, "quiet", wraps=True)
        if not why:
            self._why.hide()
        self._said = plain_label(wraps=True)
        self._said.hide()
        self.back = button(say("back"), "link")
        self.back.clicked.connect(self.leave)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(theme.STEP)
        top = QHBoxLayout()
        top.addWidget(self.heading, 1)
        top.addWidget(self.back)
        self.column.addLayout(top)
        self.column.addWidget(self._why)

    def end(self, *widgets: QWidget) -> None:
        """Put a row of buttons and what is said under everything else."""
        self.column.addWidget(self._said)
        row = QHBoxLayout()
        row.setSpacing(theme.STEP)
        for widget in widgets:
            row.addWidget(widget)
        row.addStretch(1)
        self.column.addLayout(row)

    def leave(self) -> None:
        """Go back to the list."""
        self.left.emit("")

    def say(self, text: str) -> None:
        """Say something under everything; an empty text goes away."""
        self._said.setText(text)
        self._said.setVisible(bool(text))

    def said(self) -> str:
        """Return what is said."""
        return self._said.text()

    def fail(self, error: FitError) -> None:
        """Say what went wrong."""
        self.say(sentence(error))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to the list."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
            return
        super().keyPressEvent(event)


class PlainTable(QTableWidget):
    """Rows of texts to look at or to choose one of."""

    def __init__(self, name: str, heads: Sequence[str], stretch: int = 0) -> None:
        super().__init__(0, len(heads))
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(list(heads))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(theme.TARGET)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(stretch, QHeaderView.ResizeMode.Stretch)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show these rows."""
        self.setRowCount(len(rows))
        for y, row in enumerate(rows):
            for x, text in enumerate(row):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.setItem(y, x, item)
        if rows:
            self.selectRow(0)

    def texts(self) -> list[list[str]]:
        """Return what is shown."""
        return [
            [item.text() if (item := self.item(y, x)) else "" for x in range(self.columnCount())]
            for y in range(self.rowCount())
        ]
