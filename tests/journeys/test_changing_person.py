# SPDX-License-Identifier: MIT
"""One form, one person after the other: what it wears comes off first, and goes back on later."""

from __future__ import annotations

from fitassist.domain.answers import Done
from fitassist.session.events import PaddingChosen, PieceLaid
from fitassist.session.person import fold_person


def ready(qtbot, room):
    """Wait until the fitting of a room can be answered."""
    qtbot.waitUntil(
        lambda: room.room.bridge is not None and room.room.bridge.is_ready, timeout=20000
    )
    return room.room.bridge


def id_of(room, name: str) -> str:
    return next(one.id for one in room.own.people() if one.name.startswith(name))


def begin(qtbot, room, person_id: str, form_id: str):
    """Open somebody and begin a fitting of their first body on a form."""
    room.open_person(person_id)
    state = fold_person(room.record.events)
    body_id = next(key for key, body in state.bodies.items() if body.readings)
    room.begin_fitting(body_id, form_id)
    return ready(qtbot, room)


def test_the_padding_of_one_person_comes_off_for_the_next_and_on_again_later(
    qtbot, open_room, profile
):
    room = open_room(profile)
    amara, yuki = id_of(room, "Amara"), id_of(room, "Yuki")
    room.open_person(amara)
    form_id = ready(qtbot, room).started.form_id
    room.record.append(
        [
            PaddingChosen(material="felt", thickness_mm=3.0, carrier="slip_on"),
            PieceLaid(step="lay:1", place="left_cup", layer=1),
        ]
    )
    bridge = begin(qtbot, room, yuki, form_id)
    assert bridge.view().instruction.code == "padding_off"
    room.window.go_to("fitting")
    page = room.window.page("fitting")
    qtbot.waitUntil(lambda: page.work is not None, timeout=10000)
    assert "slip-on" in page.work.card.title_text()
    said = " ".join(page.work.list.lines())
    assert "Mark the lines" in said  # the whole way to her is listed
    assert "Measure the" in said
    bridge.submit(Done())
    assert bridge.view().instruction.code == "undergarment"
    assert "Lindholm" not in str(bridge.started.model_dump())  # her record names nobody else
    bridge = begin(qtbot, room, amara, form_id)
    assert bridge.started.padding_kept == "slip_on"
    assert bridge.view().upcoming[-1].place == "padding_on"


def test_somebody_erased_leaves_no_question_behind(qtbot, open_room, profile):
    room = open_room(profile)
    amara, yuki = id_of(room, "Amara"), id_of(room, "Yuki")
    room.open_person(amara)
    form_id = ready(qtbot, room).started.form_id
    room.record.append([PaddingChosen(material="felt", thickness_mm=3.0)])
    room.record.append([PieceLaid(step="lay:1", place="left_cup", layer=1)])
    room.let_go(amara)
    room.own.erase_person(amara)
    bridge = begin(qtbot, room, yuki, form_id)
    assert bridge.view().instruction.code != "padding_off"
