# SPDX-License-Identifier: MIT
"""From one person to the next: padding off, the whole walk as a list, padding back on."""

from __future__ import annotations

import pytest

from fitassist.domain.answers import Done, TapeReading
from fitassist.domain.body import Preferences
from fitassist.domain.steps import Check, Finished, Measure
from fitassist.session import events as ev
from fitassist.session.changeover import kept_padding, padding_of_fitting
from fitassist.session.fitting import Fitting
from tests.builders import a_body, a_form


def a_start(
    number: int, body_id: str = "b", form_id: str = "f", **more: object
) -> ev.FittingStarted:
    return ev.FittingStarted(
        fitting_id=f"p-{number}", body_id=body_id, form_id=form_id, body=a_body(), form=a_form(),
        **more,
    )  # fmt: skip


def a_record(*events: ev.Event) -> tuple[ev.Recorded, ...]:
    return tuple(ev.Recorded(seq=i, event=one) for i, one in enumerate(events, 1))


def chosen(carrier: str) -> ev.PaddingChosen:
    return ev.PaddingChosen(material="felt", thickness_mm=3.0, carrier=carrier)


LAID = ev.PieceLaid(step="lay:1", place="left_cup", layer=1)


def test_padding_that_was_only_planned_does_not_lie_on_the_form():
    record = a_record(a_start(1), chosen("slip_on"))
    assert padding_of_fitting(record, "p-1") == ""
    assert kept_padding(record, "b", "f") == ""


def test_somebody_never_fitted_has_no_padding():
    assert kept_padding((), "b", "f") == ""
    assert padding_of_fitting(a_record(ev.PersonNamed(name="Ada")), "p-1") == ""


def test_what_carries_the_padding_of_a_fitting_is_told():
    record = a_record(a_start(1), chosen("slip_on"), LAID, a_start(2), chosen("form"))
    assert padding_of_fitting(record, "p-1") == "slip_on"
    assert padding_of_fitting(record, "p-2") == ""
    assert padding_of_fitting(record, "unknown") == ""


def test_padding_is_kept_for_this_body_on_this_form_from_its_last_fitting_that_had_some():
    record = a_record(
        *(a_start(1), chosen("form"), LAID),
        *(a_start(2), chosen("slip_on"), LAID),
        *(a_start(3, body_id="corset"), chosen("form"), LAID),
        *(a_start(4, form_id="other"), chosen("form"), LAID),
        a_start(5),
    )
    assert kept_padding(record, "b", "f") == "slip_on"
    assert kept_padding(record, "corset", "f") == "form"
    assert kept_padding(record, "b", "no such form") == ""


def a_fitting(**more: object) -> Fitting:
    started = a_start(9, preferences=Preferences(checks=True), **more)
    numbers = iter(range(1, 10_000))
    return Fitting(
        started, lambda events: [ev.Recorded(seq=next(numbers), event=one) for one in events]
    )


def checks_until_the_end(fitting: Fitting) -> list[str]:
    seen = []
    for _ in range(100):
        step = fitting.instruction
        if isinstance(step, Finished):
            return seen
        if isinstance(step, Check):
            seen.append(step.code)
        if isinstance(step, Measure):
            fitting.submit(TapeReading(mm=step.expect_mm))
        else:
            fitting.submit(Done())
    raise AssertionError("no end")


def test_a_form_that_wears_nothing_is_not_undressed():
    assert checks_until_the_end(a_fitting())[:2] == ["undergarment", "marks"]


def test_padding_comes_off_before_anything_else_and_on_after_everything_else():
    seen = checks_until_the_end(a_fitting(padding_worn="form", padding_kept="slip_on"))
    assert seen[0] == "padding_off"
    assert seen[-1] == "padding_on"


@pytest.mark.parametrize("kept", ["", "slip_on"])
def test_before_anything_is_turned_the_whole_walk_is_listed_in_its_order(kept):
    fitting = a_fitting(padding_worn="slip_on", padding_kept=kept)
    listed = [(one.kind, one.place) for one in fitting.view().upcoming]
    assert listed[:2] == [("check", "undergarment"), ("check", "marks")]
    kinds = [kind for kind, _place in listed]
    first_set, tape = kinds.index("set"), kinds.index("measure")
    assert first_set < tape
    assert kinds.count("measure") == 1  # one look where the belief is least sure
    assert (listed[-1] == ("check", "padding_on")) == bool(kept)
    # What is listed is what is then asked: the first set is of the first row in the list.
    while isinstance(fitting.instruction, Check):
        fitting.submit(Done())
    assert fitting.instruction.kind == "set"
    assert fitting.instruction.row == listed[first_set][1]
