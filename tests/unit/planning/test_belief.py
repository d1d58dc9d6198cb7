# SPDX-License-Identifier: MIT
"""The belief against batch least squares, quadrature and what a dressmaker would expect."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.layout import Layout
from fitassist.planning.prior import PriorSpreads, slop_variances
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH


def a_belief(**fields: object) -> beliefs.Belief:
    form = a_form(**fields)
    return beliefs.start(Layout.of(form, [(line, GIRTH) for line in LEAST]))


def alone(belief: beliefs.Belief) -> beliefs.Belief:
    """Return only the first hypothesis, with an exact tape and no slips."""
    return replace(
        belief,
        log_weights=np.zeros(1),
        means=belief.means[:1],
        covs=belief.covs[:1],
        tape=np.ones(1),
        slipped=np.zeros(1),
    )


def test_updates_one_by_one_equal_one_batch_least_squares_solution(monkeypatch):
    # Mathematics: a Gaussian prior and linear readings are a least-squares problem
    # [prior^-1/2; rows / sd] x = [prior^-1/2 m; y / sd] (numpy.linalg.lstsq as the reference).
    monkeypatch.setattr(beliefs, "SLIP_INCH", 1e-30)
    monkeypatch.setattr(beliefs, "SLIP_OTHER", 1e-30)
    monkeypatch.setattr(beliefs, "_likeliest", lambda logs: np.array([int(np.argmax(logs))]))
    belief = alone(a_belief(opened=4.0))
    mean, cov = belief.means[0], belief.covs[0]
    readings = [("bust", 930.0), ("waist", 725.0), ("hip", 968.0), ("bust", 934.0)]
    rows, values = [], []
    for line, mm in readings:
        j, c, extra = beliefs.sight(
            belief, line, GIRTH, belief.means[0], np.diagonal(belief.covs[0])
        )
        noise = np.sqrt(9.0 + extra)
        rows.append(j / noise)
        values.append((mm - c) / noise)
        belief = beliefs.observe(belief, line, GIRTH, mm, 3.0)
    whitener = np.linalg.inv(np.linalg.cholesky(cov + 1e-9 * np.eye(len(mean))))
    a = np.vstack([whitener, rows])
    b = np.concatenate([whitener @ mean, values])
    solution = np.linalg.lstsq(a, b, rcond=None)[0]
    for line in LEAST:
        j, c, _ = beliefs.sight(belief, line, GIRTH, belief.means[0], np.diagonal(belief.covs[0]))
        assert j @ solution + c == pytest.approx(j @ belief.means[0] + c, abs=0.05)


@given(
    st.floats(-30, 60),
    st.floats(-5, 20),
    st.floats(0.5, 10),
)
def test_the_gap_of_a_doubtful_lap_is_the_rectified_gaussian(opening, lap, spread):
    # Reference: scipy.integrate.quad over the Gaussian density.
    mean, slope, left = beliefs.gaps(np.array([opening]), np.array([lap]), np.array([spread]))
    density = stats.norm(lap, spread).pdf
    top = min(opening, lap + 9 * spread)
    low = lap - 9 * spread
    first = integrate.quad(lambda x: (opening - x) * density(x), low, top)[0] if top > low else 0.0
    second = (
        integrate.quad(lambda x: (opening - x) ** 2 * density(x), low, top)[0] if top > low else 0.0
    )
    assert mean[0] == pytest.approx(first, abs=1e-4)
    assert slope[0] == pytest.approx(stats.norm(lap, spread).cdf(opening), abs=1e-9)
    assert left[0] == pytest.approx(
        max(second - first**2 - slope[0] ** 2 * spread**2, 0.0), abs=2e-3
    )


def test_a_reading_makes_its_line_surer_and_moves_it_towards_the_tape():
    before = a_belief()
    mean, spread = beliefs.predict(before, "bust")
    after = beliefs.observe(before, "bust", GIRTH, mean + 8.0, 3.0)
    mean_after, spread_after = beliefs.predict(after, "bust")
    assert mean < mean_after < mean + 8.0
    assert spread_after < spread


def test_opening_one_seam_by_an_inch_of_number_adds_about_a_quarter_inch():
    belief = a_belief(opened=4.0)
    before, _ = beliefs.predict(belief, "bust")
    after, _ = beliefs.predict(beliefs.turned(belief, {"bust.front": LEAST["bust"] + 5.0}), "bust")
    assert after - before == pytest.approx(25.4 / 4 * PriorSpreads().gain_mean, abs=0.3)


def test_the_first_turn_of_closed_lapped_panels_adds_less_than_a_later_one():
    # Common practice, no source: closed panels lap, so the first turns may add nothing.
    closed, opened = a_belief(opened=0.0), a_belief(opened=4.0)
    gains = []
    for belief, number in ((closed, 0.25), (opened, 4.25)):
        numbers = {
            f"bust.{seam}": LEAST["bust"] + number for seam in ("front", "left", "back", "right")
        }
        gains.append(
            beliefs.predict(beliefs.turned(belief, numbers), "bust")[0]
            - beliefs.predict(belief, "bust")[0]
        )
    assert gains[0] < 0.75 * gains[1]


def test_rows_leak_less_across_a_horizontal_split():
    def pull(parts: int) -> float:
        belief = a_belief(parts=parts, opened=4.0)
        numbers = {
            f"bust.{seam}": LEAST["bust"] + 6.0 for seam in ("front", "left", "back", "right")
        }
        return (
            beliefs.predict(beliefs.turned(belief, numbers), "waist")[0]
            - beliefs.predict(belief, "waist")[0]
        )

    assert 0 < pull(8) < pull(4)


def test_turning_a_dial_draws_its_slop_anew_and_no_other():
    belief = a_belief(opened=4.0)
    read = beliefs.observe(belief, "bust", GIRTH, 925.0, 3.0)
    turned = beliefs.turned(read, {"bust.front": LEAST["bust"] + 5.0})
    i = turned.layout.dial_index["bust.front"]
    at = turned.layout.slop.start + i
    assert turned.covs[0, at, at] == pytest.approx(slop_variances(turned.layout)[i])
    other = turned.layout.slop.start + turned.layout.dial_index["bust.back"]
    assert turned.covs[0, other, other] == read.covs[0, other, other]
    assert np.all(turned.covs[:, at, other] == 0.0)


@pytest.mark.parametrize("slip", [25.4, -25.4, 360.0])
def test_a_slip_of_the_tape_is_doubted_and_a_second_reading_settles_it(slip):
    belief = a_belief(opened=4.0)
    for line, mm in (("bust", 925.0), ("bust", 926.0), ("waist", 722.0), ("hip", 968.0)):
        belief = beliefs.observe(belief, line, GIRTH, mm, 3.0)
    truth, _ = beliefs.predict(belief, "bust")
    doubted = beliefs.observe(belief, "bust", GIRTH, truth + slip, 3.0)
    assert doubted.doubt > 0.9
    settled = beliefs.observe(doubted, "bust", GIRTH, truth + 1.0, 3.0)
    assert settled.doubt < 0.1
    assert beliefs.predict(settled, "bust")[0] == pytest.approx(truth, abs=3.0)


def test_what_two_readings_agree_on_is_believed_however_odd():
    belief = a_belief(opened=4.0)
    for mm in (925.0, 926.0):
        belief = beliefs.observe(belief, "bust", GIRTH, mm, 3.0)
    numbers = {f"bust.{seam}": LEAST["bust"] + 7.0 for seam in ("front", "left", "back", "right")}
    belief = beliefs.turned(belief, numbers)
    expected, _ = beliefs.predict(belief, "bust")
    for _ in range(2):
        belief = beliefs.observe(belief, "bust", GIRTH, expected - 19.0, 3.0)
    assert beliefs.predict(belief, "bust")[0] == pytest.approx(expected - 19.0, abs=3.5)
    assert belief.doubt < 0.2


def test_a_dead_dial_is_found_out_by_turning_and_reading():
    # The three others give what they print; the fourth nothing.
    layout_form = a_form(opened=2.0)
    belief = beliefs.start(Layout.of(layout_form, [(line, GIRTH) for line in LEAST]))
    truth = 840.0 + 4 * 2.0 * 25.4 / 4 - 16.0
    for _ in range(2):
        belief = beliefs.observe(belief, "bust", GIRTH, truth, 2.0)
    for seam in ("front", "left", "right", "back"):
        belief = beliefs.turned(belief, {f"bust.{seam}": LEAST["bust"] + 6.0})
        truth += 0.0 if seam == "back" else 25.4
        for _ in range(2):
            belief = beliefs.observe(belief, "bust", GIRTH, truth, 2.0)
    mean, _ = beliefs.moments(belief)
    effects = dict(zip(belief.layout.dials, mean[belief.layout.effects(0)], strict=True))
    assert effects["bust.back"] < 0.06
    assert min(effects[f"bust.{s}"] for s in ("front", "left", "right")) > 0.18


def test_the_next_fitting_keeps_the_dials_effects_and_forgets_the_undergarment():
    belief = a_belief(opened=4.0)
    for mm in (940.0, 941.0, 940.5):
        belief = beliefs.observe(belief, "bust", GIRTH, mm, 3.0)
    again = beliefs.next_fitting(belief, belief.layout.form.numbers())
    assert np.all(again.means[:, again.layout.undergarment] == 0.0)
    assert beliefs.predict(again, "bust")[1] > beliefs.predict(belief, "bust")[1]
    fresh = beliefs.predict(a_belief(opened=4.0), "bust")[1]
    assert beliefs.predict(again, "bust")[1] < fresh


def test_covariances_stay_positive_over_a_long_fitting():
    belief = a_belief(opened=4.0)
    rng = np.random.default_rng(5)
    for k in range(40):
        line = list(LEAST)[k % 3]
        belief = beliefs.turned(belief, {f"{line}.front": LEAST[line] + 3.0 + 0.25 * (k % 7)})
        belief = beliefs.observe(
            belief, line, GIRTH, beliefs.predict(belief, line)[0] + rng.normal(0, 3), 3.0
        )
    for cov in belief.covs:
        assert np.linalg.eigvalsh(0.5 * (cov + cov.T)).min() > -1e-6
