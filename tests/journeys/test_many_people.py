# SPDX-License-Identifier: MIT
"""Tables in and out, two records in one, earlier states: whole jobs in the window, by keys."""

from __future__ import annotations

import csv
import io
import json
import shutil

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from fitassist.session.events import (
    BodyDescribed,
    DialsSet,
    MeasurementTaken,
    NotesChanged,
    PersonNamed,
)
from fitassist.session.person import fold_person
from fitassist.storage.library import Library
from fitassist.wording import history_words, people_words

KEY = Qt.Key


def focus():
    """Return what has the focus in the one window."""
    window = QApplication.activeWindow()
    return window.focusWidget() or window


def press(qtbot, key):
    qtbot.keyClick(focus(), key)


def go_by_tab_to(qtbot, widget, most=80):
    """Press Tab until a widget has the focus."""
    for _ in range(most):
        if focus() is widget:
            return
        qtbot.keyClick(focus(), KEY.Key_Tab)
    raise AssertionError(f"Tab never came to {widget.accessibleName()!r}")


@pytest.fixture
def people_page(qtbot, open_room, profile):
    shutil.rmtree(profile / "people")
    library = Library(profile, lambda: "2026-03-04T09:00:00+00:00")
    with library.create_person("Ada Example") as record:
        record.append(
            [
                BodyDescribed(body_id="b", name="Everyday"),
                MeasurementTaken(body_id="b", measurement="waist", mm=700),
            ]
        )
    library.create_person("Zed").close()
    room = open_room(profile)
    room.window.activateWindow()
    qtbot.waitUntil(room.window.isActiveWindow)
    room.window.go_to("people")
    page = room.window.page("people")
    qtbot.waitUntil(lambda: not page._reading.is_going())
    page.search.setFocus()
    return page


def bodies(profile, name):
    library = Library(profile, lambda: "")
    entry = next(one for one in library.people() if one.name == name)
    with library.open_person(entry.id, read_only=True) as record:
        person = fold_person(record.events)
    return tuple(person.bodies.values())


def waists(profile, name):
    return [r.mm for body in bodies(profile, name) for r in body.readings.get("waist", ())]


def test_a_table_is_looked_at_first_and_brought_in_once_confirmed(
    qtbot, people_page, profile, tmp_path, monkeypatch
):
    page = people_page
    path = tmp_path / "people.csv"
    path.write_bytes("Name;Waist (cm)\r\nBo;71,5\r\nCy;abc\r\nAda Example;66\r\n".encode("cp1252"))
    answer = (str(path), "")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: answer)
    panel = page.panel("in")
    before = len(Library(profile, lambda: "").people())
    go_by_tab_to(qtbot, page.list.in_button)
    press(qtbot, KEY.Key_Return)
    assert focus() is panel.choose
    press(qtbot, KEY.Key_Return)
    qtbot.waitUntil(panel.confirm.isVisible)
    assert "3 rows · 2 people · 1 reading" in panel.said()
    said = [row[0] for row in panel.problems.texts()]
    assert any("Row 3, Waist (cm)" in text for text in said)
    assert any("Row 4" in text and "Ada Example" in text for text in said)
    assert len(Library(profile, lambda: "").people()) == before
    qtbot.keyClick(panel.kind.choice("man"), KEY.Key_Space)
    go_by_tab_to(qtbot, panel.confirm)
    press(qtbot, KEY.Key_Return)
    qtbot.waitUntil(lambda: not panel._keeping.is_going() and "brought in" in panel.said())
    press(qtbot, KEY.Key_Escape)
    qtbot.waitUntil(lambda: page.list.model.rowCount() == before + 2)
    assert page.list.current().name == "Bo"
    assert waists(profile, "Bo") == [715]
    assert [body.kind for body in bodies(profile, "Bo")] == ["man"]
    assert waists(profile, "Ada Example") == [700]


def test_escape_brings_nothing_in(qtbot, people_page, profile, tmp_path):
    page = people_page
    path = tmp_path / "people.csv"
    path.write_text("Name,Waist\nBo,71\n")
    go_by_tab_to(qtbot, page.list.in_button)
    press(qtbot, KEY.Key_Return)
    page.panel("in").open_file(str(path))
    qtbot.waitUntil(page.panel("in").confirm.isVisible)
    press(qtbot, KEY.Key_Escape)
    assert len(Library(profile, lambda: "").people()) == 2
    assert page.list_view.isVisible()


def test_everybody_is_taken_out_to_a_table(qtbot, people_page, tmp_path, monkeypatch):
    page = people_page
    path = tmp_path / "out.csv"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    go_by_tab_to(qtbot, page.list.out_button)
    press(qtbot, KEY.Key_Return)
    panel = page.panel("out")
    go_by_tab_to(qtbot, panel.make)
    press(qtbot, KEY.Key_Return)
    qtbot.waitUntil(path.exists)
    rows = list(csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"))))
    assert sorted(row["Name"] for row in rows) == ["Ada Example", "Zed"]
    qtbot.waitUntil(lambda: "out.csv" in panel.said())
    press(qtbot, KEY.Key_Escape)
    assert page.list_view.isVisible()


def test_two_records_are_taken_together_apart_again_and_confirmed(qtbot, people_page, profile):
    page = people_page
    library = Library(profile, lambda: "2026-04-01T00:00:00Z")
    events = [
        BodyDescribed(body_id="x", name="Everyday"),
        MeasurementTaken(body_id="x", measurement="waist", mm=720),
    ]
    library.create_person("Ada E.", events).close()
    page.reload()
    qtbot.keyClicks(page.search, "ada example")
    go_by_tab_to(qtbot, page.card.together_button)
    press(qtbot, KEY.Key_Return)
    panel = page.panel("together")
    assert focus() is panel.search
    qtbot.keyClicks(panel.search, "ada e.")
    assert "Everyday" in panel.said()
    go_by_tab_to(qtbot, panel.make)
    press(qtbot, KEY.Key_Return)
    assert [one.name for one in page.list.model.everybody()].count("Ada E.") == 0
    assert waists(profile, "Ada Example") == [720]
    assert page.card.holds_ask.isVisible()
    go_by_tab_to(qtbot, page.card.holds_ask.ways[1])  # take apart again
    press(qtbot, KEY.Key_Return)
    assert waists(profile, "Ada Example") == [700]
    assert waists(profile, "Ada E.") == [720]
    go_by_tab_to(qtbot, page.card.together_button)
    press(qtbot, KEY.Key_Return)
    qtbot.keyClicks(panel.search, "ada e.")
    go_by_tab_to(qtbot, panel.make)
    press(qtbot, KEY.Key_Return)
    go_by_tab_to(qtbot, page.card.holds_ask.ways[0])  # confirm
    press(qtbot, KEY.Key_Return)
    assert people_words.say("confirm_done") in page.said().text()
    assert len(Library(profile, lambda: "").people()) == 2
    assert not page.card.holds_ask.isVisible()


def test_an_earlier_state_is_gone_back_to_and_the_present_kept(qtbot, people_page, profile):
    page = people_page
    library = Library(profile, lambda: "2026-04-01T00:00:00Z")
    ada = next(one for one in library.people() if one.name == "Ada Example")
    library.add_to_person(ada.id, [NotesChanged(text="since"), PersonNamed(name="Ada Later")])
    page.reload(ada.id)
    qtbot.keyClicks(page.search, "ada")
    go_by_tab_to(qtbot, page.card.states_button)
    press(qtbot, KEY.Key_Return)
    panel = page.panel("states")
    assert "1 body, 1 reading, 0 fittings" in panel.table.texts()[0]
    go_by_tab_to(qtbot, panel.restore)
    press(qtbot, KEY.Key_Return)
    names = {one.name for one in Library(profile, lambda: "").people()}
    assert names == {"Ada Example", "Zed"}
    states = Library(profile, lambda: "").backups(ada.id)
    assert b"Ada Later" in states[0].path.read_bytes()
    press(qtbot, KEY.Key_Escape)
    assert page.list.current().name == "Ada Example"


def test_readings_of_two_days_are_told_apart_and_the_last_made_to_count(
    qtbot, people_page, profile
):
    page = people_page
    library = Library(profile, lambda: "2026-09-01T00:00:00Z")
    ada = next(one for one in library.people() if one.name == "Ada Example")
    taken = MeasurementTaken(body_id="b", measurement="waist", mm=760)
    library.add_to_person(ada.id, [taken])
    page.reload(ada.id)
    go_by_tab_to(qtbot, page.card.history_button)
    press(qtbot, KEY.Key_Return)
    panel = page.panel("history")
    (row,) = panel.table.texts()
    # 60 mm is more than sqrt(2) * 1.96 * 19.3 mm = 53.5 mm, the worst of Barrios 2016.
    assert row[3] == history_words.matter_text("change")
    go_by_tab_to(qtbot, panel.only_last)
    press(qtbot, KEY.Key_Return)
    assert waists(profile, "Ada Example") == [760]


def test_an_import_is_taken_back_but_whoever_was_changed_since_stays(
    qtbot, people_page, profile, tmp_path
):
    page = people_page
    panel = page.panel("in")
    path = tmp_path / "people.csv"
    path.write_text("Name,Waist (cm)\nBo,71.5\nCy,80\nAda Example,66\n", encoding="utf-8")
    names = {one.name for one in Library(profile, lambda: "").people()}
    page.list.in_button.click()
    panel.open_file(str(path))
    qtbot.waitUntil(panel.confirm.isVisible)
    panel.known.choice("add").click()
    qtbot.waitUntil(lambda: panel.confirm.isVisible() and not panel._looking.is_going())
    panel.confirm.click()
    qtbot.waitUntil(lambda: not panel._keeping.is_going() and "brought in" in panel.said())
    assert waists(profile, "Ada Example") != [700]
    library = Library(profile, lambda: "2026-03-05T09:00:00+00:00")
    cy = next(one.id for one in library.people() if one.name == "Cy")
    library.add_to_person(cy, [NotesChanged(text="She comes on Friday.")])
    assert panel.take_back.isVisible()
    panel.take_back.click()
    qtbot.waitUntil(lambda: "taken back" in panel.said())
    assert "2 people taken back" in panel.said()
    assert "1 person changed since" in panel.said()
    assert {one.name for one in Library(profile, lambda: "").people()} == names | {"Cy"}
    assert waists(profile, "Ada Example") == [700]
    assert not panel.take_back.isVisible()


def test_one_fitting_gone_on_with_on_two_computers_is_said_beside_both(qtbot, open_room, profile):
    library = Library(profile, lambda: "2026-03-08T09:00:00+00:00")
    amara = next(one.id for one in library.people() if one.name.startswith("Amara"))
    path = profile / "people" / f"{amara}.json"
    library.open_person(amara).close()  # folds the journal, so that the copy holds all of it
    there = path.with_name(f"{amara} (conflicted copy 2026-03-08).json")
    shutil.copy(path, there)
    library.add_to_person(amara, [DialsSet(numbers={"bust.front": 40.0})])
    document = json.loads(there.read_text(encoding="utf-8"))
    seq = len(document["events"]) + 1
    event = {"kind": "dials_set", "numbers": {"bust.front": 41.0}}
    document["events"].append({"seq": seq, "at": "2026-03-08T09:01:00+00:00", "event": event})
    there.write_text(json.dumps(document), encoding="utf-8")
    room = open_room(profile)
    room.window.go_to("people")
    page = room.window.page("people")
    panel = page.panel("copies")
    panel.begin(amara, "Amara")
    assert len(panel.files.texts()) == 1
    assert "gone on with on both computers" in panel.said()
    assert path.exists()
    assert there.exists()
