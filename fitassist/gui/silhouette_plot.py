# SPDX-License-Identifier: MIT
"""Body and form stacked by height, from the front and from the body's left, with a level line.

Where lengths tell how the body is carried, a plumb thread hangs in the side view.
Both views share one scale and one height; a press chooses the height.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.geometry.silhouette import Silhouette
from fitassist.gui import theme
from fitassist.gui.outline_plot import (
    BAND_SHARE,
    BODY_DASHES,
    BODY_PX,
    FORM_PX,
    Points,
    plot_font,
    plot_pen,
)
from fitassist.session.posture import Carriage
from fitassist.session.shape_sections import Section, Silhouettes
from fitassist.wording.language import capital
from fitassist.wording.places import line_name
from fitassist.wording.shape_words import say

APART_MM = 30.0
EDGE_MM = 12.0
BOB_PX = 3.5
Edges = tuple[Points, Points]  # what is at the left and at the right of a view


class SilhouettePlot(QWidget):
    """Draws front and side view of a body, its band and a form.

    Signals
    -------
    height_chosen
        The height that was pressed, mm above the waist.
    reach_changed
        Pixels from the top of the widget to the highest line, and from the lowest to the bottom.
    """

    height_chosen = Signal(float)
    reach_changed = Signal(int, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._views: Silhouettes | None = None
        self._lines: tuple[Section, ...] = ()
        self._height_mm = 0.0
        self._carriage: Carriage | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_views(
        self,
        views: Silhouettes | None,
        lines: tuple[Section, ...],
        height_mm: float,
        words: str,
        carriage: Carriage | None = None,
    ) -> None:
        """Draw silhouettes with a level line at a height; `words` say the same.

        A plumb thread is drawn where it is known how the body is carried.
        """
        self._views, self._lines, self._height_mm = views, lines, height_mm
        self._carriage = carriage
        self.setAccessibleName(say("silhouettes"))
        self.setAccessibleDescription(words)
        self._tell_reach()
        self.update()

    def set_height(self, height_mm: float) -> None:
        """Move the level line."""
        self._height_mm = height_mm
        self.update()

    def sizeHint(self) -> QSize:
        """Return a size at which both views can be seen at ease."""
        return QSize(430, 350)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which they can be told apart."""
        return QSize(300, 260)

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and sizes of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the height that is pressed."""
        if self._views is not None:
            self.height_chosen.emit(self._to_mm(event.position().y()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell where the lines lie now."""
        super().resizeEvent(event)
        self._tell_reach()

    def _tell_reach(self) -> None:
        if self._lines and self._views is not None:
            scale = self.mm_per_px()
            top = float(self._y(self._lines[0].height_mm, scale))
            bottom = float(self._y(self._lines[-1].height_mm, scale))
            self.reach_changed.emit(round(top), round(self.height() - bottom))

    # -- where things lie ---------------------------------------------------------------------

    def _names_px(self) -> float:
        """Return the width of the names of the lines, at the left."""
        metrics = QFontMetricsF(plot_font(self, theme.LABEL_PT))
        names = [capital(line_name(section.line)) for section in self._lines]
        return max((metrics.horizontalAdvance(name) for name in names), default=0.0) + theme.STEP

    def _text_height(self) -> float:
        return QFontMetricsF(plot_font(self, theme.LABEL_PT)).height()

    def _bounds(self) -> tuple[float, float, float, float]:
        """Return lowest and highest, and how broad and how deep everything is, mm."""
        assert self._views is not None
        shown = [self._views.outer] + ([self._views.form] if self._views.form else [])
        low = min(float(one.height_mm[0]) for one in shown)
        high = max(float(one.height_mm[-1]) for one in shown)
        broad = max(float((one.left_mm - one.right_mm).max()) for one in shown)
        front = max(float(one.front_mm.max()) for one in shown)
        back = min(float(one.back_mm.min()) for one in shown)
        return low, high, broad, front - back

    def mm_per_px(self) -> float:
        """Return the one scale of both views."""
        low, high, broad, deep = self._bounds()
        down = (high - low + 2 * EDGE_MM) / max(self.height() - 1.6 * self._text_height(), 20.0)
        across = (broad + deep + 3 * APART_MM) / max(self.width() - self._names_px(), 20.0)
        return max(down, across)

    def _y(self, height_mm: Points | float, scale: float) -> Points:
        low, high, _broad, _deep = self._bounds()
        middle = (self.height() - 1.6 * self._text_height()) / 2.0
        return np.asarray(middle - (np.asarray(height_mm) - (low + high) / 2.0) / scale)

    def _to_mm(self, y: float) -> float:
        scale = self.mm_per_px()
        return float((self._y(0.0, scale) - y) * scale)

    # -- drawing ------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint both views, the names of the lines and the level line."""
        if self._views is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = self.mm_per_px()
        _low, _high, broad, deep = self._bounds()
        names = self._names_px()
        free = max(self.width() - names - (broad + deep) / scale, 0.0) / 3.0
        front_x = names + free + broad / scale / 2.0
        outer = self._views.outer
        middle_mm = (float(outer.front_mm.max()) + float(outer.back_mm.min())) / 2.0
        side_x = names + 2 * free + broad / scale + deep / scale / 2.0
        self._paint_lines(painter, scale, names)
        self._paint_view(painter, scale, front_x, _across)
        self._paint_view(painter, scale, side_x, lambda one: _deep(one, middle_mm))
        self._paint_plumb(painter, scale, side_x, middle_mm)
        self._paint_captions(painter, front_x, side_x)
        painter.end()

    def _paint_lines(self, painter: QPainter, scale: float, names: float) -> None:
        colours, text = theme.palette(), self._text_height()
        painter.setFont(plot_font(self, theme.LABEL_PT))
        last = -1e9
        for section in self._lines:
            y = float(self._y(section.height_mm, scale))
            painter.setPen(plot_pen(theme.blend(colours.page, colours.fine, 0.6), 1.0))
            painter.drawLine(QPointF(names, y), QPointF(self.width(), y))
            if y - last >= 0.9 * text:
                is_here = abs(section.height_mm - self._height_mm) < 0.5
                painter.setPen(QColor(colours.thread if is_here else colours.quiet))
                where = QRectF(0.0, y - text / 2, names - theme.STEP / 2, text)
                name = capital(line_name(section.line))
                painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, name)
                last = y
        y = float(self._y(self._height_mm, scale))
        painter.setPen(plot_pen(colours.thread, 2.0))
        painter.drawLine(QPointF(names, y), QPointF(self.width(), y))

    def _paint_view(
        self, painter: QPainter, scale: float, x: float, edges: Callable[[Silhouette], Edges]
    ) -> None:
        assert self._views is not None
        colours = theme.palette()
        body, inner, outer = self._views.body, self._views.inner, self._views.outer
        band = QColor(theme.blend(colours.page, colours.body, BAND_SHARE))
        for side in (0, 1):
            far, near = edges(outer)[side], edges(inner)[side]
            around = np.concatenate((far, near[::-1]))
            heights = np.concatenate((outer.height_mm, inner.height_mm[::-1]))
            path = QPainterPath()
            path.addPolygon(self._curve(around, heights, x, scale))
            painter.fillPath(path, band)
        dashed = plot_pen(colours.body, BODY_PX)
        dashed.setDashPattern(BODY_DASHES)
        for shown, drawn in ((self._views.form, plot_pen(colours.form, FORM_PX)), (body, dashed)):
            if shown is None:
                continue
            painter.setPen(drawn)
            for side in (0, 1):
                painter.drawPolyline(self._curve(edges(shown)[side], shown.height_mm, x, scale))

    def _paint_plumb(self, painter: QPainter, scale: float, x: float, middle_mm: float) -> None:
        """Paint a plumb thread, and how the upper half leans from it.

        Where the body tips it hangs through the middle of the waist, so that the lean is seen;
        where only the back curves, from its backmost place above the waist, so that the dip is.
        """
        if self._carriage is None:
            return
        assert self._views is not None
        body, colours = self._views.body, theme.palette()
        tip, top_mm = self._carriage.tip_rad, float(body.height_mm[-1])
        at_mm = 0.0 if tip else float(body.back_mm[body.height_mm >= 0.0].min())
        at = x + (middle_mm - at_mm) / scale
        top, waist, low = (float(self._y(mm, scale)) for mm in (top_mm, 0.0, body.height_mm[0]))
        painter.setPen(plot_pen(colours.ink, 1.0))
        painter.drawLine(QPointF(at, top), QPointF(at, low))
        painter.setBrush(QColor(colours.ink))
        painter.drawEllipse(QPointF(at, low), BOB_PX, BOB_PX)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if tip:
            painter.setPen(plot_pen(colours.body, BODY_PX))
            lean = float(np.tan(tip)) * (waist - top)
            painter.drawLine(QPointF(at, waist), QPointF(at + lean, top))

    def _curve(self, across: Points, height: Points, x: float, scale: float) -> QPolygonF:
        xs, ys = x + across / scale, self._y(height, scale)
        return QPolygonF([QPointF(a, b) for a, b in zip(xs.tolist(), ys.tolist(), strict=True)])

    def _paint_captions(self, painter: QPainter, front_x: float, side_x: float) -> None:
        text = self._text_height()
        painter.setPen(QColor(theme.palette().quiet))
        for x, key in ((front_x, "from_front"), (side_x, "from_left")):
            words = say(key)
            half = painter.fontMetrics().horizontalAdvance(words) / 2 + 1
            middle = min(x, self.width() - half)  # words are longer in some tongues
            where = QRectF(middle - half, self.height() - 1.2 * text, 2 * half, text)
            painter.drawText(where, Qt.AlignmentFlag.AlignCenter, words)


def _across(one: Silhouette) -> Edges:
    """Seen from the front the body's right is at the viewer's left."""
    return one.right_mm, one.left_mm


def _deep(one: Silhouette, middle_mm: float) -> Edges:
    """Seen from the body's left its front is at the viewer's left."""
    return middle_mm - one.front_mm, middle_mm - one.back_mm
