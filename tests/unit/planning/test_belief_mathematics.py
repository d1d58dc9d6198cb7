# SPDX-License-Identifier: MIT
"""The belief's bookkeeping against closed forms: Bayes' rule, total covariance, what time adds.

Source of every expectation: mathematics of Gaussian mixtures, worked with numpy and scipy.stats.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import special, stats

from fitassist.domain.form import KnownGirth
from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.layout import Layout
from fitassist.planning.prior import PriorSpreads, slop_variances, undergarment_variances
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH


def a_belief(**fields: object) -> beliefs.Belief:
    layout = Layout.of(a_form(**fields), [(line, GIRTH) for line in LEAST])
    return beliefs.start(layout)


def a_read_belief() -> beliefs.Belief:
    """Return a belief of several hypotheses that differ in mean as well."""
    belief = a_belief(opened=3.0)
    for line, mm in (("bust", 915.0), ("waist", 700.0), ("hip", 962.0), ("bust", 921.0)):
        belief = beliefs.observe(belief, line, GIRTH, mm, 3.0)
    return belief


def test_weights_are_the_softmax_of_their_logarithms():
    belief = a_read_belief()
    assert len(belief.log_weights) > 3
    assert belief.weights == pytest.approx(special.softmax(belief.log_weights), abs=1e-12)


def test_the_mixture_has_the_mean_and_covariance_of_the_law_of_total_covariance():
    belief = a_read_belief()
    mean, cov = belief.moments
    w = belief.weights
    wanted = sum(
        w[h] * (belief.covs[h] + np.outer(belief.means[h], belief.means[h])) for h in range(len(w))
    ) - np.outer(w @ belief.means, w @ belief.means)
    assert mean == pytest.approx(w @ belief.means)
    assert cov == pytest.approx(wanted, abs=1e-6)


def test_a_reading_weighs_hypotheses_by_how_well_each_foretold_it():
    belief = a_belief(opened=2.0)
    mean = belief.weights @ belief.means
    diagonal = belief.weights @ np.diagonal(belief.covs, axis1=1, axis2=2)
    j, c, extra = beliefs.sight(belief, "bust", GIRTH, mean, diagonal)
    foretold = belief.means @ j + c
    spread = np.sqrt(np.einsum("i,hij,j->h", j, belief.covs, j) + extra + (3.0 * belief.tape) ** 2)
    mm = float(belief.weights @ foretold) + 6.0  # near: no inch slip is considered
    after = beliefs.observe(belief, "bust", GIRTH, mm, 3.0)
    as_read = after.slipped == 0.0
    likelihood = belief.weights * stats.norm.pdf(mm, foretold, spread)
    # Hypotheses keep their order of likelihood, so sorted weights can be compared.
    wanted = np.sort(likelihood)[::-1][: as_read.sum()]
    found = np.sort(after.weights[as_read])[::-1]
    assert found / found[0] == pytest.approx(wanted / wanted[0], rel=1e-6)


def test_slips_are_given_their_stated_chance():
    belief = a_belief(opened=2.0)
    mm = beliefs.predict(belief, "bust")[0]
    after = beliefs.observe(belief, "bust", GIRTH, mm, 3.0)
    spread = beliefs.predict(belief, "bust")[1]
    # By Bayes' rule, of one Gaussian: chance times density at its own mean, against the other's.
    other = beliefs.SLIP_OTHER * stats.norm.pdf(0.0, 0.0, np.hypot(spread, beliefs.SLIP_OTHER_MM))
    tape = sum(share * stats.norm.pdf(0.0, 0.0, np.hypot(spread, 3.0 * factor))
               for share, factor in beliefs.TAPES)  # fmt: skip
    as_read = (1.0 - beliefs.SLIP_INCH - beliefs.SLIP_OTHER) * tape
    assert after.doubt == pytest.approx(other / (other + as_read), rel=0.15)


@pytest.mark.parametrize("inches", [1, -1])
def test_a_reading_an_inch_off_is_taken_for_a_slip_of_an_inch(inches):
    belief = a_read_belief()
    before = beliefs.predict(belief, "bust")[0]
    after = beliefs.observe(belief, "bust", GIRTH, before + 25.4 * inches, 3.0)
    assert after.doubt > 0.5
    assert beliefs.predict(after, "bust")[0] == pytest.approx(before, abs=6.0)


def test_a_belief_vouched_for_counts_slips_for_the_share_that_was_said():
    belief = a_read_belief()
    odd = beliefs.observe(belief, "bust", GIRTH, beliefs.predict(belief, "bust")[0] + 22.0, 3.0)
    before = odd.doubt
    after = beliefs.trusted(odd, 0.2).doubt
    assert 0.05 < before < 0.999
    assert after == pytest.approx(0.2 * before / (0.2 * before + 1.0 - before), abs=1e-3)


def test_what_is_too_unlikely_is_dropped_by_its_share_of_all():
    # Two of equal weight: a third of 4e-5 of each is 2e-5 of all, one of 1e-5 is half of that.
    belief = a_belief()
    logs = np.log(np.array([1.0, 1.0, 4e-5, 1e-5]))
    four = replace(
        belief,
        log_weights=logs,
        means=np.arange(4.0)[:, None] * np.ones((4, belief.layout.size)),
        covs=np.tile(belief.covs[0], (4, 1, 1)),
        tape=np.ones(4),
        slipped=np.zeros(4),
    )
    kept = beliefs.trusted(four)
    assert sorted(kept.means[:, 0]) == [0.0, 1.0, 2.0]
    assert kept.weights == pytest.approx(special.softmax(logs[:3]), rel=1e-6)


def test_no_more_hypotheses_are_kept_than_can_be_reckoned_with():
    belief = a_belief(opened=2.0)
    for k in range(12):
        line = ("bust", "waist", "hip")[k % 3]
        mm = beliefs.predict(belief, line)[0] + (-1) ** k * 14.0
        belief = beliefs.observe(belief, line, GIRTH, mm, 3.0)
        assert len(belief.log_weights) <= beliefs.MOST_HYPOTHESES
        assert np.all(np.diff(belief.log_weights) <= 1e-12)  # the likeliest first
        assert belief.log_weights[0] == 0.0


def test_turning_one_dial_draws_its_slop_anew_and_loosens_its_lap_by_a_share_of_the_turn():
    belief = a_read_belief()
    layout = belief.layout
    i = layout.dial_index["bust.front"]
    slop, lap = layout.slop.start + i, layout.lap.start + i
    now = float(layout.least[i] + belief.openings[i] / layout.unit_mm)
    after = beliefs.turned(belief, {"bust.front": now + 1.5})
    others = [k for k in range(layout.size) if k != slop]
    assert np.all(after.means[:, slop] == 0.0)
    assert after.covs[:, slop, slop] == pytest.approx(slop_variances(layout)[i])
    assert np.all(after.covs[:, slop, others] == 0.0)
    assert np.all(after.covs[:, others, slop] == 0.0)
    grown = after.covs[:, lap, lap] - belief.covs[:, lap, lap]
    assert grown == pytest.approx((PriorSpreads().bend * 1.5 * layout.unit_mm) ** 2)
    rest = [k for k in others if k != lap]
    assert np.array_equal(after.covs[:, rest][:, :, rest], belief.covs[:, rest][:, :, rest])
    assert after.openings[i] - belief.openings[i] == pytest.approx(1.5 * layout.unit_mm)


def test_a_dial_set_to_where_it_stands_changes_nothing():
    belief = a_read_belief()
    layout = belief.layout
    here = {
        name: float(layout.least[i] + belief.openings[i] / layout.unit_mm)
        for name, i in layout.dial_index.items()
    }
    assert beliefs.turned(belief, here) is belief
    assert beliefs.turned(belief, {"no.such": 40.0}) is belief


@pytest.mark.parametrize("passed", [1, 4])
def test_effects_loosen_by_a_share_of_themselves_for_each_fitting_passed(passed):
    belief = a_read_belief()
    after = beliefs.next_fitting(belief, {}, passed=passed)
    effects = np.arange(belief.layout.girth.start)
    grown = after.covs[:, effects, effects] - belief.covs[:, effects, effects]
    assert grown == pytest.approx(passed * (beliefs.DRIFT * belief.means[:, effects]) ** 2)
    girths = np.arange(belief.layout.girth.start, belief.layout.girth.stop)
    assert np.array_equal(after.covs[:, girths, girths], belief.covs[:, girths, girths])


def test_another_undergarment_is_drawn_anew_and_the_same_one_is_put_on_again():
    belief = a_read_belief()
    layout = belief.layout
    index = np.arange(layout.undergarment.start, layout.undergarment.stop)
    other = beliefs.next_fitting(belief, {})
    same = beliefs.next_fitting(belief, {}, same_garment=True)
    assert np.all(other.means[:, index] == 0.0)
    assert other.covs[:, index, index] == pytest.approx(
        np.tile(undergarment_variances(layout), (len(other.means), 1))
    )
    assert np.array_equal(same.means[:, index], belief.means[:, index])
    grown = same.covs[:, index, index] - belief.covs[:, index, index]
    assert grown == pytest.approx(beliefs.PUT_ON_AGAIN_MM**2)
    assert other.doubt == same.doubt == 0.0


def test_a_girth_noted_in_the_past_is_a_reading_there_with_the_undergarments_doubt():
    belief = a_belief(opened=1.0)
    layout = belief.layout
    there = {name: LEAST["hip"] + 4.0 for name in layout.dials if name.startswith("hip.")}
    garment = undergarment_variances(layout)[layout.lines.index("hip")]
    noted = beliefs.known_girth(belief, "hip", there.items(), 985.0, 4.0)
    read = beliefs.observe(
        beliefs.turned(belief, there), "hip", GIRTH, 985.0, float(np.hypot(4.0, np.sqrt(garment)))
    )
    back = {name: LEAST["hip"] + 1.0 for name in there}
    wanted = beliefs.turned(read, back)
    assert noted.openings == pytest.approx(belief.openings)
    assert beliefs.predict(noted, "hip") == pytest.approx(beliefs.predict(wanted, "hip"))
    assert noted.doubt == 0.0


def test_a_half_is_seen_through_its_own_girth_and_half_the_undergarment():
    layout = Layout.of(a_form(opened=2.0), [("bust", GIRTH), ("bust", What.LEFT_HALF)])
    belief = beliefs.start(layout)
    mean, cov = belief.moments
    i = layout.lines.index("bust")
    whole, *_ = beliefs.sight(belief, "bust", GIRTH, mean, np.diagonal(cov))
    half, *_ = beliefs.sight(belief, "bust", What.LEFT_HALF, mean, np.diagonal(cov))
    assert whole[layout.girth.start + i] == 1.0
    assert whole[layout.undergarment.start + i] == 1.0
    assert half[layout.undergarment.start + i] == 0.5
    assert half[layout.other.start + layout.others.index(("bust", What.LEFT_HALF))] == 1.0
    assert half[layout.girth.start + i] == 0.0


def test_noted_girths_of_a_form_are_in_its_belief():
    form = a_form(opened=1.0)
    girth = KnownGirth(numbers={"waist": LEAST["waist"] + 3.0}, girth_mm=735.0)
    lines = tuple(
        line.model_copy(update={"girths": (girth,)}) if line.name == "waist" else line
        for line in form.lines
    )
    from fitassist.planning.learned import belief_for

    quantities = [(line, GIRTH) for line in LEAST]
    with_it = belief_for(Layout.of(form.model_copy(update={"lines": lines}), quantities), {})
    without = belief_for(Layout.of(form, quantities), {})
    there = {name: LEAST["waist"] + 3.0 for name in without.layout.dials if "waist" in name}
    near = beliefs.predict(beliefs.turned(with_it, there), "waist")
    far = beliefs.predict(beliefs.turned(without, there), "waist")
    assert abs(near[0] - 735.0) < abs(far[0] - 735.0)
    assert near[1] < far[1]
