# SPDX-License-Identifier: MIT
"""Things side by side that go on in a new line where the width ends, as words do."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Lays its items out in lines, each as wide as it wants to be.

    Parameters
    ----------
    gap, line_gap
        Pixels between neighbours, and between lines.
    """

    def __init__(self, parent: QWidget | None = None, gap: int = 0, line_gap: int = 4) -> None:
        super().__init__(parent)
        self._gap, self._line_gap = gap, line_gap
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item, or None."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Return none: what is left over stays free."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Return True: fewer in a line, more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return how high the lines stand at a width."""
        return self._place(QRect(0, 0, width, 0), is_trial=True)

    def sizeHint(self) -> QSize:
        """Return the size of all in one line."""
        hints = [_wanted(item) for item in self._seen()]
        wide = sum(hint.width() for hint in hints) + self._gap * max(len(hints) - 1, 0)
        return QSize(wide, max((hint.height() for hint in hints), default=0))

    def minimumSize(self) -> QSize:
        """Return room for the largest of them."""
        size = QSize()
        for item in self._seen():
            size = size.expandedTo(item.minimumSize())
        return size

    def setGeometry(self, rect: QRect) -> None:
        """Place all of them."""
        super().setGeometry(rect)
        self._place(rect, is_trial=False)

    def _seen(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _place(self, rect: QRect, is_trial: bool) -> int:
        x, y, high = rect.x(), rect.y(), 0
        for item in self._seen():
            hint = _wanted(item)
            if high and x + hint.width() > rect.right() + 1:
                x, y, high = rect.x(), y + high + self._line_gap, 0
            if not is_trial:
                wide = min(hint.width(), max(rect.width(), item.minimumSize().width()))
                item.setGeometry(QRect(QPoint(x, y), QSize(wide, hint.height())))
            x += hint.width() + self._gap
            high = max(high, hint.height())
        return y + high - rect.y()


def _wanted(item: QLayoutItem) -> QSize:
    # A style sheet may ask for a pixel less than the words need.
    return item.sizeHint().expandedTo(item.minimumSize())
