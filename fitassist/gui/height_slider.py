# SPDX-License-Identifier: MIT
"""A slider over the heights of a torso: steps of 5 mm, and from line to line by the page keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QSlider, QWidget

from fitassist.gui import theme
from fitassist.wording.shape_words import say

STEP_MM = 5.0
NEAR_MM = STEP_MM / 2.0 + 1e-6


class HeightSlider(QSlider):
    """Chooses a height above the waist.

    Signals
    -------
    height_changed
        The height, mm: a line's own where the slider stands at a line.
    """

    height_changed = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._lines_mm: tuple[float, ...] = ()
        self._height_mm = 0.0
        self.setAccessibleName(say("height"))
        self.setToolTip(say("height_how"))
        self.setMinimumWidth(theme.TARGET)
        self.valueChanged.connect(self._on_value)

    def show_lines(self, lines_mm: Sequence[float]) -> None:
        """Take the heights of the lines, in any order; at least two."""
        self._lines_mm = tuple(sorted(lines_mm))
        self.blockSignals(True)
        self.setRange(round(self._lines_mm[0] / STEP_MM), round(self._lines_mm[-1] / STEP_MM))
        self.blockSignals(False)

    @property
    def height_mm(self) -> float:
        """The height that is chosen."""
        return self._height_mm

    def set_height(self, height_mm: float, words: str = "") -> None:
        """Stand at a height without telling; `words` say where that is."""
        self._height_mm = height_mm
        self.blockSignals(True)
        self.setValue(round(height_mm / STEP_MM))
        self.blockSignals(False)
        self.setAccessibleDescription(f"{words}. {say('height_how')}" if words else "")

    def snapped(self, height_mm: float) -> float:
        """Return the height of the line that is next to a height, or the height itself."""
        near = [mm for mm in self._lines_mm if abs(mm - height_mm) <= NEAR_MM]
        return min(near, key=lambda mm: abs(mm - height_mm), default=height_mm)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from line to line by the page keys."""
        keys = {Qt.Key.Key_PageUp: 1, Qt.Key.Key_PageDown: -1}
        turn = keys.get(Qt.Key(event.key()))
        if turn is None:
            super().keyPressEvent(event)
            return
        beyond = [mm for mm in self._lines_mm if turn * (mm - self._height_mm) > 0.5]
        if beyond:
            self._go(min(beyond) if turn > 0 else max(beyond))
        event.accept()

    def _on_value(self, value: int) -> None:
        self._go(self.snapped(value * STEP_MM))

    def _go(self, height_mm: float) -> None:
        self._height_mm = height_mm
        self.height_changed.emit(height_mm)
