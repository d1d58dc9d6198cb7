# SPDX-License-Identifier: MIT
"""Which form serves which body, against published size tables with answers worked by hand.

D5585: ASTM D5585-11e1, Table 1 (2011), inches, the rows that could be read in ASTM's own abstract:
bust, under-bust, upper chest, neck base and the waist of the curvy figure. EN 13402-3: letter bands
of the bust, cm, as listed in secondary reprints. The forms are invented.
"""

from __future__ import annotations

import pytest

from fitassist.choosing.candidate import Candidate, Range, candidate_of
from fitassist.choosing.covering import fewest
from fitassist.choosing.judging import Needs, judged, ranked
from fitassist.domain.body import Body, Target
from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import What
from tests.builders import a_form

IN = 25.4
SIZES = ("00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20")
D5585 = {
    "bust": (31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46),
    "under_bust": (25.75, 26.5, 27.25, 28, 29, 30, 31, 32.5, 34, 35.75, 37.625, 39.625),
    "upper_chest": (31.75, 32.25, 33.25, 34.125, 35, 35.875, 36.75, 38, 39.25, 40.625, 42.25,
                    43.875),
    "neck": (13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375),
    "waist": (23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39),
}  # fmt: skip
EN_BUST_CM = {
    "XXS": (66, 74), "XS": (74, 82), "S": (82, 90), "M": (90, 98), "L": (98, 107),
    "XL": (107, 119), "XXL": (119, 131), "3XL": (131, 143),
}  # fmt: skip


def inches(least: float, greatest: float | None = None) -> Range:
    return Range(least_mm=least * IN, greatest_mm=(greatest or least) * IN)


def misses(lines: tuple[str, ...] = ("bust", "waist")) -> list[Body]:
    """Return the twelve sizes as bodies."""
    return [
        Body(
            name=size,
            targets=tuple(Target(line=line, value_mm=D5585[line][i] * IN) for line in lines),
        )
        for i, size in enumerate(SIZES)
    ]


def named(judgement) -> set[str]:
    return {judgement.bodies[i].body for i in judgement.served}


# Closed 33 and 25 in. Bust 33 of size 2 is exactly closed: it serves. Its waist 25 3/8 is above 25.
# Sizes 00 and 0 have bust 31 1/8 and 31 3/4, below 33.
SMALL = Candidate(name="small", girths_mm={"bust": inches(33, 41), "waist": inches(25, 33)})
# Closed 39 and 31. The first bust above is 40 3/8 of size 14, its waist 32 1/2.
LARGE = Candidate(name="large", girths_mm={"bust": inches(39, 47), "waist": inches(31, 39)})


def test_a_small_form_serves_size_2_and_up_and_a_large_one_size_14_and_up():
    assert named(judged(SMALL, misses())) == set(SIZES[2:])
    assert named(judged(LARGE, misses())) == set(SIZES[8:])


def test_what_a_small_form_leaves_to_padding_is_the_size_less_what_it_reaches():
    found = {body.body: body.padding_mm / IN for body in judged(SMALL, misses()).bodies}
    # 14: bust 40 3/8 and waist 32 1/2 are reached. 16: 42 1/8 - 41 and 34 1/2 - 33.
    assert found["14"] == pytest.approx(0.0)
    assert found["16"] == pytest.approx(1.125 + 1.5)
    assert found["20"] == pytest.approx((46 - 41) + (39 - 33))


def test_for_sizes_2_to_20_one_form_does_and_the_second_only_saves_padding():
    both = [judged(one, misses()[2:]) for one in (SMALL, LARGE)]
    cover = fewest(both)
    assert cover.chosen == (0,)  # small serves everybody from 2 on
    # 16: 2 5/8; 18: 44 - 41 + 36 3/4 - 33; 20: 11
    assert cover.padding_mm / IN == pytest.approx(2.625 + 3 + 3.75 + 11)


def test_a_neck_that_is_too_large_decides_though_bust_and_waist_would_do():
    # Closed neck 14 1/2: above 14 1/4 of size 6, below 14 5/8 of size 8.
    girths = {**SMALL.girths_mm, "neck": inches(14.5)}
    necked = Candidate(name="thick neck", girths_mm=girths)
    found = judged(necked, misses(("bust", "waist", "neck")))
    assert named(found) == set(SIZES[5:])
    assert found.reason == "too_large_for"
    body, line = found.worst
    # most too large: bust of size 00, 33 - 31 1/8 = 1 7/8; neck there only 14 1/2 - 13 1/4 = 1 1/4
    assert (body.body, line.line) == ("00", "bust")
    assert line.by_mm / IN == pytest.approx(1.875)


def test_a_form_without_dials_serves_whom_it_is_smaller_than_and_is_padded_up():
    # Bust 32, upper chest 31 (invented): from size 2 on at the bust; the upper chest serves all.
    plain = Candidate(name="no dials", girths_mm={"bust": inches(32), "upper_chest": inches(31)})
    found = judged(plain, misses(("bust", "upper_chest")))
    assert named(found) == set(SIZES[2:])
    size_2 = found.bodies[2]
    assert size_2.padding_mm / IN == pytest.approx((33 - 32) + (33.25 - 31))
    assert not plain.has_dials


def test_a_line_the_box_says_nothing_of_is_neither_a_yes_nor_a_no():
    found = judged(SMALL, misses(("bust", "waist", "under_bust"))[4:5]).bodies[0]
    assert [line.outcome for line in found.lines] == ["reached", "reached", "unsaid"]
    nothing = Candidate(name="a name only")
    assert judged(nothing, misses()).reason == "nothing_said"
    assert not judged(nothing, misses()).served


@pytest.mark.parametrize(
    ("least", "greatest", "bands"),
    [
        # In cm, for the lower edge of a band: closed must be at or below it.
        (82, 104, {"S", "M", "L", "XL", "XXL", "3XL"}),
        (90.5, 112, {"L", "XL", "XXL", "3XL"}),
        (66, 80, set(EN_BUST_CM)),
    ],
)
def test_a_letter_band_is_served_when_the_closed_form_is_at_or_below_its_lower_edge(
    least, greatest, bands
):
    form = Candidate(
        name="f", girths_mm={"bust": Range(least_mm=10 * least, greatest_mm=10 * greatest)}
    )
    bodies = [
        Body(name=band, targets=(Target(line="bust", value_mm=10 * low),))
        for band, (low, _high) in EN_BUST_CM.items()
    ]
    assert named(judged(form, bodies)) == bands


def test_the_fewest_forms_for_all_letter_bands_reached_without_padding_are_three():
    # Invented ranges of 28 cm: 66-94, 90-118, 107-145 (38 wide), 100-128. Whoever is in the lower
    # edge of every band is served by the first; that it reaches them is what padding tells.
    ranges = [(66, 94), (90, 118), (100, 128), (107, 145)]
    bodies = [
        Body(name=band, targets=(Target(line="bust", value_mm=5.0 * (low + high)),))
        for band, (low, high) in EN_BUST_CM.items()
    ]
    forms = [
        judged(
            Candidate(
                name=f"{low}",
                girths_mm={"bust": Range(least_mm=10 * low, greatest_mm=10 * high)},
            ),
            bodies,
        )
        for low, high in ranges
    ]
    assert fewest(forms).chosen == (0,)
    # Middles 70 78 86 94 102.5 113 125 137 cm; beyond 94: 8.5 + 19 + 31 + 43.
    assert forms[0].padding_mm == pytest.approx(10 * (8.5 + 19 + 31 + 43))
    assert forms[3].served == frozenset({5, 6, 7})
    assert forms[3].padding_mm == 0.0


def person(**lengths: float) -> Body:
    girth = Target(line="bust", value_mm=950.0)
    others = [Target(line=k, what=What.LENGTH, value_mm=v) for k, v in lengths.items()]
    return Body(name="one", targets=(girth, *others))


def test_shoulders_and_torso_longer_than_the_bodys_rule_a_form_out():
    form = Candidate(
        name="f",
        girths_mm={"bust": Range(least_mm=900, greatest_mm=1000)},
        lengths_mm={
            "shoulder_length": Range(least_mm=125, greatest_mm=125),
            "back_neck_to_waist": Range(least_mm=390, greatest_mm=420),
        },
    )
    assert judged(form, [person(shoulder_length=125, back_neck_to_waist=400)]).served == {0}
    assert not judged(form, [person(shoulder_length=120)]).served
    assert not judged(form, [person(back_neck_to_waist=385)]).served
    tall = judged(form, [person(back_neck_to_waist=440)])
    assert tall.served == {0}
    assert [line.outcome for line in tall.bodies[0].lines] == ["reached", "short"]


def test_height_counts_the_shoes_and_is_told_but_rules_nothing_out():
    reach = {"floor_to_shoulder": Range(least_mm=1200, greatest_mm=1400)}
    form = Candidate(
        name="f", girths_mm={"bust": Range(least_mm=900, greatest_mm=1000)}, lengths_mm=reach
    )
    found = judged(form, [person(floor_to_shoulder=1370)], Needs(shoes_mm=50)).bodies[0]
    assert found.is_served
    assert found.height.outcome == "short"
    assert found.height.by_mm == pytest.approx(20)


@pytest.mark.parametrize(
    ("post", "serves"), [("centre", False), ("offset", True), ("hanging", True), ("unknown", True)]
)
def test_trousers_need_another_post_than_one_in_the_middle(post, serves):
    form = SMALL.model_copy(update={"post": post})
    found = judged(form, misses()[4:5], Needs(trousers=True))
    assert bool(found.served) is serves
    assert found.unsaid == (("trousers",) if post == "unknown" else ())
    assert bool(judged(form, misses()[4:5]).served)  # nobody asked for trousers


def test_ranking_puts_who_serves_more_first_then_who_leaves_less_padding():
    roomy = Candidate(name="roomy", girths_mm={"bust": inches(33, 47), "waist": inches(25, 40)})
    no_pins = roomy.model_copy(update={"name": "hard", "takes_pins": False})
    order = ranked([LARGE, no_pins, SMALL, roomy], misses()[2:], Needs(pins=True))
    assert [one.candidate.name for one in order] == ["roomy", "small", "large", "hard"]
    assert [one.reason for one in order] == ["all_reached", "padded", "too_large_for", "no_pins"]


def test_a_leg_form_is_judged_by_thigh_rise_and_inside_leg():
    legs = Candidate(
        name="legs",
        made_for="legs",
        girths_mm={"thigh": Range(least_mm=500, greatest_mm=500)},
        lengths_mm={"inside_leg": Range(least_mm=760, greatest_mm=760)},
    )
    body = Body(
        name="one",
        targets=(
            Target(line="thigh", value_mm=560.0),
            Target(line="inside_leg", what=What.LENGTH, value_mm=750.0),
            Target(line="body_rise", what=What.LENGTH, value_mm=270.0),
        ),
    )
    found = judged(legs, [body]).bodies[0]
    assert {n.line: (n.outcome, n.by_mm) for n in found.lines} == {
        "thigh": ("padded", 60.0),
        "inside_leg": ("too_large", 10.0),
        "body_rise": ("unsaid", 0.0),
    }


def test_a_mans_form_says_so_for_a_woman_but_her_figures_decide():
    mans = SMALL.model_copy(update={"made_for": "man"})
    found = judged(mans, misses()[4:5])
    assert found.bodies[0].is_made_for_other
    assert found.served == {0}


def test_ones_own_form_reaches_from_its_closed_girth_as_far_as_it_prints():
    # builders: closed 840, 640, 880 mm, every row prints 8 in of girth
    own = candidate_of(a_form())
    assert own.girths_mm["waist"].least_mm == 640.0
    assert own.girths_mm["waist"].greatest_mm == pytest.approx(640.0 + 8 * IN)
    gaps = candidate_of(a_form(dial_meaning=DialMeaning.SEAM_GAP))
    assert gaps.girths_mm["waist"].greatest_mm == pytest.approx(640.0 + 4 * 8 * IN)
    turns = candidate_of(a_form(dial_meaning=DialMeaning.PLAIN_TURNS))
    assert not turns.girths_mm["waist"].turns
