# SPDX-License-Identifier: MIT
"""Three ways to set a form: one is proposed, any can be chosen, and a choice is not forgotten."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Form
from fitassist.domain.shaping import SETTINGS
from fitassist.gui.shaping_choice import ShapingChoice
from fitassist.wording.shaping_words import say, setting_why
from tests.builders import a_form
from tests.gui.fakes import unnamed

INCH_MM = 25.4  # exactly, by the international agreement of 1959


def a_body(bust_mm: float, chest_mm: float) -> Body:
    lines = {"bust": bust_mm, "upper_chest": chest_mm, "waist": 720.0, "hip": 960.0}
    return Body(name="b", targets=tuple(Target(line=k, value_mm=v) for k, v in lines.items()))


def a_form_with_chest() -> Form:
    return a_form(closed={"upper_chest": 820.0})


@pytest.fixture
def choice(qtbot: QtBot) -> ShapingChoice:
    made = ShapingChoice()
    qtbot.addWidget(made)
    made.show_form(a_form_with_chest())
    made.show()
    qtbot.waitExposed(made)
    return made


def press(qtbot: QtBot, choice: ShapingChoice, setting: str) -> None:
    qtbot.mouseClick(choice.way(setting), Qt.MouseButton.LeftButton)  # type: ignore[arg-type]


def test_all_three_stand_there_with_a_line_each(choice):
    choice.show_body("one", a_body(900.0, 860.0))
    assert [choice.why(one) for one in SETTINGS] == [setting_why(one) for one in SETTINGS]
    assert choice.value() == "nearest_girth"
    assert unnamed(choice) == []


def test_a_bust_far_larger_than_the_upper_chest_proposes_the_frame_and_says_why(choice):
    choice.show_body("one", a_body(34.0 * INCH_MM + 5.0 * INCH_MM, 34.0 * INCH_MM))
    assert choice.value() == "frame_first"
    assert "5 in more than the upper chest" in choice.why("frame_first")
    choice.set_unit("cm")
    assert "12.7 cm more" in choice.why("frame_first")


def test_what_was_chosen_for_a_body_stays_and_for_another_is_proposed_anew(qtbot, choice):
    large, other = a_body(1000.0, 850.0), a_body(1010.0, 860.0)
    choice.show_body("one", large)
    press(qtbot, choice, "room_for_padding")
    assert choice.value() == "room_for_padding"
    choice.show_body("two", other)
    assert choice.value() == "frame_first"
    choice.show_body("one", large)
    assert choice.value() == "room_for_padding"


def test_the_frame_can_only_be_chosen_where_it_can_be_measured(choice):
    choice.show_body("one", a_body(1000.0, 850.0))
    choice.show_form(a_form())  # no upper chest, no under-bust
    assert choice.value() == "nearest_girth"
    assert not choice.way("frame_first").isEnabled()
    assert choice.why("frame_first") == say("frame_missing")
    choice.show_form(a_form_with_chest())
    assert choice.value() == "frame_first"
