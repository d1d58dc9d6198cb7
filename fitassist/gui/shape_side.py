# SPDX-License-Identifier: MIT
"""Beside the pictures of a shape: what would sharpen them, what is in doubt, how to measure it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.drawings import DrawingView
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.session.shape_view import Sharper
from fitassist.wording.places import line_name
from fitassist.wording.shape_words import home_steps, say, share_text

PICTURE_HEIGHT = 190
HOME_COLUMNS, HOME_COLUMNS_LARGE = 5, 2


class SharperList(QWidget):
    """The measurements that would narrow the bands most, each a way to its field.

    Signals
    -------
    field_asked
        The key of a measurement.
    """

    field_asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(theme.HALF)
        self.why = plain_label(role="note", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(plain_label(say("sharper"), "title"))
        column.addLayout(self._rows)
        column.addWidget(self.why)
        column.addStretch(1)

    def show_sharper(self, sharper: Sequence[Sharper], labels: Mapping[str, str]) -> None:
        """Show what would help, best first; `labels` are the names of measurements."""
        clear_layout(self._rows)
        for one in sharper:
            name = labels.get(one.key, one.key)
            gain = say("sharper_one", line=line_name(one.line), share=share_text(one.left_at_line))
            row = QWidget()
            inside = QHBoxLayout(row)
            inside.setContentsMargins(0, 0, 0, 0)
            inside.setSpacing(theme.STEP)
            made = button(name, "link", f"{name}: {gain}")
            made.clicked.connect(lambda _on=False, key=one.key: self.field_asked.emit(key))
            inside.addWidget(made)
            inside.addWidget(plain_label(gain, wraps=True), 1)
            self._rows.addWidget(row)
        if not sharper:
            self._rows.addWidget(plain_label(say("sharper_none"), wraps=True))
        show_all(self._rows)


class DoubtList(QWidget):
    """What is in doubt or lies elsewhere, with a way to the field meant.

    Signals
    -------
    field_asked
        The key of a measurement.
    """

    field_asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(theme.STEP)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(plain_label(say("doubts"), "title"))
        column.addLayout(self._rows)
        column.addStretch(1)

    def show_doubts(self, doubts: Sequence[tuple[str, str]]) -> None:
        """Show sentences, each with the key of the field it is about, or an empty text."""
        clear_layout(self._rows)
        for text, key in doubts:
            row = QFrame()
            row.setProperty("role", "ask")
            inside = QHBoxLayout(row)
            inside.setContentsMargins(theme.STEP * 2, theme.HALF, theme.STEP, theme.HALF)
            inside.setSpacing(theme.STEP)
            inside.addWidget(plain_label(text, wraps=True), 1)
            if key:
                made = button(say("look"), "link", f"{say('look')}: {text}")
                made.clicked.connect(lambda _on=False, key=key: self.field_asked.emit(key))
                inside.addWidget(made, 0, Qt.AlignmentFlag.AlignTop)
            self._rows.addWidget(row)
        self.setVisible(bool(doubts))
        show_all(self._rows)


class MeasuringAtHome(QWidget):
    """How shape is measured at home, in pictures and words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.MARGIN)
        self._grid.setVerticalSpacing(theme.STEP * 2)
        self._steps = [_step(picture, words) for picture, words in home_steps()]
        self.arrange()

    def arrange(self) -> None:
        """Stand side by side, fewer of them where the type is large."""
        columns = HOME_COLUMNS_LARGE if theme.is_large() else HOME_COLUMNS
        for number, step in enumerate(self._steps):
            self._grid.addWidget(step, *divmod(number, columns))
        for column in range(HOME_COLUMNS):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)


def _step(picture: str, words: str) -> QWidget:
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(theme.STEP)
    view = DrawingView(picture, None, words)
    view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    view.setFixedHeight(PICTURE_HEIGHT)
    column.addWidget(view)
    column.addWidget(plain_label(words, wraps=True))
    column.addStretch(1)
    return holder
