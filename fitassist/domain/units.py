# SPDX-License-Identifier: MIT
"""Lengths as people type and read them: millimetres inside, inches with fractions or cm outside.

Everything is worked out in whole fractions (an inch is 25.4 mm exactly) and becomes a float once.
"""

from __future__ import annotations

import re
import unicodedata
from enum import StrEnum
from fractions import Fraction
from typing import Literal

from fitassist.domain.model import Model
from fitassist.errors import BadLength


class Unit(StrEnum):
    """A unit of length."""

    IN = "in"
    CM = "cm"
    MM = "mm"


AnyUnit = Unit | Literal["in", "cm", "mm"]

# International inch: 25.4 mm exactly, since the agreement of 1959 (NIST Special Publication 811,
# appendix B.8, prints "2.54 cm exactly"; from memory).
MM_PER: dict[str, Fraction] = {
    Unit.IN: Fraction(127, 5),
    Unit.CM: Fraction(10),
    Unit.MM: Fraction(1),
}

MAX_TEXT = 60  # characters; no length needs more, and a pasted page must not be searched for one

LENGTH_CODES = (
    "length_empty",
    "length_too_long_text",
    "length_no_number",
    "length_letters",
    "length_unknown_unit",
    "length_mixed_units",
    "length_with_unit",
    "length_feet",
    "length_two_numbers",
    "length_separators",
    "length_not_understood",
    "length_zero_denominator",
    "length_improper_fraction",
    "length_negative",
    "length_zero",
    "length_too_small",
    "length_too_large",
)

_WORDS = {
    Unit.IN: ("in", "ins", "inch", "inches", '"', "zoll", "pulg", "pulgada", "pulgadas", "po",
              "pouce", "pouces"),
    Unit.CM: ("cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters", "zentimeter",
              "centímetro", "centímetros", "centimètre", "centimètres"),
    Unit.MM: ("mm", "mms", "millimetre", "millimetres", "millimeter", "millimeters", "milímetro",
              "milímetros", "millimètre", "millimètres"),
}  # fmt: skip
_UNIT_OF = {word: unit for unit, words in _WORDS.items() for word in words}
_FEET = ("'", "ft", "foot", "feet")

_SIGNS = {
    **dict.fromkeys("“”„‟″ʺ〃", '"'),
    **dict.fromkeys("‘’′ʹ", "'"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("×∗✕", "*"),
    **dict.fromkeys("−–—‐‑‒", "-"),
    "٫": ".",
}
_RAISED = re.compile("([⁰¹²³⁴⁵⁶⁷⁸⁹]+)[/⁄∕]([₀₁₂₃₄₅₆₇₈₉]+|[0-9]+)")
_FRACTION = re.compile(r"(?:([0-9]+)(?:\s+|\s*-\s*))?([0-9]+)\s*/\s*([0-9]+)")
_DECIMAL = re.compile(r"[0-9]+[.,]?|[0-9]*[.,][0-9]+")
_KEYPAD = re.compile(r"([0-9]+)\s*\*\s*([0-9]+)")
_FIRST_LETTER = re.compile(r"[^\W\d_]|[\"']")
_WORD = re.compile(r"[^\W\d_]+|[\"']+")


_written = {"decimal": "."}  # how numbers are written here


def use_decimal_sign(sign: str) -> None:
    """Write decimals with this sign from now on, a point or a comma; both can always be read."""
    _written["decimal"] = "," if sign == "," else "."


def decimal_sign_in_use() -> str:
    """Return the sign that decimals are written with."""
    return _written["decimal"]


class Length(Model):
    """A length that was understood: its millimetres, the text as typed, and the unit meant."""

    mm: float
    text: str
    unit: Unit


def parse_length(
    text: str,
    default: AnyUnit,
    *,
    least_mm: float = 0.0,
    most_mm: float = 3000.0,
    allow_zero: bool = False,
    keypad_denominator: int = 8,
    field: str = "",
) -> Length:
    """Understand a typed length, or say by a code why not.

    Parameters
    ----------
    text
        What was typed: ``38 5/8``, ``38⅝``, ``38-5/8``, ``38.6"``, ``38,6 cm``, ``980 mm``; on a
        numeric keypad ``38*5`` (inches only) for 38 and five eighths.
    default
        The unit meant where none is typed.
    least_mm, most_mm
        Bounds in mm, both allowed; a zero that is allowed need not reach the least.
    allow_zero
        Whether nothing is an answer.
    keypad_denominator
        What the number after a star counts.
    field
        The input this belongs to, handed on with an error.

    Returns
    -------
    Length
        In mm, the float nearest to the exact value.

    Raises
    ------
    BadLength
        With a code of ``LENGTH_CODES``.
    """
    number, found = _read(text, field, keypad_denominator)
    unit = found or Unit(default)
    head = _plain(text).removeprefix("+").strip()
    if unit is not Unit.IN and "*" in head:
        raise BadLength("length_not_understood", field, text=text)
    if unit is Unit.MM and re.match(r"[1-9][.,][0-9]{3}(?![0-9])", head):
        # 1,041 mm is more than a metre or about a pin's thickness, and nothing tells which.
        raise BadLength("length_separators", field, text=text)
    exact = number * MM_PER[unit]
    if exact == 0:
        if not allow_zero:
            raise BadLength("length_zero", field, text=text)
    elif exact < Fraction(least_mm):
        raise BadLength("length_too_small", field, text=text, least_mm=least_mm, most_mm=most_mm)
    elif exact > Fraction(most_mm):
        raise BadLength("length_too_large", field, text=text, least_mm=least_mm, most_mm=most_mm)
    return Length(mm=float(exact), text=text, unit=unit)


def parse_number(
    text: str,
    *,
    least: float = 0.0,
    most: float = 10_000.0,
    keypad_denominator: int = 8,
    field: str = "",
) -> float:
    """Understand a number as printed beside a dial: fractions and decimals, but no unit.

    A number below zero is understood only where `least` is below zero. `least` and `most` are in
    printed units. Raises `BadLength` with a code of ``LENGTH_CODES``.
    """
    below_zero = least < 0 and _plain(text[:MAX_TEXT]).startswith("-")
    number, unit = _read(text, field, keypad_denominator, below_zero=below_zero)
    if unit is not None:
        raise BadLength("length_with_unit", field, text=text)
    if number < Fraction(least):
        raise BadLength("length_too_small", field, text=text, least=least, most=most)
    if number > Fraction(most):
        raise BadLength("length_too_large", field, text=text, least=least, most=most)
    return float(number)


def to_mm(number: float, unit: AnyUnit) -> float:
    """Return the mm of a number of units, exact for the number as it is written in decimals."""
    return float(Fraction(repr(number)) * MM_PER[unit])


def short_number(mm: float, unit: AnyUnit) -> float | None:
    """Return the number of units if six decimals say it exactly, so `to_mm` undoes it, else None.

    Raises `ValueError` or `OverflowError` if `mm` is not finite.
    """
    number = float(round(Fraction(mm) / MM_PER[unit], 6))
    return number if to_mm(number, unit) == mm else None


def format_length(
    mm: float, unit: AnyUnit, denominator: int = 8, *, decimal_sign: str | None = None
) -> str:
    """Write the size of a length without its unit or sign; what a minus means is said in words.

    Inches become a reduced fraction of `denominator` (``38 5/8``), cm have one decimal (``98.2``),
    mm none. Halves are rounded up. Raises `ValueError` or `OverflowError` if `mm` is not finite.
    """
    exact = abs(Fraction(mm)) / MM_PER[unit]
    if unit == Unit.IN:
        return _with_fraction(_nearest(exact * denominator), denominator)
    if unit == Unit.CM:
        whole, tenth = divmod(_nearest(exact * 10), 10)
        return f"{whole}{decimal_sign or decimal_sign_in_use()}{tenth}"
    return str(_nearest(exact))


def format_number(
    number: float, unit: AnyUnit = Unit.IN, *, decimal_sign: str | None = None
) -> str:
    """Write a dial number as a form of that unit prints it: ``37 1/2`` for inches, ``92.5`` for cm.

    An inch number that is no fraction a tape has (down to 1/64) is written in decimals, not rounded
    to one; decimals go down to thousandths. Raises as `format_length` does.
    """
    size = abs(Fraction(number))
    sign = "-" if number < 0 else ""
    count = _nearest(size * 64)
    if unit == Unit.IN and abs(size - Fraction(count, 64)) < Fraction(1, 1_000_000):
        return (sign if count else "") + _with_fraction(count, 64)
    whole, rest = divmod(_nearest(size * 1000), 1000)
    decimals = f"{rest:03d}".rstrip("0")
    mark = decimal_sign or decimal_sign_in_use()
    text = f"{whole}{mark}{decimals}" if decimals else str(whole)
    return (sign if whole or rest else "") + text


def both_units(mm: float, first: AnyUnit, *, decimal_sign: str | None = None) -> str:
    """Write a length in the unit given and in the other one: ``38 5/8 in · 98.1 cm``."""
    second = Unit.CM if first == Unit.IN else Unit.IN
    return " · ".join(
        f"{format_length(mm, unit, decimal_sign=decimal_sign)} {Unit(unit).value}"
        for unit in (first, second)
    )


def _nearest(value: Fraction) -> int:
    """Round half up; `value` is not negative."""
    return int(value + Fraction(1, 2))


def _with_fraction(count: int, denominator: int) -> str:
    whole, rest = divmod(count, denominator)
    if not rest:
        return str(whole)
    part = str(Fraction(rest, denominator))
    return f"{whole} {part}" if whole else part


def _plain_character(character: str) -> str:
    if character.isdecimal():  # full width, Arabic and other digits, one by one
        return str(unicodedata.decimal(character))
    if character in _SIGNS:
        return _SIGNS[character]
    if character.isspace():
        return " "
    if unicodedata.category(character) == "Cf":  # invisible marks that come along when pasting
        return ""
    kind = unicodedata.decomposition(character).partition(" ")[0]
    if kind == "<fraction>":
        # NFKC alone would turn 38⅝ into 385/8.
        return f" {unicodedata.normalize('NFKC', character).replace('⁄', '/')} "
    if kind in {"<wide>", "<narrow>", "<square>", "<font>"}:
        return unicodedata.normalize("NFKC", character)
    return character  # raised and circled digits stay what they are: 38² is not 382


def _plain(text: str) -> str:
    def level(match: re.Match[str]) -> str:
        upper, lower = ("".join(str(unicodedata.digit(c)) for c in part) for part in match.groups())
        return f" {upper}/{lower} "

    characters = map(_plain_character, _RAISED.sub(level, text))
    return " ".join("".join(characters).casefold().replace("''", '"').split())


def _read(
    text: str, field: str, keypad_denominator: int, *, below_zero: bool = False
) -> tuple[Fraction, Unit | None]:
    """Split a text into its number and the unit typed with it, if any."""
    if len(text) > MAX_TEXT:
        raise BadLength("length_too_long_text", field, text=text[:MAX_TEXT], most=MAX_TEXT)
    plain = _plain(text)
    code = ""
    if not plain:
        code = "length_empty"
    elif not re.search("[0-9]", plain):
        code = "length_no_number"
    letter = _FIRST_LETTER.search(plain)
    head, tail = (plain[: letter.start()], plain[letter.start() :]) if letter else (plain, "")
    if not code and not re.search("[0-9]", head):
        code = "length_letters"
    if not code and tail:
        code = _tail_code(tail)
    head = head.strip().removeprefix("+").strip()
    if not code and head.startswith("-") and not below_zero:
        code = "length_negative"
    if code:
        raise BadLength(code, field, text=text)
    size = _number(head.removeprefix("-").strip(), text, field, keypad_denominator)
    unit = _UNIT_OF[_unit_word(tail)] if tail else None
    return (-size if head.startswith("-") else size), unit


def _unit_word(tail: str) -> str:
    return tail.strip().removesuffix(".").strip()


def _tail_code(tail: str) -> str:
    """Return why what follows the number is not a unit, or an empty text."""
    if _unit_word(tail) in _UNIT_OF:
        return ""
    words = _WORD.findall(tail)
    units = {_UNIT_OF.get(word) for word in words}
    if None not in units and len(units) > 1:
        return "length_mixed_units"
    if any(word in _FEET for word in words):
        return "length_feet"
    if None in units or not units:
        return "length_letters" if re.search("[0-9]", tail) else "length_unknown_unit"
    return "length_two_numbers" if re.search("[0-9]", tail) else "length_not_understood"


def _number(head: str, text: str, field: str, keypad_denominator: int) -> Fraction:
    """Read a number without sign or unit; `text` is what was typed, for the error."""
    if _DECIMAL.fullmatch(head):
        return Fraction(head.replace(",", ".").removesuffix("."))
    if match := _FRACTION.fullmatch(head):
        whole, above, below = (int(part or 0) for part in match.groups())
    elif match := _KEYPAD.fullmatch(head):
        whole, above, below = int(match[1]), int(match[2]), keypad_denominator
    else:
        raise BadLength(_misread_code(head), field, text=text)
    if below == 0:
        raise BadLength("length_zero_denominator", field, text=text)
    if above >= below:  # 385/8 is a forgotten space, 38 9/8 a slip of the finger
        raise BadLength("length_improper_fraction", field, text=text)
    return whole + Fraction(above, below)


def _misread_code(head: str) -> str:
    if re.search(r"[.,][0-9]*[.,]", head):
        return "length_separators"
    if re.fullmatch(r"[0-9.,/*\s-]+", head) and re.search(r"[0-9]\s*[\s-]\s*[.,]?[0-9]", head):
        return "length_two_numbers"
    return "length_not_understood"
