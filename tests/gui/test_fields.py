# SPDX-License-Identifier: MIT
"""Fields keep what was typed, say the other unit, and complain under themselves."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QInputMethodEvent
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget

from fitassist.gui.fields import ChoiceRow, LengthField, NumberField


@pytest.fixture
def page(qtbot):
    made = QWidget()
    QVBoxLayout(made)
    qtbot.addWidget(made)
    return made


def put(qtbot, page, widget):
    page.layout().addWidget(widget)
    page.show()
    qtbot.waitExposed(page)
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    widget.setFocus()
    return widget


def write(edit, text):
    """Write any letters: an input method hands them over whole."""
    event = QInputMethodEvent()
    event.setCommitString(text)
    QApplication.sendEvent(edit, event)


def texts(widget):
    return [label.text() for label in widget.findChildren(QLabel) if label.isVisible()]


# 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959).
WAYS = [
    ("38 5/8", "in", 38.625 * 25.4),
    ('38.6"', "cm", 38.6 * 25.4),
    ("98 cm", "in", 980.0),
    ("980 mm", "in", 980.0),
    ("98,5", "cm", 985.0),
]


@pytest.mark.parametrize(("text", "unit", "mm"), WAYS)
def test_a_length_is_taken_in_any_writing(qtbot, page, text, unit, mm):
    field = put(qtbot, page, LengthField("Bust", unit))
    with qtbot.waitSignal(field.committed) as taken:
        qtbot.keyClicks(field.line_edit, text)
        qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)
    assert taken.args[0].mm == pytest.approx(mm, abs=0.01)
    assert field.text() == text


def test_a_fraction_sign_comes_through_an_input_method(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    write(field.line_edit, "38⅝")
    assert field.length().mm == pytest.approx(38.625 * 25.4, abs=0.01)
    assert field.text() == "38⅝"


def test_the_other_unit_stands_beside_the_field(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    qtbot.keyClicks(field.line_edit, "38 5/8")
    assert any("98.1" in text and "cm" in text for text in texts(field))
    field.clear()
    assert texts(field) == [""]
    qtbot.keyClicks(field.line_edit, "98 cm")
    assert any("38" in text for text in texts(field))


def test_each_key_tells_the_length_so_far(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    heard = []
    field.length_changed.connect(heard.append)
    qtbot.keyClicks(field.line_edit, "38x")
    assert heard[0].mm == pytest.approx(3 * 25.4)
    assert heard[1].mm == pytest.approx(38 * 25.4)
    assert heard[2] is None


def test_what_cannot_be_understood_stays_and_is_explained_under_the_field(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    with qtbot.assertNotEmitted(field.committed):
        qtbot.keyClicks(field.line_edit, "about so")
        assert field.error_text() == ""  # not while typing
        qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)
    assert field.text() == "about so"
    assert field.error_text().endswith(".")
    assert field.error_text() in texts(field)
    said = QAccessible.queryAccessibleInterface(field.line_edit)
    assert said.text(QAccessible.Text.Name) == "Bust"
    assert said.text(QAccessible.Text.Description) == field.error_text()
    field.line_edit.selectAll()
    qtbot.keyClicks(field.line_edit, "38")
    assert field.error_text() == ""


def test_marks_of_a_mark_up_language_are_shown_as_they_are(qtbot, page):
    field = put(qtbot, page, LengthField("<b>Bust</b>", "in"))
    field.show_error("<b>no</b>")
    labels = field.findChildren(QLabel)
    assert labels
    assert all(label.textFormat() == Qt.TextFormat.PlainText for label in labels)


def test_half_composed_letters_are_not_read(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    qtbot.keyClicks(field.line_edit, "38")
    QApplication.sendEvent(field.line_edit, QInputMethodEvent("5", []))
    assert field.length().mm == pytest.approx(38 * 25.4)


def test_leaving_takes_the_length_only_where_asked_and_only_once(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in", commit_on_leave=True))
    shy = LengthField("Waist", "in")
    page.layout().addWidget(shy)
    shy.show()
    heard = []
    field.committed.connect(heard.append)
    shy.committed.connect(heard.append)
    qtbot.keyClicks(field.line_edit, "38")
    qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)
    qtbot.keyClick(field.line_edit, Qt.Key.Key_Tab)
    assert shy.line_edit.hasFocus()
    assert len(heard) == 1
    qtbot.keyClicks(shy.line_edit, "30")
    qtbot.keyClick(shy.line_edit, Qt.Key.Key_Backtab)
    qtbot.keyClicks(field.line_edit, "9")
    qtbot.keyClick(field.line_edit, Qt.Key.Key_Tab)
    assert [round(length.mm / 25.4) for length in heard] == [38, 9]


def test_changing_the_unit_reads_a_bare_number_anew(qtbot, page):
    field = put(qtbot, page, LengthField("Bust", "in"))
    qtbot.keyClicks(field.line_edit, "98")
    field.set_unit("cm")
    assert field.length().mm == pytest.approx(980)
    assert field.text() == "98"


def test_a_number_outside_the_dial_is_refused_in_words(qtbot, page):
    field = put(qtbot, page, NumberField("Bust, back", lambda n: "Too far." if n > 40 else ""))
    with qtbot.assertNotEmitted(field.committed):
        qtbot.keyClicks(field.line_edit, "41")
        qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)
    assert field.error_text() == "Too far."
    field.line_edit.selectAll()
    with qtbot.waitSignal(field.committed) as taken:
        qtbot.keyClicks(field.line_edit, "37 1/2")
        qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)
    assert taken.args == [37.5]


def test_a_choice_is_made_by_mouse_and_by_arrow_keys(qtbot, page):
    row = put(qtbot, page, ChoiceRow("Units", [("in", "inches"), ("cm", "centimetres")]))
    heard = []
    row.chosen.connect(heard.append)
    qtbot.mouseClick(row.choice("cm"), Qt.MouseButton.LeftButton)
    assert row.value() == "cm"
    row.choice("cm").setFocus()
    qtbot.keyClick(row.choice("cm"), Qt.Key.Key_Left)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    assert row.value() == "in"
    assert heard[0] == "cm"
    assert heard[-1] == "in"
