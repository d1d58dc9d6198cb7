# SPDX-License-Identifier: MIT
"""What is kept of past fittings and what is replayed: bounded, newest first, nobody forgotten."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.evidence import (
    MOST_ENTRIES,
    MOST_FITTINGS,
    MOST_REPLAYED,
    Entry,
    Evidence,
    PastFitting,
    to_replay,
    wearer_of,
    worth_keeping,
)
from fitassist.planning.layout import Layout
from fitassist.planning.learned import belief_for
from tests.virtual.cases import make_case

START = {"bust.front": 35.0, "bust.back": 35.0}


def read(mm: float = 900.0, **numbers: float) -> Entry:
    if numbers:
        return Entry(numbers={k.replace("_", "."): v for k, v in numbers.items()})
    return Entry(line="bust", mm=mm)


def past(n: int, wearer: str = "", undergarment: str = "", mm: float = 900.0) -> PastFitting:
    return PastFitting(
        start=START, wearer=wearer, undergarment=undergarment, entries=(read(mm),) * n
    )


def test_a_form_keeps_thirty_fittings_and_the_newest_of_all_among_them() -> None:
    fittings = [{"wearer": "", "n": n} for n in range(47)]
    assert [one["n"] for one in worth_keeping(fittings)] == list(range(17, 47))


def test_nobodys_last_fitting_is_given_up_for_the_many_of_another() -> None:
    fittings = [{"wearer": "a/1", "n": 0}, {"wearer": "b/1", "n": 1}]
    fittings += [{"wearer": "c/1", "n": n} for n in range(2, 60)]
    kept = worth_keeping(fittings)
    assert len(kept) == MOST_FITTINGS
    assert [one["n"] for one in kept] == [0, 1, *range(32, 60)]  # in the order of time


def test_with_more_people_than_places_the_newest_people_stay() -> None:
    fittings = [{"wearer": f"p{n}/1", "n": n} for n in range(40)]
    assert [one["n"] for one in worth_keeping(fittings)] == list(range(10, 40))


def test_replaying_is_bounded_however_much_is_kept() -> None:
    evidence = Evidence(fittings=(past(MOST_ENTRIES),) * MOST_FITTINGS)
    found = to_replay(evidence)
    assert sum(len(one.entries) for one in found.others) == MOST_REPLAYED
    assert found.same == ()


def test_a_fitting_cut_short_begins_where_its_dials_stood_by_then() -> None:
    entries = (read(bust_front=36.0), read(1.0), read(bust_front=37.0), read(2.0), read(3.0))
    evidence = Evidence(fittings=(PastFitting(start=START, entries=entries),))
    (only,) = to_replay(evidence, most=2).others
    assert only.start == {"bust.front": 37.0, "bust.back": 35.0}
    assert [entry.mm for entry in only.entries] == [2.0, 3.0]


def test_ordinary_fittings_are_all_replayed_in_the_order_of_time() -> None:
    evidence = Evidence(fittings=tuple(past(20, mm=900.0 + n) for n in range(30)))
    told = [one.entries[0].mm for one in to_replay(evidence).others]
    assert told == [900.0 + n for n in range(30)]


def test_todays_undergarment_goes_first_and_its_age_is_told() -> None:
    a, b = past(3, "b/1", "Blue one"), past(5, "a/1", "white")
    found = to_replay(Evidence(fittings=(a, b, b)), "b/1", " blue  ONE", most=4)
    assert found.same == (a,)
    assert [len(one.entries) for one in found.others] == [1]
    assert found.since == 2


@pytest.mark.parametrize(
    ("wearer", "undergarment"), [("a/1", "blue one"), ("b/1", ""), ("", "blue one"), ("b/2", "x")]
)
def test_another_person_or_a_nameless_undergarment_is_never_taken_for_the_same(
    wearer: str, undergarment: str
) -> None:
    evidence = Evidence(fittings=(past(3, "b/1", "blue one"), past(3, "b/1", "")))
    assert to_replay(evidence, wearer, undergarment).same == ()


def test_a_form_knows_a_body_by_ids_only() -> None:
    assert wearer_of("0f3c-12", "body-1") == "0f3c/body-1"
    assert wearer_of("memory", "") == ""
    assert wearer_of("memory", "body-1") == ""


def test_the_same_undergarment_again_adds_exactly_the_doubt_of_putting_it_on() -> None:
    # Variances of independent Gaussians add; nothing else may change for a line all closed.
    form = make_case(3).form.as_form()
    layout = Layout.of(form, [])
    closed = {dial.name: dial.least for dial in form.dials}
    belief = beliefs.turned(beliefs.start(layout), closed)
    belief = beliefs.observe(belief, "waist", What.GIRTH, 700.0, 3.0)
    before = beliefs.predict(belief, "waist")
    later = beliefs.next_fitting(belief, closed, same_garment=True)
    after = beliefs.predict(later, "waist")
    assert after[0] == pytest.approx(before[0], abs=0.05)
    added = after[1] ** 2 - before[1] ** 2
    assert added == pytest.approx(beliefs.PUT_ON_AGAIN_MM**2, abs=0.6)  # and slop, renewed
    other = beliefs.next_fitting(belief, closed)
    assert beliefs.predict(other, "waist")[1] > after[1]


def test_older_fittings_beyond_the_budget_cost_no_time_and_change_nothing() -> None:
    form = make_case(5).form.as_form()
    layout = Layout.of(form, [])
    start = form.numbers()
    one = PastFitting(start=start, entries=(Entry(line="waist", mm=760.0),) * 60)
    many = Evidence(fittings=(one.model_copy(update={"start": start}),) * 30)
    found = to_replay(many)
    cut = Evidence(fittings=found.others)
    beliefs_of = [
        belief_for(
            replace(layout, form=form.model_copy(update={"learned": e.model_dump(mode="json")})), {}
        )
        for e in (many, cut)
    ]
    assert np.allclose(beliefs_of[0].means, beliefs_of[1].means)
    assert sum(len(f.entries) for f in found.others) == MOST_REPLAYED
