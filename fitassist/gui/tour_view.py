# SPDX-License-Identifier: MIT
"""The first screens, one at a time: what the program is for, in at most five, left at any time."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.answer_panel import ENTER, leaves
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import at_left, scrolling
from fitassist.gui.topic_view import WIDTH, TopicView
from fitassist.wording.help_search import heading
from fitassist.wording.help_words import TOUR, say

PICTURE_HIGH = 350


class TourView(QWidget):
    """Shows the screens in turn.

    Signals
    -------
    left
        The user has left them or gone through.
    """

    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self._number = 0
        self._text = TopicView(PICTURE_HIGH)
        self._where = plain_label(role="quiet")
        self.leave = button(say("tour_leave"), "link")
        self.leave.clicked.connect(self.left)
        self.back = button(say("tour_back"))
        self.back.clicked.connect(lambda: self.show_screen(self._number - 1))
        self.next = button(say("tour_next"), "primary")
        self.next.clicked.connect(self._on_next)
        read = QWidget()
        theme.at_most(read, WIDTH + 2 * theme.MARGIN)
        inside = QVBoxLayout(read)
        inside.setContentsMargins(*(theme.MARGIN,) * 4)
        inside.addWidget(self._text)
        holder = QWidget()
        holder.setLayout(at_left(read))
        foot = QHBoxLayout()
        foot.setContentsMargins(theme.MARGIN, theme.STEP, theme.MARGIN, theme.MARGIN)
        foot.setSpacing(theme.STEP)
        for widget in (self.next, self.back, self._where):
            foot.addWidget(widget)
        foot.addStretch(1)
        foot.addWidget(self.leave)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(scrolling(holder), 1)
        column.addLayout(foot)
        self.show_screen(0)

    def show_screen(self, number: int) -> None:
        """Show a screen and say it to a screen reader."""
        self._number = min(max(number, 0), len(TOUR) - 1)
        topic = TOUR[self._number]
        self._text.show_topic(topic)
        where = say("tour_of", number=self._number + 1, many=len(TOUR))
        self._where.setText(where)
        self.back.setEnabled(self._number > 0)
        words = say("tour_begin" if self._number == len(TOUR) - 1 else "tour_next")
        self.next.setText(words)
        self.next.setAccessibleName(words)
        self.setAccessibleName(f"{heading(topic)}. {where}")
        if self.isVisible():
            said = f"{heading(topic)}. {topic.text}"
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, said))
            self.next.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def number(self) -> int:
        """Which screen is shown, from 0."""
        return self._number

    def _on_next(self) -> None:
        if self._number == len(TOUR) - 1:
            self.left.emit()
        else:
            self.show_screen(self._number + 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes on, Escape leaves."""
        if leaves(event, self.left):
            return
        if event.key() in ENTER and not event.isAutoRepeat():
            event.accept()
            (self.leave if self.leave.hasFocus() else self.next).click()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on to the button that goes on."""
        super().focusInEvent(event)
        self.next.setFocus(Qt.FocusReason.OtherFocusReason)
