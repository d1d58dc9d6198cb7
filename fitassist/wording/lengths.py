# SPDX-License-Identifier: MIT
"""Speaking of lengths in a sentence, in the unit of the person reading it.

Rounding: a *length* to what a tape shows (1/8 in, 1 mm); an *amount*, which is small and compared
with a tolerance, to 1/16 in below one inch (else 1/8 in) or to 1 mm. Halves go up. A sign is never
written: more and less, open and close are words.
"""

from __future__ import annotations

import re

from fitassist.domain.units import AnyUnit, Unit, format_length
from fitassist.wording.language import _

_NOTHING_MM = 0.05  # noise of the arithmetic; no tape shows it


def say_length(mm: float, unit: AnyUnit, *, decimal_sign: str | None = None) -> str:
    """Say how long something is: ``38 5/8 in``, ``98.1 cm``, ``981 mm``."""
    return f"{format_length(mm, unit, decimal_sign=decimal_sign)} {Unit(unit).value}"


def kept_together(text: str) -> str:
    """Return the text with numbers, fractions and units that no line break parts."""
    return re.sub(r"(?<=\d) (?=\d+/\d|(?:in|cm|mm)\b)", "\u00a0", text)


def say_amount(mm: float, unit: AnyUnit, *, decimal_sign: str | None = None) -> str:
    """Say by how much: ``3/8 in``, ``9 mm``, ``2.4 cm``, ``less than 1/16 in``.

    Whoever reads cm is told an amount below 2 cm in whole mm. Something that is there but rounds to
    nothing is "less than" the smallest amount said, and only nothing (below 0.05 mm) is 0.
    """
    size_mm = abs(mm)
    if unit == Unit.IN:
        number = format_length(size_mm, unit, denominator=16)
        if not re.fullmatch("0|[0-9]+/[0-9]+", number):  # an inch or more
            number = format_length(size_mm, unit)
        return _unless_nothing(size_mm, number, "1/16", Unit.IN)
    whole_mm = format_length(size_mm, Unit.MM)
    if unit == Unit.CM and int(whole_mm) >= 20:
        return say_length(size_mm, unit, decimal_sign=decimal_sign)
    return _unless_nothing(size_mm, whole_mm, "1", Unit.MM)


def _unless_nothing(size_mm: float, number: str, smallest: str, unit: Unit) -> str:
    if number == "0" and size_mm >= _NOTHING_MM:
        return _("less than {amount}").format(amount=f"{smallest} {unit.value}")
    return f"{number} {unit.value}"
