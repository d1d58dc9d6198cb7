# SPDX-License-Identifier: MIT
"""Versions in conflict beside a record: found by their names, settled by the user, never lost."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fitassist.errors import BadFile, StorageFailed
from fitassist.session.events import BodyDescribed, MeasurementTaken
from fitassist.session.person import fold_person
from fitassist.storage.copies import owner_of
from fitassist.storage.document import read_document
from fitassist.storage.library import Library
from tests.storage.disks import clock, everything_in, note, texts

ID = "0123456789abcdef"
NAMES = [
    f"{ID} (conflicted copy 2026-01-02).json",
    f"{ID} (Mara's conflicted copy 2026-01-02).json",
    f"{ID}.sync-conflict-20260102-030405-ABCDEFG.json",
    f"{ID}.conflict-20260102-030405.json",
    f"{ID} (1).json",
    f"{ID} - Copy.json",
    f"{ID}-SEWINGROOM.json",
    f"{ID}_conf(2026-01-02).json",
    f"{ID}.json.aside-1",
    f"{ID}~1.json",
]


def took(mm: float) -> MeasurementTaken:
    return MeasurementTaken(body_id="b", measurement="waist", mm=mm)


@pytest.fixture
def library(tmp_path: Path) -> Library:
    library = Library(tmp_path, clock, lambda: ID)
    library.create_person("Ada", [BodyDescribed(body_id="b", name="Everyday")]).close()
    return library


def in_conflict(library: Library, tmp_path: Path, name: str, mine: str, theirs: str) -> Path:
    """Change a record here and a copy of it elsewhere, and bring the copy."""
    path = tmp_path / "people" / f"{ID}.json"
    elsewhere = tmp_path / "elsewhere"
    (elsewhere / "people").mkdir(parents=True)
    shutil.copy(path, elsewhere / "people" / path.name)
    library.add_to_person(ID, [note(mine), took(700)])
    Library(elsewhere, clock).add_to_person(ID, [note(theirs), took(720)])
    copy = path.with_name(name)
    shutil.copy(elsewhere / "people" / path.name, copy)
    shutil.rmtree(elsewhere)
    return copy


def every_text(tmp_path: Path) -> str:
    return b"".join(everything_in(tmp_path).values()).decode()


@pytest.mark.parametrize("name", NAMES)
def test_a_copy_is_found_by_its_name_and_belongs_to_its_record(name: str) -> None:
    assert owner_of(name, {ID, "other"}) == ID


@pytest.mark.parametrize(
    "name",
    [
        f"{ID}.json",
        f"{ID}.journal",
        f"{ID}.lock",
        f".{ID}.json.0a1b2c3d.new",
        f"{ID}.txt",
        "0123456789abcdefa (1).json",
        "other.json",
        "",
    ],
)
def test_what_is_no_copy_is_not_taken_for_one(name: str) -> None:
    assert owner_of(name, {ID, "other"}) == ""


def test_the_list_tells_of_copies_and_shows_no_second_person(library, tmp_path) -> None:
    names = ["x (1).json", "y.sync-conflict-1.json"]
    path = tmp_path / "people" / f"{ID}.json"
    for name in names:
        shutil.copy(path, path.with_name(name.replace("x", ID).replace("y", ID)))
    shutil.copy(path, path.with_name(f"{ID}-sewingroom.json"))  # could be an id by its name
    (entry,) = library.people()
    assert len(entry.copies) == 3
    assert len(library.copies(ID)) == 3


@pytest.mark.parametrize("how", ["keep", "use", "both"])
def test_whatever_is_chosen_both_versions_are_still_there_afterwards(
    library, tmp_path, how
) -> None:
    copy = in_conflict(library, tmp_path, NAMES[2], "said here", "said there")
    (found,) = library.copies(ID)
    assert (found.common, found.says_nothing_new) == (2, False)
    library.settle_copy(ID, copy.name, how)
    assert not copy.exists()
    assert library.people()[0].copies == ()
    with library.open_person(ID, read_only=True) as record:
        person = fold_person(record.events)
    kept = [r.mm for r in person.bodies["b"].readings["waist"]]
    assert kept == {"keep": [700], "use": [720], "both": [700, 720]}[how]
    assert (
        person.notes
        == {
            "keep": "said here",
            "use": "said there",
            "both": "said here\n\nsaid there",
        }[how]
    )
    backups = [fold_person(read_document(b.path.read_bytes()).events) for b in library.backups(ID)]
    notes = {person.notes, *(one.notes for one in backups)}
    assert {"said here", "said there"} <= notes


def test_a_journal_in_conflict_is_read_with_what_it_follows(library, tmp_path) -> None:
    record = library.open_person(ID)
    record.append([note("only in the journal"), took(705)])
    journal = tmp_path / "people" / f"{ID}.journal"
    kept = journal.read_bytes()
    record.close()
    journal.with_name(f"{ID}.sync-conflict-1.journal").write_bytes(kept)
    (copy,) = library.copies(ID)
    assert copy.says_nothing_new
    library.settle_copy(ID, copy.name, "keep")
    assert library.copies(ID) == ()
    assert "only in the journal" in every_text(tmp_path)


def test_a_copy_that_cannot_be_read_is_listed_with_why_and_left_alone(library, tmp_path) -> None:
    copy = tmp_path / "people" / NAMES[0]
    copy.write_bytes(b"{ cut")
    (found,) = library.copies(ID)
    assert found.problem is not None
    before = everything_in(tmp_path)
    for how in ("keep", "use", "both"):
        with pytest.raises(BadFile):
            library.settle_copy(ID, copy.name, how)
    assert everything_in(tmp_path) == before


def test_nothing_is_settled_while_the_record_is_open_elsewhere(library, tmp_path) -> None:
    copy = in_conflict(library, tmp_path, NAMES[0], "here", "there")
    with library.open_person(ID) as record:
        with pytest.raises(StorageFailed) as caught:
            library.settle_copy(ID, copy.name, "use")
        assert caught.value.code == "open_elsewhere"
        assert texts(record) == ["here"]
    assert copy.exists()


def test_erasing_takes_every_version_along(library, tmp_path) -> None:
    in_conflict(library, tmp_path, NAMES[0], "here", "there")
    path = tmp_path / "people" / f"{ID}.json"
    shutil.copy(path, path.with_name(f"{ID}-sewingroom.json"))
    library.erase_person(ID)
    assert everything_in(tmp_path) == {}


def test_a_copy_is_named_only_if_it_lies_there(library) -> None:
    with pytest.raises(BadFile) as caught:
        library.settle_copy(ID, "../elsewhere.json", "use")
    assert caught.value.code == "not_found"
