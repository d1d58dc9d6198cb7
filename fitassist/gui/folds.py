# SPDX-License-Identifier: MIT
"""Room on a page: details folded under a line, pages that scroll, buttons that shorten."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLayout,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from fitassist.gui import theme
from fitassist.gui.fields import button


class Fold(QWidget):
    """A line to press, and what it unfolds."""

    def __init__(self, title: str, content: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = title
        self._content = content
        self.head = button(title, "link")
        self.head.setCheckable(True)
        self.head.setProperty("role", "fold")
        self.head.toggled.connect(self._on_toggled)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(self.head, 0, Qt.AlignmentFlag.AlignLeft)
        column.addLayout(at_left(content))
        self._on_toggled(False)

    def set_open(self, is_open: bool) -> None:
        """Fold or unfold."""
        self.head.setChecked(is_open)

    def is_open(self) -> bool:
        """Say whether the content can be seen."""
        return self.head.isChecked()

    def _on_toggled(self, is_open: bool) -> None:
        self._content.setVisible(is_open)
        self.head.setText(("\u25be  " if is_open else "\u25b8  ") + self._title.replace("&", "&&"))


def at_left(widget: QWidget) -> QHBoxLayout:
    """Return a row with a widget of limited width at its left.

    In a row the height of wrapped text is worked out for the width the widget really gets; put
    straight into a column, it is worked out for the column's width and the last line is cut off.
    """
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(widget, 1)
    row.addStretch(0)
    return row


def clear_layout(layout: QLayout) -> None:
    """Take all out of a layout; widgets are let go once their own signals have been served."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
        elif inner is not None:
            clear_layout(inner)
            inner.deleteLater()


def show_all(layout: QLayout) -> None:
    """Show every widget of a layout now, not when events are next looked at."""
    for index in range(layout.count()):
        item = layout.itemAt(index)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.show()


class ShortButton(QPushButton):
    """A button as wide as its column; a long text is shortened at its end, never cut."""

    def __init__(self, text: str, name: str = "") -> None:
        super().__init__()
        self._text = text
        self.setAutoDefault(False)
        self.setAccessibleName(name or text)
        self.setProperty("role", "begin")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shorten anew."""
        super().resizeEvent(event)
        room = self.width() - 2 * theme.STEP - theme.STEP
        short = self.fontMetrics().elidedText(self._text, Qt.TextElideMode.ElideRight, room)
        self.setText(short.replace("&", "&&"))


def scrolling(content: QWidget) -> QScrollArea:
    """Return a frameless area that scrolls its content in whichever direction it must."""
    content.setProperty("role", "page")
    content.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(content)
    return area
