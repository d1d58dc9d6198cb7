# SPDX-License-Identifier: MIT
"""People from a table, looked at row by row before anything is kept of them.

A cell that cannot be used is named by its row and left out; a row without a
name is left out whole.
"""

from __future__ import annotations

import re
import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, NamedTuple

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Catalogue
from fitassist.domain.person_name import clean_name
from fitassist.domain.units import Length, Unit, parse_length
from fitassist.errors import FitError
from fitassist.session.column_guess import Column

MOST_PROBLEMS = 1000  # kept with their words; more are only counted
LONGEST_NOTES = 10_000  # characters
LONGEST_TAG = 60
MOST_TAGS = 30
_LENGTH_LIMIT = 200_000  # different texts remembered

SameName = Literal["one", "each"]
KnownName = Literal["leave", "add", "new"]


class Options(NamedTuple):
    """What the user decides about a table as a whole."""

    same_name: SameName = "one"  # rows of one name: one person, or each a person
    known_name: KnownName = "leave"  # a name kept already
    kind: Kind = "woman"
    day_first: bool = True  # 3/4/2026 is the third of April
    body_name: str = "Everyday"
    has_heads: bool = True


class Problem(NamedTuple):
    """What cannot be used; rows are counted as a spreadsheet counts them, from 1."""

    row: int
    column: str  # its head; empty: the row as a whole
    error: FitError


class Reading(NamedTuple):
    """One length of a row."""

    measurement: str
    length: Length
    day: str


@dataclass
class PlannedPerson:
    """What will be kept of one person."""

    name: str
    rows: list[int] = field(default_factory=list)
    known_id: str = ""  # of a record this is added to
    tags: tuple[str, ...] = ()
    notes: str = ""
    undergarments: dict[str, str] = field(default_factory=dict)
    bodies: dict[str, list[Reading]] = field(default_factory=dict)  # by name

    @property
    def n_readings(self) -> int:
        """How many lengths there are."""
        return sum(len(readings) for readings in self.bodies.values())


@dataclass
class Preview:
    """What would be imported, and what not."""

    people: list[PlannedPerson] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    n_problems: int = 0
    n_rows: int = 0
    n_known_left: int = 0  # rows left out because the name is kept already
    n_added_to: int = 0

    @property
    def n_readings(self) -> int:
        """How many lengths would be kept."""
        return sum(one.n_readings for one in self.people)


class TableReader:
    """Goes through a table in slices, so that a window stays alive over a long one."""

    def __init__(
        self,
        rows: Sequence[Sequence[str]],
        columns: Sequence[Column],
        catalogue: Catalogue,
        known: Collection[tuple[str, str]],
        options: Options,
    ) -> None:
        self._rows = rows
        self._columns = columns
        self._catalogue = catalogue
        self._options = options
        self._known: dict[str, list[str]] = {}
        for person_id, name in known:
            self._known.setdefault(name_key(name), []).append(person_id)
        self._place = {one.meaning: i for i, one in enumerate(columns) if one.meaning}
        self._measured = [
            (i, one, found)
            for i, one in enumerate(columns)
            if (found := catalogue.get(one.meaning)) is not None
        ]
        self._lengths: dict[tuple[str, int], Length | FitError] = {}
        self._by_name: dict[str, PlannedPerson] = {}
        self._next = 1 if options.has_heads else 0
        self.preview = Preview()
        if not {"name", "first_name", "last_name"} & self._place.keys():
            raise FitError("table_no_name")

    @property
    def done(self) -> int:
        """How many rows have been looked at."""
        return self._next

    def read_on(self, seconds: float) -> bool:
        """Look at rows for about so long; return whether all have been looked at."""
        until = time.monotonic() + seconds
        while self._next < len(self._rows):
            self._take(self._next)
            self._next += 1
            if self._next % 50 == 0 and time.monotonic() > until:
                return self._next >= len(self._rows)
        return True

    # -- one row ------------------------------------------------------------------------------

    def _take(self, number: int) -> None:
        row = self._rows[number]
        if not any(cell.strip() for cell in row):
            return
        self.preview.n_rows += 1
        try:
            name = clean_name(self._name(row))
        except FitError as error:
            self._problem(number, "", error)
            return
        person = self._person(number, name)
        if person is None:
            return
        person.rows.append(number + 1)
        self._take_words(number, row, person)
        day = self._day(number, row)
        body_name = self._text(row, "body") or self._options.body_name
        under = self._text(row, "undergarment")
        readings = [
            Reading(found.key, length, day)
            for place, column, found in self._measured
            if (length := self._length(number, row, place, column)) is not None
        ]
        if readings or under:
            person.bodies.setdefault(body_name[:120], []).extend(readings)
        if under:
            person.undergarments.setdefault(body_name[:120], under[:120])

    def _person(self, number: int, name: str) -> PlannedPerson | None:
        """Return whom the row is about; None if it is left out."""
        key = name_key(name)
        one_each = self._options.same_name == "each"
        if key in self._by_name and not one_each:
            return self._by_name[key]
        known = self._known.get(key, []) if self._options.known_name != "new" else []
        if known and self._options.known_name == "leave":
            self.preview.n_known_left += 1
            self._problem(number, "", FitError("table_name_known", name=name))
            return None
        if len(known) > 1:
            self._problem(number, "", FitError("table_name_twice", name=name, n=len(known)))
            return None
        if known and one_each and key in self._by_name:
            return self._by_name[key]
        person = PlannedPerson(name, known_id=known[0] if known else "")
        self.preview.n_added_to += bool(known)
        self._by_name[key] = person
        self.preview.people.append(person)
        return person

    def _name(self, row: Sequence[str]) -> str:
        whole = self._text(row, "name")
        parts = (self._text(row, "first_name"), self._text(row, "last_name"))
        return whole or " ".join(part for part in parts if part)

    def _text(self, row: Sequence[str], meaning: str) -> str:
        place = self._place.get(meaning)
        if place is None or place >= len(row):
            return ""
        return without_guard(row[place].strip())

    def _take_words(self, number: int, row: Sequence[str], person: PlannedPerson) -> None:
        notes = self._text(row, "notes")
        if len(notes) > LONGEST_NOTES:
            self._problem(number, "notes", FitError("table_too_long", longest=LONGEST_NOTES))
        elif notes and notes not in person.notes:
            person.notes = f"{person.notes}\n{notes}".strip()
        person.tags = clean_tags((*person.tags, *self._text(row, "tags").split(",")))

    def _day(self, number: int, row: Sequence[str]) -> str:
        text = self._text(row, "date")
        if not text:
            return ""
        day = read_day(text, self._options.day_first)
        if not day:
            self._problem(number, "date", FitError("table_date", text=text))
        return day

    def _length(self, number: int, row: Sequence[str], place: int, column: Column) -> Length | None:
        text = row[place].strip() if place < len(row) else ""
        if not text:
            return None
        found = self._lengths.get((text, place))
        if found is None:
            found = self._read_length(text, column)
            if len(self._lengths) < _LENGTH_LIMIT:
                self._lengths[(text, place)] = found
        if isinstance(found, FitError):
            self._problem(number, column.meaning, found, place)
            return None
        return found

    def _read_length(self, text: str, column: Column) -> Length | FitError:
        measurement = self._catalogue.get(column.meaning)
        assert measurement is not None
        try:
            return parse_length(
                without_guard(text),
                column.unit or Unit.CM,
                least_mm=measurement.least_mm,
                most_mm=measurement.most_mm,
            )
        except FitError as error:
            return error

    def _problem(self, number: int, column: str, error: FitError, place: int = -1) -> None:
        self.preview.n_problems += 1
        if len(self.preview.problems) >= MOST_PROBLEMS:
            return
        place = self._place.get(column, -1) if place < 0 else place
        heads = self._rows[0] if self._options.has_heads else ()
        head = heads[place] if 0 <= place < len(heads) else column
        self.preview.problems.append(Problem(number + 1, head if column else "", error))


def name_key(name: str) -> str:
    """Return what two writings of one name have in common."""
    return " ".join(name.split()).casefold()


def without_guard(text: str) -> str:
    """Return a text without the mark that keeps a spreadsheet from reading it as a formula."""
    return text[1:] if text[:1] == "'" and text[1:2] in ("=", "+", "-", "@") else text


def clean_tags(words: Sequence[str]) -> tuple[str, ...]:
    """Return words fit to be tags, each once, in the order given."""
    found: dict[str, str] = {}
    for word in words:
        text = "".join(c if c.isprintable() else " " for c in word)
        text = " ".join(text.split())[:LONGEST_TAG].strip()
        if text:
            found.setdefault(text.casefold(), text)
    return tuple(found.values())[:MOST_TAGS]


_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?")
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.])(\d{1,2})[-/.](\d{4})")


def read_day(text: str, day_first: bool) -> str:
    """Return a date as YYYY-MM-DD, or an empty text if it is none.

    ``2026-03-04`` and ``2026/3/4`` mean one day only; in ``3/4/2026`` the user says which number is
    the day, and a number above twelve says it by itself. With points the day is first.
    """
    text = text.strip()
    if match := _YEAR_FIRST.fullmatch(text):
        return _date(int(match[1]), int(match[2]), int(match[3]))
    if match := _YEAR_LAST.fullmatch(text):
        first, second, year = int(match[1]), int(match[3]), int(match[4])
        if match[2] == "." or first > 12 or (day_first and second <= 12):
            return _date(year, second, first)
        return _date(year, first, second)
    return ""


def _date(year: int, month: int, day: int) -> str:
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        return ""
