# SPDX-License-Identifier: MIT
"""How the numbers of a form are said: as the form prints them, whatever the user's unit is."""

from __future__ import annotations

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.units import Unit, format_number


def number_text(number: float, form: Form) -> str:
    """Return a dial's number as it is read on the form: "37 1/2" in inches, "94.5" in cm."""
    fractions = form.units == "in" or form.dial_meaning == DialMeaning.PLAIN_TURNS
    return format_number(number, Unit.IN if fractions else Unit.CM)


def decimal_text(value: float) -> str:
    """Return a number without needless zeros, to thousandths."""
    return format_number(value, Unit.CM)
