# SPDX-License-Identifier: MIT
"""Between the padding page and the record: the plan is worked out in a thread, answers are kept.

What is shown belongs to one fitting and one choice; where dials or the choice change it is worked
out anew. A thread that is no longer wanted is told so at its next step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QObject, Qt, QThreadPool, Signal

from fitassist.errors import FitError
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.ports import Record
from fitassist.session.events import Event, PaddingChosen, Recorded, Undone
from fitassist.session.padding_state import PaddingState, last_padding
from fitassist.session.view import FittingView

if TYPE_CHECKING:
    from fitassist.geometry.shape_prior import ShapePriors
    from fitassist.padding.materials import Material
    from fitassist.session.padding import PaddingTask
    from fitassist.session.padding_steps import Step
    from fitassist.session.padding_work import PaddingWork

Stage = Literal["none", "opening", "planning", "cancelled", "refused", "ready"]
Key = tuple[object, ...]


class _Unwanted(Exception):
    """Ends a thread whose result nobody waits for."""


class PaddingDesk(QObject):
    """The padding of the open fitting.

    Parameters
    ----------
    shapes
        Returns what is known of torso shapes, or None; called in the thread.
    materials
        What padding can be made of; the first is the one to begin with.

    Signals
    -------
    changed
        There is something else to show.
    progressed
        Which share of the plan is done, 0 to 1.
    failed
        The ``FitError`` of an answer that could not be kept.
    """

    changed = Signal()
    progressed = Signal(float)
    failed = Signal(object)
    _worked = Signal(int, object)
    _told = Signal(int, float)

    def __init__(
        self,
        shapes: Callable[[], ShapePriors | None],
        materials: Sequence[Material],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._shapes = shapes
        self.materials = tuple(materials)
        self.record: Record | None = None
        self.bridge: FittingBridge | None = None
        self.stage: Stage = "none"
        self.state = PaddingState()
        self.task: PaddingTask | None = None
        self.work: PaddingWork | None = None
        self.error: FitError | None = None
        self._token = 0
        self._planned: Key | None = None
        self._is_wanted = False
        self._worked.connect(self._on_worked, Qt.ConnectionType.QueuedConnection)
        self._told.connect(self._on_told, Qt.ConnectionType.QueuedConnection)

    # -- which fitting ------------------------------------------------------------------------

    def show_fitting(self, record: Record | None, bridge: FittingBridge | None) -> None:
        """Take another record and its fitting; None: there is none."""
        if self.bridge is not None:
            self.bridge.view_changed.disconnect(self._on_view)
        self.stop()
        self.record, self.bridge = record, bridge if record is not None else None
        self.work, self.task, self.error, self._planned = None, None, None, None
        self.state = last_padding(record.events) if record is not None else PaddingState()
        self.stage = "none" if self.bridge is None else "opening"
        if self.bridge is not None:
            self.bridge.view_changed.connect(self._on_view)
        self.changed.emit()
        if self._is_wanted:
            self.begin()

    def begin(self) -> None:
        """Work out what is to be shown, now that somebody looks."""
        self._is_wanted = True
        if self.bridge is None:
            return
        if self.bridge.is_ready:
            self._plan_if_moved()
        else:
            self.bridge.begin()

    def rest(self) -> None:
        """Work nothing out while nobody looks."""
        self._is_wanted = False

    @property
    def is_read_only(self) -> bool:
        """Whether nothing can be answered."""
        return self.record is None or self.record.read_only

    @property
    def is_under_way(self) -> bool:
        """Whether the dials are not done yet."""
        ready = self.bridge is not None and self.bridge.is_ready
        return ready and self.bridge.view().instruction.kind != "done"  # type: ignore[union-attr]

    @property
    def choice(self) -> PaddingChosen:
        """What was chosen last, also for an earlier fitting, or what one begins with."""
        if self.state.choice is not None:
            return self.state.choice
        events = self.record.events if self.record is not None else ()
        for one in reversed(events):
            if isinstance(one.event, PaddingChosen):
                return one.event
        first = self.materials[0]
        return PaddingChosen(material=first.key, thickness_mm=first.thickness_mm)

    def material(self, key: str) -> Material | None:
        """Return a material by its key, or None."""
        return next((one for one in self.materials if one.key == key), None)

    def steps(self) -> list[Step]:
        """Return all steps; none before the plan is there."""
        if self.work is None or self.work.is_empty or self.bridge is None:
            return []
        from fitassist.session.padding_fixes import all_steps

        return all_steps(self.work, self.state, self.bridge.started.form)

    # -- answers ------------------------------------------------------------------------------

    def keep(self, *events: Event) -> bool:
        """Put what happened on record; return whether it was kept."""
        if self.record is None:
            return False
        told: list[Event] = list(events)
        if self.state.choice is None and not any(isinstance(e, PaddingChosen) for e in told):
            told.insert(0, self.choice)  # what was laid was laid by this choice
        return self._append(told)

    def undo(self) -> bool:
        """Take the last answer about padding back."""
        seq = self.state.last_seq
        return seq is not None and self._append([Undone(undone_seq=seq)])

    @property
    def can_undo(self) -> bool:
        """Whether there is an answer to take back."""
        return self.state.last_seq is not None and not self.is_read_only

    def _append(self, events: Sequence[Event]) -> bool:
        assert self.record is not None
        try:
            self.record.append(events)
        except FitError as error:
            self.failed.emit(error)
            return False
        self.state = last_padding(self._events())
        if self._is_wanted:
            self._plan_if_moved()
        self.changed.emit()
        return True

    def _events(self) -> Sequence[Recorded]:
        return self.record.events if self.record is not None else ()

    # -- the plan -----------------------------------------------------------------------------

    def plan(self) -> None:
        """Work the pieces out, in a thread."""
        if self.bridge is None or not self.bridge.is_ready:
            return
        self._token += 1
        token, started, view = self._token, self.bridge.started, self.bridge.view()
        choice = self.choice
        self._planned = self._key(view)
        self.stage, self.error = "planning", None
        self.changed.emit()

        def work_out() -> None:
            self._work_out(token, started, view, choice)

        QThreadPool.globalInstance().start(work_out)

    def cancel(self) -> None:
        """Stop working out; what was there before stays."""
        if self.stage == "planning":
            self.stop()
            self.stage = "ready" if self.work is not None else "cancelled"
            self.changed.emit()

    def stop(self) -> None:
        """Let a thread that works know that nobody waits for it."""
        self._token += 1

    def _key(self, view: FittingView) -> Key:
        lines = tuple((one.line, one.what, one.predicted_mm, one.spread_mm) for one in view.lines)
        return (lines, tuple(sorted(view.numbers.items())), self.choice)

    def _plan_if_moved(self) -> None:
        if self.bridge is None or not self.bridge.is_ready:
            return
        if self._planned != self._key(self.bridge.view()):
            self.plan()

    def _on_view(self, _view: FittingView) -> None:
        self.state = last_padding(self._events())
        if self._is_wanted:
            self._plan_if_moved()

    def _work_out(
        self, token: int, started: object, view: FittingView, choice: PaddingChosen
    ) -> None:
        """Work out a plan in a thread; nothing of Qt is touched but signals."""
        from fitassist.session.events import FittingStarted
        from fitassist.session.padding import padding_task
        from fitassist.session.padding_fixes import all_steps
        from fitassist.session.padding_work import plan_work

        assert isinstance(started, FittingStarted)

        def watch(share: float) -> None:
            if token != self._token:
                raise _Unwanted
            self._told.emit(token, share)

        task: PaddingTask | None = None
        result: tuple[object, ...]
        try:
            watch(0.02)
            task = padding_task(started, view, self._shapes())
            work = plan_work(task, choice, started.body, watch)
            watch(0.98)
            all_steps(work, PaddingState(), started.form)  # fills the book of girths
            result = (task, work, None)
        except _Unwanted:
            return
        except RuntimeError:  # the window was closed meanwhile
            return
        except FitError as error:
            result = (task, None, error)
        except Exception as error:
            result = (task, None, error)
        try:
            self._worked.emit(token, result)
        except RuntimeError:
            return

    def _on_told(self, token: int, share: float) -> None:
        if token == self._token:
            self.progressed.emit(share)

    def _on_worked(self, token: int, result: tuple[object, object, Exception | None]) -> None:
        if token != self._token:
            return
        task, work, error = result
        self.task, self.work = task, work  # type: ignore[assignment]
        is_known = isinstance(error, FitError)
        self.error = error if is_known else None  # type: ignore[assignment]
        self.stage = "ready" if error is None else "refused"
        self.changed.emit()
        if error is not None and not is_known:
            raise error  # a fault of ours: logged and said as every other
