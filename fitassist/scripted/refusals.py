# SPDX-License-Identifier: MIT
"""How errors of the core are named on the wire: many codes inside, a handful outside."""

from __future__ import annotations

from fitassist.errors import BadFile, BadLength, FitError, StorageFailed


class Refused(FitError):
    """A line that is no answer to what is open; nothing has changed."""


_CODES = {
    "line_too_long": "too_long",
    "line_not_text": "bad_json",
    "line_not_json": "bad_json",
    "line_not_object": "bad_json",
    "answer_unknown": "unknown_answer",
    "answer_other_id": "wrong_id",
    "answer_field_missing": "bad_value",
    "answer_field_unknown": "bad_value",
    "answer_bad_value": "bad_value",
    "answer_out_of_range": "out_of_range",
    # the session's own
    "wrong_answer": "unknown_answer",
    "nothing_to_undo": "unknown_answer",
    "finished": "unknown_answer",
    "no_ribbon": "unknown_answer",
    "out_of_range": "out_of_range",
    "number_out_of_range": "out_of_range",
    # files
    "bad_json": "bad_json",
    "truncated": "bad_json",
    "too_deep": "bad_json",
    "not_object": "bad_json",
    "duplicate_key": "bad_json",
    "not_finite": "bad_json",
}

_LENGTHS_OUT_OF_RANGE = frozenset(
    {"length_negative", "length_zero", "length_too_small", "length_too_large"}
)


def wire_code(error: FitError) -> str:
    """Return the code a front end sees for an error of the core."""
    if isinstance(error, StorageFailed):
        return "not_kept"
    if isinstance(error, BadLength) and error.code in _LENGTHS_OUT_OF_RANGE:
        return "out_of_range"
    if isinstance(error, BadFile) and error.code == "too_large":
        return "too_long"
    return _CODES.get(error.code, "bad_value")
