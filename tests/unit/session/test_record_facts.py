# SPDX-License-Identifier: MIT
"""Two states of one record: whether one fitting was gone on with in both."""

from __future__ import annotations

import pytest

from fitassist.session import events as ev
from fitassist.session.record_facts import one_fitting_in_both
from tests.builders import a_body, a_form

START = ev.FittingStarted(fitting_id="p-1", body=a_body(), form=a_form())
OTHER = ev.FittingStarted(fitting_id="p-9", body=a_body(), form=a_form())
NAMED, NOTE = ev.PersonNamed(name="Ada"), ev.NotesChanged(text="Friday")
SET, MORE = (ev.DialsSet(numbers={"bust.front": n}) for n in (34.0, 35.0))
READ = ev.FormRead(line="bust", mm=900.0)


def a_state(*events: ev.Event) -> tuple[ev.Recorded, ...]:
    return tuple(ev.Recorded(seq=i, event=one) for i, one in enumerate(events, 1))


@pytest.mark.parametrize(
    ("here", "there", "told"),
    [
        ((NAMED, START, SET), (NAMED, START, MORE), True),
        ((NAMED, START, SET, READ), (NAMED, START, SET, MORE), True),
        ((NAMED, START, SET), (NAMED, START, SET), False),  # nothing apart
        ((NAMED, START, SET), (NAMED, START), False),  # only one went on
        ((NAMED, START, SET), (NAMED, START, NOTE), False),  # the other only wrote a note
        ((NAMED, START, SET), (NAMED, START, OTHER, MORE), False),  # another fitting
        ((NAMED, START, SET), (NAMED, OTHER, MORE), False),  # each began its own
        ((NAMED, NOTE, START, SET), (NAMED, START, SET), False),
    ],
)
def test_one_fitting_gone_on_with_on_both_sides_is_noticed(here, there, told):
    assert one_fitting_in_both(a_state(*here), a_state(*there)) == told
    assert one_fitting_in_both(a_state(*there), a_state(*here)) == told
