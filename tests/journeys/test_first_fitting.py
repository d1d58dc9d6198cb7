# SPDX-License-Identifier: MIT
"""The whole job by keys: a new person, measured; a form, read off; a fitting, to good enough.

The form is a virtual one that answers as a real one would; the window, the record and the engine
are the real ones. Afterwards everything is closed and found again as it was.
"""

from __future__ import annotations

import json

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

from fitassist.app.start import now
from fitassist.domain.steps import Finished, Measure, SetDials
from fitassist.storage.library import Library
from fitassist.wording.help_words import TOUR
from fitassist.wording.pages import say
from tests.virtual.cases import make_case

NAME = "Odile Brandt-Sato"
SEED = 4
MOST_ANSWERS = 120
# What settings say without being changed: a quarter inch, three eighths at the hip.
TOLERANCE_MM = {"bust": 6.35, "waist": 6.35, "hip": 9.525}
BACK_NECK_TO_WAIST = "400 mm"


@pytest.fixture
def case():
    """A small form with three rows of dials, and a body it can become."""
    return make_case(SEED, gross_share=0.0)


@pytest.fixture
def profile(tmp_path, case):
    """A folder with the form in it as its owner described it, its dials written down as closed."""
    form = case.form.as_form()
    closed = form.at({dial.name: dial.least for dial in form.dials})
    folder = tmp_path / "profile"
    folder.mkdir()
    Library(folder, now).save_form("ours", closed)
    return folder


class Hands:
    """Ten fingers on a keyboard: keys go to whatever has the focus."""

    def __init__(self, qtbot, window: QWidget) -> None:
        self._qtbot = qtbot
        self._window = window
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)

    def key(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier):
        self._qtbot.keyClick(QApplication.focusWidget(), key, modifier)

    def enter(self) -> None:
        self.key(Qt.Key.Key_Return)

    def type(self, text: str) -> None:
        self._qtbot.keyClicks(QApplication.focusWidget(), text)

    def tab_to(self, widget: QWidget) -> None:
        """Press Tab until a widget, or a part of it, has the focus."""
        for _ in range(200):
            here = QApplication.focusWidget()
            if here is widget or (here is not None and widget.isAncestorOf(here)):
                return
            self.key(Qt.Key.Key_Tab)
        raise AssertionError("the Tab key never came there")

    def press(self, words: str) -> None:
        """Tab to the button with these words and press it."""
        buttons = self._window.findChildren(QPushButton)
        (found,) = [one for one in buttons if one.text() == words and one.isVisible()]
        self.tab_to(found)
        self.key(Qt.Key.Key_Space)


def begin_person(hands, room) -> None:
    for _ in TOUR:  # the first screens, gone through
        hands.enter()
    hands.press(say("people.new"))
    hands.type(NAME)
    hands.enter()
    assert room.window.place == "measurements"


def measure(hands, room, case) -> None:
    page = room.window.page("measurements")
    hands.press(say("body.begin"))
    assert page.shown_keys() == ("bust", "waist", "hip", "back_neck_to_waist")
    for key in page.shown_keys():
        assert page.row(key).field.isAncestorOf(QApplication.focusWidget())
        mm = case.targets_mm.get(key)
        hands.type(f"{mm} mm" if mm is not None else BACK_NECK_TO_WAIST)
        hands.enter()
    hands.press(say("measure.next"))
    assert room.window.place == "form"


def read_dials_off(hands, room, case) -> None:
    page = room.window.page("form")
    page.list_view.setFocus()
    for dial, number in case.form.numbers.items():
        if page.form.dial(dial).number != number:
            hands.tab_to(page.grid.field(dial))
            QApplication.focusWidget().selectAll()
            hands.type(f"{number:g}")
            hands.enter()
    assert page.form.numbers() == case.form.numbers
    hands.press(say("form.start"))
    assert room.window.place == "fitting"


def fit(qtbot, hands, room, case) -> Finished:
    """Do what is asked at the virtual form and answer with keys, to the end."""
    qtbot.waitUntil(lambda: room.room.bridge.is_ready, timeout=20000)
    bridge = room.room.bridge
    for _ in range(MOST_ANSWERS):
        asked = bridge.view().instruction
        if isinstance(asked, Finished):
            return asked
        if isinstance(asked, SetDials):
            for turn in asked.turns:
                case.form.turn(turn.dial, turn.number)
        elif isinstance(asked, Measure):
            hands.type(f"{case.form.tape(asked.line, str(asked.what))} mm")
        hands.enter()
        assert bridge.view().instruction != asked, "the key was not heard"
    raise AssertionError("the fitting does not end")


def test_a_first_fitting_from_the_name_to_good_enough(qtbot, open_room, profile, case):
    room = open_room(profile)
    hands = Hands(qtbot, room.window)
    begin_person(hands, room)
    measure(hands, room, case)
    read_dials_off(hands, room, case)
    end = fit(qtbot, hands, room, case)
    assert end.verdict == "good_enough"
    assert end.dials == case.form.numbers
    for line, target_mm in case.targets_mm.items():  # the truth, which nobody was told
        assert abs(case.form.truth(line) - target_mm) <= TOLERANCE_MM[line]
    assert end.readings == sum(one.event.kind == "form_read" for one in room.record.events)

    events, view = room.record.events, room.room.bridge.view()
    form = room.room.bridge.fitting.form_now()
    room.window.close()

    kept = Library(profile, now).load_form("ours")
    assert kept.numbers() == case.form.numbers
    taught = {key: kept.learned["fittings"][0][key] for key in ("start", "entries")}
    assert taught == {key: form.learned["fittings"][0][key] for key in ("start", "entries")}
    (file,) = (profile / "people").glob("*.json")
    assert json.loads(file.read_text(encoding="utf-8"))["events"][0]["event"]["name"] == NAME

    again = open_room(profile)
    assert again.window.windowTitle().startswith(NAME)
    assert again.record.events == events
    again.window.go_to("fitting")
    qtbot.waitUntil(lambda: again.room.bridge.is_ready, timeout=20000)
    assert again.room.bridge.view() == view.model_copy(update={"notes": ()})
    assert again.record.events == events  # looking has written nothing
