# SPDX-License-Identifier: MIT
"""Names as people write them: any script, any emoji, nothing that bends the text around them."""

from __future__ import annotations

import unicodedata

from fitassist.errors import FitError

LONGEST_NAME = 120

# Embeddings, overrides and isolates of the Unicode bidirectional algorithm: they reorder whatever
# follows the name. The plain marks (U+200E, U+200F, U+061C) touch nothing else and are kept.
_BIDI = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")

# Letters and symbols that draw nothing: Hangul fillers and the empty braille cell.
_BLANK = frozenset("\u115f\u1160\u3164\uffa0\u2800")

# Invisible at the edges of a pasted name: zero width space, word joiner, byte order mark.
_EDGES = "\u200b\u2060\ufeff"


def clean_name(text: str, field: str = "name") -> str:
    """Return the name without blanks at its ends, refusing what cannot be a name.

    Parameters
    ----------
    text
        As typed or pasted. Markup is not looked for: names are shown as plain text only.
    field
        The input it belongs to.

    Raises
    ------
    FitError
        ``name_empty`` if nothing can be seen in it, ``name_too_long`` (values: longest, length)
        above 120 characters, ``name_control`` for control characters, line and paragraph
        separators, direction overrides and half characters.
    """
    name = _trimmed(text)
    if any(_bends_text(char) for char in name):
        raise FitError("name_control", field)
    if not any(_visible(char) for char in name):
        raise FitError("name_empty", field)
    if len(name) > LONGEST_NAME:
        raise FitError("name_too_long", field, longest=LONGEST_NAME, length=len(name))
    return name


def _trimmed(text: str) -> str:
    before = None
    while text != before:
        before, text = text, text.strip().strip(_EDGES)
    return text


def _bends_text(char: str) -> bool:
    if char in _BIDI or unicodedata.category(char) in {"Cc", "Cs", "Zl", "Zp"}:
        return True
    return 0xFDD0 <= ord(char) <= 0xFDEF or ord(char) & 0xFFFE == 0xFFFE  # noncharacters


def _visible(char: str) -> bool:
    category = unicodedata.category(char)  # Cn: an emoji younger than this Python
    return char not in _BLANK and (category[0] in "LNPS" or category in {"Co", "Cn"})
