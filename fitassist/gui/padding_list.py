# SPDX-License-Identifier: MIT
"""All steps of a padding in order: what is done, what is asked for now, what comes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.folds import clear_layout
from fitassist.wording.padding_page_words import say

StepSeen = Literal["done", "skipped", "now", "open"]
MARKS = {"done": "✓", "skipped": "–", "now": "▸", "open": "·"}


class PaddingList(QScrollArea):
    """One line a step, with a mark and, for those who hear it, a word."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setWidgetResizable(True)
        holder = QWidget()
        holder.setProperty("role", "page")
        self._column = QVBoxLayout(holder)
        self._column.setContentsMargins(0, 0, theme.STEP, 0)
        self._column.setSpacing(theme.HALF)
        self.setWidget(holder)
        self.setAccessibleName(say("steps"))
        self._lines: list[tuple[str, StepSeen]] = []
        self._now: QLabel | None = None
        self._scroll = QTimer(self)
        self._scroll.setSingleShot(True)
        self._scroll.setInterval(0)
        self._scroll.timeout.connect(self._show_now)

    def show_steps(self, steps: Sequence[tuple[str, StepSeen]]) -> None:
        """Show steps by their titles; the one asked for comes into sight."""
        if list(steps) == self._lines:
            return
        self._lines = list(steps)
        clear_layout(self._column)
        self._now = None
        self._column.addWidget(plain_label(say("steps"), "title"))
        for title, seen in self._lines:
            role = {"now": "title", "open": ""}.get(seen, "quiet")
            label = plain_label(f"{MARKS[seen]}  {title}", role, wraps=True)
            word = "" if seen == "open" else f", {say(f'state_{seen}')}"
            label.setAccessibleName(f"{title}{word}")
            self._column.addWidget(label)
            if seen == "now":
                self._now = label
        self._column.addStretch(1)
        self._scroll.start()

    def lines(self) -> tuple[tuple[str, StepSeen], ...]:
        """Return what is listed."""
        return tuple(self._lines)

    def _show_now(self) -> None:
        if self._now is not None:
            self.ensureWidgetVisible(self._now, 0, self.viewport().height() // 3)
