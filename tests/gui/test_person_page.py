# SPDX-License-Identifier: MIT
"""Measuring a person: what is typed is in the record before it is shown as taken."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton

from fitassist.domain.measurements import load_catalogue
from fitassist.files import resources_dir
from fitassist.gui import theme
from fitassist.gui.measurement_row import AskBar
from fitassist.gui.person_page import PersonPage
from fitassist.session.events import (
    BodyDescribed,
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    NotesChanged,
    PersonNamed,
)
from fitassist.wording.pages import say
from tests.gui.fakes import (
    FakeRecord,
    cut_off,
    guessing_labels,
    reached_by_tab,
    seen,
    show,
    unnamed,
)

LEFT = Qt.MouseButton.LeftButton
ENTER = Qt.Key.Key_Return
INCH_MM = 25.4  # exactly, by the international agreement of 1959


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue(resources_dir() / "measurements.json")


@pytest.fixture
def record():
    made = FakeRecord("Anna")
    made.append([BodyDescribed(body_id="body-1", name="Everyday", undergarment="a plain bra")])
    return made


@pytest.fixture
def page(qtbot, catalogue, record):
    made = PersonPage(catalogue, "in")
    made.show_record(record)
    return show(qtbot, made)


def enter(qtbot, page, key, text):
    edit = page.row(key).field.line_edit
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, ENTER)


def taken(record):
    return [r.event for r in record.events if isinstance(r.event, MeasurementTaken)]


def asks(page):
    return [bar for bar in page.findChildren(AskBar) if bar.isVisible()]


def button(page, words):
    return next(b for b in page.findChildren(QPushButton) if b.isVisible() and b.text() == words)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("38 5/8", 38.625 * INCH_MM),
        ('38.6"', 38.6 * INCH_MM),
        ("98 cm", 980.0),
        ("980 mm", 980.0),
        ("38*5", 38.625 * INCH_MM),
    ],
)
def test_a_reading_is_recorded_in_any_writing_with_the_text_kept(qtbot, page, record, text, mm):
    enter(qtbot, page, "bust", text)
    (event,) = taken(record)
    assert (event.body_id, event.measurement, event.text) == ("body-1", "bust", text)
    assert event.mm == pytest.approx(mm, abs=1e-6)
    assert page.row("bust").field.text() == text


def test_enter_goes_on_to_the_next_measurement(qtbot, page):
    enter(qtbot, page, "bust", "38")
    assert page.row(page.shown_keys()[1]).field.line_edit.hasFocus()


def test_tab_takes_a_reading_too(qtbot, page, record):
    edit = page.row("bust").field.line_edit
    edit.setFocus()
    qtbot.keyClicks(edit, "38")
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert len(taken(record)) == 1
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Backtab)
    assert len(taken(record)) == 1  # nothing new was typed


def test_another_reading_is_averaged_and_its_spread_is_shown(qtbot, page, record):
    enter(qtbot, page, "bust", "38 3/8")
    for text in ("38 1/2", "38 5/8"):
        qtbot.mouseClick(page.row("bust").again, LEFT)
        assert page.row("bust").field.text() == ""
        qtbot.keyClicks(page.row("bust").field.line_edit, text)
        qtbot.keyClick(page.row("bust").field.line_edit, ENTER)
    assert len(taken(record)) == 3
    # The mean of 38 3/8, 38 1/2 and 38 5/8 is 38 1/2 (arithmetic).
    assert page.row("bust").summary().text().startswith("3 readings, 38 1/2 in ±")


def test_typing_over_a_reading_corrects_it_and_keeps_the_old_one_in_the_record(qtbot, page, record):
    enter(qtbot, page, "bust", "83")
    enter(qtbot, page, "bust", "38")
    assert [e.text for e in taken(record)] == ["83", "38"]
    withdrawn = [r.event for r in record.events if isinstance(r.event, MeasurementWithdrawn)]
    assert [w.taken_seq for w in withdrawn] == [3]
    (left,) = page.state.bodies["body-1"].readings["bust"]
    assert left.text == "38"


def test_a_reading_that_is_left_out_stays_in_the_record(qtbot, page, record):
    enter(qtbot, page, "bust", "38")
    qtbot.mouseClick(page.row("bust").again, LEFT)
    qtbot.keyClicks(page.row("bust").field.line_edit, "44")
    qtbot.keyClick(page.row("bust").field.line_edit, ENTER)
    page.row("bust").field.setFocus()
    outs = [b for b in page.guide.findChildren(QPushButton) if b.isVisible()]
    assert len(outs) == 2
    qtbot.mouseClick(outs[1], LEFT)
    assert [r.text for r in page.state.bodies["body-1"].readings["bust"]] == ["38"]
    assert len(taken(record)) == 2
    assert page.row("bust").field.text() == "38"


def test_how_a_reading_was_taken_is_noted_and_said(qtbot, page, record):
    qtbot.mouseClick(page.line.how_row.choice("alone"), LEFT)
    enter(qtbot, page, "waist", "30")
    assert taken(record)[0].how == "alone"
    assert page.row("waist").summary().text() == "alone"


def test_a_question_is_asked_once_in_line_and_keep_is_remembered(qtbot, page, record):
    enter(qtbot, page, "waist", "40")
    enter(qtbot, page, "hip", "38")
    (bar,) = asks(page)
    assert "40 in" in bar.text()
    assert "38 in" in bar.text()
    qtbot.mouseClick(bar.keep_button, LEFT)
    assert asks(page) == []
    assert any(isinstance(r.event, MeasurementKept) for r in record.events)
    page.show_record(record)  # opened again
    assert asks(page) == []


def test_change_goes_to_the_field_and_selects_what_is_there(qtbot, page):
    enter(qtbot, page, "waist", "40")
    enter(qtbot, page, "hip", "38")
    qtbot.mouseClick(asks(page)[0].change_button, LEFT)
    edit = QApplication.focusWidget()
    assert edit in (page.row("waist").field.line_edit, page.row("hip").field.line_edit)
    assert edit.selectedText() == edit.text()
    enter(qtbot, page, "waist", "30")
    assert asks(page) == []


def test_no_question_speaks_of_the_body(qtbot, page):
    enter(qtbot, page, "bust", "20")
    enter(qtbot, page, "waist", "62")
    enter(qtbot, page, "hip", "38")
    said = " ".join(bar.text() for bar in asks(page)).lower()
    assert said
    for word in ("too big", "too small", "wrong", "unusual", "abnormal", "error", "fat", "thin"):
        assert word not in said


def test_a_full_disk_is_told_under_the_field_and_the_text_stays(qtbot, page, record):
    record.disk_full = True
    with qtbot.waitSignal(page.failed):
        enter(qtbot, page, "bust", "38 5/8")
    assert taken(record) == []
    assert page.row("bust").field.text() == "38 5/8"
    assert "disk is full" in page.row("bust").field.error_text()
    assert page.row("bust").summary().text() == ""
    record.disk_full = False
    qtbot.keyClick(page.row("bust").field.line_edit, ENTER)
    assert [e.text for e in taken(record)] == ["38 5/8"]
    assert page.row("bust").field.error_text() == ""


def test_what_is_typed_in_one_field_survives_an_entry_in_another(qtbot, page, record):
    record.disk_full = True
    enter(qtbot, page, "bust", "38")
    record.disk_full = False
    enter(qtbot, page, "waist", "30")
    assert page.row("bust").field.text() == "38"


def test_the_depth_says_which_fields_there_are(qtbot, page, catalogue, record):
    for depth in ("quick", "good", "full"):
        qtbot.mouseClick(page.line.depth_row.choice(depth), LEFT)
        assert page.shown_keys() == tuple(one.key for one in catalogue.at_depth(depth))
    page.show_record(record)
    assert page.line.depth_row.value() == "full"


def test_who_needs_a_helper_is_told(qtbot, page, catalogue):
    wanted = sum(one.helper for one in catalogue.at_depth("quick"))
    assert wanted >= 1
    assert seen(page).split("\n").count(say("measure.helper")) == wanted


def test_where_the_tape_goes_is_told_for_the_field_with_the_focus(qtbot, page, catalogue):
    page.row("hip").field.setFocus()
    assert catalogue.get("hip").how in seen(page.guide)
    page.row("waist").field.setFocus()
    assert catalogue.get("waist").how in seen(page.guide)


def test_another_unit_shows_the_same_lengths(qtbot, page):
    enter(qtbot, page, "bust", "38 5/8")
    before = page.row("bust").field.length().mm
    page.set_unit("cm")
    assert page.row("bust").field.length().mm == pytest.approx(before)
    assert "in" in page.row("bust").field.text()
    enter(qtbot, page, "waist", "76")
    assert page.row("waist").field.length().mm == 760


def test_each_body_has_its_own_readings(qtbot, page, record):
    enter(qtbot, page, "bust", "38")
    qtbot.mouseClick(button(page, say("measure.another_body")), LEFT)
    qtbot.mouseClick(button(page, say("body.corset")), LEFT)
    qtbot.mouseClick(button(page, say("body.begin")), LEFT)
    assert page.body_id == "body-2"
    assert page.row("bust").field.text() == ""
    enter(qtbot, page, "bust", "37")
    with qtbot.waitSignal(page.body_chosen) as chosen:
        qtbot.mouseClick(page.line.body_row.choice("body-1"), LEFT)
    assert chosen.args == ["body-1"]
    assert page.row("bust").field.text() == "38"
    assert [(e.body_id, e.text) for e in taken(record)] == [("body-1", "38"), ("body-2", "37")]


def test_the_undergarment_is_noted_and_can_change(qtbot, page, record):
    assert say("measure.under", undergarment="a plain bra") in seen(page)
    qtbot.mouseClick(page.line.change_button, LEFT)
    edit = page.body_card.under_edit
    edit.selectAll()
    qtbot.keyClicks(edit, "long corset")
    qtbot.keyClick(edit, ENTER)
    assert say("measure.under", undergarment="long corset") in seen(page)
    assert isinstance(record.events[-1].event, BodyDescribed)


def test_a_person_without_a_body_is_asked_for_one_first(qtbot, catalogue):
    record = FakeRecord("Dora")
    page = PersonPage(catalogue)
    page.show_record(record)
    show(qtbot, page)
    assert say("body.first") in seen(page)
    qtbot.mouseClick(button(page, say("body.begin")), LEFT)
    assert record.events[-1].event == BodyDescribed(body_id="body-1", name=say("body.everyday"))
    assert page.row("bust").field.line_edit.hasFocus()


def test_without_a_person_the_page_leads_to_the_people(qtbot, catalogue):
    page = show(qtbot, PersonPage(catalogue))
    with qtbot.waitSignal(page.people_asked):
        qtbot.mouseClick(button(page, say("measure.to_people")), LEFT)


def test_name_and_notes_are_kept_on_their_own(qtbot, page, record):
    page.notes.fold.set_open(True)
    page.notes.name_edit.selectAll()
    qtbot.keyClicks(page.notes.name_edit, "Anna L")
    qtbot.keyClick(page.notes.name_edit, ENTER)
    assert record.events[-1].event == PersonNamed(name="Anna L")
    qtbot.keyClicks(page.notes.notes_edit, "likes <b>tea</b>")
    qtbot.mouseClick(page.notes.keep_notes, LEFT)
    assert record.events[-1].event == NotesChanged(text="likes <b>tea</b>")
    assert not page.notes.keep_notes.isEnabled()
    record.disk_full = True
    qtbot.keyClicks(page.notes.notes_edit, " more")
    qtbot.mouseClick(page.notes.keep_notes, LEFT)
    assert "disk is full" in seen(page.notes)
    assert page.notes.notes_edit.toPlainText().endswith("more")


def test_what_is_still_being_typed_is_kept_before_the_record_closes(qtbot, page, record):
    edit = page.row("hip").field.line_edit
    edit.setFocus()
    qtbot.keyClicks(edit, "39")
    page.notes.fold.set_open(True)
    page.notes.notes_edit.setPlainText("left shoulder first")
    page.keep_pending()
    page.keep_pending()  # once is enough
    assert [e.text for e in taken(record)] == ["39"]
    notes = [r.event for r in record.events if isinstance(r.event, NotesChanged)]
    assert notes == [NotesChanged(text="left shoulder first")]


def test_a_record_for_looking_takes_nothing(qtbot, page, record):
    record.read_only = True
    page.show_record(record)
    edit = page.row("bust").field.line_edit
    edit.setFocus()
    qtbot.keyClicks(edit, "38")
    assert edit.text() == ""
    assert not page.line.change_button.isEnabled()


def test_everything_is_reached_by_tab_has_a_name_and_is_plain_text(qtbot, page):
    enter(qtbot, page, "waist", "40")
    enter(qtbot, page, "hip", "38")
    page.row("bust").field.setFocus()
    reached = reached_by_tab(qtbot, page)
    assert page.next_button in reached
    for key in page.shown_keys()[1:]:
        assert page.row(key).field.line_edit in reached
    order = [reached.index(page.row(key).field.line_edit) for key in page.shown_keys()[1:]]
    assert order == sorted(order)
    assert unnamed(page) == []
    assert guessing_labels(page) == []


@pytest.mark.parametrize("scale", [1.25, 2.0])
def test_type_that_grows_while_it_is_read_is_not_cut_off(qtbot, qapp, page, scale):
    enter(qtbot, page, "waist", "40")
    enter(qtbot, page, "hip", "38")
    page.notes.fold.set_open(True)
    theme.apply(qapp, "dark", scale)
    try:
        qtbot.waitUntil(lambda: cut_off(page) == [])
    finally:
        theme.apply(qapp, "light", 1.0)


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_nothing_is_cut_off_at_any_size_of_type(qtbot, qapp, catalogue, record, scale):
    theme.apply(qapp, "light", scale)
    try:
        page = PersonPage(catalogue)
        page.show_record(record)
        show(qtbot, page)
        assert page.minimumSizeHint().width() <= 1366
        for key in page.shown_keys():
            field = page.row(key).field
            assert field.line_edit.width() >= field.line_edit.minimumSizeHint().width()
            label = field.line_edit.fontMetrics().horizontalAdvance("38 15/16 in")
            assert field.line_edit.width() >= label
        assert page.next_button.visibleRegion().boundingRect().size() == page.next_button.size()
    finally:
        theme.apply(qapp, "light", 1.0)


def test_a_field_can_be_gone_to_even_if_it_is_not_asked_for_yet(qtbot, page, record):
    assert "hip_depth" not in page.shown_keys()
    page.show_field("hip_depth")
    assert page.state.bodies["body-1"].depth == "full"
    field = page.row("hip_depth").field.line_edit
    assert page.focusWidget() is field
    qtbot.waitUntil(lambda: not field.visibleRegion().isEmpty())
    page.show_field("waist")  # nothing more is asked for than must be
    assert page.focusWidget() is page.row("waist").field.line_edit
    page.show_field("no_such_measurement")
    assert page.focusWidget() is page.row("waist").field.line_edit


def test_a_body_can_be_taken_for_another_kind_with_its_readings_kept(qtbot, page, record):
    enter(qtbot, page, "bust", "38")
    assert page.check_as("other")
    body = page.state.bodies["body-1"]
    assert (body.kind, body.name, body.undergarment) == ("other", "Everyday", "a plain bra")
    assert len(body.readings["bust"]) == 1
    record.disk_full = True
    assert not page.check_as("man")
    record.read_only = True
    assert not page.check_as("man")
    assert page.state.bodies["body-1"].kind == "other"
