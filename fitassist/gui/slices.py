# SPDX-License-Identifier: MIT
"""Something long done a slice at a time between events, so that the window goes on answering."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

SLICE_S = 0.03  # shorter than anybody notices between two keys


class Slices(QObject):
    """Calls something again and again until it says that it has ended.

    Parameters
    ----------
    step
        Works for about so many seconds; returns whether it has ended.
    """

    def __init__(self, step: Callable[[float], bool], parent: QObject) -> None:
        super().__init__(parent)
        self._step = step
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._go_on)

    def begin(self) -> None:
        """Begin with the next event."""
        self._timer.start(0)

    def stop(self) -> None:
        """Call no more."""
        self._timer.stop()

    def is_going(self) -> bool:
        """Say whether there is more to come."""
        return self._timer.isActive()

    def _go_on(self) -> None:
        if not self._step(SLICE_S):
            self._timer.start(0)
