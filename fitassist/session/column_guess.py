# SPDX-License-Identifier: MIT
"""What the columns of a table are: guessed from heads and figures, to be put right by hand."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from fitassist.domain.measurements import Catalogue, Measurement
from fitassist.domain.units import Unit, parse_length
from fitassist.errors import FitError

# What a column may be besides a measurement.
PERSON_COLUMNS: Final = (
    "name",
    "first_name",
    "last_name",
    "date",
    "body",
    "undergarment",
    "tags",
    "notes",
)
_UNITS = {
    "in": Unit.IN,
    "inch": Unit.IN,
    "inches": Unit.IN,
    '"': Unit.IN,
    "cm": Unit.CM,
    "mm": Unit.MM,
}
_UNIT_AT_END = re.compile(r'[\s,(\[_/-]*(?<![a-z])(inches|inch|in|cm|mm|")[\s.:)\]]*$')
_LONGEST_HEAD = 200  # characters; no longer text names a column
_SAMPLE = 200  # filled cells that decide the unit of a column


class Column(NamedTuple):
    """What a column is taken for."""

    meaning: str = ""  # of PERSON_COLUMNS, the key of a measurement, or empty: left out
    unit: Unit | None = None  # of a measurement's bare numbers


def guess_columns(
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    catalogue: Catalogue,
    words: Mapping[str, str],
    unit: Unit,
) -> tuple[Column, ...]:
    """Return what each column most likely is; a meaning is given to one column only.

    Parameters
    ----------
    heads
        The texts of the first row.
    rows
        The rows under it, as many as wanted; they decide the unit where no head does.
    words
        What heads mean besides keys and names of measurements, in small letters.
    unit
        The unit of a bare number where nothing tells.
    """
    meanings = {**_catalogue_words(catalogue), **words}
    found: list[Column] = []
    taken: set[str] = set()
    for number, head in enumerate(heads):
        text, said = split_unit(head)
        meaning = meanings.get(text, "")
        if not meaning or meaning in taken:
            found.append(Column())
            continue
        taken.add(meaning)
        measurement = catalogue.get(meaning)
        if measurement is None:
            found.append(Column(meaning))
        else:
            cells = [row[number] for row in rows if number < len(row) and row[number].strip()]
            found.append(Column(meaning, said or guess_unit(cells, measurement, unit)))
    return tuple(found)


def split_unit(head: str) -> tuple[str, Unit | None]:
    """Return the words of a head in small letters without their unit, and the unit."""
    # A cell may hold anything, and looking for the unit takes the square of its length.
    text = " ".join(head[:_LONGEST_HEAD].casefold().replace("_", " ").split())
    match = _UNIT_AT_END.search(text)
    unit = None
    if match and match.start() > 0:
        unit = _UNITS[match[1]]
        text = text[: match.start()]
    return text.strip(" :.-,"), unit


def guess_unit(cells: Sequence[str], measurement: Measurement, unit: Unit) -> Unit:
    """Return the unit in which most bare numbers make sense; the given one where two are even."""
    order = (unit, *(one for one in Unit if one is not unit))
    return max(
        order, key=lambda one: sum(_fits(cell, one, measurement) for cell in cells[:_SAMPLE])
    )


def _fits(cell: str, unit: Unit, measurement: Measurement) -> bool:
    try:
        parse_length(cell, unit, least_mm=measurement.least_mm, most_mm=measurement.most_mm)
    except FitError:
        return False
    return True


def _catalogue_words(catalogue: Catalogue) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in catalogue.measurements:
        for text in (one.key, one.label, *one.label_by_kind.values()):
            found.setdefault(split_unit(text)[0], one.key)
    return found


def looks_like_heads(row: Sequence[str], catalogue: Catalogue, words: Mapping[str, str]) -> bool:
    """Say whether a row names columns and holds no lengths."""
    known = {**_catalogue_words(catalogue), **words}
    if any(split_unit(cell)[0] in known for cell in row):
        return True
    return not any(re.search(r"\d", cell) for cell in row)
