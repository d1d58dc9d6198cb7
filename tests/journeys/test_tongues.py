# SPDX-License-Identifier: MIT
"""No page cuts off its words in any tongue that is offered: they differ in length by a half."""

from __future__ import annotations

import json

import pytest

from fitassist.app import languages
from fitassist.gui import theme
from fitassist.wording.language import use_language
from tests.journeys import walking


@pytest.fixture
def speaking(qapp):
    """Say everything in a tongue; the English and the usual type come back at the end."""
    yield languages.speak
    languages.speak("en")
    use_language(None)
    theme.apply(qapp, "light", 1.0)


@pytest.mark.parametrize("scale", [1.0, 1.5])
@pytest.mark.parametrize("code", languages.COMPLETE)
def test_no_words_are_cut_off_in_another_tongue(qtbot, profile, open_room, speaking, code, scale):
    path = profile / "settings.json"
    chosen = json.loads(path.read_text(encoding="utf-8")) | {"language": code, "font_scale": scale}
    path.write_text(json.dumps(chosen), encoding="utf-8")
    room = open_room(profile)
    room.window.resize(walking.NARROW, walking.LOW)
    room.window.go_to("fitting")
    page = room.window.page("fitting")
    qtbot.waitUntil(lambda: page.work is not None, timeout=20_000)
    wrong = {}
    for place in walking.places(room):
        walking.settle()
        found = walking.cut_off(room.window)
        if found:
            wrong[place] = found
    assert wrong == {}
