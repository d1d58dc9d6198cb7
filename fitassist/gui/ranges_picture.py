# SPDX-License-Identifier: MIT
"""A form on offer in one picture: each line from closed to fully open, and where the bodies are.

All girths share one scale and all lengths another, so that bars can be compared by eye. A body's
mark tells by its shape, not only by its colour, what the form can do for it there.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.choosing.candidate import Range
from fitassist.choosing.judging import Judged, LineJudged
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.offer_words import say
from fitassist.wording.places import line_name

ROW_PX = 40
BAR_PX = 12
MARK_PX = 7.0
EASE = 0.06  # of the span, left free at either end


@dataclass(frozen=True)
class PictureRow:
    """One line of the picture: the form's range there, and the bodies with it."""

    line: str
    is_length: bool
    range: Range | None
    marks: tuple[LineJudged, ...]


def picture_rows(one: Judged) -> tuple[PictureRow, ...]:
    """Return the rows of a form, girths first, each in the order the bodies name them."""
    found: dict[tuple[bool, str], list[LineJudged]] = {}
    for body in one.bodies:
        for line in body.lines:
            found.setdefault((line.is_length, line.line), []).append(line)
    keys = sorted(found, key=lambda key: key[0])
    return tuple(
        PictureRow(line, is_length, found[is_length, line][0].range, tuple(found[is_length, line]))
        for is_length, line in keys
    )


class RangesPicture(QWidget):
    """Draws one judged form; says the same in words to a screen reader."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[PictureRow, ...] = ()
        self._unit: AnyUnit = "in"
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(say("picture"))

    def show_judged(self, one: Judged | None, unit: AnyUnit) -> None:
        """Draw a form, or nothing."""
        self._rows = picture_rows(one) if one is not None else ()
        self._unit = unit
        self.setVisible(bool(self._rows))
        self.updateGeometry()
        self.update()

    @property
    def rows(self) -> tuple[PictureRow, ...]:
        """What is drawn."""
        return self._rows

    def sizeHint(self) -> QSize:
        """Return room for all rows."""
        return QSize(420, theme.STEP + len(self._rows) * self._row_px())

    def minimumSizeHint(self) -> QSize:
        """Return the least at which bars can still be told apart."""
        return QSize(260, self.sizeHint().height())

    def place_px(self, row: PictureRow, mm: float) -> float:
        """Return how far from the left a length lies in a row."""
        low, high = self._span(row.is_length)
        left, wide = self._track()
        return left + wide * (mm - low) / (high - low)

    def _row_px(self) -> int:
        return round(ROW_PX * max(1.0, theme.scale()))

    def _track(self) -> tuple[float, float]:
        metrics = QFontMetricsF(self._type())
        names = [metrics.horizontalAdvance(capital(line_name(row.line))) for row in self._rows]
        left = max(names, default=0.0) + theme.STEP * 2
        return left, max(self.width() - left - theme.STEP * 2, 40.0)

    def _span(self, is_length: bool) -> tuple[float, float]:
        values: list[float] = []
        for row in self._rows:
            if row.is_length == is_length:
                values += [mark.target_mm for mark in row.marks]
                if row.range is not None:
                    values += [row.range.least_mm, row.range.greatest_mm]
        low, high = min(values, default=0.0), max(values, default=1.0)
        ease = max((high - low) * EASE, 5.0)
        return low - ease, high + ease

    def _type(self, points: float = theme.TEXT_PT) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(theme.points(points))
        return font

    # -- painting -----------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rows."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        high = self._row_px()
        for number, row in enumerate(self._rows):
            self._draw_row(painter, row, number * high, high)
        painter.end()

    def _draw_row(self, painter: QPainter, row: PictureRow, top: float, high: float) -> None:
        colours = theme.palette()
        left, wide = self._track()
        painter.setFont(self._type())
        painter.setPen(QColor(colours.ink))
        where = QRectF(0, top, left - theme.STEP, high)
        painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, capital(line_name(row.line)))
        middle = top + high / 2
        painter.setPen(QPen(QColor(colours.fine), 1))
        painter.drawLine(QPointF(left, middle), QPointF(left + wide, middle))
        if row.range is not None:
            self._draw_range(painter, row, row.range, middle)
        for mark in row.marks:
            at = QPointF(self.place_px(row, mark.target_mm), middle)
            draw_mark(painter, at, mark.outcome, MARK_PX * max(1.0, theme.scale()))

    def _draw_range(self, painter: QPainter, row: PictureRow, found: Range, middle: float) -> None:
        colours = theme.palette()
        start, end = self.place_px(row, found.least_mm), self.place_px(row, found.greatest_mm)
        bar = QRectF(start, middle - BAR_PX / 2, max(end - start, 3.0), BAR_PX)
        painter.setPen(QPen(QColor(colours.form), 1.5))
        painter.setBrush(QColor(theme.blend(colours.page, colours.form, 0.25)))
        painter.drawRoundedRect(bar, 3, 3)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(self._type(theme.LABEL_PT))
        painter.setPen(QColor(colours.quiet))
        metrics = QFontMetricsF(painter.font())
        least, most = (
            say_length(found.least_mm, self._unit),
            say_length(found.greatest_mm, self._unit),
        )
        below = middle + BAR_PX / 2 + metrics.ascent()
        half = metrics.horizontalAdvance(least) / 2
        painter.drawText(QPointF(start - half, below), least)
        apart = end - start - half - metrics.horizontalAdvance(most) / 2
        if found.turns and apart > theme.STEP:
            painter.drawText(QPointF(end - metrics.horizontalAdvance(most) / 2, below), most)


def draw_mark(painter: QPainter, at: QPointF, outcome: str, size: float) -> None:
    """Draw a body's mark: a dot where it is reached, half a dot to be padded, a cross too large."""
    colours = theme.palette()
    colour = QColor(
        {"reached": colours.good, "too_large": colours.out, "unsaid": colours.quiet}.get(
            outcome, colours.body
        )
    )
    painter.save()
    painter.setPen(QPen(colour, 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    box = QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size)
    if outcome == "too_large":
        painter.setPen(QPen(colour, 3.0))
        painter.drawLine(box.topLeft(), box.bottomRight())
        painter.drawLine(box.topRight(), box.bottomLeft())
    elif outcome == "unsaid":
        painter.drawLine(QPointF(at.x(), at.y() - size), QPointF(at.x(), at.y() + size))
    else:
        painter.setBrush(QColor(colours.page))
        painter.drawEllipse(box)
        painter.setBrush(colour)
        if outcome == "reached":
            painter.drawEllipse(box)
        elif outcome == "padded":
            painter.drawPie(box, 90 * 16, 180 * 16)
    painter.restore()
