# SPDX-License-Identifier: MIT
"""Help covers every page, step and word it should, and a search finds what holds the words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import fitassist
from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check, Finished, Measure, SetDials
from fitassist.session.guide import CHECKS_FIRST, CHECKS_LAST
from fitassist.wording.help_form import GLOSSARY, PARTS
from fitassist.wording.help_pages import PAGES
from fitassist.wording.help_search import all_topics, find, topic, topic_of_place
from fitassist.wording.help_steps import STEPS, topic_of
from fitassist.wording.help_words import TOUR

RESOURCES = Path(fitassist.__file__).parent.parent / "resources"
# The words that differ between countries and are to be explained once each.
NEUTRAL = (
    "form", "pole and base", "test garment", "padding and layers", "stretch knit", "neck tube",
    "trousers (pants)", "upper chest", "back neck", "line", "level", "stands out past the body",
    "workroom", "person",
)  # fmt: skip
# Said otherwise here, each for its own reason: see the glossary.
NOT_USED = re.compile(r"\b(client|dress stand|dummy|muslin|toile|dowel)\b", re.IGNORECASE)


def places() -> tuple[str, ...]:
    """The pages of the window, read from its source so that no Qt is needed."""
    source = (Path(fitassist.__file__).parent / "gui" / "main_window.py").read_text("utf-8")
    found = re.search(r"^PLACES = \(([^)]*)\)", source, re.MULTILINE)
    assert found is not None
    return tuple(re.findall(r'"(\w+)"', found[1]))


@pytest.mark.parametrize("place", places())
def test_every_page_of_the_window_has_help_of_its_own(place: str) -> None:
    assert topic_of_place(place).place == place


@pytest.mark.parametrize("word", NEUTRAL)
def test_each_neutral_word_is_explained_once(word: str) -> None:
    assert [known for known, _meaning in GLOSSARY].count(word) == 1


def test_no_key_is_used_twice_and_nothing_is_empty() -> None:
    keys = [one.key for one in (*all_topics(), *TOUR)]
    assert len(set(keys)) == len(keys)
    for one in (*all_topics(), *TOUR):
        assert one.title.strip()
        assert all(paragraph.strip() for paragraph in one.paragraphs)


def test_help_uses_its_own_words() -> None:
    for one in (*all_topics(), *TOUR):
        assert not NOT_USED.search(f"{one.title} {one.text}"), one.key


def test_every_drawing_and_every_part_of_it_that_is_named_exists() -> None:
    for one in (*all_topics(), *TOUR):
        for picture in one.pictures:
            path = RESOURCES / "drawings" / f"{picture.drawing}.svg"
            ids = set(re.findall(r'id="([^"]+)"', path.read_text("utf-8")))
            assert picture.lit <= ids, (one.key, picture)


def test_every_part_of_a_form_has_a_drawing() -> None:
    assert len(PARTS) >= 6
    assert all(one.pictures for one in PARTS)


def test_the_first_run_has_at_most_five_screens() -> None:
    assert 1 <= len(TOUR) <= 5


@pytest.mark.parametrize(
    ("step", "key"),
    [
        (SetDials(id=1, row="bust", turns=()), "how_set"),
        (Measure(id=1, line="bust", expect_mm=None, spread_mm=None, target_mm=None), "how_girth"),
        (Ask(id=1, code="symmetry", choices=("keep",)), "how_ask"),
        (Check(id=1, code="marks"), "how_marks"),
    ],
)
def test_each_kind_of_step_has_its_how(step, key: str) -> None:
    assert topic_of(step).key == key


@pytest.mark.parametrize("what", list(What))
def test_whatever_is_measured_is_explained(what: What) -> None:
    step = Measure(id=1, line="hip", what=what, expect_mm=1, spread_mm=1, target_mm=1)
    assert topic_of(step) in STEPS
    assert topic_of(step).pictures


@pytest.mark.parametrize("code", [*CHECKS_FIRST, *CHECKS_LAST])
def test_every_plain_step_is_explained(code: str) -> None:
    assert topic_of(Check(id=1, code=code)).pictures


def test_the_end_is_explained() -> None:
    end = Finished(
        id=1, verdict="left", joint=0, readings=0, turns=0, walks=0, clicks=0, lines=(), dials={}
    )
    assert topic_of(end).key == "how_ended"


def test_a_search_finds_all_its_words_whatever_their_case_and_titles_come_first() -> None:
    found = [one.key for _group, topics in find("TAPE level") for one in topics]
    assert "how_girth" in found
    assert all(
        "tape" in f"{topic(k).title} {topic(k).text}".lower()
        and "level" in f"{topic(k).title} {topic(k).text}".lower()
        for k in found
    )
    assert find("padding")[0][1][0].key == "padding"


def test_accents_make_no_difference_to_a_search() -> None:
    assert find("fítting") == find("fitting") != []


def test_a_search_for_what_is_nowhere_finds_nothing_and_an_empty_one_everything() -> None:
    assert find("zzzz") == []
    assert sum(len(topics) for _group, topics in find("  ")) == len(all_topics())


def test_a_page_without_help_of_its_own_is_led_to_help_about_help() -> None:
    assert topic_of_place("nowhere").key == "help"
    assert {one.place for one in PAGES if one.place} >= set(places())
