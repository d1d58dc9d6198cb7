# SPDX-License-Identifier: MIT
"""The page about shape: pictures, the same facts in words, heights by key, ways to the fields."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from fitassist.domain.body import Body, Target
from fitassist.domain.lines import What
from fitassist.domain.measurements import load_catalogue
from fitassist.domain.ready_forms import ready_forms
from fitassist.files import resources_dir
from fitassist.geometry.shape_prior import load_priors
from fitassist.gui import theme
from fitassist.gui.outline_plot import BAND_SHARE
from fitassist.gui.shape_page import ShapePage
from fitassist.session.shape_view import ShapeNote, ShapeView, shape_view
from fitassist.wording.shape_words import home_steps, note_codes, note_text, say
from tests.gui.fakes import cut_off, guessing_labels, reached_by_tab, seen, show, unnamed
from tests.gui.pictures import channels, pixels_of, shot

LEFT = Qt.MouseButton.LeftButton
CATALOGUE = load_catalogue(resources_dir() / "measurements.json")
LABELS = {one.key: one.label_for("woman") for one in CATALOGUE.measurements}
GIRTHS = (("bust", 965.2), ("waist", 762.0), ("hip", 1016.0))  # 38, 30 and 40 in


@cache
def view_of(*more: tuple[str, What, float], form: bool = True, girths: int = 3) -> ShapeView:
    told = [(line, What.GIRTH, mm) for line, mm in GIRTHS[:girths]]
    targets = tuple(
        Target(line=line, what=what, value_mm=mm, spread_mm=5.0)
        for line, what, mm in (*told, *more)
    )
    there = ready_forms(resources_dir() / "forms")["eight_parts_split_across"] if form else None
    priors = load_priors(resources_dir() / "shape" / "prior.npz")
    return shape_view(Body(name="Everyday", targets=targets), there, priors, CATALOGUE)


def page_of(qtbot: QtBot, view: ShapeView, unit: str = "in", has_form: bool = True) -> ShapePage:
    made = ShapePage(unit)  # type: ignore[arg-type]
    made.show_view(view, LABELS, has_form=has_form)
    return show(qtbot, made, 1366, 712)  # type: ignore[return-value]


@pytest.fixture
def page(qtbot: QtBot) -> ShapePage:
    return page_of(qtbot, view_of())


def test_every_line_is_said_with_what_is_drawn_of_it(page: ShapePage) -> None:
    said = page.grid.accessibleDescription()
    for name in ("Upper chest", "Bust", "Under-bust", "Waist", "High hip", "Hip"):
        assert name in said
    assert "38\u00a0in round" in said  # the girth that was read
    assert "Its girth is not measured" in said  # upper chest, under-bust and high hip
    assert said.count("Form: ") == 6
    assert page.silhouettes.accessibleDescription() == said


def test_bands_outlines_and_the_form_are_drawn_in_their_colours(page: ShapePage) -> None:
    colours = theme.palette()
    for plot in (page.grid, page.silhouettes):
        picture = shot(plot)
        assert len(pixels_of(picture, theme.blend(colours.page, colours.body, BAND_SHARE))) > 500
        assert pixels_of(picture, colours.body)
        assert pixels_of(picture, colours.form)


def test_a_narrower_band_is_seen_to_be_narrower(qtbot: QtBot, page: ShapePage) -> None:
    def covered(shown: ShapePage) -> int:
        band = QColor(theme.blend(theme.palette().page, theme.palette().body, BAND_SHARE))
        flat = channels(shot(shown.grid))[:, :, :3].astype(int)
        return int((np.abs(flat - band.getRgb()[:3]).max(axis=2) <= 1).sum())

    depths = (("bust", 245.0), ("waist", 205.0), ("hip", 235.0))
    sharper = page_of(qtbot, view_of(*((line, What.DEPTH, mm) for line, mm in depths)))
    assert covered(sharper) < 0.8 * covered(page)


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_lengths_are_said_in_the_users_unit(qtbot: QtBot, page: ShapePage, unit: str) -> None:
    page.set_unit(unit)  # type: ignore[arg-type]
    page.slider.setFocus()
    qtbot.keyClick(page.slider, Qt.Key.Key_PageUp)
    words = page.here.words.text()
    other = {"in": "cm", "cm": "\u00a0in"}[unit]
    assert f"\u00a0{unit} round" in words
    assert other not in words


def test_page_keys_go_from_line_to_line_and_arrows_between(qtbot: QtBot, page: ShapePage) -> None:
    page.slider.setFocus()
    names = []
    for _ in range(7):
        names.append(page.here.title.text().split(",")[0])
        qtbot.keyClick(page.slider, Qt.Key.Key_PageDown)
    assert names == ["Waist", "High hip", *["Hip"] * 5]
    for _ in range(2):
        qtbot.keyClick(page.slider, Qt.Key.Key_PageUp)
    assert page.here.title.text() == "Waist"
    for _ in range(4):
        qtbot.keyClick(page.slider, Qt.Key.Key_Up)
    assert page.here.title.text().startswith("Between under-bust and waist,")
    assert "above the waist" in page.slider.accessibleDescription()
    assert page.height_mm == pytest.approx(20.0)  # four steps of 5 mm


def test_a_press_on_a_section_or_a_silhouette_chooses_its_height(
    qtbot: QtBot, page: ShapePage
) -> None:
    third = QPointF(page.grid.width() * 5 / 6, page.grid.height() * 3 / 4).toPoint()
    qtbot.mouseClick(page.grid, LEFT, pos=third)
    assert page.here.title.text().startswith("Hip,")
    top = QPointF(page.silhouettes.width() / 2, 2).toPoint()
    qtbot.mouseClick(page.silhouettes, LEFT, pos=top)
    assert page.here.title.text().startswith("Upper chest,")


def test_what_would_sharpen_it_is_a_way_to_its_field(qtbot: QtBot, page: ShapePage) -> None:
    best = view_of().sharper[0]
    found = [b for b in page.findChildren(QPushButton) if b.text() == LABELS[best.key]]
    assert "narrows the band at the hip by" in found[0].accessibleName()
    with qtbot.waitSignal(page.field_asked) as asked:
        qtbot.mouseClick(found[0], LEFT)
    assert asked.args == [best.key]
    assert "1.2 times as wide" in page.sharper.why.text()
    assert "real people" in page.sharper.why.text()


def test_doubts_are_shown_with_a_way_to_the_field_they_are_about(qtbot: QtBot) -> None:
    boards = (("hip", What.BREADTH, 500.0), ("hip", What.DEPTH, 500.0))
    page = page_of(qtbot, view_of(*boards))
    assert "left out of the picture" in seen(page)
    looks = [b for b in page.findChildren(QPushButton) if b.text() == say("look")]
    with qtbot.waitSignal(page.field_asked) as asked:
        qtbot.mouseClick(looks[0], LEFT)
    assert asked.args == ["hip_breadth"]


def test_too_few_girths_say_what_to_measure_and_lead_there(qtbot: QtBot) -> None:
    page = page_of(qtbot, view_of(girths=2))
    assert "Three girths are enough" in page.said().text()
    with qtbot.waitSignal(page.field_asked) as asked:
        qtbot.mouseClick(page.empty_button, LEFT)
    assert asked.args == ["hip"]


def test_nobody_and_no_body_lead_where_that_is_put_right(qtbot: QtBot, page: ShapePage) -> None:
    page.show_nobody()
    with qtbot.waitSignal(page.people_asked):
        qtbot.mouseClick(page.empty_button, LEFT)
    page.show_no_body()
    with qtbot.waitSignal(page.measurements_asked):
        qtbot.mouseClick(page.empty_button, LEFT)


def test_a_body_without_a_form_stands_alone(qtbot: QtBot) -> None:
    page = page_of(qtbot, view_of(form=False), has_form=False)
    assert say("no_form") in page.here.words.text()
    assert "Form:" not in page.grid.accessibleDescription()


def test_no_assumption_can_be_chosen(qtbot: QtBot, page: ShapePage) -> None:
    assert page.kind_row.value() == "woman"
    with qtbot.waitSignal(page.kind_chosen) as chosen:
        qtbot.mouseClick(page.kind_row.choice("any"), LEFT)
    assert chosen.args == ["any"]


@pytest.mark.parametrize("look", ["light", "dark", "contrast"])
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_nothing_is_cut_off_nameless_or_read_as_markup(
    qtbot: QtBot, qapp, page: ShapePage, look: str, scale: float
) -> None:
    theme.apply(qapp, look, scale)
    page.home_fold.set_open(True)
    qtbot.wait(1)
    assert cut_off(page) == []
    assert unnamed(page) == []
    assert guessing_labels(page) == []


def test_all_of_it_is_reached_by_tab(qtbot: QtBot, page: ShapePage) -> None:
    reached = reached_by_tab(qtbot, page)
    assert page.slider in reached
    assert page.home_fold.head in reached
    assert page.kind_row.choice("woman") in reached


def test_measuring_at_home_shows_a_picture_for_each_of_its_words(page: ShapePage) -> None:
    page.home_fold.set_open(True)
    words = seen(page)
    for _picture, text in home_steps():
        assert text in words


@pytest.mark.parametrize("code", sorted(note_codes()))
def test_every_note_can_be_said_in_both_units(code: str) -> None:
    names = ("near_mm", "far_mm", "girth_mm", "sum_mm", "off_mm", "number", "times")
    note = ShapeNote(code, "hip", dict.fromkeys(names, 254.0))
    for unit in ("in", "cm"):
        said = note_text(note.code, note.line, note.values, unit)  # type: ignore[arg-type]
        assert "{" not in said
        assert said.endswith(".")


def thread_of(page: ShapePage) -> int:
    """Count the pixels of the side view that would be others if nothing were known of a bearing."""
    plot, view, drawn = page.silhouettes, page.shown_view(), channels(shot(page.silhouettes))
    plot.show_views(view.silhouettes, view.lines, page.height_mm, "")
    return int((channels(shot(plot)) != drawn).any(axis=2).sum())


def test_how_a_body_is_carried_is_drawn_and_said(qtbot: QtBot, page: ShapePage) -> None:
    assert not page.carried.isVisible()
    back = ("back_neck_to_waist", What.LENGTH, 400.0)
    tipped = page_of(qtbot, view_of(back, ("front_waist_length", What.LENGTH, 560.0)))
    assert "upright bearing" in tipped.carried.text()
    assert say("plumb") in tipped.carried.text()
    assert tipped.carried.text() in tipped.silhouettes.accessibleDescription()
    assert thread_of(tipped) > 150  # a pixel wide and some hundred long, and the lean beside it
    lower = ("floor_to_waist", What.LENGTH, 1030.0), ("floor_to_shoulder", What.LENGTH, 1470.0)
    dipped = page_of(qtbot, view_of(back, *lower, form=False), has_form=False)
    assert "dips in" in dipped.carried.text()
    assert thread_of(dipped) > 100
    assert thread_of(page) == 0
