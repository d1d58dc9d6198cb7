# SPDX-License-Identifier: MIT
"""Records in memory: equal parts of many fittings are held once, and nothing reads otherwise."""

from __future__ import annotations

import tracemalloc
from pathlib import Path
from typing import Any

from fitassist.domain.body import Body, Target
from fitassist.session.events import FittingStarted, FormRead
from fitassist.storage.document import Document, number_events, read_document, write_document
from fitassist.storage.record import Record
from fitassist.storage.sharing import Sharing
from tests.builders import a_form


def clock() -> str:
    return "2026-01-02T03:04:05Z"


def past(number: int) -> dict[str, Any]:
    entries = [{"line": "bust", "what": "girth", "mm": 900.5 + number + i} for i in range(20)]
    return {"start": {"bust.front": 35.0 + number}, "entries": entries}


def started(number: int, most: int = 30) -> FittingStarted:
    """Begin a fitting with all that earlier ones taught the form, the last ``most``."""
    learned = {"version": 1, "fittings": [past(n) for n in range(max(0, number - most), number)]}
    return FittingStarted(
        fitting_id=str(number),
        body=Body(name="Someone", targets=(Target(line="bust", value_mm=900.0),)),
        form=a_form().model_copy(update={"learned": learned}),
    )


def events_of(fittings: int) -> list[Any]:
    listed: list[Any] = []
    for number in range(fittings):
        listed += [started(number), FormRead(line="bust", mm=900.0 + number)]
    return listed


def test_events_read_and_written_are_the_same_shared_or_not() -> None:
    recorded, _ = number_events(events_of(8), 1, clock())
    data = write_document(Document("p", recorded))
    plain, shared = read_document(data), read_document(data)
    Sharing().share(shared.events)
    assert shared == plain
    assert write_document(shared) == data
    assert [hash(one.event.kind) for one in shared.events]
    for one, other in zip(shared.events, plain.events, strict=True):
        assert one.model_fields_set == other.model_fields_set
        assert one.event.model_fields_set == other.event.model_fields_set


def test_what_a_copy_is_given_stays_with_the_copy() -> None:
    recorded, _ = number_events(events_of(3), 1, clock())
    Sharing().share(recorded)
    first, second = recorded[0].event, recorded[2].event
    changed = first.form.model_copy(update={"name": "other", "later": 1})
    assert changed.name == "other"
    assert first.form.name == second.form.name == a_form().name
    assert not first.form.model_extra
    assert "later" not in second.form.model_dump()


def test_what_a_form_was_taught_is_held_once_for_all_fittings(tmp_path: Path) -> None:
    """Forty fittings, each beginning with up to thirty past ones, hold forty and not a thousand."""
    with Record.create(tmp_path / "p.json", "p", clock) as record:
        for event in events_of(40):
            record.append([event])
        held = _taught(record)
    with Record.open(tmp_path / "p.json", clock) as record:
        again = _taught(record)
    assert len(held) > 700
    assert len({id(one) for one in held}) == 39
    assert len({id(one) for one in again}) == 39
    assert held == again


def _taught(record: Record) -> list[Any]:
    starts = [one.event for one in record.events if isinstance(one.event, FittingStarted)]
    return [one for event in starts for one in event.form.learned["fittings"]]


def test_an_event_with_unknown_fields_keeps_them_its_own() -> None:
    recorded, _ = number_events([started(1), started(2)], 1, clock())
    data = write_document(Document("p", recorded)).replace(b'"name":"Someone"', b'"name":"A","x":1')
    events = read_document(data).events
    Sharing().share(events)
    assert [one.event.body.model_extra for one in events] == [{"x": 1}, {"x": 1}]
    assert events[0].event.body.model_extra is not events[1].event.body.model_extra


def test_an_event_more_costs_little_memory() -> None:
    """What is held of one reading more; the limit is ours, with room for other Pythons."""
    at = "2026-01-02T03:04:05Z"
    readings = [FormRead(to=i, line="bust", mm=900.5 + i) for i in range(2000)]

    def held(count: int) -> int:
        data = write_document(Document("p", number_events(readings[:count], 1, at)[0]))
        tracemalloc.start()
        document = read_document(data)
        Sharing().share(document.events)
        found = tracemalloc.get_traced_memory()[0]
        tracemalloc.stop()
        assert len(document.events) == count
        return found

    held(10)
    assert (held(2000) - held(1000)) / 1000 < 1024
