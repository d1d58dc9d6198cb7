# SPDX-License-Identifier: MIT
"""The errors a user can cause or meet: a code and values, no prose.

The sentence that says what is wrong, what is safe and what to do lives in
``fitassist.wording.sentences``, so that the core never speaks a language.
"""

from __future__ import annotations


class FitError(Exception):
    """Something a user can put right.

    Parameters
    ----------
    code
        Stable name of what went wrong, the key of its sentence.
    field
        The input it belongs to, for placing the sentence; empty if none.
    values
        Facts the sentence needs; lengths in mm.
    """

    def __init__(self, code: str, field: str = "", **values: object) -> None:
        super().__init__(code, field, values)
        self.code = code
        self.field = field
        self.values = values


class BadLength(FitError):
    """A typed length that cannot be understood or accepted."""


class BadFile(FitError):
    """A file that cannot be read as what it should be; it is left untouched."""


class StorageFailed(FitError):
    """Nothing could be written; what was acknowledged before is still safe."""
