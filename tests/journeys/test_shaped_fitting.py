# SPDX-License-Identifier: MIT
"""A fitting shaped from the window: the setting chosen on the form's page goes with it for good."""

from __future__ import annotations

import pytest

from fitassist.app import torso_shapes
from fitassist.app.torso_shapes import shaping_of
from fitassist.domain.body import Body, Preferences, Target
from fitassist.session import events as ev
from fitassist.storage.library import Library
from fitassist.wording import reasons
from tests.builders import a_form

GIRTHS_MM = {
    "bust": 1010.0,
    "upper_chest": 880.0,
    "under_bust": 800.0,
    "waist": 740.0,
    "hip": 980.0,
}


@pytest.fixture
def profile(tmp_path):
    """A folder with one measured person and one form that has an upper chest."""
    library = Library(tmp_path / "profile", lambda: "2026-03-04T09:00:00Z")
    (tmp_path / "profile").mkdir()
    library.save_form("ours", a_form(closed={"upper_chest": 820.0, "under_bust": 700.0}))
    record = library.create_person("Jorid Vance")
    taken = [
        ev.MeasurementTaken(body_id="one", measurement=line, mm=mm)
        for line, mm in GIRTHS_MM.items()
    ]
    record.append([ev.BodyDescribed(body_id="one", name="Everyday"), *taken])
    record.close()
    return tmp_path / "profile", record.id


def started_from_the_form(qtbot, room, person):
    room.open_person(person)
    room.window.go_to("form")
    page = room.window.page("form")
    page.start_button.click()
    qtbot.waitUntil(lambda: room.room.bridge is not None and room.room.bridge.is_ready)
    return room.room.bridge


def test_the_proposed_setting_goes_with_the_fitting_and_is_found_again(qtbot, open_room, profile):
    folder, person = profile
    room = open_room(folder)
    bridge = started_from_the_form(qtbot, room, person)
    shaping = bridge.started.shaping
    assert shaping.setting == "frame_first"
    assert shaping.left_to_padding == ("bust",)
    assert set(shaping.offsets) >= {"waist.front", "hip.left"}
    room.window.close()
    again = open_room(folder)
    again.open_person(person)
    assert again.room.bridge.started.shaping == shaping


def test_a_chosen_setting_is_the_one_that_begins(qtbot, open_room, profile):
    folder, person = profile
    room = open_room(folder)
    room.open_person(person)
    room.window.go_to("form")
    page = room.window.page("form")
    page.shaping.way("room_for_padding").click()
    bridge = started_from_the_form(qtbot, room, person)
    assert bridge.started.shaping.setting == "room_for_padding"
    assert set(bridge.started.shaping.girths_mm) == {"bust", "waist", "hip"}


def test_a_shape_file_that_cannot_be_read_stops_no_fitting(
    qtbot, open_room, profile, tmp_path, monkeypatch
):
    monkeypatch.setattr(torso_shapes, "resources_dir", lambda: tmp_path)
    folder, person = profile
    bridge = started_from_the_form(qtbot, open_room(folder), person)
    assert bridge.started.shaping.offsets == {}
    said = [reasons.note(one, "in") for one in bridge.view().first_minute]
    assert any("torso shapes" in text for text in said)


def test_a_body_of_which_little_is_known_goes_by_girths_alone():
    body = Body(name="b", targets=(Target(line="bust", value_mm=900.0),))
    shaping = shaping_of(body, a_form(), Preferences(), "nearest_girth")
    assert shaping.offsets == {}
    assert shaping.doubts == ("outline_too_few_girths",)


def test_what_nobody_thought_of_goes_by_girths_alone(monkeypatch):
    def fails(*_: object) -> None:
        raise ValueError("no hull")

    monkeypatch.setattr("fitassist.session.shaping.best_gaps", fails)
    targets = tuple(Target(line=line, value_mm=mm) for line, mm in GIRTHS_MM.items())
    shaping = shaping_of(Body(name="b", targets=targets), a_form(), Preferences(), "nearest_girth")
    assert shaping.doubts == ("shape_not_told",)
