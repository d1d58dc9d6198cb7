# SPDX-License-Identifier: MIT
"""A form nobody knows, described by questions in the window and used for a fitting at once."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from fitassist.gui.describing_view import DescribingView
from fitassist.session.person import fold_person
from tests.journeys import walking

LEFT = Qt.MouseButton.LeftButton


def form_page(room):
    walking.settle()
    room.window.go_to("form")
    return room.window.page("form")


def test_an_unknown_form_is_described_kept_and_fitted(qtbot, open_room, profile):
    room = open_room(profile)
    page = form_page(room)
    before = len(room.own.forms())
    qtbot.mouseClick(page._side_beginnings.describe, LEFT)
    form_page(room)
    view = page.findChild(DescribingView)
    assert view.isVisible()
    view._text.setText("Hawthorn")
    view.go_on.click()
    while view.question.kind != "end":
        if view.question.key == "girth":
            row = view.question.row
            view._length.set_text({"bust": "34", "waist": "27", "hip": "36"}[row])
        elif view.question.key == "lesson":
            row = view._lesson.row
            most = max(n for d, n in view._lesson.numbers.items() if d.startswith(row))
            view._length.set_text(f"{most:g}" if row == view._lesson.line else "30")
        view.go_on.click()
        assert view.error_text() == ""
    view.go_on.click()
    walking.settle()
    assert page.grid.isVisible()
    assert page.form.name == "Hawthorn"
    assert len(room.own.forms()) == before + 1
    kept = room.own.load_form(page.form_id)
    assert kept.line("bust").closed_girth_mm == pytest.approx(34 * 25.4)
    taught = sum(len(line.girths) for line in kept.lines)
    assert taught >= 1
    person = next(one.id for one in room.own.people() if one.name.startswith("Mateo"))
    form_id = page.form_id
    room.open_person(person)
    state = fold_person(room.record.events)
    body_id = next(key for key, body in state.bodies.items() if body.readings)
    room.begin_fitting(body_id, form_id)
    qtbot.waitUntil(
        lambda: room.room.bridge is not None and room.room.bridge.is_ready, timeout=20000
    )
    assert room.room.bridge.started.form.name == "Hawthorn"


def test_a_form_one_has_can_be_taught_by_a_few_readings(qtbot, open_room, profile):
    room = open_room(profile)
    page = form_page(room)
    page.folds["taught"].set_open(True)
    walking.settle()
    page.taught.lessons.click()
    view = page.findChild(DescribingView)
    assert view.question.key in ("lesson", "done")
    view.leave.click()
    walking.settle()
    assert page.grid.isVisible()


def test_another_unit_and_dials_moved_meanwhile_are_taken_over(qtbot, open_room, profile):
    room = open_room(profile)
    page = form_page(room)
    qtbot.mouseClick(page._side_beginnings.describe, LEFT)
    view = page.findChild(DescribingView)
    while view.question.key != "girth":
        view.go_on.click()
    kept = room.own.load_form(page.form_id)
    dial = kept.dials[0].name
    moved = kept.at({dial: kept.dials[0].greatest})
    room.own.save_form(page.form_id, moved)  # as a fitting does
    room.on_form_moved(page.form_id)
    units = "cm" if room.settings.units == "in" else "in"
    room.on_settings(room.settings.model_copy(update={"units": units}))
    view._length.set_text({"cm": "86", "in": "34"}[units])
    view.go_on.click()
    assert view.error_text() == ""
    kept = room.own.load_form(page.form_id)
    assert kept.dial(dial).number == moved.dial(dial).number
    row = next(one for one in kept.rows if one.name == "bust")
    wanted_mm = {"cm": 860.0, "in": 863.6}[units]
    assert kept.line(row.line).closed_girth_mm == pytest.approx(wanted_mm)


def test_closing_the_window_half_way_loses_no_answer(qtbot, open_room, profile):
    room = open_room(profile)
    page = form_page(room)
    qtbot.mouseClick(page._side_beginnings.describe, LEFT)
    view = page.findChild(DescribingView)
    view._text.setText("Rowan")
    view.go_on.click()
    view.choose("four")
    view.go_on.click()
    room.window.close()
    again = open_room(profile)
    entry = next(one for one in again.own.forms() if one.name == "Rowan")
    assert again.own.load_form(entry.id).parts == 4
