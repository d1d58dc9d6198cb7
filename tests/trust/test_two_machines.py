# SPDX-License-Identifier: MIT
"""One person on two machines that share a folder: nothing is written over, and both are kept."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from fitassist.errors import StorageFailed
from fitassist.session.events import NotesChanged
from fitassist.storage.backups import list_backups
from fitassist.storage.journal import read_lines
from fitassist.storage.library import Library
from fitassist.storage.record import Record
from fitassist.storage.restore import restore_backup
from tests.trust.sessions import Session, facts


def clock() -> str:
    return "2026-01-02T03:04:05Z"


def other_machine(session: Session, text: str) -> bytes:
    """Return the document as a machine that heard nothing of this session would leave it."""
    elsewhere = session.folder / "other-machine"
    elsewhere.mkdir()
    copy = elsewhere / session.person.name
    shutil.copy(session.person, copy)
    with Record.open(copy, clock) as record:
        record.append([NotesChanged(text=text)])
    return copy.read_bytes()


@pytest.mark.parametrize("what", ["document", "journal"])
def test_a_file_brought_by_the_other_machine_in_a_session_is_not_written_over(
    tmp_path: Path, what: str
) -> None:
    """Its document, or its journal, takes the place of ours between two answers."""
    session = Session(tmp_path, tmp_path / "p.json")
    session.run(1)  # a first document, known to both
    theirs = other_machine(session, "from the other machine")
    journal = session.person.with_suffix(".journal")
    mine: list[bytes] = []

    def before(acknowledged: int) -> None:
        if acknowledged == 2 and not mine:
            mine.append(journal.read_bytes())
            place = session.person if what == "document" else journal
            (tmp_path / "brought").write_bytes(theirs if what == "document" else b"theirs\n")
            (tmp_path / "brought").replace(place)

    code, person, lines = session.run(4, before=before)
    errors = [line for line in lines if line["kind"] == "error"]
    assert code == 3
    assert {line["code"] for line in errors} == {"not_kept"}
    assert len(person.facts) == 2, "what was brought is never taken for our own"
    if what == "journal":
        assert journal.read_bytes() == b"theirs\n"
        return
    assert session.person.read_bytes() == theirs
    assert journal.read_bytes() == mine[0], "ours lies beside theirs, whole"
    # Opened again it is theirs, and ours is kept aside and can still be read.
    with Record.open(session.person, clock) as record:
        (notice,) = record.notices
        texts = [e.event.text for e in record.events if isinstance(e.event, NotesChanged)]
    assert texts == ["from the other machine"]
    assert notice.code == "journal_conflict"
    assert notice.aside is not None
    kept = read_lines(notice.aside.read_bytes())
    assert (kept.damage, notice.aside.read_bytes()) == ("", mine[0])
    assert len([one for one in kept.events if one.event.kind in ("dials_set", "form_read")]) == 2


COPIES = ("{} (conflicted copy 2026-01-02).json", "{}.conflict-20260102-030405.json", "{} (1).json")


@pytest.mark.parametrize("pattern", COPIES)
def test_a_copy_in_conflict_beside_a_record_is_neither_taken_for_a_person_nor_touched(
    tmp_path: Path, pattern: str
) -> None:
    library = Library(tmp_path, clock)
    record = library.create_person("somebody")
    record.append([NotesChanged(text="here")])
    copy = tmp_path / "people" / pattern.format(record.id)
    copy.write_bytes(record.path.read_bytes())
    data = copy.read_bytes()
    record.append([NotesChanged(text="and here")])
    record.close()
    assert [(one.id, one.problem) for one in library.people()] == [(record.id, None)]
    with library.open_person(record.id) as again:
        again.append([NotesChanged(text="later")])
    assert copy.read_bytes() == data
    texts = [e.event.text for e in again.events if isinstance(e.event, NotesChanged)]
    assert texts == ["here", "and here", "later"]


def test_hidden_files_of_others_beside_a_record_are_left_alone(tmp_path: Path) -> None:
    """An editor's copy and one on its way from another machine; only our own leftovers go."""
    session = Session(tmp_path, tmp_path / "p.json")
    session.run(1)
    theirs = [".p.json.swp", ".p.json.Xa81Zq", ".p.journal.part", ".p.json.new"]
    ours = [
        ".p.json.0a1b2c3d.new",
        ".p.lock.0123456789abcdef",
        "..p.lock.0123456789abcdef.0a1b2c3d.new",
    ]
    for name in (*theirs, *ours):
        (tmp_path / name).write_bytes(b"x")
    session.run(1)
    left = {path.name for path in tmp_path.iterdir() if path.name.startswith(".")}
    assert left == set(theirs)


def test_two_sessions_at_once_on_one_person_are_one_too_many(tmp_path: Path) -> None:
    session = Session(tmp_path, tmp_path / "p.json")
    second: list[tuple[int, str]] = []

    def before(acknowledged: int) -> None:
        if acknowledged == 1:
            code, _person, lines = session.run(1)
            second.append((code, lines[0]["kind"]))

    code, person, lines = session.run(3, before=before)
    assert second == [(2, "error")]
    assert (code, len(person.facts), person.refused) == (3, 3, [])
    assert session.kept() == person.facts
    assert [line["kind"] for line in lines].count("error") == 0


def test_every_backup_of_several_sessions_can_be_gone_back_to_and_gone_on_from(
    tmp_path: Path,
) -> None:
    session = Session(tmp_path, tmp_path / "p.json")
    heard: list[int] = []
    for _ in range(3):
        session.run(2)
        heard.append(len(session.kept()))
    assert heard == [2, 4, 6]
    whole, backups = session.kept(), list_backups(session.person)
    lengths = []
    for backup in backups:
        there = Record.open(backup.path, clock, read_only=True)
        lengths.append(len(facts(there)))
        assert facts(there) == whole[: lengths[-1]]
    assert lengths == [4, 2, 0], "what stood before each session was closed, the newest first"
    present = session.person.read_bytes()
    restore_backup(session.person, backups[0], clock)
    assert session.kept() == whole[:4]
    code, person, _lines = session.run(1)
    assert (code, session.kept()) == (3, whole[:4] + person.facts)
    assert present in [one.path.read_bytes() for one in list_backups(session.person)]


def test_a_record_whose_folder_is_gone_for_good_can_be_saved_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "gone").mkdir()
    record = Record.create(tmp_path / "gone" / "p.json", "p", clock, [NotesChanged(text="1")])
    shutil.rmtree(tmp_path / "gone")
    with pytest.raises(StorageFailed) as caught:
        record.append([NotesChanged(text="2")])
    assert caught.value.code == "folder_gone"
    record.save_copy(tmp_path / "copy.json", [NotesChanged(text="2")])
    data = json.loads((tmp_path / "copy.json").read_bytes())
    assert [one["event"]["text"] for one in data["events"]] == ["1", "2"]
