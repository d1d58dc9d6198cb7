# SPDX-License-Identifier: MIT
"""Sections drawn on the screen: the right girth, whatever the gaps, against outside mathematics."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from scipy.special import ellipe

from fitassist.domain.lines import Seam
from fitassist.geometry.sections import (
    body_section,
    convex_hull,
    ellipse_girth,
    form_section,
    outline_length,
    semi_axes,
)

# Perimeters of ellipses, worked out two independent ways: 4 a E(1 - (b/a)^2) and quadrature.
EXACT = [
    (15, 10, 79.327197946),
    (14, 10, 75.922737870),
    (16, 12, 88.413968643),
    (17, 13, 94.667126132),
    (18, 11, 92.438143520),
    (20, 10, 96.884482205),
    (20, 5, 85.784217752),
    (1, 1, 6.283185307),
    (1, 0, 4.0),
]
GAP = st.floats(0.0, 60.0)


@pytest.mark.parametrize(("semi_a", "semi_b", "girth"), EXACT)
def test_an_ellipse_is_as_long_as_the_table_of_exact_perimeters_says(
    semi_a: float, semi_b: float, girth: float
) -> None:
    assert ellipse_girth(semi_a, semi_b) == pytest.approx(girth, abs=6e-10)
    assert ellipse_girth(semi_b, semi_a) == ellipse_girth(semi_a, semi_b)


@given(st.floats(1.0, 400.0), st.floats(0.02, 1.0))
def test_an_ellipse_is_as_long_as_the_elliptic_integral_of_scipy_says(
    semi_a: float, share: float
) -> None:
    exact = 4.0 * semi_a * float(ellipe(1.0 - share * share))
    assert ellipse_girth(semi_a, share * semi_a) == pytest.approx(exact, rel=1e-13)


@given(st.floats(200.0, 2000.0), st.floats(1.0, 2.0))
def test_half_axes_give_back_the_girth_and_the_flatness(girth: float, ratio: float) -> None:
    a, b = semi_axes(girth, ratio)
    assert 4.0 * a * float(ellipe(1.0 - (b / a) ** 2)) == pytest.approx(girth, rel=1e-12)
    assert a / b == pytest.approx(ratio)


def test_a_drawn_body_is_short_of_its_girth_only_by_the_corners_of_its_polygon() -> None:
    # 128 chords of a curve: each is short of its arc by about (turn)^2 / 24 of it.
    drawn = outline_length(body_section(900.0))
    assert 900.0 * (1.0 - 2.0 * (2 * math.pi / 128) ** 2 / 24) < drawn < 900.0


@given(st.floats(500.0, 1500.0), GAP, GAP, GAP, GAP)
def test_a_taut_tape_round_the_panels_reads_the_girth_whatever_the_gaps(
    girth: float, front: float, left: float, back: float, right: float
) -> None:
    gaps = {Seam.FRONT: front, Seam.LEFT: left, Seam.BACK: back, Seam.RIGHT: right}
    section = form_section(girth, gaps)
    # The perimeter of a plane hull is what scipy calls its area.
    assert ConvexHull(np.concatenate(section.panels)).area == pytest.approx(girth, abs=1e-5)
    assert outline_length(section.hull) == pytest.approx(girth, abs=1e-5)


def test_the_panels_stand_apart_by_their_gaps() -> None:
    gaps = {Seam.FRONT: 12.0, Seam.LEFT: 8.0, Seam.BACK: 20.0, Seam.RIGHT: 4.0}
    front_left, back_left, back_right, front_right = form_section(1000.0, gaps).panels
    assert front_left[0, 0] - front_right[-1, 0] == pytest.approx(12.0)
    assert back_left[0, 1] - front_left[-1, 1] == pytest.approx(8.0)
    assert back_left[-1, 0] - back_right[0, 0] == pytest.approx(20.0)
    assert back_right[-1, 1] - front_right[0, 1] == pytest.approx(4.0)


def test_equal_opposite_gaps_add_to_the_girth_of_the_closed_form() -> None:
    # Four arcs whose ends run straight on over the gaps: their lengths simply add up.
    gaps = {Seam.FRONT: 10.0, Seam.LEFT: 6.0, Seam.BACK: 10.0, Seam.RIGHT: 6.0}
    panels = form_section(1000.0, gaps).panels
    arcs = sum(float(np.hypot(*np.diff(panel, axis=0).T).sum()) for panel in panels)
    assert arcs == pytest.approx(1000.0 - 32.0, abs=1e-4)


def test_gaps_wider_than_the_girth_are_drawn_narrower_and_the_girth_stays_right() -> None:
    section = form_section(600.0, dict.fromkeys(Seam, 400.0))
    assert outline_length(section.hull) == pytest.approx(600.0, abs=1e-4)
    front_left, _back_left, _back_right, front_right = section.panels
    assert front_left[0, 0] - front_right[-1, 0] == pytest.approx(75.0)


def test_the_front_lies_towards_the_viewer_and_the_forms_left_at_the_viewers_right() -> None:
    section = form_section(900.0, {Seam.FRONT: 40.0})
    front_left = section.panels[0]
    assert front_left[0, 1] == pytest.approx(section.hull[:, 1].min())
    assert front_left[-1, 0] == pytest.approx(section.hull[:, 0].max())


@given(st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)), min_size=8, max_size=30))
def test_the_hull_is_as_long_as_that_of_scipy(points: list[tuple[int, int]]) -> None:
    cloud = np.array([*points, (-10, -10), (10, -10), (0, 10)], dtype=float)
    assert outline_length(convex_hull(cloud)) == pytest.approx(ConvexHull(cloud).area)
