# SPDX-License-Identifier: MIT
"""Two records of one person on disk: together, apart again, confirmed, and never half."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from fitassist.errors import FitError, StorageFailed
from fitassist.session.events import BodyDescribed, MeasurementTaken, NotesChanged, RecordGivenOver
from fitassist.session.person import fold_person
from fitassist.storage.document import read_document
from fitassist.storage.library import Library
from tests.storage.disks import FailingDisk, clock, everything_in, note

ALSO = "Also: {name}"


def a_library(folder: Path, disk: FailingDisk | None = None) -> Library:
    numbers = itertools.count(1)
    return Library(folder, clock, lambda: f"p{next(numbers)}", disk or FailingDisk())


def begun(library: Library, name: str, mm: float) -> str:
    events = [
        BodyDescribed(body_id="b", name="Everyday"),
        MeasurementTaken(body_id="b", measurement="waist", mm=mm),
    ]
    with library.create_person(name, events) as record:
        return record.id


@pytest.fixture
def library(tmp_path: Path) -> Library:
    library = a_library(tmp_path)
    begun(library, "Ada", 700)
    begun(library, "A. Ex", 705)
    return library


def person(library: Library, person_id: str):
    with library.open_person(person_id, read_only=True) as record:
        return fold_person(record.events)


def test_together_one_is_listed_and_both_are_kept_until_confirmed(library, tmp_path) -> None:
    second = (tmp_path / "people" / "p2.json").read_bytes()
    looked = library.look_together("p1", "p2", ALSO)
    assert (looked.readings, looked.joined) == (1, ["Everyday"])
    made = library.take_together("p1", "p2", ALSO)
    assert made.events[: len(looked.events)] == looked.events
    (entry,) = library.people()
    assert (entry.id, entry.holds) == ("p1", ("p2",))
    assert [r.mm for r in person(library, "p1").bodies["b"].readings["waist"]] == [700, 705]
    kept = read_document((tmp_path / "people" / "p2.json").read_bytes()).events
    assert kept[:-1] == read_document(second).events
    first = library.backups("p1")[0]
    assert len(read_document(first.path.read_bytes()).events) == 3


def test_taken_apart_both_are_as_they_were_and_later_entries_are_a_backup(library) -> None:
    before = person(library, "p1")
    library.take_together("p1", "p2", ALSO)
    library.add_to_person("p1", [NotesChanged(text="entered since")])
    assert library.take_apart("p1") == "p2"
    assert person(library, "p1") == before
    assert sorted(one.id for one in library.people()) == ["p1", "p2"]
    newest = fold_person(read_document(library.backups("p1")[0].path.read_bytes()).events)
    assert newest.notes == "entered since"
    with pytest.raises(FitError) as caught:
        library.take_apart("p1")
    assert caught.value.code == "nothing_taken_in"


def test_confirmed_the_second_is_gone_and_the_first_holds_all(library, tmp_path) -> None:
    library.take_together("p1", "p2", ALSO)
    for other in library.held_by("p1"):
        library.erase_person(other)
    (entry,) = library.people()
    assert entry.holds == ()
    assert not (tmp_path / "people" / "p2.json").exists()
    with pytest.raises(FitError):
        library.take_apart("p1")


def test_erasing_the_first_erases_the_second_it_holds(library, tmp_path) -> None:
    library.take_together("p1", "p2", ALSO)
    library.erase_person("p1")
    assert everything_in(tmp_path) == {}


def test_one_record_is_not_taken_together_with_itself(library) -> None:
    with pytest.raises(FitError) as caught:
        library.take_together("p1", "p1", ALSO)
    assert caught.value.code == "same_person"


@pytest.mark.parametrize("open_one", ["p1", "p2"])
def test_a_record_open_elsewhere_is_not_touched(library, tmp_path, open_one) -> None:
    with library.open_person(open_one) as record:
        record.append([note("at work")])
        before = everything_in(tmp_path)
        with pytest.raises(StorageFailed) as caught:
            library.take_together("p1", "p2", ALSO)
        assert caught.value.code == "open_elsewhere"
        assert everything_in(tmp_path) == before


@pytest.mark.parametrize("call", ["write", "fsync", "replace"])
def test_on_a_failing_disk_both_are_still_there_and_it_can_be_done_again(tmp_path, call) -> None:
    disk = FailingDisk()
    library = a_library(tmp_path, disk)
    begun(library, "Ada", 700)
    begun(library, "A. Ex", 705)
    disk.fail(call, error=28)
    with pytest.raises(StorageFailed):
        library.take_together("p1", "p2", ALSO)
    disk.heal()
    assert {one.id for one in library.people()} == {"p1", "p2"}
    library.take_together("p1", "p2", ALSO)
    assert [r.mm for r in person(library, "p1").bodies["b"].readings["waist"]] == [700, 705]


def test_two_records_each_given_over_to_the_other_hide_neither(library) -> None:
    library.add_to_person("p1", [RecordGivenOver(into="p2")])
    library.add_to_person("p2", [RecordGivenOver(into="p1")])
    assert sorted(one.id for one in library.people()) == ["p1", "p2"]
    library.erase_person("p1")
    assert [one.id for one in library.people()] == ["p2"]


def test_a_copy_of_a_person_is_a_record_of_its_own(library) -> None:
    new = library.copy_person("p1", "Ada again")
    assert person(library, new).name == "Ada again"
    assert [r.mm for r in person(library, new).bodies["b"].readings["waist"]] == [700]
    library.add_to_person(new, [note("only here")])
    assert person(library, "p1").notes == ""
