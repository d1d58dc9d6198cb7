# SPDX-License-Identifier: MIT
"""What a form has taught and what its dials met, in sentences."""

from __future__ import annotations

import pytest

from fitassist.domain.taught import TaughtRow
from fitassist.wording.taught_words import met_text, row_text
from tests.builders import a_form


@pytest.mark.parametrize(
    ("met", "words"),
    [
        ({}, ()),
        ({"stuck": True}, ("would not turn",)),
        ({"stopped_above": 40.0}, ("would not open beyond 40",)),
        ({"stopped_below": 34.0, "stuck": True}, ("would not turn", "would not close beyond 34")),
    ],
)
def test_what_a_fitting_met_at_a_dial_is_told(met, words):
    form = a_form()
    said = met_text(form.dial("bust.front").model_copy(update=met), form)
    assert all(word in said for word in words)
    assert bool(said) == bool(words)


def test_a_row_without_a_print_tells_what_one_turn_gives():
    # 25.4 mm are an inch (international inch, 1959).
    row = TaughtRow(row="bust", gain=1.0, readings=2, turn_mm=25.4)
    said = row_text(row, a_form(), "in")
    assert "1 in" in said
    assert "from 2 readings" in said
