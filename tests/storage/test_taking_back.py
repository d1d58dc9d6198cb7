# SPDX-License-Identifier: MIT
"""Rows of a table taken back from records: erased, gone back to, or left because of a change."""

from __future__ import annotations

from fitassist.session.events import NotesChanged
from fitassist.storage.library import Library
from fitassist.storage.taking_back import Brought, TakingBack


def a_library(tmp_path) -> Library:
    return Library(tmp_path, lambda: "2026-03-04T09:00:00+00:00")


def names(library: Library) -> set[str]:
    return {one.name for one in library.people()}


def test_a_record_made_for_a_row_goes_and_one_added_to_goes_back(tmp_path):
    library = a_library(tmp_path)
    with library.create_person("Ada") as ada:
        pass
    library.add_to_person(ada.id, [NotesChanged(text="from the table")])
    with library.create_person("Bo") as bo:
        pass
    work = TakingBack(library, [Brought(ada.id, 1, 2), Brought(bo.id, 0, 1)])
    while not work.go_on(0.0):  # one at a time
        pass
    assert (work.done, work.kept) == (2, [])
    assert names(library) == {"Ada"}
    with library.open_person(ada.id, read_only=True) as record:
        assert len(record.events) == 1
    assert library.backups(ada.id)  # what was added is an earlier state


def test_whoever_was_changed_erased_or_is_open_elsewhere_stays_as_they_are(tmp_path):
    library = a_library(tmp_path)
    with library.create_person("Ada") as ada:
        pass
    library.add_to_person(ada.id, [NotesChanged(text="since")])
    with library.create_person("Bo") as bo:
        pass
    held = a_library(tmp_path).open_person(bo.id)
    work = TakingBack(
        library, [Brought(ada.id, 0, 1), Brought(bo.id, 0, 1), Brought("0123456789abcdef", 0, 1)]
    )
    assert work.go_on(10.0)
    held.close()
    assert work.done == 0
    assert set(work.kept) == {ada.id, bo.id, "0123456789abcdef"}
    assert names(library) == {"Ada", "Bo"}


def test_a_record_whose_earlier_state_is_not_the_one_wanted_is_told(tmp_path):
    library = a_library(tmp_path)
    with library.create_person("Ada") as ada:
        pass
    library.add_to_person(ada.id, [NotesChanged(text="one")])
    work = TakingBack(library, [Brought(ada.id, 7, 2)])  # no state ever had seven events
    assert work.go_on(10.0)
    assert work.kept == [ada.id]
