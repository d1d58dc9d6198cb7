# SPDX-License-Identifier: MIT
"""Padding, one step at a time: what to lay and where, and what the tape and the eye say of it.

The page holds no facts: it shows what its desk has worked out and sends answers to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.units import AnyUnit, Length
from fitassist.errors import FitError
from fitassist.gui.answer_panel import ENTER
from fitassist.gui.padding_desk import PaddingDesk
from fitassist.gui.waiting_view import WaitingView
from fitassist.session import events as ev
from fitassist.wording.padding_page_words import say
from fitassist.wording.sentences import sentence

if TYPE_CHECKING:
    from fitassist.gui.padding_work_view import PaddingWorkView
    from fitassist.session.padding_steps import Step

LAID = ("piece", "stack", "wrap", "wedge")
CHANGED = {"take_out": -1, "put_in": 1}


class PaddingPage(QWidget):
    """Shows the padding of the open fitting, or what to do first.

    Signals
    -------
    form_asked, fitting_asked, sheets_asked
        The user wants to go there.
    failed
        The ``FitError`` of an answer that was not kept.
    """

    form_asked = Signal()
    fitting_asked = Signal()
    sheets_asked = Signal()
    failed = Signal(object)

    def __init__(
        self, desk: PaddingDesk, unit: AnyUnit = "in", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self.setAccessibleName(say("page"))
        self.desk = desk
        desk.setParent(self)
        self._unit: AnyUnit = unit
        self._step: Step | None = None
        self.work_view: PaddingWorkView | None = None
        self.waiting = WaitingView()
        self.waiting.pressed.connect(self._on_waiting)
        self._on_press: Callable[[], object] = self.form_asked.emit
        self._stack = QStackedWidget()
        self._stack.addWidget(self.waiting)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)
        undo = QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self)
        undo.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        undo.activated.connect(self._undo)
        desk.changed.connect(self.show_now)
        desk.progressed.connect(self._on_progress)
        desk.failed.connect(self._on_failed)
        self.show_now()

    def hasHeightForWidth(self) -> bool:
        """Return False: what wraps gives way here, so that the page fits its window."""
        return False

    @property
    def step(self) -> Step | None:
        """What is asked for now, or None."""
        return self._step

    def set_unit(self, unit: AnyUnit) -> None:
        """Say lengths in another unit; what is typed stays."""
        self._unit = unit
        self.show_now()

    # -- what is shown ------------------------------------------------------------------------

    def show_now(self) -> None:
        """Show what the desk has come to."""
        stage = self.desk.stage
        if stage == "none":
            self._wait("page", say("no_fitting"), "no_fitting_go", self.form_asked.emit)
        elif stage == "opening":
            self._wait("getting_ready", say("getting_ready_why"))
        elif stage == "planning":
            self._wait("planning", say("planning_why"), "cancel", self.desk.cancel)
        elif stage == "cancelled":
            self._wait("cancelled", say("cancelled_why"), "work_out", self.desk.plan)
        elif stage == "refused" and self.desk.task is None:
            error = self.desk.error
            why = sentence(error, self._unit) if error is not None else say("cancelled_why")
            self._wait("refused", why, "work_out", self.desk.plan)
        else:
            self._show_work()

    def _wait(
        self, heading: str, text: str, action: str = "", press: Callable[[], object] | None = None
    ) -> None:
        self._on_press = press or (lambda: None)
        self.waiting.show_words(say(heading), text, say(action) if action else "")
        self._stack.setCurrentWidget(self.waiting)

    def _on_waiting(self) -> None:
        self._on_press()

    def _on_progress(self, share: float) -> None:
        if self.desk.stage == "planning":
            words = say("percent", percent=round(100 * share))
            self.waiting.show_words(say("planning"), words, say("cancel"))

    def _show_work(self) -> None:
        from fitassist.session.padding_steps import current

        view = self.work_view or self._make_view()
        steps = self.desk.steps()
        self._step = current(steps)
        view.show_desk(self.desk, steps, self._step, self._unit)
        self._stack.setCurrentWidget(view)
        self._focus()

    def _make_view(self) -> PaddingWorkView:
        from fitassist.gui.padding_work_view import PaddingWorkView

        view = PaddingWorkView(self.desk.materials)
        view.bar.done.connect(self._done)
        view.bar.skipped.connect(self._skip)
        view.bar.undo_asked.connect(self._undo)
        view.bar.read.connect(self._read)
        view.bar.answered.connect(self._answer)
        view.bar.looked.connect(self._looked)
        view.choices.chosen.connect(self._choose)
        view.choices.wrapped.connect(self.desk.keep)
        view.notes.accepted.connect(self._accept)
        view.notes.fitting_asked.connect(self.fitting_asked)
        view.notes.anew_asked.connect(self._plan_with)
        view.sheets.clicked.connect(lambda: self.sheets_asked.emit())
        self.work_view = view
        self._stack.addWidget(view)
        return view

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what is to be shown."""
        super().showEvent(event)
        self.desk.begin()
        self._focus()

    def hideEvent(self, event: QHideEvent) -> None:
        """Work nothing out while nobody looks."""
        super().hideEvent(event)
        self.desk.rest()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on to where the answer goes."""
        super().focusInEvent(event)
        self._focus()

    def _focus(self) -> None:
        view = self.work_view
        if view is None or not self.isVisible() or self._stack.currentWidget() is not view:
            return
        here = QApplication.focusWidget()
        if here is not None and view.choices.isAncestorOf(here):  # somebody chooses
            return
        widget = view.bar.first_widget() if self._step is not None else self
        if not widget.hasFocus():
            widget.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- what is answered ---------------------------------------------------------------------

    def _done(self) -> None:
        step = self._step
        if step is None:
            return
        if step.kind in LAID:
            self.desk.keep(self._laid(step))
        elif step.kind in CHANGED:
            told = {"step": step.id, "place": step.place, "layers": CHANGED[step.kind]}
            self.desk.keep(ev.LayerChanged.model_validate(told))
        else:
            self.desk.keep(ev.PaddingStepDone(step=step.id))

    def _laid(self, step: Step) -> ev.PieceLaid:
        from fitassist.session.padding_steps import sheets_to_lay

        values = step.values
        sheets = len(values.get("sizes_mm", ())) or len(values.get("lengths_mm", ()))
        sheets = sheets or int(values.get("sheets", 1))
        if step.kind == "piece" and self.desk.work is not None:
            sheets = sheets_to_lay(step, self.desk.work, self.desk.state)
        return ev.PieceLaid(
            step=step.id,
            place=step.place,
            sheets=max(sheets, 1),
            width_mm=values.get("width_mm", 0.0),
            height_mm=values.get("height_mm", 0.0),
        )

    def _skip(self) -> None:
        if self._step is not None:
            self.desk.keep(ev.PaddingStepDone(step=self._step.id, skipped=True))

    def _undo(self) -> None:
        if self.desk.can_undo:
            self.desk.undo()

    def _read(self, length: Length, text: str) -> None:
        step = self._step
        if step is None or step.kind != "measure":
            return
        if not 20.0 <= length.mm <= 3000.0:
            self._on_failed(FitError("out_of_range", least_mm=20.0, most_mm=3000.0))
            return
        self.desk.keep(ev.PaddedRead(step=step.id, line=step.place, mm=length.mm, text=text))

    def _answer(self, says: str) -> None:
        step = self._step
        if step is not None and step.kind == "proof":
            self.desk.keep(ev.ProofAnswered(question=step.place, answer=says))

    def _looked(self, base: str, looks: str) -> None:
        self.desk.keep(ev.PaddingLooked.model_validate({"place": base, "looks": looks}))

    def _choose(self, choice: ev.PaddingChosen) -> None:
        if choice != self.desk.choice or self.desk.state.choice is None:
            self.desk.keep(choice)

    def _plan_with(self, thickness_mm: float) -> None:
        choice = self.desk.choice.model_copy(update={"thickness_mm": thickness_mm})
        self._choose(choice)

    def _accept(self, lines: Sequence[str]) -> None:
        self.desk.keep(*(ev.StandingOutAccepted(line=line) for line in lines))

    def _on_failed(self, error: FitError) -> None:
        """Say in place what was not kept; what was typed stays."""
        if self.work_view is not None:
            self.work_view.bar.show_error(sentence(error, self._unit))
        self.failed.emit(error)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button in use, or else answers; holding it down answers once."""
        if event.key() not in ENTER or self.work_view is None:
            super().keyPressEvent(event)
            return
        event.accept()
        if event.isAutoRepeat():
            return
        here = QApplication.focusWidget()
        if isinstance(here, QPushButton) and self.isAncestorOf(here):
            here.click()
        elif self._step is not None:
            self.work_view.bar.primary.click()
