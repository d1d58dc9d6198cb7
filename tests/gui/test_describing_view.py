# SPDX-License-Identifier: MIT
"""An unknown form described by keys alone: kept at each answer, and nothing lost on the way."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam
from fitassist.gui import form_draft, theme
from fitassist.gui.describing_view import DescribingView
from fitassist.gui.form_questions import SEAMS, answered, questions
from fitassist.planning.calibrating import MOST, next_lesson
from tests.gui.fakes import cut_off, guessing_labels, show, unnamed

ENTER = Qt.Key.Key_Return
INCH_MM = 25.4  # exactly, by the international agreement of 1959


class Drawer:
    """Keeps forms, or refuses."""

    def __init__(self) -> None:
        self.kept = []
        self.refuses = False
        self.first = form_draft.blank_form("A new form")

    def now(self):
        return self.kept[-1] if self.kept else self.first

    def __call__(self, form) -> bool:
        if not self.refuses:
            self.kept.append(form)
        return not self.refuses


@pytest.fixture
def drawer():
    return Drawer()


@pytest.fixture
def view(qtbot, drawer):
    return show(qtbot, DescribingView(drawer.now, "in", drawer, next_lesson), 1366, 680)


def type_in(qtbot, view, text: str) -> None:
    here = QApplication.focusWidget()
    here.selectAll()
    qtbot.keyClicks(here, text)


def to(qtbot, view, key: str) -> None:
    """Go on by Enter until a question is asked."""
    for _ in range(40):
        if view.question.key == key:
            return
        qtbot.keyClick(view, ENTER)
        if view.error_text():
            break
        if view.question.key in ("girth", "lesson") and view.question.key != key:
            view.skip.click()
    assert view.question.key == key


def test_the_first_question_is_its_name_and_enter_keeps_it(qtbot, view, drawer):
    assert view.question.key == "name"
    type_in(qtbot, view, "Quince")
    qtbot.keyClick(QApplication.focusWidget(), ENTER)
    qtbot.waitUntil(lambda: view.question.key != "name", timeout=2000)
    assert drawer.kept[-1].name == "Quince"


def test_an_eight_part_form_is_described_in_under_twenty_questions(qtbot, view, drawer):
    steps = {"parts": "eight", "meaning": "whole_girth", "units": "in", "seams": "four",
             "neck": "yes", "post": "offset", "torso": "one"}  # fmt: skip
    ranges = {"neck": ("14", "17", "0.25"), "bust": ("35", "43", "0.25"),
              "waist": ("28", "36", "0.25"), "hip": ("37", "45", "")}  # fmt: skip
    girths = {"neck": "14 1/8", "bust": "35 1/4", "waist": "27 3/4", "hip": "37 1/8"}
    asked = 0
    while view.question.key != "done":
        one = view.question
        asked += 1
        if one.kind == "choice":
            view.choose(steps[one.key])
        elif one.kind == "range":
            for field, text in zip(view._numbers, ranges[one.row], strict=True):
                field.set_text(text)
        elif one.key == "girth":
            view._length.set_text(girths[one.row])
        elif one.key == "lesson":
            row = one.row
            number = max(n for d, n in view._lesson.numbers.items() if d.startswith(row))
            least = view.form.dial(next(d for d in view._lesson.numbers if d.startswith(row))).least
            line = view.form.line(view._lesson.line)
            more = 0.25 * 25.4 if view._lesson.line != row else (number - least) * 25.4
            view._length.set_text(f"{(line.closed_girth_mm or 400.0) + more:.0f} mm")
        view.go_on.click()
        assert view.error_text() == ""
    form = drawer.kept[-1]
    # Counted: a name, eight looks, four ranges, four girths and the lessons.
    assert asked <= 8 + 4 + 4 + MOST
    assert (form.parts, form.post, form.torso.parts) == (8, "offset", "one")
    assert form.dial_meaning == DialMeaning.WHOLE_GIRTH
    assert {row.name: row.half for row in form.rows} == {
        "neck": "upper", "bust": "upper", "waist": "upper", "hip": "lower",
    }  # fmt: skip
    assert form.line("bust").closed_girth_mm == pytest.approx(35.25 * INCH_MM)
    dial = form.dial("hip.left")
    assert (dial.least, dial.greatest, dial.click) == (37.0, 45.0, None)
    assert [d.seam for d in form.dials if d.row == "neck"] == [Seam.BACK]
    assert all(d.number == d.least for d in form.dials)  # closed again
    lessons = [girth for line in form.lines for girth in line.girths]
    assert 1 <= len(lessons) <= MOST
    assert all(max(girth.numbers.values()) > 35.0 for girth in lessons)


def test_a_shell_without_dials_is_asked_nothing_of_dials(qtbot, view, drawer):
    form = answered(view.form, questions(view.form)[1], "one")
    keys = [one.key for one in questions(form)]
    assert set(keys) == {"name", "parts", "girth", "post"}
    assert form.dials == ()


@pytest.mark.parametrize("seams", list(SEAMS))
def test_dials_stand_only_where_they_were_said_to(view, seams):
    four = answered(view.form, questions(view.form)[1], "four")
    asked = next(one for one in questions(four) if one.key == "seams")
    form = answered(four, asked, seams)
    for row in ("bust", "waist", "hip"):
        assert {d.seam for d in form.dials if d.row == row} == set(SEAMS[seams])
    again = next(one for one in questions(form) if one.key == "seams")
    assert again.now == seams


def test_a_range_that_cannot_be_is_told_and_the_form_stays(qtbot, view, drawer):
    to(qtbot, view, "range")
    before = view.form
    for field, text in zip(view._numbers, ("43", "35", "0.25"), strict=True):
        field.set_text(text)
    view.go_on.click()
    assert view.error_text()
    assert view.question.key == "range"
    assert view.form == before


def test_what_cannot_be_kept_is_asked_again(qtbot, view, drawer):
    drawer.refuses = True
    view.go_on.click()
    assert view.question.key == "name"


def test_back_shows_what_was_answered_and_skipping_changes_nothing(qtbot, view, drawer):
    view.go_on.click()
    view.choose("eight")
    view.go_on.click()
    view.back.click()
    assert view.question.key == "parts"
    assert view._group.checkedButton().property("key") == "eight"
    kept = len(drawer.kept)
    view.skip.click()
    assert len(drawer.kept) == kept
    assert view.question.key == "meaning"


def test_escape_leaves_and_what_was_answered_is_kept(qtbot, view, drawer):
    view.go_on.click()
    with qtbot.waitSignal(view.left, timeout=1000):
        qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert drawer.kept


def test_enter_presses_the_button_that_has_the_focus(qtbot, view, drawer):
    view.go_on.click()
    for made, key in ((view.back, "name"), (view.skip, "parts")):
        made.setFocus()
        qtbot.keyClick(made, ENTER)
        assert view.question.key == key
    assert len(drawer.kept) == 1  # neither kept anything
    view.leave.setFocus()
    with qtbot.waitSignal(view.left, timeout=1000):
        qtbot.keyClick(view.leave, ENTER)


def test_what_was_changed_elsewhere_meanwhile_is_not_undone_by_an_answer(qtbot, view, drawer):
    view.go_on.click()
    drawer.kept.append(form_draft.changed(drawer.now(), opens="At the side"))
    view.choose("eight")
    view.go_on.click()
    assert (drawer.now().opens, drawer.now().parts) == ("At the side", 8)


def test_one_lesson_skipped_is_the_last(qtbot, view, drawer):
    to(qtbot, view, "lesson")
    view.skip.click()
    assert view.question.kind == "end"
    with qtbot.waitSignal(view.left, timeout=1000):
        view.go_on.click()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_every_question_fits_and_has_names(qtbot, qapp, view, scale):
    theme.apply(qapp, "light", scale)
    try:
        for _ in range(30):
            QApplication.processEvents()
            assert cut_off(view) == []
            assert unnamed(view) == []
            assert guessing_labels(view) == []
            if view.question.kind == "end":
                break
            view.skip.click()
    finally:
        theme.apply(qapp, "light", 1.0)
