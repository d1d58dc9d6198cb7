# SPDX-License-Identifier: MIT
"""Draws report pages as a PDF, true to size.

The writer gives page sizes in whole points but does not touch the scale, so a millimetre stays a
millimetre. Fonts come from the running program and are embedded.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
    QPolygonF,
)

from fitassist.errors import StorageFailed
from fitassist.gui.page_type import UNITS_PER_MM, page_font
from fitassist.gui.pdf_true_size import with_true_size
from fitassist.report.page import Item, Line, Page, Text

DOTS_PER_INCH = 1200
DOTS_PER_MM = DOTS_PER_INCH / 25.4


def pdf_bytes(pages: Sequence[Page], title: str = "") -> bytes:
    """Return the pages as a PDF document; a QGuiApplication must exist.

    Raises
    ------
    StorageFailed
        ``write_failed`` when the document could not be drawn.
    ValueError
        Without pages.
    """
    if not pages:
        raise ValueError("no pages")
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DOTS_PER_INCH)
    writer.setTitle(title)
    _set_page(writer, pages[0])
    painter = QPainter()
    if not painter.begin(writer):
        raise StorageFailed("write_failed")
    try:
        for number, page in enumerate(pages):
            if number:
                _set_page(writer, page)
                writer.newPage()
            draw_page(painter, page, DOTS_PER_MM)
    finally:
        painter.end()
    return with_true_size(bytes(buffer.data().data()))


def _set_page(writer: QPdfWriter, page: Page) -> None:
    size = QPageSize(
        QSizeF(page.width_mm, page.height_mm),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    layout = QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
    writer.setPageLayout(layout)
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))


def draw_page(painter: QPainter, page: Page, dots_per_mm: float) -> None:
    """Draw a page from the painter's origin, on paper or on a screen."""
    painter.save()
    painter.scale(dots_per_mm, dots_per_mm)
    for item in page.items:
        _draw_item(painter, item)
    if page.clip is not None:
        left, top, right, bottom = page.clip
        painter.setClipRect(QRectF(left, top, right - left, bottom - top))
    for item in page.clipped:
        _draw_item(painter, item)
    painter.restore()


def _draw_item(painter: QPainter, item: Item) -> None:
    if isinstance(item, Text):
        _draw_text(painter, item)
        return
    shade = item.grey if isinstance(item, Line) else 0.0
    painter.setPen(_pen(item.width_mm, item.dash_mm, shade))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if isinstance(item, Line):
        painter.drawLine(QPointF(*item.start), QPointF(*item.end))
        return
    points = QPolygonF([QPointF(x, y) for x, y in item.points])
    if not item.is_closed:
        painter.drawPolyline(points)
        return
    if item.grey is not None:
        painter.setBrush(QBrush(_ink(item.grey)))
    painter.drawPolygon(points)


def _ink(grey: float) -> QColor:
    shade = round(255 * min(max(grey, 0.0), 1.0))
    return QColor(shade, shade, shade)


def _pen(width_mm: float, dash_mm: float, grey: float) -> QPen:
    pen = QPen(_ink(grey), width_mm)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if dash_mm > 0.0:
        length = dash_mm / width_mm  # Qt counts dashes in widths of the pen
        pen.setDashPattern([length, length])
    return pen


def _draw_text(painter: QPainter, item: Text) -> None:
    """Draw words with a font that is hinted for its printed size, at whatever scale."""
    font = page_font(item.size_mm, item.is_bold)
    painter.save()
    painter.setFont(font)
    painter.translate(*item.at)
    painter.rotate(item.angle_deg)
    painter.scale(1.0 / UNITS_PER_MM, 1.0 / UNITS_PER_MM)
    wide = QFontMetricsF(font, painter.device()).horizontalAdvance(item.text)
    painter.setPen(_ink(item.grey))
    before = wide / 2 if item.is_centred else wide if item.ends_there else 0.0
    painter.drawText(QPointF(-before, 0.0), item.text)
    painter.restore()
