# SPDX-License-Identifier: MIT
"""Materials, strips, the shoulder wedge and the cover, against arithmetic done outside."""

from __future__ import annotations

import math

import numpy as np
import pytest

from fitassist.domain.lines import Seam
from fitassist.errors import BadFile, FitError
from fitassist.files import resources_dir
from fitassist.padding.cover import CoverLine, plan_cover, strain_of
from fitassist.padding.materials import read_materials, working_thickness
from fitassist.padding.shoulder import shoulder_wedge
from fitassist.padding.strips import gap_strips
from fitassist.wording.sentences import sentence
from tests.unit.padding.shells import ellipse

NECK = ellipse(60.0, 55.0)
LINES = [CoverLine("bust", 920.0), CoverLine("waist", 780.0), CoverLine("hip", 980.0)]


def test_all_materials_can_be_read_and_say_how_sure_they_are() -> None:
    materials = read_materials((resources_dir() / "materials.json").read_bytes())
    by_key = {one.key: one for one in materials}
    assert len(by_key) == len(materials) >= 5
    assert all(one.mark == "PRACTICE" and one.note for one in materials)
    # Trade guides: 1/8 in, 1/2 in, 3/4 in.
    assert by_key["cotton"].thickness_mm == pytest.approx(25.4 / 8, abs=0.05)
    assert by_key["wool"].thickness_mm == pytest.approx(25.4 / 2)
    assert by_key["polyester_8oz"].thickness_mm == pytest.approx(25.4 * 0.75, abs=0.06)


@pytest.mark.parametrize(
    ("text", "code"),
    [("{", "bad_json"), ("[]", "bad_document"), ('{"materials": [{"key": "x"}]}', "bad_document")],
)
def test_a_list_of_materials_that_is_none_is_refused(text, code) -> None:
    with pytest.raises(BadFile) as told:
        read_materials(text)
    assert told.value.code == code


def test_wraps_give_the_thickness_back() -> None:
    # Worked rows (Steiner): 3.2 mm all round is +20.1 mm of girth, 12.7 mm is +79.8 mm.
    assert working_thickness(800.0, 820.1, 1) == pytest.approx(3.2, abs=0.01)
    assert working_thickness(800.0, 879.8, 1) == pytest.approx(12.7, abs=0.01)
    assert working_thickness(800.0, 800.0 + 3 * 20.1, 3) == pytest.approx(3.2, abs=0.01)


@pytest.mark.parametrize(
    ("code", "numbers"),
    [
        ("padding_wraps", (800.0, 820.0, 0)),
        ("padding_wraps", (800.0, 820.0, 21)),
        ("padding_wrap_girth", (800.0, 790.0, 1)),
        ("padding_wrap_girth", (800.0, 800.0, 1)),
        ("padding_wrap_girth", (800.0, float("nan"), 1)),
    ],
)
def test_wraps_that_cannot_be_are_refused(code, numbers) -> None:
    with pytest.raises(FitError) as told:
        working_thickness(*numbers)
    assert told.value.code == code
    assert len(sentence(told.value)) > 20


def test_a_strip_is_as_wide_as_the_gap_it_bridges() -> None:
    gaps = [(0.0, {Seam.FRONT: 20.0}), (100.0, {Seam.FRONT: 30.0, Seam.BACK: 1.0})]
    (strip,) = gap_strips(gaps)
    assert strip.seam == Seam.FRONT
    assert strip.length_mm == 100.0
    across = [x for x, _y in strip.outline_mm]
    assert max(across) - min(across) == 30.0
    assert gap_strips([(0.0, {}), (100.0, {})]) == ()
    with pytest.raises(FitError, match="padding_gap"):
        gap_strips([(0.0, {Seam.LEFT: -1.0}), (100.0, {})])


def test_the_wedge_lifts_the_tip_by_the_difference_of_the_slopes() -> None:
    # length (sin lower - sin higher), here 120 mm, 28 and 24 degrees: 7.53 mm by hand.
    wedge = shoulder_wedge(120.0, 28.0, 24.0, 2.5, 90.0)
    assert wedge.tip_mm == pytest.approx(7.528, abs=0.002)
    assert len(wedge.lengths_mm) == 3
    assert list(wedge.lengths_mm) == sorted(wedge.lengths_mm)
    area = sum(wedge.lengths_mm) * 2.5
    assert area == pytest.approx(120.0 * wedge.tip_mm / 2, rel=0.02)  # the triangle it fills
    assert shoulder_wedge(120.0, 24.0, 24.0, 2.5, 90.0).lengths_mm == ()
    with pytest.raises(FitError, match="padding_shoulder"):
        shoulder_wedge(120.0, 20.0, 24.0, 2.5, 90.0)


def test_negative_ease_strains_a_cover_by_more_than_its_share() -> None:
    # 5 % gives 5.26 %, 10 % gives 11.1 % (worked rows).
    assert strain_of(0.05) == pytest.approx(0.0526, abs=5e-5)
    assert strain_of(0.10) == pytest.approx(0.111, abs=2e-4)


def test_a_cover_is_snug_at_the_narrowest_and_not_strained_at_the_widest() -> None:
    cover = plan_cover(LINES, 0.75, 600.0, NECK)
    strains = dict(cover.strains)
    assert min(strains, key=strains.__getitem__) == "waist"
    assert strains["waist"] > 0.0
    assert strains["hip"] <= 0.375
    for line in LINES:
        assert cover.girth_mm * (1.0 + strains[line.line]) == pytest.approx(line.girth_mm)
    widths = dict(cover.needed_mm)
    assert set(widths) <= {910.0, 1120.0, 1370.0, 1470.0, 1830.0, 2740.0}
    assert min(widths) >= cover.cut_width_mm
    assert min(widths.values()) >= cover.cut_height_mm
    area = math.pi * 60.0 * 55.0
    assert cover.disc_mm == pytest.approx(2.0 * math.sqrt(area / math.pi) + 20.0, abs=0.1)


@pytest.mark.parametrize(
    ("code", "line", "stretch", "ease"),
    [
        ("cover_no_stretch", "", 0.05, None),
        ("cover_no_stretch", "", float("nan"), None),
        ("cover_overstretched", "hip", 0.30, None),
        ("cover_overstretched", "hip", 0.30, 0.40),
        ("cover_loose", "waist", 0.75, 0.05),
        ("cover_ease", "", 0.75, 0.0),
        ("cover_ease", "", 0.75, 1.0),
    ],
)
def test_a_cover_that_would_not_fit_is_refused_with_its_line(code, line, stretch, ease) -> None:
    with pytest.raises(FitError) as told:
        plan_cover(LINES, stretch, 600.0, NECK, ease)
    assert told.value.code == code
    assert told.value.values.get("line", "") == line
    said = sentence(told.value)
    assert "this" not in said.lower().replace("this knit", "")
    assert np.all([mark not in said for mark in "{}"])
