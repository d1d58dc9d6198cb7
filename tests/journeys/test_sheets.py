# SPDX-License-Identifier: MIT
"""From the demonstration to paper: the sheets of a real record, saved, read back, kept apart."""

from __future__ import annotations

import json

import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QFileDialog

from fitassist.app.sheet_source import RoomSheets
from fitassist.session.events import DialsSet, MeasurementTaken, PaddingChosen
from fitassist.wording.numbers import number_text

HALF_WAY = "amara"
GIVES = "Amara Lindholm"


@pytest.fixture
def room(qtbot, profile, open_room):
    made = open_room(profile)
    person = next(e.id for e in made.own.people() if e.id == HALF_WAY or e.name == GIVES)
    made.open_person(person)
    qtbot.waitUntil(
        lambda: made.room.bridge is not None and made.room.bridge.is_ready, timeout=20000
    )
    return made


def sheets(room):
    room.window.go_to("sheets")
    return room.window.page("sheets")


def test_the_persons_sheet_tells_the_dials_as_they_stand(room, tmp_path, monkeypatch) -> None:
    page = sheets(room)
    path = tmp_path / "sheet.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    page.save_button.click()
    said = " ".join(p.extract_text() for p in PdfReader(path).pages)
    assert GIVES in " ".join(said.split())
    form = room.room.bridge.form
    for dial in form.dials:
        assert number_text(dial.number, form) in " ".join(said.split())


def test_what_happens_after_the_first_look_is_on_the_sheet_at_the_next(room) -> None:
    page = sheets(room)
    before = [i.text for i in page.pages[0].items if hasattr(i, "text")]
    room.window.go_to("fitting")
    dial = room.room.bridge.form.dials[0]
    other = dial.number - dial.step
    room.record.append([DialsSet(numbers={dial.name: other})])
    sheets(room)
    after = [i.text for i in page.pages[0].items if hasattr(i, "text")]
    assert number_text(other, room.room.bridge.form) in after
    assert before != after


def test_ribbons_follow_a_new_reading_and_the_persons_sheet_the_fitting(room) -> None:
    source = RoomSheets(room)
    taken = MeasurementTaken(body_id=room.body_id, measurement="bust", mm=1100.0)
    before = source.facts(newest=True).girth_mm("bust")
    fitted = source.facts().girth_mm("bust")
    room.record.append([taken])
    assert source.facts(newest=True).girth_mm("bust") > before
    assert source.facts().girth_mm("bust") == fitted


def test_padding_that_was_chosen_is_on_the_sheet_and_in_the_data(
    qtbot, room, tmp_path, monkeypatch
) -> None:
    page = sheets(room)
    page.choices.choose("templates")
    assert "Plan the padding" in page.problem()
    room.record.append([PaddingChosen(material="cotton", thickness_mm=3.2, carrier="slip_on")])
    page.refresh()
    qtbot.waitUntil(lambda: len(page.pages) > 2, timeout=20000)
    assert page.problem() == ""
    page.choices.choose("person")
    path = tmp_path / "sheet.json"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    page.data_button.click()
    told = json.loads(path.read_text("utf-8"))
    assert told["on_slip_on"] is True
    assert told["material"] == "cotton wadding"
    assert told["padding_thickness_mm"] == 3.2


def test_without_anybody_open_the_way_to_the_people_is_offered(open_room, tmp_path) -> None:
    room = open_room(tmp_path / "nobody yet")
    page = sheets(room)
    assert page.people_button.isVisible()
    page.people_button.click()
    assert room.window.place == "people"


def test_the_paper_that_was_taken_is_taken_again_in_the_next_window(qtbot, open_room, profile):
    first = open_room(profile)
    first.window.go_to("sheets")
    choices = first.window.page("sheets").choices
    choices.paper.choice("A3").click()
    choices.set_unit("cm")  # another unit brings its own paper only while none was taken
    assert choices.paper.value() == "A3"
    first.window.close()
    again = open_room(profile)
    again.window.go_to("sheets")
    assert again.window.page("sheets").choices.paper.value() == "A3"
