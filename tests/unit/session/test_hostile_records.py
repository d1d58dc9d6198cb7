# SPDX-License-Identifier: MIT
"""Records that no program of ours wrote: a fitting opens on them or refuses, and never breaks."""

from __future__ import annotations

import pytest

from fitassist.domain.body import Body, Preferences, Target
from fitassist.planning.learned import MOST_ENTRIES
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from tests.builders import LEAST, a_body, a_form
from tests.unit.session.test_fitting import Log


def test_a_set_of_dials_the_form_has_not_got_says_nothing_about_it():
    log = Log()
    log([ev.DialsSet(numbers={"knee.left": 9.0, "hip.left": LEAST["hip"] + 2.0})])
    started = ev.FittingStarted(fitting_id="f", body=a_body(), form=a_form())
    numbers = Fitting(started, log, past=tuple(log.events)).view().numbers
    assert "knee.left" not in numbers
    assert numbers["hip.left"] == LEAST["hip"] + 2.0


@pytest.mark.parametrize("tolerance", [(0.0, 0.0), (5.0, -5.0), (3.0, 3.0)])
def test_a_tolerance_of_nothing_or_the_wrong_way_round_still_gives_a_plan(tolerance):
    body = Body(
        name="b",
        targets=(Target(line="bust", value_mm=900.0, tolerance_mm=tolerance),),
    )
    view = Fitting.start(body, a_form(), Preferences()).view()
    low, high = view.lines[0].tolerance_mm
    assert high - low >= 1.0
    assert view.instruction is not None


def test_a_very_long_fitting_is_learned_from_its_end_with_the_dials_where_they_were():
    log = Log()
    sets = [
        ev.DialsSet(numbers={"hip.left": LEAST["hip"] + 1.0 + 0.25 * (k % 8)})
        for k in range(MOST_ENTRIES + 30)
    ]
    log([*sets, ev.FormRead(line="hip", mm=900.0)])
    started = ev.FittingStarted(fitting_id="f", body=a_body(), form=a_form())
    fitting = Fitting(started, log, past=tuple(log.events))
    (past,) = fitting.learned()["fittings"]
    assert len(past["entries"]) == MOST_ENTRIES
    # The first set turns nothing; thirty that do are dropped before the last kept ones.
    assert past["start"]["hip.left"] == LEAST["hip"] + 1.0 + 0.25 * (30 % 8)


@pytest.mark.parametrize(
    "event",
    [
        ev.DialsSet(numbers={"hip.left": 999.0}),
        ev.DialsSet(numbers={"hip.left": -1e12}),
        ev.PlanAdopted(numbers={"knee.left": 9.0}),
        ev.PlanAdopted(numbers={"hip.left": 999.0}),
        ev.FormRead(line="hip", mm=-5.0),
        ev.FormRead(line="hip", mm=1e9),
    ],
)
def test_numbers_no_dial_shows_and_lengths_no_tape_reads_say_nothing(event):
    log = Log()
    log([event, ev.DialsSet(numbers={"hip.back": LEAST["hip"] + 2.0})])
    started = ev.FittingStarted(fitting_id="f", body=a_body(), form=a_form())
    fitting = Fitting(started, log, past=tuple(log.events))
    expected = {**started.form.numbers(), "hip.back": LEAST["hip"] + 2.0}
    assert fitting.view().numbers == expected
    assert fitting.view().readings == 0
    assert fitting.learned() == {"version": 1, "fittings": []}
