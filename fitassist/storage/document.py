# SPDX-License-Identifier: MIT
"""A person's document: bytes to events and back. Nothing is guessed, nothing is dropped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic import TypeAdapter, ValidationError

from fitassist.errors import BadFile
from fitassist.session.events import Event, Recorded
from fitassist.storage.migrations import MIGRATIONS, Migration, migrate, version_needed
from fitassist.storage.strict_json import dump_json, parse_json

FORMAT = "fitassist-person"
LIMIT = 64 * 1024 * 1024  # bytes
_OWN_FIELDS = frozenset({"format", "version", "person_id", "events"})
_RECORDED: TypeAdapter[Recorded] = TypeAdapter(Recorded)


@dataclass(frozen=True)
class Document:
    """What one file says: whose it is and what happened, in order."""

    person_id: str
    events: tuple[Recorded, ...]
    extra: Mapping[str, Any] = field(default_factory=dict)  # fields this version does not know


def read_document(data: bytes, table: Mapping[int, Migration] = MIGRATIONS) -> Document:
    """Understand the bytes of a document.

    Parameters
    ----------
    table
        The migrations of older versions.

    Raises
    ------
    BadFile
        ``too_large``, ``truncated``, ``bad_json``, ``too_deep``, ``foreign_file``,
        ``newer_version``, ``unknown_version``, ``bad_document`` or ``bad_event`` (with ``seq``).
    """
    if len(data) > LIMIT:
        raise BadFile("too_large", size=len(data), limit=LIMIT)
    raw = parse_json(data)
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise BadFile("foreign_file")
    raw = migrate(raw, table)
    person_id, events = raw.get("person_id"), raw.get("events")
    if not isinstance(person_id, str) or not person_id:
        raise BadFile("bad_document", field="person_id")
    if not isinstance(events, list):
        raise BadFile("bad_document", field="events")
    recorded = tuple(read_recorded(item, seq) for seq, item in enumerate(events, start=1))
    extra = {name: value for name, value in raw.items() if name not in _OWN_FIELDS}
    return Document(person_id, recorded, extra)


def read_recorded(raw: Any, expected_seq: int | None = None) -> Recorded:
    """Understand one event with its place.

    Raises
    ------
    BadFile
        ``bad_event`` if it has not the shape of a known kind, or not the expected place.
    """
    if not isinstance(raw, dict):
        raise BadFile("bad_event", seq=expected_seq, detail="no object")
    seq = raw.get("seq")
    if isinstance(seq, bool) or not isinstance(seq, int):
        raise BadFile("bad_event", seq=expected_seq, detail="no seq")
    if expected_seq is not None and seq != expected_seq:
        raise BadFile("bad_event", seq=expected_seq, detail=f"found seq {seq}")
    try:
        return _RECORDED.validate_python(raw)
    except (ValidationError, RecursionError) as error:
        detail = "too deep" if isinstance(error, RecursionError) else _first_problem(error)
        raise BadFile("bad_event", seq=seq, detail=detail) from error


def _first_problem(error: ValidationError) -> str:
    first = error.errors(include_url=False, include_input=False)[0]
    return f"{'.'.join(str(part) for part in first['loc'])}: {first['msg']}"


def write_recorded(recorded: Recorded) -> bytes:
    """Return the JSON of one event with its place, on one line."""
    return dump_json(recorded.model_dump(mode="json"))


def write_document(document: Document) -> bytes:
    """Return the bytes of a document: one event a line."""
    head: dict[str, Any] = {
        "format": FORMAT,
        "version": version_needed(document.events),
        "person_id": document.person_id,
        **document.extra,
    }
    lines = [b'"%s":%s,' % (dump_json(key)[1:-1], dump_json(value)) for key, value in head.items()]
    events = b",\n".join(write_recorded(recorded) for recorded in document.events)
    body = b"\n" + events + b"\n" if events else b""
    return b"{\n" + b"\n".join(lines) + b'\n"events":[' + body + b"]\n}\n"


def number_events(
    events: Sequence[Event], first_seq: int, at: str
) -> tuple[tuple[Recorded, ...], tuple[bytes, ...]]:
    """Give events their places, as a later reader of the written bytes will see them.

    Returns
    -------
    The events read back from the bytes, and the bytes, one line each.

    Raises
    ------
    BadFile
        ``bad_event`` if an event could be written but not read again.
    ValueError
        If an event holds what JSON cannot.
    """
    lines = tuple(
        write_recorded(Recorded(seq=seq, at=at, event=event))
        for seq, event in enumerate(events, start=first_seq)
    )
    return tuple(read_recorded(parse_json(line)) for line in lines), lines
