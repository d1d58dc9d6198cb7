# SPDX-License-Identifier: MIT
"""Every word a sheet asks for exists, none lies about unused, all can be filled in."""

from __future__ import annotations

import ast
import string
from pathlib import Path

import pytest

import fitassist
from fitassist.wording.sheet_words import bare_length, note_text, short_length, word_keys, words

SOURCES = [
    path
    for path in sorted(Path(fitassist.__file__).parent.rglob("*.py"))
    if "wording" not in path.parts
]


def texts() -> tuple[set[str], set[str]]:
    """Whole texts in the code, and the fixed starts of those put together."""
    whole: set[str] = set()
    starts: set[str] = set()
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                whole.add(node.value)
            if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                starts.add(str(node.values[0].value))
    return whole, starts


def asked_for() -> set[str]:
    """Keys that calls of ``words`` name outright."""
    found = set()
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            is_call = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
            if is_call and node.func.id == "words" and node.args:
                first = node.args[0]
                ways = [first.body, first.orelse] if isinstance(first, ast.IfExp) else [first]
                found |= {w.value for w in ways if isinstance(w, ast.Constant)}
    return found


def test_every_key_that_is_named_has_words() -> None:
    keys = asked_for()
    assert len(keys) > 100
    assert keys - set(word_keys()) == set()


def test_no_words_lie_about_unused() -> None:
    whole, starts = texts()
    parts = tuple(start for start in starts if start.endswith("_"))
    ends = ("_plain", "_undated")
    unused = [
        key
        for key in word_keys()
        if key not in whole
        and not key.startswith(parts)
        and not any(key.removesuffix(end) in whole for end in ends)
    ]
    assert unused == []


@pytest.mark.parametrize("key", word_keys())
def test_words_are_kind_and_say_what_they_are_filled_with(key) -> None:
    names = {name for _t, name, _s, _c in string.Formatter().parse(words(key)) if name}
    said = words(key, **dict.fromkeys(names, "x")) if names else words(key)
    assert "{" not in said
    for word in ("client", "dummy", "fat", "problem area", "flaw"):
        assert word not in said.lower()


def test_lengths_to_lay_out_are_said_to_a_sixteenth_or_a_millimetre() -> None:
    assert short_length(100.0, "in") == "3 15/16 in"  # 100 / 25.4 = 3.937; 15/16 = 0.9375
    assert bare_length(100.0, "cm") == "10.0"
    assert bare_length(25.4, "in") == "1"


def test_notes_keep_their_lines_and_lose_what_is_hidden() -> None:
    assert note_text("one\n\n two\x00three\u202e\r\nfour") == "one\ntwo three\nfour"
    assert len(note_text("x" * 100_000)) <= 2000
