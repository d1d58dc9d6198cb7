# SPDX-License-Identifier: MIT
"""How thick the padding is to be, on the form unrolled: hatched regions, numbers and words.

As one faces the form: centre front in the middle, centre back at both ends, the form's left on the
right hand. The number in a region says how many sheets; dots say that the form stands out there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.domain.lines import Seam
from fitassist.gui import theme
from fitassist.padding.contours import Region, Ring
from fitassist.wording.language import capital
from fitassist.wording.padding_page_words import say
from fitassist.wording.places import line_name

LEAST_HIGH = 150
# Regions lie on one another; the deepest comes to this tint, and one level adds no more than that.
DEEPEST_TINT, LEVEL_TINT = 0.55, 0.18
# Names under the map with their share of its width, the most wanted first.
EDGES = (
    ("map_front", 0.5), ("map_back", 0.0), ("map_back", 1.0), ("map_left", 0.75),
    ("map_right", 0.25),
)  # fmt: skip
SEAM_AT = {Seam.FRONT: 0.0, Seam.LEFT: 0.25, Seam.BACK: 0.5, Seam.RIGHT: -0.25}


@dataclass(frozen=True)
class MapPicture:
    """What a map shows, in shares of the way round and mm of height.

    Attributes
    ----------
    round_mm
        Mean girth: how wide the map is.
    lines
        Names and heights.
    gaps_mm
        Open seams, at their widest.
    """

    regions: tuple[Region, ...]
    low_mm: float
    high_mm: float
    round_mm: float
    lines: tuple[tuple[str, float], ...]
    gaps_mm: Mapping[Seam, float]


class PaddingMap(QWidget):
    """Paints a map, with the pieces that lie and the one that is asked for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(LEAST_HIGH)
        self.setAccessibleName(say("map_name"))
        self._picture: MapPicture | None = None
        self._laid: tuple[Ring, ...] = ()
        self._now: tuple[Ring, ...] = ()

    def show_picture(self, picture: MapPicture | None, words: str) -> None:
        """Show another map; `words` say the same to those who do not see it."""
        self._picture = picture
        self.setAccessibleDescription(words)
        self.update()

    def show_pieces(self, laid: Sequence[Ring], now: Sequence[Ring]) -> None:
        """Outline the pieces that lie on the form, and stress the one that is asked for."""
        self._laid, self._now = tuple(laid), tuple(now)
        self.update()

    @property
    def picture(self) -> MapPicture | None:
        """What is shown."""
        return self._picture

    def sizeHint(self) -> QSize:
        """Return a size at which the numbers are easily read."""
        return QSize(620, 300)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which regions can be told apart."""
        return QSize(280, LEAST_HIGH)

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and sizes of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()

    # -- painting -----------------------------------------------------------------------------

    def chart(self) -> QRectF:
        """Return where the form lies in the widget, in pixels, both ways at one scale."""
        picture = self._picture
        assert picture is not None
        metrics = QFontMetricsF(_font(theme.LABEL_PT))
        names = [capital(line_name(name)) for name, _z in picture.lines]
        left = max((metrics.horizontalAdvance(name) for name in names), default=0.0) + theme.STEP
        foot = metrics.height() + theme.HALF
        room = QRectF(left, 2.0, self.width() - left - 2.0, self.height() - foot - 4.0)
        high_mm = picture.high_mm - picture.low_mm
        scale = min(room.width() / picture.round_mm, room.height() / high_mm)
        wide, high = picture.round_mm * scale, high_mm * scale
        return QRectF(left, room.top() + (room.height() - high) / 2.0, wide, high)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the form, what is wanted on it, its lines and its seams."""
        if self._picture is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(_font(theme.LABEL_PT))
        box = self.chart()
        colours = theme.palette()
        painter.fillRect(box, QColor(colours.card))
        painter.save()
        painter.setClipRect(box)
        place = _to_pixels(box, self._picture)
        self._paint_regions(painter, place)
        self._paint_seams(painter, box)
        self._paint_lines(painter, box)
        self._paint_pieces(painter, place)
        self._paint_numbers(painter, place)
        painter.restore()
        painter.setPen(QPen(QColor(colours.form), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        self._write_edges(painter, box)
        painter.end()

    def _paint_regions(self, painter: QPainter, place: QTransform) -> None:
        assert self._picture is not None
        colours = theme.palette()
        most = max((region.sheets for region in self._picture.regions), default=1)
        level = min(1.0 - (1.0 - DEEPEST_TINT) ** (1.0 / max(most, 1)), LEVEL_TINT)
        for region in self._picture.regions:
            path = _path(region.rings, place)
            colour = QColor(colours.pad if region.sheets else colours.out)
            tint = QColor(colour)
            tint.setAlphaF(level if region.sheets else 0.12)
            painter.setPen(QPen(colour, 1.0))
            painter.setBrush(QBrush(tint))
            painter.drawPath(path)
            painter.setPen(Qt.PenStyle.NoPen)
            lines = QColor(colour)
            lines.setAlphaF(0.45 if region.sheets else 0.9)
            dots, hatch = Qt.BrushStyle.Dense6Pattern, Qt.BrushStyle.BDiagPattern
            if region.sheets <= 1:  # the hatch once is enough: deeper ones lie within
                painter.setBrush(QBrush(lines, hatch if region.sheets else dots))
                painter.drawPath(path)

    def _paint_seams(self, painter: QPainter, box: QRectF) -> None:
        assert self._picture is not None
        for seam, gap in self._picture.gaps_mm.items():
            share = SEAM_AT[seam]
            for at in (share, share - 1.0) if share == 0.5 else (share,):
                x = box.left() + (at + 0.5) * box.width()
                wide = max(gap / self._picture.round_mm * box.width(), 1.0)
                painter.setPen(QPen(QColor(theme.palette().form), 1.0, Qt.PenStyle.DashLine))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(x - wide / 2.0, box.top() - 4, wide, box.height() + 8))

    def _paint_lines(self, painter: QPainter, box: QRectF) -> None:
        assert self._picture is not None
        painter.setPen(QPen(QColor(theme.palette().fine), 1.0))
        for _name, z in self._picture.lines:
            y = self._y(z, box)
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))

    def _y(self, z_mm: float, box: QRectF) -> float:
        assert self._picture is not None
        share = (z_mm - self._picture.low_mm) / (self._picture.high_mm - self._picture.low_mm)
        return float(box.bottom() - share * box.height())

    def _paint_pieces(self, painter: QPainter, place: QTransform) -> None:
        colours = theme.palette()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(colours.quiet), 1.2, Qt.PenStyle.DotLine))
        for ring in self._laid:
            painter.drawPath(_path((ring,), place))
        painter.setPen(QPen(QColor(colours.card), 6.0))
        for ring in self._now:
            painter.drawPath(_path((ring,), place))
        painter.setPen(QPen(QColor(colours.thread), 3.5))
        for ring in self._now:
            painter.drawPath(_path((ring,), place))

    def _paint_numbers(self, painter: QPainter, place: QTransform) -> None:
        assert self._picture is not None
        colours = theme.palette()
        font = _font(theme.TEXT_PT, bold=True)
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        taken: list[QRectF] = []
        for region in sorted(self._picture.regions, key=lambda one: -one.sheets):
            if region.label_at is None:
                continue
            text = str(region.sheets) if region.sheets else say("out")
            at = place.map(QPointF(*region.label_at))
            wide = metrics.horizontalAdvance(text) + theme.STEP
            plate = QRectF(0, 0, wide, metrics.height())
            plate.moveCenter(at)
            if any(plate.intersects(one) for one in taken):  # the deepest is told first
                continue
            taken.append(plate)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours.card))
            painter.drawRoundedRect(plate, 3, 3)
            painter.setPen(QColor(colours.pad if region.sheets else colours.out))
            painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, text)

    def _write_edges(self, painter: QPainter, box: QRectF) -> None:
        """Name the lines beside the map, and the ways round under it."""
        assert self._picture is not None
        painter.setFont(_font(theme.LABEL_PT))
        metrics = painter.fontMetrics()
        painter.setPen(QColor(theme.palette().ink))
        below = -1e9
        for name, z in sorted(self._picture.lines, key=lambda pair: -pair[1]):
            y = min(max(self._y(z, box), box.top() + metrics.height() / 2), box.bottom())
            if y - below < metrics.height():
                continue
            below = y
            where = QRectF(0, y - metrics.height() / 2, box.left() - theme.HALF, metrics.height())
            painter.drawText(
                where,
                Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                capital(line_name(name)),
            )
        painter.setPen(QColor(theme.palette().quiet))
        taken: list[QRectF] = []
        for key, share in EDGES:
            text = say(key)
            wide = metrics.horizontalAdvance(text) + 4.0
            x = box.left() + share * (box.width() - wide)
            where = QRectF(x, box.bottom() + 2.0, wide, metrics.height())
            if not any(where.intersects(one) for one in taken):  # the sides give way first
                painter.drawText(where, Qt.AlignmentFlag.AlignCenter, text)
                taken.append(where.adjusted(-theme.STEP, 0, theme.STEP, 0))


def _font(size_pt: float, bold: bool = False) -> QFont:
    font = theme.interface_font(theme.scale())
    font.setPointSizeF(theme.points(size_pt))
    font.setBold(bold)
    return font


def _to_pixels(box: QRectF, picture: MapPicture) -> QTransform:
    """Return the way from shares and mm to pixels."""
    made = QTransform()
    made.translate(box.center().x(), box.bottom())
    made.scale(box.width(), -box.height() / (picture.high_mm - picture.low_mm))
    made.translate(0.0, -picture.low_mm)
    return made


def _path(rings: Sequence[Ring], place: QTransform) -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in rings:
        # Mapped before it is painted, so that hatches and pens keep their own size.
        path.addPolygon(place.map(QPolygonF([QPointF(x, y) for x, y in ring])))
        path.closeSubpath()
    return path
