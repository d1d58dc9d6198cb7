# SPDX-License-Identifier: MIT
"""Lengths and numbers at the very edges of what is taken; each case once went unseen by the tests.

The edges are those the docstrings state: both limits are still taken.
"""

from __future__ import annotations

import pytest

from fitassist.domain.units import Unit, parse_number, short_number, to_mm
from fitassist.errors import BadLength


def test_a_number_less_than_one_is_a_number() -> None:
    assert parse_number("0") == 0.0
    assert parse_number("1/2") == 0.5
    assert parse_number("0.25") == 0.25


def test_the_largest_and_the_least_number_are_taken_and_nothing_past_them() -> None:
    assert parse_number("44", most=44.0) == 44.0
    assert parse_number("26", least=26.0) == 26.0
    for text, code in (("44 1/8", "length_too_large"), ("25 7/8", "length_too_small")):
        with pytest.raises(BadLength) as caught:
            parse_number(text, least=26.0, most=44.0)
        assert caught.value.code == code


def test_below_zero_is_understood_only_where_it_may_be() -> None:
    assert parse_number("-1/2", least=-1.0) == -0.5
    with pytest.raises(BadLength) as caught:
        parse_number("-1/2")
    assert caught.value.code == "length_negative"


def test_six_decimals_of_a_unit_are_exact_and_a_seventh_is_not() -> None:
    mm = to_mm(1.234567, Unit.IN)
    assert short_number(mm, Unit.IN) == 1.234567
    assert short_number(to_mm(1.2345678, Unit.IN), Unit.IN) is None
