# SPDX-License-Identifier: MIT
"""Every sentence a page asks for exists, none lies about unused, and none speaks of the body."""

from __future__ import annotations

import ast
import re
import string
from pathlib import Path
from typing import get_args

import pytest

import fitassist
from fitassist.domain.plausibility import Code, Question
from fitassist.session.events import HowTaken
from fitassist.wording import (
    body_words,
    describing_words,
    history_words,
    import_words,
    offer_words,
    pages,
    people_words,
)

SOURCES = sorted(Path(fitassist.__file__).parent.rglob("*.py"))
KEY = re.compile(r"^[a-z]+\.[a-z0-9_.]+$")


def texts_in_code():
    """Yield each text in the code and, of texts put together, the parts before the gaps."""
    for path in SOURCES:
        if path.name == "pages.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield node.value, False
            if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                yield str(node.values[0].value), True


def asked_for():
    """Return the keys that calls of ``say`` name outright."""
    found = set()
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id == "say"
                and node.args
                and isinstance(node.args[0], ast.Constant)
                and "." in node.args[0].value
            ):
                found.add(node.args[0].value)
    return found


def test_every_sentence_that_is_asked_for_exists():
    keys = asked_for()
    assert len(keys) > 50
    modules = (people_words, import_words, history_words, offer_words, describing_words)
    tables = (module.keys() for module in modules)
    assert keys <= {*pages.page_keys(), *(key for table in tables for key in table)}


def test_no_sentence_lies_about_unused():
    whole = {text for text, is_part in texts_in_code() if not is_part}
    starts = tuple({text for text, is_part in texts_in_code() if is_part and "." in text})
    # "form." + which: keys put together with a plus have their start among the texts as well.
    starts += tuple(text for text in whole if re.fullmatch(r"[a-z]+\.", text))
    unused = [key for key in pages.page_keys() if key not in whole and not key.startswith(starts)]
    assert unused == []


def test_a_users_own_words_are_made_plain():
    said = pages.say("people.erase_ask", name="A{0}\n\u202eb\x00" + "x" * 200)
    assert "\n" not in said
    assert "\x00" not in said
    assert "{0}" in said
    assert len(said) < 300


def test_an_unknown_key_is_a_mistake_and_not_an_empty_label():
    with pytest.raises(KeyError):
        pages.say("no.such_key")


@pytest.mark.parametrize("key", pages.page_keys())
def test_every_sentence_is_plain_and_its_gaps_can_be_filled(key):
    gaps = {name for _, name, _, _ in string.Formatter().parse(pages.say(key)) if name}
    assert KEY.match(key)
    filled = pages.say(key, **dict.fromkeys(gaps, "x")) if gaps else pages.say(key)
    assert "{" not in filled
    assert filled == filled.strip()
    assert "<" not in filled


def test_every_question_about_readings_has_words_that_can_be_filled():
    keys = ("bust", "bust_left_half", "bust_right_half")
    values = dict.fromkeys(keys, 965.2) | {
        name: 508.0 for name in ("least_mm", "most_mm", "instead_mm", "together_mm")
    }
    labels = {"bust": "Bust"}
    for code in get_args(Code):
        said = body_words.body_question(Question(code=code, keys=keys, values=values), labels, "in")
        assert "{" not in said
        assert said.endswith("?")
        # 965.2 mm are 38 in and 508 mm are 20 in (25.4 mm to the inch, exactly).
        assert "38 in" in said or "20 in" in said


def test_a_question_says_which_reading_to_look_at_first_where_one_is_likelier_wrong():
    keys = ("hip", "hip_left_half", "hip_right_half")
    question = Question(
        code="halves_sum", keys=keys, values=dict.fromkeys((*keys, "together_mm"), 500.0)
    )
    said = [
        body_words.body_question(
            question.model_copy(update={"likelier": key}), {"hip_left_half": "Hip, left half"}, "cm"
        )
        for key in ("", *keys[:2])
    ]
    assert said[1].startswith(said[0])
    assert "whole round first" in said[1]
    assert "Hip, left half" in said[2].removeprefix(said[0])


def test_no_question_calls_a_reading_or_a_body_anything():
    blunt = ("wrong", "error", "unusual", "abnormal", "too ", "large", "small", "big", "fat")
    values = dict.fromkeys(("a", "b", "least_mm", "most_mm", "instead_mm", "together_mm"), 500.0)
    for code in get_args(Code):
        question = Question(code=code, keys=("a", "b"), values=values)
        said = body_words.body_question(question, {"a": "Bust", "b": "Hip"}, "cm").lower()
        assert not [word for word in blunt if word in said], said


def test_every_way_of_taking_a_reading_has_words():
    assert {key for key, _ in body_words.hows()} == set(get_args(HowTaken))


def test_an_average_says_how_many_what_and_how_sure():
    assert body_words.average_text(3, 977.9, 3.175, "in") == "3 readings, 38 1/2 in ± 1/8 in"
    assert body_words.average_text(2, 980.0, 4.0, "cm") == "2 readings, 98.0 cm ± 4 mm"


def test_a_reading_shows_what_was_typed_only_where_it_differs():
    assert body_words.reading_text(977.9, "38 1/2", "helped", "in") == "38 1/2 in"
    assert body_words.reading_text(977.9, "38 1/2", "alone", "cm") == "97.8 cm (38 1/2), alone"
