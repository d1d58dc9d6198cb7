# SPDX-License-Identifier: MIT
"""A profile of one's own and real windows on it, closed whatever happens."""

from __future__ import annotations

import shutil

import pytest
from PySide6.QtCore import QCoreApplication, QEvent

from fitassist.app.start import make_workroom
from fitassist.demo import demo_folder


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
