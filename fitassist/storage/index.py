# SPDX-License-Identifier: MIT
"""What the list of people needs, kept so that thousands of records need not be read to show it.

It is only ever a shortcut: an entry counts while size, times and number of the record's files are
those it was read from; anything missing, changed or odd is read from the record again. Each
computer has a file of its own, because a shared folder shows it other times and numbers.
"""

from __future__ import annotations

import hashlib
import socket
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fitassist.errors import FitError
from fitassist.files import Disk, make_folder, read_file, remove_file, replace_file
from fitassist.storage.person_entry import PersonEntry
from fitassist.storage.strict_json import dump_json, parse_json

FOLDER = "index"
VERSION = 1
_LIMIT = 256 * 1024 * 1024  # bytes
# A record written in the same moment as the index could look unchanged though it is not; two
# seconds is how coarsely a memory stick tells time (FAT; from memory).
RACY_NS = 2_000_000_000

Seen = tuple[int, ...]  # of document and journal: size, mtime, ctime (ns), inode
Entries = dict[str, tuple[Seen, PersonEntry]]


def index_path(root: Path) -> Path:
    """Return this computer's index of a profile."""
    host = hashlib.sha256(socket.gethostname().encode("utf-8", "replace")).hexdigest()[:12]
    return root / FOLDER / f"{host}.json"


def read_index(root: Path) -> Entries:
    """Return what the index says; nothing if it is missing, damaged or of another version."""
    try:
        data, about = read_file(index_path(root), _LIMIT)
        head, _, body = data.partition(b"\n")
        if parse_json(head) != {"version": VERSION, "crc32": zlib.crc32(body)}:
            return {}
        found = {item[0]: (_seen(item[1]), _entry(item)) for item in parse_json(body)}
    except (FitError, KeyError, TypeError, ValueError, IndexError, AttributeError):
        return {}
    written_ns = about.st_mtime_ns
    return {key: one for key, one in found.items() if not _is_racy(one[0], written_ns)}


def _is_racy(seen: Seen, written_ns: int) -> bool:
    times = (*seen[1:3], *seen[5:7])
    return max(times, default=0) > written_ns - RACY_NS


def write_index(root: Path, entries: Mapping[str, tuple[Seen, PersonEntry]], disk: Disk) -> None:
    """Keep the entries of records that could be read.

    Raises
    ------
    StorageFailed
        If that failed; nothing but speed is lost.
    """
    kept = sorted((key, one) for key, one in entries.items() if one[1].problem is None)
    body = dump_json([_item(key, seen, entry) for key, (seen, entry) in kept])
    head = dump_json({"version": VERSION, "crc32": zlib.crc32(body)})
    data = head + b"\n" + body
    make_folder(root / FOLDER, disk)
    replace_file(index_path(root), data, disk)


def remove_index(root: Path) -> None:
    """Remove the indexes of all computers; each is made anew from the records.

    Raises
    ------
    StorageFailed
        If one stays.
    """
    try:
        found = list((root / FOLDER).iterdir())
    except OSError:
        return
    for path in found:
        remove_file(path)


def _item(key: str, seen: Seen, entry: PersonEntry) -> list[Any]:
    repeats = [[name, n, squares] for name, (n, squares) in sorted(entry.repeats.items())]
    flags = [entry.has_open_fitting, entry.archived, entry.is_finished]
    counts = [entry.n_events, entry.n_bodies, entry.n_fittings]
    texts = [entry.name, entry.changed_at, entry.last_measured, entry.last_fitted]
    return [
        key,
        list(seen),
        texts,
        flags,
        counts,
        list(entry.tags),
        [entry.given_over_to, entry.person_id],
        repeats,
    ]


def _entry(item: list[Any]) -> PersonEntry:
    key, _seen, texts, flags, counts, tags, others, repeats = item
    return PersonEntry(
        id=_text(key),
        name=_text(texts[0]),
        changed_at=_text(texts[1]),
        last_measured=_text(texts[2]),
        last_fitted=_text(texts[3]),
        has_open_fitting=flags[0] is True,
        archived=flags[1] is True,
        is_finished=flags[2] is True,
        n_events=int(counts[0]),
        n_bodies=int(counts[1]),
        n_fittings=int(counts[2]),
        tags=tuple(_text(tag) for tag in tags),
        given_over_to=_text(others[0]),
        person_id=_text(others[1]),
        repeats={_text(name): (int(n), float(squares)) for name, n, squares in repeats},
    )


def _seen(value: list[Any]) -> Seen:
    return tuple(int(number) for number in value)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("no text")
    return value
