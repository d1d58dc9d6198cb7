# SPDX-License-Identifier: MIT
"""What is worth knowing before anything is laid: where the form stands out, what is guessed."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import clear_layout
from fitassist.gui.padding_desk import PaddingDesk
from fitassist.padding.plan import MANY_SHEETS
from fitassist.session.padding_work import standing_out
from fitassist.wording.padding_page_words import (
    say,
    say_thickness,
    standing_out_text,
    unsure_text,
)

SHOWN = 2
# A working thickness off by less is not worth planning for anew (own choice).
WORTH_SHARE = 0.15


class PaddingNotes(QWidget):
    """A few lines, each with what can be done about it.

    Signals
    -------
    accepted
        The line whose standing out is accepted, in a tuple.
    fitting_asked
        The user wants to turn dials.
    anew_asked
        A working thickness in mm to plan with.
    """

    accepted = Signal(object)
    fitting_asked = Signal()
    anew_asked = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._texts: list[str] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.HALF)

    def show_desk(self, desk: PaddingDesk, unit: AnyUnit) -> None:
        """Show what is worth knowing of a plan."""
        clear_layout(self._column)
        self._texts = []
        self._say_standing_out(desk, unit)
        self._say_worked(desk, unit)
        task = desk.task
        if task is not None and task.why:
            few = task.why == "outline_too_few_girths"
            self._add(say("girths_only_few" if few else "girths_only"))
        if desk.is_under_way:
            self._add(say("under_way"), (say("to_fitting"), self.fitting_asked.emit))
        if task is not None and task.unsure and not task.is_empty:
            self._add(unsure_text(task.unsure), (say("to_fitting"), self.fitting_asked.emit))
        self.setVisible(bool(self._texts))

    def texts(self) -> tuple[str, ...]:
        """Return what is said."""
        return tuple(self._texts)

    def _say_standing_out(self, desk: PaddingDesk, unit: AnyUnit) -> None:
        if desk.work is None:
            return
        for one in standing_out(desk.work):
            if one.line in desk.state.accepted:
                continue
            text = standing_out_text(one.line, one.girth_mm, one.out_mm, one.share, unit)
            accept = (say("accept"), partial(self.accepted.emit, (one.line,)))
            self._add(text, (say("to_fitting"), self.fitting_asked.emit), accept)

    def _say_worked(self, desk: PaddingDesk, unit: AnyUnit) -> None:
        work = desk.work
        if work is None:
            return
        worked, assumed = work.working_mm(desk.state), work.choice.thickness_mm
        if abs(worked - assumed) > WORTH_SHARE * assumed:
            text = say(
                "learned",
                worked=say_thickness(worked, unit),
                assumed=say_thickness(assumed, unit),
            )
            again = (say("learned_go"), partial(self.anew_asked.emit, round(worked, 2)))
            self._add(text, *(() if desk.is_read_only else (again,)))
        plan = work.plan
        if plan is not None and plan.thicker_mm > 0.0 and plan.most_sheets > MANY_SHEETS:
            told = say_thickness(plan.thicker_mm, unit)
            self._add(say("thicker", sheets=plan.most_sheets, thickness=told))

    def _add(self, text: str, *ways: tuple[str, object]) -> None:
        if len(self._texts) >= SHOWN:
            return
        self._texts.append(text)
        line = QFrame()
        line.setProperty("role", "ask")
        row = QHBoxLayout(line)
        row.setContentsMargins(theme.STEP, theme.HALF, theme.STEP, theme.HALF)
        row.setSpacing(theme.STEP)
        row.addWidget(plain_label(text, wraps=True), 1)
        for words, act in ways:
            made = button(words, "link")
            made.clicked.connect(partial(_called, act))
            row.addWidget(made)
        self._column.addWidget(line)
        line.show()


def _called(act: object, _on: bool = False) -> None:
    assert callable(act)
    act()
