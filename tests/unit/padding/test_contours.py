# SPDX-License-Identifier: MIT
"""The map of what is to be padded agrees with plain geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import Point, Polygon, box

from fitassist.padding.contours import map_regions, outline_rings
from fitassist.padding.gap import measure_gap
from fitassist.padding.girth_book import GirthBook
from fitassist.padding.pieces import Kind, Piece
from fitassist.padding.surface import Section, build_surface
from tests.unit.padding.shells import ellipse

FORM = ellipse(150.0, 105.0)


def sections(*bodies: np.ndarray) -> list[Section]:
    return [Section(f"line {i}", 100.0 * i, FORM, body) for i, body in enumerate(bodies)]


def test_a_body_larger_all_round_by_two_sheets_is_two_sheets_everywhere():
    # Mathematics: the outer parallel curve of an ellipse at 8 mm, drawn from its normals.
    turn = np.linspace(0.0, 2.0 * np.pi, 720, endpoint=False)
    normal = np.column_stack([105.0 * np.sin(turn), 150.0 * np.cos(turn)])
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    body = np.column_stack([150.0 * np.sin(turn), 105.0 * np.cos(turn)]) + 8.0 * normal
    regions = map_regions(measure_gap(sections(body, body)), 4.0, 3.0)
    assert {one.sheets for one in regions} == {1, 2}
    for one in regions:
        outer = Polygon(one.rings[0])
        assert outer.bounds == pytest.approx((-0.5, 0.0, 0.5, 100.0), abs=1e-6)


def test_where_the_form_is_larger_dots_are_told_and_no_sheets():
    body = ellipse(142.0, 105.0)
    regions = map_regions(measure_gap(sections(body, body), ignored_mm=1.0), 4.0, 3.0)
    assert {one.sheets for one in regions} == {0}
    middles = sorted(np.mean(one.rings[0][:, 0]) for one in regions)
    assert middles == pytest.approx([-0.25, 0.25], abs=0.02)  # at both sides


def test_numbers_stand_outside_of_deeper_regions():
    body = ellipse(150.0, 125.0)
    regions = map_regions(measure_gap(sections(body, body)), 4.0, 3.0)
    deepest = max(one.sheets for one in regions)
    assert deepest >= 4
    for one in regions:
        if one.label_at is None:
            continue
        inside = [r for r in regions if r.sheets > one.sheets]
        assert not any(Polygon(r.rings[0]).contains(Point(one.label_at)) for r in inside)


def test_a_piece_over_centre_back_shows_at_both_ends_of_the_map():
    piece = box(0.45 * 900.0, 10.0, 0.55 * 900.0, 60.0)
    rings = outline_rings(piece, 900.0)
    assert len(rings) == 2
    assert {round(float(ring[:, 0].mean()), 1) for ring in rings} == {-0.5, 0.5}


def test_a_band_all_round_adds_two_pi_t_a_sheet_to_the_girths_within():
    # FACTS 3 row 1 (COMPUTED, Steiner): uniform t on any convex section adds exactly 2 pi t.
    surface = build_surface(sections(FORM, FORM, FORM), margin_mm=10.0)
    width = surface.width_mm
    band = Piece("all_round", Kind.WRAP, 1, 1, box(0.0, 60.0, width, 140.0))
    book = GirthBook(surface, [band], 10.0)
    bare = book.girths(book.sheets({}), 5.0)
    laid = book.girths(book.sheets({0: 3}), 5.0)
    assert laid["line 1"] - bare["line 1"] == pytest.approx(2.0 * math.pi * 15.0, abs=0.05)
    assert laid["line 0"] == pytest.approx(bare["line 0"])
    assert not book.touches(0, "line 0")
    assert book.touches(0, "line 1")
    read = book.reading("line 1", laid["line 1"] + 6.0 * math.pi, {0: 3})
    assert read is not None
    assert book.working_thickness([read], 5.0) == pytest.approx(6.0, abs=0.01)


def test_a_reading_below_the_bare_form_tells_no_thickness():
    surface = build_surface(sections(FORM, FORM))
    band = Piece("all_round", Kind.WRAP, 1, 1, box(0.0, 0.0, surface.width_mm, 100.0))
    book = GirthBook(surface, [band], 10.0)
    read = book.reading("line 0", 500.0, {0: 1})
    assert read is None or book.working_thickness([read], 5.0) is None
