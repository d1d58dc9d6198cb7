# SPDX-License-Identifier: MIT
"""Finding, beginning, opening and erasing people, by keys and mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from fitassist.errors import BadFile, StorageFailed
from fitassist.gui import theme
from fitassist.gui.people_page import PeoplePage
from fitassist.wording.pages import say
from fitassist.wording.people_words import say as people_say
from tests.gui.fakes import (
    FakeEntry,
    FakeLibrary,
    cut_off,
    guessing_labels,
    reached_by_tab,
    seen,
    show,
    unnamed,
)

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def library():
    people = [
        FakeEntry("1", "Anna"),
        FakeEntry("2", "Bärbel <b>"),
        FakeEntry("3", "Žofie"),
        FakeEntry("4", "torn.json", BadFile("truncated")),
    ]
    return FakeLibrary(people)


@pytest.fixture
def page(qtbot, library):
    return show(qtbot, PeoplePage(library))


def names(page):
    model = page.list_view.model()
    return [model.index(i, 0).data() for i in range(model.rowCount())]


def button(page, words):
    return next(b for b in page.findChildren(QPushButton) if b.isVisible() and b.text() == words)


def test_an_empty_list_says_what_to_do_first_with_one_button(qtbot):
    page = show(qtbot, PeoplePage(FakeLibrary()))
    assert say("people.empty") in seen(page)
    assert button(page, say("people.new")).hasFocus()
    qtbot.mouseClick(button(page, say("people.new")), LEFT)
    assert page.name_edit.hasFocus()


def test_typing_in_the_search_narrows_the_list(qtbot, page):
    page.search.setFocus()
    qtbot.keyClicks(page.search, "ann")
    assert names(page) == ["Anna"]
    qtbot.keyClicks(page.search, "x")
    assert names(page) == []
    assert say("people.none_found") in seen(page)
    page.search.clear()
    assert len(names(page)) == 4


def test_enter_in_the_search_opens_who_was_found(qtbot, page):
    page.search.setFocus()
    qtbot.keyClicks(page.search, "ofie")
    with qtbot.waitSignal(page.open_asked) as asked:
        qtbot.keyClick(page.search, Qt.Key.Key_Return)
    assert asked.args == ["3"]


def test_the_open_button_and_enter_in_the_list_open_who_is_chosen(qtbot, page):
    page.list_view.setFocus()
    qtbot.keyClick(page.list_view, Qt.Key.Key_Down)
    with qtbot.waitSignal(page.open_asked) as asked:
        qtbot.keyClick(page.list_view, Qt.Key.Key_Return)
    assert asked.args == ["2"]
    qtbot.keyClick(page.list_view, Qt.Key.Key_Down)
    with qtbot.waitSignal(page.open_asked) as asked:
        qtbot.mouseClick(button(page, say("people.open")), LEFT)
    assert asked.args == ["3"]


def test_a_damaged_record_is_listed_with_a_sentence_and_cannot_be_opened(qtbot, page):
    assert any("torn.json" in name for name in names(page))
    page.list_view.setCurrentIndex(page.list_view.model().index(3, 0))
    assert "left as it is" in page.said().text()
    with qtbot.assertNotEmitted(page.open_asked):
        qtbot.keyClick(page.list_view, Qt.Key.Key_Return)
    assert not button(page, say("people.open")).isEnabled()


def test_a_new_person_needs_a_name_that_can_be_seen(qtbot, page):
    qtbot.mouseClick(button(page, say("people.new")), LEFT)
    with qtbot.assertNotEmitted(page.create_asked):
        qtbot.keyClicks(page.name_edit, "   ")
        qtbot.keyClick(page.name_edit, Qt.Key.Key_Return)
    assert page.name_edit.accessibleDescription() in seen(page)
    page.name_edit.clear()
    qtbot.keyClicks(page.name_edit, "  Dora ")
    with qtbot.waitSignal(page.create_asked) as asked:
        qtbot.keyClick(page.name_edit, Qt.Key.Key_Return)
    assert asked.args == ["Dora"]


def test_a_name_that_could_not_be_kept_stays_in_its_field(qtbot, page):
    qtbot.mouseClick(button(page, say("people.new")), LEFT)
    qtbot.keyClicks(page.name_edit, "Dora")
    page.show_failure(StorageFailed("disk_full"))
    assert page.name_edit.text() == "Dora"
    assert "disk is full" in seen(page)


def test_a_person_who_was_begun_is_chosen_in_the_list(qtbot, page, library):
    record = library.create_person("Dora")
    page.show_created(record.id)
    assert page.current_id() == record.id


def test_erasing_asks_plainly_and_keep_is_the_first_answer(qtbot, page, library):
    page.list_view.setCurrentIndex(page.list_view.model().index(1, 0))
    qtbot.mouseClick(button(page, say("people.erase")), LEFT)
    assert say("people.erase_ask", name="Bärbel <b>") in seen(page)
    assert button(page, say("people.erase_no")).hasFocus()
    qtbot.keyClick(button(page, say("people.erase_no")), Qt.Key.Key_Space)
    assert len(library.people()) == 4
    qtbot.mouseClick(button(page, say("people.erase")), LEFT)
    with qtbot.waitSignal(page.erased) as erased:
        qtbot.mouseClick(button(page, say("people.erase_yes")), LEFT)
    assert erased.args == ["2"]
    assert [e.id for e in library.people()] == ["1", "3", "4"]
    assert names(page)[1] == "Žofie"


def test_choosing_somebody_else_takes_the_question_back(qtbot, page, library):
    qtbot.mouseClick(button(page, say("people.erase")), LEFT)
    page.list_view.setCurrentIndex(page.list_view.model().index(2, 0))
    assert say("people.erase_ask", name="Anna") not in seen(page)
    assert len(library.people()) == 4


def test_what_could_not_be_erased_is_said_and_still_listed(qtbot, page, library):
    library.disk_full = True
    qtbot.mouseClick(button(page, say("people.erase")), LEFT)
    qtbot.mouseClick(button(page, say("people.erase_yes")), LEFT)
    assert "could not be written" in page.said().text()
    assert len(names(page)) == 4


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_long_sentence_is_not_cut_off_at_any_size_of_type(qtbot, qapp, page, scale):
    theme.apply(qapp, "dark", scale)
    try:
        qtbot.mouseClick(button(page, say("people.erase")), LEFT)
        qtbot.waitUntil(lambda: cut_off(page) == [])
        qtbot.mouseClick(button(page, say("people.new")), LEFT)
        page.name_edit.setText("a\u202eb")  # a direction override has the longest sentence
        qtbot.keyClick(page.name_edit, Qt.Key.Key_Return)
        assert page.name_edit.accessibleDescription()
        qtbot.waitUntil(lambda: cut_off(page) == [])
    finally:
        theme.apply(qapp, "light", 1.0)


def test_everything_is_reached_by_tab_has_a_name_and_is_plain_text(qtbot, page):
    reached = reached_by_tab(qtbot, page)
    assert page.search in reached
    assert page.list_view in reached
    assert button(page, say("people.open")) in reached
    assert unnamed(page) == []
    assert guessing_labels(page) == []


def test_who_has_a_fitting_under_way_is_told_apart(qtbot, library):
    library.entries[1] = FakeEntry("2", "Bärbel", has_open_fitting=True)
    page = show(qtbot, PeoplePage(library))
    assert names(page)[:2] == ["Anna", "Bärbel"]
    assert page.list_view.model().index(1, 4).data() == people_say("under_way")
    qtbot.keyClicks(page.search, "way")
    assert names(page) == []  # it is no part of the name


def test_people_are_found_by_every_word_without_marks_and_by_their_tags(qtbot, library):
    library.entries[1] = FakeEntry("2", "Bärbel Ćwik", tags=("chorus",))
    page = show(qtbot, PeoplePage(library))
    for text, found in {
        "zofie": ["Žofie"],
        "BARBEL cwik": ["Bärbel Ćwik"],
        "chor": ["Bärbel Ćwik"],
        "anna chorus": [],
    }.items():
        page.search.setText(text)
        assert names(page) == found, text


def test_a_head_sorts_the_list_and_the_person_chosen_stays(qtbot, library):
    library.entries[:3] = [
        FakeEntry("1", "Žofie", last_measured="2026-01-02"),
        FakeEntry("2", "anna", last_measured="2026-03-01"),
        FakeEntry("3", "Bo", last_fitted="2025-01-01", is_finished=True),
    ]
    page = show(qtbot, PeoplePage(library))
    assert names(page)[:3] == ["Žofie", "anna", "Bo"]
    model = page.list_view.model()
    model.sort(0, Qt.SortOrder.AscendingOrder)
    assert names(page)[:3] == ["anna", "Bo", say("people.damaged", name="torn.json")]
    model.sort(2, Qt.SortOrder.DescendingOrder)
    assert names(page)[:2] == ["anna", "Žofie"]
    model.sort(-1)
    assert names(page)[:3] == ["Žofie", "anna", "Bo"]


def test_who_was_put_away_is_found_only_where_that_is_asked_for(qtbot, library):
    library.entries[0] = FakeEntry("1", "Anna", archived=True)
    page = show(qtbot, PeoplePage(library))
    assert "Anna" not in names(page)
    for which, is_there in (("away", True), ("all", True), ("in_use", False)):
        qtbot.mouseClick(page.list.which.choice(which), LEFT)
        assert ("Anna" in names(page)) == is_there


def test_a_version_in_conflict_and_a_record_taken_in_are_told_of(qtbot, library):
    library.entries[0] = FakeEntry("1", "Anna", copies=("x", "y"), holds=("9",))
    page = show(qtbot, PeoplePage(library))
    assert people_say("copies_here", n=2) in seen(page)
    assert people_say("holds") in seen(page)
    page.list_view.selectRow(1)
    assert people_say("holds") not in seen(page)
