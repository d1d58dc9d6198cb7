# SPDX-License-Identifier: MIT
"""People out to a file and in again: what others read of it, and what a failing disk leaves."""

from __future__ import annotations

import csv
import io
import itertools
import json
from pathlib import Path

import pandas as pd
import pytest

from fitassist.domain.measurements import load_catalogue
from fitassist.domain.units import Unit
from fitassist.errors import StorageFailed
from fitassist.session.column_guess import guess_columns
from fitassist.session.events import (
    BodyDescribed,
    MeasurementTaken,
    NotesChanged,
    PersonTagged,
)
from fitassist.session.people_export import ExportHeads, harmless
from fitassist.session.people_import import Options, TableReader
from fitassist.session.people_table import read_table
from fitassist.session.person import fold_person
from fitassist.storage.exchange import Exporting, Importing, read_table_file
from fitassist.storage.library import Library
from fitassist.wording.import_words import HEAD_WORDS
from tests.storage.disks import FailingDisk, clock

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "resources" / "measurements.json")
HEADS = ExportHeads("Name", "Tags", "Notes", "Body", "Undergarment", "Date", "Person {n}")
NAMES = ["Ada, Ex", "=SUM(A1)", 'Bo "B" Ü', "-Cy", "@d", "裁縫"]


def a_library(folder: Path, disk: FailingDisk | None = None) -> Library:
    numbers = itertools.count(1)
    return Library(folder, clock, lambda: f"p{next(numbers)}", disk or FailingDisk())


@pytest.fixture
def library(tmp_path: Path) -> Library:
    library = a_library(tmp_path / "profile")
    for n, name in enumerate(NAMES):
        events = [
            PersonTagged(tags=("+chorus", "b")),
            NotesChanged(text="=two\nlines; and more"),
            BodyDescribed(body_id="b", name="Everyday", undergarment="bra, plain"),
            MeasurementTaken(body_id="b", measurement="waist", mm=700 + n),
            MeasurementTaken(body_id="b", measurement="hip", mm=25.4 * 38.625),
        ]
        library.create_person(name, events).close()
    return library


def exported(library: Library, path: Path, kind: str, **more: object) -> bytes:
    ids = sorted(one.id for one in library.people())
    options = {"unit": Unit.CM, "with_names": True, **more}
    work = Exporting(library, CATALOGUE, ids, path, kind, HEADS, **options)  # type: ignore[arg-type]
    while not work.go_on(0.0):
        assert not path.exists(), "a file appears whole or not at all"
    assert work.failed == []
    return path.read_bytes()


@pytest.mark.parametrize("unit", [Unit.CM, Unit.IN])
def test_a_table_is_the_same_to_the_standard_library_and_to_pandas(library, tmp_path, unit) -> None:
    data = exported(library, tmp_path / "t.csv", "csv", unit=unit)
    rows = list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    frame = pd.read_csv(io.BytesIO(data), dtype=str, keep_default_na=False)
    assert frame.to_dict("records") == rows
    factor = 10 if unit is Unit.CM else 25.4
    waists = [float(row[f"Waist ({unit.value})"]) * factor for row in rows]
    assert waists == pytest.approx([700 + n for n in range(len(NAMES))], abs=0.02)
    assert [row["Undergarment"] for row in rows] == ["bra, plain"] * len(NAMES)


def test_no_cell_of_a_table_begins_like_a_formula(library, tmp_path) -> None:
    data = exported(library, tmp_path / "t.csv", "csv")
    cells = [c for row in csv.reader(io.StringIO(data.decode("utf-8-sig"))) for c in row]
    assert "'=SUM(A1)" in cells
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "-", "@", "\t", "\r")]
    for start in ("=", "+", "-", "@", "\t", "\r"):
        assert harmless(f"{start}x") == f"'{start}x"
    assert harmless("plain = x") == "plain = x"


def test_what_was_taken_out_comes_in_again_as_it_was(library, tmp_path) -> None:
    path = tmp_path / "t.csv"
    exported(library, path, "csv")
    table = read_table(read_table_file(path))
    columns = guess_columns(table.rows[0], table.rows[1:], CATALOGUE, HEAD_WORDS, Unit.IN)
    reader = TableReader(table.rows, columns, CATALOGUE, (), Options())
    assert reader.read_on(9)
    assert reader.preview.n_problems == 0
    other = a_library(tmp_path / "other")
    work = Importing(other, CATALOGUE, reader.preview.people, Options(), "2026-06-01")
    while not work.go_on(0.0):
        pass
    assert sorted(one.name for one in other.people()) == sorted(NAMES)
    for before in library.people():
        after = next(one for one in other.people() if one.name == before.name)
        assert after.tags == before.tags
        assert after.last_measured == before.last_measured
        with other.open_person(after.id, read_only=True) as record:
            body = fold_person(record.events).bodies["body-1"]
            notes = fold_person(record.events).notes
        assert notes == "=two\nlines; and more"
        assert body.readings["hip"][0].mm == pytest.approx(25.4 * 38.625, abs=0.05)
        assert body.undergarment == "bra, plain"


def test_without_names_nothing_tells_who_anybody_is(library, tmp_path) -> None:
    for kind in ("csv", "json"):
        text = exported(library, tmp_path / f"t.{kind}", kind, with_names=False).decode("utf-8-sig")
        assert "Person 1" in text
        for hidden in (*NAMES, "chorus", "two"):
            assert hidden not in text


def test_json_holds_every_reading_and_says_what_it_is(library, tmp_path) -> None:
    raw = json.loads(exported(library, tmp_path / "t.json", "json"))
    assert (raw["format"], raw["version"], raw["unit"]) == ("fitassist-people", 1, "mm")
    assert [one["name"] for one in raw["people"]] == NAMES
    (body,) = raw["people"][0]["bodies"]
    waist, hip = body["measurements"] if body["measurements"][0]["key"] == "waist" else (
        body["measurements"][::-1]
    )  # fmt: skip
    assert waist["readings"] == [
        {"mm": 700.0, "text": "", "how": "helped", "day": "2026-01-02", "counts": True}
    ]
    assert (waist["line"], waist["what"]) == ("waist", "girth")
    assert hip["mm"] == pytest.approx(25.4 * 38.625, abs=0.006)


def test_a_full_disk_stops_bringing_in_at_once_and_leaves_whole_records(tmp_path) -> None:
    disk = FailingDisk()
    library = a_library(tmp_path, disk)
    rows = [("Name", "Waist"), *((f"P{n}", "70") for n in range(50))]
    columns = guess_columns(rows[0], rows[1:], CATALOGUE, HEAD_WORDS, Unit.CM)
    reader = TableReader(rows, columns, CATALOGUE, (), Options())
    reader.read_on(9)
    work = Importing(library, CATALOGUE, reader.preview.people, Options(), "2026-06-01")
    for _ in range(3):
        work.go_on(0.0)
    disk.fail("write", error=28)
    assert work.go_on(0.0)
    assert work.stopped_by is not None
    assert work.stopped_by.code == "disk_full"
    disk.heal()
    assert [one.problem for one in library.people()] == [None] * 3
    assert len(work.kept) == 3


def test_somebody_open_elsewhere_is_passed_over_by_name(library) -> None:
    rows = [("Name", "Waist"), ("裁縫", "71"), ("New", "70")]
    columns = guess_columns(rows[0], rows[1:], CATALOGUE, HEAD_WORDS, Unit.CM)
    known = [(one.id, one.name) for one in library.people()]
    options = Options(known_name="add")
    reader = TableReader(rows, columns, CATALOGUE, known, options)
    reader.read_on(9)
    with library.open_person("p6"):
        work = Importing(library, CATALOGUE, reader.preview.people, options, "2026-06-01")
        while not work.go_on(0.0):
            pass
    assert [(name, error.code) for name, error in work.failed] == [("裁縫", "open_elsewhere")]
    assert len(work.kept) == 1


def test_a_file_that_cannot_be_written_is_said_and_an_earlier_one_stays(library, tmp_path) -> None:
    disk = FailingDisk()
    path = tmp_path / "t.csv"
    path.write_bytes(b"earlier")
    work = Exporting(library, CATALOGUE, ["p1"], path, "csv", HEADS, Unit.CM, True, disk)
    disk.fail("write", error=28)
    with pytest.raises(StorageFailed) as caught:
        work.go_on(9)
    assert caught.value.code == "disk_full"
    assert path.read_bytes() == b"earlier"
