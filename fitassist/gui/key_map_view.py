# SPDX-License-Identifier: MIT
"""Which key does what, drawn as small keys with their words; it takes as many lines as it needs."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.gui import theme
from fitassist.wording.beside_words import say

APART = 3 * theme.STEP
CAP_PAD = 7.0
LINE_GAP = 6.0

Keys = Sequence[tuple[str, str]]


class KeyMapView(QWidget):
    """Keys and what they do now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keys: list[tuple[str, str]] = []
        self._points = 14.0
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(say("keys"))

    def show_keys(self, keys: Keys) -> None:
        """Show these keys, each with what it does."""
        if list(keys) == self._keys:
            return
        self._keys = list(keys)
        self.setAccessibleDescription("; ".join(f"{cap}: {words}" for cap, words in keys))
        self.updateGeometry()
        self.update()

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return the keys that are shown."""
        return tuple(self._keys)

    def set_points(self, points: float) -> None:
        """Write at this size of type."""
        self._points = points
        self.updateGeometry()
        self.update()

    def _fonts(self) -> tuple[QFont, QFont]:
        words = QFont(self.font())
        words.setPointSizeF(self._points)
        cap = QFont(words)
        cap.setWeight(QFont.Weight.DemiBold)
        return cap, words

    def _places(self, width: float) -> list[tuple[QRectF, QPointF, str, str]]:
        """Return for each key its cap, where its words begin, and both texts."""
        cap_font, words_font = self._fonts()
        caps, wide = QFontMetricsF(cap_font), QFontMetricsF(words_font)
        high = caps.height() + LINE_GAP
        found = []
        x, y = 0.0, 1.0
        for cap, words in self._keys:
            cap_wide = max(caps.horizontalAdvance(cap) + 2 * CAP_PAD, high)
            whole = cap_wide + theme.STEP + wide.horizontalAdvance(words)
            if x > 0 and x + whole > width:
                x, y = 0.0, y + high + LINE_GAP
            found.append((
                QRectF(x, y, cap_wide, high),
                QPointF(x + cap_wide + theme.STEP, y), cap, words,
            ))  # fmt: skip
            x += whole + APART
        return found

    def heightForWidth(self, width: int) -> int:
        """Return how high all lines stand at a width."""
        places = self._places(float(width))
        return round(places[-1][0].bottom() + 2) if places else 0

    def sizeHint(self) -> QSize:
        """Return the size at the width in use."""
        width = self.width() if self.width() > 200 else 1200
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(200, self.heightForWidth(max(self.width(), 200)))

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew in other colours."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the caps and the words."""
        colours = theme.palette()
        cap_font, words_font = self._fonts()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for box, at, cap, words in self._places(float(self.width())):
            painter.setPen(QPen(QColor(colours.fine), 1.2))
            painter.setBrush(QColor(colours.card))
            painter.drawRoundedRect(box.adjusted(0.6, 0.6, -0.6, -0.6), 5, 5)
            painter.setPen(QColor(colours.ink))
            painter.setFont(cap_font)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), cap)
            painter.setFont(words_font)
            room = QRectF(at.x(), box.y(), self.width(), box.height())
            left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(room, int(left), words)
        painter.end()
