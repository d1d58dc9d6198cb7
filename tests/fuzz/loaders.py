# SPDX-License-Identifier: MIT
"""Every way in for bytes from outside, with sound examples to spoil.

A loader takes bytes and raises nothing but ``FitError``. What it accepts it must be able to write
and read again as the same thing.
"""

from __future__ import annotations

import io
import json
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from fitassist.choosing.table import read_table as read_form_table
from fitassist.domain import answers as an
from fitassist.domain.body_file import body_from_json, body_to_json, load_body_text
from fitassist.domain.form_file import form_from_json, form_to_json, load_form_text
from fitassist.domain.form_file import read_object as read_form_object
from fitassist.domain.measurements import Catalogue, load_catalogue
from fitassist.domain.units import Unit
from fitassist.errors import BadFile
from fitassist.files import Disk, resources_dir
from fitassist.planning.layout import Layout
from fitassist.planning.learned import belief_for, evidence_of
from fitassist.scripted.answers import read_answer
from fitassist.scripted.lines import read_line, read_object
from fitassist.session.column_guess import guess_columns
from fitassist.session.events import FittingStarted, PersonNamed
from fitassist.session.fitting import Fitting
from fitassist.session.people_import import Options, TableReader
from fitassist.session.people_table import read_table as read_people_table
from fitassist.session.person import fold_person
from fitassist.settings import FILE_NAME, Settings, load_settings, save_settings
from fitassist.storage.document import Document, number_events, read_document, write_document
from fitassist.storage.journal import read_lines, write_lines
from fitassist.storage.offers import FILE_NAME as OFFERS_FILE
from fitassist.storage.offers import Offers, read_offers
from fitassist.wording.import_words import HEAD_WORDS
from tests.fuzz.extremes import plain_body, plain_form

RECORDS = Path(__file__).parents[1] / "data" / "records"
OPEN_ID = 7


@dataclass(frozen=True)
class Loader:
    """One way in: sound examples, and the function that reads."""

    seeds: Callable[[], tuple[bytes, ...]]
    load: Callable[[bytes], object]


class MemoryDisk(Disk):
    """Waits for no platters."""

    def fsync(self, handle: int) -> None:
        pass


def _text(data: bytes) -> str:
    """Decode as the library and the scripted session do."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadFile("bad_json") from error


def _load_form(data: bytes) -> None:
    form = load_form_text(_text(data))
    written = json.loads(json.dumps(form_to_json(form), allow_nan=False))
    assert form_from_json(written) == form


def _load_body(data: bytes) -> None:
    body = load_body_text(_text(data))
    written = json.loads(json.dumps(body_to_json(body), allow_nan=False))
    assert body_from_json(written) == body


def _load_record(data: bytes) -> None:
    document = read_document(data)
    assert read_document(write_document(document)) == document
    fold_person(document.events)  # what the list of people does with it


def _load_journal(data: bytes) -> None:
    journal = read_lines(data)
    assert journal.good_size <= len(data)
    good = read_lines(data[: journal.good_size])
    assert (good.events, good.damage) == (journal.events, "")
    assert [one.seq for one in journal.events] == [
        journal.events[0].seq + i for i in range(len(journal.events))
    ]


def _load_settings(data: bytes) -> None:
    folder = _folder()
    (folder / FILE_NAME).write_bytes(data)
    found = load_settings(folder, MemoryDisk())
    if found.aside is not None:
        assert found.problem == "settings_damaged"
        assert found.aside.read_bytes() == data, "a damaged file is kept as it was"
        found.aside.unlink()
        return
    save_settings(folder, found.settings, MemoryDisk())
    assert load_settings(folder, MemoryDisk()).settings == found.settings


@cache
def _folder() -> Path:
    return Path(tempfile.mkdtemp(prefix="fitassist-fuzz-"))


def _load_line(data: bytes) -> None:
    line = read_line(io.BytesIO(data))
    answer = read_answer(read_object(line or b""), OPEN_ID)
    assert type(answer).model_validate_json(answer.model_dump_json()) == answer


def _load_learned(data: bytes) -> None:
    raw = read_form_object(_text(data))
    form = _small_form().model_copy(update={"learned": raw})
    evidence = evidence_of(form)
    if sum(len(past.entries) for past in evidence.fittings) > 40:
        return  # replaying them all takes time and teaches nothing new here
    belief = belief_for(Layout.of(form, []), {})
    assert np.isfinite(belief.means).all()
    assert np.isfinite(belief.covs).all()


@cache
def _small_form():  # type: ignore[no-untyped-def]
    data = plain_form()
    data["lines"], data["rows"], data["dials"] = (
        data["lines"][:1],
        data["rows"][:1],
        data["dials"][:4],
    )
    return form_from_json(data)


# ---- sound examples


def _json(value: object) -> bytes:
    return json.dumps(value).encode()


def _forms() -> tuple[bytes, ...]:
    small = plain_form()
    rich = plain_form() | {
        "parts": 4,
        "dial_meaning": "seam_gap",
        "largest_turn": 1.5,
        "shoulder_length": "5 1/8",
        "torso": {"parts": "one", "least": 15, "greatest": "17 in", "length_mm": 400},
        "stand": {"least": "120 cm", "greatest": 60, "height_mm": 1400},
        "post": "offset",
        "opens": "to the left",
        "later": {"a": [1, {"b": None}]},
        "learned": json.loads(_learned()[0]),
    }
    rich["lines"][0] |= {"height": "6 in", "girths": [{"girth": 34, "numbers": {"bust": 34}}]}
    return _json(small), _json(rich)


def _bodies() -> tuple[bytes, ...]:
    rich = plain_body() | {"kind": "man", "undergarment": "none", "later": [1]}
    rich["targets"][0] |= {"spread": 0.1, "tolerance": ["-1/4", "1/4 in"]}
    rich["targets"].append({"line": "hip", "what": "left_half", "value_mm": 500.0})
    return _json(plain_body()), _json(rich)


@cache
def _fitted() -> tuple[bytes, bytes]:
    """The document and the journal of a short fitting."""
    form, body = form_from_json(plain_form()), body_from_json(plain_body())
    started = FittingStarted(fitting_id="1", body=body, form=form)
    kept = list(number_events([PersonNamed(name="somebody"), started], 1, "")[0])
    lines: list[bytes] = []

    def append(events):  # type: ignore[no-untyped-def]
        recorded, payloads = number_events(events, len(kept) + 1, "")
        kept.extend(recorded)
        lines.extend(payloads)
        return recorded

    fitting = Fitting(started, append)
    for _ in range(3):
        step = fitting.instruction
        mm = getattr(step, "expect_mm", None)
        fitting.submit(an.TapeReading(mm=mm, text="") if mm else an.Done())
    return write_document(Document("p1", tuple(kept))), write_lines(lines[:4])


def _records() -> tuple[bytes, ...]:
    return (RECORDS / "person_v1.json").read_bytes(), _fitted()[0]


def _journals() -> tuple[bytes, ...]:
    return (RECORDS / "person_v1.journal").read_bytes(), _fitted()[1]


def _settings() -> tuple[bytes, ...]:
    return _json(Settings().model_dump(mode="json")), _json({"units": "cm", "later": [1]})


def _lines() -> tuple[bytes, ...]:
    said = (
        {"answer": "done", "except": [{"dial": "bust.left", "number": 37.25, "why": "stopped"}]},
        {"answer": "reading", "value": "28 1/8", "unit": "in"},
        {"answer": "ribbon", "marks": "apart", "by": 6, "unit": "mm"},
        {"answer": "volunteer", "line": "hip", "what": "girth", "value": 980},
        {"answer": "volunteer", "dial": "bust.left", "number": 36.5},
        {"answer": "choose", "choice": "again"},
        {"answer": "free", "dial": "bust.left"},
        {"answer": "undo"},
    )
    return tuple(_json({"to": OPEN_ID} | one) for one in said)


def _learned() -> tuple[bytes, ...]:
    start = {f"bust.{seam}": 33.0 for seam in ("front", "left", "back", "right")}
    entries = [
        {"numbers": {"bust.left": 35.0, "bust.right": 35.0}},
        {"line": "bust", "what": "girth", "mm": 860.0, "spread_mm": 3.0, "vouched": True},
    ]
    past = {"undergarment": "none", "start": start, "entries": entries}
    return (_json({"version": 1, "fittings": [past, past]}),)


_TABLES = (
    "Name;Waist (cm);Hip (in);Bust mm;Notes;Date\n"
    'Ada;70,5;38 1/4;912;"says; ""no""";2026-01-02\nBela;x;-1;1e3;=1+1;31/12/2025\n',
    "first name,last name,under_bust_mm,tags\nCora,Dorn,700,a b\n,,,\nEmre,Fjord,70 cm,\n",
)
_FORM_TABLES = (
    "name;made_for;unit;bust least;bust greatest;waist from;waist to;post\n"
    "Small;woman;in;32;38;24 1/2;30;centre\nLarge;any;cm;90;110;75;95,5;offset\n",
)


def _people_tables() -> tuple[bytes, ...]:
    return (*(one.encode() for one in _TABLES), _TABLES[0].encode("utf-16"))


def _form_tables() -> tuple[bytes, ...]:
    return tuple(one.encode() for one in _FORM_TABLES)


@cache
def _catalogue() -> Catalogue:
    return load_catalogue(resources_dir() / "measurements.json")


def _load_people_table(data: bytes) -> None:
    """From bytes through guessed columns to what each row would make of a person."""
    rows = read_people_table(data).rows
    columns = guess_columns(rows[0], rows[1:500], _catalogue(), HEAD_WORDS, Unit.CM)
    reader = TableReader(rows, columns, _catalogue(), (("a1", "Ada"),), Options())
    assert reader.read_on(60.0)


def _load_form_table(data: bytes) -> None:
    read_form_table(data, Unit.IN)


def _offers() -> tuple[bytes, ...]:
    """Return the forms of the tables as they are kept."""
    seeds = []
    for table in _FORM_TABLES:
        with tempfile.TemporaryDirectory() as folder:
            Offers(Path(folder), MemoryDisk()).save(
                read_form_table(table.encode(), Unit.CM).candidates
            )
            seeds.append((Path(folder) / OFFERS_FILE).read_bytes())
    return tuple(seeds)


def _load_offers(data: bytes) -> None:
    found = read_offers(data)
    with tempfile.TemporaryDirectory() as folder:
        offers = Offers(Path(folder), MemoryDisk())
        offers.save(found)
        assert offers.load() == found


LOADERS = {
    "record": Loader(_records, _load_record),
    "journal": Loader(_journals, _load_journal),
    "form": Loader(_forms, _load_form),
    "body": Loader(_bodies, _load_body),
    "settings": Loader(_settings, _load_settings),
    "line": Loader(_lines, _load_line),
    "learned": Loader(_learned, _load_learned),
    "people_table": Loader(_people_tables, _load_people_table),
    "form_table": Loader(_form_tables, _load_form_table),
    "offers": Loader(_offers, _load_offers),
}
