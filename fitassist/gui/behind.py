# SPDX-License-Identifier: MIT
"""One piece of work at a time, done in a thread; who no longer waits for it lets it end unheard."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, QThreadPool, Signal

from fitassist.errors import FitError

Watch = Callable[[float], None]
Job = Callable[[Watch], object]


class _Unwanted(Exception):
    """Ends a thread whose result nobody waits for."""


class Behind(QObject):
    """Does a job behind the window.

    Signals
    -------
    done
        What the job returned.
    refused
        The ``FitError`` it raised instead.
    progressed
        Which share of it is done, 0 to 1.
    """

    done = Signal(object)
    refused = Signal(object)
    progressed = Signal(float)
    _ended = Signal(int, object, object)
    _told = Signal(int, float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._token = 0
        self._is_working = False
        self._ended.connect(self._on_ended, Qt.ConnectionType.QueuedConnection)
        self._told.connect(self._on_told, Qt.ConnectionType.QueuedConnection)

    @property
    def is_working(self) -> bool:
        """Whether a job is under way that somebody waits for."""
        return self._is_working

    def start(self, job: Job) -> None:
        """Do a job; one that is still under way is let go."""
        self._token += 1
        token = self._token
        self._is_working = True

        def watch(share: float) -> None:
            if token != self._token:
                raise _Unwanted
            self._told.emit(token, share)

        def work() -> None:
            result: object = None
            error: Exception | None = None
            try:
                result = job(watch)
            except (_Unwanted, RuntimeError):  # let go, or the window was closed meanwhile
                return
            except Exception as problem:
                error = problem
            try:
                self._ended.emit(token, result, error)
            except RuntimeError:
                return

        QThreadPool.globalInstance().start(work)

    def stop(self) -> None:
        """Wait for nothing any more."""
        self._token += 1
        self._is_working = False

    def _on_told(self, token: int, share: float) -> None:
        if token == self._token:
            self.progressed.emit(share)

    def _on_ended(self, token: int, result: object, error: Exception | None) -> None:
        if token != self._token:
            return
        self._is_working = False
        if error is None:
            self.done.emit(result)
        elif isinstance(error, FitError):
            self.refused.emit(error)
        else:
            raise error  # a fault of ours: logged and said as every other
