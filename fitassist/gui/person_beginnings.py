# SPDX-License-Identifier: MIT
"""What the page of measurements shows before there is anything to measure, and at first."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import at_left, scrolling
from fitassist.wording.pages import say


def nobody_chosen(choose: Callable[[], object]) -> QWidget:
    """Return what says that nobody is chosen yet, with the way to choose."""
    holder = QWidget()
    made = button(say("measure.to_people"), "primary")
    made.clicked.connect(lambda: choose())
    column = QVBoxLayout(holder)
    column.setContentsMargins(*(theme.MARGIN,) * 4)
    column.setSpacing(theme.MARGIN)
    column.addWidget(plain_label(say("place.measurements"), "heading"))
    column.addWidget(plain_label(say("measure.nobody"), wraps=True))
    column.addWidget(made, 0, Qt.AlignmentFlag.AlignLeft)
    column.addStretch(1)
    return holder


def upper_left(card: QWidget) -> QWidget:
    """Return a card below the heading of the page, at its upper left."""
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(*(theme.MARGIN,) * 4)
    column.setSpacing(theme.STEP * 2)
    column.addWidget(plain_label(say("place.measurements"), "heading"))
    column.addLayout(at_left(card))
    column.addStretch(1)
    return scrolling(holder)


def scroll_to(row: QWidget, area: QScrollArea) -> None:
    """Scroll to a row, if need be once it has got its place: new rows make the area longer."""
    if row.isVisible():
        area.ensureWidgetVisible(row)
        return
    bar = area.verticalScrollBar()

    def once() -> None:
        bar.rangeChanged.disconnect(once)
        QTimer.singleShot(0, row, lambda: area.ensureWidgetVisible(row))

    bar.rangeChanged.connect(once)
