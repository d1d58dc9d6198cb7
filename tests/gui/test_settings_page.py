# SPDX-License-Identifier: MIT
"""Preferences change at once, refuse what makes no sense, and can be set back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from fitassist.gui import theme
from fitassist.gui.settings_page import SettingsPage
from fitassist.settings import Settings, Window
from fitassist.wording.beside_words import say as words_beside
from fitassist.wording.pages import say
from tests.gui.fakes import cut_off, guessing_labels, reached_by_tab, seen, show, unnamed

LEFT = Qt.MouseButton.LeftButton
# What the program notes for itself, and no preference.
HIDDEN = ("window", "last_person", "last_page", "tour_seen", "paper")
INCH_MM = 25.4  # exactly, by the international agreement of 1959


@pytest.fixture
def page(qtbot):
    return show(qtbot, SettingsPage(Settings(last_person="anna", window=Window(left=7))))


def write(qtbot, field, text):
    field.line_edit.setFocus()
    field.line_edit.selectAll()
    qtbot.keyClicks(field.line_edit, text)
    qtbot.keyClick(field.line_edit, Qt.Key.Key_Return)


def test_a_choice_counts_at_once(qtbot, page):
    with qtbot.waitSignal(page.changed) as told:
        qtbot.mouseClick(page.row("theme").choice("dark"), LEFT)
    assert told.args[0].theme == "dark"
    qtbot.mouseClick(page.row("font_scale").choice("1.5"), LEFT)
    qtbot.mouseClick(page.row("confidence").choice("0.99"), LEFT)
    assert page.settings().font_scale == 1.5
    assert page.settings().confidence == 0.99
    assert page.settings().theme == "dark"


def test_a_tolerance_is_typed_in_either_unit(qtbot, page):
    write(qtbot, page.field("all_below"), "3/8")
    write(qtbot, page.field("hip_above"), "12 mm")
    assert page.settings().default_tolerance_mm == pytest.approx((-0.375 * INCH_MM, 6.35))
    assert page.settings().line_tolerance_mm["hip"] == pytest.approx((-9.525, 12.0))


def test_what_makes_no_sense_is_refused_under_its_field(qtbot, page):
    before = page.settings()
    write(qtbot, page.field("cover_mm"), "20 cm")
    assert page.field("cover_mm").error_text() == say("settings.too_much")
    write(qtbot, page.field("all_above"), "9 in")
    assert page.field("all_above").error_text() == say("settings.too_much")
    assert page.settings() == before


def test_no_cover_at_all_is_an_answer(qtbot, page):
    write(qtbot, page.field("cover_mm"), "2 mm")
    assert page.settings().cover_mm == 2
    write(qtbot, page.field("cover_mm"), "0")
    assert page.settings().cover_mm == 0


def test_changing_the_units_changes_what_is_shown_but_no_length(qtbot, page):
    before = page.settings().default_tolerance_mm
    qtbot.mouseClick(page.row("units").choice("cm"), LEFT)
    assert page.settings().default_tolerance_mm == before
    assert page.field("all_below").length().mm == pytest.approx(6.35, abs=0.11)
    assert "mm" in page.field("all_below").text()


def test_switches_are_pressed_by_key(qtbot, page):
    for key in ("padding_follows", "opposite_equal", "checks"):
        before = getattr(page.settings(), key)
        qtbot.keyClick(page.switch(key), Qt.Key.Key_Space)
        assert getattr(page.settings(), key) is not before


def test_all_can_be_set_back_but_not_where_one_was(qtbot, page):
    qtbot.mouseClick(page.row("units").choice("cm"), LEFT)
    qtbot.keyClick(page.switch("checks"), Qt.Key.Key_Space)
    write(qtbot, page.field("hip_above"), "12 mm")
    with qtbot.waitSignal(page.changed) as told:
        qtbot.mouseClick(page.reset_button, LEFT)
    assert told.args[0] == Settings(last_person="anna", window=Window(left=7))
    assert page.row("units").value() == "in"
    assert page.switch("checks").isChecked()


def test_fields_of_a_newer_program_are_kept(qtbot):
    page = show(qtbot, SettingsPage(Settings.model_validate({"later": 3})))
    qtbot.mouseClick(page.row("units").choice("cm"), LEFT)
    assert page.settings().model_dump()["later"] == 3


def test_everything_is_reached_by_tab_has_a_name_and_is_plain_text(qtbot, page):
    page.row("units").setFocus()
    reached = reached_by_tab(qtbot, page)
    assert page.reset_button in reached
    assert page.field("hip_above").line_edit in reached
    assert unnamed(page) == []
    assert guessing_labels(page) == []


@pytest.mark.parametrize("scale", [1.25, 2.0])
def test_type_that_grows_while_it_is_read_is_not_cut_off(qtbot, qapp, page, scale):
    theme.apply(qapp, "dark", scale)
    try:
        qtbot.waitUntil(lambda: cut_off(page) == [])
    finally:
        theme.apply(qapp, "light", 1.0)


def test_each_preference_has_its_sentence(page):
    for key in ("units", "theme", "font_scale", "confidence", "cover_mm", "tape_spread_mm"):
        assert say(f"settings.{key}_why") in seen(page)


@pytest.mark.parametrize(
    "keys", [{"skip": "+"}, {"skip": "7"}], ids=["two meanings", "no such key"]
)
def test_kept_keys_that_make_no_sense_are_said_and_the_usual_ones_shown(qtbot, keys):
    page = show(qtbot, SettingsPage(Settings(keypad=keys)))
    assert page.key_chooser.message() == words_beside("keys_clash")
    assert page.key_chooser.box("skip").currentData() == "*"


def test_keys_that_make_sense_together_need_no_sentence(qtbot):
    page = show(qtbot, SettingsPage(Settings(keypad={"skip": "="})))
    assert page.key_chooser.message() == ""
    assert page.key_chooser.box("skip").currentData() == "="


def test_the_language_is_chosen_by_its_own_name_and_only_where_there_are_several(qtbot):
    page = show(qtbot, SettingsPage(Settings(), [("en", "English"), ("fr", "Français")]))
    with qtbot.waitSignal(page.changed) as told:
        qtbot.mouseClick(page.row("language").choice("fr"), LEFT)
    assert told.args[0].language == "fr"
    assert say("settings.language_why") in seen(page)
    alone = show(qtbot, SettingsPage(Settings(), [("en", "English")]))
    assert say("settings.language_why") not in seen(alone)


def test_a_language_that_is_not_there_shows_as_the_systems(qtbot):
    page = show(
        qtbot, SettingsPage(Settings(language="xx"), [("en", "English"), ("de", "Deutsch")])
    )
    assert page.row("language").value() == ""


@pytest.mark.parametrize("name", [name for name in Settings.model_fields if name not in HIDDEN])
def test_every_preference_has_its_words_and_its_sentence(name):
    key = {"default_tolerance_mm": "tolerance", "line_tolerance_mm": "tolerance"}.get(name, name)
    assert say(f"settings.{key}")
    assert say(f"settings.{key}_why")
