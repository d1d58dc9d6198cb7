# SPDX-License-Identifier: MIT
"""A form of twelve dials, a body for it, and hands that drive a fitting page by keys and mouse.

The form that is measured here is our own arithmetic: each seam opens by a quarter of what its dial
adds, and the girth is the closed one and the four gaps. No dial moves another line.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import Dial, Form, FormLine, Row, Stand, Torso
from fitassist.domain.lines import Seam
from fitassist.errors import StorageFailed
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.fitting_page import FittingPage
from fitassist.gui.fitting_work import FittingWork
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.wording.lengths import say_length

CLOSED_MM = {"bust": 889.0, "waist": 711.2, "hip": 939.8}  # 35, 28 and 37 in
LEAST = {"bust": 35.0, "waist": 28.0, "hip": 37.0}
GOAL_MM = {"bust": 927.1, "waist": 742.95, "hip": 971.55}
MOST_ANSWERS = 60


def a_form(**changes: object) -> Form:
    dials = tuple(
        Dial(name=f"{row}.{seam}", least=least, greatest=least + 6, click=0.25, number=least)
        for row, least in LEAST.items()
        for seam in Seam
    )
    form = Form(
        name="A form of twelve dials",
        lines=tuple(FormLine(name=n, closed_girth_mm=mm) for n, mm in CLOSED_MM.items()),
        rows=tuple(Row(name=name, line=name) for name in LEAST),
        dials=dials,
        torso=Torso(parts="one", least_mm=380.0, greatest_mm=440.0, length_mm=380.0),
        stand=Stand(),
    )
    return form.model_copy(update=changes)


def a_body(**goals_mm: float) -> Body:
    goals = {**GOAL_MM, **goals_mm}
    targets = tuple(Target(line=line, value_mm=mm) for line, mm in goals.items())
    return Body(name="Everyday", undergarment="everyday bra", targets=targets)


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


def started(**preferences: object) -> ev.FittingStarted:
    return ev.FittingStarted(
        fitting_id="one", body=a_body(), form=a_form(), preferences=Preferences(**preferences)
    )
