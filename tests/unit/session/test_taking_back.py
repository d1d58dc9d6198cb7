# SPDX-License-Identifier: MIT
"""Taking answers back, facts out of turn, and opening a fitting again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from fitassist.domain import answers as an
from fitassist.domain.steps import Ask, Finished, Measure, SetDials
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.session.guide import Next, advice_for
from fitassist.session.viewing import upcoming
from tests.builders import LEAST, a_body, a_form
from tests.unit.session.answering_a_fitting import (
    Log,
    a_fitting,
    answered,
    at_end,
    at_measure,
    at_set,
)


def reopened(fitting: Fitting, log: Log) -> Fitting:
    """Return the fitting as it is read back from what was written."""
    written = Log()
    written.events = [ev.Recorded.model_validate_json(r.model_dump_json()) for r in log.events]
    return Fitting(fitting.started, written, past=tuple(written.events))


def turned_back(fitting: Fitting) -> None:
    while isinstance(fitting.instruction, SetDials) and fitting.instruction.undoes is not None:
        fitting.submit(an.Done())


def questioned() -> Fitting:
    """Return a fitting that asks about a reading 60 mm off."""
    fitting = a_fitting()
    answered(fitting, lambda f: f.view().readings >= 3 and at_measure(f))
    now = fitting.instruction
    assert isinstance(now, Measure)
    assert now.expect_mm is not None
    fitting.submit(an.TapeReading(mm=now.expect_mm + 60.0))
    assert isinstance(fitting.instruction, Ask)
    return fitting


def test_two_sets_taken_back_before_anything_is_turned_are_both_turned_back():
    fitting = a_fitting()
    answered(fitting, at_set)
    before = fitting.view().numbers
    rows = set()
    for _ in range(2):
        assert isinstance(fitting.instruction, SetDials)
        rows.add(fitting.instruction.row)
        fitting.submit(an.Done())
    assert len(rows) == 2
    fitting.submit(an.Undo())
    fitting.submit(an.Undo())
    asked = set()
    while isinstance(fitting.instruction, SetDials) and fitting.instruction.undoes is not None:
        now = fitting.instruction
        asked.add(now.row)
        assert {t.dial.rpartition(".")[0] for t in now.turns} == {now.row}
        fitting.submit(an.Done())
    assert asked == rows
    assert fitting.view().numbers == before


def test_a_reading_taken_back_while_dials_are_to_be_turned_back_leaves_that_to_do():
    fitting = a_fitting()
    answered(fitting, at_set)
    hip = next(v for v in fitting.view().lines if v.line == "hip")
    fitting.submit(an.VolunteeredReading(line="hip", mm=hip.predicted_mm or 900.0))
    answered(fitting, at_set)
    before = fitting.view().numbers
    fitting.submit(an.Done())
    fitting.submit(an.Undo())
    fitting.submit(an.Undo())
    assert isinstance(fitting.instruction, SetDials)
    assert fitting.instruction.undoes is not None
    turned_back(fitting)
    assert fitting.view().numbers == before


@pytest.mark.parametrize("choice", ["again", "keep", "discard"])
def test_a_question_whose_answer_is_taken_back_is_asked_again(choice):
    fitting = questioned()
    first = fitting.instruction
    lines = fitting.view().lines
    fitting.submit(an.Choose(choice=choice))
    fitting.submit(an.Undo())
    again = fitting.instruction
    assert isinstance(first, Ask)
    assert isinstance(again, Ask)
    assert (again.code, again.about, again.values) == (first.code, first.about, first.values)
    now = fitting.view().lines
    assert [v.predicted_mm for v in now] == [v.predicted_mm for v in lines]


def test_a_reading_kept_after_a_dial_was_turned_is_kept_for_the_form_too():
    fitting = questioned()
    number = fitting.view().numbers["hip.back"] + 0.25
    fitting.submit(an.VolunteeredDial(dial="hip.back", number=number))
    fitting.submit(an.Choose(choice="keep"))
    (past,) = fitting.learned()["fittings"]
    vouched = [e for e in past["entries"] if e["vouched"]]
    assert [e["mm"] is not None for e in vouched] == [True]


def test_taking_back_a_reading_after_leaving_does_not_take_back_the_leaving():
    fitting = a_fitting()
    answered(fitting, at_measure)
    fitting.submit(an.Leave())
    fitting.submit(an.VolunteeredReading(line="hip", mm=930.0))
    fitting.submit(an.Undo())
    assert isinstance(fitting.instruction, Finished)
    fitting.submit(an.Undo())
    assert isinstance(fitting.instruction, Measure)


def test_saying_again_where_dials_stand_does_not_use_up_the_corrections():
    fitting = a_fitting()
    answered(fitting, at_set)
    for _ in range(20):
        number = fitting.view().numbers["hip.left"]
        fitting.submit(an.VolunteeredDial(dial="hip.left", number=number))
    assert isinstance(fitting.instruction, SetDials)


@pytest.mark.parametrize("action", ["open", "close"])
def test_a_dial_that_stops_at_once_is_not_asked_further_that_way(action):
    body = a_body(bust=860.0, waist=660.0, hip=900.0) if action == "close" else a_body()
    fitting = Fitting.start(body, a_form(opened=6.0 if action == "close" else 1.0))
    answered(fitting, at_set)
    now = fitting.instruction
    assert isinstance(now, SetDials)
    turn = now.turns[0]
    assert turn.action == action
    odd = an.DialException(dial=turn.dial, number=turn.start, why="stopped")
    fitting.submit(an.Done(exceptions=(odd,)))
    for _ in range(40):
        now = fitting.instruction
        if isinstance(now, SetDials):
            assert all(t.action != action for t in now.turns if t.dial == turn.dial)
            fitting.submit(an.Done())
        elif isinstance(now, Measure):
            fitting.submit(an.TapeReading(mm=now.expect_mm or 900.0))
        else:
            break


@pytest.mark.parametrize(
    ("opened", "girths_mm"),
    [
        (1.0, {"bust": 900.0, "waist": 700.0, "hip": 950.0}),
        (6.0, {"bust": 850.0, "waist": 600.0, "hip": 900.0}),
    ],
)
def test_a_fitting_opened_again_at_any_step_shows_what_it_showed(opened, girths_mm):
    log = Log()
    started = ev.FittingStarted(
        fitting_id="f", body=a_body(**girths_mm), form=a_form(opened=opened)
    )
    fitting = Fitting(started, log)
    for _ in range(60):
        shown, again = fitting.view(), reopened(fitting, log).view()
        # What is said since the last answer is not said twice.
        assert again.model_copy(update={"notes": shown.notes}) == shown
        if at_end(fitting):
            break
        now = fitting.instruction
        if isinstance(now, SetDials):
            fitting.submit(an.Done())
        elif isinstance(now, Measure):
            fitting.submit(an.TapeReading(mm=(now.expect_mm or 900.0) + 1.0))
        else:
            assert isinstance(now, Ask)
            fitting.submit(an.Choose(choice=now.choices[0]))
    assert at_end(fitting)


def test_a_largest_turn_smaller_than_a_click_still_turns_every_time():
    fitting = Fitting.start(a_body(), a_form(largest_turn=0.1))
    answered(fitting, at_set)
    for _ in range(6):
        now = fitting.instruction
        assert isinstance(now, SetDials)
        assert now.turns
        fitting.submit(an.Done())
    assert fitting.view().numbers != {
        d: LEAST[d.partition(".")[0]] + 1.0 for d in a_form().numbers()
    }


@pytest.mark.parametrize(("first", "row"), [("upper", "bust"), ("lower", "hip")])
def test_the_row_said_to_be_set_next_is_the_one_that_is_set_first(first, row):
    fitting = Fitting.start(a_body(), a_form(set_first=first))
    state, dials = fitting._state, fitting._state.belief.layout.dials
    advice = advice_for(state)
    numbers = np.array([state.numbers[d] + (0.0 if d.startswith("waist") else 1.0) for d in dials])
    advice = replace(advice, plan=replace(advice.plan, numbers=numbers, turns=8))
    shown = Measure(id=1, line="bust", expect_mm=None, spread_mm=None, target_mm=None)
    found = upcoming(state, Next(shown, advice=advice), shown, ())
    assert [(u.kind, u.place) for u in found] == [("set", row)]
