# SPDX-License-Identifier: MIT
"""Every error has a sentence: found by walking the source, not by remembering."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import fitassist
from fitassist.domain.form_file import FIELD_REASONS, FILE_CODES
from fitassist.domain.units import LENGTH_CODES
from fitassist.errors import BadFile, BadLength, FitError, StorageFailed
from fitassist.wording.sentences import sentence, sentence_codes

SOURCE = Path(fitassist.__file__).parent

# Codes promised to front ends, whoever raises them.
PROMISED = {
    "disk_full", "no_permission", "folder_gone", "write_failed", "changed_elsewhere",
    "open_elsewhere", "lock_taken", "bad_json", "truncated", "foreign_file", "newer_version",
    "too_large", "too_deep", "bad_event", "missing_field", "bad_field",
    "wrong_answer", "unknown_dial", "unknown_line", "out_of_range", "unknown_choice",
    "nothing_to_undo", "finished", "number_off_click",
    "name_empty", "name_too_long", "name_control",
}  # fmt: skip


def _trees() -> dict[str, ast.Module]:
    return {
        path.relative_to(SOURCE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in SOURCE.rglob("*.py")
    }


def _error_classes(trees: dict[str, ast.Module]) -> set[str]:
    """Names of FitError and all classes below it."""
    found = {"FitError"}
    classes = [n for tree in trees.values() for n in ast.walk(tree) if isinstance(n, ast.ClassDef)]
    for _round in range(5):
        for node in classes:
            if any(isinstance(base, ast.Name) and base.id in found for base in node.bases):
                found.add(node.name)
    return found


def _constants(node: ast.expr) -> Iterator[str]:
    """The codes an expression can be, as far as they stand in it."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _constants(node.body)
        yield from _constants(node.orelse)


def _codes_in_source() -> dict[str, str]:
    """Every code that stands in a call of an error class, or in a table of codes, and where."""
    trees = _trees()
    classes = _error_classes(trees)
    found: dict[str, str] = {}
    for name, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args:
                if node.func.id in classes:
                    found |= dict.fromkeys(_constants(node.args[0]), f"{name}:{node.lineno}")
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                names = {t.id.lower() for t in targets if isinstance(t, ast.Name)}
                if names & {"codes", "_failure_codes", "code"} and node.value is not None:
                    values = node.value.values if isinstance(node.value, ast.Dict) else [node.value]
                    if name.startswith(("files", "domain", "storage")):
                        for value in values:
                            found |= dict.fromkeys(_constants(value), f"{name}:{node.lineno}")
    return {code: where for code, where in found.items() if code}


def test_the_walk_through_the_source_finds_what_is_known_to_be_there() -> None:
    found = _codes_in_source()
    assert {"name_empty", "disk_full", "not_found", "length_zero", "line_not_json"} <= set(found)
    assert len(found) > 40


def test_every_error_raised_in_the_source_has_a_sentence() -> None:
    missing = {
        code: where for code, where in _codes_in_source().items() if code not in sentence_codes()
    }
    assert missing == {}


def test_every_listed_code_has_a_sentence() -> None:
    assert (PROMISED | set(LENGTH_CODES) | set(FILE_CODES)) - sentence_codes() == set()


@pytest.mark.parametrize("code", sorted(sentence_codes()))
def test_a_sentence_ends_and_leaves_nothing_to_fill(code: str) -> None:
    text = sentence(FitError(code, "waist", text="7x", line="hip", dial="bust.left"), "in")
    assert text.endswith(".")
    assert text[0].isupper() or not text[0].isalpha()
    assert "{" not in text
    assert "  " not in text


@pytest.mark.parametrize("why", FIELD_REASONS + LENGTH_CODES)
def test_a_bad_field_is_named_and_the_reason_said(why: str) -> None:
    text = sentence(BadFile("bad_field", "dials[3].least", why=why), "in")
    assert "Dials[3].least" in text or "dials[3].least" in text
    assert why not in text  # a code is not a word


def test_what_is_safe_is_said_when_nothing_could_be_kept() -> None:
    for code in ("disk_full", "no_permission", "folder_gone", "write_failed"):
        assert "What was entered before is safe." in sentence(StorageFailed(code), "in")


def test_lengths_are_said_in_the_unit_of_the_reader() -> None:
    error = BadLength("length_too_large", text="9000", least_mm=100.0, most_mm=2540.0)
    assert "100 in" in sentence(error, "in")  # 2540 mm; an inch is 25.4 mm exactly
    assert "254.0 cm" in sentence(error, "cm")


def test_an_unknown_code_gets_an_honest_general_sentence() -> None:
    for kind in (FitError, BadLength, BadFile, StorageFailed):
        assert "from_the_future" in sentence(kind("from_the_future"), "cm")


def test_a_users_text_is_cut_and_shown_on_one_line() -> None:
    text = sentence(BadLength("length_letters", text="<b>no\n\x1b[31m" + "x" * 500), "in")
    assert "\n" not in text
    assert "\x1b" not in text
    assert "<b>no" in text
    assert len(text) < 200


values = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(), st.lists(st.text())
)
names = st.sampled_from(
    ["text", "value", "line", "dial", "number", "mm", "least_mm", "why", "choice", "field_name"]
)


@given(
    st.sampled_from([*sorted(sentence_codes()), "nothing_like_it", ""]),
    st.text(),
    st.dictionaries(names, values),
    st.sampled_from(["in", "cm", "mm"]),
)
def test_saying_it_never_fails(code: str, field: str, facts: dict[str, object], unit: str) -> None:
    assert sentence(FitError(code, field, **facts), unit)
