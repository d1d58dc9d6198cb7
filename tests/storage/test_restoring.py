# SPDX-License-Identifier: MIT
"""Going back to a backup: what stands now is kept first, whatever state it is in."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import Disk
from fitassist.storage.document import number_events
from fitassist.storage.journal import write_lines
from fitassist.storage.library import Library
from fitassist.storage.record import Record
from tests.storage.disks import FailingDisk, clock, everything_in, note, texts


def a_library(folder: Path, disk: Disk | None = None) -> Library:
    numbers = itertools.count(1)
    return Library(folder, clock, lambda: f"{next(numbers):016x}", disk or Disk())


@pytest.fixture
def library(tmp_path: Path) -> Library:
    return a_library(tmp_path / "profile")


def test_going_back_keeps_the_present_first_and_can_be_gone_back_on(library: Library) -> None:
    record = library.create_person("Anna")
    name = record.id
    for text in ("one", "two"):
        record.append([note(text)])
        record.close()
        record = library.open_person(name)
    record.append([note("three")])
    record.path.with_suffix(".lock").unlink()  # a crash: three is in the journal only
    oldest = library.backups(name)[-1]
    library.restore_person(name, oldest.number)
    with library.open_person(name) as back:
        assert texts(back) == []
        assert back.notices == ()
        back.append([note("another way")])
    found = [texts(Record.open(kept.path, clock, read_only=True)) for kept in library.backups(name)]
    assert ["one", "two", "three"] in found
    again = library.backups(name)[found.index(["one", "two", "three"])]
    library.restore_person(name, again.number)
    with library.open_person(name, read_only=True) as back:
        assert texts(back) == ["one", "two", "three"]
    first = Record.open(library.backups(name)[0].path, clock, read_only=True)
    assert texts(first) == ["another way"]


def test_a_damaged_record_can_be_replaced_by_a_backup_and_is_itself_kept(
    library: Library,
) -> None:
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()
    with library.open_person(record.id) as again:
        again.append([note("two")])
    damaged = record.path.read_bytes()[:-40]
    record.path.write_bytes(damaged)
    journal = record.path.with_suffix(".journal")
    later = write_lines(number_events([note("fits the backup, not the present")], 3, "")[1])
    journal.write_bytes(later)
    library.restore_person(record.id, library.backups(record.id)[0].number)
    with library.open_person(record.id) as back:
        assert texts(back) == ["one"]
    assert damaged in [kept.path.read_bytes() for kept in library.backups(record.id)]
    aside = journal.with_name(journal.name + ".aside-1")
    assert aside.read_bytes() == later


def test_a_damaged_or_missing_backup_changes_nothing(library: Library, tmp_path: Path) -> None:
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()
    (kept,) = library.backups(record.id)
    kept.path.write_bytes(b"{")
    before = everything_in(tmp_path)
    with pytest.raises(BadFile) as caught:
        library.restore_person(record.id, kept.number)
    assert caught.value.code == "truncated"
    with pytest.raises(BadFile) as caught:
        library.restore_person(record.id, 99)
    assert caught.value.code == "not_found"
    assert everything_in(tmp_path) == before


def test_a_record_open_elsewhere_is_not_replaced_by_a_backup(library: Library) -> None:
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()
    with library.open_person(record.id) as again:
        with pytest.raises(StorageFailed) as caught:
            library.restore_person(record.id, library.backups(record.id)[0].number)
        assert caught.value.code == "open_elsewhere"
        assert texts(again) == ["one"]


def test_a_restore_that_cannot_be_written_leaves_the_present_one(tmp_path: Path) -> None:
    disk = FailingDisk()
    library = a_library(tmp_path, disk)
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()
    disk.fail("write", error=28)
    with pytest.raises(StorageFailed) as caught:
        library.restore_person(record.id, 1)
    assert caught.value.code == "disk_full"
    disk.heal()
    with library.open_person(record.id, read_only=True) as same:
        assert texts(same) == ["one"]


def test_a_person_whose_document_is_gone_comes_back_from_a_backup(library: Library) -> None:
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()
    with library.open_person(record.id) as again:
        again.append([note("two")])
    record.path.unlink()
    library.restore_person(record.id, library.backups(record.id)[0].number)
    with library.open_person(record.id) as back:
        assert texts(back) == ["one"]
