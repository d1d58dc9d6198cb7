# SPDX-License-Identifier: MIT
"""What a fitting makes of bodies, forms and preferences: ends, first minute, halves, previews."""

from __future__ import annotations

import pytest

from fitassist.domain import answers as an
from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check, Finished
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from tests.builders import LEAST, QUARTER_INCH, a_body, a_form
from tests.unit.session.answering_a_fitting import (
    Log,
    a_fitting,
    answered,
    at_end,
    at_measure,
)


def test_a_body_larger_than_the_dials_reach_ends_as_near_as_they_go():
    body = a_body(bust=1150.0, waist=700.0, hip=950.0)
    fitting = Fitting.start(body, a_form())
    answered(fitting, at_end)
    done = fitting.instruction
    assert isinstance(done, Finished)
    assert done.verdict == "as_near_as_dials_go"
    bust = next(line for line in done.lines if line.line == "bust")
    assert bust.left_for_padding_mm > 50.0
    assert done.readings <= 10


def test_a_form_too_big_is_said_before_anything_is_measured():
    body = a_body(bust=900.0, waist=600.0, hip=950.0)
    fitting = Fitting.start(body, a_form())
    note = fitting.view().first_minute[0]
    assert (note.code, note.line) == ("too_big", "waist")
    assert note.amount_mm == pytest.approx(40.0)
    answered(fitting, at_end)
    assert isinstance(fitting.instruction, Finished)
    assert fitting.instruction.verdict == "too_big"


def test_longer_parts_of_the_form_are_said_in_the_first_minute():
    body = Body(
        name="a body",
        targets=(
            *a_body().targets,
            Target(line="shoulder_length", what=What.LENGTH, value_mm=110.0),
            Target(line="back_neck_to_waist", what=What.LENGTH, value_mm=380.0),
        ),
    )
    form = a_form(shoulder_length_mm=125.0, torso={"parts": "one", "least_mm": 400.0})
    fitting = Fitting.start(body, form)
    assert {note.line for note in fitting.view().first_minute} == {
        "shoulder_length",
        "back_neck_to_waist",
    }


def test_the_checklist_comes_first_and_the_plain_steps_last():
    body = Body(
        name="a body",
        undergarment="everyday",
        targets=(
            *a_body().targets,
            Target(line="floor_to_shoulder", what=What.LENGTH, value_mm=1380.0),
        ),
    )
    fitting = Fitting.start(body, a_form(), Preferences(checks=True))
    codes = []
    for _ in range(60):
        now = fitting.instruction
        if isinstance(now, Finished):
            break
        if isinstance(now, Check):
            codes.append(now.code)
        answered(fitting, lambda f, now=now: f.instruction != now)
    assert codes == ["undergarment", "marks", "shoulder_level"]


def test_left_and_right_that_differ_raise_a_question_once():
    form = a_form().at({"bust.left": LEAST["bust"] + 2.0})
    fitting = Fitting.start(a_body(), form, Preferences(checks=True))
    assert [s.row for s in fitting.view().symmetry] == ["bust"]
    answered(fitting, lambda f: isinstance(f.instruction, Ask))
    assert fitting.instruction.code == "symmetry"
    fitting.submit(an.Choose(choice="even"))
    answered(fitting, at_end)
    numbers = fitting.view().numbers
    assert numbers["bust.left"] == numbers["bust.right"]
    assert fitting.view().symmetry == ()


def test_a_body_whose_halves_differ_is_not_warned_about():
    targets = [*a_body().targets]
    for what, mm in ((What.LEFT_HALF, 465.0), (What.RIGHT_HALF, 435.0)):
        targets.append(Target(line="bust", what=what, value_mm=mm, tolerance_mm=QUARTER_INCH))
    form = a_form().at({"bust.left": LEAST["bust"] + 2.0})
    fitting = Fitting.start(Body(name="a body", targets=tuple(targets)), form)
    assert fitting.view().symmetry == ()
    answered(fitting, at_end)
    numbers = fitting.view().numbers
    assert numbers["bust.left"] > numbers["bust.right"]


def test_targets_allow_for_the_cover():
    # Steiner (FACTS: COMPUTED): 1 mm all round is 2 pi mm of girth.
    plain = Fitting.start(a_body(), a_form())
    covered = Fitting.start(a_body(), a_form(), Preferences(cover_mm=1.0))
    for before, after in zip(plain.view().lines, covered.view().lines, strict=True):
        assert before.target_mm - after.target_mm == pytest.approx(6.283185307, abs=1e-6)


def test_a_tolerance_is_never_finer_than_the_bodys_own_reading():
    body = Body(name="b", targets=(Target(line="bust", value_mm=900.0, spread_mm=11.0),))
    view = Fitting.start(body, a_form()).view().lines[0]
    assert view.tolerance_mm == (-11.0, 11.0)


def test_a_preview_shows_what_would_be_and_records_nothing():
    log = Log()
    fitting = a_fitting(log)
    answered(fitting, at_measure)
    n = len(log.events)
    here = {v.line: v.predicted_mm for v in fitting.view().lines}
    opened = fitting.preview(numbers={"bust.front": LEAST["bust"] + 7.0})
    read = fitting.preview(reading=("waist", What.GIRTH, here["waist"] + 10.0))
    assert next(v for v in opened if v.line == "bust").predicted_mm > here["bust"] + 5.0
    assert next(v for v in read if v.line == "waist").predicted_mm > here["waist"] + 3.0
    assert len(log.events) == n
    assert {v.line: v.predicted_mm for v in fitting.view().lines} == here


def test_a_form_without_dials_ends_at_once_with_what_padding_must_do():
    form = a_form()
    bare = form.model_copy(update={"rows": (), "dials": ()})
    fitting = Fitting.start(a_body(), bare)
    assert isinstance(fitting.instruction, Finished)
    assert fitting.instruction.verdict == "as_near_as_dials_go"


def test_left_and_right_that_cannot_be_evened_are_not_asked_about():
    form = a_form().at({"bust.left": LEAST["bust"] + 2.0})
    log = Log()
    started = ev.FittingStarted(
        fitting_id="f", body=a_body(), form=form, preferences=Preferences(checks=True)
    )
    log([ev.DialsSet(numbers={}, stuck=("bust.left", "bust.right"))])
    fitting = Fitting(started, log, past=tuple(log.events))
    asked = []
    for _ in range(60):
        now = fitting.instruction
        if isinstance(now, Finished):
            break
        asked.append(now.kind)
        answered(fitting, lambda f, now=now: f.instruction != now)
    assert "ask" not in asked
