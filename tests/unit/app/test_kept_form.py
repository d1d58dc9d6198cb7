# SPDX-License-Identifier: MIT
"""A form after a fitting: as it stands, for whom, with what was taught and what its dials met."""

from __future__ import annotations

import pytest

from fitassist.app.kept_form import keep_form
from fitassist.domain.answers import (
    DialException,
    Done,
    Free,
    Leave,
    TapeReading,
    VolunteeredReading,
)
from fitassist.domain.body import Body, Target
from fitassist.domain.form_file import form_from_json, form_to_json
from fitassist.domain.steps import SetDials
from fitassist.planning.evidence import MOST_FITTINGS
from fitassist.session.events import FittingStarted
from fitassist.session.fitting import Fitting
from fitassist.storage.library import Library
from tests.virtual.cases import make_case
from tests.virtual.recording import Numbering

BODY = Body(
    name="Everyday",
    undergarment="blue",
    targets=(Target(line="bust", value_mm=950.0), Target(line="waist", value_mm=800.0)),
)


@pytest.fixture
def library(tmp_path):
    return Library(tmp_path, lambda: "2026-03-01T10:00:00Z")


def begun(library, form_id, number=1, who="anna"):
    started = FittingStarted(
        fitting_id=f"{who}-{number}",
        body_id="body-1",
        form_id=form_id,
        body=BODY,
        form=library.load_form(form_id),
    )
    return Fitting(started, Numbering())


def until_a_set(fitting):
    for _ in range(20):
        if isinstance(fitting.instruction, SetDials):
            return fitting.instruction
        fitting.submit(TapeReading(mm=fitting.instruction.expect_mm))
    raise AssertionError("no set")


def test_the_form_says_whose_double_it_was_made_last_and_keeps_no_name(library):
    form_id = library.save_form("", make_case(4).form.as_form())
    fitting = begun(library, form_id)
    until_a_set(fitting)
    fitting.submit(Done())
    keep_form(library, fitting, "2026-03-01T10:00:00Z")
    kept = library.load_form(form_id)
    assert kept.last_fitted is not None
    assert (kept.last_fitted.person_id, kept.last_fitted.body_id) == ("anna", "body-1")
    assert kept.last_fitted.at == "2026-03-01T10:00:00Z"
    assert kept.last_fitted.still_stands(kept.numbers())
    assert not kept.last_fitted.finished
    dial = kept.dials[0]
    elsewhere = kept.at({dial.name: dial.least if dial.number > dial.least else dial.greatest})
    assert not kept.last_fitted.still_stands(elsewhere.numbers())


def test_a_fitting_that_was_left_has_ended(library):
    form_id = library.save_form("", make_case(4).form.as_form())
    fitting = begun(library, form_id)
    fitting.submit(Leave())
    keep_form(library, fitting)
    assert library.load_form(form_id).last_fitted.finished


def test_where_a_dial_stopped_is_remembered_and_held_in_the_next_fitting(library):
    form_id = library.save_form("", make_case(4).form.as_form())
    fitting = begun(library, form_id)
    turn = until_a_set(fitting).turns[0]
    fitting.submit(
        Done(exceptions=(DialException(dial=turn.dial, number=turn.start, why="stopped"),))
    )
    keep_form(library, fitting)
    dial = library.load_form(form_id).dial(turn.dial)
    stop = dial.stopped_above if turn.action == "open" else dial.stopped_below
    assert stop == turn.start
    again = begun(library, form_id, 2)
    shown = until_a_set(again)
    for one in shown.turns:
        assert one.dial != turn.dial or one.action != turn.action


def test_a_dial_that_turns_again_is_forgotten_as_stuck_within_one_fitting(library):
    form_id = library.save_form("", make_case(4).form.as_form())
    fitting = begun(library, form_id)
    turn = until_a_set(fitting).turns[0]
    stuck = DialException(dial=turn.dial, number=turn.start, why="stuck")
    fitting.submit(Done(exceptions=(stuck,)))
    keep_form(library, fitting)
    assert library.load_form(form_id).dial(turn.dial).stuck
    fitting.submit(Free(dial=turn.dial))
    keep_form(library, fitting)
    assert not library.load_form(form_id).dial(turn.dial).stuck


def test_what_the_owner_has_put_right_meanwhile_is_not_undone_by_an_old_fitting(library):
    form_id = library.save_form("", make_case(4).form.as_form())
    fitting = begun(library, form_id)
    form = library.load_form(form_id)
    dials = (form.dials[0].model_copy(update={"stuck": True}), *form.dials[1:])
    library.save_form(form_id, form.model_copy(update={"dials": dials}))
    until_a_set(fitting)
    fitting.submit(Done())
    keep_form(library, fitting)
    assert library.load_form(form_id).dials[0].stuck


def test_a_form_never_keeps_more_than_thirty_fittings(library):
    form = make_case(4).form.as_form()
    old = [
        {"undergarment": "", "start": form.numbers(), "fitting_id": f"p{n}-1", "entries": [
            {"line": "bust", "mm": 900.0}]}
        for n in range(MOST_FITTINGS + 12)
    ]  # fmt: skip
    form = form.model_copy(update={"learned": {"version": 1, "fittings": old, "own": "stays"}})
    form_id = library.save_form("", form)
    fitting = begun(library, form_id)
    fitting.submit(VolunteeredReading(line="bust", mm=905.0))
    keep_form(library, fitting, "2026-03-01T10:00:00Z")
    kept = library.load_form(form_id).learned
    assert len(kept["fittings"]) == MOST_FITTINGS
    assert kept["fittings"][-1]["fitting_id"] == "anna-1"
    assert kept["fittings"][-1]["wearer"] == "anna/body-1"
    assert kept["own"] == "stays"


def test_what_a_form_remembers_survives_its_file(library):
    form = make_case(4).form.as_form()
    form_id = library.save_form("", form)
    fitting = begun(library, form_id)
    until_a_set(fitting)
    fitting.submit(Done())
    keep_form(library, fitting, "2026-03-01T10:00:00Z")
    kept = library.load_form(form_id)
    assert form_from_json(form_to_json(kept)) == kept
