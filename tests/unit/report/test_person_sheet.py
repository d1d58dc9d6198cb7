# SPDX-License-Identifier: MIT
"""The person's sheet and the one beside the form: all of it, in two pages, or without numbers."""

from __future__ import annotations

import re

import pytest

from fitassist.domain.lines import Seam, What
from fitassist.errors import FitError
from fitassist.padding.plan import PaddingPlan
from fitassist.report.hanging_sheet import hanging_pages
from fitassist.report.padding_facts import Padding, one_sided, piece_facts
from fitassist.report.paper import A3, A4, LETTER
from fitassist.report.person_sheet import differences, person_pages
from fitassist.wording.padding_words import place_text
from tests.unit.report.told import a_target, some_facts, some_padding, words_on

UNEVEN = {"bust.left": 38.0, "bust.right": 37.5}
LENGTH = re.compile(r"\d (in|cm|mm)\b")


@pytest.mark.parametrize("paper", [A4, LETTER, A3])
def test_two_pages_bring_a_person_back(paper) -> None:
    padding = some_padding()
    assert len(piece_facts(padding)) <= 12
    pages = person_pages(some_facts(), paper, "in", padding=padding)
    assert len(pages) == 2
    said = words_on(pages)
    for text in (
        "Zoë Quill", "2026-03-07", "a form", "soft bra", "Second act: the heavy cloak.",
        "in inches", "as near as the dials go", "1/2 in short", "stands out by 3/8 in",
        "35 3/8 in, read", "27 1/8 in, reckoned", "Felt, 6 mm thick", "slip-on", "front gap",
    ):  # fmt: skip
        assert text in said, text
    for piece in piece_facts(padding):
        assert f"{piece.number}. {place_text(piece.place)}" in said


def test_every_dial_stands_on_the_drawing_and_in_the_table() -> None:
    numbers = {d.name: d.least + 0.25 * (1 + n) for n, d in enumerate(some_facts().form.dials)}
    facts = some_facts(numbers=numbers)
    said = words_on(person_pages(facts, A4, "in"))
    for dial in facts.form.dials:
        whole, quarters = divmod(round(dial.number * 4), 4)
        text = f"{whole} {['', '1/4', '1/2', '3/4'][quarters]}".strip()
        assert said.count(text) >= 2, text


def test_more_than_twelve_pieces_go_on_on_further_pages() -> None:
    one = some_padding().plan
    many = PaddingPlan(
        **{
            **{f: getattr(one, f) for f in one.__dataclass_fields__},
            "pieces": one.pieces * 8,
            "shapes": one.shapes * 8,
        }
    )
    padding = Padding(many, 6.0)
    count = len(piece_facts(padding))
    assert count > 30
    pages = person_pages(some_facts(), A4, padding=padding)
    assert len(pages) > 2
    assert f"{count}. " in words_on(pages)


def test_a_copy_without_body_numbers_tells_no_length_at_all() -> None:
    more = [a_target("neck", 380.0), a_target("across_back", 360.0, What.LENGTH)]
    for make in (person_pages, hanging_pages):
        for unit in ("in", "cm"):
            pages = make(some_facts(more=more), A4, unit, padding=some_padding(), is_blind=True)
            said = words_on(pages).replace("Felt, 6 mm thick as it works.", "")
            assert LENGTH.findall(said) == [], make.__name__
            assert "heavy cloak" not in said  # notes may hold numbers
            assert "34" in said  # dials are told
            assert "soft bra" in said


def test_the_sheet_to_hang_says_the_order_of_things_on_one_page() -> None:
    facts = some_facts()
    form = facts.form.model_copy(update={"lock": True, "opens": "towards the window"})
    pages = hanging_pages(facts.model_copy(update={"form": form}), A4, "cm", padding=some_padding())
    assert len(pages) == 1
    said = words_on(pages)
    order = [
        *("last person's", "never force", "catch", "towards the window", "40.5 cm", "136.0 cm"),
        *("soft bra", "slip-on", "Pull the cover", "Measure once: bust 90.0 cm"),
    ]
    places = [said.find(text) for text in order]
    assert -1 not in places
    assert places == sorted(places)


def test_left_and_right_that_differ_are_told_and_alike_is_said() -> None:
    alike = some_facts()
    assert differences(alike, alike.form, (), "in") == [
        "Left and right are alike, as far as they were measured and set."
    ]
    halves = [
        a_target("hip", 490.0, What.LEFT_HALF),
        a_target("hip", 460.0, What.RIGHT_HALF),
        a_target("bust", 451.0, What.LEFT_HALF),
        a_target("bust", 449.0, What.RIGHT_HALF),
        a_target("shoulder_drop_left", 50.0, What.LENGTH),
        a_target("shoulder_drop_right", 62.0, What.LENGTH),
    ]
    facts = some_facts(numbers=UNEVEN, more=halves)
    said = " ".join(differences(facts, facts.form, (), "cm"))
    assert "Bust: dials at the form's left 38, at its right 37 1/2." in said
    assert "Hip: left half 49.0 cm, right half 46.0 cm." in said
    assert "Bust: left half" not in said  # two readings may differ by 2 mm
    assert "the left drops by 5.0 cm, the right by 6.2 cm" in said


def test_pieces_on_one_side_only_are_told() -> None:
    pieces = piece_facts(some_padding())
    assert one_sided(pieces) == ()
    lone = [p for p in pieces if not p.mirrors and p.place.startswith("left_")][:1]
    if lone:
        assert one_sided(lone) == (lone[0].place,)


def test_where_only_girths_were_known_sheets_all_round_are_told() -> None:
    padding = Padding(None, 3.0, wraps=(("bust", 2), ("hip", 3)))
    said = words_on(person_pages(some_facts(), A4, padding=padding))
    assert "Bust: 2 sheets all the way round." in said
    assert "Hip: 3 sheets all the way round." in said


def test_no_fitting_and_a_form_without_dials_are_said() -> None:
    for make in (person_pages, hanging_pages):
        with pytest.raises(FitError, match="sheet_no_form"):
            make(some_facts(form=None))
    facts = some_facts()
    bare = facts.form.model_copy(update={"dials": (), "rows": ()})
    said = words_on(person_pages(facts.model_copy(update={"form": bare}), A4))
    assert "has no dials" in said
    assert hanging_pages(facts.model_copy(update={"form": bare}), A4)


HOSTILE = [
    "<b>bold</b> & {0} {name} %s %n [*]",
    "\x00\x07line\nbreak\ttab \u202eevil\u202c",
    "x" * 500,
    "../../etc/passwd'; DROP TABLE",
    "",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_printed_as_plain_text_and_nothing_else(name) -> None:
    facts = some_facts(name=name, notes=name * 20)
    for make in (person_pages, hanging_pages):
        for page in make(facts, A4):
            for item in page.items:
                text = getattr(item, "text", "")
                assert text == "" or text.isprintable(), text
                assert "\u202e" not in text
    if "<b>" in name:
        assert name in words_on(person_pages(facts, A4))


def test_the_seams_of_the_table_stand_in_one_order() -> None:
    said = words_on(person_pages(some_facts(), A4))
    heads = [
        said.find(head) for head in ("Centre front", "Form's left", "Centre back", "Form's right")
    ]
    assert [seam.value for seam in Seam] == ["front", "left", "back", "right"]
    assert -1 not in heads
