# SPDX-License-Identifier: MIT
"""Outlines of a body: what any convex outline obeys, what readings do to them, and bad input."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from scipy.special import ellipe
from shapely import Point, Polygon

from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.geometry.outline import (
    NORMAL_90,
    REAL_PEOPLE,
    LevelOutline,
    TorsoOutlines,
    torso_outlines,
)
from fitassist.geometry.outline_readings import OutlineReading
from fitassist.geometry.shape_prior import OUTLINE_LINES, PRIOR_KINDS, ShapePriors, load_priors
from fitassist.geometry.sharpening import USUAL_SPREAD_MM, what_sharpens
from fitassist.geometry.silhouette import silhouette
from fitassist.geometry.support import (
    NORMALS,
    corners,
    edge_lengths,
    evenly_spaced,
    girth_of,
    made_convex,
    outside_mm,
    rms_difference,
    support,
)

SHAPE = Path(__file__).resolve().parents[3] / "resources" / "shape"
G, B, D, L = What.GIRTH, What.BREADTH, What.DEPTH, What.LENGTH
ALL = ("bust", "under_bust", "waist", "high_hip", "hip")


@cache
def priors() -> ShapePriors:
    return load_priors(SHAPE / "prior.npz")


def reading(line: str, what: What, mm: float, spread: float = 5.0) -> OutlineReading:
    return OutlineReading(line, what, mm, spread)


USUAL = (reading("bust", G, 940.0), reading("waist", G, 760.0), reading("hip", G, 1000.0))


def drawn(*more: OutlineReading, kind: str = "woman") -> TorsoOutlines:
    return torso_outlines(priors()[kind], [*USUAL, *more])  # type: ignore[index]


girths = st.tuples(st.floats(500.0, 1500.0), st.floats(0.6, 1.2), st.floats(0.8, 1.4))
kinds = st.sampled_from(PRIOR_KINDS)


@given(kinds, girths, st.lists(st.floats(-1.0, 1.0), min_size=6, max_size=6))
@settings(deadline=None, max_examples=30)
def test_any_possible_readings_give_convex_outlines_that_obey_cauchy_and_the_box(
    kind: str, three: tuple[float, float, float], pushed: list[float]
) -> None:
    bust, waist, hip = three[0], three[0] * three[1], three[0] * three[2]
    told = [reading("bust", G, bust), reading("waist", G, waist), reading("hip", G, hip)]
    for at, (line, girth) in enumerate((("bust", bust), ("waist", waist), ("hip", hip))):
        told.append(reading(line, B, girth * (0.345 + 0.02 * pushed[2 * at]), 6.0))
        told.append(reading(line, D, girth * (0.27 + 0.02 * pushed[2 * at + 1]), 6.0))
    for level in torso_outlines(priors()[kind], told).levels.values():  # type: ignore[index]
        _check_convex(level)
        _check_cauchy_and_box(level)
        assert np.all(np.isfinite(level.shown_mm))
        assert np.all(level.shown_mm >= 1.2 * level.raw_mm - 1e-9)


def _check_convex(level: LevelOutline) -> None:
    """Every corner is its hull's, by a library of its own (Qhull)."""
    assert edge_lengths(level.reach_mm).min() > -1e-6
    hull = ConvexHull(level.points)
    assert hull.area == pytest.approx(level.girth_mm, rel=1e-6)
    assert hull.volume == pytest.approx(Polygon(level.points).area, rel=1e-6)


def _check_cauchy_and_box(level: LevelOutline) -> None:
    """Girth = pi x mean width (Cauchy); 2 sqrt(B^2 + D^2) <= girth <= 2 (B + D)."""
    turn = np.arange(720) * math.pi / 720.0
    across = level.points @ np.array([np.sin(turn), np.cos(turn)])
    mean_width = float(np.ptp(across, axis=0).mean())
    assert math.pi * mean_width == pytest.approx(level.girth_mm, rel=1e-5)
    box = level.breadth_mm, level.depth_mm
    assert 2.0 * math.hypot(*box) <= level.girth_mm <= 2.0 * sum(box)


@given(st.floats(50.0, 400.0), st.floats(0.5, 1.0))
def test_an_ellipse_by_its_support_has_the_girth_of_the_elliptic_integral(
    a: float, share: float
) -> None:
    # sqrt((a nx)^2 + (b ny)^2) is an ellipse's support; its perimeter is 4 a E(1 - (b/a)^2).
    reach = np.hypot(a * NORMALS[:, 0], a * share * NORMALS[:, 1])
    assert girth_of(reach) == pytest.approx(4.0 * a * float(ellipe(1.0 - share**2)), rel=2e-4)
    assert girth_of(reach) == pytest.approx(Polygon(corners(reach)).length, rel=1e-12)


@given(st.integers(0, 2**32 - 1))
def test_what_is_not_convex_becomes_so_with_its_girth_kept(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rough = 150.0 + 4.0 * rng.standard_normal(180)
    smooth = made_convex(rough)
    assert edge_lengths(smooth).min() > -1e-6
    assert girth_of(smooth) == pytest.approx(girth_of(rough))
    assert np.array_equal(made_convex(smooth), smooth) or np.allclose(made_convex(smooth), smooth)


@given(st.integers(0, 2**32 - 1))
def test_hulls_of_random_points_and_distances_to_them_agree_with_shapely(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = rng.standard_normal((40, 2)) * np.array([150.0, 110.0])
    reach = support(points)
    assert girth_of(reach) == pytest.approx(ConvexHull(points).area, rel=2e-3)
    outline = Polygon(corners(reach)).convex_hull
    probe = rng.standard_normal((20, 2)) * 200.0
    away, _direction = outside_mm(probe, reach)
    for where, mm in zip(probe, away, strict=True):
        place = Point(where)
        exact = outline.exterior.distance(place) * (-1.0 if outline.contains(place) else 1.0)
        assert mm == pytest.approx(exact, rel=1.6e-4, abs=1e-6)


def test_the_rms_of_concentric_circles_is_the_difference_of_their_radii() -> None:
    turn = np.arange(720) * math.pi / 360.0
    circle = np.column_stack((np.sin(turn), np.cos(turn)))
    assert rms_difference(150.0 * circle, 140.0 * circle) == pytest.approx(10.0, abs=0.01)
    assert rms_difference(140.0 * circle, 140.0 * circle) == pytest.approx(0.0, abs=0.01)


def test_points_at_equal_steps_are_so_and_stay_on_the_curve() -> None:
    square = np.array([[0.0, 0.0], [0.0, 10.0], [10.0, 10.0], [10.0, 0.0]])
    found = evenly_spaced(square, 40)
    assert np.allclose(np.hypot(*np.diff(found, axis=0).T), 1.0)


@pytest.mark.parametrize("kind", PRIOR_KINDS)
def test_a_measured_girth_is_kept_within_its_noise(kind: str) -> None:
    outlines = torso_outlines(priors()[kind], USUAL)  # type: ignore[index]
    for one in USUAL:
        level = outlines.levels[one.line]
        assert abs(level.girth_mm - one.mm) < one.spread_mm
        assert level.girth_spread_mm <= one.spread_mm


def test_an_outline_not_measured_lopsided_is_its_own_mirror_image() -> None:
    for level in drawn().levels.values():
        assert np.allclose(level.reach_mm[1:], level.reach_mm[:0:-1], atol=1e-9)
        assert level.left_half_mm == level.right_half_mm


@pytest.mark.parametrize("what", [B, D, What.FRONT, What.BACK])
@pytest.mark.parametrize("line", ["bust", "waist", "hip"])
def test_every_further_reading_narrows_the_bands(line: str, what: What) -> None:
    before = drawn()
    level = before.levels[line]
    usual = {
        B: level.breadth_mm,
        D: level.depth_mm,
        What.FRONT: level.front_mm,
        What.BACK: level.girth_mm - level.front_mm,
    }[what]
    after = drawn(reading(line, what, usual, 6.0))
    assert after.band_mm() < before.band_mm()
    assert after.levels[line].band_mm() < level.band_mm()


def test_a_depth_read_is_a_depth_drawn() -> None:
    depth = drawn().levels["hip"].depth_mm + 15.0
    hip = drawn(reading("hip", D, depth, 1.0)).levels["hip"]
    assert hip.depth_mm == pytest.approx(depth, abs=2.0)
    assert hip.girth_mm == pytest.approx(1000.0, abs=6.0)


def test_the_edges_of_the_band_lie_on_both_sides_of_the_outline() -> None:
    level = drawn().levels["waist"]
    inner, outer = (Polygon(edge) for edge in level.band())
    for edge in (inner, outer):
        assert edge.convex_hull.area == pytest.approx(edge.area, rel=1e-9)
    middle = Polygon(level.points)
    assert inner.area < middle.area < outer.area
    # A thin band's area is its width times its length (Steiner, first term).
    width = outer.area - inner.area
    assert width == pytest.approx(2.0 * level.band_mm() * level.girth_mm, rel=0.05)
    assert level.band_mm(shown=False) == pytest.approx(NORMAL_90 * level.raw_mm.mean())
    assert REAL_PEOPLE >= 1.2


def test_what_sharpens_says_beforehand_what_the_reading_then_does() -> None:
    prior = priors()["woman"]
    before = torso_outlines(prior, USUAL)
    told = what_sharpens(prior, before, USUAL)
    assert [one.band_left for one in told] == sorted(one.band_left for one in told)
    best = told[0]
    assert best.band_left < 0.92
    level = before.levels[best.line]
    mm = {B: level.breadth_mm, D: level.depth_mm, G: level.girth_mm, What.FRONT: level.front_mm}
    spread = USUAL_SPREAD_MM[best.what]
    after = torso_outlines(prior, [*USUAL, reading(best.line, best.what, mm[best.what], spread)])
    left = np.mean([after.levels[x].raw_mm.mean() for x in OUTLINE_LINES]) / np.mean(
        [before.levels[x].raw_mm.mean() for x in OUTLINE_LINES]
    )
    assert best.band_left == pytest.approx(left, abs=0.01)
    now, then = level.raw_mm.mean(), after.levels[best.line].raw_mm.mean()
    assert best.band_left_at_line == pytest.approx(then / now, abs=0.02)


def test_what_was_read_already_is_not_asked_for_again() -> None:
    taken = [*USUAL, reading("hip", D, 240.0), reading("bust", What.FRONT, 480.0)]
    told = what_sharpens(priors()["woman"], drawn(*taken[3:]), taken)
    asked = {(one.line, one.what) for one in told}
    assert ("hip", D) not in asked
    assert ("bust", G) not in asked
    assert ("bust", What.BACK) not in asked
    assert ("waist", D) in asked


@given(st.floats(-25.0, 25.0))
@settings(deadline=None)
def test_halves_that_differ_are_drawn_so_and_the_girth_stays(lean: float) -> None:
    halves = [
        reading("waist", What.LEFT_HALF, 380.0 + lean / 2.0, 0.5),
        reading("waist", What.RIGHT_HALF, 380.0 - lean / 2.0, 0.5),
    ]
    level = drawn(*halves).levels["waist"]
    left = level.points[level.points[:, 0] >= 0.0]
    length = float(np.hypot(*np.diff(left, axis=0).T).sum() + abs(left[0, 0]) + abs(left[-1, 0]))
    assert length == pytest.approx(level.left_half_mm, abs=0.2)
    assert level.left_half_mm - level.right_half_mm == pytest.approx(lean, abs=0.3)
    assert level.girth_mm == pytest.approx(760.0, abs=3.0)
    assert ConvexHull(level.points).area == pytest.approx(level.girth_mm, rel=1e-5)


def test_a_half_makes_a_band_narrower_at_the_sides_than_no_half() -> None:
    without, with_one = drawn(), drawn(reading("waist", What.LEFT_HALF, 380.0, 2.0))
    assert with_one.levels["waist"].shown_mm[45] < without.levels["waist"].shown_mm[45]


def test_lengths_move_the_lines_and_a_silhouette_goes_through_them() -> None:
    usual, longer = drawn(), drawn(reading("waist_to_hip", L, 260.0, 4.0))
    assert longer.levels["hip"].height_mm < usual.levels["hip"].height_mm
    assert longer.levels["hip"].height_mm == pytest.approx(-260.0, abs=8.0)
    assert longer.levels["hip"].height_spread_mm < usual.levels["hip"].height_spread_mm
    assert usual.levels["waist"].height_mm == 0.0
    levels = list(usual.levels.values())
    view = silhouette(levels)
    assert np.all(np.diff(view.height_mm) > 0.0)
    for level in levels:
        at = int(np.abs(view.height_mm - level.height_mm).argmin())
        assert view.left_mm[at] == pytest.approx(level.breadth_mm / 2.0, abs=1e-6)
        assert view.front_mm[at] - view.back_mm[at] == pytest.approx(level.depth_mm, abs=1e-6)
    # PCHIP never leaves the range of its neighbours.
    assert view.left_mm.max() <= max(level.breadth_mm for level in levels) / 2.0 + 1e-9


def test_two_lines_at_one_height_are_refused() -> None:
    levels = list(drawn().levels.values())
    with pytest.raises(FitError) as caught:
        silhouette([levels[1], levels[1]])
    assert caught.value.code == "outline_lengths_out_of_order"


REFUSED = [
    ([reading("bust", G, 900.0), reading("hip", G, 980.0)], "outline_too_few_girths"),
    ([], "outline_too_few_girths"),
    ([*USUAL, reading("hip", D, 480.0), reading("hip", B, 330.0)], "outline_breadth_depth_misfit"),
    ([*USUAL, reading("hip", D, 200.0), reading("hip", B, 210.0)], "outline_breadth_depth_misfit"),
    ([*USUAL, reading("waist", B, 450.0)], "outline_breadth_depth_misfit"),
    (
        [*USUAL, reading("hip", What.LEFT_HALF, 560.0), reading("hip", What.RIGHT_HALF, 540.0)],
        "outline_parts_misfit",
    ),
    ([*USUAL, reading("hip", What.FRONT, 900.0)], "outline_parts_misfit"),
    (
        [*USUAL, reading("waist_to_hip", L, 90.0), reading("waist_to_high_hip", L, 110.0)],
        "outline_lengths_out_of_order",
    ),
    ([*USUAL, reading("hip", D, math.nan)], "outline_bad_reading"),
    ([*USUAL, reading("hip", D, -20.0)], "outline_bad_reading"),
    ([*USUAL, reading("hip", D, 240.0, math.inf)], "outline_bad_reading"),
    ([*USUAL, reading("under_bust", G, 81.0)], "outline_bad_reading"),
]


@pytest.mark.parametrize(("told", "code"), REFUSED)
def test_what_cannot_be_is_refused_with_a_code(told: list[OutlineReading], code: str) -> None:
    with pytest.raises(FitError) as caught:
        torso_outlines(priors()["woman"], told)
    assert caught.value.code == code


def test_parts_that_nearly_add_up_are_believed_less() -> None:
    good = [reading("waist", What.LEFT_HALF, 380.0), reading("waist", What.RIGHT_HALF, 380.0)]
    off = [reading("waist", What.LEFT_HALF, 391.0), reading("waist", What.RIGHT_HALF, 391.0)]
    fine, doubtful = drawn(*good), drawn(*off)
    assert not fine.doubts
    assert [one.code for one in doubtful.doubts] == ["parts_doubtful"]
    assert doubtful.levels["waist"].band_mm() > fine.levels["waist"].band_mm()


def test_a_breadth_that_hardly_fits_is_believed_less_and_said() -> None:
    # 2 sqrt(B^2 + D^2) = 764 mm: 4 mm more than the girth can be.
    tight = drawn(reading("waist", B, 330.0, 6.0), reading("waist", D, 192.5, 6.0))
    assert "breadth_depth_doubtful" in {one.code for one in tight.doubts}


def test_girths_no_body_had_together_widen_the_bands() -> None:
    told = [reading("bust", G, 800.0), reading("waist", G, 1300.0), reading("hip", G, 800.0)]
    odd = torso_outlines(priors()["woman"], told)
    assert odd.widened > 1.5
    assert odd.doubts
    assert odd.band_mm() > 1.5 * drawn().band_mm()


def test_what_has_no_place_in_an_outline_is_said_and_not_used() -> None:
    more = [reading("neck", G, 350.0), reading("shoulder_length", L, 120.0)]
    outlines = drawn(*more)
    assert [(one.code, one.line) for one in outlines.doubts] == [
        ("not_used", "neck"),
        ("not_used", "shoulder_length"),
    ]
    assert outlines.band_mm() == drawn().band_mm()


@given(
    st.lists(
        st.builds(
            OutlineReading,
            st.sampled_from([*OUTLINE_LINES, "waist_to_hip", "neck", ""]),
            st.sampled_from(list(What)),
            st.floats(allow_nan=True) | st.floats(60.0, 1500.0),
            st.floats(allow_nan=True) | st.floats(0.0, 20.0),
        ),
        max_size=8,
    ),
    kinds,
)
@settings(deadline=None, max_examples=80)
def test_nothing_typed_makes_it_fall_over(told: list[OutlineReading], kind: str) -> None:
    prior = priors()[kind]  # type: ignore[index]
    refused = ""
    try:
        outlines = torso_outlines(prior, [*USUAL, *told])
    except FitError as error:
        refused = error.code
    if refused:
        assert refused in {code for _told, code in REFUSED}
        return
    for level in outlines.levels.values():
        assert np.all(np.isfinite(level.points))
        assert edge_lengths(level.reach_mm).min() > -1e-6
