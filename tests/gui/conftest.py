# SPDX-License-Identifier: MIT
"""Real widgets on a screen that is not there, each test in the light look.

None may leave a window, a running timer or thread behind, or meet a dialog it did not expect.
"""

from __future__ import annotations

import gc
import os
import threading
from collections.abc import Callable, Iterator
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QThread, QThreadPool, QTimer
from PySide6.QtWidgets import (
    QApplication,
    QColorDialog,
    QDialog,
    QFileDialog,
    QFontDialog,
    QInputDialog,
    QMainWindow,
    QMessageBox,
    QWidget,
)

from fitassist.gui import theme

# Calls that stop the program until someone answers, and what they say when nobody does.
NO = QMessageBox.StandardButton.Cancel
BLOCKING_CALLS: list[tuple[type, str, Any]] = [
    (QDialog, "exec", QDialog.DialogCode.Rejected),
    (QMessageBox, "exec", NO),
    (QMessageBox, "information", NO),
    (QMessageBox, "warning", NO),
    (QMessageBox, "critical", NO),
    (QMessageBox, "question", NO),
    (QMessageBox, "about", None),
    (QFileDialog, "exec", QDialog.DialogCode.Rejected),
    (QFileDialog, "getOpenFileName", ("", "")),
    (QFileDialog, "getOpenFileNames", ([], "")),
    (QFileDialog, "getSaveFileName", ("", "")),
    (QFileDialog, "getExistingDirectory", ""),
    (QInputDialog, "exec", QDialog.DialogCode.Rejected),
    (QInputDialog, "getText", ("", False)),
    (QInputDialog, "getItem", ("", False)),
    (QInputDialog, "getInt", (0, False)),
    (QInputDialog, "getDouble", (0.0, False)),
    (QColorDialog, "getColor", None),
    (QFontDialog, "getFont", None),
]
PATIENCE_MS = 3000


def _recording(original: Callable[..., Any], started: list[Any]) -> Callable[..., Any]:
    """Wrap a start method so that whoever was started can be looked up afterwards."""

    def start(self: Any, *arguments: Any) -> Any:
        started.append(self)
        return original(self, *arguments)

    return start


def _refusing(name: str, answer: Any, shown: list[str]) -> Callable[..., Any]:
    """Stand in for a blocking call: note it and answer as if it had been cancelled."""

    def refuse(*arguments: Any, **_: Any) -> Any:
        words = [a for a in arguments if isinstance(a, str)]
        shown.append(f"{name} {words}")
        return answer

    return refuse


@pytest.fixture(autouse=True)
def light_look(qapp: QApplication) -> QApplication:
    """Start each test with the light look at its usual size."""
    theme.apply(qapp, "light", 1.0)
    return qapp


@pytest.fixture(autouse=True)
def no_unexpected_dialog(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Fail a test in which a blocking dialog opens; who expects it replaces the call itself."""
    shown: list[str] = []
    for owner, name, answer in BLOCKING_CALLS:
        stand_in = _refusing(f"{owner.__name__}.{name}", answer, shown)
        monkeypatch.setattr(owner, name, stand_in)
    yield
    if shown:
        pytest.fail(f"dialogs nobody expected: {shown}", pytrace=False)


def _is_left_over(window: QWidget) -> bool:
    # Menus and combo box lists are windows to Qt as well; hidden, they wait for their owner's end.
    return window.isVisible() or isinstance(window, (QMainWindow, QDialog))


def _finish_deletions() -> None:
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def _left_windows(before: set[int]) -> list[QWidget]:
    """List the new windows; collecting garbage is slow, so only when some seem to be left."""
    if _new_windows(before):
        gc.collect()
        _finish_deletions()
    return _new_windows(before)


def _new_windows(before: set[int]) -> list[QWidget]:
    return [
        window
        for window in QApplication.topLevelWidgets()
        if shiboken6.getCppPointer(window)[0] not in before and _is_left_over(window)
    ]


def _left_threads(before: set[threading.Thread], started: list[QThread]) -> list[str]:
    """Name the threads that still run after a fair while; threads are given time to end."""
    left = []
    for thread in started:
        if shiboken6.isValid(thread) and thread.isRunning() and not thread.wait(PATIENCE_MS):
            left.append(repr(thread))
    if not QThreadPool.globalInstance().waitForDone(PATIENCE_MS):
        left.append("the global thread pool")
    for thread in set(threading.enumerate()) - before:
        # A dummy is Python's name for a thread that Qt made; Qt's own are looked at above.
        if not isinstance(thread, threading._DummyThread):
            thread.join(PATIENCE_MS / 1000)
            if thread.is_alive():
                left.append(thread.name)
    return left


@pytest.fixture(autouse=True)
def nothing_left_behind(
    qapp: QApplication, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> Iterator[None]:
    """Fail a test that leaves a window open, a timer ticking or a thread running."""
    failed_before = request.session.testsfailed
    windows_before = {shiboken6.getCppPointer(w)[0] for w in QApplication.topLevelWidgets()}
    threads_before = set(threading.enumerate())
    timers: list[QTimer] = []
    threads: list[QThread] = []
    monkeypatch.setattr(QTimer, "start", _recording(QTimer.start, timers))
    monkeypatch.setattr(QThread, "start", _recording(QThread.start, threads))
    yield
    _finish_deletions()
    left = [f"thread {name}" for name in _left_threads(threads_before, threads)]
    for timer in timers:
        if shiboken6.isValid(timer) and timer.isActive():
            left.append(f"timer {timer.objectName()} of {timer.parent()!r}")
            timer.stop()
    for window in _left_windows(windows_before):
        left.append(f"window {window.windowTitle()} {window!r}")
        window.hide()
        window.deleteLater()
    _finish_deletions()
    # A failed test could not tidy up; its own failure is what matters.
    if left and request.session.testsfailed == failed_before:
        pytest.fail(f"left behind: {'; '.join(left)}", pytrace=False)
