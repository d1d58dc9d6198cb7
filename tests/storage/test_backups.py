# SPDX-License-Identifier: MIT
"""Earlier documents: kept before each replacement, thinned out, and told apart without a clock."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitassist.errors import StorageFailed
from fitassist.storage.backups import keep_backup, list_backups, superfluous
from fitassist.storage.record import Record
from tests.storage.disks import FailingDisk, QuickDisk, clock, everything_in, new_record, note

QUICK = QuickDisk()


def day(number: int) -> str:
    return f"2026-{1 + number // 28:02d}-{1 + number % 28:02d}T12:00:00Z"


def test_the_document_is_kept_before_it_is_replaced(tmp_path: Path) -> None:
    record = new_record(tmp_path, ["first"])
    old = record.path.read_bytes()
    record.append([note("second")])
    record.close()
    (kept,) = list_backups(record.path)
    assert kept.path.read_bytes() == old
    assert kept.day == "2026-01-02"
    Record.open(record.path, clock).close()  # nothing happened: nothing to keep
    assert len(list_backups(record.path)) == 1


def test_a_document_that_could_not_be_kept_is_not_replaced(tmp_path: Path) -> None:
    disk = FailingDisk()
    record = new_record(tmp_path, ["first"], disk)
    record.append([note("second")])
    before = everything_in(tmp_path)
    disk.fail("write", error=28)
    with pytest.raises(StorageFailed) as caught:
        record.close()
    assert caught.value.code == "disk_full"
    assert everything_in(tmp_path) == before


def test_ten_of_one_day_are_kept_and_the_last_of_each_of_thirty_days(tmp_path: Path) -> None:
    document = tmp_path / "a1.json"
    for number in range(40):
        for part in "ab":
            keep_backup(document, f"{number}{part}".encode(), day(number), QUICK)
    kept = [backup.path.read_bytes().decode() for backup in list_backups(document)]
    last_ten = [f"{number}{part}" for number in range(39, 34, -1) for part in "ba"]
    one_a_day = [f"{number}b" for number in range(34, 9, -1)]
    assert kept == last_ten + one_a_day
    for part in range(15):
        keep_backup(document, f"40-{part}".encode(), day(40), QUICK)
    kept = [backup.path.read_bytes().decode() for backup in list_backups(document)]
    assert kept[:10] == [f"40-{part}" for part in range(14, 4, -1)]
    assert kept[10:] == [f"{number}b" for number in range(39, 10, -1)]


def test_order_and_thinning_do_not_trust_the_clock(tmp_path: Path) -> None:
    document = tmp_path / "a1.json"
    times = ["2026-05-02T00:00:00Z", "1970-01-01T00:00:00Z", "nonsense", "", "2099-01-01T00:00:00Z"]
    for number, at in enumerate(times):
        keep_backup(document, str(number).encode(), at, QUICK)
    assert [kept.path.read_bytes() for kept in list_backups(document)] == [
        b"4",
        b"3",
        b"2",
        b"1",
        b"0",
    ]
    assert [kept.day for kept in list_backups(document)][1:3] == ["unknown", "unknown"]
    assert superfluous(list_backups(document)) == ()


def test_the_same_bytes_are_not_kept_twice_in_a_row(tmp_path: Path) -> None:
    document = tmp_path / "a1.json"
    for data in (b"x", b"x", b"y", b"x"):
        keep_backup(document, data, day(1), QUICK)
    assert [kept.path.read_bytes() for kept in list_backups(document)] == [b"x", b"y", b"x"]


def test_what_is_no_backup_is_neither_listed_nor_removed(tmp_path: Path) -> None:
    document = tmp_path / "a1.json"
    assert list_backups(document) == ()
    keep_backup(document, b"x", day(1), QUICK)
    folder = tmp_path / "backups" / "a1"
    for name in ("mine.json", "000009_2026-01-01.json.bak", "9_2026-01-01.json"):
        (folder / name).write_bytes(b"not ours")
    (folder / "000099_2026-01-01.json").symlink_to(folder / "mine.json")
    for number in range(60):
        keep_backup(document, str(number).encode(), day(1), QUICK)
    assert len(list_backups(document)) == 10
    assert len(list(folder.iterdir())) == 14
