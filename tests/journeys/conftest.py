# SPDX-License-Identifier: MIT
"""A profile of one's own and real windows on it, closed whatever happens."""

from __future__ import annotations

import shutil

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtWidgets import QDialog, QMainWindow, QWidget

from fitassist.app.start import make_workroom
from fitassist.demo import demo_folder


class StrayWindows(QObject):
    """Notes widgets that show as windows of their own: each takes the keys from the real one."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget):
            kinds = (Qt.WindowType.Popup, Qt.WindowType.ToolTip, Qt.WindowType.SplashScreen)
            is_meant = isinstance(watched, QDialog | QMainWindow) or watched.windowType() in kinds
            if watched.isWindow() and not is_meant:
                self.seen.append(f"{type(watched).__name__} {watched.accessibleName()}")
        return False


@pytest.fixture(autouse=True)
def no_stray_windows(qapp):
    """No widget flashes up as a window: it would have been shown before it had a parent."""
    stray = StrayWindows()
    qapp.installEventFilter(stray)
    yield
    qapp.removeEventFilter(stray)
    assert stray.seen == []


@pytest.fixture
def profile(tmp_path):
    """A copy of the demonstration, as somebody's own folder."""
    folder = tmp_path / "profile"
    shutil.copytree(demo_folder(), folder)
    return folder


@pytest.fixture
def open_room(qtbot, qapp):
    """Open windows on profiles; all are closed at the end."""
    opened = []

    def make(folder, is_demo: bool = False):
        room = make_workroom(qapp, folder, is_demo)
        opened.append(room)
        room.begin()
        room.window.show()
        qtbot.waitExposed(room.window)
        return room

    yield make
    for room in opened:
        room.window.close()
        room.window.deleteLater()
        room.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
