# SPDX-License-Identifier: MIT
"""How a fitting's end is told: amounts, counts, and what is left to padding."""

from __future__ import annotations

from fitassist.domain.steps import Finished, LineResult
from fitassist.wording.fitting_words import number_cells
from fitassist.wording.instructions import detail, title
from tests.unit.wording.test_instructions import a_form


def test_an_amount_is_the_same_in_the_sentence_and_in_the_numbers() -> None:
    # 20.34 mm is 12.8 sixteenths of an inch (25.4 mm, by definition): 13/16, and never 3/4.
    result = LineResult(
        line="under_bust",
        target_mm=800.1,
        predicted_mm=820.44,
        spread_mm=2,
        chance=0.4,
        stands_out_mm=20.34,
    )
    end = Finished(
        id=9,
        verdict="good_enough",
        joint=0.97,
        readings=9,
        turns=11,
        walks=8,
        clicks=94,
        lines=(result,),
        dials={},
    )
    assert number_cells(end, a_form(), "in") == [("Under-bust", "stands out 13/16 in")]
    assert detail(end, a_form(), "in").endswith("stands out past the body by 13/16 in.")


def test_the_end_counts_and_leaves_the_rest_to_padding() -> None:
    end = Finished(
        id=9,
        verdict="as_near_as_dials_go",
        joint=0.5,
        readings=7,
        turns=21,
        walks=1,
        clicks=171,
        lines=(
            LineResult(
                line="hip",
                target_mm=1000,
                predicted_mm=974.6,
                spread_mm=2,
                chance=0.1,
                left_for_padding_mm=25.4,
            ),
        ),
        dials={},
    )
    assert "padding" in title(end, a_form(), "in")
    assert detail(end, a_form(), "in") == (
        "Seven readings, 21 turns of dials, one walk round the form. Hip: 1 in left for padding."
    )


def test_what_stands_out_only_is_not_left_to_padding() -> None:
    line = LineResult(
        line="waist", target_mm=737, predicted_mm=750, spread_mm=2, chance=0.0, stands_out_mm=13.0
    )
    end = Finished(
        id=9, verdict="as_near_as_dials_go", joint=0.0, readings=7, turns=21, walks=1, clicks=171,
        lines=(line,), dials={},
    )  # fmt: skip
    assert "padding" not in title(end, a_form(), "in")
