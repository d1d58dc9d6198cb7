# SPDX-License-Identifier: MIT
"""What the fitting page says beside the instruction: short, in words, never as a bare sign."""

from __future__ import annotations

import pytest

from fitassist.domain.form import Dial, DialMeaning, Form, FormLine, Row
from fitassist.domain.steps import Ask, Finished, LineResult, Measure, SetDials, Turn
from fitassist.wording import fitting_words as words
from fitassist.wording.instructions import detail, title

EIGHTH_IN, QUARTER_IN = 25.4 / 8, 25.4 / 4  # an inch is 25.4 mm exactly


def a_form(**changes: object) -> Form:
    dials = tuple(
        Dial(name=f"bust.{seam}", least=35, greatest=41, click=0.25, number=37)
        for seam in ("front", "left", "back", "right")
    )
    form = Form(
        name="f", lines=(FormLine(name="bust"),), rows=(Row(name="bust", line="bust"),), dials=dials
    )
    return form.model_copy(update=changes)


def a_set(**numbers: float) -> SetDials:
    turns = tuple(
        Turn(
            dial=f"bust.{seam}",
            action="open" if number > 37 else "close",
            start=37,
            number=number,
            clicks=round(abs(number - 37) * 4),
        )
        for seam, number in numbers.items()
    )
    return SetDials(id=1, row="bust", turns=turns)


@pytest.mark.parametrize(
    ("to_go_mm", "unit", "said"),
    [
        (3 * EIGHTH_IN, "in", "3/8 in to go"),
        (-QUARTER_IN, "in", "stands out 1/4 in"),
        (9.0, "cm", "9 mm to go"),
        (-24.0, "cm", "stands out 2.4 cm"),
        (0.0, "in", "at its target"),
        (None, "in", "not known"),
    ],
)
def test_what_is_left_to_go_is_said_in_the_users_unit(
    to_go_mm: float | None, unit: str, said: str
) -> None:
    assert words.to_go_text(to_go_mm, unit) == said  # type: ignore[arg-type]


def test_amounts_beside_each_other_are_said_in_one_unit() -> None:
    # Alone, 18 mm is said in mm and 22 mm in cm.
    beside = words.amounts_unit((18.0, 22.0, None), "cm")
    assert words.to_go_text(18.0, "cm", beside=beside) == "1.8 cm to go"
    assert words.to_go_text(22.0, "cm", beside=beside) == "2.2 cm to go"
    near = words.amounts_unit((18.0, 7.0), "cm")
    assert words.to_go_text(18.0, "cm", beside=near) == "18 mm to go"


def test_a_tolerance_is_said_both_ways_where_they_differ() -> None:
    assert words.tolerance_text((-QUARTER_IN, QUARTER_IN), "in") == "1/4 in either way"
    assert words.tolerance_text((-12.7, EIGHTH_IN), "in") == "1/2 in under, 1/8 in over"


def test_every_state_has_a_shape_of_its_own_beside_its_words() -> None:
    states = ("good", "measure_again", "not_yet", "out_of_reach")
    assert [words.state_text(s) for s in states] == [
        "good",
        "measure again",
        "not yet",
        "out of reach",
    ]
    assert len({words.state_shape(s) for s in states}) == len(states)


def test_a_chance_is_never_certain() -> None:
    assert words.chance_text(0.9999) == "over 99 %"
    assert words.chance_text(0.0001) == "under 1 %"
    assert words.chance_text(0.456) == "46 %"


def test_a_set_of_equal_dials_shows_one_number_and_names_them_above() -> None:
    step = a_set(left=37.5, right=37.5)
    assert words.short_title(step, a_form(), "in") == "Bust, both sides"
    assert words.number_cells(step, a_form(), "in") == [("", "37 → 37 1/2")]


def test_a_set_of_unequal_dials_shows_each_number_with_its_dials() -> None:
    step = a_set(front=37.25, left=37.5, right=37.5)
    assert words.short_title(step, a_form(), "in") == "Bust"
    assert words.number_cells(step, a_form(), "in") == [
        ("front", "37 → 37 1/4"),
        ("both sides", "37 → 37 1/2"),
    ]


def test_the_numbers_of_a_form_in_centimetres_stay_its_own_whatever_the_users_unit() -> None:
    form = a_form(units="cm")
    assert words.number_cells(a_set(left=37.5), form, "in") == [("", "37 → 37.5")]


def test_turns_and_worn_numbers_are_told_by_how_far() -> None:
    turned = a_form(dial_meaning=DialMeaning.PLAIN_TURNS)
    assert words.number_cells(a_set(left=38), turned, "in") == [("", "37 → 38 turns")]
    form = a_form()
    worn = form.model_copy(
        update={"dials": tuple(d.model_copy(update={"readable": False}) for d in form.dials)}
    )
    assert words.number_cells(a_set(left=36.5), worn, "in") == [("", "close two clicks")]


def test_a_measure_shows_what_the_line_is_to_become() -> None:
    step = Measure(id=1, line="bust", expect_mm=None, spread_mm=None, target_mm=981.075)
    assert words.number_cells(step, a_form(), "in") == [("to become", "38 5/8 in")]
    assert words.number_cells(step, a_form(), "cm") == [("to become", "98.1 cm")]


def a_result(**values: float) -> LineResult:
    return LineResult(
        **{"line": "bust", "target_mm": 900, "predicted_mm": 899, "spread_mm": 3, "chance": 0.5}
        | values  # type: ignore[arg-type]
    )


@pytest.mark.parametrize(
    ("verdict", "joint", "result", "said"),
    [
        ("good_enough", 0.5, a_result(), "● good"),
        ("good_enough", 0.97, a_result(), "◐ not sure"),  # compared only, perhaps never read
        ("left", 0.5, a_result(), "◐ not sure"),
        ("left", 0.5, a_result(chance=0.97), "● good"),
        ("as_near_as_dials_go", 0.5, a_result(left_for_padding_mm=25.4), "pad 1 in"),
        ("too_big", 0.5, a_result(stands_out_mm=12.7), "stands out 1/2 in"),
    ],
)
def test_a_result_is_called_good_only_if_it_is_known_to_be(
    verdict: str, joint: float, result: LineResult, said: str
) -> None:
    end = Finished(
        id=9,
        verdict=verdict,  # type: ignore[arg-type]
        joint=joint,
        readings=3,
        turns=2,
        walks=2,
        clicks=9,
        lines=(result,),
        dials={},
    )
    assert words.number_cells(end, a_form(), "in") == [("Bust", said)]


def test_uneven_dials_may_be_as_the_body_is() -> None:
    ask = Ask(id=1, code="symmetry", choices=("even", "keep"), values={"row": "bust"})
    assert words.choice_text(ask, "keep") == "The body is like this"
    asked = title(ask, a_form(), "in"), detail(ask, a_form(), "in")
    for name in ask.choices:  # what is offered in words is what the buttons say
        assert words.choice_text(ask, name) in asked[1]
    assert words.choice_text(ask, "even") == "Even them out"


def test_what_comes_is_named_with_its_number_where_it_is_one() -> None:
    form, same = a_form(), {"numbers": {"bust.left": 38.5, "bust.right": 38.5}}
    assert words.coming_title("set", "bust", same, form) == "Set the bust to 38 1/2"
    mixed = {"numbers": {"bust.left": 38.5, "bust.right": 38.0}}
    assert words.coming_title("set", "bust", mixed, form) == "Set the bust"
    assert words.coming_title("measure", "bust", {}, form) == "Measure the bust"


def test_the_users_own_words_stay_plain_text_on_one_line() -> None:
    said = words.say("volunteer_stuck", dial="bust\nleft")
    assert said == "bust left is stuck; the plan goes on without it."


def test_no_sentence_speaks_of_clocks_or_shouts() -> None:
    every = words.keys()
    for key in every:
        text = words.say(key) if "{" not in words._TEXTS[key] else words._TEXTS[key]
        assert "clockwise" not in text
        assert not text.isupper()
