# SPDX-License-Identifier: MIT
"""Help inside the window: all pages in a list, a search over them, and the one that is read."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import at_left, scrolling
from fitassist.gui.topic_view import WIDTH, TopicView
from fitassist.gui.tour_view import TourView
from fitassist.wording.help_search import find, heading, topic, topic_of_place
from fitassist.wording.help_words import say
from fitassist.wording.pages import say as say_page

LIST_WIDTH = 300
_KEY = Qt.ItemDataRole.UserRole


class HelpPage(QWidget):
    """Search, list and text.

    Signals
    -------
    back_asked
        The place the user came from is wanted again.
    tour_left
        The first screens have been left or gone through.
    """

    back_asked = Signal(str)
    tour_left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self.setAccessibleName(say("page"))
        self._from = ""
        self.search = QLineEdit()
        self.search.setPlaceholderText(say("search"))
        self.search.setAccessibleName(say("search"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._on_search)
        self.search.returnPressed.connect(self._to_list)
        self.list = QListWidget()
        self.list.setAccessibleName(say("list"))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentItemChanged.connect(self._on_item)
        self._none = plain_label(say("none"), "quiet", wraps=True)
        self.text = TopicView()
        self.back = button("", "link")
        self.back.clicked.connect(self._on_back)
        self.tour = button(say("tour"), "link")
        self.tour.clicked.connect(self.show_tour)
        self.screens = TourView()
        self.screens.left.connect(self._on_tour_left)
        self._lay_out()
        self.show_from("")

    def _lay_out(self) -> None:
        read = QWidget()
        theme.at_most(read, WIDTH + 2 * theme.MARGIN)
        inside = QVBoxLayout(read)
        inside.setContentsMargins(theme.STEP, 0, theme.MARGIN, theme.MARGIN)
        inside.addWidget(self.text)
        holder = QWidget()
        holder.setLayout(at_left(read))
        self._list_side = QWidget()
        theme.exactly(self._list_side, LIST_WIDTH)
        side = QVBoxLayout(self._list_side)
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(theme.STEP)
        side.addWidget(self.search)
        side.addWidget(self._none)
        side.addWidget(self.list, 1)
        ways = FlowLayout(gap=theme.STEP)
        ways.addWidget(self.back)
        ways.addWidget(self.tour)
        pages = QWidget()
        self._stack = QStackedWidget()
        self._stack.addWidget(pages)
        self._stack.addWidget(self.screens)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._stack)
        grid = QGridLayout(pages)
        grid.setContentsMargins(*(theme.MARGIN,) * 4)
        grid.setHorizontalSpacing(theme.MARGIN)
        grid.setVerticalSpacing(theme.STEP)
        grid.addLayout(ways, 0, 0, 1, 2)
        grid.addWidget(self._list_side, 1, 0)
        grid.addWidget(scrolling(holder), 1, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(1, 1)

    # -- what is shown ------------------------------------------------------------------------

    def show_from(self, place: str) -> None:
        """Show the help of a place, and the way back to it; without one, the help about help."""
        self._stack.setCurrentIndex(0)
        self._from = place if place != "help" else self._from
        self.search.clear()
        self._fill("")
        words = say("back", place=say_page(f"place.{self._from}")) if self._from else ""
        self.back.setText(words)
        self.back.setAccessibleName(words)
        self.back.setVisible(bool(self._from))
        self.show_topic(topic_of_place(self._from or "help").key)

    def show_topic(self, key: str) -> None:
        """Show a page of help and mark it in the list."""
        self.text.show_topic(topic(key))
        for row in range(self.list.count()):
            if self.list.item(row).data(_KEY) == key:
                self.list.setCurrentRow(row)

    def show_tour(self) -> None:
        """Show the first screens, from the first on."""
        self._stack.setCurrentWidget(self.screens)
        self.screens.show_screen(0)
        self.screens.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def is_touring(self) -> bool:
        """Whether the first screens are shown."""
        return self._stack.currentWidget() is self.screens

    def _on_tour_left(self) -> None:
        self._stack.setCurrentIndex(0)
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.tour_left.emit()

    def found(self) -> tuple[str, ...]:
        """Return the keys of what the list holds."""
        every = (self.list.item(row).data(_KEY) for row in range(self.list.count()))
        return tuple(key for key in every if key)

    def _fill(self, text: str) -> None:
        self.list.blockSignals(True)
        self.list.clear()
        groups = find(text)
        for name, topics in groups:
            title = QListWidgetItem(name)
            title.setFlags(Qt.ItemFlag.NoItemFlags)
            font = self.list.font()
            font.setBold(True)
            title.setFont(font)
            self.list.addItem(title)
            for one in topics:
                item = QListWidgetItem(heading(one))
                item.setData(_KEY, one.key)
                self.list.addItem(item)
        self.list.blockSignals(False)
        self._none.setVisible(not groups)

    def _on_search(self, text: str) -> None:
        self._fill(text)
        shown = self.text.topic.key if self.text.topic else ""
        keys = self.found()
        if keys:
            self.show_topic(shown if shown in keys and not text.strip() else keys[0])

    def _on_item(self, item: QListWidgetItem | None) -> None:
        key = item.data(_KEY) if item is not None else None
        if key:
            self.text.show_topic(topic(key))

    # -- keys ---------------------------------------------------------------------------------

    def _to_list(self) -> None:
        if self.found():
            self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_back(self) -> None:
        if self._from:
            self.back_asked.emit(self._from)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to where one came from."""
        if event.key() == Qt.Key.Key_Escape and self._from:
            event.accept()
            self._on_back()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on to the search."""
        super().focusInEvent(event)
        if self.is_touring:
            self.screens.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.search.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin where one types what one looks for."""
        super().showEvent(event)
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the list give way on a narrow window."""
        super().resizeEvent(event)
        self._list_side.setFixedWidth(min(theme.wide(LIST_WIDTH), self.width() * 2 // 5))
