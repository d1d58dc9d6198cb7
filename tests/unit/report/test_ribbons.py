# SPDX-License-Identifier: MIT
"""Ribbons: marks where the body's parts were measured, strips as long as the girth."""

from __future__ import annotations

import pytest

from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.report.page import Line, Polygon
from fitassist.report.paper import A3, A4, LETTER, ROLL, SAFE_MM
from fitassist.report.ribbons import (
    STRIP_MM,
    TAIL_MM,
    blank_pages,
    ribbon_pages,
    ribbons_of,
    strip_pages,
)
from fitassist.report.tiles import plan_tiles
from tests.unit.report.told import GIRTHS, a_target, some_facts, words_on

PARTS = [
    a_target("bust", 500.0, What.FRONT),
    a_target("bust", 400.0, What.BACK),
    a_target("bust", 460.0, What.LEFT_HALF),
    a_target("bust", 440.0, What.RIGHT_HALF),
    a_target("back_neck_to_waist", 400.0, What.LENGTH),
]


def test_marks_stand_where_halves_and_front_were_measured() -> None:
    bust = next(one for one in ribbons_of(some_facts(more=PARTS)) if one.line == "bust")
    marks = dict(bust.marks)
    assert marks["mark_centre_back"] == pytest.approx(460.0)
    assert marks["mark_left_side"] == pytest.approx(460.0 * 500.0 / 900.0)
    assert marks["mark_right_side"] == pytest.approx(460.0 + 440.0 * 400.0 / 900.0)
    assert not bust.is_guessed


def test_marks_stand_at_quarters_where_nothing_finer_is_known_and_that_is_said() -> None:
    hip = next(one for one in ribbons_of(some_facts()) if one.line == "hip")
    assert [mm for _key, mm in hip.marks] == pytest.approx([237.5, 475.0, 712.5])
    assert "quarters" in words_on(ribbon_pages(some_facts(), A4, "cm"))


def test_the_table_says_every_distance_in_the_readers_unit() -> None:
    said = words_on(ribbon_pages(some_facts(more=PARTS), A4, "cm"))
    for text in ("90.0", "46.0", "25.6", "95.0", "40.0", "20.0", "centimetres"):
        assert text in said
    assert "not measured" in said  # shoulder to bust
    inches = words_on(ribbon_pages(some_facts(), A4, "in"))
    assert "35 7/16" in inches  # 900 mm
    assert "27 9/16" in inches  # 700 mm


def test_nothing_measured_makes_no_ribbon() -> None:
    facts = some_facts()
    bare = facts.model_copy(update={"body": facts.body.model_copy(update={"targets": ()})})
    for make in (ribbon_pages, strip_pages):
        with pytest.raises(FitError, match="sheet_no_ribbon"):
            make(bare)


@pytest.mark.parametrize("paper", [A4, A3, LETTER])
def test_strips_are_as_long_as_their_girth_from_start_to_end_mark(paper) -> None:
    facts = some_facts()
    pages = strip_pages(facts, paper)
    longest = max(GIRTHS.values()) + 2.0 * TAIL_MM
    tiling = plan_tiles(longest + 2.0, 3 * 28.0, paper)
    across: dict[float, set[float]] = {}
    for page, window in zip(pages[1:], tiling.windows_mm, strict=True):
        for item in page.clipped:
            if isinstance(item, Line) and abs(item.end[1] - item.start[1]) == STRIP_MM:
                top = round(item.start[1] - SAFE_MM + window[1], 3)
                across.setdefault(top, set()).add(round(item.start[0] - SAFE_MM + window[0], 3))
    lengths = [max(xs) - min(xs) for _top, xs in sorted(across.items())]
    assert lengths == pytest.approx([900.0, 700.0, 950.0])
    assert all(len(xs) == 5 for xs in across.values())  # start, two sides, centre back, end


def test_on_a_roll_each_strip_runs_down_in_one_piece() -> None:
    _squares, page = strip_pages(some_facts(), ROLL)
    strips = [i for i in page.clipped if isinstance(i, Polygon)]
    sizes = sorted(max(y for _x, y in s.points) - min(y for _x, y in s.points) for s in strips)
    assert sizes == pytest.approx([750.0, 950.0, 1000.0])
    assert page.height_mm >= 1000.0 + 2.0 * SAFE_MM


def test_more_ribbons_than_a_sheet_is_high_go_on_other_sheets() -> None:
    more = [a_target(f"own line {n}", 600.0 + n) for n in range(20)]
    pages = strip_pages(some_facts(more=more), A4)
    assert "own line 19" in words_on(pages).lower()
    names = [text for text in words_on(pages).split() if text in ("A1", "B1", "C1")]
    assert names == ["A1", "B1", "C1"]


def test_the_blank_sheet_has_a_row_for_every_line_and_tells_nobodys_numbers() -> None:
    said = words_on(blank_pages(A4))
    for line in ("Bust", "Waist", "Hip", "Back neck to waist", "Shoulder to bust"):
        assert line in said
    assert len(blank_pages(A4)) == len(blank_pages(LETTER)) == 1
