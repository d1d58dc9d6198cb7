# SPDX-License-Identifier: MIT
"""Steps as they are said at the form: in its own numbers and clicks, and never as a direction."""

from __future__ import annotations

import re

import pytest

from fitassist.domain.form import Dial, DialMeaning, Form, FormLine, Row
from fitassist.domain.lines import Seam, What
from fitassist.domain.steps import (
    Ask,
    Check,
    Measure,
    Note,
    Reason,
    SetDials,
    Turn,
)
from fitassist.wording.instructions import detail, title
from fitassist.wording.language import use_language
from fitassist.wording.places import dial_name, line_name, place_name, row_name, seam_name
from fitassist.wording.reasons import miss, note, reason, reason_codes, ribbon


def a_form(click: float | None = 0.25, **changes: object) -> Form:
    readable = bool(changes.pop("readable", True))
    dials = [
        Dial(
            name=f"{row}.{seam}",
            least=33,
            greatest=41,
            click=click,
            number=37,
            readable=readable,
        )
        for row in ("bust", "waist", "hip")
        for seam in Seam
    ]
    rows = (
        Row(name="bust", line="bust", half="upper"),
        Row(name="waist", line="waist", half="upper"),
        Row(name="hip", line="hip", half="lower"),
    )
    lines = tuple(FormLine(name=name) for name in ("bust", "waist", "hip"))
    parts = {"name": "form", "lines": lines, "rows": rows, "dials": tuple(dials)} | changes
    return Form.model_validate(parts)


def turn(dial: str, start: float, number: float, click: float = 0.25) -> Turn:
    action = "open" if number > start else "close"
    return Turn(
        dial=dial,
        action=action,
        start=start,
        number=number,
        clicks=round(abs(number - start) / click),
    )


def a_set(*turns: Turn, **changes: object) -> SetDials:
    return SetDials(id=1, row="bust", turns=turns, **changes)


def bust(seams: str, start: float, number: float) -> tuple[Turn, ...]:
    return tuple(turn(f"bust.{seam}", start, number) for seam in seams.split())


@pytest.mark.parametrize(
    ("seams", "said"),
    [
        ("left right", "Bust, both sides: from 37 to 37 1/2"),
        ("front left back right", "Bust, all four: from 37 to 37 1/2"),
        ("front back", "Bust, front and back: from 37 to 37 1/2"),
        ("front", "Bust, front: from 37 to 37 1/2"),
        ("left", "Bust, form's left: from 37 to 37 1/2"),
        ("front left right", "Bust, front and both sides: from 37 to 37 1/2"),
        ("front left", "Bust, front and form's left: from 37 to 37 1/2"),
        ("front back right", "Bust, front, back and form's right: from 37 to 37 1/2"),
    ],
)
def test_dials_that_do_the_same_are_said_together(seams: str, said: str) -> None:
    assert title(a_set(*bust(seams, 37, 37.5)), a_form(), "in") == said


def test_dials_that_differ_are_said_one_by_one() -> None:
    step = a_set(*bust("left right", 37, 37.5), *bust("front", 37, 38), *bust("back", 38, 37))
    assert title(step, a_form(), "in") == (
        "Bust, both sides: from 37 to 37 1/2; front: from 37 to 38; back: from 38 to 37"
    )
    said = detail(step, a_form(), "in")
    assert "Both sides: open, two clicks each." in said
    assert "Front: open, four clicks." in said
    assert "Back: close, four clicks." in said


def test_a_number_between_two_printed_ones_is_found_by_counting_clicks() -> None:
    opened = detail(a_set(*bust("left right", 37, 37.5)), a_form(), "in")
    assert opened.startswith("Open, two clicks each. 37 1/2 is two clicks past 37.")
    closed = detail(a_set(*bust("front back", 38, 37.75)), a_form(), "in")
    assert closed.startswith("Close, one click each. 37 3/4 is one click back from 38.")


def test_a_whole_number_needs_no_counting() -> None:
    assert "past" not in detail(a_set(*bust("front", 37, 38)), a_form(), "in")


def test_a_smooth_dial_has_no_clicks() -> None:
    step = a_set(*bust("front back", 37, 37.5))
    said = detail(step, a_form(click=None), "in")
    assert said.startswith("Open by 1/2 each. 37 1/2 is half-way from 37 to 38.")
    assert "click" not in said


def test_worn_numbers_are_never_spoken_of() -> None:
    form, step = a_form(readable=False), a_set(*bust("left right", 37, 37.5))
    assert title(step, form, "in") == "Bust, both sides: open two clicks"
    assert "37" not in title(step, form, "in") + detail(step, form, "in")
    assert "count from where the dial stands" in detail(step, form, "in")


def test_plain_turns_are_called_turns() -> None:
    form = a_form(dial_meaning=DialMeaning.PLAIN_TURNS, units="cm")
    step = a_set(*bust("front", 34, 34.5))
    assert title(step, form, "cm") == "Bust, front: from 34 to 34 1/2 turns"


def test_a_form_in_cm_shows_decimals_whatever_the_reader_measures_in() -> None:
    step = a_set(*bust("front", 37, 37.5))
    assert title(step, a_form(units="cm"), "in") == "Bust, front: from 37 to 37.5"


def test_whose_left_is_said_where_the_sides_are_not_alike() -> None:
    def said(seams: str) -> str:
        return detail(a_set(*bust(seams, 37, 38)), a_form(), "in")

    assert "The form's left is your right as you face it." in said("left")
    assert "The form's right is your left as you face it." in said("right")
    assert "From behind, the form's left is your left." in said("back left")
    assert "your" not in said("left right")


def test_cautions_fit_the_action() -> None:
    opening = detail(a_set(*bust("front", 37, 38)), a_form(lock=True), "in")
    closing = detail(a_set(*bust("front", 38, 37)), a_form(), "in")
    assert "Stop at the first resistance; never force a dial." in opening
    assert "Release the catch" in opening
    assert "fingers" not in opening
    assert "Press the panels together by hand" in closing
    assert "fingers out of the seams" in closing
    assert "catch" not in closing


def test_part_turns_and_turning_back_are_said() -> None:
    step = a_set(*bust("front", 37, 38), part=(1, 2))
    assert "Part 1 of 2: a little at a time." in detail(step, a_form(), "in")
    back = a_set(*bust("front", 38, 37), undoes=4)
    assert title(back, a_form(), "in") == "Turn back: Bust, front: from 38 to 37"


def test_no_step_speaks_of_clockwise() -> None:
    for seams in ("front", "left", "back right", "front left back right"):
        for numbers in ((37, 38.25), (38, 36.5)):
            step = a_set(*bust(seams, *numbers))
            said = title(step, a_form(), "in") + detail(step, a_form(), "in")
            assert not re.search("clockwise|turn right|turn left", said, re.IGNORECASE)


def test_a_measure_says_where_how_and_what_to_expect() -> None:
    # 28 in = 711.2 mm, 1/8 in = 3.175 mm: an inch is 25.4 mm exactly.
    step = Measure(id=2, line="hip", expect_mm=711.2, spread_mm=3.175 / 2, target_mm=723.9)
    assert title(step, a_form(), "in") == "Measure the hip"
    said = detail(step, a_form(), "in")
    assert "Keep the tape level on the marks" in said
    assert "It should read between 27 7/8 in and 28 1/8 in." in said
    assert "It is to become 28 1/2 in." in said


@pytest.mark.parametrize(
    ("what", "said"),
    [
        (What.FRONT, "Measure the bust, front, side to side"),
        (What.BACK, "Measure the bust, back, side to side"),
        (What.LEFT_HALF, "Measure the bust, form's left half"),
        (What.BREADTH, "Measure the bust, breadth"),
        (What.DEPTH, "Measure the bust, depth"),
    ],
)
def test_what_is_measured_is_named(what: What, said: str) -> None:
    step = Measure(id=2, line="bust", what=what, expect_mm=None, spread_mm=None, target_mm=None)
    assert title(step, a_form(), "in") == said
    if what in {What.BREADTH, What.DEPTH}:
        assert "two flat boards" in detail(step, a_form(), "in")


def test_a_gap_round_the_form_is_bridged_where_there_is_one() -> None:
    step = Measure(id=2, line="waist", expect_mm=None, spread_mm=None, target_mm=None)
    assert "strip of card" in detail(step, a_form(), "in")
    whole = a_form(rows=tuple(Row(name=n, line=n) for n in ("bust", "waist", "hip")))
    assert "card" not in detail(step, whole, "in")


def test_an_unlikely_reading_is_asked_about_with_both_figures() -> None:
    ask = Ask(
        id=3,
        code="reading_unlikely",
        choices=("keep", "again", "discard"),
        values={"line": "bust", "mm": 73 * 25.4, "expect_mm": 37 * 25.4},
    )
    assert title(ask, a_form(), "in") == "Bust at 73 in, where 37 in was expected: right?"
    assert "Choose: Keep it, Measure again, Leave it out." in detail(ask, a_form(), "in")


def test_a_question_this_version_does_not_know_can_still_be_answered() -> None:
    ask = Ask(id=3, code="from_the_future", choices=("try_it",))
    assert title(ask, a_form(), "in") == "Please choose"
    assert detail(ask, a_form(), "in") == "Choose: Try it."


@pytest.mark.parametrize(
    "code",
    ["undergarment", "marks", "torso_length", "shoulder_level", "waist_level", "torso_again"],
)
def test_every_plain_step_has_a_title_and_a_detail(code: str) -> None:
    check = Check(id=4, code=code)
    assert "_" not in title(check, a_form(), "in")
    assert detail(check, a_form(), "in").endswith(".")
    assert title(check, a_form(), "in") != title(Check(id=4, code="other"), a_form(), "in")


def test_height_is_only_freed_with_the_torso_held() -> None:
    check = Check(id=4, code="torso_length", values={"mm": 406.4})  # 16 in
    assert title(check, a_form(), "in") == "Set the torso length, back neck to waist, to 16 in"
    assert "before you free the height lock" in detail(check, a_form(post="offset"), "in")
    assert "can tip" in detail(check, a_form(post="offset"), "in")


def test_left_and_right_are_the_forms_own_and_said_to_be() -> None:
    assert seam_name(Seam.LEFT) == "form's left"
    assert seam_name(Seam.LEFT, behind=False) == "form's left (your right as you face it)"
    assert seam_name(Seam.LEFT, behind=True) == "form's left (your left, from behind)"
    assert seam_name(Seam.RIGHT, behind=True) == "form's right (your right, from behind)"
    assert seam_name(Seam.FRONT, behind=True) == "front"
    assert dial_name("bust.left") == "bust, form's left"


def test_two_rows_at_one_line_are_told_apart() -> None:
    rows = (
        Row(name="waist_upper", line="waist", half="upper"),
        Row(name="waist_lower", line="waist", half="lower"),
    )
    form = Form(name="f", lines=(FormLine(name="waist"),), rows=rows, dials=())
    assert row_name("waist_lower", form) == "waist, lower half"
    assert row_name("bust", a_form()) == "bust"


def test_a_line_of_the_users_own_keeps_its_name_on_one_line() -> None:
    assert line_name("upper_arm") == "upper arm"
    assert line_name("a\nb<b>" + "x" * 90).startswith("a b<b>x")
    assert len(line_name("x" * 90)) == 40
    assert place_name("back_neck_to_waist", What.LENGTH) == "back neck to waist"


@pytest.mark.parametrize("code", sorted(reason_codes()))
@pytest.mark.parametrize("values", [{}, {"line": "hip", "row": "hip", "other": "waist", "mm": 19}])
def test_every_reason_is_one_short_sentence(code: str, values: dict[str, object]) -> None:
    text = reason(Reason(code=code, values=values), "in")
    assert text
    assert len(text) < 170
    assert "{" not in text
    assert not text.endswith(".")


def test_reasons_say_the_figures_in_the_readers_unit() -> None:
    short = Reason(code="short", values={"line": "bust", "mm": 19.05})  # 3/4 in
    assert reason(short, "in") == "Because the bust is 3/4 in short"
    assert reason(short, "cm") == "Because the bust is 19 mm short"
    pulls = Reason(code="pulls", values={"row": "hip", "other": "waist", "mm": 6.35})
    assert reason(pulls, "in") == "Hip first: turning it moves the waist by about 1/4 in"
    still = Reason(code="not_needed", values={"line": "hip", "mm": 0.2})
    assert reason(still, "in") == (
        "No need to measure the hip again: it cannot have moved more than 1/16 in"
    )


def test_a_reason_without_a_code_says_nothing() -> None:
    assert reason(Reason(), "in") == ""


def test_notes_say_what_can_be_done() -> None:
    too_big = Note(code="too_big", line="hip", amount_mm=12.7)
    assert "1/2 in larger than the body at the hip" in note(too_big, "in")
    assert "another form" in note(too_big, "in")
    assert "shoulder" in note(Note(code="too_big", line="shoulder_length", amount_mm=9), "in")
    limit = Note(code="dial_limit", line="waist", amount_mm=25.4)
    assert "1 in short at the waist: that much is left for padding." in note(limit, "in")
    caution = Note(code="caution", reason=Reason(code="fingers"))
    assert note(caution, "in") == "Keep fingers out of the seams when you close."
    for code in ("symmetry", "step", "learned", "reordered"):
        assert note(Note(code=code), "in").endswith(".")


def test_the_ribbon_is_said_in_words_never_as_a_sign() -> None:
    assert ribbon("apart", 9.525, "in") == "marks do not meet by 3/8 in: form too large"
    assert ribbon("overlap", 9.525, "in") == "marks overlap by 3/8 in: form too small"
    assert ribbon("apart", 0, "in") == "marks meet: the form is at its target"
    assert miss(9.525, "in") == "3/8 in short"
    assert miss(-9.525, "in") == "3/8 in over"


def test_another_tongue_is_used_as_soon_as_it_is_set() -> None:
    import gettext

    class Shouting(gettext.NullTranslations):
        def gettext(self, message: str) -> str:
            return message.upper() if message == "bust" else message

    use_language(Shouting())
    try:
        assert line_name("bust") == "BUST"
    finally:
        use_language(None)
    assert line_name("bust") == "bust"


def test_closing_ends_with_opening_so_that_slack_lies_one_way():
    # Common practice, no source: finish each setting while opening.
    form = a_form()
    closing = SetDials(
        id=1,
        row="bust",
        turns=(Turn(dial="bust.left", action="close", start=36.0, number=35.0, clicks=4),),
    )
    opening = SetDials(
        id=1,
        row="bust",
        turns=(Turn(dial="bust.left", action="open", start=35.0, number=36.0, clicks=4),),
    )
    assert "then open to it" in detail(closing, form, "in")
    assert "then open to it" not in detail(opening, form, "in")
