# SPDX-License-Identifier: MIT
"""A form's sections: hulls, gaps, room round them, and seams opened by shape."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from shapely import LineString, Point, Polygon

from fitassist.domain.lines import Seam, What
from fitassist.errors import FitError
from fitassist.geometry.best_gaps import (
    best_gaps,
    difference,
    gap_slopes,
    opening_for,
    shell_of,
)
from fitassist.geometry.form_outline import (
    SEAMS,
    centred,
    clearance,
    closed_outlines,
    cut,
    form_section,
    gap_vector,
    taut,
)
from fitassist.geometry.outline_readings import OutlineReading
from fitassist.geometry.shape_learning import load_bodies
from fitassist.geometry.shape_prior import load_priors
from fitassist.geometry.support import Floats, girth_of, rms_difference, support
from tests.bench.gaps import brute, pairs
from tests.bench.outlines import split

SHAPE = Path(__file__).resolve().parents[3] / "resources" / "shape"
gap = st.floats(0.0, 60.0)


def ellipse(a: float, b: float, count: int = 720) -> Floats:
    turn = np.arange(count) * 2.0 * math.pi / count
    return np.column_stack((a * np.sin(turn), b * np.cos(turn)))


def length(closed: Floats) -> float:
    return Polygon(closed).length


def test_a_shut_form_is_its_closed_outline() -> None:
    section = form_section(ellipse(160.0, 110.0), {})
    # 4 a E(1 - (b/a)^2) for 16, 11 is 85.5517944 (an exact elliptic integral; here in mm).
    assert section.girth_mm == pytest.approx(855.517944, rel=2e-5)
    assert section.scale == 1.0


@given(gap)
@settings(deadline=None)
def test_four_equal_gaps_add_four_times_their_width(one: float) -> None:
    # Straight bridges over level seams: the lower bound "k gaps add k g" is met exactly.
    closed = ellipse(160.0, 110.0)
    section = form_section(closed, dict.fromkeys(Seam, one))
    assert section.girth_mm == pytest.approx(length(closed) + 4.0 * one, abs=0.01)


@given(gap, gap, gap, gap, st.floats(-20.0, 20.0))
@settings(deadline=None)
def test_the_girth_is_the_hull_of_panels_that_only_moved(
    front: float, left: float, back: float, right: float, side: float
) -> None:
    closed = ellipse(160.0, 110.0, 180)
    gaps = dict(zip(SEAMS, (front, left, back, right), strict=True))
    section = form_section(closed, gaps, side_mm=side)
    every = np.concatenate(section.panels)
    assert section.girth_mm == pytest.approx(ConvexHull(every).area, rel=1e-12)
    assert section.girth_mm == pytest.approx(length(section.hull), rel=1e-9)
    # Rigid panels: together as long as the closed outline.
    panels = sum(LineString(panel).length for panel in section.panels)
    assert panels == pytest.approx(length(closed), rel=1e-9)
    fl, bl, br, fr = section.panels
    assert fl[0, 0] - fr[-1, 0] == pytest.approx(front, abs=1e-9)
    assert bl[-1, 0] - br[0, 0] == pytest.approx(back, abs=1e-9)
    assert fl[-1, 1] - bl[0, 1] == pytest.approx(left, abs=1e-9)
    assert fr[0, 1] - br[-1, 1] == pytest.approx(right, abs=1e-9)


def test_seams_lie_where_they_are_said_to() -> None:
    panels = cut(ellipse(160.0, 110.0), 15.0)
    assert np.allclose([panels[0][-1, 1], panels[1][0, 1], panels[2][-1, 1]], 15.0)
    assert np.allclose([panels[0][0, 0], panels[1][-1, 0]], 0.0)


@given(gap, gap, gap, st.floats(0.94, 1.06))
@settings(deadline=None)
def test_a_girth_that_was_predicted_is_met(
    front: float, side: float, back: float, off: float
) -> None:
    closed = ellipse(150.0, 115.0, 180)
    gaps = {Seam.FRONT: front, Seam.LEFT: side, Seam.BACK: back, Seam.RIGHT: side}
    wanted = form_section(closed, gaps).girth_mm * off
    section = form_section(closed, gaps, wanted)
    assert section.girth_mm == pytest.approx(wanted, abs=1e-6)
    assert 0.9 < section.scale < 1.1


def test_a_girth_the_gaps_cannot_have_is_refused() -> None:
    with pytest.raises(FitError) as caught:
        form_section(ellipse(160.0, 110.0), {Seam.FRONT: 30.0}, 2000.0)
    assert caught.value.code == "form_girth_misfit"


@pytest.mark.parametrize("mm", [-1.0, math.nan, math.inf])
def test_a_gap_below_zero_is_refused(mm: float) -> None:
    with pytest.raises(FitError) as caught:
        form_section(ellipse(160.0, 110.0), {Seam.LEFT: mm})
    assert caught.value.code == "form_gap_below_zero"


def test_a_closed_form_is_drawn_from_one_girth_and_its_breadth() -> None:
    prior = load_priors(SHAPE / "prior.npz")["woman"]
    told = [
        OutlineReading("waist", What.GIRTH, 640.0, 3.0),
        OutlineReading("waist", What.BREADTH, 230.0, 4.0),
    ]
    waist = closed_outlines(prior, told).levels["waist"]
    assert waist.girth_mm == pytest.approx(640.0, abs=3.0)
    assert waist.breadth_mm == pytest.approx(230.0, abs=5.0)
    assert np.all(waist.shown_mm >= 1.5 * waist.raw_mm - 1e-9)


def test_uniform_padding_is_the_same_room_everywhere_and_adds_two_pi_of_girth() -> None:
    # Steiner: the outer parallel curve of an ellipse of half axes 15, 10 at 1 is 85.610383 long.
    inner = ellipse(150.0, 100.0, 1440)
    outer = np.array(Polygon(inner).buffer(10.0, quad_segs=256).exterior.coords)[:-1]
    assert length(outer) == pytest.approx(856.10383, rel=1e-4)
    outer = outer[::-1] if Polygon(outer).exterior.is_ccw else outer
    found = clearance(inner, outer)
    assert np.allclose(found.room_mm, 10.0, atol=0.02)
    turned = clearance(outer, inner)
    assert np.allclose(turned.room_mm, -10.0, atol=0.02)


@given(st.floats(120.0, 180.0), st.floats(90.0, 140.0))
@settings(deadline=None)
def test_room_has_the_sign_and_the_reach_that_shapely_finds(a: float, b: float) -> None:
    form, body = ellipse(150.0, 110.0, 360), ellipse(a, b, 360)
    found = clearance(form, body, 64)
    ring, inside = LineString([*body, body[0]]), Polygon(body)
    for point, normal, room in zip(found.points, found.normals, found.room_mm, strict=True):
        where = Point(point)
        if abs(room) < 0.05:
            continue
        assert (room > 0.0) == inside.contains(where)
        if room > 0.0:
            assert ring.distance(Point(point + room * normal)) < 0.05
        else:
            assert -room == pytest.approx(ring.distance(where), abs=0.05)
    assert np.allclose(np.hypot(*found.normals.T), 1.0)
    assert abs(found.polar_rad[0]) < 0.1  # the front comes first


@cache
def slim_shells() -> list[tuple[str, Floats, Floats, float]]:
    return pairs(split(load_bodies(SHAPE / "bodies.npz"))[1], 14)


def test_seams_opened_by_shape_leave_three_quarters_of_the_difference_at_most() -> None:
    # Opening by different amounts roughly halves it, found a study of the same bodies.
    found = [best_gaps(closed, body, girth) for _line, closed, body, girth in slim_shells()]
    for one, (_line, _closed, _body, girth) in zip(found, slim_shells(), strict=True):
        assert one.girth_mm == pytest.approx(girth, abs=0.01)
        assert one.rms_mm <= one.equal_rms_mm + 1e-9
        assert one.gaps_mm[Seam.LEFT] == one.gaps_mm[Seam.RIGHT]
        assert min(one.gaps_mm.values()) >= 0.0
    ours, equal = (
        np.mean([getattr(o, name) for o in found]) for name in ("rms_mm", "equal_rms_mm")
    )
    assert ours <= 0.75 * equal


@pytest.mark.parametrize("at", range(3))
def test_no_gaps_found_by_brute_search_are_much_better(at: int) -> None:
    # Against scipy's differential evolution.
    _line, closed, body, girth = slim_shells()[at]
    least = brute(shell_of(closed, body), girth, lopsided=False)
    assert best_gaps(closed, body, girth).rms_mm <= max(1.05 * least, least + 0.3)


def test_what_is_drawn_has_the_difference_that_was_promised() -> None:
    _line, closed, body, girth = slim_shells()[0]
    best = best_gaps(closed, body, girth)
    section = form_section(centred(closed), best.gaps_mm)
    assert section.girth_mm == pytest.approx(best.girth_mm, rel=2e-3)
    drawn = rms_difference(centred(body), centred(section.hull))
    assert drawn == pytest.approx(best.rms_mm, abs=0.25)


def test_a_body_made_by_opening_a_form_is_reached_exactly() -> None:
    closed = ellipse(140.0, 100.0)
    gaps = {Seam.FRONT: 30.0, Seam.LEFT: 12.0, Seam.BACK: 18.0, Seam.RIGHT: 12.0}
    body = form_section(closed, gaps).hull
    best = best_gaps(closed, body, girth_of(support(body)))
    assert best.rms_mm < 0.1
    for seam, mm in gaps.items():
        assert best.gaps_mm[seam] == pytest.approx(mm, abs=1.0)


@given(st.floats(2.0, 50.0), st.floats(2.0, 50.0), st.floats(2.0, 50.0))
@settings(deadline=None, max_examples=30)
def test_slopes_are_those_of_small_differences(front: float, side: float, back: float) -> None:
    _line, closed, body, _girth = slim_shells()[1]
    shell = shell_of(closed, body)
    gaps = {Seam.FRONT: front, Seam.LEFT: side, Seam.BACK: back, Seam.RIGHT: side}
    slopes = gap_slopes(shell, gaps)
    at = gap_vector(gaps)
    pair = np.array([0.0, 1e-4, 0.0, 1e-4])  # left and right together: no tie between them
    for step, told in (
        (np.array([1e-4, 0.0, 0.0, 0.0]), slopes.free[Seam.FRONT]),
        (pair, slopes.free[Seam.LEFT] + slopes.free[Seam.RIGHT]),
        (np.array([0.0, 0.0, 1e-4, 0.0]), slopes.free[Seam.BACK]),
    ):
        up, down = difference(shell, at + step) ** 2, difference(shell, at - step) ** 2
        assert told == pytest.approx((up - down) / 2e-4, abs=0.35)
    level = np.array([slopes.at_equal_girth[seam] for seam in SEAMS])
    girth = np.array([slopes.girth[seam] for seam in SEAMS])
    assert level @ girth == pytest.approx(0.0, abs=1e-9)


def test_a_form_as_large_as_the_body_stays_shut_and_one_far_too_small_is_refused() -> None:
    form, body = ellipse(160.0, 110.0), ellipse(150.0, 100.0)
    assert set(best_gaps(form, body, 780.0).gaps_mm.values()) == {0.0}
    assert not opening_for(shell_of(form, body), np.ones(4), 700.0).any()
    with pytest.raises(FitError) as caught:
        best_gaps(form, body, 3000.0)
    assert caught.value.code == "form_too_small"


def test_a_taut_tape_round_two_circles_has_the_length_of_the_formula() -> None:
    # 2 pi r + 2 D: r 5, D 16 gives 63.415927.
    circle = ellipse(5.0, 5.0, 3600)
    apart = np.array([8.0, 0.0])
    _hull, tape = taut(np.vstack((circle - apart, circle + apart)))
    assert tape == pytest.approx(63.415927, abs=1e-4)
