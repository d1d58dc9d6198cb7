# SPDX-License-Identifier: MIT
"""The expected information of a reading against determinants, simulation, and what it is for."""

from __future__ import annotations

import numpy as np
import pytest

from fitassist.domain.form import KnownGirth
from fitassist.domain.lines import What
from fitassist.planning.belief import moments, observe, predict, sight, start, turned
from fitassist.planning.calibrating import LEAST_NATS, MOST, information, lessons, next_lesson
from fitassist.planning.layout import Layout
from fitassist.planning.learned import KNOWN_GIRTH_MM
from tests.builders import LEAST, a_form

GIRTH = What.GIRTH


def a_belief(opened: float = 3.0):
    form = a_form(opened=opened)
    return start(Layout.of(form, [(line, GIRTH) for line in LEAST]))


@pytest.mark.parametrize("line", ["bust", "waist"])
def test_information_is_half_the_fall_of_the_log_determinant_of_the_effects(line):
    # Mathematics: I(y; e) = 1/2 log det P_ee - 1/2 log det P_ee after y (numpy.linalg.slogdet).
    belief = a_belief()
    mean, cov = moments(belief)
    j, _c, extra = sight(belief, line, GIRTH, mean, np.diagonal(cov))
    after = cov - np.outer(cov @ j, cov @ j) / (j @ cov @ j + extra + KNOWN_GIRTH_MM**2)
    e = slice(0, belief.layout.girth.start)
    tiny = 1e-12 * np.eye(belief.layout.girth.start)
    before_log = np.linalg.slogdet(cov[e, e] + tiny)[1]
    after_log = np.linalg.slogdet(after[e, e] + tiny)[1]
    assert information(belief, line) == pytest.approx(0.5 * (before_log - after_log), rel=1e-3)


def test_a_form_that_stands_closed_teaches_next_to_nothing_of_its_dials():
    assert information(a_belief(opened=0.0), "bust") < 0.05 < information(a_belief(), "bust")


def test_of_all_candidates_the_one_that_teaches_most_is_asked_for():
    form = a_form(opened=0.0)
    best = next_lesson(form)
    assert best is not None
    assert best.nats == max(one.nats for one in lessons(form))
    moved = {name.partition(".")[0] for name, n in best.numbers.items()
             if n > form.dial(name).least}  # fmt: skip
    assert moved == {best.row}
    for name, number in best.numbers.items():
        dial = form.dial(name)
        assert ((number - dial.least) / dial.click).is_integer()


def test_after_a_reading_another_row_is_asked_for_and_it_ends():
    form = a_form(opened=0.0)
    asked = []
    while (lesson := next_lesson(form)) is not None:
        asked.append((lesson.row, lesson.line))
        layout = Layout.of(form, [(line, GIRTH) for line in LEAST])
        there = turned(start(layout), lesson.numbers)
        mm = float(moments(there)[0] @ sight(there, lesson.line, GIRTH, moments(there)[0],
                   np.diagonal(moments(there)[1]))[0])  # fmt: skip
        known = KnownGirth(girth_mm=max(mm, 100.0), numbers=lesson.numbers)
        lines = tuple(
            one.model_copy(update={"girths": (*one.girths, known)})
            if one.name == lesson.line
            else one
            for one in form.lines
        )
        form = form.model_copy(update={"lines": lines})
    assert len(asked) <= MOST
    assert len({row for row, _line in asked[:3]}) == 3  # each row before any a second time
    assert all(one.nats >= 0.0 for one in lessons(form))
    rest = max(one.nats for one in lessons(form))
    assert len(asked) == MOST or rest < LEAST_NATS


def test_a_lesson_narrows_what_the_next_turn_will_give():
    belief = a_belief(opened=0.0)
    there = {name: LEAST["bust"] + 4.0 for name in belief.layout.dials if name[:4] == "bust"}
    e = belief.layout.effects(belief.layout.lines.index("bust"))
    before = np.trace(moments(belief)[1][e, e])
    opened = turned(belief, there)
    read = observe(opened, "bust", GIRTH, predict(opened, "bust")[0], KNOWN_GIRTH_MM)
    assert np.trace(moments(read)[1][e, e]) < before


def test_a_form_without_dials_has_nothing_to_teach():
    bare = a_form().model_copy(update={"rows": (), "dials": ()})
    assert lessons(bare) == ()
    assert next_lesson(bare) is None
