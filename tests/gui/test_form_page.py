# SPDX-License-Identifier: MIT
"""Describing a form: its dials first, every change kept, every refusal in a sentence."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.form_file import load_form_text
from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.files import resources_dir
from fitassist.gui import form_draft, theme
from fitassist.gui.form_page import FormPage
from fitassist.wording.pages import say
from tests.gui.fakes import (
    FakeLibrary,
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
def ready():
    paths = sorted((resources_dir() / "forms").glob("*.json"))
    return [load_form_text(path.read_text(encoding="utf-8")) for path in paths]


@pytest.fixture
def library():
    return FakeLibrary()


@pytest.fixture
def page(qtbot, library, ready):
    made = show(qtbot, FormPage(library, ready, "in"))
    eight = next(i for i, form in enumerate(ready) if form.parts == 8)
    qtbot.mouseClick(made.begin_button(eight), LEFT)
    return made


def kept(page, library) -> Form:
    return library.kept_forms[page.form_id]


def write(qtbot, field, text, key=ENTER):
    field.line_edit.setFocus()
    field.line_edit.selectAll()
    if text:
        qtbot.keyClicks(field.line_edit, text)
    else:
        qtbot.keyClick(field.line_edit, Qt.Key.Key_Delete)
    qtbot.keyClick(field.line_edit, key)


def press(qtbot, widget):
    qtbot.mouseClick(widget, LEFT)


def unfold(page, key):
    page.folds[key].set_open(True)


def test_without_a_form_the_page_says_where_to_begin(qtbot, library, ready):
    page = show(qtbot, FormPage(library, ready))
    assert say("form.empty") in seen(page)
    assert page.form is None
    assert not page.grid.isVisible()


def test_a_ready_form_becomes_ones_own_at_once(qtbot, page, library, ready):
    assert len(library.kept_forms) == 1
    assert page.form in ready
    assert page.list_view.model().rowCount() == 1
    assert page.grid.isVisible()


@pytest.mark.parametrize("index", range(4))
def test_every_beginning_can_be_shown(qtbot, library, ready, index):
    page = show(qtbot, FormPage(library, ready))
    press(qtbot, page.begin_button(index))
    assert page.form is not None
    if not page.form.dials:
        assert say("form.no_dials") in seen(page)


def test_where_the_dials_stand_is_typed_as_printed_and_kept(qtbot, page, library):
    write(qtbot, page.grid.field("bust.front"), "37 1/2")
    assert kept(page, library).dial("bust.front").number == 37.5
    write(qtbot, page.grid.field("bust.left"), "37.25", Qt.Key.Key_Tab)
    assert kept(page, library).dial("bust.left").number == 37.25
    assert kept(page, library).dial("bust.back").number == 35


def test_a_number_the_dial_does_not_have_is_explained_and_not_kept(qtbot, page, library):
    write(qtbot, page.grid.field("bust.front"), "50")
    assert "35 to 43" in page.grid.field("bust.front").error_text()
    assert page.grid.field("bust.front").text() == "50"
    assert kept(page, library).dial("bust.front").number == 35
    write(qtbot, page.grid.field("bust.front"), "37 cm")
    assert page.grid.field("bust.front").error_text()
    assert kept(page, library).dial("bust.front").number == 35


def test_a_number_between_two_clicks_is_asked_about(qtbot, page, library):
    write(qtbot, page.grid.field("bust.front"), "37 3/8")
    assert page.grid.field("bust.front").error_text() == say(
        "number.between", below="37 1/4", above="37 1/2"
    )
    assert kept(page, library).dial("bust.front").number == 35
    write(qtbot, page.grid.field("bust.front"), "43")
    assert kept(page, library).dial("bust.front").number == 43


def test_a_smooth_dial_stands_anywhere(page):
    dial = page.form.dial("bust.front").model_copy(update={"click": None})
    assert form_draft.clicks_beside(dial, 37.37) is None
    notched = dial.model_copy(update={"click": 0.1})
    # 0.1 has no exact binary fraction (IEEE 754), so the clicks must be found with some play.
    assert all(form_draft.clicks_beside(notched, 35 + i / 10) is None for i in range(81))


def test_all_closed_puts_every_dial_at_its_least(qtbot, page, library):
    write(qtbot, page.grid.field("hip.back"), "40")
    press(
        qtbot, next(b for b in page.findChildren(QPushButton) if b.text() == say("form.all_closed"))
    )
    assert all(dial.number == dial.least for dial in kept(page, library).dials)
    assert page.grid.field("hip.back").text() == "37"


def test_a_full_disk_leaves_the_typed_number_and_says_so(qtbot, page, library):
    library.disk_full = True
    with qtbot.waitSignal(page.failed):
        write(qtbot, page.grid.field("bust.front"), "38")
    assert page.grid.field("bust.front").text() == "38"
    assert "disk is full" in page.grid.field("bust.front").error_text()
    assert kept(page, library).dial("bust.front").number == 35
    library.disk_full = False
    write(qtbot, page.grid.field("bust.front"), "38")
    assert kept(page, library).dial("bust.front").number == 38
    assert page.grid.field("bust.front").error_text() == ""


def test_the_name_can_change_but_not_vanish(qtbot, page, library):
    page.name_edit.setFocus()
    page.name_edit.selectAll()
    qtbot.keyClicks(page.name_edit, "<b>Old one</b>")
    qtbot.keyClick(page.name_edit, ENTER)
    assert kept(page, library).name == "<b>Old one</b>"
    assert page.list_view.currentIndex().data() == "<b>Old one</b>"
    page.name_edit.selectAll()
    qtbot.keyClicks(page.name_edit, " ")
    qtbot.keyClick(page.name_edit, ENTER)
    assert kept(page, library).name == "<b>Old one</b>"


def test_a_printed_range_can_change_and_numbers_follow_into_it(qtbot, page, library):
    unfold(page, "form.dials")
    write(qtbot, page.dials.number_field("bust", "greatest"), "46")
    write(qtbot, page.dials.number_field("bust", "least"), "36")
    dial = kept(page, library).dial("bust.front")
    assert (dial.least, dial.greatest, dial.number) == (36, 46, 36)
    assert "36 to 46" in seen(page.grid)
    assert page.grid.field("bust.front").text() == "36"


def test_a_crossed_range_is_refused_in_a_sentence(qtbot, page, library):
    unfold(page, "form.dials")
    write(qtbot, page.dials.number_field("bust", "least"), "44")
    assert page.dials.said().text() == say("form.error.form_range_crossed")
    assert page.dials.said().isVisible()
    assert kept(page, library).dial("bust.front").least == 35


def test_an_empty_click_means_a_smooth_dial(qtbot, page, library):
    unfold(page, "form.dials")
    write(qtbot, page.dials.number_field("waist", "click"), "")
    assert kept(page, library).dial("waist.front").click is None
    assert say("form.range_smooth", least="28", greatest="36") in seen(page.grid)
    write(qtbot, page.dials.number_field("waist", "click"), "1/8")
    assert kept(page, library).dial("waist.front").click == 0.125


def test_pressing_a_seam_goes_round_what_can_be_there(qtbot, page, library):
    unfold(page, "form.dials")
    found = []
    for _ in range(4):
        press(qtbot, page.dials.state_button("bust.front"))
        found.append(form_draft.dial_state(kept(page, library), "bust", Seam.FRONT))
    assert found == ["worn", "follows", "none", "dial"]


def test_a_worn_dial_is_kept_as_not_readable_and_a_missing_one_has_no_field(qtbot, page, library):
    unfold(page, "form.dials")
    press(qtbot, page.dials.state_button("bust.front"))
    assert kept(page, library).dial("bust.front").readable is False
    press(qtbot, page.dials.state_button("bust.front"))
    assert kept(page, library).dial("bust.front").missing is True
    with pytest.raises(KeyError):
        page.grid.field("bust.front")


def test_the_last_dial_of_a_row_cannot_be_taken_away(page):
    form = page.form
    for seam in (Seam.FRONT, Seam.LEFT, Seam.RIGHT):
        form = form_draft.with_dial_state(form, "bust", seam, "none")
    with pytest.raises(FitError) as refused:
        form_draft.with_dial_state(form, "bust", Seam.BACK, "none")
    assert refused.value.code == "form_last_dial"


def test_rows_can_be_added_and_removed(qtbot, page, library):
    unfold(page, "form.dials")
    words = f"{say('form.add_row')} high hip"
    press(qtbot, next(b for b in page.findChildren(QPushButton) if b.accessibleName() == words))
    assert [row.name for row in kept(page, library).rows][-2:] == ["high_hip", "hip"]
    assert page.grid.field("high_hip.left").isVisible()
    words = f"{say('form.remove_row')}: High hip"
    press(qtbot, next(b for b in page.findChildren(QPushButton) if b.accessibleName() == words))
    assert kept(page, library).rows == page.form.rows
    assert all(dial.row != "high_hip" for dial in kept(page, library).dials)


def test_units_and_meaning_relabel_what_is_printed_and_convert_nothing(qtbot, page, library):
    unfold(page, "form.dials")
    press(qtbot, page.dials.units_row.choice("cm"))
    press(qtbot, page.dials.meaning_row.choice("seam_gap"))
    form = kept(page, library)
    assert form.units == "cm"
    assert form.dial_meaning is DialMeaning.SEAM_GAP
    assert form.dial("bust.front").least == 35


def test_girths_and_heights_may_be_told_in_either_unit(qtbot, page, library):
    unfold(page, "form.girths")
    write(qtbot, page.places.field("hip", "height"), "20 cm")
    write(qtbot, page.places.field("bust", "closed_girth"), "36 1/4")
    form = kept(page, library)
    assert form.line("hip").height_mm == pytest.approx(-200)
    assert form.line("bust").closed_girth_mm == pytest.approx(36.25 * INCH_MM)
    write(qtbot, page.places.field("bust", "closed_girth"), "")
    assert kept(page, library).line("bust").closed_girth_mm is None


def test_a_girth_read_now_is_kept_with_the_numbers_of_now(qtbot, page, library):
    write(qtbot, page.grid.field("bust.front"), "38")
    unfold(page, "form.girths")
    write(qtbot, page.places.field("bust", "girth_now"), "92 cm")
    assert page.places.field("bust", "girth_now").line_edit.hasFocus()
    (known,) = kept(page, library).line("bust").girths
    assert known.girth_mm == pytest.approx(920)
    assert known.numbers["bust.front"] == 38
    assert len(known.numbers) == len(page.form.dials)
    press(
        qtbot,
        next(b for b in page.findChildren(QPushButton) if b.text() == say("form.known_forget")),
    )
    assert kept(page, library).line("bust").girths == ()


def test_the_torso_goes_from_short_to_long_or_is_refused(qtbot, page, library):
    unfold(page, "form.torso")
    write(qtbot, page.torso.field("form.torso_now"), "16")
    assert kept(page, library).torso.length_mm == pytest.approx(16 * INCH_MM)
    write(qtbot, page.torso.field("form.torso_least"), "18")
    assert say("form.error.form_torso") in seen(page)
    assert kept(page, library).torso.least_mm == pytest.approx(15 * INCH_MM)
    press(qtbot, page.torso.post_row.choice("offset"))
    press(qtbot, page.torso.parts_row.choice("one"))
    assert kept(page, library).post == "offset"
    assert kept(page, library).torso.parts == "one"


def test_handling_and_notes_are_kept(qtbot, page, library):
    unfold(page, "form.handling")
    qtbot.keyClick(page.handling.lock, Qt.Key.Key_Space)
    qtbot.keyClicks(page.handling.opens, "clockwise <opens>")
    qtbot.keyClick(page.handling.opens, ENTER)
    press(qtbot, page.handling.first_row.choice("lower"))
    write(qtbot, page.handling.parts, "4")
    form = kept(page, library)
    assert (form.lock, form.opens, form.set_first, form.parts) == (
        True,
        "clockwise <opens>",
        "lower",
        4,
    )


def test_a_fitting_starts_for_the_body_and_the_form_that_are_shown(qtbot, page):
    page.show_body("", "", "")
    assert not page.start_button.isEnabled()
    assert page.said().text() == say("form.no_body")
    page.show_body("body-2", "Anna", "In a corset")
    with qtbot.waitSignal(page.start_asked) as asked:
        press(qtbot, page.start_button)
    assert asked.args == ["body-2", page.form_id, "nearest_girth"]


def test_choosing_another_form_shows_its_own_numbers(qtbot, page, library, ready):
    first = page.form_id
    write(qtbot, page.grid.field("bust.front"), "38")
    press(qtbot, page.begin_button(len(ready)))
    assert page.form_id != first
    page.list_view.setFocus()
    qtbot.keyClick(page.list_view, Qt.Key.Key_Home)
    assert page.form_id == first
    assert page.grid.field("bust.front").text() == "38"


def test_everything_is_reached_by_tab_has_a_name_and_is_plain_text(qtbot, page):
    page.show_body("body-1", "Anna", "Everyday")
    for fold in page.folds.values():
        fold.set_open(True)
    page.name_edit.setFocus()
    reached = reached_by_tab(qtbot, page)
    assert page.start_button in reached
    for dial in page.form.dials:
        assert page.grid.field(dial.name).line_edit in reached
    assert unnamed(page) == []
    assert guessing_labels(page) == []


@pytest.mark.parametrize("scale", [1.25, 2.0])
def test_type_that_grows_while_it_is_read_is_not_cut_off(qtbot, qapp, page, scale):
    for fold in page.folds.values():
        fold.set_open(True)
    theme.apply(qapp, "dark", scale)
    try:
        qtbot.waitUntil(lambda: cut_off(page) == [])
    finally:
        theme.apply(qapp, "light", 1.0)


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_numbers_and_the_main_button_can_be_seen_at_any_size_of_type(
    qtbot, qapp, library, ready, scale
):
    theme.apply(qapp, "light", scale)
    try:
        page = show(qtbot, FormPage(library, ready))
        press(qtbot, page.begin_button(0))
        assert page.minimumSizeHint().width() <= 1366
        edit = page.grid.field("bust.front").line_edit
        assert edit.width() >= edit.fontMetrics().horizontalAdvance("37 1/2 ") + 16
        assert page.start_button.visibleRegion().boundingRect().size() == page.start_button.size()
    finally:
        theme.apply(qapp, "light", 1.0)
