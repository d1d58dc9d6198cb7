# SPDX-License-Identifier: MIT
"""What a form has taught is read on its page, forgotten when asked, and copied only if asked."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from fitassist.domain.form import Form
from fitassist.domain.form_file import load_form_text
from fitassist.domain.form_memory import LastFitted
from fitassist.domain.taught import Taught, TaughtRow
from fitassist.errors import BadFile
from fitassist.files import resources_dir
from fitassist.gui import form_draft
from fitassist.gui.form_page import FormPage
from fitassist.wording.taught_words import say
from tests.gui.fakes import FakeEntry, FakeLibrary, guessing_labels, seen, show, unnamed

LEFT = Qt.MouseButton.LeftButton
LEARNED = {"version": 1, "fittings": [{"start": {}, "entries": []}]}
ROW = TaughtRow("waist", 0.9, 23, "2026-03-04T10:00:00Z")


def an_eight() -> Form:
    paths = sorted((resources_dir() / "forms").glob("*.json"))
    forms = [load_form_text(path.read_text(encoding="utf-8")) for path in paths]
    return next(form for form in forms if form.parts == 8)


def fitted(form: Form, **more: object) -> Form:
    last = {"fitting_id": "i-1", "person_id": "i", "at": "2026-03-04T10:00:00Z", "finished": True}
    last |= {"numbers": form.numbers(), **more}
    return form.model_copy(update={"last_fitted": LastFitted.model_validate(last)})


def teach(form: Form) -> Taught:
    return Taught((ROW,) if form.learned else ())


@pytest.fixture
def open_page(qtbot):
    def opened(form: Form, teach=teach):
        library = FakeLibrary([FakeEntry("i", "Ingrid")])
        library.save_form("", form)
        page = show(qtbot, FormPage(library, (), "in", teach=teach), 1366, 1400)
        page.folds["taught"].set_open(True)
        return page, library

    return opened


def test_a_new_form_has_taught_nothing_and_is_nobodys(open_page) -> None:
    page, _library = open_page(an_eight())
    assert say("nothing") in seen(page)
    assert say("nobody") in seen(page)
    assert say("no_dials") in seen(page)
    assert not page.taught.forget.isVisible()
    assert unnamed(page.taught) == []
    assert guessing_labels(page.taught) == []


def test_what_was_taught_is_said_with_what_it_rests_on(open_page) -> None:
    page, _library = open_page(an_eight().model_copy(update={"learned": LEARNED}))
    assert (
        "The waist dials give about 0.9 of what they print, from 23 readings, "
        "the last in March 2026." in seen(page)
    )
    assert say("off") not in seen(page)


def test_a_scale_that_is_off_is_pointed_out(open_page) -> None:
    off = TaughtRow("waist", 0.7, 9, is_off=True)
    page, _library = open_page(an_eight(), lambda _form: Taught((off,)))
    assert say("off") in seen(page)


def test_it_is_worked_out_only_once_it_is_unfolded_and_not_for_a_turned_dial(open_page) -> None:
    asked = []

    def counted(form: Form) -> Taught:
        asked.append(form)
        return Taught()

    page, library = open_page(an_eight(), counted)
    assert len(asked) == 1
    library.save_form(page.form_id, page.form.at({"bust.front": 37.0}))
    page.reread()
    assert len(asked) == 1
    page.folds["taught"].set_open(False)
    library.save_form(page.form_id, page.form.model_copy(update={"learned": LEARNED}))
    page.reread()
    assert len(asked) == 1
    page.folds["taught"].set_open(True)
    assert len(asked) == 2


def test_it_is_forgotten_only_after_one_question(qtbot, open_page) -> None:
    page, library = open_page(an_eight().model_copy(update={"learned": LEARNED}))
    qtbot.mouseClick(page.taught.forget, LEFT)
    assert say("forget_why") in seen(page)
    qtbot.mouseClick(page.taught.forget_no, LEFT)
    assert library.kept_forms[page.form_id].learned == LEARNED
    qtbot.mouseClick(page.taught.forget, LEFT)
    qtbot.mouseClick(page.taught.forget_yes, LEFT)
    assert library.kept_forms[page.form_id].learned == {}
    assert say("nothing") in seen(page)
    assert say("forget_why") not in seen(page)
    assert not page.taught.forget.isVisible()


def test_evidence_that_cannot_be_read_is_said_and_can_be_forgotten(open_page) -> None:
    def refuse(_form: Form) -> Taught:
        raise BadFile("bad_learned", field="learned.fittings")

    page, _library = open_page(an_eight().model_copy(update={"learned": LEARNED}), refuse)
    assert say("nothing") not in seen(page)
    assert page.taught.forget.isVisible()


def test_for_whom_it_was_set_is_said_by_name(open_page) -> None:
    page, library = open_page(fitted(an_eight()))
    assert "Set for Ingrid since 4 March 2026." in seen(page)
    library.save_form(page.form_id, page.form.at({"bust.front": 37.0}))
    page.reread()
    assert "Set for Ingrid on 4 March 2026; dials were turned since." in seen(page)


def test_a_record_that_is_gone_leaves_no_name_and_an_open_fitting_is_said(open_page) -> None:
    page, _library = open_page(fitted(an_eight(), person_id="gone", finished=False))
    assert "Being set for somebody whose record is not here since 4 March 2026" in seen(page)


def test_a_dial_met_stuck_turns_again_when_its_owner_says_so(qtbot, open_page) -> None:
    form = form_draft.with_dial(an_eight(), "bust.front", stuck=True, stopped_above=40.0)
    page, library = open_page(form)
    assert "Bust, front: would not turn, would not open beyond 40" in seen(page)
    again = next(
        b for b in page.taught.findChildren(type(page.taught.copy)) if b.text() == say("again")
    )
    qtbot.mouseClick(again, LEFT)
    dial = library.kept_forms[page.form_id].dial("bust.front")
    assert (dial.stuck, dial.stopped_above, dial.stopped_below) == (False, None, None)
    assert say("no_dials") in seen(page)


def test_a_note_on_a_dial_is_kept_as_it_was_typed(qtbot, open_page) -> None:
    page, library = open_page(an_eight())
    page.taught.notes_fold.set_open(True)
    field = page.taught.notes["hip.back"]
    field.setFocus()
    qtbot.keyClicks(field, "sticks above <b>40</b>")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert library.kept_forms[page.form_id].dial("hip.back").quirk == "sticks above <b>40</b>"
    page.reread()
    assert page.taught.notes["hip.back"].text() == "sticks above <b>40</b>"


@pytest.mark.parametrize("is_asked", [False, True])
def test_a_copy_knows_what_was_taught_only_if_asked(qtbot, open_page, is_asked) -> None:
    form = fitted(form_draft.with_dial(an_eight(), "bust.front", stuck=True, quirk="sticks"))
    page, library = open_page(form.model_copy(update={"learned": LEARNED}))
    if is_asked:
        page.taught.with_learned.click()
    qtbot.mouseClick(page.taught.copy, LEFT)
    assert len(library.kept_forms) == 2
    copy = page.form
    assert copy is not None
    assert copy.name.endswith("(copy)")
    assert copy.learned == (LEARNED if is_asked else {})
    assert copy.last_fitted is None
    assert (copy.dial("bust.front").stuck, copy.dial("bust.front").quirk) == (False, "")
    assert not page.taught.with_learned.isChecked()
