# SPDX-License-Identifier: MIT
"""The variants of the table change what they say they change, and their table tells the truth."""

from __future__ import annotations

import numpy as np
import pytest

from tests.virtual.cases import make_case
from tests.virtual.judge import Outcome
from tests.virtual.variants import VARIANTS, row


@pytest.mark.parametrize("name", VARIANTS)
def test_every_variant_is_a_form_that_can_be_drawn(name):
    case = make_case(3, **VARIANTS[name])
    assert case.targets_mm


def test_clicks_parts_and_dials_are_as_the_variant_says():
    fine, coarse = (make_case(3, **VARIANTS[name]).form.made for name in ("click 1/8", "click 1/2"))
    assert (fine.step, coarse.step) == (0.125, 0.5)
    assert make_case(3, **VARIANTS["no clicks"]).form.made.click is None
    assert make_case(3, **VARIANTS["four parts"]).form.made.parts == 4
    assert (make_case(3, **VARIANTS["one dead dial"]).form.made.gain == 0.0).sum() == 1


def test_a_wrong_undergarment_differs_three_times_as_much():
    def spread(name):
        worn = [make_case(n, **VARIANTS[name]).form.undergarment_mm for n in range(12)]
        return float(np.sqrt(np.mean(np.square(worn))))

    assert spread("wrong undergarment") > 1.8 * spread("usual")


def test_a_row_tells_success_and_whether_stated_chances_came_true():
    sure = [Outcome(4, 6, 2, 30, i > 0, 1.0, "good_enough", ((0.97, i > 0),)) for i in range(4)]
    told = row("usual", "b never seen", sure)
    assert told == "| usual | b never seen | 4 | 4.0 | 6.0 | 2.0 | 30.0 | 75.0 | 97.0 / 75.0 (4) |"
    oracle = row("usual", "d fewest turns", [Outcome(0, 6, 0, 0, True, 0.0)])
    assert oracle == "| usual | d fewest turns | 1 | - | 6.0 | - | - | 100.0 | - |"
