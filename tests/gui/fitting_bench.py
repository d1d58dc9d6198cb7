# SPDX-License-Identifier: MIT
"""A page with its fitting, and hands that drive it by keys and mouse.

The form that is measured here is our own arithmetic: each seam opens by a quarter of what its dial
adds, and the girth is the closed one and the four gaps. No dial moves another line.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from fitassist.domain.lines import Seam
from fitassist.errors import StorageFailed
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.fitting_page import FittingPage
from fitassist.gui.fitting_work import FittingWork
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.wording.lengths import say_length
from tests.gui.form_of_twelve import CLOSED_MM, LEAST

MOST_ANSWERS = 60


def true_girth(fitting: Fitting, line: str) -> float:
    """Return what a perfect tape reads: the closed girth and a quarter of each dial's opening."""
    numbers = fitting.view().numbers
    opened = sum(numbers[f"{line}.{seam}"] - LEAST[line] for seam in Seam) / 4
    return CLOSED_MM[line] + 25.4 * opened


class Bench:
    """A page on the screen with its fitting, and hands for it."""

    def __init__(self, qtbot: QtBot, fitting: Fitting, unit: str = "in") -> None:
        self.qtbot = qtbot
        self.fitting = fitting
        self.bridge = FittingBridge.over(fitting)
        self.page = FittingPage(self.bridge, unit)  # type: ignore[arg-type]
        qtbot.addWidget(self.page)
        self.page.resize(1366, 700)
        self.page.show()
        qtbot.waitExposed(self.page)
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    @property
    def work(self) -> FittingWork:
        assert self.page.work is not None
        return self.page.work

    @property
    def kind(self) -> str:
        return self.fitting.instruction.kind

    def key(
        self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        """Press a key wherever the focus is."""
        here = QApplication.focusWidget()
        assert here is not None, "the focus was lost"
        self.qtbot.keyClick(here, key, modifier)

    def enter(self) -> None:
        self.key(Qt.Key.Key_Return)

    def type(self, text: str) -> None:
        here = QApplication.focusWidget()
        assert here is not None
        self.qtbot.keyClicks(here, text)

    def click(self, widget: QWidget) -> None:
        assert widget.isVisible(), "it cannot be clicked where it is not shown"
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)

    def set_until(self, kind: str) -> None:
        """Answer with Enter, and with true readings, until an instruction of that kind."""
        for _answer in range(MOST_ANSWERS):
            if self.kind == kind:
                return
            if self.kind == "measure":
                self.type(say_length(true_girth(self.fitting, self.fitting.instruction.line), "in"))
            self.enter()
        raise AssertionError(f"never came to {kind}")


class Disk:
    """Keeps events, or fails when told to."""

    def __init__(self) -> None:
        self.seq = 0
        self.is_full = False

    def __call__(self, events: Sequence[ev.Event]) -> list[ev.Recorded]:
        if self.is_full:
            raise StorageFailed("disk_full")
        first = self.seq + 1
        self.seq += len(events)
        return [ev.Recorded(seq=first + i, event=event) for i, event in enumerate(events)]
