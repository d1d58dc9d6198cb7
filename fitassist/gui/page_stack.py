# SPDX-License-Identifier: MIT
"""The pages, one shown at a time, that can be scrolled where the screen is smaller than a window.

Pages know how to live in the least window; only in less than that they are moved about.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QStackedWidget


class PagesArea(QScrollArea):
    """Gives the pages all the room there is, and at least so much.

    Parameters
    ----------
    pages
        The stack of pages.
    least
        The room they need, in pixels.
    """

    def __init__(self, pages: QStackedWidget, least: QSize) -> None:
        super().__init__()
        self._pages = pages
        self._least = least
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        # Not by Qt's own rule, which gives a page the height all its wrapped words ask for.
        self.setWidgetResizable(False)
        self.setWidget(pages)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the pages their room anew."""
        super().resizeEvent(event)
        self._pages.resize(self.viewport().size().expandedTo(self._least))
