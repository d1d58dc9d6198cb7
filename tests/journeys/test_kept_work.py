# SPDX-License-Identifier: MIT
"""Records, fittings and forms tied together in the window: opened, taken over, killed, erased."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from fitassist.app import start
from fitassist.app.arguments import Refused
from fitassist.app.kept_form import last_fitting
from fitassist.demo import demo_profile
from fitassist.domain.answers import Done, TapeReading
from fitassist.files import resources_dir
from fitassist.session.events import DialsSet, FittingStarted, FormRead
from fitassist.session.fitting import Fitting
from fitassist.storage.library import Library
from fitassist.wording import program
from tests.journeys import walking

HALF_WAY = "amara"


def ready(qtbot, room):
    """Wait until the fitting of a room can be answered."""
    qtbot.waitUntil(
        lambda: room.room.bridge is not None and room.room.bridge.is_ready, timeout=20000
    )
    return room.room.bridge


# -- the demonstration ------------------------------------------------------------------------


def test_the_demonstration_opens_in_the_middle_of_a_fitting_and_says_what_it_is(
    qtbot, open_room, own_folders
):
    with demo_profile() as folder:
        room = open_room(folder, is_demo=True)
        view = ready(qtbot, room).view()
        qtbot.waitUntil(lambda: room.window.place == "fitting")
        assert view.instruction.kind == "set"
        assert view.readings > 0
        said = [label.accessibleName() for label in room.window.findChildren(QLabel)]
        assert any(program.say("demo") in text for text in said)
        room.window.close()
    assert not folder.exists()
    assert not own_folders.exists()  # nothing of the user's was touched


def test_everybody_in_the_demonstration_can_be_opened(tmp_path, profile):
    library = Library(profile, lambda: "")
    people = library.people()
    assert len(people) >= 4
    assert [entry.problem for entry in (*people, *library.forms())] == [None] * (len(people) + 2)
    for entry in people:
        with library.open_person(entry.id) as record:
            assert record.notices == ()
    assert [entry.id for entry in people if entry.has_open_fitting] == [HALF_WAY]


def test_every_fitting_of_the_demonstration_can_be_taken_up_as_it_was_left(profile):
    library = Library(profile, lambda: "")
    taken_up = 0
    for entry in library.people():
        started, past, is_over = last_fitting(library.open_person(entry.id, read_only=True).events)
        if started is None:
            continue
        fitting = Fitting(started, pytest.fail, past)  # nothing needs to be written for it
        assert (fitting.instruction.kind == "done") == is_over
        assert fitting.view().lines
        taken_up += 1
    assert taken_up == 2


# -- records, fittings, forms -----------------------------------------------------------------


def test_a_record_that_is_open_elsewhere_offers_to_look_or_to_take_over(qtbot, open_room, profile):
    first = open_room(profile)
    ready(qtbot, first)
    second = open_room(profile)
    assert second.record is None
    words = [way.text() for way in second.window.strip.ways()]
    assert words[:2] == [program.say("look_only"), program.say("take_over")]
    second.window.strip.ways()[0].click()
    assert second.record.read_only
    assert not ready(qtbot, second).submit(Done())
    second.window.strip.ways()[0].click()  # take over
    assert not second.record.read_only
    assert ready(qtbot, second).submit(Done())
    count = len(first.record.events)
    assert not first.room.bridge.submit(Done())
    assert len(first.record.events) == count
    assert first.window.strip.ways()[0].text() == program.say("open_again")
    second.window.close()
    stands = dials_of(Library(profile, lambda: ""))
    first.window.close()  # knows less than the one that took over, so it leaves the form alone
    assert dials_of(Library(profile, lambda: "")) == stands


def dials_of(library: Library, form_id: str = "window") -> dict[str, float]:
    return library.load_form(form_id).numbers()


def test_a_form_is_kept_as_it_stands_with_what_it_has_learned(qtbot, open_room, profile):
    room = open_room(profile)
    bridge = ready(qtbot, room)
    before = Library(profile, lambda: "").load_form("window")
    while bridge.view().instruction.kind == "set":
        assert bridge.submit(Done())
    wanted = bridge.view().numbers
    expected = bridge.view().instruction.expect_mm
    assert bridge.submit(TapeReading(mm=expected))
    room.window.close()
    after = Library(profile, lambda: "").load_form("window")
    assert after.numbers() == wanted != before.numbers()
    assert len(after.learned["fittings"]) == len(before.learned["fittings"]) == 2
    readings = [sum(e["mm"] is not None for e in form.learned["fittings"][-1]["entries"])
                for form in (before, after)]  # fmt: skip
    assert readings[1] == readings[0] + 1


KILLED = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from fitassist.app import fitting_room
from fitassist.app.start import make_workroom
from fitassist.domain.answers import Done
fitting_room.KEEP_AFTER_MS = 10**6  # the form is not kept before the end comes
app = QApplication([])
room = make_workroom(app, Path(sys.argv[1]))
room.begin()
room.window.show()
def look():
    if room.room.bridge is None or not room.room.bridge.is_ready:
        QTimer.singleShot(20, look)
        return
    assert room.room.bridge.submit(Done())
    print(__import__("json").dumps(room.room.bridge.view().numbers), flush=True)
    os.kill(os.getpid(), 9)
QTimer.singleShot(0, look)
app.exec()
"""


@pytest.mark.skipif(os.name == "nt", reason="there is no SIGKILL on Windows")
def test_after_a_kill_the_answer_is_there_and_the_form_is_brought_up_to_date(
    qtbot, open_room, profile
):
    killed = subprocess.run(
        [sys.executable, "-c", KILLED, str(profile)],
        capture_output=True, text=True, check=False, timeout=120, cwd=resources_dir().parent,
    )  # fmt: skip
    assert killed.returncode == -9, killed.stderr
    numbers = json.loads(killed.stdout)
    assert dials_of(Library(profile, lambda: "")) != numbers
    room = open_room(profile)
    assert ready(qtbot, room).view().numbers == numbers
    assert dials_of(Library(profile, lambda: "")) == numbers
    assert room.window.strip.text() == ""  # nobody else has moved the form


def test_a_fitting_whose_form_was_moved_meanwhile_says_so(qtbot, open_room, profile):
    library = Library(profile, lambda: "")
    form = library.load_form("window")
    library.save_form("window", form.at({"waist.front": 36.0}))
    room = open_room(profile)
    ready(qtbot, room)
    assert room.window.strip.text() == program.say("form_elsewhere")
    room.window.close()
    assert dials_of(library)["waist.front"] == 36.0  # looking at a fitting moves no form


def test_a_new_fitting_is_begun_only_when_the_old_one_is_given_up(qtbot, open_room, profile):
    room = open_room(profile)
    ready(qtbot, room)
    room.window.go_to("form")
    old = room.room.bridge.started.fitting_id
    page = room.window.page("form")
    page.start_asked.emit("body-1", "window", "nearest_girth")
    assert room.window.strip.text() == program.say("under_way")
    room.window.strip.ways()[0].click()
    assert (room.window.place, room.room.bridge.started.fitting_id) == ("fitting", old)
    page.start_asked.emit("body-1", "window", "room_for_padding")
    room.window.strip.ways()[1].click()
    assert ready(qtbot, room).started.fitting_id != old
    started = room.record.events[-2].event
    assert isinstance(started, FittingStarted)
    assert started.preferences.checks
    assert started.shaping.setting == "room_for_padding"
    assert started.form.numbers() == dials_of(Library(profile, lambda: ""))


def test_a_fitting_of_a_body_without_measurements_does_not_begin(qtbot, open_room, profile):
    room = open_room(profile)
    ready(qtbot, room)
    room.open_person("farid")
    before = room.record.events
    room.begin_fitting("body-1", "window")
    assert "Measure at least one line first" in room.window.strip.text()
    assert room.record.events == before
    assert room.room.bridge is None


def test_erasing_the_person_who_is_open_closes_the_record_first(qtbot, open_room, profile):
    room = open_room(profile)
    ready(qtbot, room)
    room.window.go_to("people")
    page = room.window.page("people")
    page.reload(HALF_WAY)
    qtbot.mouseClick(page.card.erase_button, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(page.card.erase_yes, Qt.MouseButton.LeftButton)
    assert room.record is None
    assert HALF_WAY not in [entry.id for entry in Library(profile, lambda: "").people()]
    assert list((profile / "people").glob(f"*{HALF_WAY}*")) == []


def test_what_is_chosen_in_the_settings_counts_at_once_and_next_time(qtbot, open_room, profile):
    room = open_room(profile)
    ready(qtbot, room)
    room.window.go_to("settings")
    page = room.window.page("settings")
    qtbot.mouseClick(page.row("units").choice("cm"), Qt.MouseButton.LeftButton)
    assert room.settings.units == "cm"
    assert room.settings.last_person == HALF_WAY
    room.window.close()
    again = open_room(profile)
    assert again.settings.units == "cm"
    assert again.window.place == "settings"


def test_settings_that_cannot_be_read_are_kept_aside_and_it_is_said(qtbot, open_room, profile):
    (profile / "settings.json").write_text("{ not json")
    room = open_room(profile)
    qtbot.waitUntil(lambda: room.window.strip.text() == program.say("settings_damaged"))
    assert room.window.place == "people"
    kept = [path.read_text() for path in profile.glob("settings.json.*")]
    assert kept == ["{ not json"]


def test_a_part_of_the_program_that_is_missing_is_named(qapp, profile, tmp_path, monkeypatch):
    shutil.copytree(resources_dir(), tmp_path / "resources")
    (tmp_path / "resources" / "measurements.json").unlink()
    monkeypatch.setattr(start, "resources_dir", lambda: tmp_path / "resources")
    with pytest.raises(Refused, match=r"measurements\.json"):
        start.make_workroom(qapp, profile)


def test_every_answer_is_on_disk_before_it_shows(qtbot, open_room, profile):
    room = open_room(profile)
    bridge = ready(qtbot, room)
    seen = []

    def look(view):
        events = Library(profile, lambda: "").open_person(HALF_WAY, read_only=True).events
        seen.append([type(one.event) for one in events])

    bridge.view_changed.connect(look)
    bridge.submit(Done())
    assert seen[0].count(DialsSet) > 0
    assert len(seen[0]) == len(room.record.events)
    assert FormRead in seen[0]


@pytest.mark.skipif(os.name == "nt", reason="rights of a Unix")
@pytest.mark.parametrize(("mode", "told"), [(0o755, True), (0o700, False)])
def test_a_folder_others_can_look_into_is_told_once(qtbot, open_room, tmp_path, mode, told):
    # A disk that keeps no rights (FAT, some shares) shows every folder as open to all.
    folder = tmp_path / "stick"
    folder.mkdir()
    folder.chmod(mode)
    room = open_room(folder)
    qtbot.waitUntil(lambda: room.window.place != "", timeout=10000)
    if told:
        qtbot.waitUntil(lambda: "not yours alone" in room.window.strip.text(), timeout=10000)
        assert "--profile" in room.window.strip.text()
    else:
        walking.settle()
        assert room.window.strip.text() == ""
    room.window.close()
    again = open_room(folder)
    walking.settle()
    assert "not yours alone" not in again.window.strip.text()
