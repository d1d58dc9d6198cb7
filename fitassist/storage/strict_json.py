# SPDX-License-Identifier: MIT
"""JSON as the standard (RFC 8259) has it and no more: no NaN, no key twice, no bottomless nesting.

What is read here can always be written again and means the same to every reader.
"""

from __future__ import annotations

import json
import math
import re
from typing import Any, NoReturn

from fitassist.errors import BadFile

MAX_DEPTH = 64

_STRING_OR_BRACKET = re.compile(rb'"(?:[^"\\]|\\.)*+(?P<end>"?)|[\[\]{}]', re.DOTALL)
_NOT_BRACKETS = bytes(set(range(256)) - set(b"[]{}"))
# A number too large to hold (1.8e308) has an exponent of three digits or, with one of at most 99,
# over 200 digits before its point; only where one of these is found is each number looked at.
_HUGE = re.compile(rb"[eE]\+?0*[1-9]\d\d|\d{200}")
_SURROGATE = re.compile(rb"\\u[dD][89a-fA-F]")


def parse_json(data: bytes) -> Any:
    """Parse UTF-8 JSON.

    Raises
    ------
    BadFile
        ``truncated`` if the end is missing, ``too_deep``, ``bad_json`` for anything else.
    """
    if not _is_shallow(data):
        raise BadFile("too_deep", limit=MAX_DEPTH)
    try:
        value = json.loads(
            data.decode("utf-8-sig"),
            object_pairs_hook=_object,
            parse_constant=_refuse,
            parse_float=_finite if _HUGE.search(data) else None,
        )
        if _SURROGATE.search(data):
            # Half a character escapes the parser but could never be written again.
            json.dumps(value, ensure_ascii=False).encode("utf-8")
    except (ValueError, RecursionError) as error:
        code = "truncated" if _is_open_ended(data) else "bad_json"
        raise BadFile(code, detail=str(error)) from error
    return value


def dump_json(value: Any) -> bytes:
    """Write one value on one line, readable. Half characters become question marks."""
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8", "replace")


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    values = dict(pairs)
    if len(values) != len(pairs):
        raise ValueError("a key stands twice in one object")
    return values


def _refuse(name: str) -> NoReturn:
    raise ValueError(f"{name} is no JSON number")


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError("a number too large to hold")
    return number


def _is_shallow(data: bytes) -> bool:
    # Peeling matched pairs from the inside is far quicker than walking; what is left over has
    # brackets within strings, or is broken, and is walked.
    brackets = data.translate(None, _NOT_BRACKETS)
    for _ in range(MAX_DEPTH):
        if not brackets:
            return True
        brackets = brackets.replace(b"[]", b"").replace(b"{}", b"")
    depth = 0
    for token in _STRING_OR_BRACKET.finditer(data):
        depth += {b"[": 1, b"{": 1, b"]": -1, b"}": -1}.get(token.group(), 0)
        if depth > MAX_DEPTH:
            return False
    return True


def _is_open_ended(data: bytes) -> bool:
    depth = 0
    for token in _STRING_OR_BRACKET.finditer(data):
        if token["end"] == b"":  # a text without its end; None for a bracket
            return True
        depth += {b"[": 1, b"{": 1, b"]": -1, b"}": -1}.get(token.group(), 0)
    return depth > 0 or not data.strip()
