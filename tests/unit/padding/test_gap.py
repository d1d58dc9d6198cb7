# SPDX-License-Identifier: MIT
"""Gaps between form and body, and the tape round padding, against the geometry of Steiner."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from fitassist.errors import FitError
from fitassist.padding.gap import measure_gap, padded_girth
from fitassist.padding.surface import Section, build_surface, columns_of, tape_hull
from tests.unit.padding.shells import ellipse


def sections(form, body, heights=(0.0, 100.0, 200.0)):
    return [Section(f"line {z}", z, form, body) for z in heights]


def grown(outline: np.ndarray, by: float) -> np.ndarray:
    return np.asarray(shapely.Polygon(outline).buffer(by, quad_segs=64).exterior.coords)


# Perimeters of outer parallel curves, P + 2 pi t (Steiner), worked out two independent ways:
# ellipse 15 x 10 grown by 1, ellipse 18 x 11 by 2; here in tenths.
@pytest.mark.parametrize(
    ("a", "b", "t", "girth"), [(150, 100, 10, 856.10383254), (180, 110, 20, 1050.04514134)]
)
def test_uniform_padding_on_an_ellipse_reads_what_steiner_says(a, b, t, girth) -> None:
    points = columns_of(tape_hull(ellipse(a, b, 4000)), 2000)
    assert padded_girth(points, np.full(2000, float(t))) == pytest.approx(girth, abs=0.02)


def test_uniform_padding_round_corners_reads_what_steiner_says() -> None:
    corners = np.array([[150.0, 100.0], [150.0, -100.0], [-150.0, -100.0], [-150.0, 100.0]])
    # Rectangle 30 x 20 grown by 2: 100 + 4 pi.
    assert padded_girth(corners, np.full(4, 20.0)) == pytest.approx(1125.66370614, abs=0.02)


@pytest.mark.parametrize("t", [3.2, 12.7])
def test_padding_adds_two_pi_t_on_any_convex_section(t) -> None:
    rng = np.random.default_rng(7)
    outline = tape_hull(rng.normal(size=(40, 2)) * [160.0, 110.0])
    points = columns_of(outline)
    bare = padded_girth(points, np.zeros(len(points)))
    added = padded_girth(points, np.full(len(points), t)) - bare
    assert added == pytest.approx(2.0 * np.pi * t, abs=1e-9)


def test_padding_part_of_the_way_adds_the_angle_it_turns_through_times_its_thickness() -> None:
    # Steiner for an arc: phi t, here a third of a circle; the tape bridges the two ends, so what
    # it reads lies between that and the arc with both ramps counted in full.
    radius, t, phi = 150.0, 5.0, 2.0 * np.pi / 3.0
    columns = 3600
    points = columns_of(tape_hull(ellipse(radius, radius, 7200)), columns)
    around = np.arange(columns) / columns * 2.0 * np.pi
    laid = np.where(np.abs(around - np.pi) <= phi / 2, t, 0.0)
    added = float(padded_girth(points, laid) - padded_girth(points, np.zeros(columns)))
    # From a step of height t the tape runs tangent to the circle: sqrt((r + t)^2 - r^2) over the
    # angle arccos(r / (r + t)), twice.
    turn = np.arccos(radius / (radius + t))
    exact = phi * t + 2.0 * (np.sqrt((radius + t) ** 2 - radius**2) - radius * turn)
    assert added == pytest.approx(exact, rel=2e-3)
    assert added == pytest.approx(phi * t, rel=0.2)


@pytest.mark.parametrize("t", [4.0, 25.0])
def test_the_gap_to_a_parallel_outline_is_its_distance_everywhere(t) -> None:
    form = ellipse(150.0, 100.0, 1000)
    gap = measure_gap(sections(form, grown(form, t)))
    assert gap.gap_mm == pytest.approx(t, abs=0.02)
    assert not gap.stands_out_mm.any()


def test_where_the_form_stands_out_it_is_told_apart_and_nothing_is_padded() -> None:
    gap = measure_gap(sections(ellipse(160.0, 90.0), ellipse(150.0, 100.0)), ignored_mm=1.0)
    side, front = 36, 0
    assert gap.stands_out_mm[:, side] == pytest.approx(10.0, abs=0.1)
    assert gap.thickness_mm[:, side] == pytest.approx(0.0)
    assert gap.thickness_mm[:, front] == pytest.approx(10.0, abs=0.1)
    assert gap.stands_out_mm[:, front] == pytest.approx(0.0)


def test_what_is_smaller_than_the_tolerance_is_left_alone() -> None:
    form = ellipse(150.0, 100.0)
    gap = measure_gap(sections(form, grown(form, 2.0)), ignored_mm=3.0)
    assert not gap.thickness_mm.any()
    assert measure_gap(sections(form, grown(form, 2.0))).thickness_mm.min() > 1.9


def test_between_two_heights_the_gap_never_leaves_their_range() -> None:
    form = ellipse(150.0, 100.0)
    parts = [Section(f"{z}", z, form, grown(form, t)) for z, t in ((0, 2), (90, 30), (200, 30))]
    gap = measure_gap(parts)
    assert gap.gap_mm.min() >= 1.9
    assert gap.gap_mm.max() <= 30.1
    assert np.all(np.diff(gap.gap_mm[:, 0]) >= -1e-9)


def test_columns_begin_at_centre_front_and_go_to_the_wearers_left() -> None:
    surface = build_surface(sections(ellipse(150.0, 100.0), ellipse(150.0, 100.0)))
    quarters = surface.points_mm[0, ::36]
    expected = [[0, 100], [150, 0], [0, -100], [-150, 0]]
    assert quarters == pytest.approx(np.array(expected, dtype=float), abs=0.5)
    outward = (surface.points_mm * surface.normals).sum(axis=2)
    assert outward.min() > 0.0


def test_a_body_alike_on_both_sides_is_found_to_be_so_and_another_not() -> None:
    form = ellipse(140.0, 95.0)
    assert not measure_gap(sections(form, ellipse(150.0, 100.0))).is_two_sided
    assert measure_gap(sections(form, np.add(ellipse(150.0, 100.0), [6.0, 0.0]))).is_two_sided


GOOD = ellipse(150.0, 100.0)


@pytest.mark.parametrize(
    ("code", "parts"),
    [
        ("padding_too_few_lines", []),
        ("padding_too_few_lines", sections(GOOD, GOOD, (0.0,))),
        ("padding_same_height", sections(GOOD, GOOD, (0.0, 0.0))),
        ("padding_same_height", sections(GOOD, GOOD, (0.0, float("nan")))),
        ("padding_outline", sections(GOOD, np.empty((0, 2)))),
        ("padding_outline", sections(GOOD * [1.0, np.nan], GOOD)),
        ("padding_outline", sections(GOOD, GOOD / 100.0)),
        ("padding_outline", sections(np.add(GOOD, [400.0, 0.0]), GOOD)),
        ("padding_far_apart", sections(GOOD, np.add(GOOD, [0.0, 900.0]))),
    ],
)
def test_outlines_that_cannot_be_padded_are_refused(code, parts) -> None:
    with pytest.raises(FitError) as told:
        measure_gap(parts)
    assert told.value.code == code


@pytest.mark.parametrize("ignored", [-1.0, float("nan")])
def test_a_tolerance_below_zero_is_refused(ignored) -> None:
    with pytest.raises(FitError, match="padding_ignored"):
        measure_gap(sections(GOOD, GOOD), ignored_mm=ignored)
