# SPDX-License-Identifier: MIT
"""Forms on offer in words: what is not said of them, what a cell was, and whom nobody serves."""

from __future__ import annotations

import pytest

from fitassist.choosing.candidate import Candidate, Range
from fitassist.choosing.covering import fewest
from fitassist.choosing.judging import Needs, judged, ranked
from fitassist.choosing.table import Complaint
from fitassist.domain.body import Body, Target
from fitassist.domain.lines import What
from fitassist.wording import taught_words
from fitassist.wording.offer_words import (
    body_name,
    brought_in_text,
    complaint_text,
    cover_text,
    keys,
    range_text,
    remarks,
    rows_of,
    say,
)


def a_body(name: str, bust: float, kind: str = "woman") -> Body:
    tall = Target(line="floor_to_shoulder", what=What.LENGTH, value_mm=1400.0)
    return Body(name=name, kind=kind, targets=(Target(line="bust", value_mm=bust), tall))


def an_offer(least: float, most: float, **more: object) -> Candidate:
    girths = {"bust": Range(least_mm=least, greatest_mm=most)}
    return Candidate.model_validate({"name": "One", "girths_mm": girths, **more})


def test_what_is_not_said_of_a_form_is_told_and_for_whom_it_is_made():
    one = judged(an_offer(800, 900, made_for="man"), [a_body("Ada", 850)], Needs(pins=True))
    said = " ".join(remarks(one))
    assert "whether it takes pins" in said
    assert "another kind" in said
    assert remarks(judged(an_offer(800, 900), [a_body("Ada", 850)])) == ()


def test_height_is_told_with_the_shoes_in_it():
    stand = {"floor_to_shoulder": Range(least_mm=1300, greatest_mm=1420)}
    one = judged(an_offer(800, 900, lengths_mm=stand), [a_body("Ada", 850)], Needs(shoes_mm=50))
    height = rows_of(one.bodies[0], "cm")[-1]
    # 1,400 mm and 50 mm of shoes, on a stand up to 1,420 mm: 30 mm short.
    assert height[0] == "Height with shoes"
    assert height[2] == "145.0 cm"
    assert "3.0 cm short" in height[3]


def test_whom_no_form_serves_is_named():
    bodies = [a_body("Ada", 850), a_body("<b>Bo</b>", 700)]
    found = ranked([an_offer(800, 900)], bodies)
    said = cover_text(fewest(found), ["One"], ["Ada", "<b>Bo</b>"])
    assert said == ("One: Ada", "None of these forms serves <b>Bo</b>.")


@pytest.mark.parametrize(
    ("code", "word"), [("not_allowed", "none of the words"), ("length_unit", "no length")]
)
def test_a_cell_that_was_left_out_is_told_with_its_place(code, word):
    said = complaint_text(Complaint(4, "Bust\n", "x" * 90, code))
    assert said.startswith("Row 4, Bust:")
    assert word in said
    assert len(said) < 200


def test_ranges_names_and_counts_are_said_plainly():
    assert range_text(None, "cm") == "not said"
    assert range_text(Range(least_mm=800, greatest_mm=800), "cm") == "80.0 cm"
    assert range_text(Range(least_mm=889, greatest_mm=1092.2), "in") == "35 to 43 in"
    assert body_name("Ada", "") == "Ada"
    assert body_name("Ada", "In a corset") == "Ada, In a corset"
    assert brought_in_text(1, ["Colour"]).endswith("Columns left out: Colour.")
    names = ("name", "number", "form", "people", "most", "needs", "n")
    assert all(say(key, **dict.fromkeys(names, "x")) for key in keys())


def test_every_sentence_of_what_a_form_taught_can_be_said():
    assert "lessons" in taught_words.keys()  # noqa: SIM118
    assert taught_words.say("lessons")
