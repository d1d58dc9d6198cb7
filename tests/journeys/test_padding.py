# SPDX-License-Identifier: MIT
"""Padding one person's form by keys: every piece, the tape, a layer out again, the proof, the end.

The sheet works thicker than was assumed, as it may; window, record and plan are the real ones.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fitassist.domain.answers import Leave
from fitassist.session.events import BodyDescribed, MeasurementTaken, PaddingChosen, PieceLaid
from fitassist.wording.padding_page_words import say
from fitassist.wording.padding_words import place_text

GIRTHS_MM = {
    "bust": 1070.0,
    "upper_chest": 960.0,
    "under_bust": 890.0,
    "waist": 860.0,
    "high_hip": 990.0,
    "hip": 1110.0,
}
THICKER = 1.25
MOST_ANSWERS = 150
PATIENCE_MS = 60000


@pytest.fixture
def room(qtbot, profile, open_room):
    """A person some cm larger than the form stands, whose fitting was ended at once."""
    made = open_room(profile)
    qtbot.waitUntil(lambda: made.window.place == "fitting")  # of whoever was open last
    person = next(e.id for e in made.own.people() if e.name == "Yuki Aranda")
    form = next(e.id for e in made.own.forms())
    made.open_person(person)
    made.record.append([BodyDescribed(body_id="winter", name="Winter")])
    taken = [
        MeasurementTaken(body_id="winter", measurement=line, mm=mm)
        for line, mm in GIRTHS_MM.items()
    ]
    made.record.append(taken)
    made.begin_fitting("winter", form)
    qtbot.waitUntil(lambda: made.room.bridge.is_ready, timeout=PATIENCE_MS)
    made.room.bridge.submit(Leave())
    return made


def opened(qtbot, room):
    """The padding page with its plan worked out."""
    room.window.go_to("padding")
    page = room.window.page("padding")
    room.window.activateWindow()
    qtbot.waitUntil(lambda: page.desk.stage == "ready", timeout=PATIENCE_MS)
    return page


def enter(qtbot) -> None:
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)


def truth(page, line: str) -> float:
    """What the tape would read, were a sheet so much thicker than assumed."""
    work, state = page.desk.work, page.desk.state
    sheets = work.book.sheets(work.laid_now(state))
    return work.book.girths(sheets, THICKER * work.choice.thickness_mm)[line]


def answer(qtbot, page) -> None:
    step, count = page.step, len(page.desk.record.events)
    if step.kind == "measure":
        assert page.work_view.bar.field.line_edit.hasFocus()
        qtbot.keyClicks(QApplication.focusWidget(), f"{truth(page, step.place):.0f} mm")
    enter(qtbot)
    assert len(page.desk.record.events) > count, f"not heard: {step}"


def until(qtbot, page, kind: str) -> None:
    for _ in range(MOST_ANSWERS):
        if page.step is None or page.step.kind == kind:
            return
        answer(qtbot, page)
    raise AssertionError("the padding does not end")


def test_padding_is_laid_measured_looked_at_and_proved_by_keys(qtbot, room):
    page = opened(qtbot, room)
    view = page.work_view
    assert page.step.kind == "search"
    assert [seen for _title, seen in view.list.lines()].count("now") == 1
    until(qtbot, page, "piece")
    assert view.card.title_text().startswith("Pin piece 1")
    first = page.step
    until(qtbot, page, "measure")
    laid = [one.event for one in room.record.events if isinstance(one.event, PieceLaid)]
    assert laid[0].step == first.id
    assumed = page.desk.work.choice.thickness_mm
    answer(qtbot, page)
    assert page.desk.work.working_mm(page.desk.state) == pytest.approx(THICKER * assumed, rel=0.06)
    assert any("The tape says" in text for text in view.notes.texts())
    until(qtbot, page, "proof")
    qtbot.mouseClick(view.bar.choices()[0], Qt.MouseButton.LeftButton)
    lead = page.step
    assert lead.kind == "take_out"
    assert view.card.title_text().startswith("Take out one layer from underneath")
    qtbot.keyClick(page, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert page.step.kind == "proof"
    until(qtbot, page, "nothing more")
    assert page.step is None
    assert view.card.title_text() == say("finished")
    for line in ("bust", "waist", "hip"):
        told = page.desk.work.task.line(line)
        sheet = THICKER * assumed
        assert abs(truth(page, line) - told.goal_mm) <= max(9.525, 3.15 * sheet)


def test_padding_comes_back_where_it_was_left_and_the_fitting_is_untouched(
    qtbot, room, open_room, profile
):
    page = opened(qtbot, room)
    until(qtbot, page, "measure")
    view, step = room.room.bridge.view(), page.step
    told = [text for text, _seen in page.work_view.list.lines()]
    room.window.close()
    again = open_room(profile)
    qtbot.waitUntil(lambda: again.room.bridge is not None, timeout=PATIENCE_MS)
    there = opened(qtbot, again)
    assert again.room.bridge.view().model_copy(update={"revision": 0}) == view.model_copy(
        update={"revision": 0, "notes": ()}
    )
    assert (there.step, [text for text, _seen in there.work_view.list.lines()]) == (step, told)


def test_what_looks_wrong_is_told_by_place(qtbot, room):
    page = opened(qtbot, room)
    until(qtbot, page, "measure")
    bar = page.work_view.bar
    qtbot.mouseClick(bar.wrong, Qt.MouseButton.LeftButton)
    places = [one.text() for one in bar.choices()]
    assert places
    qtbot.mouseClick(bar.choices()[0], Qt.MouseButton.LeftButton)
    assert [one.text() for one in bar.choices()] == [
        say("too_full"), say("too_flat"), say("ridge"),
    ]  # fmt: skip
    qtbot.mouseClick(bar.choices()[2], Qt.MouseButton.LeftButton)
    assert page.step.kind == "thin"
    assert places[0] in page.work_view.card.title_text()


def test_another_material_is_worked_out_anew_and_a_typed_thickness_shows_at_once(qtbot, room):
    page = opened(qtbot, room)
    view = page.work_view
    before = [one.sheets for one in view.map.picture.regions]
    view.show_tab("material")
    view.choices.thickness.line_edit.setText("2 mm")
    assert max(one.sheets for one in view.map.picture.regions) > max(before)
    qtbot.mouseClick(view.choices.material_button("foam_6"), Qt.MouseButton.LeftButton)
    view.choices.manner.choice("by_eye").click()
    view.choices.carrier.choice("slip_on").click()
    qtbot.mouseClick(view.choices.use, Qt.MouseButton.LeftButton)
    kept = room.record.events[-1].event
    assert isinstance(kept, PaddingChosen)
    assert (kept.material, kept.thickness_mm, kept.manner, kept.carrier) == (
        "foam_6", 6.0, "by_eye", "slip_on",
    )  # fmt: skip
    assert page.desk.stage == "planning"
    assert page.waiting.heading() == say("planning")
    qtbot.waitUntil(lambda: page.desk.stage == "ready", timeout=PATIENCE_MS)
    kinds = [one.kind for one in page.desk.steps()]
    assert "stack" in kinds
    assert "bag" in kinds
    assert "piece" not in kinds


def test_wraps_round_the_form_give_the_thickness_by_the_tape(qtbot, room):
    # FACTS 3 row 1 (COMPUTED, Steiner): 3 wraps that add 2 pi x 3 x 5 = 94.25 mm are 5 mm each.
    page = opened(qtbot, room)
    choices = page.work_view.choices
    page.work_view.show_tab("material")
    choices.wrap.set_open(True)
    choices.bare.line_edit.setText("800 mm")
    choices.around.line_edit.setText("894.25 mm")
    choices.take.click()
    assert choices.thickness.length().mm == pytest.approx(5.0, abs=0.05)
    assert page.desk.state.wrap.wraps == 3


def test_working_out_can_be_stopped_and_begun_again(qtbot, room):
    room.window.go_to("padding")
    page = room.window.page("padding")
    assert page.desk.stage == "planning"
    page.waiting.go.click()
    assert (page.desk.stage, page.waiting.heading()) == ("cancelled", say("cancelled"))
    page.waiting.go.click()
    qtbot.waitUntil(lambda: page.desk.stage == "ready", timeout=PATIENCE_MS)


def test_without_a_fitting_the_page_says_what_comes_first(qtbot, open_room, tmp_path):
    room = open_room(tmp_path)
    room.window.go_to("padding")
    page = room.window.page("padding")
    assert page.waiting.text() == say("no_fitting")
    page.waiting.go.click()
    assert room.window.place == "form"


def test_the_card_shows_where_a_piece_is_laid_and_says_it_in_the_words_of_the_place(qtbot, room):
    page = opened(qtbot, room)
    room.window.resize(1366, 768)
    picture = page.work_view.card.picture
    assert not picture.isVisible()  # pins are searched for all over
    until(qtbot, page, "piece")
    qtbot.waitUntil(picture.isVisible)
    assert picture.accessibleName() == place_text(page.step.place)
    card = page.work_view.card
    assert card.rect().contains(picture.geometry())
    words = card._inside().toAlignedRect()
    assert not words.intersects(picture.geometry())
