# SPDX-License-Identifier: MIT
"""A printed page on the screen: paper stays white in every look, whole or as wide as there is room.

What can be read on it is told to screen readers too.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from fitassist.gui import theme
from fitassist.gui.pdf_painter import draw_page
from fitassist.report.page import Page, Text

LEAST_PX = 160
AROUND_PX = 8


class _Sheet(QWidget):
    """One page, drawn at the size it is given."""

    def __init__(self) -> None:
        super().__init__()
        self.page: Page | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw paper and page."""
        if self.page is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = theme.palette()
        paper = QRectF(0.5, 0.5, self.width() - 1.0, self.height() - 1.0)
        painter.setPen(QPen(QColor(colours.fine), 1.0))
        painter.setBrush(QColor("#FFFFFF"))
        painter.drawRect(paper)
        draw_page(painter, self.page, self.width() / self.page.width_mm)
        painter.end()


class PagePreview(QScrollArea):
    """Shows one page of a sheet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the page turns and scrolls it by its keys
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.setMinimumSize(LEAST_PX, LEAST_PX)
        self._sheet = _Sheet()
        self._sheet.hide()
        self.setWidget(self._sheet)
        self._is_large = False

    @property
    def page(self) -> Page | None:
        """The page that is shown."""
        return self._sheet.page

    def show_page(self, page: Page | None, name: str = "") -> None:
        """Show a page; None shows nothing."""
        self._sheet.page = page
        self._sheet.setVisible(page is not None)
        words = [] if page is None else [i.text for i in page.items if isinstance(i, Text)]
        self.setAccessibleName(name)
        self.setAccessibleDescription("\n".join(words))
        self._fit()
        self._sheet.update()

    def show_large(self, is_large: bool) -> None:
        """Show the page as wide as there is room, or whole."""
        self._is_large = is_large
        self._fit()

    def scroll_by(self, pages: int) -> None:
        """Scroll a larger page by so many screens, down being above zero."""
        bar = self.verticalScrollBar()
        bar.setValue(bar.value() + pages * bar.pageStep())

    def sizeHint(self) -> QSize:
        """Return room for a page that can be read."""
        return QSize(420, 560)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the page anew."""
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Draw in the colours of another look."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._sheet.update()

    def _fit(self) -> None:
        page = self._sheet.page
        if page is None:
            return
        room = self.size() - QSize(AROUND_PX, AROUND_PX)
        bar = self.verticalScrollBar().sizeHint().width()
        wide = float(room.width() - bar)
        if not self._is_large:
            wide = min(wide, room.height() * page.width_mm / page.height_mm)
        wide = max(wide, LEAST_PX / 2)
        self._sheet.setFixedSize(round(wide), round(wide * page.height_mm / page.width_mm))
