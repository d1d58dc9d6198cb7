# SPDX-License-Identifier: MIT
"""What the keys of a small pad mean, number lock or not, and which of them may be changed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from pytestqt.qtbot import QtBot

from fitassist.domain import answers as an
from fitassist.gui.key_map_view import KeyMapView
from fitassist.gui.keypad import DEFAULT_KEYS, FREE_KEYS, complete_keys, key_of, taken_by
from fitassist.gui.keypad_flow import KeypadFlow
from fitassist.gui.settings_page import SettingsPage
from fitassist.session.fitting import Fitting
from fitassist.settings import Settings
from fitassist.wording.beside_words import cap, say
from tests.gui.form_of_twelve import a_body, a_form

PAD = Qt.KeyboardModifier.KeypadModifier
PLAIN = Qt.KeyboardModifier.NoModifier
# What a pad sends while its number lock is off, and the figure printed on that key
# (common practice of keyboards, no source).
UNLOCKED = {
    "Insert": "0", "End": "1", "Down": "2", "PageDown": "3", "Left": "4", "Clear": "5",
    "Right": "6", "Home": "7", "Up": "8", "PageUp": "9", "Delete": ".",
}  # fmt: skip


def pressed(key: Qt.Key, modifier: Qt.KeyboardModifier = PAD, text: str = "") -> str:
    return key_of(QKeyEvent(QEvent.Type.KeyPress, int(key), modifier, text))


@pytest.mark.parametrize(("name", "figure"), UNLOCKED.items())
def test_a_pad_without_number_lock_means_the_figures_printed_on_it(name: str, figure: str) -> None:
    key = getattr(Qt.Key, f"Key_{name}")
    assert pressed(key) == figure
    assert pressed(key, PLAIN) == ""  # the arrows of a keyboard are no figures


def test_signs_figures_and_enter_are_known_by_name() -> None:
    assert pressed(Qt.Key.Key_Enter) == pressed(Qt.Key.Key_Return, PLAIN) == "enter"
    for sign in "0123456789+-*/.,":
        assert pressed(Qt.Key(ord(sign)), PAD, sign) == sign
    assert pressed(Qt.Key.Key_A, PLAIN, "a") == ""
    assert pressed(Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier, "+") == ""


@pytest.mark.parametrize(
    "chosen",
    [
        {"skip": "/"},  # undo has it
        {"skip": "7"},  # a reading may begin with it
        {"skip": ""},
        {"done": "+", "apart": "+"},
    ],
)
def test_keys_that_make_no_sense_together_count_as_none_chosen(chosen: dict[str, str]) -> None:
    assert complete_keys(chosen) == DEFAULT_KEYS


def test_keys_that_fit_are_taken_and_others_stay() -> None:
    keys = complete_keys({"skip": "=", "no such action": "+"})
    assert keys == {**DEFAULT_KEYS, "skip": "="}
    assert taken_by(keys, "undo", "=") == "skip"
    assert taken_by(keys, "skip", "=") == ""


def test_no_key_that_can_be_given_away_begins_a_reading() -> None:
    assert not set("123456789") & set(FREE_KEYS)


class Heard:
    """A flow with its answers."""

    def __init__(self) -> None:
        self.fitting = Fitting.start(a_body(), a_form())
        self.flow = KeypadFlow()
        self.answers: list[object] = []
        self.flow.answered.connect(self.answers.append)
        self.begin()

    def begin(self) -> None:
        self.flow.begin(self.fitting.view(), self.fitting.started.form, "in")

    def press(self, *keys: str) -> None:
        for key in keys:
            self.flow.press(key)

    def to_a_reading(self) -> None:
        while self.fitting.instruction.kind != "measure":
            self.fitting.submit(an.Done())
        self.begin()


@pytest.fixture
def heard(qapp) -> Heard:
    return Heard()


@pytest.mark.parametrize(
    ("keys", "eighths"),
    [("36*5", 293), ("36+5/8", 293), ("36.5", 292), ("36,5", 292), ("37-6*1", 289), ("36", 288)],
)
def test_a_reading_is_typed_in_any_way_a_pad_allows(heard: Heard, keys: str, eighths: int) -> None:
    heard.to_a_reading()
    heard.press(*keys, "enter")
    (answer,) = heard.answers
    assert isinstance(answer, an.TapeReading)
    assert answer.mm == pytest.approx(eighths * 25.4 / 8)  # an inch is 25.4 mm by definition


def test_an_entry_that_cannot_be_read_stays_and_says_why(heard: Heard) -> None:
    heard.to_a_reading()
    heard.press(*"36**5", "enter")
    assert heard.answers == []
    assert heard.flow.message
    assert heard.flow.text == "36**5"


def test_enter_without_a_reading_answers_nothing(heard: Heard) -> None:
    heard.to_a_reading()
    heard.press("enter")
    assert heard.answers == []
    assert heard.flow.message == say("type_first")


def test_signs_skip_undo_and_ask_again(heard: Heard) -> None:
    asked: list[str] = []
    heard.flow.asked.connect(asked.append)
    heard.press("/")
    assert heard.flow.message == say("no_undo")
    heard.press("*", ".")
    assert heard.answers == [an.Skip()]
    assert asked == ["again"]


def test_marks_that_meet_are_no_amount(heard: Heard) -> None:
    heard.to_a_reading()
    heard.press("-", "0", "enter")
    assert heard.answers == [an.Ribbon(marks="apart", by_mm=0.0, text="0")]


def test_the_ribbon_is_refused_where_nothing_is_measured(heard: Heard) -> None:
    heard.press("+")
    assert heard.flow.message == say("only_tape")
    assert heard.flow.top is None


def test_ending_is_asked_about_first(heard: Heard) -> None:
    heard.press("0")
    menu = heard.flow.top
    place = [choice.words for choice in menu.choices].index(say("else_end")) + 1  # type: ignore[union-attr]
    heard.press(str(place), "0", str(place))
    assert heard.answers == []
    heard.press("1")
    assert heard.answers == [an.Leave()]


def test_a_dial_that_was_turned_is_told_by_row_and_seam(heard: Heard) -> None:
    heard.press("0", "3", "2", "1", *"29", "enter")
    (answer,) = heard.answers
    assert isinstance(answer, an.VolunteeredDial)
    assert answer.dial.startswith("waist.")
    assert answer.number == 29.0


def test_a_number_beyond_the_dial_is_refused(heard: Heard) -> None:
    heard.press("0", "3", "2", "1", *"99", "enter")
    assert heard.answers == []
    assert heard.flow.message


def test_other_keys_do_what_they_were_given(heard: Heard) -> None:
    heard.flow.set_keys(complete_keys({"skip": "=", "undo": "*"}))
    heard.press("=")
    assert heard.answers == [an.Skip()]


def test_in_the_settings_a_key_that_is_used_is_refused_with_a_sentence(qtbot: QtBot) -> None:
    page = SettingsPage(Settings())
    qtbot.addWidget(page)
    told: list[Settings] = []
    page.changed.connect(told.append)
    chooser = page.key_chooser

    def choose(action: str, key: str) -> None:
        box = chooser.box(action)
        box.setCurrentIndex(box.findData(key))
        box.activated.emit(box.currentIndex())

    choose("skip", "/")
    assert chooser.message() == say("key_taken", other="/", action=say("key_undo"))
    assert chooser.box("skip").currentData() == "*"
    assert told == []
    choose("skip", "=")
    assert chooser.message() == ""
    assert complete_keys(told[-1].keypad)["skip"] == "="
    page.show_settings(Settings())
    assert chooser.box("skip").currentData() == "*"


def test_the_keys_on_screen_take_as_many_lines_as_they_need(qtbot: QtBot) -> None:
    view = KeyMapView()
    qtbot.addWidget(view)
    view.show_keys([(cap(key), say(f"key_{action}")) for action, key in DEFAULT_KEYS.items()])
    assert view.heightForWidth(400) > view.heightForWidth(1600)
    assert "+: marks do not meet" in view.accessibleDescription()
