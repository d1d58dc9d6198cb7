# SPDX-License-Identifier: MIT
"""True outlines in the sections: drawn where known, moved by dials, and ellipses marked as such."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from fitassist.app.torso_shapes import outlines_of
from fitassist.domain.body import Body, Target
from fitassist.domain.form import Form
from fitassist.domain.lines import Seam, What
from fitassist.geometry.outline import REAL_PEOPLE
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.section_outlines import SectionMaker
from fitassist.gui.section_shapes import free_corner
from fitassist.gui.sections_plot import SectionsPlot
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.wording.section_words import shape_note
from tests.builders import a_form
from tests.gui.test_sections_plot import a_line

GIRTHS_MM = {"bust": 930.0, "under_bust": 800.0, "waist": 730.0, "high_hip": 900.0, "hip": 980.0}


def a_body(girths: tuple[str, ...] = tuple(GIRTHS_MM), **depths: float) -> Body:
    targets = [Target(line=n, value_mm=GIRTHS_MM[n], spread_mm=4.0) for n in girths]
    targets += [
        Target(line=n, what=What.DEPTH, value_mm=mm, spread_mm=4.0) for n, mm in depths.items()
    ]
    return Body(name="b", targets=tuple(targets))


def girth_of(curve: np.ndarray) -> float:
    ring = np.vstack((curve, curve[:1]))
    return float(np.hypot(*np.diff(ring, axis=0).T).sum())


def maker(body: Body, form: Form | None = None) -> SectionMaker:
    form = form or a_form()
    return SectionMaker(form, body, outlines_of(body, form))


def a_plot(qtbot: QtBot, body: Body, form: Form) -> tuple[SectionsPlot, Fitting]:
    fitting = Fitting.start(body, form)
    made = SectionsPlot()
    qtbot.addWidget(made)
    qtbot.addWidget(made.assumed)
    made.resize(900, 260)
    view = fitting.view()
    made.begin(form, body, view.lines, "in", outlines_of(body, form))
    made.show_lines(view.lines, view.numbers)
    made.show()
    qtbot.waitExposed(made)
    return made, fitting


def test_the_tape_round_body_and_form_reads_what_is_known_of_them() -> None:
    view = a_line("hip").model_copy(update={"target_mm": 980.0, "predicted_mm": 940.0})
    drawn = maker(a_body()).drawn(view, dict.fromkeys([f"hip.{s}" for s in Seam], 36.5))
    assert not drawn.body_is_ellipse
    assert not drawn.form_is_ellipse
    assert girth_of(drawn.body) == pytest.approx(980.0, abs=4.0)  # the reading's own spread
    assert drawn.section is not None
    assert girth_of(drawn.section.hull) == pytest.approx(940.0, abs=0.01)


def test_a_depth_that_was_measured_is_the_depth_that_is_drawn() -> None:
    for depth in (220.0, 260.0):
        drawn = maker(a_body(hip=depth)).drawn(a_line("hip"), {})
        assert float(np.ptp(drawn.body[:, 1])) == pytest.approx(depth, abs=6.0)


def test_front_and_back_of_an_outline_are_where_the_sections_have_them() -> None:
    # A gap in front parts the panels there; in the sections the front is at the bottom, y < 0.
    view = a_line("bust")
    numbers = dict.fromkeys([f"bust.{s}" for s in Seam], 33.0) | {"bust.front": 37.0}
    section = maker(a_body()).drawn(view, numbers).section
    assert section is not None
    front_left, back_left, back_right, front_right = section.panels
    assert front_left[0][1] < 0 < back_left[-1][1]
    assert front_left[0][0] - front_right[-1][0] == pytest.approx(25.4)  # 4 in on a scale of four
    assert back_left[-1][0] - back_right[0][0] == pytest.approx(0.0, abs=1e-6)


def test_more_readings_draw_a_narrower_band() -> None:
    few = maker(a_body()).drawn(a_line("hip"), {})
    more = maker(a_body(hip=245.0, waist=200.0)).drawn(a_line("hip"), {})
    assert few.band is not None
    assert more.band is not None
    assert more.band_mm < 0.9 * few.band_mm
    assert girth_of(few.band[0]) < girth_of(few.body) < girth_of(few.band[1])


def test_what_is_not_known_is_an_ellipse_and_says_so(qtbot: QtBot) -> None:
    body = a_body(("bust", "waist", "hip"))
    neck = Target(line="neck", value_mm=360.0)
    body = body.model_copy(update={"targets": (neck, *body.targets[:2])})  # two girths: too few
    plot, _fitting = a_plot(qtbot, body, a_form(closed={"neck": 340.0}))
    said = [items.name.toPlainText() for items in plot._sections]
    assert said[1:] == ["Bust (ellipse)", "Waist (ellipse)"]
    assert plot.assumed.text() == shape_note(False, True, 1.0)
    assert "the body's shape is only assumed" in plot.accessibleDescription().lower()
    assert not plot._sections[1].band.isVisible()


def test_the_note_says_how_much_wider_the_band_is_and_why(qtbot: QtBot) -> None:
    plot, _fitting = a_plot(qtbot, a_body(), a_form())
    assert plot._maker is not None
    assert plot._maker.wider >= REAL_PEOPLE
    note = plot.assumed.text()
    assert f"{plot._maker.wider:.1f} times wider" in note
    assert "real bodies vary more" in note
    assert note in plot.accessibleDescription()
    assert "Body known to about" in plot.accessibleDescription()
    assert plot._sections[0].band.isVisible()


def test_without_any_shape_all_is_as_it_was(qtbot: QtBot) -> None:
    body = Body(name="b", targets=(Target(line="bust", value_mm=900.0),))
    plot = SectionsPlot()
    qtbot.addWidget(plot)
    qtbot.addWidget(plot.assumed)
    plot.begin(a_form(), body, [a_line("bust")], "in", None)
    plot.show_lines([a_line("bust")], {})
    assert "The shape is only assumed" in plot.assumed.text()
    assert plot._sections[0].name.toPlainText() == "Bust"


def test_sections_move_while_a_number_is_typed(qtbot: QtBot) -> None:
    body, form = a_body(), a_form()
    plot, fitting = a_plot(qtbot, body, form)
    before = plot._sections[0].panels.path().boundingRect()
    numbers = {"bust.left": 38.0, "bust.right": 38.0}
    plot.show_lines(fitting.preview(numbers=numbers), {**fitting.view().numbers, **numbers})
    after = plot._sections[0].panels.path().boundingRect()
    assert after.height() > before.height() + 15.0  # side gaps add depth
    assert plot._sections[0].body.path().boundingRect().isValid()


@pytest.mark.parametrize("size", [(964, 250), (620, 120), (300, 100)])
def test_no_word_lies_across_an_outline_or_its_band(qtbot: QtBot, size: tuple[int, int]) -> None:
    plot, _fitting = a_plot(qtbot, a_body(), a_form())
    plot.resize(*size)
    plot.grab()  # only painting brings items to where they are seen
    for items in plot._sections:
        walls = [
            polygon
            for shape in (items.panels, items.body, items.band)
            for polygon in shape.mapToScene(shape.path()).toSubpathPolygons()
        ]
        for words in (items.body_label, items.form_label):
            if not words.isVisible():
                continue
            box = words.mapToScene(words.boundingRect()).boundingRect()
            margin = words.textItem.document().documentMargin()
            box.adjust(margin, margin, -margin, -margin)
            crossed = [w for w in walls if any(box.contains(point) for point in w.toList())]
            assert not crossed, words.toPlainText()


def test_names_with_amounts_beside_them_do_not_meet_where_sections_are_small(qtbot: QtBot) -> None:
    plot, _fitting = a_plot(qtbot, a_body(), a_form())
    plot.resize(964, 105)
    plot.grab()
    names = [items.name for items in plot._sections]
    assert all("to go" in name.toPlainText() for name in names)
    boxes = [name.mapToScene(name.boundingRect()).boundingRect() for name in names]
    assert not any(a.intersects(b) for a, b in pairwise(boxes))


def test_the_corner_of_a_label_lies_outside_a_square() -> None:
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * 100.0
    x, y = free_corner([square], 2.0)
    assert (x, y) == (pytest.approx(np.sqrt(0.5) * 100.0 + 2.0), pytest.approx(-102.0))


def test_a_bridge_works_outlines_out_once_and_only_if_it_can() -> None:
    asked = []

    def count(body: Body, form: Form) -> None:
        asked.append(body.name)

    started = ev.FittingStarted(fitting_id="f", body=a_body(), form=a_form())
    bridge = FittingBridge(started, outlines_of=count)
    assert bridge.outlines() is None
    assert bridge.outlines() is None
    assert asked == ["b"]
    assert FittingBridge(started).outlines() is None
