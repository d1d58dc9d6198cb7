# SPDX-License-Identifier: MIT
"""A disk that refuses: what was acknowledged stays, memory and file agree, trying again works."""

from __future__ import annotations

import errno
import os
import shutil
import stat
from pathlib import Path

import pytest

from fitassist.errors import StorageFailed
from fitassist.files import Disk, append_bytes, make_folder, replace_file
from fitassist.storage.record import FOLD_AFTER, Record
from tests.storage.conftest import REAL_FSYNC
from tests.storage.disks import (
    FailingDisk,
    QuickDisk,
    clock,
    everything_in,
    new_record,
    note,
    notes,
    texts,
)

CAUSES = [
    (errno.ENOSPC, "disk_full"),
    (errno.EDQUOT, "disk_full"),
    (errno.EACCES, "no_permission"),
    (errno.EROFS, "no_permission"),
    (errno.ENOENT, "folder_gone"),
    (errno.EIO, "write_failed"),
]


def on_disk(path: Path) -> list[str]:
    return texts(Record.open(path, clock, read_only=True))


@pytest.mark.parametrize(("cause", "code"), CAUSES)
@pytest.mark.parametrize("call", ["write", "fsync"])
@pytest.mark.parametrize("earlier", [0, 1])
def test_a_failed_append_changes_nothing_and_may_be_tried_again(
    tmp_path: Path, call: str, cause: int, code: str, earlier: int
) -> None:
    disk = FailingDisk(written_before_failing=7)
    record = new_record(tmp_path, ["first"], disk)
    kept = ["first"] + ["earlier"] * earlier
    for _ in range(earlier):
        record.append([note("earlier")])
    before = record.events
    disk.fail(call, error=cause)
    with pytest.raises(StorageFailed) as caught:
        record.append([note("lost?")])
    assert caught.value.code == code
    assert record.events == before
    assert on_disk(record.path) == kept
    disk.heal()
    (again,) = record.append([note("again")])
    assert again.seq == len(before) + 1
    assert on_disk(record.path) == [*kept, "again"]
    record.close()
    assert on_disk(record.path) == [*kept, "again"]


@pytest.mark.parametrize("partial", [1, 20, 70])
@pytest.mark.parametrize("earlier", [0, 1])
def test_bytes_that_could_not_even_be_taken_back_are_taken_back_later(
    tmp_path: Path, partial: int, earlier: int
) -> None:
    disk = FailingDisk(written_before_failing=partial)
    record = new_record(tmp_path, ["first"], disk)
    kept = ["first"] + ["earlier"] * earlier
    for _ in range(earlier):
        record.append([note("earlier")])
    disk.fail("write", "truncate", error=errno.ENOSPC)
    for _ in range(2):  # the second attempt meets what the first has left
        with pytest.raises(StorageFailed) as caught:
            record.append([note("lost?")])
        assert caught.value.code == "disk_full"
    assert on_disk(record.path) == kept
    disk.heal()
    record.append([note("again")])
    assert on_disk(record.path) == [*kept, "again"]
    record.close()
    assert on_disk(record.path) == [*kept, "again"]


def test_what_could_not_be_appended_can_be_saved_to_another_place(tmp_path: Path) -> None:
    disk = FailingDisk()
    record = new_record(tmp_path, ["first"], disk)
    disk.fail("fsync", error=errno.ENOSPC)
    with pytest.raises(StorageFailed):
        record.append([note("typed")])
    disk.heal()  # the other place is on another disk
    record.save_copy(tmp_path / "elsewhere.json", also=[note("typed")])
    assert on_disk(tmp_path / "elsewhere.json") == ["first", "typed"]
    assert texts(record) == ["first"]


@pytest.mark.parametrize("call", ["write", "fsync", "replace"])
def test_a_close_that_cannot_fold_leaves_every_event_in_the_journal(
    tmp_path: Path, call: str
) -> None:
    disk = FailingDisk(written_before_failing=3)
    record = new_record(tmp_path, ["first"], disk)
    record.append([note("second")])
    disk.fail(call)
    with pytest.raises(StorageFailed) as caught:
        record.close()
    assert caught.value.code == "write_failed"
    assert on_disk(tmp_path / "a1.json") == ["first", "second"]
    assert not (tmp_path / "a1.lock").exists()
    assert not [name for name in everything_in(tmp_path) if name.endswith(".new")]
    with Record.open(tmp_path / "a1.json", clock) as again:
        assert texts(again) == ["first", "second"]


def test_a_full_disk_never_spoils_an_append_that_has_succeeded(tmp_path: Path) -> None:
    class NoReplace(QuickDisk):
        def __init__(self) -> None:
            self.works = True

        def replace(self, source: Path, target: Path) -> None:
            if not self.works and target.suffix == ".json":
                raise OSError(errno.ENOSPC, "full")
            super().replace(source, target)

    disk = NoReplace()
    record = new_record(tmp_path, ["first"], disk)
    many = [str(number) for number in range(FOLD_AFTER)]
    record.append(notes(*many))
    disk.works = False
    record.append([note("one too many")])
    assert [notice.code for notice in record.notices] == ["fold_failed"]
    assert on_disk(record.path) == ["first", *many, "one too many"]
    disk.works = True
    record.append([note("and on")])
    record.close()
    assert on_disk(record.path) == ["first", *many, "one too many", "and on"]


def test_a_long_journal_is_folded_while_the_record_is_open(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"], QuickDisk())
    for number in range(FOLD_AFTER + 1):
        record.append([note(str(number))])
    assert not (tmp_path / "a1.journal").exists()
    record.append([note("next")])
    assert (tmp_path / "a1.journal").read_bytes().count(b"\n") == 1
    assert len(on_disk(record.path)) == FOLD_AFTER + 3
    record.close()


def test_a_vanished_folder_is_named_and_appending_goes_on_once_it_is_back(tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    record = new_record(folder, ["first"])
    record.append([note("second")])
    folder.rename(tmp_path / "unplugged")
    with pytest.raises(StorageFailed) as caught:
        record.append([note("third")])
    assert caught.value.code == "folder_gone"
    record.save_copy(tmp_path / "copy.json", also=[note("third")])
    assert on_disk(tmp_path / "copy.json") == ["first", "second", "third"]
    (tmp_path / "unplugged").rename(folder)
    record.append([note("third")])
    record.close()
    assert on_disk(folder / "a1.json") == ["first", "second", "third"]


def test_a_folder_gone_for_good_is_said_on_closing_too(tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    record = new_record(folder, ["first"])
    record.append([note("second")])
    shutil.rmtree(folder)
    with pytest.raises(StorageFailed) as caught:
        record.close()
    assert caught.value.code == "folder_gone"


def test_replacing_is_tried_again_while_another_program_holds_the_file(tmp_path: Path) -> None:
    class HeldAtFirst(FailingDisk):
        def pause(self, seconds: float) -> None:
            super().pause(seconds)
            if len(self.pauses) == 3:
                self.heal()

    disk = HeldAtFirst()
    path = tmp_path / "file"
    disk.fail("replace", error=errno.EACCES)
    replace_file(path, b"new", disk)
    assert path.read_bytes() == b"new"
    assert len(disk.pauses) == 3
    assert disk.pauses == sorted(disk.pauses)


def test_a_file_held_for_good_is_given_up_and_stands_as_it_was(tmp_path: Path) -> None:
    disk = FailingDisk()
    path = tmp_path / "file"
    path.write_bytes(b"old")
    disk.fail("replace", error=errno.EACCES)
    with pytest.raises(StorageFailed) as caught:
        replace_file(path, b"new", disk)
    assert caught.value.code == "no_permission"
    assert everything_in(tmp_path) == {"file": b"old"}


def test_a_file_and_its_folder_are_flushed_before_and_after_it_is_put_in_place(
    tmp_path: Path,
) -> None:
    disk = FailingDisk()
    replace_file(tmp_path / "file", b"new", disk)
    folder_flushes = ["fsync"] if os.name != "nt" else []
    assert disk.calls == ["write", "fsync", "replace", *folder_flushes]


def test_flushing_reaches_the_system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    flushed: list[int] = []
    monkeypatch.setattr(os, "fsync", flushed.append)
    REAL_FSYNC(Disk(), 77)
    assert flushed == [77]


def test_an_append_is_flushed_before_it_returns(tmp_path: Path) -> None:
    disk = FailingDisk()
    record = new_record(tmp_path, ["first"], disk)
    disk.calls.clear()
    record.append([note("second")])
    folder_flushes = ["fsync"] if os.name != "nt" else []
    assert disk.calls == ["write", "fsync", *folder_flushes]  # the journal's name is new
    disk.calls.clear()
    record.append([note("third")])
    assert disk.calls == ["write", "fsync"]
    record.close()


def test_a_short_write_is_carried_on_not_taken_for_the_whole(tmp_path: Path) -> None:
    class Drips(QuickDisk):
        def write(self, handle: int, data: bytes) -> int:
            return super().write(handle, data[:5])

    record = new_record(tmp_path, ["first"], Drips())
    record.append([note("second, rather longer than five bytes")])
    assert on_disk(record.path)[1] == "second, rather longer than five bytes"
    record.close()
    assert len(on_disk(tmp_path / "a1.json")) == 2


def test_appending_takes_back_a_failed_write_at_once(tmp_path: Path) -> None:
    disk = FailingDisk(written_before_failing=2)
    path = tmp_path / "file"
    path.write_bytes(b"abc")
    disk.fail("write")
    with pytest.raises(OSError, match="error"):
        append_bytes(path, b"defg", 3, new=False, disk=disk)
    assert path.read_bytes() == b"abc"


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps private folders by other means")
def test_files_are_private_and_an_existing_mode_is_kept(tmp_path: Path) -> None:
    folder = tmp_path / "people"
    make_folder(folder)
    record = new_record(folder, ["first"])
    record.append([note("second")])
    for name in ("a1.json", "a1.journal", "a1.lock"):
        assert stat.S_IMODE((folder / name).stat().st_mode) == 0o600, name
    record.path.chmod(0o640)
    record.close()
    assert stat.S_IMODE((folder / "a1.json").stat().st_mode) == 0o640
    folders = [path for path in folder.rglob("*") if path.is_dir()]
    assert len(folders) == 2
    for path in [folder, *folders]:
        assert stat.S_IMODE(path.stat().st_mode) == 0o700, path


class NoFolderFlush(FailingDisk):
    """Once told to, fails the flush that follows putting a document in place."""

    def __init__(self) -> None:
        super().__init__()
        self.told = False
        self._next_fails = False

    def replace(self, source: Path, target: Path) -> None:
        super().replace(source, target)
        self._next_fails = self.told and target.name == "a1.json"

    def fsync(self, handle: int) -> None:
        if self._next_fails:
            self._next_fails = False
            raise OSError(errno.EIO, "the folder cannot be flushed")
        super().fsync(handle)


@pytest.mark.skipif(os.name == "nt", reason="Windows flushes folders by itself")
def test_a_document_in_place_but_not_flushed_is_known_to_be_ours(tmp_path: Path) -> None:
    disk = NoFolderFlush()
    record = new_record(tmp_path, ["first"], disk)
    many = [str(number) for number in range(FOLD_AFTER)]
    record.append(notes(*many))
    disk.told = True
    record.append([note("folds")])
    assert [notice.code for notice in record.notices] == ["fold_failed"]
    assert (tmp_path / "a1.journal").exists()  # until the document is surely there
    assert on_disk(record.path) == ["first", *many, "folds"]
    disk.told = False
    record.append([note("goes on")])
    record.close()
    assert not (tmp_path / "a1.journal").exists()
    assert on_disk(record.path) == ["first", *many, "folds", "goes on"]


@pytest.mark.skipif(os.name == "nt", reason="Windows flushes folders by itself")
def test_a_new_record_that_was_not_flushed_is_not_there(tmp_path: Path) -> None:
    disk = NoFolderFlush()
    disk.told = True
    with pytest.raises(StorageFailed):
        new_record(tmp_path, ["first"], disk)
    assert list(tmp_path.iterdir()) == []
    disk.told = False
    new_record(tmp_path, ["first"], disk).close()


def test_a_full_disk_does_not_keep_a_record_with_a_torn_journal_from_opening(
    tmp_path: Path,
) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    record.append([note("third")])
    journal = tmp_path / "a1.journal"
    journal.write_bytes(journal.read_bytes()[:-5])
    (tmp_path / "a1.lock").unlink()

    class FullButForTheLock(FailingDisk):
        def write(self, handle: int, data: bytes) -> int:
            if b'"pid"' not in data:
                self._meet("write")
            return os.write(handle, data)

    disk = FullButForTheLock()
    disk.fail("write", error=errno.ENOSPC)
    again = Record.open(tmp_path / "a1.json", clock, disk=disk)
    assert texts(again) == ["first", "second"]
    disk.heal()
    again.append([note("third")])
    again.close()
    assert on_disk(tmp_path / "a1.json") == ["first", "second", "third"]


def test_a_torn_journal_that_cannot_be_mended_can_still_be_looked_at(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    journal = tmp_path / "a1.journal"
    journal.write_bytes(journal.read_bytes() + b"{")
    (tmp_path / "a1.lock").unlink()
    disk = FailingDisk()
    disk.fail("truncate")
    before = everything_in(tmp_path)
    with pytest.raises(StorageFailed) as caught:
        Record.open(tmp_path / "a1.json", clock, disk=disk)
    assert caught.value.code == "write_failed"
    assert everything_in(tmp_path) == before
    assert not (tmp_path / "a1.lock").exists()
    assert on_disk(tmp_path / "a1.json") == ["first", "second"]


def test_appending_nothing_writes_nothing_and_closing_twice_is_closing_once(
    tmp_path: Path,
) -> None:
    record = new_record(tmp_path, ["first"])
    assert record.append([]) == ()
    assert not (tmp_path / "a1.journal").exists()
    record.close()
    record.close()
    with pytest.raises(StorageFailed) as caught:
        record.append([note("too late")])
    assert caught.value.code == "read_only"
