# SPDX-License-Identifier: MIT
"""Sections of a body from above with the band round them, and the form's panels, at one scale.

The front is towards the viewer. Everything that is drawn is also said in words.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.domain.units import AnyUnit, Unit
from fitassist.gui import theme
from fitassist.session.shape_sections import Section
from fitassist.wording.language import capital
from fitassist.wording.places import line_name
from fitassist.wording.shape_words import amount, difference_text, say

Points = NDArray[np.float64]

BODY_PX, FORM_PX = 2.0, 1.75
BODY_DASHES = (6.0, 3.5)
BAND_SHARE = 0.22  # of the body's colour in the band
MOST_SCALE = 1.4  # of type in the plot: larger would leave no room to draw
SMALL_PT = 8.5  # for what stands inside a small section; it is said beside it as well
LEAST_ROOM_MM = (300.0, 220.0)
BAR_MM = {Unit.IN: (101.6, "4 in"), Unit.CM: (100.0, "10 cm"), Unit.MM: (100.0, "100 mm")}


class OutlinePlot(QWidget):
    """Draws sections side by side; a press on one chooses it.

    Signals
    -------
    chosen
        The number of the section that was pressed.
    """

    chosen = Signal(int)

    def __init__(self, columns: int = 3, named: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._columns = columns
        self._named = named
        self._unit: AnyUnit = Unit.IN
        self._sections: tuple[Section, ...] = ()
        self._chosen = -1
        self._words = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_sections(
        self, sections: Sequence[Section], unit: AnyUnit, chosen: int, words: str
    ) -> None:
        """Draw sections, one of them chosen (-1: none); `words` say the same."""
        self._sections, self._unit, self._chosen = tuple(sections), unit, chosen
        self._words = words
        self.setAccessibleName(say("outlines"))
        self.setAccessibleDescription(words)
        self.update()

    def sizeHint(self) -> QSize:
        """Return a size at which the sections can be compared at ease."""
        rows = -(-max(len(self._sections), 1) // self._columns)
        return QSize(190 * self._columns, 175 * rows)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which they can be told apart."""
        rows = -(-max(len(self._sections), 1) // self._columns)
        larger = _larger()
        return QSize(round(130 * self._columns * larger), round(130 * rows * larger))

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and sizes of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.updateGeometry()
            self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the section that is pressed."""
        for number in range(len(self._sections)):
            if self._cell(number).contains(event.position()):
                self.chosen.emit(number)

    # -- drawing ------------------------------------------------------------------------------

    def mm_per_px(self) -> float:
        """Return the one scale of all sections."""
        cell, text = self._cell(0), self._text_height()
        wide, deep = self._room_mm()
        high = max(cell.height() - (2.4 if self._named else 1.4) * text, 20.0)
        return float(max(wide / max(cell.width() - theme.STEP, 20.0), deep / high))

    def _room_mm(self) -> tuple[float, float]:
        wide, deep = LEAST_ROOM_MM
        for section in self._sections:
            shapes = [section.outer] + ([section.form.hull] if section.form else [])
            for points in shapes:
                reach = 2.04 * np.abs(points).max(axis=0)
                wide, deep = max(wide, float(reach[0])), max(deep, float(reach[1]))
        return wide, deep

    def _cell(self, number: int) -> QRectF:
        rows = -(-max(len(self._sections), 1) // self._columns)
        columns = min(self._columns, max(len(self._sections), 1))
        wide, high = self.width() / columns, (self.height() - self._text_height()) / rows
        row, column = divmod(number, columns)
        return QRectF(column * wide, row * high, wide, high)

    def _text_height(self) -> float:
        return QFontMetricsF(plot_font(self, theme.LABEL_PT)).height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint every section, and one scale bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = self.mm_per_px()
        for number, section in enumerate(self._sections):
            self._paint(painter, section, self._cell(number), scale, number)
        if self._sections:
            self._paint_bar(painter, scale)
        painter.end()

    def _paint(
        self, painter: QPainter, section: Section, cell: QRectF, scale: float, number: int
    ) -> None:
        colours, text = theme.palette(), self._text_height()
        top = cell.top() + (1.2 * text if self._named else 0.2 * text)
        middle = QPointF(cell.center().x(), (top + cell.bottom() - 1.2 * text) / 2)
        under = colours.card if not self._named else colours.page
        band = _path(section.outer, middle, scale) - _path(section.inner, middle, scale)
        painter.fillPath(band, QColor(theme.blend(under, colours.body, BAND_SHARE)))
        if section.form is not None:
            painter.setPen(plot_pen(colours.form, FORM_PX))
            for panel in section.form.panels:
                painter.drawPolyline(_polygon(panel, middle, scale))
        dashed = plot_pen(colours.body, BODY_PX)
        dashed.setDashPattern(BODY_DASHES)
        painter.setPen(dashed)
        painter.drawPath(_path(section.body, middle, scale))
        if self._named:
            is_chosen = number == self._chosen
            painter.setPen(QColor(colours.thread if is_chosen else colours.ink))
            where = QRectF(cell.left(), cell.top(), cell.width(), 1.3 * text)
            mark = "▸ " if is_chosen else ""
            name = f"{mark}{capital(line_name(section.line))}"
            painter.setFont(self._font_for(name, cell.width()))
            painter.drawText(where, Qt.AlignmentFlag.AlignCenter, name)
        self._write_inside(painter, section, middle, scale)
        if number == 0:
            self._write_labels(painter, section, middle, scale)

    def _font_for(self, name: str, wide: float) -> QFont:
        """Return the largest usual type in which a name has room; names differ by tongue."""
        for points in (theme.TEXT_PT, theme.LABEL_PT, SMALL_PT):
            font = plot_font(self, points, bold=True)
            if QFontMetricsF(font).horizontalAdvance(name) <= wide:
                break
        return font

    def _write_inside(
        self, painter: QPainter, section: Section, middle: QPointF, scale: float
    ) -> None:
        """Write how wide the band is and how the form differs, where there is room."""
        colours = theme.palette()
        texts = [(say("band", band=amount(section.band_mm, self._unit)), colours.body)]
        if section.form is not None:
            less = section.girth_mm - section.form.girth_mm
            texts.insert(0, (difference_text(less, self._unit, short=True), colours.ink))
        shapes = [section.inner] + ([section.form.hull] if section.form else [])
        broad, deep = np.min([np.ptp(points, axis=0) for points in shapes], axis=0) / scale
        for points in (theme.LABEL_PT, SMALL_PT):
            font = plot_font(self, points)
            metrics = QFontMetricsF(font)
            high = metrics.height() * len(texts)
            wide = max(metrics.horizontalAdvance(text) for text, _colour in texts)
            if (wide / broad) ** 2 + (high / deep) ** 2 < 1.0:
                break
        else:
            return
        painter.setFont(font)
        for row, (text, colour) in enumerate(texts):
            y = middle.y() - high / 2 + row * metrics.height()
            painter.setPen(QColor(colour))
            where = QRectF(middle.x() - wide, y, 2 * wide, metrics.height())
            painter.drawText(where, Qt.AlignmentFlag.AlignCenter, text)

    def _write_labels(
        self, painter: QPainter, section: Section, middle: QPointF, scale: float
    ) -> None:
        """Name front, body and form at the outlines themselves, once for all."""
        colours, text = theme.palette(), self._text_height()
        painter.setFont(plot_font(self, theme.LABEL_PT))
        half = np.abs(section.outer).max(axis=0) / scale
        low = middle.y() + float(half[1])
        painter.setPen(QColor(colours.quiet))
        where = QRectF(middle.x() - 100, low, 200, text)
        painter.drawText(where, Qt.AlignmentFlag.AlignCenter, say("front"))
        corner = 0.72 * half
        y = middle.y() + float(corner[1]) + 2
        painter.setPen(QColor(colours.body))
        at = QPointF(middle.x() + float(corner[0]), y + 0.8 * text)
        painter.drawText(at, say("body"))
        if section.form is not None:
            painter.setPen(QColor(colours.form))
            wide = QFontMetricsF(painter.font()).horizontalAdvance(say("form"))
            at = QPointF(max(middle.x() - float(corner[0]) - wide, 0.0), y + 0.8 * text)
            painter.drawText(at, say("form"))

    def _paint_bar(self, painter: QPainter, scale: float) -> None:
        """Draw the one scale bar, in the user's unit."""
        colours = theme.palette()
        length, words = BAR_MM[Unit(self._unit)]
        font = plot_font(self, theme.LABEL_PT)
        metrics = QFontMetricsF(font)
        px, y = length / scale, self.height() - 0.35 * metrics.height()
        x = 2.0
        painter.setPen(plot_pen(colours.quiet, 1.5))
        painter.drawPolyline(
            QPolygonF(
                [QPointF(x, y - 4), QPointF(x, y), QPointF(x + px, y), QPointF(x + px, y - 4)]
            )
        )
        painter.setFont(font)
        painter.drawText(QPointF(x + px + theme.STEP, y + 2), words)


def _larger() -> float:
    return min(theme.scale(), MOST_SCALE)


def plot_font(widget: QWidget, points: float, *, bold: bool = False) -> QFont:
    """Return the type of words in a plot; very large type gives way to the drawing."""
    font = QFont(widget.font())
    font.setPointSizeF(points * _larger())
    if bold:
        font.setWeight(QFont.Weight.DemiBold)
    return font


def plot_pen(colour: str, px: float) -> QPen:
    """Return the pen of an outline."""
    made = QPen(QColor(colour), px)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return made


def _polygon(points: Points, middle: QPointF, scale: float) -> QPolygonF:
    # The body's left is at the viewer's right, its front below.
    xs = middle.x() + points[:, 0] / scale
    ys = middle.y() + points[:, 1] / scale
    return QPolygonF([QPointF(x, y) for x, y in zip(xs.tolist(), ys.tolist(), strict=True)])


def _path(points: Points, middle: QPointF, scale: float) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(_polygon(points, middle, scale))
    path.closeSubpath()
    return path
