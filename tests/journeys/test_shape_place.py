# SPDX-License-Identifier: MIT
"""Shape in the real window: the body and form the other pages show, and the way to a field."""

from __future__ import annotations

import pytest

from fitassist.gui.shape_page import ShapePage
from fitassist.session.events import MeasurementTaken
from fitassist.wording.shape_words import say


@pytest.fixture
def room(open_room, profile):
    return open_room(profile)


def open_first(room, name: str) -> ShapePage:
    entry = next(one for one in room.own.people() if one.name == name)
    room.open_person(entry.id)
    room.window.go_to("shape")
    page = room.window.page("shape")
    assert isinstance(page, ShapePage)
    return page


def take(room, **lengths_mm: float) -> None:
    body_id = room.window.page("measurements").body_id
    for key, mm in lengths_mm.items():
        room.record.append([MeasurementTaken(body_id=body_id, measurement=key, mm=mm)])


def test_a_body_with_three_girths_is_drawn_beside_the_form_that_is_shown(room) -> None:
    page = open_first(room, "Amara Lindholm")
    assert page.grid.isVisible()
    form = room.window.page("form").form
    assert form is not None
    assert page.grid.accessibleDescription().count("Form: ") == 6


def test_the_button_leads_to_the_field_and_what_is_read_there_narrows_the_band(room, qtbot) -> None:
    page = open_first(room, "Amara Lindholm")
    best = page.sharper.findChild(type(page.empty_button))
    assert best is not None
    before = {line.line: line.band_mm for line in page.shown_view().lines}
    sharper = page.shown_view().sharper[0]
    best.click()
    assert room.window.place == "measurements"
    measurements = room.window.page("measurements")
    assert measurements.focusWidget() is measurements.row(sharper.key).field.line_edit
    measurements.row(sharper.key).field.line_edit.setText("10 in")
    assert measurements.row(sharper.key).field.commit()
    room.window.go_to("shape")
    after = {line.line: line.band_mm for line in page.shown_view().lines}
    assert after[sharper.line] < 0.8 * before[sharper.line]


def test_no_assumption_is_kept_with_the_body(room, qtbot) -> None:
    page = open_first(room, "Amara Lindholm")
    narrow = page.shown_view().lines[0].band_mm
    page.kind_row.choice("any").click()
    assert page.shown_view().kind == "any"
    assert page.shown_view().lines[0].band_mm > narrow
    measurements = room.window.page("measurements")
    assert measurements.state.bodies[measurements.body_id].kind == "other"


def test_what_cannot_be_true_is_asked_about_at_the_field_and_shown_here(room) -> None:
    page = open_first(room, "Amara Lindholm")
    take(room, hip_breadth=560.0, hip_depth=540.0)
    room.window.page("measurements").show_record(room.record)
    room.window.go_to("measurements")
    room.window.go_to("shape")
    said = [label.text() for label in page.doubts.findChildren(type(page.said()))]
    assert any("With these boards a tape all round reads at least" in text for text in said)
    assert any("left out of the picture" in text for text in said)
    assert len(page.shown_view().lines) == 6


def test_where_nobody_is_chosen_the_page_leads_to_the_people(room) -> None:
    page = open_first(room, "Amara Lindholm")
    room._close_person()
    room.window.go_to("form")
    room.window.go_to("shape")
    assert page.said().text() == say("nobody")
    page.empty_button.click()
    assert room.window.place == "people"


def test_the_unit_of_the_settings_is_followed(room) -> None:
    page = open_first(room, "Amara Lindholm")
    other = "cm" if room.settings.units == "in" else "in"
    room.on_settings(room.settings.model_copy(update={"units": other}))
    assert f"\u00a0{other} round" in page.here.words.text()
