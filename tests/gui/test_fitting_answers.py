# SPDX-License-Identifier: MIT
"""Every way to answer on the fitting page, by keys and mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from fitassist.domain.body import Preferences
from fitassist.session.fitting import Fitting
from fitassist.wording.lengths import say_length
from tests.gui.fitting_bench import Bench, true_girth
from tests.gui.form_of_twelve import CLOSED_MM, a_body, a_form


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot, Fitting.start(a_body(), a_form()))


# -- readings -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "mm"), [("38 5/8", 981.075), ("98 cm", 980.0), ("38*5", 981.075)]
)
def test_a_reading_is_taken_in_any_writing(bench: Bench, typed: str, mm: float) -> None:
    bench.set_until("measure")
    assert QApplication.focusWidget() is bench.work.bar.field.line_edit
    step = bench.fitting.instruction
    bench.type(typed)
    bench.enter()
    view = bench.fitting.view()
    read = next(v for v in view.lines if v.line == step.line)
    assert read.last_read_mm == pytest.approx(mm)
    assert bench.fitting.instruction.id > step.id


def test_a_reading_that_cannot_be_understood_stays_with_a_sentence_under_it(bench: Bench) -> None:
    bench.set_until("measure")
    before = bench.fitting.revision
    bench.type("38 elbows")
    bench.enter()
    assert bench.fitting.revision == before
    assert bench.work.bar.field.text() == "38 elbows"
    assert bench.work.bar.field.error_text()


def test_what_is_typed_moves_the_sections_before_it_is_taken(bench: Bench) -> None:
    bench.set_until("measure")
    step = bench.fitting.instruction
    before, revision = bench.work.sections.girth_texts(), bench.fitting.revision
    place = list(CLOSED_MM).index(step.line)
    bench.type(say_length(step.expect_mm - 18.0, "cm"))
    bench.qtbot.waitUntil(lambda: bench.work.sections.girth_texts()[place] != before[place])
    assert bench.fitting.revision == revision
    bench.work.bar.field.line_edit.clear()
    bench.qtbot.waitUntil(lambda: bench.work.sections.girth_texts() == before)


@pytest.mark.parametrize(("marks", "sign"), [("apart", 1), ("overlap", -1)])
def test_the_ribbon_says_in_words_which_way_it_is(bench: Bench, marks: str, sign: int) -> None:
    bench.set_until("measure")
    step = bench.fitting.instruction
    bench.click(bench.work.bar.aside("ribbon"))
    bench.click(bench.work.ribbon.marks_button(marks))
    words = {"apart": "form too large", "overlap": "form too small"}
    assert words[marks] in bench.work.ribbon.marks_button(marks).text()
    bench.type("1/4")
    bench.enter()
    read = next(v for v in bench.fitting.view().lines if v.line == step.line)
    assert read.last_read_mm == pytest.approx(step.target_mm + sign * 6.35)
    assert bench.work.open_panel() is None


def test_a_ribbon_whose_marks_meet_needs_no_amount(bench: Bench) -> None:
    bench.set_until("measure")
    step = bench.fitting.instruction
    bench.click(bench.work.bar.aside("ribbon"))
    bench.click(bench.work.ribbon.marks_button("meet"))
    bench.click(bench.work.bar.primary)
    read = next(v for v in bench.fitting.view().lines if v.line == step.line)
    assert read.last_read_mm == pytest.approx(step.target_mm)


# -- what is not as asked -------------------------------------------------------------------------


def test_a_dial_that_stopped_is_told_with_the_number_where_it_stands(bench: Bench) -> None:
    bench.set_until("set")
    step = bench.fitting.instruction
    dial = step.turns[0]
    bench.click(bench.work.bar.aside("exceptions"))
    why, number = bench.work.exceptions.row(dial.dial)
    bench.click(why.choice("stopped"))
    assert QApplication.focusWidget() is number.line_edit
    bench.key(Qt.Key.Key_Up)
    bench.enter()
    numbers = bench.fitting.view().numbers
    assert numbers[dial.dial] == pytest.approx(dial.start + 0.25)
    assert numbers[step.turns[1].dial] == pytest.approx(step.turns[1].number)
    assert bench.work.open_panel() is None


def test_a_number_that_is_typed_moves_the_sections_before_it_is_taken(bench: Bench) -> None:
    bench.set_until("set")
    step = bench.fitting.instruction
    before, revision = bench.work.sections.girth_texts(), bench.fitting.revision
    place = list(CLOSED_MM).index(step.row)
    bench.click(bench.work.bar.aside("exceptions"))
    why, number = bench.work.exceptions.row(step.turns[0].dial)
    bench.click(why.choice("stopped"))
    for _click in range(3):
        bench.key(Qt.Key.Key_Up)
    bench.qtbot.waitUntil(lambda: bench.work.sections.girth_texts()[place] != before[place])
    assert bench.fitting.revision == revision
    bench.key(Qt.Key.Key_Escape)
    bench.qtbot.waitUntil(lambda: bench.work.sections.girth_texts() == before)
    assert number.text() != ""


def test_a_stuck_dial_is_left_out_until_it_turns_again(bench: Bench) -> None:
    bench.set_until("set")
    dial = bench.fitting.instruction.turns[0].dial
    bench.click(bench.work.bar.aside("exceptions"))
    why, _number = bench.work.exceptions.row(dial)
    bench.click(why.choice("stuck"))
    bench.enter()
    assert bench.fitting.view().stuck == (dial,)
    assert any("stuck" in text for text in bench.work.list.lines())
    bench.click(bench.work.bar.aside("else"))
    bench.click(bench.work.volunteer.kind.choice("free"))
    bench.click(bench.work.bar.primary)
    assert bench.fitting.view().stuck == ()


def test_a_number_the_dial_does_not_have_is_refused_under_its_field(bench: Bench) -> None:
    bench.set_until("set")
    dial = bench.fitting.instruction.turns[0].dial
    before = bench.fitting.revision
    bench.click(bench.work.bar.aside("exceptions"))
    why, number = bench.work.exceptions.row(dial)
    bench.click(why.choice("stopped"))
    number.line_edit.setText("99")
    bench.enter()
    assert bench.fitting.revision == before
    assert "goes from" in number.error_text()
    assert number.text() == "99"
    assert bench.work.open_panel() is bench.work.exceptions


def test_escape_puts_a_panel_away_and_nothing_has_happened(bench: Bench) -> None:
    bench.set_until("set")
    before = bench.fitting.revision
    bench.click(bench.work.bar.aside("exceptions"))
    bench.key(Qt.Key.Key_Escape)
    assert bench.work.open_panel() is None
    assert bench.fitting.revision == before
    assert QApplication.focusWidget() is bench.work.bar.primary


# -- what nobody asked for ------------------------------------------------------------------------


def test_a_reading_nobody_asked_for_is_taken_at_any_time(bench: Bench) -> None:
    bench.set_until("set")
    bench.click(bench.work.bar.aside("else"))
    panel = bench.work.volunteer
    panel.place.setCurrentIndex(panel.place.findData("hip|girth"))
    panel.field.setFocus()
    bench.type("37 1/8")
    bench.enter()
    hip = next(v for v in bench.fitting.view().lines if v.line == "hip")
    assert hip.last_read_mm == pytest.approx(37.125 * 25.4)
    assert bench.work.open_panel() is None


def test_a_dial_that_was_nudged_is_told_and_the_plan_starts_from_there(bench: Bench) -> None:
    bench.click(bench.work.bar.aside("else"))
    panel = bench.work.volunteer
    bench.click(panel.kind.choice("dial"))
    panel.dial.setCurrentIndex(panel.dial.findData("hip.back"))
    assert panel.number is not None
    panel.number.line_edit.setText("37 1/2")
    panel.number.setFocus()
    bench.enter()
    assert bench.fitting.view().numbers["hip.back"] == pytest.approx(37.5)


def test_after_the_end_one_can_keep_measuring(bench: Bench) -> None:
    bench.set_until("done")
    readings = bench.fitting.view().readings
    bench.click(bench.work.bar.aside("else"))
    bench.work.volunteer.field.setFocus()
    bench.type(say_length(true_girth(bench.fitting, "bust"), "in"))
    bench.work.volunteer.place.setCurrentIndex(bench.work.volunteer.place.findData("bust|girth"))
    bench.enter()
    assert bench.fitting.view().readings == readings + 1


# -- taking back, passing over, leaving -----------------------------------------------------------


def test_control_z_takes_the_last_answer_back(bench: Bench) -> None:
    bench.set_until("measure")
    step = bench.fitting.instruction
    bench.type(say_length(step.expect_mm, "in"))
    bench.enter()
    assert bench.fitting.view().readings == 1
    bench.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert next(v for v in bench.fitting.view().lines if v.line == step.line).last_read_mm is None


def test_control_z_in_the_tapes_field_first_takes_back_what_was_typed(bench: Bench) -> None:
    bench.set_until("set")
    bench.set_until("measure")
    revision = bench.fitting.revision
    bench.type("38")
    bench.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bench.fitting.revision == revision
    assert bench.work.bar.field.text() != "38"
    bench.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bench.fitting.revision > revision


def test_undoing_a_set_asks_to_turn_the_dials_back(bench: Bench) -> None:
    bench.set_until("set")
    bench.enter()
    bench.click(bench.work.bar.aside("undo"))
    assert bench.work.card.title_text().startswith("Turn back")


def test_skipping_passes_over_and_leaving_ends(bench: Bench) -> None:
    first = bench.fitting.instruction
    bench.click(bench.work.bar.aside("skip"))
    assert bench.fitting.instruction != first
    bench.click(bench.work.bar.aside("leave"))
    assert bench.fitting.instruction.verdict == "left"
    bench.click(bench.work.bar.aside("undo"))
    assert bench.kind != "done"


# -- questions and checks -------------------------------------------------------------------------


def test_an_unlikely_reading_is_asked_about_and_enter_measures_again(bench: Bench) -> None:
    bench.set_until("measure")
    line = bench.fitting.instruction.line
    bench.type("20")
    bench.enter()
    assert bench.kind == "ask"
    assert bench.work.bar.primary.text().startswith("Measure again")
    assert [other.text() for other in bench.work.bar.others()] == ["Keep it", "Leave it out"]
    bench.enter()
    assert bench.kind == "measure"
    assert bench.fitting.instruction.line == line


def test_uneven_dials_are_asked_about_and_may_stay_if_the_body_is_like_this(qtbot: QtBot) -> None:
    form = a_form().at({"bust.left": 36.0})
    bench = Bench(qtbot, Fitting.start(a_body(), form, Preferences(checks=True)))
    bench.set_until("ask")
    assert any("left stands at 36" in text for text in bench.work.list.lines())
    (keep,) = bench.work.bar.others()
    assert keep.text() == "The body is like this"
    bench.click(keep)
    assert bench.kind != "ask"


def test_checks_come_first_with_their_picture_and_one_done_each(qtbot: QtBot) -> None:
    bench = Bench(qtbot, Fitting.start(a_body(), a_form(), Preferences(checks=True)))
    seen = []
    while bench.kind == "check":
        seen.append(bench.fitting.instruction.code)
        assert bench.work.drawing.isVisible()
        bench.enter()
    assert seen == ["undergarment", "marks", "torso_length"]
    assert bench.work.torso.isVisible()
