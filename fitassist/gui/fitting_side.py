# SPDX-License-Identifier: MIT
"""Beside the sections: what comes next, or in its place how the step at hand is done."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.steps import Instruction
from fitassist.gui import theme
from fitassist.gui.fields import button
from fitassist.gui.fitting_list import FittingList
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import scrolling
from fitassist.gui.topic_view import TopicView
from fitassist.wording.help_steps import topic_of
from fitassist.wording.help_words import say

PICTURE_HIGH = 130


class FittingSide(QStackedWidget):
    """The list of what comes next and the explanation of the step, one of them shown.

    Signals
    -------
    how_changed
        Whether the explanation is shown now.
    """

    how_changed = Signal(bool)

    def __init__(self, following: FittingList, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        self.text = TopicView(PICTURE_HIGH)
        self.close_button = button(say("how_close"), "link")
        self.close_button.clicked.connect(lambda: self.show_how(False))
        self.close_button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        how = QWidget()
        column = QVBoxLayout(how)
        column.setContentsMargins(0, 0, theme.STEP, 0)
        column.setSpacing(theme.HALF)
        ways = FlowLayout()
        ways.addWidget(self.close_button)
        column.addWidget(self.text)
        column.addLayout(ways)
        for content in (following, how):
            self.addWidget(_upright(content))

    def show_step(self, step: Instruction) -> None:
        """Have the explanation of a step ready."""
        self.text.show_topic(topic_of(step))

    def show_how(self, is_how: bool) -> None:
        """Show how the step is done, or what comes next."""
        if is_how == self.is_how:
            return
        self.setCurrentIndex(int(is_how))
        self.how_changed.emit(is_how)

    @property
    def is_how(self) -> bool:
        """Whether the explanation is shown."""
        return self.currentIndex() == 1


def _upright(content: QWidget) -> QScrollArea:
    area = scrolling(content)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area
