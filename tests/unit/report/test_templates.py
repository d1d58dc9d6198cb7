# SPDX-License-Identifier: MIT
"""Sheets that meet, shapes that do not lie on one another, and words that say what is what."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.padding.plan import Manner, plan_padding
from fitassist.padding.shoulder import shoulder_wedge
from fitassist.padding.surface import Section
from fitassist.report.nesting import nest
from fitassist.report.page import Line, Page, Polygon, Text, box_of
from fitassist.report.paper import A3, A4, LETTER, PAPERS, ROLL, SAFE_MM, Paper
from fitassist.report.templates import check_squares, cut_length_mm, template_pages
from fitassist.report.tiles import MOST_PAGES, OVERLAP_MM, cross, plan_tiles, tile
from fitassist.wording.padding_words import by_eye_text, layer_text, place_text
from fitassist.wording.sentences import sentence
from tests.unit.padding.shells import ellipse

HEIGHTS = (("hip", -200.0), ("waist", 0.0), ("bust", 160.0))
SIZES = st.lists(st.tuples(st.floats(10.0, 300.0), st.floats(10.0, 300.0)), max_size=25)


@cache
def small_plan():
    parts = [Section(n, z, ellipse(140, 95), ellipse(152, 112)) for n, z in HEIGHTS]
    gaps = {line: {Seam.FRONT: 15.0, Seam.BACK: 10.0} for line, _z in HEIGHTS}
    return plan_padding(parts, 6.0, gaps_mm=gaps)


def words(pages: list[Page]) -> list[str]:
    return [i.text for p in pages for i in (*p.items, *p.clipped) if isinstance(i, Text)]


# Inside 10 mm margins (worked out from the sizes: A4 and Letter share 190 x 259).
def test_a4_and_letter_share_the_room_that_was_worked_out() -> None:
    width = min(A4.room_mm[0], LETTER.room_mm[0])
    height = min(A4.room_mm[1], LETTER.room_mm[1])
    assert (int(width), int(height)) == (190, 259)


@given(SIZES)
def test_shapes_laid_out_on_a_width_lie_in_it_and_apart(sizes) -> None:
    laid = nest(sizes, 400.0, 5.0)
    boxes = [
        shapely.box(x, y, x + w, y + h) for (x, y), (w, h) in zip(laid.corners, sizes, strict=True)
    ]
    for number, one in enumerate(boxes):
        assert one.bounds[0] >= 0.0
        assert one.bounds[2] <= 400.0 + 1e-6
        assert one.bounds[3] <= laid.height_mm + 1e-6
        assert all(one.distance(other) >= 5.0 - 1e-6 for other in boxes[:number])


def test_a_shape_wider_than_the_material_is_refused_in_words() -> None:
    with pytest.raises(FitError) as told:
        nest([(500.0, 10.0)], 400.0)
    assert told.value.code == "padding_too_wide"
    assert "500 mm" in sentence(told.value, "mm")


@given(st.floats(10.0, 1500.0), st.floats(10.0, 1500.0), st.sampled_from([A4, A3, LETTER, ROLL]))
def test_the_windows_of_the_sheets_cover_the_drawing_and_overlap(width, height, paper) -> None:
    tiling = plan_tiles(width, height, paper)
    windows = [shapely.box(*window) for window in tiling.windows_mm]
    assert shapely.box(0, 0, width, height).difference(shapely.union_all(windows)).area < 1e-6
    for left, top, right, bottom in tiling.windows_mm:
        assert right - left == pytest.approx(paper.width_mm - 2.0 * SAFE_MM)
        if paper.height_mm:
            assert bottom - top == pytest.approx(paper.height_mm - 2.0 * SAFE_MM)
    if len(windows) > 1:
        for number, window in enumerate(windows):
            neighbours = windows[:number] + windows[number + 1 :]
            shared = window.intersection(shapely.union_all(neighbours))
            assert shared.minimum_clearance > 0.0
            assert min(
                shared.bounds[2] - shared.bounds[0], shared.bounds[3] - shared.bounds[1]
            ) >= (OVERLAP_MM - 1e-6)


def test_each_cross_is_whole_on_every_sheet_it_joins_and_at_one_place() -> None:
    tiling = plan_tiles(500.0, 700.0, A4)
    corners = ((1.0, 1.0), (499.0, 1.0), (499.0, 699.0), (1.0, 699.0))
    pages = tile([Polygon(corners)], tiling)
    assert len(pages) == len(tiling.names)
    seen: dict[tuple[float, float], int] = {}
    for page, window in zip(pages, tiling.windows_mm, strict=True):
        lines = [item for item in page.clipped if isinstance(item, Line)]
        for flat in [line for line in lines if line.start[1] == line.end[1]]:
            middle = np.add(flat.start, flat.end) / 2
            place = np.add(middle, [window[0] - SAFE_MM, window[1] - SAFE_MM]).round(6)
            seen[tuple(place)] = seen.get(tuple(place), 0) + 1
            left, top, right, bottom = box_of(flat)
            assert page.clip is not None
            assert page.clip[0] <= left < right <= page.clip[2]
            assert page.clip[1] <= top <= bottom <= page.clip[3]
    assert len(seen) == len(tiling.crosses_mm)
    assert min(seen.values()) >= 2


def test_nothing_is_drawn_in_the_margin_no_printer_reaches() -> None:
    for paper in PAPERS.values():
        for page in template_pages(small_plan(), paper):
            assert page.width_mm == paper.width_mm
            for item in page.items:
                left, top, right, bottom = box_of(item)
                assert min(left, top) >= SAFE_MM - 2.5  # letters are boxed generously
                assert right <= page.width_mm - SAFE_MM + 2.5
                assert bottom <= page.height_mm - SAFE_MM + 2.5
            if page.clip is not None:
                assert min(page.clip[:2]) >= SAFE_MM
                assert page.clip[2] <= page.width_mm - SAFE_MM + 1e-6
                assert page.clip[3] <= page.height_mm - SAFE_MM + 1e-6


def test_every_piece_is_drawn_true_to_size_once_for_each_pair() -> None:
    plan = small_plan()
    pages = template_pages(plan, ROLL)
    outlines = [
        shapely.Polygon(item.points).area
        for page in pages[2:]
        for item in page.clipped
        if isinstance(item, Polygon) and item.is_closed and not item.dash_mm
    ]
    expected = [
        shapely.Polygon(flat.outline_mm).area
        for piece, flats in zip(plan.pieces, plan.shapes, strict=True)
        if not piece.mirrors
        for flat in flats
    ] + [15.0 * strip.length_mm / (1.0 if strip.seam == Seam.FRONT else 1.5)
         for strip in plan.strips]  # fmt: skip
    assert set(np.round(expected, 3)) <= set(np.round(outlines, 3))


def test_templates_say_place_layer_lines_and_what_is_up() -> None:
    plan = small_plan()
    said = words(template_pages(plan, A4))
    for piece in plan.pieces:
        assert (place_text(piece.place) in said) or piece.mirrors
    assert "up" in said
    assert "waist" in said
    assert "front gap" in said
    assert any("layer 1 of" in text for text in said)
    if any(piece.mirrors for piece in plan.pieces):
        assert "and its mirror image" in said


def test_the_test_page_has_a_square_of_100_mm_and_one_of_4_in() -> None:
    page = check_squares(LETTER)
    squares = [item for item in page.items if isinstance(item, Polygon)]
    sides = [box_of(square)[2] - box_of(square)[0] for square in squares]
    assert sides == pytest.approx([100.0, 101.6])  # an inch is 25.4 mm exactly


def test_a_wider_material_needs_no_more_length() -> None:
    plan = small_plan()
    lengths = [cut_length_mm(plan, width) for width in (1120.0, 1370.0, 2740.0)]
    assert lengths == sorted(lengths, reverse=True)
    area = sum(shapely.Polygon(flat.outline_mm).area for flats in plan.shapes for flat in flats)
    assert lengths[0] * 1120.0 >= area


def test_the_overview_says_how_much_of_each_usual_width_all_sheets_take() -> None:
    plan = small_plan()
    said = words(template_pages(plan, A4, unit="cm")[1:2])
    length = cut_length_mm(plan, 1370.0)
    assert (
        f"On material 137.0 cm wide all sheets take {length / 10:.1f} cm, strips included." in said
    )


def test_a_wedge_is_drawn_true_to_size_sheet_by_sheet() -> None:
    wedge = shoulder_wedge(120.0, 28.0, 24.0, 2.5, 90.0)
    pages = template_pages(small_plan(), ROLL, ("left_shoulder", wedge))
    sizes = [box_of(i) for p in pages[2:] for i in p.clipped if isinstance(i, Polygon)]
    wide = [
        right - left for left, top, right, bottom in sizes if bottom - top == pytest.approx(90.0)
    ]
    for length in wedge.lengths_mm:
        assert any(one == pytest.approx(length) for one in wide)
    assert words(pages[2:]).count("left shoulder") == len(wedge.lengths_mm)


def test_a_piece_that_must_be_eased_says_by_how_much() -> None:
    plan = small_plan()
    flats = tuple(tuple(replace(f, distortion=0.034) for f in flats) for flats in plan.shapes)
    assert "eased by up to 3 %" in words(template_pages(replace(plan, shapes=flats), A4))
    easy = tuple(tuple(replace(f, distortion=0.01) for f in flats) for flats in plan.shapes)
    assert not any("eased" in w for w in words(template_pages(replace(plan, shapes=easy), A4)))


@pytest.mark.parametrize(
    ("code", "paper"),
    [
        ("paper_too_small", Paper("card", 105.0, 148.0)),
        ("paper_too_small", Paper("strip", 100.0, 0.0)),
        ("paper_too_small", Paper("none", 10.0, 10.0)),
    ],
)
def test_paper_smaller_than_its_marks_is_refused_in_words(code, paper) -> None:
    with pytest.raises(FitError) as told:
        template_pages(small_plan(), paper)
    assert told.value.code == code
    assert "A4" in sentence(told.value)


def test_more_sheets_than_anyone_would_tape_are_refused() -> None:
    with pytest.raises(FitError) as told:
        plan_tiles(5000.0, 5000.0, A4)
    assert told.value.code == "paper_too_many_pages"
    assert str(MOST_PAGES) in sentence(told.value)


def test_nothing_to_cut_is_said_and_not_printed() -> None:
    parts = [Section(n, z, ellipse(140, 95), ellipse(140, 95)) for n, z in HEIGHTS]
    plan = plan_padding(parts, 6.0, manner=Manner.FREE, ignored_mm=1.0)
    with pytest.raises(FitError, match="padding_no_piece"):
        template_pages(plan)


def test_by_eye_sizes_are_said_in_the_readers_unit() -> None:
    sizes = [(127.0, 101.6), (165.1, 127.0), (203.2, 152.4)]  # 5 x 4, 6 1/2 x 5, 8 x 6 in
    said = by_eye_text("left_cup", sizes, "in")
    assert said == "left cup: 3 layers, 5 × 4, 6 1/2 × 5, 8 × 6 in"
    assert by_eye_text("tummy", sizes[:1], "cm") == "tummy: 1 layer, 12.5 × 10.0 cm"
    assert layer_text(2, 4, 3) == "layer 2 of 4, cut 3"


def test_a_cross_is_four_arms_about_its_middle() -> None:
    one, other = cross(50.0, 60.0)
    assert isinstance(one, Line)
    assert isinstance(other, Line)
    assert np.add(one.start, one.end) / 2 == pytest.approx([50.0, 60.0])
    assert np.add(other.start, other.end) / 2 == pytest.approx([50.0, 60.0])
