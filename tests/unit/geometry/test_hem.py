# SPDX-License-Identifier: MIT
"""Hems against plain geometry: plumb cloth, a cone's slant, and the floor."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.errors import FitError
from fitassist.geometry.hem import PLACES, drop_of, hem_marks, length_for, level_lengths
from fitassist.wording.sentences import sentence

LENGTHS = {"front": 600.0, "side": 610.0, "back": 605.0}


def test_plumb_cloth_ends_as_far_below_the_waist_as_it_is_long() -> None:
    marks = {m.place: m for m in hem_marks(LENGTHS, 1000.0, 1080.0, 50.0)}
    assert marks["front"].worn_mm == 1000.0 + 50.0 - 600.0
    assert marks["front"].marker_mm == 1080.0 - 600.0
    assert marks["side"].marker_mm == marks["front"].marker_mm - 10.0


def test_over_the_hip_cloth_falls_by_a_side_of_the_triangle_it_lies_on() -> None:
    # 3, 4, 5: cloth of 250 lies on a hip 200 below the waist that stands out by 150.
    assert drop_of(250.0, 200.0, 150.0) == pytest.approx(200.0)
    assert drop_of(650.0, 200.0, 150.0) == pytest.approx(600.0)
    assert drop_of(125.0, 200.0, 150.0) == pytest.approx(100.0)  # half-way down the slope


@given(
    st.floats(60.0, 1900.0), st.floats(80.0, 300.0), st.floats(0.0, 200.0)
)  # drop, hip below, stands out
def test_a_length_for_a_drop_gives_that_drop_back(drop, below, out) -> None:
    length = length_for(drop, below, out)
    assert length >= drop - 1e-9
    assert drop_of(length, below, out) == pytest.approx(drop)


def test_a_level_hem_is_longer_where_the_body_stands_out_further() -> None:
    out = {"front": 40.0, "side": 60.0, "back": 90.0}
    lengths = level_lengths(400.0, 1000.0, 30.0, 200.0, out)
    assert lengths["front"] < lengths["side"] < lengths["back"]
    marks = hem_marks(lengths, 1000.0, 1030.0, 30.0, 200.0, out)
    assert [m.marker_mm for m in marks] == pytest.approx([400.0] * 3)
    assert lengths["back"] - 630.0 == pytest.approx(math.hypot(200.0, 90.0) - 200.0)


def test_a_form_that_stands_higher_has_its_marker_higher_by_as_much() -> None:
    same, higher = (hem_marks(LENGTHS, 1000.0, form) for form in (1000.0, 1100.0))
    for one, other in zip(same, higher, strict=True):
        assert other.marker_mm - one.marker_mm == 100.0
        assert other.worn_mm == one.worn_mm
    assert [m.place for m in same] == list(PLACES)


@pytest.mark.parametrize(
    ("code", "numbers"),
    [
        ("hem_height", (10.0, 1000.0, 0.0, 500.0)),
        ("hem_height", (1000.0, float("nan"), 0.0, 500.0)),
        ("hem_shoe", (1000.0, 1000.0, -1.0, 500.0)),
        ("hem_shoe", (1000.0, 1000.0, 400.0, 500.0)),
        ("hem_length", (1000.0, 1000.0, 0.0, 3.0)),
        ("hem_below_floor", (1000.0, 1000.0, 0.0, 1040.0)),
        ("hem_below_floor", (1000.0, 950.0, 0.0, 980.0)),
    ],
)
def test_a_hem_that_cannot_be_is_refused_in_words(code, numbers) -> None:
    waist, form_waist, shoe, length = numbers
    with pytest.raises(FitError) as told:
        hem_marks({"front": length}, waist, form_waist, shoe)
    assert told.value.code == code
    assert len(sentence(told.value)) > 20


def test_a_level_hem_above_the_waist_is_refused() -> None:
    with pytest.raises(FitError, match="hem_length"):
        level_lengths(1200.0, 1000.0)
