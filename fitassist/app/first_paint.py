# SPDX-License-Identifier: MIT
"""What can wait until the window has been seen: heavy pages at once after, maths behind it."""

from __future__ import annotations

import importlib
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QThreadPool, QTimer
from PySide6.QtWidgets import QWidget

from fitassist.app.torso_shapes import load_shapes
from fitassist.gui.bridge import ENGINE


class AfterFirstPaint(QObject):
    """Runs what was asked for once a window has painted itself for the first time."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._is_painted = False
        self._waiting: list[Callable[[], object]] = []
        self._window = window
        window.installEventFilter(self)

    @property
    def is_painted(self) -> bool:
        """Whether there has been something to see."""
        return self._is_painted

    def do(self, act: Callable[[], object]) -> None:
        """Do something after the first paint; at once if that has been."""
        if self._is_painted:
            act()
        else:
            self._waiting.append(act)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Wait for the paint, and let everything pass."""
        if event.type() == QEvent.Type.Paint and not self._is_painted:
            self._is_painted = True
            self._window.removeEventFilter(self)
            QTimer.singleShot(0, self, self._go_on)
        return False

    def _go_on(self) -> None:
        waiting, self._waiting = self._waiting, []
        for act in waiting:
            act()


def load_engine_behind() -> None:
    """Load the mathematics of fittings in a thread, so that the first fitting begins at once."""
    QThreadPool.globalInstance().start(_load_engine)


def _load_engine() -> None:
    importlib.import_module(ENGINE)
    load_shapes()
