# SPDX-License-Identifier: MIT
"""Every step of padding is said, in either unit, without a gap or a code in it."""

from __future__ import annotations

import re

import pytest

from fitassist.padding.places import PLACES
from fitassist.session.padding_steps import QUESTIONS
from fitassist.wording.padding_page_words import (
    cautions,
    gap_text,
    girth_added,
    say_thickness,
    standing_out_text,
    way_round_text,
)
from fitassist.wording.padding_step_words import ANSWERS, detail_of, pair_text, says_text, title_of

PIECE = {
    "number": 2, "of": 3, "plies": 2, "width_mm": 165.1, "height_mm": 127.0, "kind": "oval",
    "share": 0.1, "z_mm": 175.0, "numbers": (0,),
}  # fmt: skip
CHANGE = {"line": "bust", "off_mm": 9.5, "effect_mm": 6.0}
STEPS = [
    ("search", "", {}),
    ("slip_on", "", {}),
    ("strip", "front", {"length_mm": 464.0, "width_mm": 30.0}),
    ("card", "", {}),
    ("wedge", "left_shoulder", {"lengths_mm": (40.0, 80.0), "width_mm": 110.0}),
    ("piece", "left_cup", PIECE),
    ("stack", "left_cup", {"sizes_mm": ((127.0, 101.6), (165.1, 127.0))}),
    ("wrap", "bust", {"sheets": 2, "left_mm": 7.0}),
    ("measure", "bust", {}),
    ("measure", "bust", {"early": True}),
    ("take_out", "cup", CHANGE),
    ("put_in", "tummy", CHANGE),
    ("thin", "cup", {"look": True}),
    ("dial", "hip", {"seam": "front"}),
    ("dial", "hip", {"seam": ""}),
    ("cover", "", {}),
    ("look", "", {}),
    *(("proof", question, {}) for question in QUESTIONS),
    ("bag", "", {}),
    ("count", "", {}),
]


@pytest.mark.parametrize("unit", ["in", "cm"])
@pytest.mark.parametrize(("kind", "place", "values"), STEPS)
def test_every_step_has_a_title_and_a_detail(kind, place, values, unit):
    said = detail_of(
        kind, place, values, unit, expected_mm=980.0, goal_mm=990.0,
        line_heights=(("waist", 0.0), ("bust", 165.0)), round_mm=900.0,
    )  # fmt: skip
    title = title_of(kind, place, values)
    for text in (title, said):
        assert text
        assert not re.search(r"[{}_]|None", text)
    assert title[0].isupper()


def test_a_piece_is_said_as_one_would_call_it_out():
    assert title_of("piece", "left_cup", PIECE) == "Pin piece 2 over piece 1, left cup"
    said = detail_of("piece", "left_cup", PIECE, "in",
                     line_heights=(("bust", 165.1),), round_mm=914.4)  # fmt: skip
    assert said == (
        "2 sheets, each one under it a little smaller, 6 1/2 × 5 in. Its middle lies 3 5/8 in to "
        "the form's left of centre front, 3/8 in above the bust line. Thin its edge out."
    )


def test_sizes_by_eye_are_said_smallest_first():
    values = {"sizes_mm": ((127.0, 101.6), (165.1, 127.0), (203.2, 152.4))}
    assert title_of("stack", "left_cup", values) == "Left cup: 3 layers"
    assert detail_of("stack", "left_cup", values, "in").startswith("5 × 4, 6 1/2 × 5, 8 × 6 in.")


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "at the front"),
        (0.13, "between front and form's left"),
        (0.5, "at the back"),
        (0.88, "between front and form's right"),
        (0.99, "at the front"),
    ],
)
def test_ways_round_are_named_from_the_form_itself(share, words):
    assert way_round_text(share).replace("seam", "").strip() == words


def test_both_of_a_pair_are_named_and_a_middle_once():
    assert pair_text("cup") == "left cup and right cup"
    assert pair_text("tummy") == "tummy"
    assert all(pair_text(place.name) for place in PLACES)


def test_two_mm_all_round_add_half_an_inch():
    # 2 pi x 2 mm = 12.57 mm; half an inch is 12.7, to the eighth.
    assert girth_added(2.0, "in") == "1/2 in"
    assert say_thickness(4.8, "in") == "4.8 mm (3/16 in)"


def test_every_answer_of_the_proof_has_words():
    assert set(ANSWERS) == set(QUESTIONS)
    assert all(says_text(says) for answers in ANSWERS.values() for says in answers)


def test_standing_out_says_what_can_be_done():
    text = standing_out_text("waist", 12.7, 4.0, 0.0, "in")
    assert text.startswith("At the waist the form is 1/2 in larger than the body.")
    assert "accept" in text


def test_what_is_enough_is_said_as_a_word():
    assert gap_text(1.0, 4.0, "in") == "enough"
    assert gap_text(8.0, 4.0, "cm") == "8 mm, 2 sheets"


def test_cautions_name_the_shell_and_the_pins():
    said = " ".join(cautions())
    for word in ("hot iron", "glue", "solvent", "pins", "loosely"):
        assert word in said
