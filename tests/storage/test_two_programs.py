# SPDX-License-Identifier: MIT
"""Two programs, or two windows, on one person: one writes, the other is told who does."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from fitassist.errors import StorageFailed
from fitassist.session.events import PersonNamed
from fitassist.storage.journal import Journal
from fitassist.storage.lock import Holder, Lock, read_holder
from fitassist.storage.places import lock_path
from fitassist.storage.record import Record
from tests.storage.disks import QuickDisk, clock, everything_in, new_record, note, texts

OTHER_PROGRAM = """
import sys
from pathlib import Path
from fitassist.errors import StorageFailed
from fitassist.storage.record import Record
from tests.storage.disks import clock, note
record = Record.open(Path(sys.argv[1]), clock)
print("open", flush=True)
for line in sys.stdin:
    try:
        record.append([note(line.strip())])
        print("kept", flush=True)
    except StorageFailed as error:
        print(error.code, flush=True)
"""


class OtherProgram:
    def __init__(self, path: Path) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c", OTHER_PROGRAM, str(path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        assert self.answer() == "open"

    def answer(self) -> str:
        assert self.process.stdout is not None
        return self.process.stdout.readline().strip()

    def append(self, text: str) -> str:
        assert self.process.stdin is not None
        self.process.stdin.write(text + "\n")
        self.process.stdin.flush()
        return self.answer()

    def kill(self) -> None:
        self.process.kill()
        self.process.communicate()


def test_two_processes_on_one_person(tmp_path: Path) -> None:
    new_record(tmp_path, ["first"]).close()
    path = tmp_path / "a1.json"
    other = OtherProgram(path)
    try:
        assert other.append("by the other") == "kept"
        with pytest.raises(StorageFailed) as caught:
            Record.open(path, clock)
        assert caught.value.code == "open_elsewhere"
        assert caught.value.values["pid"] == other.process.pid
        assert caught.value.values["host"] == socket.gethostname()

        watcher = Record.open(path, clock, read_only=True)
        assert texts(watcher) == ["first", "by the other"]
        with pytest.raises(StorageFailed) as caught:
            watcher.append([note("no")])
        assert caught.value.code == "read_only"

        mine = Record.open(path, clock, take_over=True)
        assert texts(mine) == ["first", "by the other"]
        mine.append([note("by me")])
        assert other.append("too late") == "lock_taken"
        mine.append([note("by me again")])
        mine.close()
        assert other.append("still too late") == "lock_taken"
    finally:
        other.kill()
    with Record.open(path, clock) as record:
        assert texts(record) == ["first", "by the other", "by me", "by me again"]
        assert record.notices == ()


def test_the_lock_of_a_killed_program_is_taken_over(tmp_path: Path) -> None:
    new_record(tmp_path, ["first"]).close()
    path = tmp_path / "a1.json"
    other = OtherProgram(path)
    assert other.append("acknowledged") == "kept"
    other.kill()
    assert path.with_suffix(".lock").exists()
    with Record.open(path, clock) as record:
        assert texts(record) == ["first", "acknowledged"]
    assert not path.with_suffix(".lock").exists()


def test_who_lost_the_record_can_save_all_of_it_elsewhere(tmp_path: Path) -> None:
    loser = new_record(tmp_path, ["first"])
    loser.append([note("second")])
    winner = Record.open(loser.path, clock, take_over=True)
    with pytest.raises(StorageFailed) as caught:
        loser.append([note("third")])
    assert caught.value.code == "lock_taken"
    assert texts(loser) == ["first", "second"]
    loser.save_copy(tmp_path / "copy.json", also=[note("third")])
    assert texts(Record.open(tmp_path / "copy.json", clock, read_only=True))[2] == "third"
    loser.close()  # quietly: all its events are with the winner
    winner.append([note("winner")])
    winner.close()
    assert texts(Record.open(winner.path, clock, read_only=True)) == ["first", "second", "winner"]


def test_a_second_window_of_the_same_program_is_refused_too(tmp_path: Path) -> None:
    first = new_record(tmp_path)
    with pytest.raises(StorageFailed) as caught:
        Record.open(first.path, clock)
    assert caught.value.code == "open_elsewhere"
    first.close()
    Record.open(first.path, clock).close()


def _write_lock(path: Path, **changes: object) -> None:
    holder = Holder.this_process()
    known = {"pid": holder.pid, "host": holder.host, "program": "x", "token": "t"}
    path.write_text(json.dumps(known | {"began": holder.began} | changes))


def test_a_lock_of_another_computer_is_never_taken_without_being_asked(tmp_path: Path) -> None:
    path = tmp_path / "x.lock"
    _write_lock(path, host="another-computer", pid=2**22 + 1)
    with pytest.raises(StorageFailed) as caught:
        Lock.take(path)
    assert caught.value.values["host"] == "another-computer"
    Lock.take(path, take_over=True).release()
    assert not path.exists()


def test_a_lock_of_a_number_no_process_has_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "x.lock"
    _write_lock(path, pid=2**22 + 1)  # above the largest pid Linux gives, proc(5) pid_max
    Lock.take(path).release()


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells when a process began")
def test_a_number_used_again_since_a_power_cut_does_not_keep_the_lock(tmp_path: Path) -> None:
    path = tmp_path / "x.lock"
    _write_lock(path, began="another-boot:1")
    Lock.take(path).release()


@pytest.mark.skipif(os.name == "nt", reason="ended processes do not linger there")
def test_a_process_that_ended_but_was_not_waited_for_is_dead(tmp_path: Path) -> None:
    path = tmp_path / "x.lock"
    ended = subprocess.Popen([sys.executable, "-c", ""], stdout=subprocess.PIPE)
    assert ended.stdout is not None
    os.waitid(os.P_PID, ended.pid, os.WEXITED | os.WNOWAIT)
    _write_lock(path, pid=ended.pid, began="")
    Lock.take(path).release()
    ended.communicate()


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", '{"pid":"x"}', '{"pid":1e999}', "\x00" * 9, "[" * 4000]
)
def test_an_unreadable_lock_holds_until_it_is_taken_over(tmp_path: Path, text: str) -> None:
    path = tmp_path / "x.lock"
    path.write_text(text)
    with pytest.raises(StorageFailed) as caught:
        Lock.take(path)
    assert caught.value.code == "open_elsewhere"
    lock = Lock.take(path, take_over=True)
    lock.check()
    lock.release()


def test_a_lock_that_was_swept_away_is_taken_again(tmp_path: Path) -> None:
    record = new_record(tmp_path)
    record.path.with_suffix(".lock").unlink()
    record.append([note("goes on")])
    assert read_holder(record.path.with_suffix(".lock")) is not None
    record.close()


def test_a_disk_without_links_has_locks_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: object, **__: object) -> None:
        raise PermissionError(1, "no hard links here")

    monkeypatch.setattr(os, "link", no_links)
    record = new_record(tmp_path, ["first"])
    with pytest.raises(StorageFailed) as caught:
        Record.open(record.path, clock)
    assert caught.value.code == "open_elsewhere"
    record.append([note("second")])
    record.close()
    assert set(everything_in(tmp_path)) == {
        "a1.json",
        "backups/a1/000001_2026-01-02T03-04-05.json",
    }
    assert not record.path.with_suffix(".lock").exists()


@pytest.mark.parametrize("which", ["a1.json", "a1.journal"])
@pytest.mark.parametrize("change", ["append", "rewrite", "same size", "remove"])
def test_a_file_changed_by_anyone_else_is_never_written_over(
    tmp_path: Path, which: str, change: str
) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    path = tmp_path / which
    data = path.read_bytes()
    if change == "append":
        path.write_bytes(data + b" ")
    elif change == "rewrite":
        path.write_bytes(b"{}")
    elif change == "same size":
        path.write_bytes(data[:-9] + b"x" + data[-8:])
        os.utime(path, ns=(1, 1))
    else:
        path.unlink()
    after = everything_in(tmp_path)
    for _ in range(2):
        with pytest.raises(StorageFailed) as caught:
            record.append([note("third")])
        assert caught.value.code == "changed_elsewhere"
    with pytest.raises(StorageFailed) as caught:
        record.close()
    assert caught.value.code == "changed_elsewhere"
    assert everything_in(tmp_path) == after
    record.save_copy(tmp_path / "copy.json")
    assert texts(Record.open(tmp_path / "copy.json", clock, read_only=True)) == ["first", "second"]


def test_a_change_within_the_same_clock_tick_is_found_before_the_document_is_replaced(
    tmp_path: Path,
) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    about = record.path.stat()
    data = record.path.read_bytes()
    record.path.write_bytes(data.replace(b"first", b"other"))
    os.utime(record.path, ns=(about.st_atime_ns, about.st_mtime_ns))
    with pytest.raises(StorageFailed) as caught:
        record.close()
    assert caught.value.code == "changed_elsewhere"
    assert b"other" in record.path.read_bytes()


def test_a_file_merely_touched_or_copied_back_is_not_a_change(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    for name in ("a1.json", "a1.journal"):
        path = tmp_path / name
        data = path.read_bytes()
        path.unlink()
        path.write_bytes(data)
        os.utime(path, ns=(5, 5))
    record.append([note("third")])
    record.close()
    assert texts(Record.open(record.path, clock, read_only=True)) == ["first", "second", "third"]


def test_a_journal_that_appears_from_elsewhere_is_not_written_into(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"])
    (tmp_path / "a1.journal").write_bytes(b"")
    with pytest.raises(StorageFailed) as caught:
        record.append([note("second")])
    assert caught.value.code == "changed_elsewhere"
    assert (tmp_path / "a1.journal").read_bytes() == b""


def test_an_append_that_was_overtaken_while_it_was_written_is_not_acknowledged(
    tmp_path: Path,
) -> None:
    class Overtaken(QuickDisk):
        """Lets another take the lock just before the journal is flushed."""

        def __init__(self) -> None:
            self.armed = False

        def fsync(self, handle: int) -> None:
            if self.armed:
                self.armed = False
                Lock.take(tmp_path / "a1.lock", take_over=True)

    disk = Overtaken()
    record = new_record(tmp_path, ["first"], disk)
    disk.armed = True
    for _ in range(2):
        with pytest.raises(StorageFailed) as caught:
            record.append([note("second")])
        assert caught.value.code == "lock_taken"
        assert texts(record) == ["first"]
    (tmp_path / "a1.lock").unlink()
    with pytest.raises(StorageFailed):
        record.append([note("second")])
    with Record.open(record.path, clock) as again:
        assert texts(again) in (["first"], ["first", "second"])
        again.append([note("third")])


def test_looking_while_the_other_closes_shows_everything(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = new_record(tmp_path, ["first"])
    writer.append([note("second")])
    read = Journal.read
    closes = iter([writer.close])

    def close_in_between(journal: Journal) -> bytes:
        for close in closes:  # once, between reading the document and reading the journal
            close()
        return read(journal)

    monkeypatch.setattr(Journal, "read", close_in_between)
    watcher = Record.open(writer.path, clock, read_only=True)
    assert texts(watcher) == ["first", "second"]


def test_a_journal_turned_into_something_unreadable_is_a_change(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"])
    record.append([note("second")])
    journal = tmp_path / "a1.journal"
    journal.rename(tmp_path / "moved")
    journal.symlink_to(tmp_path / "moved")
    before = (tmp_path / "moved").read_bytes()
    with pytest.raises(StorageFailed) as caught:
        record.append([note("third")])
    assert caught.value.code == "changed_elsewhere"
    assert (tmp_path / "moved").read_bytes() == before


def test_who_lost_the_lock_leaves_the_other_ones_in_place_on_closing(tmp_path: Path) -> None:
    path = tmp_path / "p.json"
    Record.create(path, "someone", lambda: "", [PersonNamed(name="Ada")]).close()
    first = Record.open(path, lambda: "")
    second = Record.open(path, lambda: "", take_over=True)
    first.close()
    assert lock_path(path).exists()
    second.append([PersonNamed(name="Bea")])  # still holds it
    second.close()
    assert not lock_path(path).exists()
