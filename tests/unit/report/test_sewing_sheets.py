# SPDX-License-Identifier: MIT
"""The sheets of cover and hem tell the numbers their modules give."""

from __future__ import annotations

import math

import pytest
import shapely

from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.report.cover_sheet import CoverWanted, cover_girths, cover_pages, draft_of, plan_of
from fitassist.report.hem_sheet import HemWanted, hem_pages, over_the_hip
from fitassist.report.page import Polygon
from fitassist.report.paper import A4, ROLL, Paper
from tests.unit.report.told import a_target, some_facts, words_on

NECK = [a_target("neck", 380.0)]
KNIT = CoverWanted(stretched_mm=150.0)  # 10 cm gave 15 cm


def test_the_stretch_test_is_stretched_less_rest_over_rest() -> None:
    assert KNIT.stretch == pytest.approx(0.5)
    assert CoverWanted(stretched_mm=6.0, rest_mm=4.0).stretch == pytest.approx(0.5)
    assert CoverWanted(stretched_mm=6.0, rest_mm=0.0).stretch == 0.0


def test_the_cover_sheet_tells_the_rectangle_the_tube_the_disc_and_each_line() -> None:
    facts = some_facts(more=NECK)
    said = words_on(cover_pages(facts, KNIT, A4, "cm"))
    # The widest line, 95 cm, less 5 %, and two seams of 1 cm.
    assert "92.3 cm round the form" in said
    assert "35.0 cm round" in said  # neck of 38, less 5, two seams of 1
    assert "5.3 %" in said
    assert "25.0 %" in said  # half of what it gives
    assert "common practice" in said
    for width in ("112.0", "147.0", "274.0"):
        assert width in said
    inches = words_on(cover_pages(facts, KNIT, A4, "in"))
    for width in ("44", "54", "58", "72", "108"):
        assert f" {width} " in inches


def test_a_knit_thicker_than_was_allowed_for_is_told() -> None:
    facts = some_facts(more=NECK)
    thick = CoverWanted(stretched_mm=150.0, knit_mm=2.0)
    assert "take a thinner" in words_on(cover_pages(facts, thick, A4, "cm"))
    allowed = facts.preferences.model_copy(update={"cover_mm": 2.0})
    told = words_on(cover_pages(facts.model_copy(update={"preferences": allowed}), thick, A4, "cm"))
    assert "take a thinner" not in told
    assert "1.3 cm" in told or "13 mm" in told  # 2 pi times 2 mm (Steiner)


def test_a_plain_tube_is_snug_at_the_narrowest_line_or_refused() -> None:
    facts = some_facts(more=NECK)
    soft = CoverWanted(stretched_mm=180.0, manner="tube")
    cover = plan_of(facts, soft)
    strains = {fit.line: fit.strain for fit in cover.fits}
    assert strains["waist"] == pytest.approx(0.02)  # common practice: less hangs loose
    assert strains["hip"] == pytest.approx(950.0 / (700.0 / 1.02) - 1.0)
    assert all(fit.taken_mm == 0.0 for fit in cover.fits)
    assert "Sew the rectangle to a tube" in words_on(cover_pages(facts, soft, A4, "cm"))
    with pytest.raises(FitError) as told:
        plan_of(facts, CoverWanted(stretched_mm=150.0, manner="tube"))
    assert told.value.code == "cover_overstretched"
    assert told.value.values["line"] == "hip"


def test_a_drafted_cover_comes_with_its_half_at_true_size() -> None:
    facts = some_facts(more=NECK)
    wanted = CoverWanted(stretched_mm=150.0, manner="drafted")
    pages = cover_pages(facts, wanted, ROLL, "cm")
    drawn = [
        shapely.Polygon(item.points).area
        for item in pages[-1].clipped
        if isinstance(item, Polygon) and item.is_closed
    ]
    assert shapely.Polygon(draft_of(facts, wanted).outline).area in [
        pytest.approx(area) for area in drawn
    ]
    assert "Half a cover at true size" in words_on(pages)
    assert len(cover_pages(facts, wanted, A4)) > 6


def test_girths_of_a_cover_are_those_the_form_is_finished_to() -> None:
    facts = some_facts(more=[a_target("under_bust", 780.0)])
    assert {g.line: g.girth_mm for g in cover_girths(facts)} == {
        "bust": 900.0, "waist": 700.0, "hip": 950.0, "under_bust": 780.0,
    }  # fmt: skip
    heights = [g.z_mm for g in cover_girths(facts)]
    assert heights == sorted(heights)


@pytest.mark.parametrize(
    ("code", "wanted"),
    [
        ("cover_no_stretch", CoverWanted(stretched_mm=105.0)),
        ("cover_overstretched", CoverWanted(stretched_mm=119.0, ease=0.12)),
        ("cover_neck", CoverWanted(stretched_mm=150.0, neck_mm=20.0)),
    ],
)
def test_a_cover_that_cannot_be_is_refused(code, wanted) -> None:
    with pytest.raises(FitError) as told:
        plan_of(some_facts(more=NECK), wanted)
    assert told.value.code == code


def test_without_any_neck_the_cover_asks_for_one() -> None:
    with pytest.raises(FitError, match="cover_no_neck"):
        plan_of(some_facts(), KNIT)


def test_paper_too_small_for_a_pattern_is_refused() -> None:
    wanted = CoverWanted(stretched_mm=150.0, manner="drafted")
    with pytest.raises(FitError, match="paper_too_small"):
        cover_pages(some_facts(more=NECK), wanted, Paper("card", 105.0, 148.0))


def test_the_hem_sheet_tells_three_heights_and_what_they_were_reckoned_with() -> None:
    lengths = (("front", 600.0), ("side", 610.0), ("back", 620.0))
    wanted = HemWanted(1000.0, 1080.0, 50.0, lengths)
    said = words_on(hem_pages(some_facts(), wanted, A4, "cm"))
    for height in ("48.0", "47.0", "46.0", "45.0", "44.0", "43.0"):
        assert height in said
    assert "3.0 cm higher" in said  # 1080 is 30 above 1000 and 50 of shoes
    assert "hang plumb" in said


def test_the_hip_stands_out_by_half_the_breadth_or_as_a_circle() -> None:
    below = a_target("waist_to_hip", 200.0, What.LENGTH)
    assert over_the_hip(some_facts()) == (0.0, {})
    height, out = over_the_hip(some_facts(more=[below]))
    assert height == 200.0
    assert out["side"] == pytest.approx((950.0 - 700.0) / (2.0 * math.pi))
    wide = [a_target("hip", 360.0, What.BREADTH), a_target("waist", 270.0, What.BREADTH)]
    _height, out = over_the_hip(some_facts(more=[below, *wide]))
    assert out["side"] == pytest.approx(45.0)
    level = HemWanted(1000.0, 1000.0, worn_mm=400.0)
    assert "60.5" in words_on(hem_pages(some_facts(more=[below, *wide]), level, A4, "cm"))
