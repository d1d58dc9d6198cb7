# SPDX-License-Identifier: MIT
"""All help there is, in groups, and what of it holds the words somebody looks for."""

from __future__ import annotations

import unicodedata
from typing import Final

from fitassist.wording.help_form import GLOSSARY, PARTS
from fitassist.wording.help_pages import PAGES
from fitassist.wording.help_steps import STEPS
from fitassist.wording.help_topic import Topic
from fitassist.wording.language import N_, _, capital

WORDS: Final = tuple(
    Topic(f"word_{number}", word, (meaning,)) for number, (word, meaning) in enumerate(GLOSSARY)
)
GROUPS: Final[tuple[tuple[str, tuple[Topic, ...]], ...]] = (
    (N_("Pages and keys"), PAGES),
    (N_("Steps of a fitting"), STEPS),
    (N_("Parts of a form"), PARTS),
    (N_("Words"), WORDS),
)


def all_topics() -> tuple[Topic, ...]:
    """Return every page of help, words of the glossary last."""
    return tuple(topic for _name, topics in GROUPS for topic in topics)


def topic(key: str) -> Topic:
    """Return a page of help.

    Raises
    ------
    KeyError
        There is none of that key.
    """
    found = next((one for one in all_topics() if one.key == key), None)
    if found is None:
        raise KeyError(key)
    return found


def topic_of_place(place: str) -> Topic:
    """Return the help of a page of the window; the help about help where there is none."""
    return next((one for one in PAGES if one.place == place), topic("help"))


def find(text: str) -> list[tuple[str, tuple[Topic, ...]]]:
    """Return the groups with what holds all words of a text, titles before texts.

    Capitals and accents make no difference; without a word everything is found.
    """
    words = _plain(text).split()
    found = []
    for name, topics in GROUPS:
        titled = [one for one in topics if all(word in _plain(one.title) for word in words)]
        told = [
            one
            for one in topics
            if one not in titled
            and all(word in _plain(f"{one.title} {one.text}") for word in words)
        ]
        if titled or told:
            found.append((_(name), (*titled, *told)))
    return found


def heading(one: Topic) -> str:
    """Return what stands above a page of help: its title, its first letter large."""
    return capital(one.title)


def _plain(text: str) -> str:
    parted = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in parted if not unicodedata.combining(c))
