# SPDX-License-Identifier: MIT
"""The journal beside a document: one event a line since the document was last written.

A line is ``{"crc32":"1a2b3c4d","recorded":{...}}`` with the checksum of the inner bytes as they
stand. What follows the first damaged line is never replayed and never thrown away.
"""

from __future__ import annotations

import hashlib
import re
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import DISK, Disk, append_bytes, cut_file, read_file, remove_file
from fitassist.session.events import Recorded
from fitassist.storage.document import LIMIT, read_recorded
from fitassist.storage.strict_json import parse_json

_LINE = re.compile(rb'\{"crc32":"([0-9a-f]{8})","recorded":(.*)\}', re.DOTALL)

# torn: the last write never ended, so nobody was told it had; the others may hold answers.
Damage = Literal["", "torn", "tail", "middle"]


@dataclass(frozen=True)
class JournalText:
    """What the bytes of a journal say."""

    events: tuple[Recorded, ...]
    good_size: int  # bytes in front of the first damaged line
    damage: Damage
    ends_open: bool  # the last good line lacks only its line end


def write_lines(payloads: Sequence[bytes]) -> bytes:
    """Return the journal lines of events already written as JSON."""
    return b"".join(
        b'{"crc32":"%08x","recorded":%s}\n' % (zlib.crc32(payload), payload) for payload in payloads
    )


def read_lines(data: bytes) -> JournalText:
    """Understand the bytes of a journal as far as they are whole and in order.

    Raises
    ------
    BadFile
        ``bad_event`` or ``bad_json`` for a line whose checksum is right and whose event this
        program does not know: it was written so, by another version, and must not be dropped.
    """
    lines = data.split(b"\n")
    rest = lines.pop()
    whole = len(lines)
    if rest:
        lines.append(rest)
    payloads = [_payload(line) for line in lines]
    good: list[Recorded] = []
    size = 0
    for line, payload in zip(lines, payloads, strict=True):
        if payload is None:
            break
        recorded = read_recorded(parse_json(payload))
        if good and recorded.seq != good[-1].seq + 1:
            break  # a line is missing
        good.append(recorded)
        size += len(line) + 1
    damage: Damage = ""
    if len(good) < len(lines):
        if any(payload is not None for payload in payloads[len(good) :]):
            damage = "middle"
        else:
            damage = "torn" if len(good) == whole else "tail"
    ends_open = size > len(data)
    return JournalText(tuple(good), min(size, len(data)), damage, ends_open)


def _payload(line: bytes) -> bytes | None:
    match = _LINE.fullmatch(line)
    if match is None or zlib.crc32(match[2]) != int(match[1], 16):
        return None
    return match[2]


class Journal:
    """One journal file and what we last left in it."""

    def __init__(self, path: Path, disk: Disk = DISK) -> None:
        self._path = path
        self._disk = disk
        self._forget()

    def _forget(self) -> None:
        self._exists = False
        self._size = 0
        self._mtime_ns = 0
        self._hash = hashlib.sha256()
        self._attempt = b""  # what a failed append may have left behind our end

    def read(self) -> bytes:
        """Read the file, empty if there is none (BadFile if it cannot be read), and remember it."""
        self._forget()
        try:
            data, about = read_file(self._path, LIMIT)
        except BadFile as error:
            if error.code == "not_found":
                return b""
            raise
        self._exists = True
        self._size = len(data)
        self._mtime_ns = about.st_mtime_ns
        self._hash.update(data)
        return data

    def check(self, *, thorough: bool = False) -> None:
        """Make sure the file is as we left it.

        Raises
        ------
        StorageFailed
            ``changed_elsewhere`` if anyone else wrote, replaced, made or removed it.
        """
        changed = StorageFailed("changed_elsewhere", path=str(self._path))
        try:
            about = self._path.lstat()
        except OSError:
            if self._exists:
                raise changed from None
            return
        same = (self._exists, self._size, self._mtime_ns)
        if same == (True, about.st_size, about.st_mtime_ns) and not thorough:
            return
        if not self._exists and not self._attempt:
            raise changed
        try:
            data, about = read_file(self._path, LIMIT)
        except BadFile:
            raise changed from None
        ours, more = data[: self._size], data[self._size :]
        if hashlib.sha256(ours).digest() != self._hash.digest():
            raise changed
        if not self._attempt.startswith(more):
            raise changed
        self._exists = True
        self._mtime_ns = about.st_mtime_ns
        if more:
            self._cut()

    def _cut(self) -> None:
        cut_file(self._path, self._size, self._disk)
        self._mtime_ns = self._path.lstat().st_mtime_ns
        self._attempt = b""

    def append(self, data: bytes) -> None:
        """Put lines at the end, on the disk before returning; call ``check`` first.

        Raises
        ------
        OSError
            If that failed; a later call takes back what was left of this one.
        """
        self._attempt = data
        self._mtime_ns = append_bytes(
            self._path, data, self._size, new=not self._exists, disk=self._disk
        )
        self._attempt = b""
        self._exists = True
        self._size += len(data)
        self._hash.update(data)

    def remove(self) -> None:
        """Remove the file, its events being in the document (StorageFailed if it stays)."""
        if self._exists:
            remove_file(self._path)
        self._forget()


def news(
    known: tuple[Recorded, ...], replayed: tuple[Recorded, ...]
) -> tuple[Recorded, ...] | None:
    """Return what a journal adds to a document; None if the two cannot belong together."""
    next_seq = len(known) + 1
    if replayed and replayed[0].seq > next_seq:
        return None
    if any(known[old.seq - 1] != old for old in replayed if old.seq < next_seq):
        return None
    return tuple(recorded for recorded in replayed if recorded.seq >= next_seq)
