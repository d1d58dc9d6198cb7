# SPDX-License-Identifier: MIT
"""Between the page and the fitting: answers go in, views and refusals come out as signals.

The fitting's mathematics are loaded in a thread the first time; until then the page can only wait.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QThreadPool, Signal

from fitassist.domain.answers import Answer
from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.session.events import Event, FittingStarted, Recorded
from fitassist.session.view import FittingView, LineView

if TYPE_CHECKING:
    from fitassist.session.fitting import Fitting
    from fitassist.session.shaping import KnownOutlines

Append = Callable[[Sequence[Event]], Sequence[Recorded]]
OutlinesOf = Callable[[Body, Form], "KnownOutlines | None"]

ENGINE = "fitassist.session.fitting"


class _NumbersEvents:
    """Numbers events and keeps nothing: a fitting in memory."""

    def __init__(self) -> None:
        self._seq = 0

    def __call__(self, events: Sequence[Event]) -> Sequence[Recorded]:
        first = self._seq + 1
        self._seq += len(events)
        return [Recorded(seq=first + i, event=event) for i, event in enumerate(events)]


class FittingBridge(QObject):
    """One fitting as a page drives it.

    Parameters
    ----------
    started
        The event the fitting began with.
    append
        Writes events; without it the fitting is kept in memory only.
    past
        What was recorded after `started`, to go on where it ended.
    outlines_of
        Works out what is known of the shapes of body and form.

    Signals
    -------
    view_changed
        The ``FittingView`` after the fitting is ready, and after each answer that was taken.
    failed
        The ``FitError`` of an answer that was not taken, or of a start that failed.
    """

    view_changed = Signal(object)
    failed = Signal(object)
    _loaded = Signal()

    def __init__(
        self,
        started: FittingStarted,
        append: Append | None = None,
        past: Iterable[Recorded] = (),
        parent: QObject | None = None,
        outlines_of: OutlinesOf | None = None,
    ) -> None:
        super().__init__(parent)
        self._started = started
        self._outlines_of = outlines_of
        self._outlines: KnownOutlines | None = None
        self._append = append or _NumbersEvents()
        self._past = tuple(past)
        self._fitting: Fitting | None = None
        self._is_loading = False
        self._loaded.connect(self._open, Qt.ConnectionType.QueuedConnection)

    @classmethod
    def over(
        cls,
        fitting: Fitting,
        parent: QObject | None = None,
        outlines_of: OutlinesOf | None = None,
    ) -> FittingBridge:
        """Return a bridge to a fitting that was made elsewhere."""
        made = cls(fitting.started, parent=parent, outlines_of=outlines_of)
        made._fitting = fitting
        return made

    @property
    def started(self) -> FittingStarted:
        """The event the fitting began with: body, form and preferences as they were then."""
        return self._started

    @property
    def form(self) -> Form:
        """The form, with its dials where they stand now."""
        form = self._started.form
        return form.at(dict(self.view().numbers)) if self._fitting is not None else form

    def outlines(self) -> KnownOutlines | None:
        """Return what is known of the shapes of body and form; None: nothing."""
        if self._outlines_of is not None:
            self._outlines = self._outlines_of(self._started.body, self._started.form)
            self._outlines_of = None  # once is enough: both are as they were at the start
        return self._outlines

    @property
    def fitting(self) -> Fitting | None:
        """The fitting itself, or None until it is ready."""
        return self._fitting

    @property
    def is_ready(self) -> bool:
        """Whether there is an instruction to show."""
        return self._fitting is not None

    def begin(self) -> None:
        """Make the fitting ready and tell its view; at once where its mathematics are loaded."""
        if self._fitting is not None:
            self.view_changed.emit(self._fitting.view())
        elif ENGINE in sys.modules and not self._is_loading:
            self._open()
        elif not self._is_loading:
            self._is_loading = True
            QThreadPool.globalInstance().start(self._load)

    def _load(self) -> None:
        """Import in a worker what takes long to import; nothing else happens there."""
        importlib.import_module(ENGINE)
        self.outlines()
        try:
            self._loaded.emit()
        except RuntimeError:  # the window was closed meanwhile
            return

    def _open(self) -> None:
        from fitassist.session.fitting import Fitting

        self._is_loading = False
        try:
            self._fitting = Fitting(self._started, self._append, self._past)
            view = self._fitting.view()
        except FitError as error:
            self._fitting = None
            self.failed.emit(error)
            return
        self.view_changed.emit(view)

    def view(self) -> FittingView:
        """Return what may be shown now; only of a fitting that is ready."""
        assert self._fitting is not None, "asked before the fitting was ready"
        return self._fitting.view()

    def submit(self, answer: Answer) -> bool:
        """Give an answer; return whether it was taken. A refusal changes nothing."""
        if self._fitting is None:
            return False
        try:
            self._fitting.submit(answer)
            view = self._fitting.view()
        except FitError as error:
            self.failed.emit(error)
            return False
        self.view_changed.emit(view)
        return True

    def preview(
        self,
        numbers: Mapping[str, float] | None = None,
        reading: tuple[str, What, float] | None = None,
    ) -> tuple[LineView, ...]:
        """Return the lines as they would stand with what is only typed so far."""
        if self._fitting is None:
            return ()
        view = self.view()
        known = {(line.line, line.what) for line in view.lines}
        if reading is not None and reading[:2] not in known:
            reading = None
        numbers = {d: n for d, n in (numbers or {}).items() if d in view.numbers}
        if not numbers and reading is None:
            return view.lines
        return self._fitting.preview(numbers=numbers, reading=reading)
