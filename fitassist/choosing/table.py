# SPDX-License-Identifier: MIT
"""Candidates from a table somebody typed or copied: CSV with whatever separator and decimal sign.

One row is one form. A column is named after a line or length; its cells hold a range ("84-107", "33
to 41 1/2 in") or one length, or there are two columns, "bust least" and "bust greatest". What a
cell does not make clear is told by its row and column; the other rows are still taken.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from fitassist.choosing.candidate import GIRTHS, LENGTHS, Candidate, Range
from fitassist.domain.units import AnyUnit, Unit, parse_length
from fitassist.errors import BadFile, FitError

MOST_BYTES = 4 * 1024 * 1024
MOST_ROWS = 500
MOST_COLUMNS = 100
_SEPARATORS = ";\t,|"
_BETWEEN = re.compile(r"\s*(?:–|—|\bto\b|\.\.+)\s*|(?<=[\d\"'a-z])\s*-\s*(?=\d)|\s+-\s+")
_MADE_FOR = {
    "woman": "woman", "women": "woman", "man": "man", "men": "man", "child": "child",
    "children": "child", "legs": "legs", "leg": "legs", "any": "any", "": "any",
}  # fmt: skip
_POSTS = {
    "centre": "centre", "center": "centre", "offset": "offset", "hanging": "hanging",
    "suspended": "hanging", "unknown": "unknown", "": "unknown",
}  # fmt: skip
_YES = {"yes": True, "y": True, "true": True, "1": True, "x": True}
_NO = {"no": False, "n": False, "false": False, "0": False}
_ALIASES = {
    "chest": "bust", "hips": "hip", "shoulder": "shoulder_length", "torso": "back_neck_to_waist",
    "torso_length": "back_neck_to_waist", "height": "floor_to_shoulder", "form": "name",
    "pins": "takes_pins", "for": "made_for", "waist_moves": "waist_shifts",
    "pole": "post",
}  # fmt: skip
_ENDS = {
    "least": 0, "from": 0, "min": 0, "closed": 0,
    "greatest": 1, "to": 1, "max": 1, "open": 1,
}  # fmt: skip
_WORDS = ("name", "made_for", "post", "takes_pins", "waist_shifts", "unit")


@dataclass(frozen=True)
class Complaint:
    """A cell that could not be understood, as it stands in the table; rows count from 1."""

    row: int
    column: str
    text: str
    code: str


@dataclass(frozen=True)
class Table:
    """What a table says."""

    candidates: tuple[Candidate, ...]
    complaints: tuple[Complaint, ...]
    passed_over: tuple[str, ...]  # columns that mean nothing to us


def read_table(data: bytes, unit: AnyUnit) -> Table:
    """Read candidates from the bytes of a table.

    Parameters
    ----------
    unit
        What bare numbers are in, where no column "unit" says it.

    Raises
    ------
    BadFile
        ``too_large``, ``unreadable`` (no text), ``no_table`` (no names in it) or ``too_many``.
    """
    if len(data) > MOST_BYTES:
        raise BadFile("too_large", most_bytes=MOST_BYTES)
    text = _decoded(data)
    lines = text.splitlines()
    head = next((line for line in lines if line.strip()), "")
    separator = max(_SEPARATORS, key=head.count)
    try:
        reader = csv.reader(io.StringIO(text), delimiter=separator, strict=False)
        rows = [[cell.strip() for cell in row] for row in _bounded(reader)]
    except csv.Error as error:
        raise BadFile("no_table", detail=str(error)) from error
    rows = [row for row in rows if any(row)]
    if not rows or len(rows[0]) > MOST_COLUMNS:
        raise BadFile("no_table")
    columns = [_column(cell) for cell in rows[0]]
    if ("name", None) not in columns:
        raise BadFile("no_table")
    known = [c is not None for c in columns]
    passed_over = tuple(c[:60] for c, k in zip(rows[0], known, strict=True) if c and not k)
    complaints: list[Complaint] = []
    candidates = []
    for number, row in enumerate(rows[1:], 2):
        made = _Row(number, rows[0], columns, row, Unit(unit), complaints).candidate()
        if made is not None:
            candidates.append(made)
    return Table(tuple(candidates), tuple(complaints), passed_over)


def _bounded(reader: Any) -> list[list[str]]:
    rows = []
    for row in reader:
        rows.append(row)
        if len(rows) > MOST_ROWS + 1:
            raise BadFile("too_many", most=MOST_ROWS)
    return rows


def _decoded(data: bytes) -> str:
    encodings = ["utf-16"] if data[:2] in (b"\xff\xfe", b"\xfe\xff") else ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise BadFile("unreadable")


def _column(cell: str) -> tuple[str, int | None] | None:
    """Return what a column holds and which end of the range, or None."""
    key = re.sub(r"[^a-z]+", "_", cell.casefold()).strip("_")
    end: int | None = None
    stem, _, last = key.rpartition("_")
    if last in _ENDS and stem:
        key, end = stem, _ENDS[last]
    key = _ALIASES.get(key, key)
    if end is None and key in _WORDS:
        return key, None
    return (key, end) if key in (*GIRTHS, *LENGTHS) else None


class _Row:
    """One row on its way to becoming a candidate."""

    def __init__(
        self,
        number: int,
        heads: list[str],
        columns: list[tuple[str, int | None] | None],
        cells: list[str],
        unit: Unit,
        complaints: list[Complaint],
    ) -> None:
        self._number = number
        self._heads = heads
        self._cells = cells + [""] * (len(columns) - len(cells))
        self._columns = columns
        self._complaints = complaints
        self._unit = unit

    def candidate(self) -> Candidate | None:
        words = {
            column[0]: (i, self._cells[i])
            for i, column in enumerate(self._columns)
            if column is not None and column[0] in _WORDS
        }
        if "unit" in words:
            self._unit = Unit(
                self._word(words, "unit", {u.value: u.value for u in Unit}, self._unit)
            )
        ranges = self._ranges()
        place, name = words["name"]
        if not name:
            self._complain(place, "blank")
            return None
        try:
            return Candidate(
                name=name[:300],
                made_for=self._word(words, "made_for", _MADE_FOR, "any"),
                post=self._word(words, "post", _POSTS, "unknown"),
                takes_pins=self._word(words, "takes_pins", _YES | _NO, None),
                waist_shifts=self._word(words, "waist_shifts", _YES | _NO, None),
                girths_mm={k: v for k, v in ranges.items() if k in GIRTHS},
                lengths_mm={k: v for k, v in ranges.items() if k in LENGTHS},
            )
        except ValidationError:
            self._complain(place, "not_allowed")
            return None

    def _complain(self, place: int, code: str) -> None:
        head = self._heads[place] if place < len(self._heads) else ""
        text = self._cells[place][:60]
        self._complaints.append(Complaint(self._number, head[:60], text, code))

    def _word(
        self, words: dict[str, tuple[int, str]], key: str, known: dict[str, Any], without: Any
    ) -> Any:
        place, text = words.get(key, (0, ""))
        said = text.casefold().strip()
        if key not in words or (not said and said not in known):
            return without
        if said not in known:
            self._complain(place, "not_allowed")
            return without
        return known[said]

    def _ranges(self) -> dict[str, Range]:
        ends: dict[str, dict[int, tuple[int, float]]] = {}
        for place, column in enumerate(self._columns):
            if column is None or column[0] in _WORDS or not self._cells[place]:
                continue
            try:
                lengths = self._lengths(self._cells[place], is_one=column[1] is not None)
            except FitError as error:
                self._complain(place, error.code)
                continue
            if column[1] is None:
                found = {0: (place, lengths[0]), 1: (place, lengths[-1])}
            else:
                found = {column[1]: (place, lengths[0])}
            ends.setdefault(column[0], {}).update(found)
        ranges = {}
        for key, found in ends.items():
            place, least = found.get(0, found.get(1, (0, 0.0)))
            _, greatest = found.get(1, (place, least))
            if 0 not in found:
                self._complain(place, "no_least")  # where it begins is what matters most
            elif least > greatest:
                self._complain(place, "least_not_below_greatest")
            else:
                ranges[key] = Range(least_mm=least, greatest_mm=greatest)
        return ranges

    def _lengths(self, cell: str, is_one: bool) -> list[float]:
        """Return the one or two lengths of a cell, mm; a unit at the end counts for both."""
        parts = [cell] if is_one else _BETWEEN.split(cell, maxsplit=1)
        unit = self._unit
        last = re.search(r"(?:(?<=[\d\s])(mm|cm|in)|(\"))\.?$", parts[-1].strip().casefold())
        if last:
            unit = Unit(last[1]) if last[1] else Unit.IN
        return [parse_length(part.strip(), unit).mm for part in parts]
