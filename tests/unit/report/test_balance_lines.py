# SPDX-License-Identifier: MIT
"""Tapes on the finished form: centres in the gaps, sides where the body has them."""

from __future__ import annotations

import pytest

from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam, What
from fitassist.errors import FitError
from fitassist.report.balance_lines import balance_of, balance_pages, balance_rows
from fitassist.report.facts import gaps_mm
from fitassist.report.paper import A4
from tests.unit.report.told import a_target, some_facts, words_on

EVEN = {f"{row}.{seam.value}": least + 4.0 for row, least in (("bust", 33.0), ("waist", 25.0),
        ("hip", 35.0)) for seam in Seam}  # fmt: skip


def bust(facts, fronts=None):
    return next(one for one in balance_of(facts, fronts) if one.line == "bust")


def test_with_all_seams_open_alike_the_side_lies_in_the_middle_of_its_gap() -> None:
    found = bust(some_facts(numbers=EVEN))
    assert found.left.from_front_mm == pytest.approx(900.0 / 4.0)
    for side in (found.left, found.right):
        assert side.behind_seam_mm == pytest.approx(0.0)
    assert found.front_gap_mm == pytest.approx(25.4)  # 4 in of number, a quarter at each seam


def test_a_front_that_opened_further_moves_the_side_before_its_gap() -> None:
    numbers = {**EVEN, "bust.front": 41.0}  # 4 in more: its gap is 25.4 mm wider
    found = bust(some_facts(numbers=numbers))
    # Half of each half girth; the gap's middle is 12.7 mm further from centre front than even.
    assert found.left.behind_seam_mm == pytest.approx(-25.4 / 4.0)
    assert found.left.behind_seam_mm == found.right.behind_seam_mm


def test_a_body_measured_to_be_larger_in_front_has_its_side_further_back() -> None:
    parts = [a_target("bust", 495.0, What.FRONT), a_target("bust", 405.0, What.BACK)]
    found = bust(some_facts(numbers=EVEN, more=parts), {"bust": 0.4})
    assert found.is_measured  # goes before what outlines say
    assert found.left.from_front_mm == pytest.approx(495.0 / 2.0)
    assert found.left.behind_seam_mm == pytest.approx(247.5 - 225.0)


def test_outlines_place_the_side_where_nothing_was_measured() -> None:
    found = bust(some_facts(numbers=EVEN), {"bust": 0.55})
    assert not found.is_measured
    assert found.left.from_front_mm == pytest.approx(0.55 * 450.0)


def test_halves_of_a_form_opened_more_at_the_left_add_up_to_its_girth() -> None:
    facts = some_facts(numbers={**EVEN, "bust.left": 41.0})
    found = bust(facts)
    gaps = gaps_mm(facts.form, "bust")
    halves = 2.0 * (found.left.from_front_mm + found.right.from_front_mm)
    assert halves == pytest.approx(found.girth_mm)
    assert found.left.from_front_mm > found.right.from_front_mm
    assert 2.0 * (found.left.from_front_mm - found.right.from_front_mm) == pytest.approx(
        gaps[Seam.LEFT] - gaps[Seam.RIGHT]
    )


def test_heights_are_told_only_where_the_form_has_them() -> None:
    assert all(one.above_waist_mm is None for one in balance_of(some_facts()))
    facts = some_facts()
    lines = tuple(
        line.model_copy(
            update={"height_mm": {"bust": 1160.0, "waist": 1000.0, "hip": 795.0}[line.name]}
        )
        for line in facts.form.lines
    )
    high = facts.model_copy(update={"form": facts.form.model_copy(update={"lines": lines})})
    heights = {one.line: one.above_waist_mm for one in balance_of(high)}
    assert heights == {"bust": 160.0, "waist": 0.0, "hip": -205.0}
    rows = {row[0]: row[1] for row in balance_rows(balance_of(high), "cm")}
    assert rows == {"Bust": "16.0 up", "Waist": "0.0", "Hip": "20.5 down"}


def test_gaps_that_dials_do_not_tell_are_left_to_be_measured() -> None:
    facts = some_facts()
    turns = facts.form.model_copy(update={"dial_meaning": DialMeaning.PLAIN_TURNS})
    pages = balance_pages(facts.model_copy(update={"form": turns}), A4, "in")
    assert "has to be measured" in words_on(pages)
    assert "has to be measured" not in words_on(balance_pages(facts, A4, "in"))


def test_the_sheet_says_neck_shoulders_armholes_and_points_with_their_lengths() -> None:
    more = [
        a_target("neck", 380.0),
        a_target("shoulder_length", 125.0, What.LENGTH),
        a_target("across_back", 360.0, What.LENGTH),
        a_target("bust_point_to_bust_point", 190.0, What.LENGTH),
    ]
    said = words_on(balance_pages(some_facts(more=more), A4, "cm"))
    for length in ("38.0 cm", "12.5 cm", "18.0 cm", "9.5 cm", "2.5 cm below the plate"):
        assert length in said


def test_without_a_fitting_there_are_no_balance_lines() -> None:
    with pytest.raises(FitError, match="sheet_no_form"):
        balance_pages(some_facts(form=None))
