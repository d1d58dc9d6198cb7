# SPDX-License-Identifier: MIT
"""What lengths say of a body and a form: each thing once, kindly, and only where it is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import Form, FormLine, Stand, Torso
from fitassist.domain.lines import What
from fitassist.domain.steps import Check, Finished
from fitassist.session import posture
from fitassist.session.fitting import Fitting
from fitassist.session.posture import posture_notes, wedge_of
from fitassist.wording import reasons
from fitassist.wording.instructions import detail, title
from fitassist.wording.posture_words import POSTURE_REASONS
from tests.builders import CLOSED_MM, a_form
from tests.unit.session.test_fitting import answered

INCH_MM = 25.4  # exactly, by the international agreement of 1959
HEIGHTS_MM = {"bust": 160.0, "waist": 0.0, "hip": -200.0}


def a_body(kind: str = "woman", **lengths: float) -> Body:
    girths = (Target(line=n, value_mm=mm + 60.0) for n, mm in CLOSED_MM.items())
    more = (Target(line=k, what=What.LENGTH, value_mm=mm) for k, mm in lengths.items())
    return Body(name="b", kind=kind, targets=(*girths, *more))  # type: ignore[arg-type]


def a_tall_form(parts: str = "front_back_sides", **fields: object) -> Form:
    lines = tuple(
        FormLine(name=n, closed_girth_mm=CLOSED_MM[n], height_mm=mm) for n, mm in HEIGHTS_MM.items()
    )
    torso = Torso(parts=parts, least_mm=380.0, greatest_mm=430.0, length_mm=380.0)  # type: ignore[arg-type]
    stand = Stand(least_mm=1200.0, greatest_mm=1500.0, height_mm=1350.0)
    update = {"lines": lines, "torso": torso, "stand": stand, **fields}
    return a_form().model_copy(update=update)


def codes(body: Body, form: Form | None = None) -> list[str]:
    return [note.reason.code for note in posture_notes(body, form or a_tall_form())]


def said(body: Body, form: Form | None = None) -> str:
    return " ".join(reasons.note(n, "in") for n in posture_notes(body, form or a_tall_form()))


def test_without_lengths_nothing_is_said():
    assert codes(a_body()) == []


def test_a_stand_that_ends_short_says_by_how_much_to_raise_the_base():
    text = said(a_body(floor_to_shoulder=1500.0 + 2 * INCH_MM))
    assert "Raise the base by 2 in" in text
    assert codes(a_body(floor_to_shoulder=1400.0)) == []
    assert codes(a_body(floor_to_shoulder=1150.0)) == ["stand_high"]


def test_from_the_waist_the_torso_as_it_will_be_set_stands_on_it():
    # 1150 + 420 is 70 above the 1500 the stand reaches.
    body = a_body(floor_to_waist=1150.0, back_neck_to_waist=420.0)
    (note,) = posture_notes(body, a_tall_form())
    assert (note.reason.code, note.reason.values["mm"]) == ("stand_short", pytest.approx(70.0))


def test_a_torso_that_does_not_pull_long_enough_says_so():
    assert codes(a_body(back_neck_to_waist=450.0)) == ["torso_short"]
    assert codes(a_body(back_neck_to_waist=425.0)) == []
    assert codes(a_body(back_neck_to_waist=405.0), a_tall_form("none")) == ["torso_short"]


def test_a_back_much_longer_than_the_straight_way_is_softly_rounded():
    # A circle of radius 300 over 1.5 rad: arc 450, chord 409, rise 80.5 (mathematics).
    lengths = {"floor_to_waist": 1000.0, "floor_to_shoulder": 1408.9}
    assert codes(a_body(back_neck_to_waist=452.0, **lengths)) == ["torso_short", "rounded_back"]
    assert codes(a_body(back_neck_to_waist=428.0, **lengths)) == []
    assert codes(a_body(back_neck_to_waist=386.0, **lengths)) == ["sway_back"]


def test_front_against_back_tells_the_bearing_and_what_this_torso_can_do_about_it():
    upright = a_body(back_neck_to_waist=390.0, front_waist_length=500.0)
    assert codes(upright) == ["torso_front", "front_long"]
    assert "tips back by about" in said(upright)
    assert codes(upright, a_tall_form("one")) == ["front_long_one_piece"]
    bent = a_body(back_neck_to_waist=420.0, front_waist_length=410.0)
    assert codes(bent, a_tall_form("one")) == ["back_long_one_piece"]
    usual = a_body(back_neck_to_waist=400.0, front_waist_length=440.0)
    assert codes(usual, a_tall_form("one")) == []
    assert codes(a_body("man", back_neck_to_waist=420.0, front_waist_length=410.0)) == [
        "torso_front"
    ]


def test_the_higher_shoulder_gets_the_wedge_and_the_other_sets_the_stand():
    body = a_body(shoulder_length=120.0, shoulder_drop_left=40.0, shoulder_drop_right=52.7)
    assert wedge_of(body) == pytest.approx(12.7)
    text = said(body)
    assert "The body's left shoulder is 1/2 in higher" in text
    assert "build the form's left shoulder up" in text
    assert codes(a_body(shoulder_drop_left=40.0, shoulder_drop_right=44.0)) == []


def test_shoulders_of_two_lengths_are_marked_apart():
    body = a_body(shoulder_length_left=120.0, shoulder_length_right=130.0)
    assert codes(body) == ["longer_shoulder_right"]


def test_a_bust_at_another_height_is_handed_to_padding():
    assert codes(a_body(waist_to_bust=185.0)) == ["bust_higher"]
    assert "no dial changes that, so it is left to padding" in said(a_body(waist_to_bust=130.0))
    # Pulled 30 mm longer the form's bust goes up from 160 to 190.
    assert codes(a_body(waist_to_bust=188.0, back_neck_to_waist=410.0)) == []


def test_a_fullest_place_off_the_row_or_below_the_form_is_said():
    assert codes(a_body(waist_to_hip=170.0)) == ["hip_above_row"]
    assert codes(a_body(waist_to_hip=240.0)) == ["hip_below_form"]
    below = a_tall_form()
    lines = (*below.lines, FormLine(name="thigh", height_mm=-300.0))
    assert codes(a_body(waist_to_hip=240.0), below.model_copy(update={"lines": lines})) == [
        "hip_below_row"
    ]
    assert codes(a_body(waist_to_hip=205.0)) == []


def test_every_code_has_a_sentence_that_needs_no_fact_it_has_not():
    source = Path(posture.__file__).read_text(encoding="utf-8")
    found = set(re.findall(r'"((?:\w+_)+(?:\w+))"', source))
    assert set(POSTURE_REASONS) - {"front_long_one_piece", "back_long_one_piece"} <= found | {
        "torso_front"
    }
    for sentence in (s for patterns in POSTURE_REASONS.values() for s in patterns):
        assert set(re.findall(r"{(\w+)}", sentence)) <= {"amount", "degrees"}


def test_the_wedge_is_a_plain_step_of_its_own_at_the_end():
    body = a_body(shoulder_drop_left=52.7, shoulder_drop_right=40.0)
    form = a_tall_form("none")
    fitting = Fitting.start(body, form, Preferences(checks=True))
    steps: list[Check] = []
    for _ in range(80):
        now = fitting.instruction
        if isinstance(now, Finished):
            break
        if isinstance(now, Check):
            steps.append(now)
        answered(fitting, lambda f, now=now: f.instruction != now)
    assert isinstance(fitting.instruction, Finished)
    assert "wedge_left" not in [step.code for step in steps]
    (wedge,) = [step for step in steps if step.code == "wedge_right"]
    assert title(wedge, form, "in") == "Build up the form's right shoulder by 1/2 in at its tip"
    assert "nothing at the neck" in detail(wedge, form, "in")
