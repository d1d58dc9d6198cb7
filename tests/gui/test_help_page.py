# SPDX-License-Identifier: MIT
"""Help is searched, read and left by keys; the first screens go on by Enter and end at any time."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fitassist.gui import theme
from fitassist.gui.help_page import HelpPage
from fitassist.wording.help_search import all_topics, topic
from fitassist.wording.help_words import TOUR, say
from tests.gui.fakes import cut_off, guessing_labels, seen, show, unnamed

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def page(qtbot):
    made = show(qtbot, HelpPage())
    made.setFocus()
    return made


def test_all_pages_of_help_are_listed_and_the_one_of_the_place_is_shown(page):
    page.show_from("form")
    assert set(page.found()) == {one.key for one in all_topics()}
    assert page.text.topic.key == "form"
    assert topic("form").text.split("\n\n")[0] in seen(page)


def test_typing_searches_and_shows_the_first_that_was_found(qtbot, page):
    qtbot.keyClicks(QApplication.focusWidget(), "ribbon")
    assert page.found()[0] == "how_ribbon"
    assert page.text.topic.key == "how_ribbon"
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert page.list.hasFocus()


def test_what_is_found_nowhere_is_said(qtbot, page):
    qtbot.keyClicks(page.search, "qqqq")
    assert say("none") in seen(page)
    assert page.found() == ()


def test_escape_and_the_link_go_back_to_where_one_came_from(qtbot, page):
    page.show_from("fitting")
    with qtbot.waitSignal(page.back_asked) as asked:
        qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert asked.args == ["fitting"]
    with qtbot.waitSignal(page.back_asked) as asked:
        qtbot.mouseClick(page.back, LEFT)
    assert asked.args == ["fitting"]


def test_enter_goes_through_the_first_screens_and_leaves_after_the_last(qtbot, page):
    page.show_tour()
    for number in range(len(TOUR) - 1):
        assert page.screens.number == number
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    with qtbot.waitSignal(page.tour_left):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert not page.is_touring


@pytest.mark.parametrize("number", range(len(TOUR)))
def test_the_first_screens_can_be_left_at_any_time(qtbot, page, number):
    page.show_tour()
    page.screens.show_screen(number)
    with qtbot.waitSignal(page.tour_left):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    page.show_tour()
    page.screens.show_screen(number)
    with qtbot.waitSignal(page.tour_left):
        qtbot.mouseClick(page.screens.leave, LEFT)


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_no_page_of_help_and_no_first_screen_is_cut_off(qtbot, qapp, page, scale):
    theme.apply(qapp, "light", scale)
    for one in all_topics():
        page.show_topic(one.key)
        qtbot.waitUntil(lambda: cut_off(page) == [])
    page.show_tour()
    for number in range(len(TOUR)):
        page.screens.show_screen(number)
        qtbot.waitUntil(lambda: cut_off(page) == [])


def test_everything_has_a_name_and_is_plain_text(page):
    assert unnamed(page) == []
    assert guessing_labels(page) == []
    page.show_tour()
    assert unnamed(page) == []
