# SPDX-License-Identifier: MIT
"""What sheets tell is what the record says, today's readings and the fitting's kept apart."""

from __future__ import annotations

import pytest

from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam
from fitassist.errors import FitError
from fitassist.report.facts import facts_of, gaps_mm
from fitassist.session import events as ev
from fitassist.session.person import body_for_fitting, fold_person
from tests.builders import a_form
from tests.unit.report.told import a_record, catalogue


def started(form=None) -> ev.FittingStarted:
    body = body_for_fitting(fold_person(a_record()), "a", catalogue())
    return ev.FittingStarted(fitting_id="f", body_id="a", body=body, form=form or a_form())


def test_a_body_without_a_fitting_is_told_as_measured() -> None:
    facts = facts_of(a_record(), catalogue())
    assert (facts.person, facts.notes, facts.form) == ("Zoë Quill", "Second act", None)
    assert facts.girth_mm("bust") == 900.0
    assert facts.length_mm("back_neck_to_waist") == 405.0
    assert facts.lines == ()


def test_dials_stand_where_they_were_set_last_and_the_tape_is_told_as_read() -> None:
    log = a_record(
        started(),
        ev.DialsSet(numbers={"bust.front": 36.0}),
        ev.FormRead(line="bust", mm=899.0),
    )
    facts = facts_of(log, catalogue())
    assert facts.form is not None
    assert facts.form.numbers()["bust.front"] == 36.0
    assert facts.date == "2026-03-07"
    told = {line.line: line for line in facts.lines}
    assert told["bust"].was_read
    assert not told["hip"].was_read
    assert told["bust"].now_mm == pytest.approx(899.0, abs=15.0)
    assert facts.verdict == ""


def test_a_set_that_was_undone_and_turned_back_is_not_told() -> None:
    log = a_record(
        started(), ev.DialsSet(numbers={"hip.left": 38.0}), ev.DialsSet(numbers={"hip.left": 36.0})
    )
    facts = facts_of(log, catalogue())
    assert facts.form is not None
    assert facts.form.numbers()["hip.left"] == 36.0


def test_the_newest_readings_are_told_where_they_are_asked_for() -> None:
    again = ev.MeasurementTaken(body_id="a", measurement="bust", mm=920.0)
    log = a_record(started(), again)
    assert facts_of(log, catalogue()).girth_mm("bust") == 900.0
    assert facts_of(log, catalogue(), newest=True).girth_mm("bust") == 910.0  # of two readings


def test_laying_padding_changes_nothing_about_the_dials() -> None:
    chosen = ev.PaddingChosen(material="felt", thickness_mm=3.0)
    before = facts_of(a_record(started()), catalogue())
    after = facts_of(a_record(started(), chosen), catalogue())
    assert before.form == after.form
    assert before.lines == after.lines


@pytest.mark.parametrize(
    ("code", "events"),
    [
        ("sheet_nobody", a_record()[:1]),
        ("sheet_nobody", ()),
        ("sheet_nothing_measured", a_record()[:3]),
    ],
)
def test_nothing_to_tell_is_said(code, events) -> None:
    with pytest.raises(FitError) as told:
        facts_of(events, catalogue())
    assert told.value.code == code


def test_a_gap_is_a_seams_share_of_the_girth_its_dial_has_gained() -> None:
    # Four seams, each opened by one inch of number: together one inch of girth (our model).
    gaps = gaps_mm(a_form(opened=1.0), "bust")
    assert gaps is not None
    assert sum(gaps.values()) == pytest.approx(25.4)
    assert set(gaps) == set(Seam)
    turns = a_form().model_copy(update={"dial_meaning": DialMeaning.PLAIN_TURNS})
    assert gaps_mm(turns, "bust") is None
    single = a_form().model_copy(update={"dial_meaning": DialMeaning.SEAM_GAP})
    assert gaps_mm(single, "bust") == dict.fromkeys(Seam, pytest.approx(25.4))
