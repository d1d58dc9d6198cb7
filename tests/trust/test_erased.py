# SPDX-License-Identifier: MIT
"""Whoever is erased is nowhere in the profile any more: record, journal, backups, index, marks."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fitassist.app.forgotten import forget_in_forms
from fitassist.domain.form_memory import LastFitted
from fitassist.log import start_log, stop_log
from fitassist.session.events import NotesChanged
from fitassist.settings import Settings, load_settings, save_settings
from fitassist.storage.library import Library
from tests.builders import a_form

NAME = "Quillonbrastle"  # nobody's; found nowhere by chance
NOTES = "Vermelhaquist sews at dusk"


def clock() -> str:
    return "2026-01-02T03:04:05Z"


def holding(root: Path, *words: str) -> list[str]:
    """Return the files that hold a word in their name or their bytes, as text or as JSON has it."""
    found = []
    for path in sorted(root.rglob("*")):
        data = path.read_bytes() if path.is_file() else b""
        name = path.relative_to(root).as_posix()
        if any(word in name or word.encode() in data for word in words):
            found.append(name)
    return found


@pytest.fixture
def kept(tmp_path: Path) -> tuple[Library, str]:
    """Somebody with everything the program ever keeps of a person, and somebody else."""
    library = Library(tmp_path, clock)
    with library.create_person("Somebody else"):
        pass
    with library.create_person(NAME) as record:
        person_id = record.id
        record.append([NotesChanged(text=NOTES)])
    for text in ("once", "and again"):
        with library.open_person(person_id) as record:
            record.append([NotesChanged(text=f"{NOTES} {text}")])
    open_record = library.open_person(person_id)
    open_record.append([NotesChanged(text=f"{NOTES}, not folded")])
    journal = tmp_path / "people" / f"{person_id}.journal"
    data = journal.read_bytes()
    open_record.close()
    journal.write_bytes(data)  # as a crash leaves it
    document = tmp_path / "people" / f"{person_id}.json"
    shutil.copy(document, document.with_name(f"{person_id} (conflicted copy 2026-01-02).json"))
    shutil.copy(document, document.with_name(f"{person_id}.json.damaged-20260102T030405Z"))
    taught = [
        {
            "fitting_id": f"{person_id}-9",
            "wearer": f"{person_id}/body-1",
            "undergarment": NOTES,
            "start": {"bust.left": 34.0},
        },
        {"fitting_id": "other-9", "undergarment": "vest", "start": {"bust.left": 35.0}},
    ]
    stands = LastFitted(fitting_id=f"{person_id}-9", person_id=person_id, undergarment=NOTES)
    form = a_form().model_copy(
        update={"last_fitted": stands, "learned": {"version": 1, "fittings": taught}}
    )
    library.save_form("", form)
    library.people()
    library.keep_index()
    return library, person_id


def test_everything_that_is_to_go_is_there_before(
    kept: tuple[Library, str], tmp_path: Path
) -> None:
    """The ground of the next test: it could find what stays."""
    found = holding(tmp_path, NAME, NOTES)
    assert {Path(name).parts[0] for name in found} >= {"people", "index", "forms"}
    assert any("backups" in name for name in found)
    assert any(name.endswith(".journal") for name in found)
    assert len(found) >= 6


def test_erasing_leaves_neither_the_name_nor_the_notes_nor_the_id(
    kept: tuple[Library, str], tmp_path: Path
) -> None:
    library, person_id = kept
    library.erase_person(person_id)
    (form_id,) = forget_in_forms(library, person_id)
    assert holding(tmp_path, NAME, NOTES, person_id) == []
    library.keep_index()
    assert holding(tmp_path, NAME, NOTES, person_id) == []
    assert [one.name for one in Library(tmp_path, clock).people()] == ["Somebody else"]
    form = library.load_form(form_id)
    assert form.last_fitted is None
    assert form.learned["fittings"] == [
        {"undergarment": "", "start": {"bust.left": 34.0}},
        {"fitting_id": "other-9", "undergarment": "vest", "start": {"bust.left": 35.0}},
    ], "what its dials do, it still knows"
    assert forget_in_forms(library, "other") == [form_id]
    assert forget_in_forms(library, person_id) == []


def test_the_window_forgets_whom_it_showed_last(
    qtbot, qapp, kept: tuple[Library, str], tmp_path: Path
) -> None:
    """Settings, the mark of an open fitting and the log as well, while the program runs on."""
    from fitassist.app.start import make_workroom, tear_down

    _library, person_id = kept
    save_settings(tmp_path, Settings(last_person=person_id))
    start_log(tmp_path / "log")
    room = make_workroom(qapp, tmp_path)
    try:
        room.begin()
        room.window.show()
        qtbot.waitExposed(room.window)
        assert room.record is not None
        assert room.record.id == person_id
        assert load_settings(tmp_path).settings.last_person == person_id
        room.window.go_to("people")
        page = room.window.page("people")
        page.reload(person_id)
        page.card._ask_erase()
        page._erase()
        assert room.record is None
        assert holding(tmp_path, NAME, NOTES, person_id) == []
    finally:
        tear_down(qapp, room)
        stop_log()
    assert (tmp_path / "log").exists()
    assert holding(tmp_path, NAME, NOTES, person_id) == [], "nor does closing write any of it anew"
