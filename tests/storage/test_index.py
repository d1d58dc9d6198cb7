# SPDX-License-Identifier: MIT
"""The index of people is a shortcut only: whatever becomes of it, the records have the word."""

from __future__ import annotations

import itertools
import os
from pathlib import Path

import pytest

from fitassist.session.events import NotesChanged, PersonArchived, PersonNamed, PersonTagged
from fitassist.storage import people_folder
from fitassist.storage.index import RACY_NS, index_path, read_index
from fitassist.storage.library import Library
from tests.storage.disks import clock


def a_library(folder: Path) -> Library:
    numbers = itertools.count(1)
    return Library(folder, clock, lambda: f"{next(numbers):016x}")


def aged(folder: Path) -> None:
    """Make the index younger than every record by more than the racy moment."""
    path = index_path(folder)
    newest = max(p.lstat().st_ctime_ns for p in (folder / "people").iterdir())
    at = newest + 2 * RACY_NS
    os.utime(path, ns=(at, at))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    library = a_library(tmp_path)
    for name in ("Ada", "Bo", "Cy"):
        library.create_person(name, [PersonTagged(tags=(name.lower(), "all"))]).close()
    library.people()
    library.keep_index()
    aged(tmp_path)
    return tmp_path


def read_count(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    read: list[str] = []
    real = people_folder.PeopleFolder._entry

    def counting(self: people_folder.PeopleFolder, person_id: str) -> object:
        read.append(person_id)
        return real(self, person_id)

    monkeypatch.setattr(people_folder.PeopleFolder, "_entry", counting)
    return read


def test_with_an_index_no_record_is_read_and_the_list_is_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    index_path(folder).rename(folder / "aside")
    expected = a_library(folder).people()
    (folder / "aside").rename(index_path(folder))
    read = read_count(monkeypatch)
    found = a_library(folder).listing()
    assert found.people == expected
    assert found.unread == ()
    assert read == []


@pytest.mark.parametrize(
    "spoil", ["gone", "cut", "other", "foreign", "version", "binary", "folder"]
)
def test_a_missing_or_damaged_index_is_made_anew_from_the_records(folder: Path, spoil: str) -> None:
    path = index_path(folder)
    data = path.read_bytes()
    expected = a_library(folder).people()
    path.unlink()
    if spoil == "folder":
        path.mkdir()
    elif spoil != "gone":
        path.write_bytes(
            {
                "cut": data[:-20],
                "other": data.replace(b"Ada", b"Eve"),
                "foreign": b'{"version":1}',
                "version": data.replace(b'"version":1', b'"version":7'),
                "binary": b"\x00\xff" * 50,
            }[spoil]
        )
        aged(folder)
    assert read_index(folder) == {}
    library = a_library(folder)
    assert library.people() == expected
    library.keep_index()
    aged(folder) if spoil != "folder" else None
    assert len(read_index(folder)) == (0 if spoil == "folder" else 3)


def test_what_changed_since_is_read_again_and_nothing_else(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = a_library(folder)
    other.add_to_person(f"{2:016x}", [PersonNamed(name="Bea"), PersonArchived()])
    read = read_count(monkeypatch)
    library = a_library(folder)
    assert library.listing().unread == (f"{2:016x}",)
    found = {one.id[-1]: (one.name, one.archived) for one in library.people()}
    assert found == {"1": ("Ada", False), "2": ("Bea", True), "3": ("Cy", False)}
    assert read == [f"{2:016x}"]


def test_a_record_changed_under_the_same_size_and_time_is_read_again(folder: Path) -> None:
    path = folder / "people" / f"{1:016x}.json"
    about = path.stat()
    path.write_bytes(path.read_bytes().replace(b"Ada", b"Eve"))
    os.utime(path, ns=(about.st_atime_ns, about.st_mtime_ns))  # the change time still tells
    assert "Eve" in {one.name for one in a_library(folder).people()}


def test_a_record_written_in_the_moment_of_the_index_is_not_taken_from_it(folder: Path) -> None:
    path = folder / "people" / f"{1:016x}.json"
    at = path.lstat().st_ctime_ns + RACY_NS // 2
    os.utime(index_path(folder), ns=(at, at))
    assert len(a_library(folder).listing().unread) == 3


def test_records_are_read_on_in_slices_until_all_are_there(tmp_path: Path) -> None:
    library = a_library(tmp_path)
    for n in range(12):
        library.create_person(f"P{n}").close()
    library = a_library(tmp_path)
    listed = library.listing()
    assert (len(listed.people), len(listed.unread)) == (0, 12)
    slices = 0
    while listed.unread:
        listed = library.read_on(listed, 0.0)
        slices += 1
    assert (len(listed.people), slices) == (12, 12)
    assert listed.people == a_library(tmp_path).people()


def test_an_erased_person_is_in_no_index_of_any_computer(folder: Path) -> None:
    elsewhere = index_path(folder).with_name("0123456789ab.json")
    elsewhere.write_bytes(index_path(folder).read_bytes())
    library = a_library(folder)
    library.erase_person(f"{1:016x}")
    left = b"".join(p.read_bytes() for p in folder.rglob("*") if p.is_file())
    assert b"Ada" not in left
    assert not elsewhere.exists()
    assert sorted(one.name for one in a_library(folder).people()) == ["Bo", "Cy"]


def test_an_index_that_cannot_be_written_costs_nothing_but_time(tmp_path: Path) -> None:
    library = a_library(tmp_path)
    library.create_person("Ada").close()
    (tmp_path / "index").write_text("in the way")
    assert len(library.people()) == 1
    library.keep_index()
    assert (tmp_path / "index").read_text() == "in the way"
    assert len(library.people()) == 1


def test_damaged_records_are_never_taken_from_an_index(folder: Path) -> None:
    path = folder / "people" / f"{1:016x}.json"
    path.write_bytes(b"{")
    library = a_library(folder)
    library.people()
    library.keep_index()
    aged(folder)
    assert f"{1:016x}" not in read_index(folder)
    again = {one.id[-1]: one.problem for one in a_library(folder).people()}
    assert again["1"] is not None


def test_an_answer_still_in_the_journal_counts(folder: Path) -> None:
    library = a_library(folder)
    record = library.open_person(f"{1:016x}")
    record.append([PersonNamed(name="Adele"), NotesChanged(text="x")])
    assert "Adele" in {one.name for one in a_library(folder).people()}
    record.close()
