# SPDX-License-Identifier: MIT
"""The pages, one shown at a time, that can be scrolled where the screen is smaller than a page."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QScrollArea, QStackedWidget, QWidget

from fitassist.gui.folds import scrolling


class PageStack(QStackedWidget):
    """Needs as much room as the page that is shown, not as the largest of all."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.currentChanged.connect(lambda _index: self.updateGeometry())

    def minimumSizeHint(self) -> QSize:
        """Return what the page that is shown needs at least."""
        shown = self.currentWidget()
        return shown.minimumSizeHint() if shown is not None else QSize()

    def sizeHint(self) -> QSize:
        """Return the same: more is given by the window."""
        return self.minimumSizeHint()


def scrolled(stack: PageStack) -> QScrollArea:
    """Return the pages in an area that scrolls only where a page does not fit."""
    return scrolling(stack)
