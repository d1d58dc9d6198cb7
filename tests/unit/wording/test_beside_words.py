# SPDX-License-Identifier: MIT
"""What is said beside the form: every word is used, and none of it names a body's measure."""

from __future__ import annotations

import re

import pytest

from fitassist.domain.form import Dial, DialMeaning, Form, FormLine, Row
from fitassist.domain.steps import Ask, Check, Measure, SetDials, Turn
from fitassist.wording import beside_words, private_words

INCH_MM = 25.4  # exactly, by the international agreement of 1959
SEAMS = ("front", "left", "back", "right")


def a_form(meaning: DialMeaning = DialMeaning.WHOLE_GIRTH, click: float | None = 0.25) -> Form:
    return Form(
        name="f",
        dial_meaning=meaning,
        lines=(FormLine(name="bust"),),
        rows=(Row(name="bust", line="bust"),),
        dials=tuple(
            Dial(name=f"bust.{seam}", least=35, greatest=41, click=click, number=37)
            for seam in SEAMS
        ),
    )


def a_set(*seams: str, number: float = 37.5) -> SetDials:
    return SetDials(
        id=1,
        row="bust",
        turns=tuple(
            Turn(dial=f"bust.{s}", action="open", start=37, number=number, clicks=2) for s in seams
        ),
    )


def test_a_set_shows_where_to_and_says_from_where() -> None:
    cells = beside_words.beside_cells(a_set("left", "right"), a_form(), "in")
    assert cells == [("open, from 37 to", "37 1/2")]


def test_a_set_in_private_is_said_in_clicks_from_where_the_dial_stands() -> None:
    step, form = a_set("left", "right"), a_form()
    assert private_words.private_cells(step, form, "in", None) == [("open", "2 clicks")]
    said = private_words.private_detail(step, form, "in")
    assert "two clicks each" in said
    assert not re.search(r"\d", said)
    assert "cannot be read" not in said
    assert private_words.private_title(step, form, "in") == "Bust, both sides"


def test_a_smooth_dial_in_private_is_said_by_how_far_it_turns() -> None:
    cells = private_words.private_cells(a_set("left"), a_form(click=None), "in", None)
    assert cells == [("open by", "1/2")]


def test_numbers_that_are_no_girths_stay_in_private() -> None:
    form = a_form(DialMeaning.PLAIN_TURNS)
    assert "37 1/2" in private_words.private_cells(a_set("left"), form, "in", None)[0][1]


def test_a_measure_in_private_says_what_is_left_and_neither_target_nor_expectation() -> None:
    step = Measure(
        id=1, line="bust", expect_mm=38 * INCH_MM, spread_mm=3.0, target_mm=38.375 * INCH_MM
    )
    cells = private_words.private_cells(step, a_form(), "in", 3 * INCH_MM / 8)
    assert cells == [("", "3/8 in to go")]
    assert not re.search(r"\d", private_words.private_detail(step, a_form(), "in"))
    assert private_words.private_cells(step, a_form(), "in", None) == []


@pytest.mark.parametrize(
    ("code", "values", "said"),
    [
        (
            "reading_unlikely",
            {"line": "bust", "mm": 40 * INCH_MM, "expected_mm": 38 * INCH_MM},
            "Bust: 2 in away from what was expected. Is that right?",
        ),
        ("reading_unlikely", {"line": "bust", "mm": 1016.0}, "Bust: is that right?"),
        (
            "symmetry",
            {"row": "bust", "left": 37.0, "right": 38.0},
            "Bust: left and right do not stand alike. Even them out?",
        ),
        (
            "reading_not_possible",
            {"line": "bust", "mm": 1016.0},
            "Bust: no form of this kind can read that. Keep it?",
        ),
    ],
)
def test_questions_in_private_say_differences_only(
    code: str, values: dict[str, object], said: str
) -> None:
    ask = Ask(id=1, code=code, choices=("again", "keep"), values=values)
    assert private_words.private_title(ask, a_form(), "in") == said


def test_a_plain_step_in_private_leaves_its_length_out_and_says_where_it_stands() -> None:
    step = Check(id=1, code="torso_length", values={"mm": 412.75})
    assert not re.search(r"\d", private_words.private_title(step, a_form(), "in"))
    assert "not shown here" in private_words.private_detail(step, a_form(), "in")


def test_half_a_number_tells_nothing_about_the_target() -> None:
    # "3" on the way to "38" is three inches: the rest would be the body's own girth.
    assert private_words.typed_to_go(3 * INCH_MM, 38 * INCH_MM, "in") == ""
    assert private_words.typed_to_go(37.5 * INCH_MM, 38 * INCH_MM, "in") == "1/2 in to go"


@pytest.mark.parametrize("key", beside_words.keys())
def test_every_sentence_is_plain(key: str) -> None:
    gaps = set(re.findall(r"{(\w+)}", beside_words._TEXTS[key]))
    said = beside_words.say(key, **dict.fromkeys(gaps, "x"))
    assert said == said.strip()
    assert "{" not in said
    assert "<" not in said
