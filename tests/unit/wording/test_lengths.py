# SPDX-License-Identifier: MIT
"""Lengths and amounts in sentences: right to the step that is said, and never with a sign."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fitassist.domain.units import Unit, parse_length
from fitassist.wording.lengths import say_amount, say_length

INCH = Fraction(254, 10)  # mm, exactly (international inch)


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        (981.075, "in", "38 5/8 in"),
        (981.075, "cm", "98.1 cm"),
        (981.075, "mm", "981 mm"),
        (0.0, "in", "0 in"),
        (-0.0, "cm", "0.0 cm"),
    ],
)
def test_a_length_is_said_in_the_unit_of_the_reader(mm, unit, said):
    assert say_length(mm, unit) == said


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        (9.525, "in", "3/8 in"),
        (-9.525, "in", "3/8 in"),
        (4.7625, "in", "3/16 in"),
        (1.5875, "in", "1/16 in"),
        (25.4, "in", "1 in"),
        (25.0, "in", "1 in"),
        (38.1, "in", "1 1/2 in"),
        (26.9875, "in", "1 1/8 in"),  # a sixteenth more than an inch: said in eighths, half up
        (0.5, "in", "less than 1/16 in"),
        (0.0, "in", "0 in"),
        (1e-9, "in", "0 in"),
        (-1e-9, "cm", "0 mm"),
        (9.0, "cm", "9 mm"),
        (10.0, "cm", "10 mm"),
        (19.4, "cm", "19 mm"),
        (19.6, "cm", "2.0 cm"),
        (24.4, "cm", "2.4 cm"),
        (-24.4, "cm", "2.4 cm"),
        (0.3, "cm", "less than 1 mm"),
        (24.4, "mm", "24 mm"),
        (0.3, "mm", "less than 1 mm"),
    ],
)
def test_an_amount_is_said_to_the_step_that_matters(mm, unit, said):
    assert say_amount(mm, unit) == said


def test_a_decimal_comma_is_said_where_it_is_asked_for():
    assert say_length(981.0, "cm", decimal_sign=",") == "98,1 cm"
    assert say_amount(24.4, "cm", decimal_sign=",") == "2,4 cm"


@given(st.floats(-3000, 3000), st.sampled_from(Unit))
@example(-0.0, Unit.CM)
@example(-1e-300, Unit.IN)
def test_nothing_said_has_a_sign_and_all_of_it_reads_back_within_half_a_step(mm, unit):
    for said in (say_length(mm, unit), say_amount(mm, unit)):
        assert "-" not in said
        if said.startswith("less than"):
            most_mm = parse_length(said.removeprefix("less than "), unit).mm
            assert abs(mm) < most_mm
            continue
        again = parse_length(said, unit, allow_zero=True, most_mm=4000)
        step = INCH / 8 if again.unit is Unit.IN else Fraction(1)
        assert abs(Fraction(again.mm) - abs(Fraction(mm))) <= step / 2 + Fraction(1, 10**9)


@given(st.floats(0, 25))
def test_an_amount_below_an_inch_is_said_to_the_sixteenth(mm):
    said = say_amount(mm, "in")
    if re.match("[0-9]", said):
        again = parse_length(said, "in", allow_zero=True).mm
        assert abs(again - mm) <= 25.4 / 32 + 1e-9
