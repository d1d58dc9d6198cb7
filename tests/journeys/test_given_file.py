# SPDX-License-Identifier: MIT
"""A form's description opened from the desktop is taken among one's own forms, once, and shown."""

from __future__ import annotations

import json
import shutil

import pytest

from fitassist.app.arguments import Asked, Refused, read_arguments
from fitassist.app.given_file import take_form
from fitassist.files import resources_dir

READY = resources_dir() / "forms" / "four_parts_whole_height.json"


@pytest.fixture
def given(tmp_path):
    path = tmp_path / "ours.fitassist-form"
    shutil.copy(READY, path)
    return path


def test_a_file_may_stand_among_the_arguments_once(given):
    assert read_arguments([str(given)]) == Asked(file=given)
    assert read_arguments(["--profile", "x", str(given)]).file == given
    with pytest.raises(Refused):
        read_arguments([str(given), str(given)])


def test_the_form_is_kept_and_shown_and_not_taken_twice(profile, open_room, given):
    room = open_room(profile)
    before = len(room.own.forms())
    take_form(room, given)
    name = json.loads(READY.read_text("utf-8"))["name"]
    assert room.window.place == "form"
    assert room.window.page("form").form.name == name
    take_form(room, given)
    assert len(room.own.forms()) == before + 1


@pytest.mark.parametrize("content", [None, b"", b"{}", b"\xff\xfe", b'{"format":"other"}'])
def test_what_is_no_form_is_refused_in_words_and_left_as_it_is(profile, open_room, given, content):
    if content is None:
        given.unlink()
    else:
        given.write_bytes(content)
    room = open_room(profile)
    before = room.own.forms()
    take_form(room, given)
    assert room.window.strip.text()
    assert room.own.forms() == before
    assert content is None or given.read_bytes() == content
