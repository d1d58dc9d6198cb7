# SPDX-License-Identifier: MIT
"""F1 on every page, the way back, and the first screens: once, at the first start only."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fitassist.settings import load_settings
from fitassist.wording.help_words import TOUR
from tests.journeys.walking import places

ESCAPE, F1 = Qt.Key.Key_Escape, Qt.Key.Key_F1


def active(qtbot, room):
    room.window.activateWindow()
    qtbot.waitUntil(room.window.isActiveWindow)
    return room


def test_f1_shows_the_help_of_the_page_one_is_on_and_escape_goes_back(qtbot, profile, open_room):
    room = active(qtbot, open_room(profile))
    for place in places(room):
        if place == "help":
            continue
        qtbot.keyClick(QApplication.focusWidget() or room.window, F1)
        if room.window.place == "fitting":  # there it explains the step itself
            room.window.go_to("help")
        assert room.window.place == "help"
        assert room.window.page("help").text.topic.place == place
        qtbot.keyClick(QApplication.focusWidget() or room.window, ESCAPE)
        assert room.window.place == place


def test_the_first_start_shows_the_first_screens_and_no_later_one_does(qtbot, tmp_path, open_room):
    folder = tmp_path / "new"
    folder.mkdir()
    room = active(qtbot, open_room(folder))
    assert room.window.page("help").is_touring
    for _ in TOUR:
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert room.window.place == "people"
    assert load_settings(folder).settings.tour_seen
    room.window.close()
    again = active(qtbot, open_room(folder))
    assert again.window.place == "people"
    assert not again.window.has_page("help")


def test_going_elsewhere_leaves_the_first_screens_for_good(qtbot, tmp_path, open_room):
    folder = tmp_path / "new"
    folder.mkdir()
    room = active(qtbot, open_room(folder))
    qtbot.mouseClick(room.window.place_button("people"), Qt.MouseButton.LeftButton)
    assert room.window.place == "people"
    assert load_settings(folder).settings.tour_seen


def test_the_demonstration_begins_without_them(qtbot, profile, open_room):
    room = open_room(profile, is_demo=True)
    assert not room.window.has_page("help")


def test_setting_preferences_back_does_not_bring_the_first_screens_back(qtbot, tmp_path, open_room):
    folder = tmp_path / "new"
    folder.mkdir()
    room = active(qtbot, open_room(folder))
    qtbot.keyClick(QApplication.focusWidget(), ESCAPE)
    room.window.go_to("settings")
    page = room.window.page("settings")
    qtbot.mouseClick(page.row("units").choice("cm"), Qt.MouseButton.LeftButton)
    page.reset_button.click()
    assert load_settings(folder).settings.tour_seen
