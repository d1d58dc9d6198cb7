# SPDX-License-Identifier: MIT
"""What is read: old records always, anything else is refused by name and left as it is."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.errors import BadFile, StorageFailed
from fitassist.session.events import EVENT_ADAPTER, MeasurementTaken, NotesChanged, PersonNamed
from fitassist.session.person import fold_person
from fitassist.storage import document as document_module
from fitassist.storage.document import Document, number_events, read_document, write_document
from fitassist.storage.journal import read_lines, write_lines
from fitassist.storage.migrations import MIGRATIONS, VERSION, migrate
from fitassist.storage.record import Record
from fitassist.storage.strict_json import MAX_DEPTH, parse_json
from tests.storage.disks import clock, everything_in, note

SAMPLE = Path(__file__).parents[1] / "data" / "records"
HEAD = {"format": "fitassist-person", "version": 1, "person_id": "p"}


def sample(folder: Path) -> Path:
    for name in ("person_v1.json", "person_v1.journal"):
        shutil.copy(SAMPLE / name, folder / name)
    return folder / "person_v1.json"


def document(**changes: object) -> bytes:
    return json.dumps({**HEAD, "events": [], **changes}).encode()


def event(seq: int, **event_fields: object) -> dict[str, Any]:
    return {"seq": seq, "at": "", "event": {"kind": "notes_changed", "text": "x", **event_fields}}


def code_of(data: bytes) -> str:
    with pytest.raises(BadFile) as caught:
        read_document(data)
    return caught.value.code


# ---- the committed record


def test_the_record_of_the_first_version_opens_with_every_kind_of_event(tmp_path: Path) -> None:
    record = Record.open(sample(tmp_path), clock)
    kinds = [item.event.kind for item in record.events]
    tags = EVENT_ADAPTER.json_schema()["discriminator"]["mapping"]
    later = read_document((SAMPLE / "person_v2.json").read_bytes()).events
    assert set(tags) == set(kinds) | {item.event.kind for item in later}
    assert [item.seq for item in record.events] == list(range(1, 26))
    assert record.notices == ()
    assert record.events[0].at == "2026-03-04T09:00:00Z"
    person = fold_person(record.events)
    assert person.name == "Zoë Ångström-吉田"
    assert person.notes == 'Invented for the tests.\nSecond line with "quotes" and 裁縫.'
    waist = person.bodies["everyday"].readings["waist"]
    assert [reading.mm for reading in waist] == [736.6]  # 29 in; the withdrawn 47 in counts no more
    record.close()


def test_nothing_of_the_first_version_is_lost_when_it_is_written_anew(tmp_path: Path) -> None:
    path = sample(tmp_path)
    before = json.loads(path.read_bytes())
    lines = path.with_suffix(".journal").read_bytes().splitlines()
    before["events"] += [json.loads(line)["recorded"] for line in lines]
    Record.open(path, clock).close()
    after = json.loads(path.read_bytes())
    assert after["of_a_later_program"] == {"kept": True}
    assert after["events"][1]["event"]["later_field"] == [1, 2.5, "x"]
    assert not path.with_suffix(".journal").exists()
    assert contains(after, before)


def test_a_record_of_version_2_says_what_version_1_could_not() -> None:
    document = read_document((SAMPLE / "person_v2.json").read_bytes())
    person = fold_person(document.events)
    assert person.tags == ("chorus", "autumn play")
    assert person.archived
    assert [taken.person_id for taken in person.taken_in] == ["b2"]
    everyday = person.bodies["everyday"]
    assert [one.mm for one in everyday.readings["waist"]] == [741.4]
    assert [one.day for one in everyday.past["waist"]] == ["2025-10-02"]
    assert person.given_over_to == ""


def test_only_what_version_1_does_not_know_is_written_as_version_2() -> None:
    whole = read_document((SAMPLE / "person_v2.json").read_bytes())
    assert json.loads(write_document(whole))["version"] == 2
    first = Document("p", whole.events[:2])
    assert json.loads(write_document(first))["version"] == 1


def contains(found: object, wanted: object) -> bool:
    """Every key, item and value wanted is found; fields added since may stand beside them."""
    if isinstance(wanted, dict):
        return isinstance(found, dict) and all(
            key in found and contains(found[key], value) for key, value in wanted.items()
        )
    if isinstance(wanted, list):
        return (
            isinstance(found, list)
            and len(found) == len(wanted)
            and all(contains(*pair) for pair in zip(found, wanted, strict=True))
        )
    return found == wanted


# ---- refusals


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "truncated"),
        (b" \n", "truncated"),
        (b'{"format":"fitassist-person"', "truncated"),
        (b'{"format":"fitassist-per', "truncated"),
        (document()[:-1] + b"]", "bad_json"),
        (b"\xff\xfe{}", "bad_json"),
        (document() + b"{}", "bad_json"),
        (b"[]", "foreign_file"),
        (b"null", "foreign_file"),
        (b'"fitassist-person"', "foreign_file"),
        (document(format="fitassist-form"), "foreign_file"),
        (document(version=3), "newer_version"),
        (document(version=10**30), "newer_version"),
        (document(version=0), "unknown_version"),
        (document(version=-1), "unknown_version"),
        (document(version=True), "bad_document"),
        (document(version="1"), "bad_document"),
        (document(version=1.0), "bad_document"),
        (document(person_id=7), "bad_document"),
        (document(person_id=""), "bad_document"),
        (document(events={}), "bad_document"),
        (document(events=None), "bad_document"),
        (document(events=[{"seq": 1}]), "bad_event"),
        (document(events=[event(2)]), "bad_event"),
        (document(events=[event(1), event(1)]), "bad_event"),
        (document(events=[event(1), event(3)]), "bad_event"),
        (document(events=[event(1, kind="sang_a_song")]), "bad_event"),
        (document(events=[event(1, text=None)]), "bad_event"),
        (document(events=["x"]), "bad_event"),
        (b'{"format":"fitassist-person","format":"fitassist-person"}', "bad_json"),
        (document(x=float("nan")), "bad_json"),
        (document(x=float("inf")), "bad_json"),
        (document().replace(b'"p"', b'"p","x":1e999'), "bad_json"),
        (document().replace(b'"p"', b'"p","x":' + b"9" * 250 + b"e99"), "bad_json"),
        (document().replace(b'"p"', b'"p","x":' + b"9" * 220 + b".5E+0099"), "bad_json"),
        (document().replace(b'"p"', b'"p","x":' + b"9" * 5000), "bad_json"),
        (document().replace(b'"p"', rb'"p","x":"\ud800"'), "bad_json"),
        (document().replace(b'"p"', b'"p","x":' + b"[" * 64 + b"]" * 64), "too_deep"),
        (b"[" * 200_000, "too_deep"),
        (b'{"x":' * 200_000, "too_deep"),
        (b'["]' + b"[" * 70, "truncated"),
        (b'["ends in a backslash \\', "truncated"),
    ],
)
def test_what_is_no_record_of_this_version_is_refused_by_name(data: bytes, code: str) -> None:
    assert code_of(data) == code


def test_a_refusal_names_the_event_and_the_version() -> None:
    with pytest.raises(BadFile) as caught:
        read_document(document(events=[event(1), event(2), event(3, text=[])]))
    assert caught.value.values["seq"] == 3
    with pytest.raises(BadFile) as caught:
        read_document(document(version=7))
    assert (caught.value.values["found"], caught.value.values["known"]) == (7, VERSION)


def test_nesting_is_allowed_to_its_limit_and_brackets_in_text_do_not_count() -> None:
    assert MAX_DEPTH == 64
    inner = b'"' + b'[{\\"' * 500 + b'"'
    assert parse_json(b"[" * 64 + inner + b"]" * 64)
    with pytest.raises(BadFile) as caught:
        parse_json(b"[" * 65 + inner + b"]" * 65)
    assert caught.value.code == "too_deep"


def test_a_byte_order_mark_does_not_keep_a_record_from_opening() -> None:
    assert read_document(b"\xef\xbb\xbf" + document()).person_id == "p"


def test_a_file_that_is_too_large_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert document_module.LIMIT == 64 * 1024 * 1024
    path = tmp_path / "a1.json"
    with path.open("wb") as stream:
        stream.truncate(document_module.LIMIT + 1)  # a hole, it takes no room
    with pytest.raises(BadFile) as caught:
        Record.open(path, clock)
    assert caught.value.code == "too_large"
    monkeypatch.setattr(document_module, "LIMIT", 10)
    assert code_of(b" " * 11) == "too_large"


@pytest.mark.parametrize("read_only", [True, False])
@pytest.mark.parametrize(
    "data", [b"", b"{", b"{}", document(version=3), document(events=[event(2)])]
)
def test_a_refused_file_stays_byte_for_byte_and_nothing_appears_beside_it(
    tmp_path: Path, data: bytes, read_only: bool
) -> None:
    path = tmp_path / "a1.json"
    path.write_bytes(data)
    path.with_suffix(".journal").write_bytes(b"whatever")
    with pytest.raises(BadFile):
        Record.open(path, clock, read_only=read_only)
    assert sorted(found.name for found in tmp_path.iterdir()) == ["a1.journal", "a1.json"]
    assert path.read_bytes() == data
    assert path.with_suffix(".journal").read_bytes() == b"whatever"


@pytest.mark.parametrize("read_only", [True, False])
def test_a_file_that_is_not_there_or_no_file_is_named(tmp_path: Path, read_only: bool) -> None:
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "a.json").write_bytes(document())
    (tmp_path / "link.json").symlink_to(tmp_path / "a.json")
    for name, code in [
        ("none.json", "not_found"),
        ("folder.json", "not_a_file"),
        ("link.json", "symlink"),
        ("a.json/b.json", "not_found"),
    ]:
        with pytest.raises(BadFile) as caught:
            Record.open(tmp_path / name, clock, read_only=read_only)
        assert caught.value.code == code, name


# ---- fuzz

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4)
    ),
    max_leaves=12,
)


def read_or_refuse(data: bytes) -> None:
    """Either it is understood and can be written and read again, or it is refused."""
    try:
        found = read_document(data)
    except BadFile:
        return
    again = read_document(write_document(found))
    assert again == found


@given(st.binary(max_size=300))
def test_any_bytes_are_refused_or_understood(data: bytes) -> None:
    read_or_refuse(data)


@given(
    st.fixed_dictionaries(
        {}, optional={"version": json_values, "person_id": json_values, "events": json_values}
    )
)
def test_any_values_in_a_document_are_refused_or_understood(changes: dict[str, object]) -> None:
    read_or_refuse(document(**changes))


@given(json_values, st.sampled_from(["kind", "text", "mm", "to", "instruction", "form", "x"]))
def test_any_value_in_an_event_is_refused_or_understood(value: object, field: str) -> None:
    fields: dict[str, object] = {"mm": 1.0, "line": "bust", field: value}
    for kind in ("form_read", "notes_changed", "advised", "fitting_started"):
        read_or_refuse(document(events=[event(1, **({"kind": kind} | fields))]))


@given(st.data())
def test_a_record_with_any_bytes_changed_is_refused_or_understood(data: st.DataObject) -> None:
    text = bytearray((SAMPLE / "person_v1.json").read_bytes())
    for _ in range(data.draw(st.integers(1, 4))):
        text[data.draw(st.integers(0, len(text) - 1))] = data.draw(st.integers(0, 255))
    read_or_refuse(bytes(text))


@given(st.data())
def test_a_journal_of_any_bytes_never_fails_otherwise_than_by_refusing(
    data: st.DataObject,
) -> None:
    text = (SAMPLE / "person_v1.journal").read_bytes()
    start = data.draw(st.integers(0, len(text)))
    spoilt = text[:start] + data.draw(st.binary(max_size=200)) + text[start:]
    found = read_lines(spoilt)
    assert len(found.events) >= text[:start].count(b"\n")
    assert spoilt[: found.good_size].startswith(text[: text.rfind(b"\n", 0, start) + 1])


events = st.one_of(
    st.builds(PersonNamed, name=st.text()),
    st.builds(NotesChanged, text=st.text(), of_later=json_values),
    st.builds(
        MeasurementTaken,
        body_id=st.text(),
        measurement=st.text(),
        mm=st.floats(min_value=1e-300, max_value=1e300),
        text=st.text(),
    ),
)


@given(st.lists(events, max_size=5))
def test_every_event_comes_back_as_it_was_acknowledged(happened: list[Any]) -> None:
    recorded, lines = number_events(happened, 1, "2026-01-01T00:00:00Z")
    written = write_document(Document("p", recorded))
    assert read_document(written).events == recorded
    journal = read_lines(write_lines(lines))
    assert journal.events == recorded
    assert (journal.damage, journal.ends_open) == ("", False)
    for item, original in zip(recorded, happened, strict=True):
        assert item.event.kind == original.kind
        if isinstance(original, MeasurementTaken):
            assert item.event == original  # also the last bit of every number


def test_half_a_character_in_a_name_does_not_keep_the_rest_from_the_disk(tmp_path: Path) -> None:
    record = Record.create(tmp_path / "a1.json", "p", clock)
    (kept,) = record.append([PersonNamed(name="half \ud800 a character")])
    record.close()
    with Record.open(tmp_path / "a1.json", clock) as again:
        assert again.events == (kept,)


# ---- seq, clock, versions


def test_a_clock_set_back_is_harmless(tmp_path: Path) -> None:
    times = iter(["2026-05-01T00:00:00Z", "1999-01-01T00:00:00Z", "nonsense", ""])
    record = Record.create(tmp_path / "a1.json", "p", lambda: next(times), [note("one")])
    record.append([note("two")])
    record.append([note("three")])
    record.close()
    with Record.open(tmp_path / "a1.json", clock) as again:
        assert [(item.seq, item.at[:4]) for item in again.events] == [
            (1, "2026"),
            (2, "1999"),
            (3, "nons"),
        ]


def test_an_older_version_is_brought_up_step_by_step_without_changing_the_given_one() -> None:
    def from_0(old: dict[str, Any]) -> dict[str, Any]:
        happened = [{"seq": i, "event": item} for i, item in enumerate(old["log"], start=1)]
        return {"format": old["format"], "person_id": old["who"], "events": happened}

    def from_minus_1(old: dict[str, Any]) -> dict[str, Any]:
        return {**old, "who": old["name"]}

    old = {
        "format": "fitassist-person",
        "version": -1,
        "name": "p",
        "log": [{"kind": "notes_changed", "text": "x"}],
    }
    before = json.dumps(old)
    table = {-1: from_minus_1, 0: from_0, **MIGRATIONS}
    found = read_document(json.dumps(old).encode(), table)
    assert found.person_id == "p"
    assert [item.seq for item in found.events] == [1]
    assert migrate(old, table)["version"] == VERSION == 2
    assert json.dumps(old) == before
    assert set(MIGRATIONS) == {1}  # another entry brings its own old file


def test_making_a_record_never_writes_over_one_that_exists(tmp_path: Path) -> None:
    path = tmp_path / "a1.json"
    for data in (b"anything", None):
        if data is not None:
            path.write_bytes(data)
        else:
            path.unlink()
            path.with_suffix(".journal").write_bytes(b"left over")
        before = everything_in(tmp_path)
        with pytest.raises(StorageFailed) as caught:
            Record.create(path, "p", clock)
        assert caught.value.code == "already_exists"
        assert everything_in(tmp_path) == before
        assert not path.with_suffix(".lock").exists()
