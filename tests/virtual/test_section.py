# SPDX-License-Identifier: MIT
"""The taut tape round four panels, against mathematics and worked figures."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial import ConvexHull
from scipy.spatial.distance import pdist

from tests.virtual.outlines import LINES, load_bodies
from tests.virtual.section import Section, displacement, hull, perimeter

# Worked figures: FACTS section 3 (COMPUTED, two independent ways), lengths in cm.
ELLIPSE_15_10 = 79.327197946  # 3.5
PADDED_BY_1 = 85.610383254  # 3.1: P + 2 pi t
PADDED_AREA = 553.707688639
ELLIPSE_16_11 = 85.5517944  # 3.2: not the padded one
TWO_CIRCLES = 63.415926536  # 3.10: radius 5, centres 16 apart
TWO_BUMPS = 87.872631  # 3.10: ellipse with two circles, taut
SUPERELLIPSE_4 = 88.105575  # 3.8
STADIUM_30_20 = 82.831853072  # 3.7

TURNS = np.linspace(0.0, 2.0 * np.pi, 4096, endpoint=False) + np.pi / 2  # from the front


def ellipse(a: float, b: float) -> np.ndarray:
    """Return points of an ellipse from the front by the left."""
    turned = np.pi - TURNS
    return np.stack([a * np.cos(turned), b * np.sin(turned)], axis=1)


def circle(radius: float, x: float = 0.0, y: float = 0.0) -> np.ndarray:
    return ellipse(radius, radius) + np.array([x, y])


def padded_ellipse(a: float, b: float, by: float) -> np.ndarray:
    points = ellipse(a, b)
    normal = points / [a * a, b * b]
    return points + by * normal / np.linalg.norm(normal, axis=1, keepdims=True)


def random_sections(count: int) -> list[tuple[Section, np.ndarray]]:
    rng = np.random.default_rng(11)
    outlines = load_bodies().outline_mm
    return [
        (Section(outlines[rng.integers(420), rng.integers(5)]), rng.uniform(0, 60, 4))
        for _ in range(count)
    ]


def test_outlines_start_in_front_and_go_round_by_the_left() -> None:
    points = ellipse(15, 10)
    assert points[0] == pytest.approx([0.0, 10.0], abs=1e-9)
    assert points[1024] == pytest.approx([15.0, 0.0], abs=1e-9)
    for outline in load_bodies().outline_mm[::40].reshape(-1, 128, 2):
        assert abs(outline[0, 0]) < 0.06
        assert outline[0, 1] > outline[64, 1]
        assert outline[32, 0] > 0


def test_closed_shell_has_the_perimeter_of_an_ellipse() -> None:
    assert Section(ellipse(15, 10)).closed_girth_mm == pytest.approx(ELLIPSE_15_10, abs=1e-4)


def test_closed_shell_has_the_perimeter_of_a_superellipse() -> None:
    directions = np.stack([np.sin(TURNS - np.pi / 2), np.cos(TURNS - np.pi / 2)], axis=1)
    radius = (np.abs(directions / [15, 10]) ** 4).sum(axis=1) ** -0.25
    shell = Section(directions * radius[:, None])
    assert shell.closed_girth_mm == pytest.approx(SUPERELLIPSE_4, abs=1e-3)


def test_padding_an_ellipse_adds_two_pi_per_thickness() -> None:
    padded = padded_ellipse(15, 10, 1)
    assert perimeter(hull(padded)) == pytest.approx(PADDED_BY_1, abs=1e-4)
    assert float(ConvexHull(padded).volume) == pytest.approx(PADDED_AREA, abs=1e-3)
    assert Section(padded).closed_girth_mm == pytest.approx(PADDED_BY_1, abs=1e-4)


def test_padded_ellipse_is_no_ellipse() -> None:
    larger = Section(ellipse(16, 11)).closed_girth_mm
    assert larger == pytest.approx(ELLIPSE_16_11, abs=1e-4)
    assert larger < Section(padded_ellipse(15, 10, 1)).closed_girth_mm - 0.05


def test_half_circles_moved_apart_are_spanned_like_two_circles() -> None:
    shell = Section(circle(5))
    assert float(shell.girth(np.array([16.0, 0, 16, 0]))) == pytest.approx(TWO_CIRCLES, abs=1e-3)
    assert float(shell.girth(np.array([0, 16.0, 0, 16]))) == pytest.approx(TWO_CIRCLES, abs=1e-3)


def test_half_circles_moved_apart_make_a_stadium() -> None:
    gaps = np.array([10.0, 0, 10, 0])
    shell = Section(circle(10))
    assert float(shell.girth(gaps)) == pytest.approx(STADIUM_30_20, abs=1e-3)
    assert shell.other(gaps, "breadth") == pytest.approx(30.0, abs=1e-4)
    assert shell.other(gaps, "depth") == pytest.approx(20.0, abs=1e-4)
    assert shell.other(gaps, "front") == pytest.approx(STADIUM_30_20 / 2, abs=1e-3)


def test_tape_spans_the_hollow_between_two_bumps() -> None:
    points = np.concatenate([ellipse(15, 10), circle(5, 8, 8), circle(5, -8, 8)])
    assert perimeter(hull(points)) == pytest.approx(TWO_BUMPS, abs=1e-4)


def test_four_equal_gaps_add_exactly_four_gaps_to_a_round_shell() -> None:
    """Mathematics: the panels of a round shell then fill its sum with a square of that side."""
    for gap in (1.0, 7.5, 40.0):
        shell = Section(ellipse(150, 100))
        grown = float(shell.girth(np.full(4, gap))) - shell.closed_girth_mm
        assert grown == pytest.approx(4 * gap, abs=0.02)


def test_girth_agrees_with_a_reference_hull() -> None:
    """Reference: the Qhull library by way of scipy (its `area` is the perimeter in a plane)."""
    for section, gaps in random_sections(60):
        points = np.concatenate(section.placed(gaps))
        reference = float(ConvexHull(points).area)
        assert perimeter(hull(points)) == pytest.approx(reference, abs=1e-6)
        assert float(section.girth(gaps)) == pytest.approx(reference, abs=0.03)


def test_many_girths_at_once_equal_single_ones() -> None:
    section, _ = random_sections(1)[0]
    gaps = np.random.default_rng(3).uniform(0, 50, (7, 4))
    assert section.girth(gaps) == pytest.approx([float(section.girth(g)) for g in gaps])


def test_opening_any_seam_never_makes_the_girth_smaller() -> None:
    """Mathematics: a pair of panels moved apart spans no less."""
    for section, _ in random_sections(30):
        for seam in range(4):
            gaps = np.zeros((40, 4))
            gaps[:, seam] = np.linspace(0, 60, 40)
            assert (np.diff(section.girth(gaps)) > -1e-9).all()


def test_panels_keep_their_shape_and_part_by_the_gaps() -> None:
    for section, gaps in random_sections(10):
        placed = section.placed(gaps)
        for before, after in zip(section.panels, placed, strict=True):
            assert pdist(after) == pytest.approx(pdist(before))
        front_left, back_left, back_right, front_right = placed
        assert front_left[0, 0] - front_right[-1, 0] == pytest.approx(gaps[0], abs=0.2)
        assert back_left[-1, 0] - back_right[0, 0] == pytest.approx(gaps[2], abs=0.2)
        assert front_left[-1, 1] - back_left[0, 1] == pytest.approx(gaps[1])
        assert front_right[0, 1] - back_right[-1, 1] == pytest.approx(gaps[3])


def test_each_panel_takes_half_of_its_neighbouring_gaps() -> None:
    moved = displacement(np.array([2.0, 4.0, 6.0, 8.0]))
    assert moved.tolist() == [[1.0, 2.0], [3.0, -2.0], [-3.0, -4.0], [-1.0, 4.0]]


@pytest.mark.parametrize("pair", [("front", "back"), ("left_half", "right_half")])
def test_halves_of_the_tape_make_the_whole(pair: tuple[str, str]) -> None:
    for section, gaps in random_sections(25):
        whole = perimeter(hull(np.concatenate(section.placed(gaps))))
        assert sum(section.other(gaps, what) for what in pair) == pytest.approx(whole)


def test_breadth_and_depth_bound_every_girth() -> None:
    """FACTS 3.9: 2 sqrt(w^2 + d^2) <= girth <= 2 (w + d) for any convex outline."""
    for section, gaps in random_sections(60):
        breadth, depth = (section.other(gaps, what) for what in ("breadth", "depth"))
        girth = float(section.girth(gaps))
        assert 2 * np.hypot(breadth, depth) <= girth + 0.05
        assert girth <= 2 * (breadth + depth) + 0.05


def test_stored_outlines_are_as_long_as_the_bodies_girths() -> None:
    """128 points cut the corners of the source's hull a little, never by 2 mm, never adding."""
    bodies = load_bodies()
    for number in range(0, 420, 20):
        for place in range(len(LINES)):
            short = bodies.girth_mm[number, place] - perimeter(bodies.outline_mm[number, place])
            assert -0.2 < short < 2.0
