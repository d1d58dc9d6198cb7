# SPDX-License-Identifier: MIT
"""From one's own forms to the forms on offer and back, with what was entered kept for next time."""

from __future__ import annotations

import json

from PySide6.QtCore import Qt

from fitassist.gui.offer_page import OfferPage
from fitassist.storage.offers import FILE_NAME, Offers
from tests.journeys import walking

LEFT = Qt.MouseButton.LeftButton
TABLE = """Name;For;Pole;Pins;Bust;Waist;Hip;Unit
Linden, small;women;offset;yes;84-104;64-84;90-110;cm
Oak;any;centre;no;32;26 1/2 to 27;36;in
"""


def offers_of(qtbot, room) -> OfferPage:
    """Go to the forms on offer as a user would."""
    room.window.go_to("form")
    page = room.window.page("form")
    qtbot.mouseClick(page.choose_button(), LEFT)
    walking.settle()
    room.window.go_to("form")  # a fitting under way has come to the front meanwhile
    return page.findChild(OfferPage)


def test_forms_on_offer_are_compared_for_the_people_of_the_workroom(
    qtbot, open_room, profile, tmp_path
):
    room = open_room(profile)
    offers = offers_of(qtbot, room)
    assert offers.isVisible()
    assert not room.window.page("form").grid.isVisible()
    table = tmp_path / "shop.csv"
    table.write_text(TABLE, encoding="utf-8")
    offers.open_table(str(table))
    assert [one.name for one in Offers(profile).load()] == ["Linden, small", "Oak"]
    people = offers.whom.people
    for row in range(people.count()):
        people.item(row).setCheckState(Qt.CheckState.Checked)
    offers.judge()
    names = {one.candidate.name for one in offers.judged}
    assert names >= {"Linden, small", "Oak", "The form by the window"}  # one's own as well
    assert all(len(one.bodies) == len(offers.whom.bodies()) for one in offers.judged)
    qtbot.mouseClick(offers.back, LEFT)
    assert room.window.page("form").grid.isVisible()


def test_what_was_entered_is_there_in_the_next_window(qtbot, open_room, profile):
    room = open_room(profile)
    offers = offers_of(qtbot, room)
    qtbot.mouseClick(offers.add, LEFT)
    qtbot.keyClicks(offers.editor.name, "Zelkova")
    qtbot.keyClicks(offers.editor.fields["bust"][0].line_edit, "36 1/2")
    qtbot.mouseClick(offers.editor.keep_button, LEFT)
    room.window.close()
    again = offers_of(qtbot, open_room(profile))
    found = next(one for one in again.judged if one.candidate.name == "Zelkova")
    assert abs(found.candidate.girths_mm["bust"].least_mm - 36.5 * 25.4) < 1e-6


def test_a_spoilt_list_of_forms_is_told_and_not_written_over(qtbot, open_room, profile):
    (profile / FILE_NAME).write_text('{"format": "fitassist-forms-on-offer"', encoding="utf-8")
    offers = offers_of(qtbot, open_room(profile))
    assert offers.said()
    assert "forms-on-offer" in (profile / FILE_NAME).read_text(encoding="utf-8")


def test_the_list_holds_nothing_of_the_people_it_is_for(qtbot, open_room, profile):
    offers = offers_of(qtbot, open_room(profile))
    people = offers.whom.people
    people.item(0).setCheckState(Qt.CheckState.Checked)
    qtbot.mouseClick(offers.add, LEFT)
    qtbot.keyClicks(offers.editor.name, "Ash")
    qtbot.mouseClick(offers.editor.keep_button, LEFT)
    kept = json.loads((profile / FILE_NAME).read_text(encoding="utf-8"))
    assert set(kept) == {"format", "version", "candidates"}
    assert people.item(0).text() not in json.dumps(kept)
