# SPDX-License-Identifier: MIT
"""How beside every instruction; and at type too large for two things, the parts take turns."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from fitassist.gui import theme
from fitassist.session.fitting import Fitting
from fitassist.wording.help_search import topic
from fitassist.wording.help_steps import topic_of
from tests.gui.fakes import cut_off, seen
from tests.gui.fitting_bench import Bench, Disk
from tests.gui.form_of_twelve import started

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def bench(qtbot):
    return Bench(qtbot, Fitting(started(), Disk()))


@pytest.fixture
def large(qapp):
    theme.apply(qapp, "light", 2.0)
    yield
    theme.apply(qapp, "light", 1.0)


def test_how_explains_the_step_at_hand_and_follows_it(bench):
    bench.click(bench.work.how)
    assert bench.work.side.is_how
    shown = bench.work.side.text.topic
    assert shown == topic_of(bench.fitting.instruction)
    assert shown.text.split("\n\n")[0] in seen(bench.page)
    bench.set_until("measure")
    assert bench.work.side.text.topic == topic(topic_of(bench.fitting.instruction).key)
    bench.click(bench.work.side.close_button)
    assert not bench.work.side.is_how
    assert not bench.work.how.isChecked()


def test_how_does_not_take_the_enter_key_away(bench):
    bench.set_until("set")
    first = bench.fitting.instruction.id
    bench.click(bench.work.how)
    bench.enter()
    assert bench.fitting.instruction.id != first


def test_at_usual_type_the_step_is_never_hidden(bench):
    assert bench.work.below.choice("step").isHidden()
    for view in ("lines", "sections"):
        bench.click(bench.work.below.choice(view))
        assert bench.work.card.isVisible()


def test_at_double_type_sections_and_lines_have_the_page_to_themselves(large, bench):
    bench.page.resize(1366, 690)
    bench.set_until("set")
    work = bench.work
    assert work.card.isVisible()
    assert not work.sections.isVisible()
    bench.click(work.below.choice("sections"))
    assert work.sections.isVisible()
    assert not work.card.isVisible()
    assert work.sections.height() >= 250
    bench.click(work.below.choice("lines"))
    assert work.lines.isVisible()
    assert not work.sections.isVisible()
    assert cut_off(bench.page) == []


def test_a_new_step_comes_into_view_whatever_was_looked_at(large, bench):
    bench.page.resize(1366, 690)
    bench.set_until("set")
    bench.click(bench.work.below.choice("sections"))
    bench.enter()
    assert bench.work.card.isVisible()
    assert bench.work.below.value() == "step"
