# SPDX-License-Identifier: MIT
"""A fitting, one instruction at a time, for somebody with full hands two metres away.

The page holds no facts: it shows the view of a bridge and sends answers to it. One Enter is done.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain import answers as an
from fitassist.domain.lines import What
from fitassist.domain.steps import Measure, SetDials
from fitassist.domain.units import AnyUnit, Length
from fitassist.errors import FitError
from fitassist.gui.answer_panel import ENTER, AnswerPanel
from fitassist.gui.at_the_end import lines_as_ended
from fitassist.gui.beside_link import BesideLink
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.waiting_view import WaitingView
from fitassist.session.view import FittingView
from fitassist.wording.fitting_words import say
from fitassist.wording.sentences import sentence

if TYPE_CHECKING:
    from fitassist.gui.fitting_work import FittingWork

PREVIEW_MS = 12  # keystrokes closer than this are drawn together

Reading = tuple[str, What, float]


class FittingPage(QWidget):
    """Shows one fitting, or what to do first where there is none.

    Signals
    -------
    form_asked
        There is no fitting, and the user wants to choose a form for one.
    new_asked
        The fitting has ended, and the user wants to begin another.
    padding_asked
        The fitting has ended, and the user wants to pad what is left.
    alone_asked
        Whether the page wants the whole screen for itself.
    """

    form_asked = Signal()
    alone_asked = Signal(bool)
    new_asked = Signal()
    padding_asked = Signal()

    def __init__(
        self,
        bridge: FittingBridge | None = None,
        unit: AnyUnit = "in",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self.setAccessibleName(say("page"))
        self._unit: AnyUnit = unit
        self._bridge: FittingBridge | None = None
        self._work: FittingWork | None = None
        self._view: FittingView | None = None
        self._is_never_away = False
        self._numbers: Mapping[str, float] | None = None
        self._reading: Reading | None = None
        self._waiting = WaitingView()
        self._waiting.pressed.connect(self._on_waiting)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._waiting)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(PREVIEW_MS)
        self._timer.timeout.connect(self._show_preview)
        undo = QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self)
        undo.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        undo.activated.connect(self._undo)
        self.link = BesideLink(self)
        self.link.answered.connect(self._submit)
        self.link.left.connect(self.leave_beside)
        self.link.new_asked.connect(self._on_new)
        for key, is_private in (("F11", False), ("F9", True)):
            opens = QShortcut(QKeySequence(key), self)
            opens.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            opens.activated.connect(partial(self._on_beside_key, is_private))
        self.show_bridge(bridge)

    # -- which fitting ------------------------------------------------------------------------

    def show_bridge(self, bridge: FittingBridge | None) -> None:
        """Show another fitting; None: there is none."""
        if self._bridge is not None:
            self._bridge.view_changed.disconnect(self.show_view)
            self._bridge.failed.disconnect(self._on_failed)
        self.leave_beside()
        self.link.watch(bridge)
        self._timer.stop()
        self._bridge, self._view, self._is_never_away = bridge, None, False
        if self._work is not None:
            self._work.leave_sections_to(self)
            self._stack.removeWidget(self._work)
            self._work.deleteLater()
            self._work = None
        self._stack.setCurrentWidget(self._waiting)
        if bridge is None:
            self._waiting.show_words(say("page"), say("empty"), say("empty_go"))
            return
        bridge.view_changed.connect(self.show_view)
        bridge.failed.connect(self._on_failed)
        self._waiting.show_words(say("getting_ready"), say("getting_ready_why"))
        bridge.begin()

    @property
    def bridge(self) -> FittingBridge | None:
        """The fitting that is shown."""
        return self._bridge

    @property
    def work(self) -> FittingWork | None:
        """The parts of the page, once there is something to show."""
        return self._work

    @property
    def waiting(self) -> WaitingView:
        """What stands here while there is no fitting to show."""
        return self._waiting

    def set_unit(self, unit: AnyUnit) -> None:
        """Say lengths in another unit; what is typed stays."""
        self._unit = unit
        if self._work is None or self._view is None or self._bridge is None:
            return
        self._work.bar.set_unit(unit)
        for panel in self._work.panels():
            panel.set_unit(unit)
        self._work.sections.set_unit(unit)
        self._fill(self._work, self._view, self._bridge)

    def _on_waiting(self) -> None:
        if self._bridge is None:
            self.form_asked.emit()
        else:
            self._waiting.show_words(say("getting_ready"), say("getting_ready_why"))
            self._bridge.begin()

    # -- what is shown ------------------------------------------------------------------------

    def show_view(self, view: FittingView) -> None:
        """Show what the fitting has come to; whatever was open or typed has been answered."""
        bridge = self._bridge
        if bridge is None:
            return
        work = self._work or self._make_work(bridge, view)
        self._view = view
        self._timer.stop()
        self._numbers = self._reading = None
        work.hide_panel()
        work.bar.show_step(view.instruction, view.can_undo, self._unit)
        self._fill(work, view, bridge)
        self.link.show_view(view, lines_as_ended(view), self._unit)
        self._stack.setCurrentWidget(self.link.view or work)
        self._focus()

    def _fill(self, work: FittingWork, view: FittingView, bridge: FittingBridge) -> None:
        form, unit = bridge.started.form, self._unit
        work.card.show_instruction(view.instruction, form, unit)
        work.show_picture(view.instruction)
        work.strip.show_notes(() if self._is_never_away else view.first_minute, unit)
        self._show_list(work, view, bridge)
        work.sections.show_from(work.is_behind())
        work.sections.show_lines(lines_as_ended(view), view.numbers)
        work.lines.show_lines(lines_as_ended(view), unit)
        work.arrange()

    def _show_list(self, work: FittingWork, view: FittingView, bridge: FittingBridge) -> None:
        hidden = self._is_never_away and bool(view.first_minute)
        work.list.show_view(view, bridge.started.form, self._unit, offer_never=hidden)

    def _make_work(self, bridge: FittingBridge, view: FittingView) -> FittingWork:
        from fitassist.gui.fitting_work import FittingWork  # brings the plots

        work = FittingWork(bridge.started.form, self)
        work.bar.answered.connect(self._submit)
        work.bar.typed.connect(self._on_tape)
        work.bar.asked.connect(self._on_asked)
        for panel in work.panels():
            panel.set_unit(self._unit)
            panel.answered.connect(self._submit)
            panel.typed.connect(self._preview)
            panel.closed.connect(self._close_panel)
        work.list.free_asked.connect(lambda dial: self._submit(an.Free(dial=dial)))
        work.list.never_asked.connect(lambda: self._put_never_away(False))
        work.beside.clicked.connect(lambda: self.show_beside())
        work.private.clicked.connect(lambda: self.show_beside(is_private=True))
        work.strip.put_away.connect(lambda: self._put_never_away(True))
        form, body = bridge.started.form, bridge.started.body
        work.sections.begin(form, body, view.lines, self._unit, bridge.outlines())
        self._work = work
        self._stack.addWidget(work)
        return work

    def _put_never_away(self, is_away: bool) -> None:
        self._is_never_away = is_away
        if self._work is None or self._view is None or self._bridge is None:
            return
        self._work.strip.show_notes(() if is_away else self._view.first_minute, self._unit)
        self._show_list(self._work, self._view, self._bridge)
        self._focus()

    def _focus(self) -> None:
        if self._work is None or not self.isVisible():
            return
        if self.link.view is not None:
            self.link.view.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        panel = self._work.open_panel()
        ended = self._view is not None and self._view.instruction.kind == "done"
        if panel is not None:
            widget = panel.first_widget()
        else:  # at the end one more Enter does nothing
            widget = self if ended else self._work.bar.first_widget()
        if not widget.hasFocus():
            widget.setFocus(Qt.FocusReason.OtherFocusReason)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on to where the answer goes."""
        super().focusInEvent(event)
        self._focus()

    # -- beside the form ----------------------------------------------------------------------

    def show_beside(self, is_private: bool = False) -> None:
        """Fill the screen with the step alone, if there is one."""
        if self._view is None or self._bridge is None or self._work is None:
            return
        self._work.hide_panel()
        view = self.link.open(self._bridge, self._unit, is_private)
        self._stack.addWidget(view)
        self._stack.setCurrentWidget(view)
        self.alone_asked.emit(True)
        self.link.show_view(self._view, lines_as_ended(self._view), self._unit)
        self._focus()

    def leave_beside(self) -> None:
        """Show the whole page again."""
        if self.link.view is None:
            return
        self.link.close()
        if self._work is not None:
            self._stack.setCurrentWidget(self._work)
        self.alone_asked.emit(False)
        self._focus()

    def _on_beside_key(self, is_private: bool) -> None:
        view = self.link.view
        if view is None:
            self.show_beside(is_private)
        elif is_private:
            view.keep_private(not view.flow.is_private)
        else:
            self.leave_beside()

    def _on_new(self) -> None:
        self.leave_beside()
        self.new_asked.emit()

    # -- what is answered ---------------------------------------------------------------------

    def _submit(self, answer: an.Answer) -> None:
        if self._bridge is not None:
            self.link.note(answer)
            self._bridge.submit(answer)

    def _undo(self) -> None:
        if self._view is not None and self._view.can_undo:
            self._submit(an.Undo())

    def _on_failed(self, error: FitError) -> None:
        """Say in place what was not taken; nothing that was typed is lost."""
        if self._work is None or self._view is None:
            self._waiting.show_words(
                say("not_ready"), sentence(error, self._unit), say("try_again")
            )
            return
        panel = self._work.open_panel()
        if self.link.view is not None:
            self.link.show_failure(error)
        elif panel is not None:
            panel.show_failure(error)
        else:
            self._work.bar.show_failure(error)

    def _on_asked(self, name: str) -> None:
        work, view, bridge = self._work, self._view, self._bridge
        if work is None or view is None or bridge is None:
            return
        step, form = view.instruction, bridge.started.form
        if name == "commit":
            panel = work.open_panel()
            if panel is not None:
                panel.commit()
        elif name == "back":
            self._close_panel()
        elif name == "new":
            self.new_asked.emit()
        elif name == "padding":
            self.padding_asked.emit()
        elif name == "ribbon" and isinstance(step, Measure):
            work.ribbon.begin(step)
            self._open(work.ribbon)
        elif name == "exceptions" and isinstance(step, SetDials):
            work.exceptions.begin(step, form)
            self._open(work.exceptions)
        elif name == "else":
            work.volunteer.begin(form, view)
            self._open(work.volunteer)

    def _open(self, panel: AnswerPanel) -> None:
        assert self._work is not None
        self._work.show_panel(panel)
        self._work.bar.show_panel(panel.commit_text())
        self._focus()

    def _close_panel(self) -> None:
        if self._work is not None:
            self._work.hide_panel()
            self._work.bar.show_step_again()
            self._on_tape(self._work.bar.field.length())
            self._focus()

    # -- what is only typed -------------------------------------------------------------------

    def _on_tape(self, length: Length | None) -> None:
        step = self._view.instruction if self._view is not None else None
        if isinstance(step, Measure) and length is not None:
            self._preview(None, (step.line, step.what, length.mm))
        else:
            self._preview(None, None)

    def _preview(self, numbers: Mapping[str, float] | None, reading: Reading | None) -> None:
        if (numbers, reading) != (self._numbers, self._reading):
            self._numbers, self._reading = numbers, reading
            self._timer.start()

    def _show_preview(self) -> None:
        work, view, bridge = self._work, self._view, self._bridge
        if work is None or view is None or bridge is None:
            return
        lines = bridge.preview(self._numbers, self._reading)
        work.sections.show_lines(lines, {**view.numbers, **(self._numbers or {})})
        if work.lines.isVisible():
            work.lines.show_lines(lines, self._unit)
        panel = work.open_panel()
        if panel is not None:
            work.bar.show_panel(panel.commit_text())

    # -- keys ---------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button in use, or else answers; holding it down answers once."""
        if event.key() not in ENTER:
            super().keyPressEvent(event)
            return
        event.accept()
        if event.isAutoRepeat():
            return
        here = QApplication.focusWidget()
        if isinstance(here, QPushButton) and self.isAncestorOf(here):
            here.click()
        elif self._work is not None and self._stack.currentWidget() is self._work:
            self._work.bar.press()

    def showEvent(self, event: QShowEvent) -> None:
        """Put the focus where the answer goes."""
        super().showEvent(event)
        self._focus()

    def hideEvent(self, event: QHideEvent) -> None:
        """Draw nothing more while nobody looks."""
        self._timer.stop()
        super().hideEvent(event)
