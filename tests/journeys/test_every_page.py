# SPDX-License-Identifier: MIT
"""Every page there is, gone through: names for screen readers, the round of Tab, no cut-off text.

The places come from the window itself, so that a new page is looked at without a word here.
"""

from __future__ import annotations

import time

import pytest

from fitassist.gui import theme
from fitassist.gui.main_window import PLACES
from tests.journeys import walking
from tests.journeys.walking import LOW, NARROW

# From a click to the page, once warm, our own choice; processor time, so that others at work on the
# same machine do not count.
MOST_OPENING_S = 0.150
ROUNDS = 5


@pytest.fixture
def room(qtbot, profile, open_room):
    """The demonstration in a window as large as a small laptop's screen."""
    made = open_room(profile)
    made.window.resize(NARROW, LOW)
    made.window.activateWindow()
    qtbot.waitUntil(made.window.isActiveWindow)
    made.window.go_to("fitting")
    page = made.window.page("fitting")
    qtbot.waitUntil(lambda: page.work is not None, timeout=20_000)
    walking.settle()
    return made


@pytest.fixture
def dressed(qapp):
    """Dress the application, and undress it afterwards."""
    yield lambda name, scale: theme.apply(qapp, name, scale)
    theme.apply(qapp, "light", 1.0)


def test_every_place_of_the_window_can_be_visited_in_the_demonstration(room):
    shown = [place for place in PLACES if room.window.place_button(place).isVisible()]
    assert list(walking.places(room)) == shown
    assert len(shown) >= 5


def test_whatever_takes_the_focus_has_a_name_a_role_and_its_state(room):
    wrong = {}
    for place in walking.places(room):
        walking.unfold(room.window)
        for check in (walking.unnamed, walking.without_role, walking.wrong_state):
            found = check(room.window)
            if found:
                wrong[(place, check.__name__)] = found
    assert wrong == {}


@pytest.mark.parametrize("back", [False, True], ids=["forwards", "backwards"])
def test_tab_goes_all_round_every_page_and_is_caught_nowhere(qtbot, room, back):
    wrong = {}
    for place in walking.places(room):
        walking.unfold(room.window)
        room.window.place_button(place).setFocus()
        reached, is_closed = walking.tab_round(qtbot, room.window, back=back)
        # Going back, a page may show at last what it shows for the first field only.
        left_out = [] if back else walking.missed(room.window, reached)
        if not is_closed or left_out:
            last = walking.described(reached[-1]) if reached else "nothing"
            wrong[place] = ("round", is_closed, "last", last, "missed", left_out)
    assert wrong == {}


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_no_text_is_cut_off_at_any_size_of_type_on_a_small_screen(room, dressed, scale, unit):
    room.on_settings(room.settings.model_copy(update={"units": unit, "font_scale": scale}))
    dressed("light", scale)
    wrong = {}
    for place in walking.places(room):
        walking.settle()
        found = walking.cut_off(room.window)
        walking.unfold(room.window)
        walking.settle()
        found += walking.cut_off(room.window)
        if (room.window.width(), room.window.height()) != (NARROW, LOW):
            found.append(f"the window had to grow to {room.window.size().toTuple()}")
            room.window.resize(NARROW, LOW)
        bars = (room.window.area.horizontalScrollBar(), room.window.area.verticalScrollBar())
        if any(bar.maximum() for bar in bars):
            found.append("the page is larger than the window")
        if found:
            wrong[place] = found
    assert wrong == {}


def test_a_page_that_was_seen_before_opens_at_once(room):
    list(walking.places(room))  # all made once
    taken: dict[str, float] = {}
    for _ in range(ROUNDS):  # the best of a few
        began = time.process_time()
        for place in walking.places(room):
            now = time.process_time()
            taken[place] = min(taken.get(place, now - began), now - began)
            began = time.process_time()
    assert {p: round(s, 3) for p, s in taken.items() if s > MOST_OPENING_S} == {}
