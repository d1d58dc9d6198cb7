# SPDX-License-Identifier: MIT
"""Every code the fitting can say has words of its own: found by walking the source."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import fitassist
from fitassist.domain.form import Form
from fitassist.domain.steps import Ask, Check, Reason
from fitassist.session.guide import CHECKS_FIRST, CHECKS_LAST
from fitassist.wording.instructions import detail, title
from fitassist.wording.reasons import coming, reason, reason_codes

SOURCE = Path(fitassist.__file__).parent
FORM = Form(name="form", lines=(), rows=(), dials=())


def _texts(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _texts(node.body)
        yield from _texts(node.orelse)


def codes_of(kind: str) -> set[str]:
    """The codes that stand in calls of a class, or in a variable called code beside them."""
    found: set[str] = set()
    for path in (SOURCE / "session").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == kind:
                for keyword in node.keywords:
                    if keyword.arg == "code":
                        found |= set(_texts(keyword.value))
            elif kind == "Reason" and isinstance(node, ast.Assign):
                names = {getattr(target, "id", "") for target in node.targets}
                found |= set(_texts(node.value)) if "code" in names else set()
    return found - {""}


def test_every_reason_of_the_fitting_has_a_sentence() -> None:
    codes = codes_of("Reason")
    assert {"short", "over", "moved", "never_read", "undo_set"} <= codes
    assert codes - reason_codes() == set()


def test_what_a_form_can_never_do_has_a_sentence_for_each_place() -> None:
    for place in ("girth", "shoulder_length", "back_neck_to_waist"):
        assert f"too_big_{place}" in reason_codes()


@pytest.mark.parametrize("code", sorted(codes_of("Ask")))
def test_every_question_of_the_fitting_is_asked_in_words(code: str) -> None:
    values = {"line": "hip", "mm": 900.0, "row": "hip", "left": 37.0, "right": 38.0}
    ask = Ask(id=1, code=code, choices=("keep",), values=values)
    assert title(ask, FORM, "in") != title(Ask(id=1, code="other", choices=("keep",)), FORM, "in")
    assert "choose" not in title(ask, FORM, "in")


@pytest.mark.parametrize("code", [*CHECKS_FIRST, *CHECKS_LAST])
def test_every_plain_step_of_the_fitting_is_said_in_words(code: str) -> None:
    check = Check(id=1, code=code)
    assert detail(check, FORM, "in")
    assert title(check, FORM, "in").lower() != code.replace("_", " ")


def test_what_comes_next_is_said_with_its_reason() -> None:
    short = Reason(code="short", values={"line": "hip", "mm": 19.05})  # 3/4 in of 25.4 mm
    assert coming("set", "hip", short, "in") == "Set the hip: because the hip is 3/4 in short"
    assert coming("measure", "hip", Reason(), "in") == "Measure the hip"
    assert reason(Reason(code="begun"), "in")
