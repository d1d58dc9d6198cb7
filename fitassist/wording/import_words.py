# SPDX-License-Identifier: MIT
"""Bringing in a table: what columns mean, what is asked, and each cell that cannot be used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import AnyUnit
from fitassist.errors import BadLength, FitError
from fitassist.wording.language import N_, _, ngettext, plain
from fitassist.wording.sentences import sentence

_TEXTS: Final[dict[str, str]] = {
    "heading": N_("Bring in people from a table"),
    "why": N_(
        "Nothing is kept before you confirm. Look at the columns first; then at what comes of the "
        "rows."
    ),
    "choose": N_("Choose a file…"),
    "file_kinds": N_("Tables (*.csv *.tsv *.txt);;All files (*)"),
    "letters": N_("Letters"),
    "letters.utf-8": N_("UTF-8"),
    "letters.utf-16": N_("UTF-16"),
    "letters.cp1252": N_("Western European"),
    "separator": N_("Between cells"),
    "separator.;": N_("semicolon"),
    "separator.,": N_("comma"),
    "separator.\t": N_("tab"),
    "heads": N_("The first row names the columns"),
    "columns": N_("Columns"),
    "column": N_("Column {n}"),
    "unit_of": N_("Unit of {column}"),
    "meaning_of": N_("What {column} is"),
    "leave_out": N_("left out"),
    "example": N_("for example {text}"),
    "name": N_("name"),
    "first_name": N_("first name"),
    "last_name": N_("last name"),
    "date": N_("day of measuring"),
    "body": N_("body (everyday, in a corset, …)"),
    "undergarment": N_("undergarment"),
    "tags": N_("tags"),
    "notes": N_("notes"),
    "same": N_("Rows of one name are"),
    "same.one": N_("one person"),
    "same.each": N_("a person each"),
    "known": N_("A name kept already"),
    "known.leave": N_("leave the row out"),
    "known.add": N_("add to that person"),
    "known.new": N_("begin a new person"),
    "day_order": N_("3/4/2026 is"),
    "day_order.day": N_("3 April"),
    "day_order.month": N_("4 March"),
    "kind": N_("Which usual figures to check against"),
    "looking": N_("Looking at row {done} of {all}"),
    "problems": N_("Cells and rows that are left out"),
    "no_problems": N_("Every cell can be used."),
    "more_problems": N_("and {n} more"),
    "confirm": N_("Bring in {people}"),
    "nobody": N_("Nobody to bring in yet."),
    "keeping": N_("Kept: {done} of {all}"),
    "stop": N_("Stop"),
    "done": N_("{people} brought in."),
    "take_back": N_("Take this import back"),
    "taking_back": N_("Taken back: {done}"),
    "taken_back": N_("{people} taken back. Everything else is as it was."),
    "stayed": N_("{people} changed since or open elsewhere: they stay."),
    "stopped": N_("Stopped. {people} brought in; the rest of the table was left."),
    "failed": N_("{name}: {why}"),
    "sample": N_("The first people as they would be kept"),
    "sample.person": N_("Person"),
    "sample.readings": N_("Readings"),
    "row": N_("Row {row}"),
    "row_column": N_("Row {row}, {column}"),
    "cell_left": N_("The cell is left out."),
    "row_left": N_("The row is left out."),
}

# What heads of columns mean, in small letters, besides the names of the measurements.
HEAD_WORDS: Final[Mapping[str, str]] = {
    "name": "name",
    "full name": "name",
    "person": "name",
    "who": "name",
    "first name": "first_name",
    "forename": "first_name",
    "given name": "first_name",
    "last name": "last_name",
    "surname": "last_name",
    "family name": "last_name",
    "date": "date",
    "day": "date",
    "measured": "date",
    "measured on": "date",
    "body": "body",
    "undergarment": "undergarment",
    "bra": "undergarment",
    "tag": "tags",
    "tags": "tags",
    "group": "tags",
    "note": "notes",
    "notes": "notes",
    "remarks": "notes",
    "bust": "bust",
    "chest": "bust",
    "bust girth": "bust",
    "chest girth": "bust",
    "waist girth": "waist",
    "hips": "hip",
    "hip girth": "hip",
    "underbust": "under_bust",
    "under bust": "under_bust",
    "high hips": "high_hip",
    "neck": "neck",
    "neck girth": "neck",
    "back length": "back_neck_to_waist",
    "nape to waist": "back_neck_to_waist",
    "shoulder": "shoulder_length",
    "back width": "across_back",
    "waist to hip": "waist_to_hip",
}


def say(key: str, **values: object) -> str:
    """Return the sentence of a key; a text is made plain first. Raises KeyError for no such key."""
    said = _(_TEXTS[key])
    return said.format(**{k: plain(v, 120) for k, v in values.items()}) if values else said


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


def meaning_text(meaning: str, catalogue: Catalogue) -> str:
    """Return what a column may be taken for, in words."""
    if not meaning:
        return say("leave_out")
    found = catalogue.get(meaning)
    return found.label if found is not None else say(meaning)


def problem_text(row: int, column: str, error: FitError, unit: AnyUnit) -> str:
    """Say which cell or row cannot be used, and why, in one or two sentences."""
    where = say("row_column", row=row, column=column) if column else say("row", row=row)
    why = sentence(error, unit)
    if isinstance(error, BadLength):
        why = f"{_first(why)} {say('cell_left')}"
    elif error.code.startswith("name_"):
        why = f"{_first(why)} {say('row_left')}"
    return f"{where}: {why}"


def _first(text: str) -> str:
    """Return the first sentence: what to type instead is of no use in a table."""
    end = text.find(". ")
    return text if end < 0 else text[: end + 1]


def summary_text(n_rows: int, n_people: int, n_readings: int, n_added: int, n_problems: int) -> str:
    """Say what comes of a table."""
    said = [
        ngettext("{n} row", "{n} rows", n_rows).format(n=n_rows),
        ngettext("{n} person", "{n} people", n_people).format(n=n_people),
        ngettext("{n} reading", "{n} readings", n_readings).format(n=n_readings),
    ]
    if n_added:
        said.append(_("{n} added to people kept already").format(n=n_added))
    left = ngettext("{n} cell or row left out", "{n} cells or rows left out", n_problems)
    said.append(left.format(n=n_problems))
    return " · ".join(said)
