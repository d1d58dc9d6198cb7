# SPDX-License-Identifier: MIT
"""Lengths are read and written exactly: by fractions, Unicode's own tables and a size standard."""

from __future__ import annotations

import sys
import unicodedata
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fitassist.domain.units import (
    LENGTH_CODES,
    MAX_TEXT,
    Unit,
    both_units,
    format_length,
    format_number,
    parse_length,
    parse_number,
    short_number,
    to_mm,
)
from fitassist.errors import BadLength

INCH = Fraction(254, 10)  # mm; 1 in = 2.54 cm exactly (international inch)
FAR_MM = 1e9


def exact(units: str, mm_per: Fraction) -> float:
    """Add up "38 5/8" by fractions alone."""
    return float(sum((Fraction(part) for part in units.split()), Fraction(0)) * mm_per)


TYPED_INCHES = {
    "38 5/8": '38 5/8|38⅝|38 ⅝|38-5/8|38-⅝|38 - 5/8|38–5/8|38 5⁄8|38⁵⁄₈|38*5|38×5|38*5"|38 5/8 in.'
    "|  38\t5/8  |38\u00a05/8|38\u202f5/8\u2009in|\u200e38\u200b 5/8\ufeff|３８　５／８　ｉｎ",
    "38": "38|38 inches|38 INCH|38\"|38”|38″|38''|38′′|38.|+38",
    "38.6": '38.6|38.6"|38.6 in|38,6in|38,6|٣٨٫٦|３８．６',
    "38 1/8": "38⅟8",
    "38 5/7": "38 5/7",
    "5/8": "5/8|⅝|.625|0 5/8",
}


@pytest.mark.parametrize(
    ("text", "inches"),
    [(text, inches) for inches, texts in TYPED_INCHES.items() for text in texts.split("|")],
)
def test_what_people_type_for_inches_is_understood_exactly(text, inches):
    length = parse_length(text, Unit.IN)
    assert length.mm == exact(inches, INCH)
    assert length.unit is Unit.IN
    assert length.text == text


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("98 cm", 980),
        ("98.2cm", 982),
        ("38,6 cm", 386),
        ("98½ cm", 985),
        ("98 ㎝", 980),
        ("98 centimetres", 980),
        ("980 mm", 980),
        ("980㎜", 980),
        ("981.075 mm", 981.075),
        ("0.794 mm", 0.794),
        ("980 Millimeters", 980),
    ],
)
def test_a_unit_that_is_typed_wins_over_the_one_meant_by_default(text, mm):
    for default in Unit:
        assert parse_length(text, default).mm == mm


def test_without_a_unit_the_default_is_meant():
    assert [parse_length("98", unit).mm for unit in (Unit.CM, Unit.MM)] == [980, 98]
    assert parse_length("98", "cm").unit is Unit.CM


# ASTM D5585-11e1, Table 1, sizes 00 to 20, inches (READ).
ASTM_ROWS = {
    "bust": "31 1/8|31 3/4|33|34 1/8|35 1/4|36 1/4|37 1/4|38 3/4|40 3/8|42 1/8|44|46",
    "upper chest": "31 3/4|32 1/4|33 1/4|34 1/8|35|35 7/8|36 3/4|38|39 1/4|40 5/8|42 1/4|43 7/8",
    "curvy waist": "23 7/8|24 5/8|25 3/8|26 1/8|27|28|29|30 3/4|32 1/2|34 1/2|36 3/4|39",
    "straight waist": "25 3/8|26 1/8|26 7/8|27 5/8|28 1/2|29 1/2|30 1/2|32 1/4|34|36|38 1/4|40 1/2",
}


@pytest.mark.parametrize("row", ASTM_ROWS)
def test_a_published_size_table_reads_and_prints_back_character_for_character(row):
    printed = ASTM_ROWS[row].split("|")
    lengths = [parse_length(text, Unit.IN).mm for text in printed]
    assert [format_length(mm, Unit.IN) for mm in lengths] == printed
    assert all(a < b for a, b in pairwise(lengths))


def test_the_two_waists_of_the_table_differ_by_an_inch_and_a_half_at_every_size():
    # COMPUTED from the rows above: exactly 1.5 in at all 12 sizes.
    rows = [ASTM_ROWS[name].split("|") for name in ("curvy waist", "straight waist")]
    for curvy, straight in zip(*rows, strict=True):
        difference = parse_length(straight, Unit.IN).mm - parse_length(curvy, Unit.IN).mm
        assert difference == pytest.approx(38.1, abs=1e-9)


def test_every_fraction_character_of_unicode_has_the_value_unicode_gives_it():
    found = 0
    for character in map(chr, range(sys.maxunicode + 1)):
        if not unicodedata.decomposition(character).startswith("<fraction>"):
            continue
        if character == "⅟":  # only the upper half of a fraction
            continue
        found += 1
        value = Fraction(unicodedata.numeric(character)).limit_denominator(100)
        assert parse_length(f"38{character}", Unit.IN).mm == float((38 + value) * INCH)
    assert found >= 19


def test_the_digits_of_every_script_are_read_as_unicode_says():
    zeros = [c for c in map(chr, range(sys.maxunicode + 1)) if unicodedata.decimal(c, None) == 0]
    assert len(zeros) > 50
    for zero in zeros:
        text = "".join(chr(ord(zero) + digit) for digit in (9, 8))
        assert parse_length(text, Unit.CM).mm == 980


BAD = [
    ("", "length_empty"),
    (" \u00a0\u200b", "length_empty"),
    ("9" * (MAX_TEXT + 1), "length_too_long_text"),
    ("nan", "length_no_number"),
    ("inf", "length_no_number"),
    ("-", "length_no_number"),
    ("\ud800", "length_no_number"),
    ("1e999", "length_letters"),
    ("0x26", "length_letters"),
    ("3o8", "length_letters"),
    ("o38", "length_letters"),
    ("bust 38", "length_letters"),
    ("38²", "length_unknown_unit"),
    ("38 m", "length_unknown_unit"),
    ("38 см", "length_unknown_unit"),
    ("38 in 5 cm", "length_mixed_units"),
    ("38 in cm", "length_mixed_units"),
    ("3'", "length_feet"),
    ("3 ft 2 in", "length_feet"),
    ("38 39", "length_two_numbers"),
    ("38-39", "length_two_numbers"),
    ("38\n39", "length_two_numbers"),
    ("1 041 mm", "length_two_numbers"),
    ("38 in 5 in", "length_two_numbers"),
    ("38.5 1/2", "length_two_numbers"),
    ("38⅝5", "length_two_numbers"),
    ("1,041.5 mm", "length_separators"),
    ("1,041 mm", "length_separators"),
    ("1.041mm", "length_separators"),
    ("5/8/2", "length_not_understood"),
    ("38 (in)", "length_not_understood"),
    ("38_5", "length_not_understood"),
    ("98*5 cm", "length_not_understood"),
    ("①", "length_no_number"),
    ("38①", "length_unknown_unit"),
    ("1/0", "length_zero_denominator"),
    ("38 5/0", "length_zero_denominator"),
    ("38 9/8", "length_improper_fraction"),
    ("38 8/8", "length_improper_fraction"),
    ("385/8", "length_improper_fraction"),
    ("38*8", "length_improper_fraction"),
    ("-38", "length_negative"),
    ("−38", "length_negative"),
    ("-0", "length_negative"),
    ("0", "length_zero"),
    ("0 0/8", "length_zero"),
    ("0.001", "length_too_small"),
    ("400", "length_too_large"),
    ("9" * MAX_TEXT, "length_too_large"),
]


@pytest.mark.parametrize(("text", "code"), BAD)
def test_what_cannot_be_meant_is_refused_by_its_own_code(text, code):
    with pytest.raises(BadLength) as caught:
        parse_length(text, Unit.IN, least_mm=1, field="bust")
    assert caught.value.code == code
    assert caught.value.field == "bust"
    assert len(str(caught.value.values["text"])) <= MAX_TEXT


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("37 in", "length_with_unit"),
        ('37"', "length_with_unit"),
        ("-1", "length_negative"),
        ("1e9", "length_letters"),
        ("nan", "length_no_number"),
        ("37 37", "length_two_numbers"),
        ("44", "length_too_large"),
        ("30", "length_too_small"),
        ("", "length_empty"),
    ],
)
def test_a_dial_number_is_refused_by_its_own_code(text, code):
    with pytest.raises(BadLength) as caught:
        parse_number(text, least=34, most=42, field="bust.front")
    assert (caught.value.code, caught.value.field) == (code, "bust.front")


def test_every_code_is_raised_by_some_text_here():
    assert {code for _, code in BAD} | {"length_with_unit"} == set(LENGTH_CODES)
    assert len(set(LENGTH_CODES)) == len(LENGTH_CODES)


def test_bounds_are_allowed_themselves_and_told_when_missed():
    assert parse_length("30", "cm", least_mm=300, most_mm=300).mm == 300
    with pytest.raises(BadLength) as caught:
        parse_length("29.9", "cm", least_mm=300, most_mm=3000)
    assert (caught.value.values["least_mm"], caught.value.values["most_mm"]) == (300, 3000)


def test_nothing_is_an_answer_only_where_it_is_allowed():
    assert parse_length("0", "in", allow_zero=True, least_mm=5).mm == 0
    with pytest.raises(BadLength):
        parse_length("0", "in")


def test_the_keypad_star_counts_what_it_is_told_to_count():
    assert parse_length("38*5", "in", keypad_denominator=16).mm == exact("38 5/16", INCH)
    assert parse_number("37*4") == 37.5


LIKELY_TEXTS = st.text(alphabet="0123456789 ./,-*\"'incm½⅝٣e+", max_size=14)


@given(st.one_of(st.text(max_size=70), LIKELY_TEXTS), st.sampled_from(Unit))
@example("38 5 / 8", Unit.IN)
@example("1e999", Unit.MM)
def test_any_text_is_a_length_within_bounds_or_refused_with_a_known_code(text, unit):
    outcome: object
    try:
        outcome = parse_length(text, unit)
    except BadLength as error:
        outcome = error
    if isinstance(outcome, BadLength):
        assert outcome.code in LENGTH_CODES
    else:
        assert 0 < outcome.mm <= 3000
        assert outcome.text == text


@given(st.integers(0, 200), st.integers(1, 64), st.data())
def test_a_fraction_of_any_denominator_is_exact(whole, below, data):
    above = data.draw(st.integers(0, below - 1))
    length = parse_length(f"{whole} {above}/{below}", "in", most_mm=FAR_MM, allow_zero=True)
    assert length.mm == float((whole + Fraction(above, below)) * INCH)


@given(st.decimals("0.001", "110", places=3), st.sampled_from(".,"), st.sampled_from(Unit))
def test_a_decimal_number_is_exact_with_either_sign(number, sign, unit):
    text = f"{number:f}".replace(".", sign)
    factor = {"in": INCH, "cm": Fraction(10), "mm": Fraction(1)}[unit]
    if unit is Unit.MM and 1 <= number < 10:  # could be thousands; refused elsewhere
        return
    assert parse_length(text, unit).mm == float(Fraction(number) * factor)


STEPS_MM = [
    ("in", 8, INCH / 8),
    ("in", 16, INCH / 16),
    ("cm", 8, Fraction(1)),
    ("mm", 8, Fraction(1)),
]


@given(st.floats(0, 3000), st.sampled_from(STEPS_MM), st.sampled_from(".,"))
def test_a_written_length_reads_back_within_half_a_step(mm, step, sign):
    unit, denominator, step_mm = step
    text = format_length(mm, unit, denominator, decimal_sign=sign)
    again = parse_length(text, unit, most_mm=FAR_MM, allow_zero=True).mm
    assert abs(Fraction(again) - Fraction(mm)) <= step_mm / 2 + Fraction(1, 10**9)
    assert format_length(again, unit, denominator, decimal_sign=sign) == text


@given(st.floats(0, 3000), st.floats(0, 3000), st.sampled_from(STEPS_MM))
def test_a_longer_length_is_never_written_shorter(first, second, step):
    unit, denominator, _ = step
    low, high = (
        parse_length(format_length(mm, unit, denominator), unit, most_mm=FAR_MM, allow_zero=True).mm
        for mm in sorted((first, second))
    )
    assert low <= high


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (981.075, "in", "38 5/8"),
        (965.2, "in", "38"),
        (15.875, "in", "5/8"),
        (12.7, "in", "1/2"),
        (0.0, "in", "0"),
        (-0.0, "cm", "0.0"),
        (982.0, "cm", "98.2"),
        (980.0, "cm", "98.0"),
        (981.5, "cm", "98.2"),
        (999.96, "cm", "100.0"),
        (981.5, "mm", "982"),
        (982.5, "mm", "983"),
        (1015.9, "in", "40"),
        (-9.525, "in", "3/8"),
        (-0.2, "mm", "0"),
    ],
)
def test_a_length_is_written_as_a_tape_shows_it_and_without_a_sign(mm, unit, text):
    assert format_length(mm, unit) == text


def test_a_length_without_end_is_not_written_at_all():
    with pytest.raises(ValueError, match="NaN"):
        format_length(float("nan"), "in")
    with pytest.raises(OverflowError):
        format_number(float("inf"))


@pytest.mark.parametrize(
    ("number", "unit", "text"),
    [
        (37.5, "in", "37 1/2"),
        (37.0, "in", "37"),
        (0.125, "in", "1/8"),
        (37.1, "in", "37.1"),
        (92.5, "cm", "92.5"),
        (92.0, "cm", "92"),
        (92.25, "cm", "92.25"),
        (-1.5, "in", "-1 1/2"),
        (-0.0, "in", "0"),
        (-0.00001, "cm", "0"),
        (-1e-9, "in", "0"),
        (36.99999999, "in", "37"),
    ],
)
def test_a_dial_number_is_written_as_forms_of_its_unit_print_it(number, unit, text):
    assert format_number(number, unit) == text


def test_a_decimal_comma_is_written_where_it_is_asked_for():
    assert format_number(92.5, "cm", decimal_sign=",") == "92,5"
    assert both_units(981.075, "in", decimal_sign=",") == "38 5/8 in · 98,1 cm"


@given(st.integers(-3200, 3200))
def test_a_dial_number_on_a_sixty_fourth_reads_back_exactly(count):
    number = count / 64
    assert parse_number(format_number(number, "in"), least=-50) == number


@given(st.integers(-99_999, 99_999), st.sampled_from(Unit))
def test_a_dial_number_of_three_decimals_reads_back_exactly(thousandths, unit):
    number = thousandths / 1000
    text = format_number(number, unit, decimal_sign=",")
    assert parse_number(text, least=-100) == number
    assert not text.startswith("-0") or number < 0


def test_both_units_begin_with_the_one_given():
    assert both_units(981.075, Unit.IN) == "38 5/8 in · 98.1 cm"
    assert both_units(981.075, Unit.CM) == "98.1 cm · 38 5/8 in"
    assert both_units(981.075, "mm") == "981 mm · 38 5/8 in"


@given(st.integers(-3_000_000, 3_000_000), st.sampled_from(Unit))
def test_a_number_of_few_decimals_survives_the_way_to_mm_and_back(thousandths, unit):
    number = thousandths / 1000
    factor = {"in": INCH, "cm": Fraction(10), "mm": Fraction(1)}[unit]
    mm = to_mm(number, unit)
    assert mm == float(Fraction(thousandths, 1000) * factor)
    assert short_number(mm, unit) == number


def test_a_length_that_no_short_number_says_is_not_given_one():
    assert short_number(100 / 3, "in") is None
    assert short_number(100 / 3, "cm") is None
