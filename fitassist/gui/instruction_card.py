# SPDX-License-Identifier: MIT
"""One instruction, as large as its card allows: what to do, the number, how, and why.

Somebody two metres away reads it, so the number grows until it fills the card; the words around it
give way first, and nothing is ever cut off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QFrame, QSizePolicy, QWidget

from fitassist.domain.form import Form
from fitassist.domain.steps import Instruction, Note, Reason, SetDials
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.wording import reasons
from fitassist.wording.fitting_words import number_cells, short_title, state_shape
from fitassist.wording.instructions import detail, title
from fitassist.wording.lengths import kept_together

LEAST_NUMBER_PX = 56
LEAST_OF_MANY_PX = 42  # where three or four numbers are asked for at once
MOST_NUMBER_PX = 220
LEAST_RESULT_PX = 28
MOST_RESULT_PX = 88
GAP_PX = 48  # least distance between two numbers side by side
LINE_LENGTH = 100  # characters at most: longer lines are hard to follow from afar
# Sizes of title and detail, from the most wanted to what still fits a small card, in points.
_SIZES = (
    (42, 16), (40, 15), (37, 14), (34, 14), (34, 13), (34, 12), (34, 11),
    (28, 11), (24, 11), (20, 11), (17, 10), (14, 9), (11, 8), (9, 7),
)  # fmt: skip

Cells = Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Fit:
    """Sizes at which everything fits, and where the parts then lie."""

    title: QFont
    number: QFont
    label: QFont
    words: QFont
    columns: int
    title_high: float
    row_high: float
    detail_high: float


class InstructionCard(QFrame):
    """Shows what is to be done; says it to a screen reader whenever it changes."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._title = ""
        self._said = ""
        self._cells: list[tuple[str, str]] = []
        self._detail = ""
        self._reason = ""
        self.is_result = False
        self.gap_px = GAP_PX
        self.is_plain = False  # all words in full ink, for eyes that are far away
        self.is_words = False  # what stands largest is choices in words, not numbers
        self._fit: Fit | None = None

    # -- what is shown ------------------------------------------------------------------------

    def show_instruction(self, step: Instruction, form: Form, unit: AnyUnit) -> None:
        """Show an instruction in this form's numbers and the user's unit."""
        why = getattr(step, "reason", Reason())
        said = detail(step, form, unit)
        if isinstance(step, SetDials) and form.post in ("offset", "hanging"):
            code = "offset_post" if form.post == "offset" else "hanging"
            said = f"{said} {reasons.note(Note(code='caution', reason=Reason(code=code)), unit)}"
        self.is_result = step.kind == "done"
        self.show_parts(
            short_title(step, form, unit),
            title(step, form, unit),
            number_cells(step, form, unit),
            said,
            reasons.reason(why, unit),
        )

    def show_words(self, heading: str, said: str) -> None:
        """Show a heading and a sentence, with nothing to do."""
        self.is_result = False
        self.show_parts(heading, heading, [], said, "")

    def show_parts(
        self, heading: str, full: str, cells: Sequence[tuple[str, str]], said: str, why: str
    ) -> None:
        """Show a heading, numbers with the words above each, how it is done, and why.

        `full` is what a screen reader says for heading and numbers together.
        """
        why = f"{why}." if why else ""
        self._title, self._cells = kept_together(heading), list(cells)
        self._detail, self._reason = kept_together(said), kept_together(why)
        self._fit = None
        self.setAccessibleName(full)
        self.setAccessibleDescription(" ".join(part for part in (said, why) if part))
        self.update()
        if full != self._said:
            self._said = full
            self.announce()

    def announce(self) -> None:
        """Say the instruction to a screen reader, once more if need be."""
        event = QAccessibleAnnouncementEvent(self, f"{self.accessibleName()}. {self._detail}")
        QAccessible.updateAccessibility(event)

    def title_text(self) -> str:
        """Return the words above the number."""
        return self._title.replace("\u00a0", " ")

    def numbers(self) -> tuple[str, ...]:
        """Return what stands largest."""
        return tuple(number for _label, number in self._cells)

    def cells(self) -> tuple[tuple[str, str], ...]:
        """Return what stands largest with the words above each."""
        return tuple(self._cells)

    def detail_text(self) -> str:
        """Return how it is done."""
        return self._detail.replace("\u00a0", " ")

    def reason_text(self) -> str:
        """Return why."""
        return self._reason.replace("\u00a0", " ")

    # -- how large ----------------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return a size at which a usual instruction stands at ease."""
        return QSize(900, 320)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which it can be read at arm's length."""
        return QSize(320, 190)

    def forget_fit(self) -> None:
        """Fit all anew when it is next painted."""
        self._fit = None
        self.update()

    def least_number_px(self) -> float:
        """Return the least size of type of the number, while anything else can give way."""
        if self.is_result:
            return LEAST_RESULT_PX
        return LEAST_NUMBER_PX if len(self._cells) <= 2 else LEAST_OF_MANY_PX

    def most_number_px(self) -> float:
        """Return the greatest size of type of the number."""
        return MOST_RESULT_PX if self.is_result else MOST_NUMBER_PX

    def wanted_sizes(self) -> Iterator[tuple[float, tuple[float, float]]]:
        """Give what to try: a share of the number's least size, and the type around it."""
        return _sizes()

    def fit(self) -> Fit:
        """Return the sizes in use."""
        if self._fit is None:
            box = self._inside()
            wanted = (
                fit for share, pair in self.wanted_sizes() if (fit := self._try(pair, box, share))
            )
            self._fit = next(wanted, None) or self._try(_SIZES[-1], box, None)
        assert self._fit is not None
        return self._fit

    def _inside(self) -> QRectF:
        pad = 2.0 * theme.STEP + theme.HALF
        return QRectF(self.rect()).adjusted(pad + theme.HALF, pad - theme.HALF, -pad, -pad)

    def _try(self, points: tuple[float, float], box: QRectF, share: float | None) -> Fit | None:
        """Return the fit at these sizes of type, or None where something would be cut off.

        The number must reach this share of its least size; None: take it as it comes.
        """
        strict = share is not None
        heading = self._font(points[0], QFont.Weight.DemiBold)
        words = self._font(points[1])
        label = self._font(max(points[1] - 1, 7))
        title_high = _high(heading, box.width(), self._title)
        detail_high = self._words_high(words, box.width())
        room = box.height() - title_high - detail_high - theme.STEP
        if not self._cells:
            if strict and (room < 0 or not _words_fit(heading, box.width(), self._title)):
                return None
            return Fit(heading, heading, label, words, 1, title_high, 0, detail_high)
        best: tuple[float, int] = (0.0, 1)
        many = len(self._cells)
        label_high = QFontMetricsF(label).height() if any(c[0] for c in self._cells) else 0.0
        for columns in range(1, min(many, 4) + 1):
            rows = -(-many // columns)
            high = room / rows - label_high - theme.HALF
            best = max(best, (self._number_px(columns, box.width(), high), columns))
        most = self.most_number_px()
        if strict and (
            room < 0
            or best[0] < min(self.least_number_px(), most) * (share or 0.0)
            or not _words_fit(heading, box.width(), self._title)
        ):
            return None
        number = self._font(12, QFont.Weight.DemiBold)
        number.setPixelSize(max(int(best[0]), 9))
        row_high = QFontMetricsF(number).height() + label_high
        return Fit(heading, number, label, words, best[1], title_high, row_high, detail_high)

    def _number_px(self, columns: int, width: float, high: float) -> float:
        """Return the largest size at which the numbers fit side by side, in pixels."""
        probe = self._font(12, QFont.Weight.DemiBold)
        probe.setPixelSize(100)
        wide = sum(self._column_widths(probe, columns))
        return min(
            (width - self.gap_px * (columns - 1)) / wide * 100,
            high / QFontMetricsF(probe).height() * 100,
            float(self.most_number_px()),
        )

    def _column_widths(self, font: QFont, columns: int) -> list[float]:
        """Return how wide the widest number of each column is."""
        wide = QFontMetricsF(font).horizontalAdvance
        numbers = [number for _label, number in self._cells]
        return [max(map(wide, numbers[i::columns]), default=0.0) for i in range(columns)]

    def _words_high(self, font: QFont, width: float) -> float:
        high = _high(font, self._words_wide(font, width), self._detail)
        if self._reason:
            high += _high(font, self._words_wide(font, width), self._reason) + theme.HALF
        return high

    def _words_wide(self, font: QFont, width: float) -> float:
        return min(width, QFontMetricsF(font).averageCharWidth() * LINE_LENGTH * 1.15)

    def _font(self, points: float, weight: QFont.Weight = QFont.Weight.Normal) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(points)
        font.setWeight(weight)
        return font

    # -- painting -----------------------------------------------------------------------------

    def changeEvent(self, event: QEvent) -> None:
        """Fit and paint anew when type or colours have changed."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._fit = None
            self.update()

    def event(self, event: QEvent) -> bool:
        """Fit anew at another size."""
        if event.type() == QEvent.Type.Resize:
            self._fit = None
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the words and the number."""
        super().paintEvent(event)
        fit, box, colours = self.fit(), self._inside(), theme.palette()
        painter = QPainter(self)
        flags = int(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        )
        painter.setPen(QColor(colours.ink))
        painter.setFont(fit.title)
        painter.drawText(QRectF(box.x(), box.y(), box.width(), fit.title_high), flags, self._title)
        rows = -(-len(self._cells) // fit.columns)
        room = box.height() - fit.title_high - fit.detail_high
        spare = max(room - rows * fit.row_high, 0.0) if self._cells else theme.STEP
        top = box.y() + fit.title_high + min(spare / 2, theme.MARGIN)
        lefts = self._lefts(fit, box)
        for i, cell in enumerate(self._cells):
            column, row = i % fit.columns, i // fit.columns
            ends = [*lefts[1:], box.right() + self.gap_px]
            wide = ends[column] - self.gap_px - lefts[column]
            where = QRectF(lefts[column], top + row * fit.row_high, wide, fit.row_high)
            self._paint_cell(painter, cell, where, fit)
            if column:  # two numbers close together must not be read as one
                x = lefts[column] - self.gap_px / 2
                painter.setPen(QColor(colours.fine))
                painter.drawLine(QPointF(x, where.top()), QPointF(x, where.bottom()))
        under = top + rows * fit.row_high + min(spare / 2, theme.MARGIN)
        under = max(min(under, box.bottom() - fit.detail_high), box.y() + fit.title_high)
        wide = self._words_wide(fit.words, box.width())
        painter.setFont(fit.words)
        painter.setPen(QColor(colours.ink))
        high = _high(fit.words, wide, self._detail)
        painter.drawText(QRectF(box.x(), under, wide, high + 2), flags, self._detail)
        painter.setPen(QColor(colours.ink if self.is_plain else colours.quiet))
        painter.drawText(
            QRectF(box.x(), under + high + theme.HALF, wide, fit.detail_high), flags, self._reason
        )
        painter.end()

    def _lefts(self, fit: Fit, box: QRectF) -> list[float]:
        """Return where each column begins: evenly spread if they fit so, else close together."""
        even = box.width() / fit.columns
        widths = self._column_widths(fit.number, fit.columns)
        if max(widths, default=0.0) + self.gap_px <= even:
            return [box.x() + i * even for i in range(fit.columns)]
        return [box.x() + sum(widths[:i]) + i * self.gap_px for i in range(fit.columns)]

    def _paint_cell(
        self, painter: QPainter, cell: tuple[str, str], where: QRectF, fit: Fit
    ) -> None:
        label, number = cell
        colours = theme.palette()
        top = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        if any(words for words, _number in self._cells):
            font = QFont(fit.label)
            while QFontMetricsF(font).horizontalAdvance(label) > where.width() > 0:
                if font.pointSizeF() <= 7:
                    break
                font.setPointSizeF(font.pointSizeF() - 0.5)
            painter.setFont(font)
            painter.setPen(QColor(colours.ink if self.is_plain else colours.quiet))
            painter.drawText(where, int(top | Qt.TextFlag.TextDontClip), label)
        painter.setFont(fit.number)
        inks = {False: colours.thread, True: colours.ink}
        is_good = self.is_result and number.startswith(state_shape("good"))
        painter.setPen(QColor(colours.good if is_good else inks[self.is_result]))
        low = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
        painter.drawText(where, int(low | Qt.TextFlag.TextDontClip), number)


def _sizes() -> Iterator[tuple[float, tuple[float, float]]]:
    """Give what to try: a share of the number's least size, and the type around it.

    The title stays large as long as it can; type of the scale in use goes before smaller type.
    """
    scale = theme.scale()
    scales = sorted({scale, (1.0 + scale) / 2, 1.0}, reverse=True) if scale > 1 else [scale]
    large = [pair for pair in _SIZES if pair[0] >= theme.INSTRUCTION_PT]
    small = [pair for pair in _SIZES if pair[0] < theme.INSTRUCTION_PT]
    if scale > 1:  # whoever asked for large type reads all of it: the heading gives way first
        least = theme.TEXT_PT * (1.0 + scale) / 2
        for share in (1.0, 0.7):
            for heading, words in _SIZES:
                yield share, (max(heading, 14.0) * scale, max(words * scale, least))
            for heading, _words in _SIZES:
                yield share, (max(heading, least), least)
    for share, pairs in ((1, large), (0.8, large), (1, small), (0.7, small), (0, small)):
        for factor in scales:
            for heading, words in pairs:
                yield share, (heading * factor, words * factor)


def _high(font: QFont, width: float, text: str) -> float:
    """Return how high a text stands when wrapped to a width."""
    if not text:
        return 0.0
    room = QRectF(0, 0, max(width, 1.0), 1e5)
    wrap = int(Qt.TextFlag.TextWordWrap)
    return QFontMetricsF(font).boundingRect(room, wrap, text).height()


def _words_fit(font: QFont, width: float, text: str) -> bool:
    """Say whether no single word is wider than the line."""
    metrics = QFontMetricsF(font)
    return all(metrics.horizontalAdvance(word) <= width for word in text.split())
