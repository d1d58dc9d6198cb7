# SPDX-License-Identifier: MIT
"""Sections from above with what is to be laid: the form, the padding hatched on it, the body.

Front is down the picture, towards whoever faces the form; all sections share one scale.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.gui import theme
from fitassist.wording.language import capital
from fitassist.wording.padding_page_words import say
from fitassist.wording.places import line_name

Points = NDArray[np.float64]

SHOWN = 3
BODY_DASHES = (7.0, 4.0)


@dataclass(frozen=True)
class PaddedSection:
    """One line: closed outlines (n, 2) in mm, y to the front, and what to write below."""

    line: str
    form: Points
    padded: Points
    body: Points
    words: str


class PaddingSections(QWidget):
    """Paints up to three sections side by side."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(150)
        self.setAccessibleName(say("sections_name"))
        self._sections: tuple[PaddedSection, ...] = ()

    def show_sections(self, sections: tuple[PaddedSection, ...]) -> None:
        """Show other sections."""
        self._sections = sections[:SHOWN]
        said = [f"{capital(line_name(one.line))}: {one.words}." for one in self._sections]
        self.setAccessibleDescription(" ".join(said))
        self.update()

    @property
    def sections(self) -> tuple[PaddedSection, ...]:
        """What is shown."""
        return self._sections

    def sizeHint(self) -> QSize:
        """Return a size at which three stand side by side at ease."""
        return QSize(480, 300)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which they can be told apart."""
        return QSize(180, 150)

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and sizes of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sections in a row, or in a column where the widget is high."""
        if not self._sections:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        font = theme.interface_font(theme.scale())
        font.setPointSizeF(theme.points(theme.LABEL_PT))
        painter.setFont(font)
        text = QFontMetricsF(font).height()
        count = len(self._sections)
        is_column = self.height() > 1.2 * self.width()
        wide = self.width() if is_column else self.width() / count
        high = self.height() / count if is_column else self.height()
        spans = [np.ptp(p, axis=0) for one in self._sections for p in (one.body, one.form)]
        size = max(float(span[0]) for span in spans)
        deep = max(float(span[1]) for span in spans)
        scale = min((wide - 12.0) / size, (high - 3.2 * text) / deep)
        for number, one in enumerate(self._sections):
            x, y = (0.0, number * high) if is_column else (number * wide, 0.0)
            self._paint_one(painter, one, QRectF(x, y, wide, high), scale, text)
        painter.end()

    def _paint_one(
        self, painter: QPainter, one: PaddedSection, cell: QRectF, scale: float, text: float
    ) -> None:
        colours = theme.palette()
        middle = QPointF(cell.center().x(), cell.center().y() - text * 0.4)
        form, padded, body = (
            _polygon(points, middle, scale) for points in (one.form, one.padded, one.body)
        )
        between = QPainterPath()
        between.addPolygon(padded)
        inner = QPainterPath()
        inner.addPolygon(form)
        pad = QColor(colours.pad)
        painter.setPen(QPen(pad, 1.0))
        tint = QColor(pad)
        tint.setAlphaF(0.18)
        laid = between.subtracted(inner)
        painter.setBrush(QBrush(tint))
        painter.drawPath(laid)
        painter.setBrush(QBrush(pad, Qt.BrushStyle.BDiagPattern))
        painter.drawPath(laid)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(colours.form), 1.5))
        painter.drawPolygon(form)
        dashed = QPen(QColor(colours.body), 2.0)
        dashed.setDashPattern(list(BODY_DASHES))
        painter.setPen(dashed)
        painter.drawPolygon(body)
        align = Qt.AlignmentFlag
        painter.setPen(QColor(colours.ink))
        box = form.boundingRect()
        painter.drawText(box, align.AlignCenter, capital(line_name(one.line)))
        low = max(body.boundingRect().bottom(), form.boundingRect().bottom())
        foot = QRectF(cell.left(), low + 2.0, cell.width(), 1.3 * text)
        inks = {say("enough"): colours.good, say("out"): colours.out}
        painter.setPen(QColor(inks.get(one.words, colours.pad)))
        painter.drawText(foot, align.AlignCenter, one.words)


def _polygon(points: Points, middle: QPointF, scale: float) -> QPolygonF:
    return QPolygonF(
        [QPointF(middle.x() + scale * x, middle.y() + scale * y) for x, y in points.tolist()]
    )
