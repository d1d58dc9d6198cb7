# SPDX-License-Identifier: MIT
"""Chances against scipy's multivariate normal."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.chance import Goal, _joint, outlook
from fitassist.planning.layout import Layout
from tests.builders import LEAST, a_form


@pytest.mark.parametrize("correlation", [0.0, 0.5, -0.4])
def test_the_common_chance_agrees_with_scipy_within_two_in_a_thousand(correlation):
    cov = 9.0 * ((1 - correlation) * np.eye(3) + correlation)
    low, high = np.array([-6.0, -7.0, -5.0]), np.array([6.0, 5.0, 8.0])
    mean = np.array([1.0, -1.0, 0.5])
    ours = _joint(np.ones(1), mean[None], cov[None], low, high)
    corners = 0.0
    for pick in np.ndindex(2, 2, 2):  # inclusion and exclusion over the box's corners
        corner = np.where(pick, low, high)
        corners += (-1) ** sum(pick) * stats.multivariate_normal(mean, cov).cdf(corner)
    assert ours == pytest.approx(corners, abs=2e-3)


def test_no_common_chance_is_larger_than_the_smallest_single_one():
    belief = beliefs.start(Layout.of(a_form(opened=3.0), [(line, What.GIRTH) for line in LEAST]))
    goals = [
        Goal(line, What.GIRTH, beliefs.predict(belief, line)[0] + shift, -8.0, 8.0)
        for line, shift in zip(LEAST, (0.0, 3.0, -5.0), strict=True)
    ]
    out = outlook(belief, goals)
    assert out.joint <= out.chances.min()
    assert np.all((out.chances > 0) & (out.chances < 1))


def test_no_goal_at_all_is_certainly_met():
    belief = beliefs.start(Layout.of(a_form(), []))
    assert outlook(belief, []).joint == 1.0
