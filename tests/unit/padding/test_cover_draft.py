# SPDX-License-Identifier: MIT
"""Covers shaped at centre back: alike strain, what is pinned out, the neck tube, the half draft."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from fitassist.errors import FitError
from fitassist.padding.cover import neck_tube
from fitassist.padding.cover_draft import CoverGirth, draft_cover, shaped_cover
from fitassist.wording.sentences import sentence

LINES = (
    CoverGirth("hip", 1000.0, -200.0),
    CoverGirth("waist", 760.0, 0.0),
    CoverGirth("bust", 940.0, 160.0),
    CoverGirth("upper_chest", 900.0, 240.0),
)


def test_every_line_is_stretched_by_the_ease_over_one_less_the_ease() -> None:
    # FACTS 7, computed: cut smaller by 5 % a cover is stretched by 5.26 %, by 10 % by 11.1 %.
    for ease, strain in ((0.05, 0.0526), (0.10, 0.1111)):
        cover = shaped_cover(LINES, 0.5, 700.0, 360.0, ease)
        assert [fit.strain for fit in cover.fits] == pytest.approx([strain] * 4, abs=5e-5)


def test_what_is_pinned_out_is_what_the_rectangle_has_too_much() -> None:
    cover = shaped_cover(LINES, 0.5, 700.0, 360.0, 0.05)
    taken = {fit.line: fit.taken_mm for fit in cover.fits}
    assert taken["hip"] == pytest.approx(0.0)
    assert taken["waist"] == pytest.approx(0.95 * (1000.0 - 760.0))
    assert cover.cut_mm[0] == pytest.approx(950.0 + 20.0)  # two seams of 10 mm
    assert cover.cut_mm[1] == pytest.approx(700.0 + 10.0 + 30.0)


def test_the_neck_tube_is_5_cm_smaller_unless_the_knit_could_not_bear_it() -> None:
    # Common practice: neck less about 2 in or 5 cm, 7 to 10 in or 18 to 25 cm long.
    assert neck_tube(380.0, 1.0)[0] == pytest.approx(380.0 - 50.0 + 20.0)
    assert 180.0 <= neck_tube(380.0, 1.0)[1] <= 250.0
    stiff = neck_tube(380.0, 0.2)[0] - 20.0
    assert 380.0 / stiff - 1.0 == pytest.approx(0.1)  # half of what the knit gives


def test_the_disc_covers_the_neck_and_the_foam_beside_it() -> None:
    cover = shaped_cover(LINES, 0.5, 700.0, 360.0)
    assert cover.foam_mm == pytest.approx(360.0 / math.pi)
    assert cover.disc_mm == pytest.approx(360.0 / math.pi + 60.0 + 20.0)


def test_fabric_is_told_for_usual_widths_that_are_wide_enough_and_holds_all_pieces() -> None:
    cover = shaped_cover(LINES, 0.5, 700.0, 360.0)
    area = cover.cut_mm[0] * cover.cut_mm[1] + cover.tube_mm[0] * cover.tube_mm[1]
    area += cover.disc_mm**2
    assert cover.needed_mm
    for width, length in cover.needed_mm:
        assert width in (910.0, 1120.0, 1370.0, 1470.0, 1830.0, 2740.0)  # FACTS 8, trade tables
        assert width >= cover.cut_mm[0]
        assert width * length >= area


@pytest.mark.parametrize(
    ("code", "changed"),
    [
        ("padding_too_few_lines", {"lines": ()}),
        ("cover_no_stretch", {"stretch": 0.1}),
        ("cover_no_stretch", {"stretch": float("nan")}),
        ("cover_no_stretch", {"stretch": -0.5}),
        ("cover_ease", {"ease": 0.0}),
        ("cover_ease", {"ease": 0.7}),
        ("cover_height", {"height_mm": 5.0}),
        ("cover_neck", {"neck_mm": 0.0}),
        ("cover_overstretched", {"stretch": 0.2, "ease": 0.1}),
        ("cover_pinned_too_much", {"lines": (LINES[0], CoverGirth("waist", 600.0, 0.0))}),
    ],
)
def test_a_cover_that_would_not_do_is_refused_with_its_reason(code, changed) -> None:
    told = {"lines": LINES, "stretch": 0.5, "height_mm": 700.0, "neck_mm": 360.0, **changed}
    with pytest.raises(FitError) as refused:
        shaped_cover(**told)
    assert refused.value.code == code
    assert len(sentence(refused.value)) > 20


def test_too_much_for_pins_can_still_be_drafted() -> None:
    lines = (LINES[0], CoverGirth("waist", 600.0, 0.0))
    cover = shaped_cover(lines, 0.5, 700.0, 360.0, is_pinned=False)
    assert cover.fits[1].taken_mm == pytest.approx(0.95 * 400.0)


def test_a_draft_is_as_wide_at_each_line_as_half_its_girth_less_the_ease() -> None:
    draft = draft_cover(LINES, 0.05, 60.0, 400.0, 360.0)
    shape = shapely.Polygon(draft.outline)
    assert shape.is_valid
    for one in LINES[:-1]:  # at the topmost line the seam of the shoulder ends
        cut = shape.intersection(shapely.LineString([(-5.0, one.z_mm), (900.0, one.z_mm)]))
        assert cut.length == pytest.approx(one.girth_mm * 0.95 / 2.0, abs=0.6)
    low, high = shape.bounds[1], shape.bounds[3]
    assert (low, high) == pytest.approx((-260.0, 400.0))


def test_the_edges_of_the_shoulder_seam_are_equally_long_and_end_at_one_point() -> None:
    draft = draft_cover(LINES, 0.05, 60.0, 400.0, 360.0, 125.0, 23.0)
    front, back = (shapely.LineString(edge) for edge in draft.shoulder)
    assert front.length == pytest.approx(back.length)
    assert draft.shoulder[0][-1] == draft.shoulder[1][-1]
    neck, tip = (np.array(p) for p in draft.shoulder[0][:2])
    fall = math.degrees(math.atan2(neck[1] - tip[1], tip[0] - neck[0]))
    assert fall == pytest.approx(23.0)
    assert np.hypot(*(tip - neck)) == pytest.approx(125.0)


def test_the_neck_of_a_draft_is_about_as_long_as_the_neck_less_the_ease() -> None:
    draft = draft_cover(LINES, 0.05, 60.0, 400.0, 360.0)
    points = np.array(draft.outline)
    scoop = points[-10:]  # from the shoulder to the fold
    quarter = np.hypot(*np.diff(scoop, axis=0).T).sum()
    # A quarter of a circle whose whole length is the neck less 5 %.
    assert quarter == pytest.approx(0.95 * 360.0 / 4.0, rel=0.01)


@pytest.mark.parametrize("neck_z", [200.0, 250.0])
def test_a_neck_below_a_line_is_refused(neck_z) -> None:
    with pytest.raises(FitError, match="cover_neck_low"):
        draft_cover(LINES, 0.05, 60.0, neck_z, 360.0)
