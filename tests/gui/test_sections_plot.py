# SPDX-License-Identifier: MIT
"""The sections on the screen: one scale, gaps from the dials, and the same facts in words."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pyqtgraph as pg
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from fitassist.domain.body import Body, Target
from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam, What
from fitassist.gui.section_facts import chosen_lines, seam_gaps
from fitassist.gui.sections_plot import SectionsPlot
from fitassist.session.fitting import Fitting
from fitassist.session.view import LineView
from tests.gui.form_of_twelve import a_body, a_form


def a_line(line: str, what: What = What.GIRTH) -> LineView:
    return LineView(
        line=line,
        what=what,
        has_dials=True,
        target_mm=900.0,
        tolerance_mm=(-6.0, 6.0),
        predicted_mm=880.0,
        spread_mm=3.0,
        chance=0.1,
        state="not_yet",
        to_go_mm=20.0,
    )


@pytest.fixture
def plot(qtbot: QtBot) -> SectionsPlot:
    fitting = Fitting.start(a_body(), a_form())
    made = SectionsPlot()
    qtbot.addWidget(made)
    qtbot.addWidget(made.assumed)  # the page gives it its place
    made.resize(900, 260)
    view = fitting.view()
    made.begin(fitting.started.form, fitting.started.body, view.lines, "in")
    made.show_lines(view.lines, view.numbers)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_a_dial_that_names_the_whole_girth_opens_its_seam_by_a_quarter() -> None:
    # Four seams share what the number adds: 37 after 35 is half an inch each.
    gaps = seam_gaps(a_form(), "bust", dict.fromkeys([f"bust.{s}" for s in Seam], 37.0))
    assert gaps == {seam: pytest.approx(12.7) for seam in Seam}


def test_a_dial_that_names_its_gap_opens_it_by_that() -> None:
    form = a_form(dial_meaning=DialMeaning.SEAM_GAP, units="cm")
    assert seam_gaps(form, "bust", {"bust.left": 36.5})[Seam.LEFT] == pytest.approx(15.0)


def test_a_seam_without_its_own_dial_follows_the_others() -> None:
    form = a_form()
    dials = tuple(d.model_copy(update={"missing": d.name == "bust.back"}) for d in form.dials)
    numbers = {"bust.front": 36.0, "bust.left": 37.0, "bust.right": 38.0}
    gaps = seam_gaps(form.model_copy(update={"dials": dials}), "bust", numbers)
    assert gaps[Seam.BACK] == pytest.approx(2.0 * 25.4 / 4)


def test_bust_waist_and_hip_are_drawn_first_and_from_the_top_down() -> None:
    lines = [a_line(n) for n in ("hip", "neck", "waist", "bust", "under_bust")]
    assert chosen_lines(lines) == ("bust", "waist", "hip")
    others = [a_line("high_hip"), a_line("neck"), a_line("bust", What.FRONT)]
    assert chosen_lines(others) == ("neck", "high_hip")


def test_the_three_sections_share_one_scale_and_none_is_cut_off(plot: SectionsPlot) -> None:
    (box,) = [i for i in plot._plot.scene().items() if isinstance(i, pg.ViewBox)]
    (x0, x1), (y0, y1) = box.viewRange()
    for items in plot._sections:
        for shape in (items.panels, items.body):
            bounds = shape.mapRectToParent(shape.path().boundingRect())
            assert x0 < bounds.left() < bounds.right() < x1
            assert y0 < bounds.top() < bounds.bottom() < y1
    across, down = box.viewPixelSize()
    assert across == pytest.approx(down, rel=0.01)


def test_resizing_keeps_all_in_sight_and_comes_back_to_the_same_scale(plot: SectionsPlot) -> None:
    before = plot.mm_per_px()
    plot.resize(500, 200)
    assert plot.mm_per_px() > before
    plot.resize(900, 260)
    assert plot.mm_per_px() == pytest.approx(before)


def test_the_drawn_body_measures_its_target_round(plot: SectionsPlot) -> None:
    polygon = plot._sections[0].body.path().toFillPolygon()
    points = np.array([[p.x(), p.y()] for p in polygon.toList()])
    drawn = np.hypot(*np.diff(points, axis=0).T).sum()
    assert drawn == pytest.approx(927.1, rel=2e-4)  # chords of a 128-sided figure


def test_seen_from_behind_the_back_is_towards_the_viewer(plot: SectionsPlot) -> None:
    view = a_line("bust")
    numbers = {f"bust.{seam}": 35.0 for seam in Seam} | {"bust.front": 41.0}

    def widest_gap_y() -> float:
        polygons = plot._sections[0].panels.path().toSubpathPolygons()
        ends = np.array([[p.x(), p.y()] for poly in polygons for p in poly.toList()])
        middle = (ends[:, 0].max() + ends[:, 0].min()) / 2
        near = ends[np.abs(ends[:, 0] - middle) < 15.0]  # only the closed side comes this near
        return float(near[:, 1].mean())

    plot.show_lines([view], numbers)
    assert widest_gap_y() > 0  # the closed back lies at the top
    plot.show_from(behind=True)
    assert widest_gap_y() < 0
    assert plot._sections[0].front.toPlainText() == "back"


def test_the_same_facts_are_said_in_words(plot: SectionsPlot) -> None:
    said = plot.accessibleDescription()
    assert "Bust: form 35 in, body 36 1/2 in, 1 1/2 in to go." in said
    assert "Hip: form 37 in, body 38 1/4 in, 1 1/4 in to go." in said
    assert "The shape is only assumed" in said
    assert plot._plot.accessibleDescription() == said


def test_the_scale_bar_is_in_the_users_unit(plot: SectionsPlot) -> None:
    bar = plot._bar.path().boundingRect()
    assert bar.width() == pytest.approx(4 * 25.4)
    assert plot._bar_label.toPlainText() == "4 in"
    plot.set_unit("cm")
    assert plot._bar.path().boundingRect().width() == pytest.approx(100.0)
    assert plot._bar_label.toPlainText() == "10 cm"


def test_a_measured_breadth_and_depth_shape_the_body(qtbot: QtBot) -> None:
    flat = (Target(line="bust", value_mm=900.0), *(
        Target(line="bust", what=what, value_mm=mm)
        for what, mm in ((What.BREADTH, 330.0), (What.DEPTH, 220.0))
    ))  # fmt: skip
    made = SectionsPlot()
    qtbot.addWidget(made)
    qtbot.addWidget(made.assumed)
    made.begin(a_form(), Body(name="b", targets=flat), [a_line("bust")], "in")
    made.show_lines([a_line("bust")], {})
    bounds = made._sections[0].body.path().boundingRect()
    assert bounds.width() / bounds.height() == pytest.approx(1.5)


@pytest.mark.parametrize("size", [(964, 250), (880, 185), (620, 120), (300, 100)])
def test_no_words_lie_across_an_outline(plot: SectionsPlot, size: tuple[int, int]) -> None:
    plot.resize(*size)
    for items in plot._sections:
        outlines = [
            shape.mapToScene(shape.path()).toSubpathPolygons()
            for shape in (items.panels, items.body)
        ]
        walls = [polygon for polygons in outlines for polygon in polygons]
        for words in (items.middle, items.body_label, items.form_label):
            if not words.isVisible() or not words.toPlainText():
                continue
            box = words.mapToScene(words.boundingRect()).boundingRect()
            margin = words.textItem.document().documentMargin()
            box.adjust(margin, margin, -margin, -margin)
            crossed = [w for w in walls if any(box.contains(point) for point in w.toList())]
            assert not crossed, words.toPlainText()


@pytest.mark.parametrize("size", [(964, 250), (620, 120), (400, 100), (300, 100)])
def test_the_names_of_sections_beside_each_other_never_meet(
    plot: SectionsPlot, size: tuple[int, int]
) -> None:
    lines = [
        a_line(line).model_copy(update={"state": "measure_again"})
        for line in ("bust", "waist", "hip")
    ]
    plot.resize(*size)
    QApplication.processEvents()
    plot.show_lines(lines, {})
    QApplication.processEvents()
    boxes = []
    for items in plot._sections:
        margin = items.name.textItem.document().documentMargin()
        box = items.name.mapToScene(items.name.boundingRect()).boundingRect()
        boxes.append(box.adjusted(margin, margin, -margin, -margin))
    assert boxes[0].left() >= 0
    assert all(one.right() <= other.left() for one, other in pairwise(boxes))


def test_what_is_left_to_go_stands_in_the_middle_after_the_words_became_longer(
    plot: SectionsPlot,
) -> None:
    line = a_line("hip")
    for to_go_mm in (101.6, 69.85, 12.7):  # 4 in, 2 3/4 in, 1/2 in
        plot.show_lines([line.model_copy(update={"to_go_mm": to_go_mm})], {})
        items = plot._sections[0]
        words = items.middle.mapToScene(items.middle.boundingRect()).boundingRect().center()
        body = items.body.mapToScene(items.body.path().boundingRect()).boundingRect().center()
        assert words.x() == pytest.approx(body.x(), abs=1.0)


def test_sections_beside_each_other_are_said_in_one_unit(plot: SectionsPlot) -> None:
    # 18 mm alone is said in mm, 22 mm in cm: beside each other both are in cm.
    near, far = (
        a_line(line).model_copy(update={"to_go_mm": mm})
        for line, mm in (("bust", 18.0), ("waist", 22.0))
    )
    plot.set_unit("cm")
    plot.show_lines([near, far], {})
    assert plot.girth_texts() == ("1.8 cm to go", "2.2 cm to go")
    plot.show_lines([near], {})
    assert plot.girth_texts() == ("18 mm to go",)


def test_kept_private_no_girth_is_said(plot: SectionsPlot) -> None:
    plot.keep_private(True)
    said = plot.accessibleDescription()
    assert "Bust: 1 1/2 in to go." in said
    assert "36 1/2" not in said
    assert not plot._bar.isVisible()
    plot.keep_private(False)
    assert "36 1/2" in plot.accessibleDescription()
