# SPDX-License-Identifier: MIT
"""Sentences as a voice should read them: fractions and units in words, no signs.

"38 5/8 in" becomes "thirty-eight and five eighths inches".
"""

from __future__ import annotations

import re
from typing import Final

from fitassist.wording.language import N_, _, language_code

_ONES: Final = (
    N_("zero"), N_("one"), N_("two"), N_("three"), N_("four"), N_("five"), N_("six"), N_("seven"),
    N_("eight"), N_("nine"), N_("ten"), N_("eleven"), N_("twelve"), N_("thirteen"),
    N_("fourteen"), N_("fifteen"), N_("sixteen"), N_("seventeen"), N_("eighteen"), N_("nineteen"),
)  # fmt: skip
_TENS: Final = (
    "", "", N_("twenty"), N_("thirty"), N_("forty"), N_("fifty"), N_("sixty"), N_("seventy"),
    N_("eighty"), N_("ninety"),
)  # fmt: skip
# What the parts of a whole are called, one of them and several.
_PARTS: Final = {
    2: (N_("half"), N_("halves")),
    4: (N_("quarter"), N_("quarters")),
    8: (N_("eighth"), N_("eighths")),
    16: (N_("sixteenth"), N_("sixteenths")),
    32: (N_("thirty-second"), N_("thirty-seconds")),
    64: (N_("sixty-fourth"), N_("sixty-fourths")),
}
_UNITS: Final = {
    "in": (N_("inch"), N_("inches")),
    "cm": (N_("centimetre"), N_("centimetres")),
    "mm": (N_("millimetre"), N_("millimetres")),
}
_LENGTH = re.compile(
    r"(?<![\w./])(?:(?P<whole>\d+)[ \u00a0](?=\d+/\d))?"
    r"(?P<number>\d+/\d+|\d+[.,]\d+|\d+)(?:[ \u00a0](?P<unit>in|cm|mm)\b)?(?![\w/])"
)
_SIGNS: Final = (
    ("→", N_(" to ")),
    ("●", ""), ("◐", ""), ("○", ""), ("◇", ""), ("·", ","),
)  # fmt: skip


def number_words(number: int) -> str:
    """Return a whole number in words up to 999, larger ones in figures."""
    if not 0 <= number < 1000:
        return str(number)
    if number < 20:
        return _(_ONES[number])
    if number < 100:
        tens, ones = divmod(number, 10)
        return _(_TENS[tens]) + (f"-{_(_ONES[ones])}" if ones else "")
    hundreds, rest = divmod(number, 100)
    text = _("{n} hundred").format(n=_(_ONES[hundreds]))
    return (
        _("{hundreds} and {rest}").format(hundreds=text, rest=number_words(rest)) if rest else text
    )


def spoken(text: str) -> str:
    """Return a text as it is read aloud."""
    for sign, words in _SIGNS:
        text = text.replace(sign, _(words) if words else words)
    return " ".join(_LENGTH.sub(_said, text).split())


def _said(match: re.Match[str]) -> str:
    whole, number, unit = match["whole"], match["number"], match["unit"]
    if language_code() != "en":
        # Every tongue puts numbers together in its own way, and its voice knows how: figures stay.
        figures = number if whole is None else f"{whole} {number}"
        return figures if unit is None else f"{figures} {_(_UNITS[unit][number != '1'])}"
    words, is_one = _number_said(whole, number)
    if unit is None:
        return words
    if whole is None and "/" in number and unit == "in":
        return _("half an inch") if number == "1/2" else _("{part} of an inch").format(part=words)
    one, many = _UNITS[unit]
    return f"{words} {_(one) if is_one else _(many)}"


def _number_said(whole: str | None, number: str) -> tuple[str, bool]:
    """Return a number in words, and whether its unit is said as of one (one inch, half an inch)."""
    if "/" in number:
        above, below = (int(part) for part in number.split("/"))
        part = _PARTS.get(below)
        if part is None:
            return number if whole is None else f"{whole} {number}", False
        share = _(part[0]) if above == 1 else _(part[1])
        count = _("a") if above == 1 and below == 2 else number_words(above)
        if whole is not None:
            return _("{whole} and {count} {share}").format(
                whole=number_words(int(whole)), count=count, share=share
            ), False
        return f"{count} {share}", True
    for sign in ".,":
        if sign in number:
            before, after = number.split(sign)
            digits = " ".join(_(_ONES[int(digit)]) for digit in after)
            return _("{whole} point {digits}").format(
                whole=number_words(int(before)), digits=digits
            ), False
    return number_words(int(number)), number == "1"


def said_back(text: str) -> str:
    """Return a typed entry as it is repeated: ``Taken: thirty-eight and five eighths inches``."""
    return _("Taken: {what}.").format(what=spoken(text))
