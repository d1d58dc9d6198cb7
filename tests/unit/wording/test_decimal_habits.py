# SPDX-License-Identifier: MIT
"""Decimals are written with the sign in use, everywhere lengths are said, and read with either."""

from __future__ import annotations

import pytest

from fitassist.domain.units import (
    Unit,
    both_units,
    decimal_sign_in_use,
    format_length,
    format_number,
    parse_length,
    use_decimal_sign,
)
from fitassist.wording.language import with_decimals


@pytest.fixture(autouse=True)
def point_again():
    yield
    use_decimal_sign(".")


def test_a_comma_is_written_in_lengths_and_numbers_and_a_fraction_stays_one() -> None:
    use_decimal_sign(",")
    assert format_length(981, Unit.CM) == "98,1"
    assert format_number(92.5, Unit.CM) == "92,5"
    assert both_units(981.075, "in") == "38 5/8 in · 98,1 cm"
    assert with_decimals(1.25, 2) == "1,25"


@pytest.mark.parametrize("sign", [".", ","])
@pytest.mark.parametrize("typed", ["98.1", "98,1"])
def test_either_sign_is_read_whichever_is_written(sign: str, typed: str) -> None:
    use_decimal_sign(sign)
    assert parse_length(typed, "cm").mm == pytest.approx(981)


def test_anything_but_a_comma_means_a_point() -> None:
    use_decimal_sign("٫")
    assert decimal_sign_in_use() == "."
