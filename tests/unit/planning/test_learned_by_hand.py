# SPDX-License-Identifier: MIT
"""What a form has taught, replayed by hand: the same steps of the belief give the same belief."""

from __future__ import annotations

import numpy as np
import pytest

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.layout import Layout
from fitassist.planning.learned import (
    Entry,
    PastFitting,
    apply,
    belief_for,
    evidence_of,
    has_met,
    has_worn,
    knows,
    with_fitting,
)
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH
QUANTITIES = [(line, GIRTH) for line in LEAST]


def a_fitting(undergarment: str, *girths: tuple[str, float]) -> PastFitting:
    start = {name: number for name, number in a_form(opened=2.0).numbers().items()}
    entries = tuple(Entry(line=line, what=GIRTH, mm=mm, spread_mm=3.0) for line, mm in girths)
    return PastFitting(undergarment=undergarment, wearer="w", start=start, entries=entries)


def taught(*fittings: PastFitting):
    form = a_form(opened=1.0)
    for past in fittings:
        form = form.model_copy(update={"learned": with_fitting(evidence_of(form), past)})
    return form


def same(one: beliefs.Belief, other: beliefs.Belief) -> bool:
    return all(
        np.allclose(getattr(one, name), getattr(other, name))
        for name in ("log_weights", "means", "covs", "tape", "openings")
    )


BRA = a_fitting("bra", ("bust", 905.0), ("hip", 948.0))
AGAIN = a_fitting("bra", ("bust", 903.0), ("waist", 702.0))
CORSET = a_fitting("corset", ("waist", 688.0))


def replayed(belief: beliefs.Belief, past: PastFitting) -> beliefs.Belief:
    for entry in past.entries:
        belief = beliefs.observe(belief, entry.line, GIRTH, entry.mm, entry.spread_mm)
    return belief


def test_a_form_that_was_never_fitted_is_believed_as_its_description_says():
    form = taught()
    layout = Layout.of(form, QUANTITIES)
    assert same(belief_for(layout, {}), beliefs.start(layout, {}))


def test_a_past_fitting_is_replayed_from_where_its_dials_stood():
    form = taught(CORSET)
    layout = Layout.of(form, QUANTITIES)
    belief = replayed(beliefs.next_fitting(beliefs.start(layout, {}), CORSET.start), CORSET)
    wanted = beliefs.next_fitting(belief, form.numbers(), same_garment=False, passed=1)
    assert same(belief_for(layout, {}, "w", "bra"), wanted)


def test_todays_undergarment_is_held_on_to_between_its_own_fittings_and_today():
    form = taught(CORSET, BRA, AGAIN)
    layout = Layout.of(form, QUANTITIES)
    belief = replayed(beliefs.next_fitting(beliefs.start(layout, {}), CORSET.start), CORSET)
    belief = replayed(beliefs.next_fitting(belief, BRA.start, same_garment=False), BRA)
    belief = replayed(beliefs.next_fitting(belief, AGAIN.start, same_garment=True), AGAIN)
    wanted = beliefs.next_fitting(belief, form.numbers(), same_garment=True, passed=1)
    assert same(belief_for(layout, {}, "w", "bra"), wanted)


def test_fittings_of_others_since_loosen_the_effects_once_each():
    form = taught(BRA, CORSET)
    layout = Layout.of(form, QUANTITIES)
    belief = replayed(beliefs.next_fitting(beliefs.start(layout, {}), CORSET.start), CORSET)
    belief = replayed(beliefs.next_fitting(belief, BRA.start), BRA)  # today's own goes last
    wanted = beliefs.next_fitting(belief, form.numbers(), same_garment=True, passed=2)
    assert same(belief_for(layout, {}, "w", "bra"), wanted)


def test_whether_a_form_has_worn_an_undergarment_is_told_by_person_and_name():
    form = taught(BRA)
    assert has_worn(form, "w", "bra")
    assert not has_worn(form, "w", "corset")
    assert not has_worn(form, "somebody else", "bra")


def test_an_entry_turns_first_and_is_read_where_the_dials_then_stand():
    belief = beliefs.start(Layout.of(a_form(opened=1.0), QUANTITIES))
    there = {name: LEAST["bust"] + 3.0 for name in belief.layout.dials if name[:4] == "bust"}
    entry = Entry(numbers=there, line="bust", what=GIRTH, mm=930.0, spread_mm=3.0)
    wanted = beliefs.observe(beliefs.turned(belief, there), "bust", GIRTH, 930.0, 3.0)
    assert same(apply(belief, entry), wanted)
    only_turned = Entry(numbers=there)
    assert same(apply(belief, only_turned), beliefs.turned(belief, there))


def test_a_reading_somebody_vouched_for_counts_as_vouched_for():
    belief = beliefs.start(Layout.of(a_form(opened=1.0), QUANTITIES))
    odd = beliefs.predict(belief, "bust")[0] + 40.0
    entry = Entry(line="bust", what=GIRTH, mm=odd, spread_mm=3.0)
    plain = apply(belief, entry)
    vouched = apply(belief, entry.model_copy(update={"vouched": True}))
    assert same(vouched, beliefs.trusted(plain))
    assert vouched.doubt < plain.doubt


@pytest.mark.parametrize(
    ("line", "what", "is_known"),
    [
        ("bust", GIRTH, True),
        ("neck", GIRTH, False),
        ("bust", What.LEFT_HALF, True),
        ("waist", What.LEFT_HALF, False),
    ],
)
def test_only_what_the_form_can_show_teaches_anything(line, what, is_known):
    layout = Layout.of(a_form(), [*QUANTITIES, ("bust", What.LEFT_HALF)])
    assert knows(layout, line, what) == is_known
    belief = beliefs.start(layout)
    entry = Entry(line=line, what=what, mm=480.0, spread_mm=3.0)
    assert (apply(belief, entry) is belief) == (not is_known)


def test_whether_a_form_has_met_somebody_does_not_hang_on_what_it_wore():
    form = taught(BRA)
    assert has_met(form, "w")
    assert not has_met(form, "somebody else")
    assert not has_met(taught(BRA.model_copy(update={"wearer": ""})), "")
