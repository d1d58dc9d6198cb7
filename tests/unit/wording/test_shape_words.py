# SPDX-License-Identifier: MIT
"""A body's shape in words: shares, sides and heights, kindly, and no sentence lies about unused."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import pytest

import fitassist
from fitassist.wording import shape_words as words

SOURCES = Path(fitassist.__file__).parent


@pytest.mark.parametrize(
    ("left", "said"),
    [(0.5, "half"), (0.66, "a third"), (0.9, "a tenth"), (0.26, "three quarters")],
)
def test_what_is_left_of_a_band_is_said_as_what_it_narrows_by(left: float, said: str) -> None:
    assert words.share_text(left) == said


def test_every_choice_of_sides_has_words_of_its_own() -> None:
    sides = ("front", "left", "back", "right")
    every = [some for n in range(1, 5) for some in combinations(sides, n)]
    said = {words.sides_text(some) for some in every}
    assert len(said) == len(every)


@pytest.mark.parametrize(
    ("line", "height", "between", "said"),
    [
        ("bust", 165.1, (), "Bust, 6 1/2 in above the waist"),  # 25.4 mm to the inch
        ("hip", -203.2, (), "Hip, 8 in below the waist"),
        ("waist", 0.0, (), "Waist"),
        ("", 50.8, ("under_bust", "waist"), "Between under-bust and waist, 2 in above the waist"),
    ],
)
def test_a_height_is_said_from_the_waist(
    line: str, height: float, between: tuple[str, ...], said: str
) -> None:
    assert words.place_text(line, height, "in", between).replace("\u00a0", " ") == said


def test_a_difference_no_tape_could_show_is_none() -> None:
    assert words.difference_text(0.4, "in") == words.say("form_same")
    assert "less" in words.difference_text(12.7, "in")
    assert "more" in words.difference_text(-12.7, "in", short=True)


def test_no_sentence_lies_about_unused() -> None:
    texts = [path.read_text(encoding="utf-8") for path in SOURCES.rglob("*.py")]
    code = "\n".join(texts)
    composed = {"after_woman", "after_man", "after_any", "form_less", "form_more"}
    for key in set(words.keys()) - composed:
        # Once where it is written down, once at least where it is said.
        assert len(re.findall(f'"{key}"', code)) >= 2, key


def test_nothing_that_is_said_of_a_body_is_blunt() -> None:
    blunt = ("fat", "flaw", "problem", "normal", "abnormal", "wrong", "client", "dummy")
    texts = [text for _picture, text in words.home_steps()]
    texts += [words.note_text(code, "hip", {}, "in") for code in ("heights_unclear",)]
    for text in texts:
        assert not set(re.findall(r"[a-z]+", text.lower())) & set(blunt)
