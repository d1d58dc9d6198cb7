# SPDX-License-Identifier: MIT
"""Files cut or damaged at every single byte: an earlier state comes back, or a refusal."""

from __future__ import annotations

import zlib
from pathlib import Path

import pytest

from fitassist.errors import BadFile
from fitassist.storage.document import read_document
from fitassist.storage.record import Record
from tests.storage.disks import QuickDisk, clock, everything_in, new_record, notes, texts

QUICK = QuickDisk()
IN_DOCUMENT = ["in the document", "ä second line 裁縫"]
IN_JOURNAL = ["one", "two", "three"]


@pytest.fixture
def crashed(tmp_path: Path) -> tuple[bytes, bytes]:
    """The document and journal a crash leaves behind."""
    folder = tmp_path / "before"
    folder.mkdir()
    record = new_record(folder, IN_DOCUMENT, QUICK)
    for text in IN_JOURNAL:
        record.append(notes(text))
    return (folder / "a1.json").read_bytes(), (folder / "a1.journal").read_bytes()


def put(folder: Path, document: bytes, journal: bytes) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "a1.json").write_bytes(document)
    (folder / "a1.journal").write_bytes(journal)
    return folder / "a1.json"


def test_a_document_cut_anywhere_is_refused_and_left_as_it_is(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    whole = read_document(document)
    for size in range(len(document)):
        path = put(tmp_path / "cut", document[:size], journal)
        before = everything_in(path.parent)
        if size == len(document) - 1:  # only the line end at the very end can be missed
            with Record.open(path, clock, disk=QUICK) as record:
                assert record.events[: len(whole.events)] == whole.events
                assert texts(record) == IN_DOCUMENT + IN_JOURNAL
            continue
        with pytest.raises(BadFile) as caught:
            Record.open(path, clock, disk=QUICK)
        assert caught.value.code == "truncated", size
        assert everything_in(path.parent) == before
        assert not path.with_suffix(".lock").exists()


def test_a_journal_cut_anywhere_gives_every_whole_line(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    for size in range(len(journal) + 1):
        folder = tmp_path / f"cut-{size}"
        path = put(folder, document, journal[:size])
        acknowledged = journal[:size].count(b"\n")
        record = Record.open(path, clock, disk=QUICK)
        found = texts(record)[len(IN_DOCUMENT) :]
        # A line that lacks only its end is whole too, though nobody was told so.
        assert found in (IN_JOURNAL[:acknowledged], IN_JOURNAL[: acknowledged + 1]), size
        record.append(notes("after"))
        record.close()
        with Record.open(path, clock, disk=QUICK) as again:
            assert texts(again) == [*IN_DOCUMENT, *found, "after"], size


def test_a_journal_with_any_one_byte_changed_never_lies_and_loses_no_bytes(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    starts = [0, *(i + 1 for i, byte in enumerate(journal) if byte == ord("\n"))]
    for place in range(len(journal)):
        damaged = bytearray(journal)
        damaged[place] ^= 0x11
        folder = tmp_path / f"flip-{place}"
        path = put(folder, document, bytes(damaged))
        line = sum(start <= place for start in starts) - 1
        with Record.open(path, clock, disk=QUICK) as record:
            found = texts(record)[len(IN_DOCUMENT) :]
            # A changed line end joins two lines, and may spoil the one in front of it.
            assert found == IN_JOURNAL[: len(found)]
            assert len(found) in ((line, line + 1) if journal[place] == 10 else (line,)), place
            (notice,) = record.notices
        if notice.code == "journal_torn":
            assert line == len(IN_JOURNAL) - 1
        else:
            assert notice.aside is not None
            assert bytes(damaged).endswith(notice.aside.read_bytes())
            assert notice.aside.read_bytes().count(b"\n") >= bytes(damaged).count(b"\n") - len(
                found
            )


def test_what_follows_a_damaged_line_is_reported_and_kept_aside(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    first, second, third = journal.splitlines(keepends=True)
    path = put(tmp_path / "x", document, first + second.replace(b"two", b"owt") + third)
    with Record.open(path, clock, disk=QUICK) as record:
        assert [notice.code for notice in record.notices] == ["journal_middle"]
        aside = record.notices[0].aside
        assert aside is not None
        assert aside.read_bytes() == second.replace(b"two", b"owt") + third
        assert texts(record) == [*IN_DOCUMENT, "one"]


def test_looking_only_reports_damage_and_writes_nothing(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    path = put(tmp_path / "x", document, journal[:-20])
    before = everything_in(path.parent)
    record = Record.open(path, clock, read_only=True)
    assert [notice.code for notice in record.notices] == ["journal_torn"]
    assert texts(record) == [*IN_DOCUMENT, "one", "two"]
    record.close()
    assert everything_in(path.parent) == before


def test_replaying_skips_what_the_document_already_has(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    path = put(tmp_path / "x", document, journal)
    Record.open(path, clock, disk=QUICK).close()
    path.with_suffix(".journal").write_bytes(journal)  # as if the crash came before its removal
    with Record.open(path, clock, disk=QUICK) as record:
        assert texts(record) == IN_DOCUMENT + IN_JOURNAL
        assert record.notices == ()


@pytest.mark.parametrize("other", [["something else"], ["a", "b", "c", "d"]])
def test_a_journal_of_another_document_is_kept_aside_and_never_mixed_in(
    tmp_path: Path, crashed: tuple[bytes, bytes], other: list[str]
) -> None:
    _, journal = crashed
    folder = tmp_path / "x"
    folder.mkdir()
    new_record(folder, other, QUICK).close()
    path = folder / "a1.json"
    path.with_suffix(".journal").write_bytes(journal)
    with Record.open(path, clock, disk=QUICK) as record:
        assert texts(record) == other
        assert [notice.code for notice in record.notices] == ["journal_conflict"]
        aside = record.notices[0].aside
        assert aside is not None
        assert aside.read_bytes() == journal
        record.append(notes("goes on"))
    with Record.open(path, clock, disk=QUICK) as record:
        assert texts(record) == [*other, "goes on"]


def test_an_event_kind_of_the_future_in_a_journal_is_refused_not_dropped(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    payload = b'{"seq":6,"at":"","event":{"kind":"sang_a_song"}}'
    line = b'{"crc32":"%08x","recorded":%s}\n' % (zlib.crc32(payload), payload)
    path = put(tmp_path / "x", document, journal + line)
    before = everything_in(path.parent)
    with pytest.raises(BadFile) as caught:
        Record.open(path, clock, disk=QUICK)
    assert caught.value.code == "bad_event"
    assert caught.value.values["seq"] == 6
    assert everything_in(path.parent) == before
    assert not path.with_suffix(".lock").exists()


def test_what_follows_a_missing_line_is_reported_and_kept_aside(
    tmp_path: Path, crashed: tuple[bytes, bytes]
) -> None:
    document, journal = crashed
    first, _, third = journal.splitlines(keepends=True)
    path = put(tmp_path / "x", document, first + third)
    with Record.open(path, clock, disk=QUICK) as record:
        assert texts(record) == [*IN_DOCUMENT, "one"]
        assert [notice.code for notice in record.notices] == ["journal_middle"]
        assert record.notices[0].aside is not None
        assert record.notices[0].aside.read_bytes() == third
