# SPDX-License-Identifier: MIT
"""Every line in words and numbers: state, target, last reading, what is left, whether to measure.

Chances and spreads are there for those who ask.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QFrame,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.session.view import LineView
from fitassist.wording import reasons
from fitassist.wording.fitting_words import (
    amounts_unit,
    chance_text,
    say,
    state_shape,
    state_text,
    to_go_text,
    tolerance_text,
)
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.places import place_name

COLUMNS = ("line", "state", "to_go", "target", "read", "tolerance", "chance", "spread", "why")
ON_REQUEST = ("chance", "spread")
MOST_LINES = 4  # of words in a row, in the narrowest window


class LinesTable(QWidget):
    """The lines of a fitting as a table that can be read with the arrow keys."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = QTableWidget(0, len(COLUMNS))
        self.table.setHorizontalHeaderLabels([say(f"col_{name}") for name in COLUMNS])
        self.table.setAccessibleName(say("lines"))
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setFrameShape(QFrame.Shape.NoFrame)
        self.table.setWordWrap(True)
        self.table.setTabKeyNavigation(False)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(COLUMNS.index("why"), QHeaderView.ResizeMode.Stretch)
        # Words wrap as the columns allow, and these settle one after the other.
        self._fit_rows = QTimer(self)
        self._fit_rows.setSingleShot(True)
        self._fit_rows.setInterval(0)
        self._fit_rows.timeout.connect(self._on_widths)
        header.sectionResized.connect(lambda *_widths: self._fit_rows.start())
        self.chances = QCheckBox(say("chances"))
        self.chances.toggled.connect(self._on_chances)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table, 1)
        self._on_chances(False)
        self._dress()

    def show_lines(self, lines: Sequence[LineView], unit: AnyUnit) -> None:
        """Show the lines of a view or of a preview."""
        self.table.setRowCount(len(lines))
        beside = amounts_unit((view.to_go_mm for view in lines), unit)
        for row, view in enumerate(lines):
            for column, text in enumerate(_cells(view, unit, beside)):
                item = self.table.item(row, column)
                if item is None:
                    item = QTableWidgetItem()
                    item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                    self.table.setItem(row, column, item)
                if item.text() != text:
                    item.setText(text)
        self._on_widths()

    def cell(self, row: int, column: str) -> str:
        """Return what a cell says."""
        item = self.table.item(row, COLUMNS.index(column))
        return item.text() if item is not None else ""

    def content_height(self) -> int:
        """Return how high all lines stand together."""
        rows = sum(self.table.rowHeight(row) for row in range(self.table.rowCount()))
        return self.table.horizontalHeader().sizeHint().height() + rows + theme.HALF

    def sizeHint(self) -> QSize:
        """Return room for a few lines."""
        return QSize(600, 200)

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange) and hasattr(
            self, "chances"
        ):
            self._dress()

    def _dress(self) -> None:
        colours = theme.palette()
        hair = theme.blend(colours.page, colours.fine, 0.45)
        self.table.setStyleSheet(
            f"QTableWidget {{ background: {colours.page}; color: {colours.ink}; }}"
            f"QTableWidget::item {{ padding: 2px {theme.STEP}px; "
            f"border-bottom: 1px solid {hair}; }}"
            f"QTableWidget::item:selected {{ background: "
            f"{theme.blend(colours.card, colours.thread, 0.2)}; color: {colours.ink}; }}"
            f"QHeaderView::section {{ background: {colours.page}; color: {colours.quiet}; "
            f"border: none; padding: 2px {theme.STEP}px; "
            f"font-size: {theme.points(theme.LABEL_PT):.2f}pt; }}"
        )

    def _on_widths(self) -> None:
        """Fit the rows to the widths there are; what Qt leaves out of account is the padding."""
        self.table.resizeRowsToContents()
        column = COLUMNS.index("why")
        metrics = self.table.fontMetrics()
        room = self.table.columnWidth(column) - 3 * theme.STEP
        for row in range(self.table.rowCount()):
            lines = -(-metrics.horizontalAdvance(self.cell(row, "why")) // max(room, 1))
            least = min(lines, MOST_LINES) * metrics.lineSpacing() + theme.STEP + theme.HALF
            if lines > 1 and self.table.rowHeight(row) < least:
                self.table.setRowHeight(row, least)

    def _on_chances(self, is_on: bool) -> None:
        for name in ON_REQUEST:
            self.table.setColumnHidden(COLUMNS.index(name), not is_on)
        self._on_widths()


def _cells(view: LineView, unit: AnyUnit, beside: AnyUnit) -> tuple[str, ...]:
    """Return the cells of a line in the order of `COLUMNS`."""
    read, spread = view.last_read_mm, view.spread_mm
    why = reasons.reason(view.reason, unit)
    return (
        capital(place_name(view.line, view.what)),
        f"{state_shape(view.state)} {state_text(view.state)}",
        to_go_text(view.to_go_mm, unit, beside=beside),
        say_length(view.target_mm, unit),
        say_length(read, unit) if read is not None else say("not_read"),
        tolerance_text(view.tolerance_mm, unit),
        chance_text(view.chance),
        say_amount(spread, unit) if spread is not None else say("unknown"),
        why if view.has_dials else f"{say('by_padding').capitalize()}. {why}".strip(),
    )
