# SPDX-License-Identifier: MIT
"""One fitting through its one object: answers, refusals, undo, exceptions, facts volunteered."""

from __future__ import annotations

import pytest

from fitassist.domain import answers as an
from fitassist.domain.steps import Ask, Finished, Measure, SetDials
from fitassist.errors import FitError, StorageFailed
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from tests.builders import LEAST, a_body, a_form
from tests.unit.session.answering_a_fitting import (
    Log,
    a_fitting,
    answered,
    at_end,
    at_measure,
    at_set,
)


def test_a_fitting_whose_tape_says_what_is_expected_ends_good_enough():
    fitting = a_fitting()
    answered(fitting, at_end)
    done = fitting.instruction
    assert isinstance(done, Finished)
    assert done.verdict == "good_enough"
    assert done.joint >= 0.95
    assert done.readings <= 9
    for line in done.lines:
        assert abs(line.predicted_mm - line.target_mm) <= 6.35
        assert line.left_for_padding_mm == 0.0


def test_a_fitting_goes_on_at_the_same_instruction_after_reopening():
    log = Log()
    fitting = a_fitting(log)
    answered(fitting, at_measure)
    again = Fitting(fitting.started, log, past=log.events)
    assert again.instruction == fitting.instruction
    assert again.view().lines == fitting.view().lines
    n = len(log.events)
    again.submit(an.TapeReading(mm=900.0))
    assert len(log.events) > n


def test_every_prefix_of_a_log_is_a_state_that_goes_on():
    log = Log()
    answered(a_fitting(log), at_end)
    started = ev.FittingStarted(fitting_id="f", body=a_body(), form=a_form())
    for cut in range(len(log.events)):
        shorter = Log()
        shorter.events = log.events[:cut]
        reopened = Fitting(started, shorter, past=tuple(shorter.events))
        assert reopened.instruction is not None
        assert reopened.view().numbers


def test_the_same_answers_give_the_same_instructions():
    logs = [Log(), Log()]
    for log in logs:
        answered(a_fitting(log), at_end, off_mm=1.5)
    assert [r.event for r in logs[0].events] == [r.event for r in logs[1].events]


def test_an_answer_that_cannot_be_written_changes_nothing():
    log = Log()
    fitting = a_fitting(log)
    answered(fitting, at_measure)
    before, instruction = len(log.events), fitting.instruction
    log.full = True
    with pytest.raises(StorageFailed):
        fitting.submit(an.TapeReading(mm=900.0))
    assert fitting.instruction == instruction
    assert len(log.events) == before
    log.full = False
    fitting.submit(an.TapeReading(mm=900.0))
    assert len(log.events) > before


def test_an_undone_reading_does_not_count_and_is_asked_again():
    fitting = a_fitting()
    answered(fitting, at_measure)
    before = fitting.instruction
    lines = fitting.view().lines
    fitting.submit(an.TapeReading(mm=905.0))
    fitting.submit(an.Undo())
    after = fitting.instruction
    assert isinstance(after, Measure)
    assert isinstance(before, Measure)
    assert (after.line, after.what) == (before.line, before.what)
    assert [v.predicted_mm for v in fitting.view().lines] == [v.predicted_mm for v in lines]


def test_undoing_a_set_first_asks_the_dials_back():
    fitting = a_fitting()
    answered(fitting, at_set)
    first = fitting.instruction
    assert isinstance(first, SetDials)
    fitting.submit(an.Done())
    fitting.submit(an.Undo())
    back = fitting.instruction
    assert isinstance(back, SetDials)
    assert back.undoes == first.id
    assert {t.dial: t.number for t in back.turns} == {t.dial: t.start for t in first.turns}
    fitting.submit(an.Done())
    numbers = fitting.view().numbers
    assert all(numbers[t.dial] == t.start for t in first.turns)
    assert fitting.view().clicks == 2 * sum(t.clicks for t in first.turns)


def test_nothing_to_undo_is_said():
    with pytest.raises(FitError) as error:
        a_fitting().submit(an.Undo())
    assert error.value.code == "nothing_to_undo"


def test_everything_can_be_undone_back_to_the_beginning():
    fitting = a_fitting()
    answered(fitting, lambda f: f.view().readings >= 4)
    for _ in range(200):
        if not fitting.can_undo:
            break
        fitting.submit(an.Undo())
        while isinstance(fitting.instruction, SetDials) and fitting.instruction.undoes is not None:
            fitting.submit(an.Done())
    assert not fitting.can_undo
    assert fitting.view().numbers == fitting.started.form.numbers()


def test_a_ribbon_that_does_not_meet_means_the_form_is_larger():
    fitting = a_fitting()
    answered(fitting, at_measure)
    now = fitting.instruction
    assert isinstance(now, Measure)
    assert now.target_mm is not None
    fitting.submit(an.Ribbon(marks="apart", by_mm=6.0))
    view = next(v for v in fitting.view().lines if v.line == now.line)
    assert view.last_read_mm == pytest.approx(now.target_mm + 6.0)


def test_a_stuck_dial_is_left_out_until_it_is_freed():
    fitting = a_fitting()
    answered(fitting, at_set)
    now = fitting.instruction
    assert isinstance(now, SetDials)
    dial = now.turns[0].dial
    odd = an.DialException(dial=dial, number=now.turns[0].start, why="stuck")
    fitting.submit(an.Done(exceptions=(odd,)))
    assert fitting.view().stuck == (dial,)
    for _ in range(12):
        if isinstance(fitting.instruction, SetDials):
            assert dial not in {t.dial for t in fitting.instruction.turns}
            fitting.submit(an.Done())
        elif isinstance(fitting.instruction, Measure):
            fitting.submit(an.TapeReading(mm=fitting.instruction.expect_mm or 900.0))
        else:
            break
    fitting.submit(an.Free(dial=dial))
    assert fitting.view().stuck == ()


def test_a_dial_that_stopped_stands_where_it_was_said_to():
    fitting = a_fitting()
    answered(fitting, at_set)
    now = fitting.instruction
    assert isinstance(now, SetDials)
    turn = now.turns[0]
    number = turn.start + 0.25
    fitting.submit(
        an.Done(exceptions=(an.DialException(dial=turn.dial, number=number, why="stopped"),))
    )
    assert fitting.view().numbers[turn.dial] == number


def test_facts_nobody_asked_for_are_taken_at_any_time():
    fitting = a_fitting()
    fitting.submit(an.VolunteeredDial(dial="hip.back", number=LEAST["hip"] + 1.5))
    assert fitting.view().numbers["hip.back"] == LEAST["hip"] + 1.5
    expected = next(v for v in fitting.view().lines if v.line == "hip").predicted_mm
    assert expected is not None
    fitting.submit(an.VolunteeredReading(line="hip", mm=expected + 3.0))
    hip = next(v for v in fitting.view().lines if v.line == "hip")
    assert hip.last_read_mm == expected + 3.0
    answered(fitting, at_end)
    fitting.submit(an.VolunteeredReading(line="hip", mm=970.0))
    assert not isinstance(fitting.instruction, Finished)


def test_a_reading_far_from_what_is_expected_is_questioned_before_it_is_believed():
    fitting = a_fitting()
    answered(fitting, lambda f: f.view().readings >= 3 and at_measure(f))
    now = fitting.instruction
    assert isinstance(now, Measure)
    assert now.expect_mm is not None
    fitting.submit(an.TapeReading(mm=now.expect_mm + 60.0))
    question = fitting.instruction
    assert isinstance(question, Ask)
    assert question.code == "reading_unlikely"
    assert question.about == now.id
    assert set(question.choices) == {"again", "keep", "discard"}
    with pytest.raises(FitError) as error:
        fitting.submit(an.Choose(choice="perhaps"))
    assert error.value.code == "unknown_choice"
    fitting.submit(an.Choose(choice="discard"))
    after = fitting.instruction
    assert isinstance(after, Measure)
    assert after.line == now.line
    assert after.expect_mm == pytest.approx(now.expect_mm, abs=0.5)


def test_a_reading_someone_vouches_for_moves_the_line():
    fitting = a_fitting()
    answered(fitting, at_measure)
    now = fitting.instruction
    assert isinstance(now, Measure)
    assert now.expect_mm is not None
    fitting.submit(an.TapeReading(mm=now.expect_mm + 45.0))
    if isinstance(fitting.instruction, Ask):
        fitting.submit(an.Choose(choice="keep"))
    line = next(v for v in fitting.view().lines if v.line == now.line)
    assert line.predicted_mm is not None
    assert line.predicted_mm > now.expect_mm + 15.0


@pytest.mark.parametrize(
    ("answer", "code"),
    [
        (an.TapeReading(mm=900.0), "wrong_answer"),
        (an.Ribbon(marks="apart", by_mm=3.0), "wrong_answer"),
        (an.Choose(choice="again"), "wrong_answer"),
        (an.VolunteeredDial(dial="knee.left", number=3.0), "unknown_dial"),
        (an.VolunteeredDial(dial="hip.left", number=999.0), "number_out_of_range"),
        (an.VolunteeredReading(line="knee", mm=400.0), "unknown_line"),
        (an.VolunteeredReading(line="hip", mm=1e9), "out_of_range"),
        (an.Free(dial="knee.left"), "unknown_dial"),
    ],
)
def test_an_answer_that_does_not_fit_is_refused_and_nothing_changes(answer, code):
    log = Log()
    fitting = a_fitting(log)
    answered(fitting, at_set)
    before, instruction = len(log.events), fitting.instruction
    with pytest.raises(FitError) as error:
        fitting.submit(answer)
    assert error.value.code == code
    assert len(log.events) == before
    assert fitting.instruction == instruction


def test_skipping_never_goes_round_in_circles():
    fitting = a_fitting()
    for _ in range(60):
        if at_end(fitting):
            break
        fitting.submit(an.Skip())
    assert at_end(fitting)


def test_leaving_ends_the_fitting_and_keeps_what_was_learned():
    fitting = a_fitting()
    answered(fitting, lambda f: f.view().readings >= 2)
    fitting.submit(an.Leave())
    assert isinstance(fitting.instruction, Finished)
    assert fitting.instruction.verdict == "left"
    assert len(fitting.learned()["fittings"]) == 1


def test_what_a_form_taught_makes_its_next_fitting_surer():
    fitting = a_fitting()
    answered(fitting, at_end)
    form = fitting.form_now()
    fresh = Fitting.start(
        a_body(bust=880.0, waist=690.0, hip=940.0), form.model_copy(update={"learned": {}})
    )
    taught = Fitting.start(a_body(bust=880.0, waist=690.0, hip=940.0), form)
    for before, after in zip(fresh.view().lines, taught.view().lines, strict=True):
        assert after.spread_mm < before.spread_mm
