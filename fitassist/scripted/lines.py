# SPDX-License-Identifier: MIT
"""One JSON object a line, in and out: strict in what is taken, plain in what is given."""

from __future__ import annotations

import json
import unicodedata
from typing import Any, BinaryIO

from fitassist.errors import BadFile
from fitassist.scripted.refusals import Refused
from fitassist.storage.strict_json import parse_json

LONGEST_LINE = 64 * 1024  # bytes, without the line's end
_LONGEST_TEXT = 1000  # characters in one text


def read_line(source: BinaryIO) -> bytes | None:
    """Return the next line without its end, or None once the input has ended.

    Raises
    ------
    Refused
        ``line_too_long``; the rest of that line has then been read and dropped.
    """
    line = source.readline(LONGEST_LINE + 2)
    if not line:
        return None
    content = line.removesuffix(b"\n").removesuffix(b"\r")
    if len(content) <= LONGEST_LINE:
        return content
    while line and not line.endswith(b"\n"):
        line = source.readline(LONGEST_LINE)
    raise Refused("line_too_long", longest=LONGEST_LINE)


def read_object(line: bytes) -> dict[str, Any]:
    """Return the JSON object a line holds.

    Raises
    ------
    Refused
        ``line_not_text`` for bytes that are not UTF-8 text, ``line_not_json`` for what is no JSON,
        nested too deep or has a name twice, ``line_not_object``, ``answer_bad_value`` for text
        nobody can mean.
    """
    if b"\x00" in line:
        raise Refused("line_not_text")
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        raise Refused("line_not_text") from None
    try:
        found = parse_json(line)
    except BadFile:
        raise Refused("line_not_json") from None
    if not isinstance(found, dict):
        raise Refused("line_not_object")
    _check_texts(found, "")
    return found


def write_line(sink: BinaryIO, message: dict[str, Any]) -> None:
    """Write one message and flush it."""
    text = json.dumps(message, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    sink.write(text.encode("ascii") + b"\n")
    sink.flush()


def _check_texts(value: object, field: str) -> None:
    """Refuse texts that are endless or hold characters nobody can see."""
    if isinstance(value, dict):
        for name, inner in value.items():
            _check_texts(name, field)
            _check_texts(inner, field or name)
    elif isinstance(value, list):
        for inner in value:
            _check_texts(inner, field)
    elif isinstance(value, str) and (
        len(value) > _LONGEST_TEXT or any(unicodedata.category(c) == "Cc" for c in value)
    ):
        raise Refused("answer_bad_value", field[:40])
