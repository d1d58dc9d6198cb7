# SPDX-License-Identifier: MIT
"""Lengths along a torso held against circles and triangles; all of it is mathematics."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.geometry.posture import (
    arc_rise_mm,
    slope_rad,
    stand_setting,
    tip_rad,
    wedge_mm,
)


def test_a_half_circle_stands_out_by_its_radius():
    assert arc_rise_mm(math.pi * 100.0, 200.0) == pytest.approx(100.0)


@given(st.floats(50.0, 3000.0), st.floats(0.05, 3.0))
def test_a_circle_of_any_radius_gives_its_own_rise(radius, angle):
    arc, chord = radius * angle, 2.0 * radius * math.sin(angle / 2.0)
    expected = radius * (1.0 - math.cos(angle / 2.0))
    assert arc_rise_mm(arc, chord) == pytest.approx(expected, rel=1e-4, abs=1e-3)


def test_a_back_no_longer_than_its_height_is_straight():
    assert arc_rise_mm(400.0, 400.0) == 0.0
    assert arc_rise_mm(390.0, 400.0) == 0.0


def test_a_front_longer_by_the_depth_tips_the_upper_half_by_45_degrees():
    assert math.degrees(tip_rad(200.0, 0.0, 200.0)) == pytest.approx(45.0)
    assert tip_rad(30.0, 30.0, 200.0) == 0.0
    assert tip_rad(0.0, 10.0, 200.0) == -tip_rad(10.0, 0.0, 200.0)


def test_a_shoulder_that_falls_by_half_its_length_slopes_30_degrees():
    assert math.degrees(slope_rad(60.0, 120.0)) == pytest.approx(30.0)
    assert math.degrees(slope_rad(130.0, 120.0)) == pytest.approx(90.0)


@given(st.floats(3.0, 90.0), st.floats(3.0, 90.0), st.floats(100.0, 200.0))
def test_the_wedge_brings_the_lower_tip_up_to_the_higher(left, right, length):
    wedge = wedge_mm((left, length), (right, length))
    # The lower shoulder has the greater drop; the form stands by it on both sides.
    assert max(left, right) - abs(wedge) == pytest.approx(min(left, right))
    assert (wedge > 0) == (right - left > 1e-9) or abs(wedge) < 1e-9


@given(st.floats(500.0, 2000.0), st.floats(900.0, 1200.0), st.floats(1200.0, 1600.0))
def test_what_a_stand_cannot_reach_is_all_that_is_missing(wanted, least, greatest):
    found = stand_setting(wanted, least, greatest)
    assert least <= found.height_mm <= greatest
    assert found.height_mm + found.raise_mm - found.over_mm == pytest.approx(wanted)
    assert min(found.raise_mm, found.over_mm) == 0.0
