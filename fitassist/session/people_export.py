# SPDX-License-Identifier: MIT
"""People as a table and as JSON for others to read; both are described for developers.

A cell that a spreadsheet could take for a formula gets an apostrophe in front. Without names,
people are numbered, and their notes and tags, which may hold names, are left out.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import MM_PER, Unit
from fitassist.session.person import BodyReading, BodyState, PersonState, average

FORMAT = "fitassist-people"
VERSION = 1
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_DIGITS = {Unit.IN: 3, Unit.CM: 2, Unit.MM: 1}


class ExportHeads(NamedTuple):
    """The words over the columns that are no measurement."""

    name: str
    tags: str
    notes: str
    body: str
    undergarment: str
    date: str
    numbered: str  # "Person {n}"


def harmless(text: str) -> str:
    """Return a cell that no spreadsheet reads as a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def csv_head(catalogue: Catalogue, heads: ExportHeads, unit: Unit, with_names: bool) -> str:
    """Return the first line of a table."""
    about = [heads.name, heads.body, heads.undergarment, heads.date]
    if with_names:
        about += [heads.tags, heads.notes]
    lines = [f"{one.label} ({unit.value})" for one in catalogue.measurements]
    return _line([*about, *lines])


def csv_rows(
    person: PersonState,
    number: int,
    catalogue: Catalogue,
    heads: ExportHeads,
    unit: Unit,
    with_names: bool,
) -> str:
    """Return a person's lines of a table: one for each body, of what counts now.

    Lengths are means, in decimals of the unit: a thousandth of an inch, a hundredth of a cm.
    """
    name = person.name if with_names else heads.numbered.format(n=number)
    words = [", ".join(person.tags), person.notes] if with_names else []
    bodies = list(person.bodies.values()) or [BodyState(body_id="", name="")]
    lines = []
    for body in bodies:
        about = [name, body.name, body.undergarment, _day(body), *words]
        lines.append(_line([*about, *_lengths(body, catalogue, unit)]))
    return "".join(lines)


def _line(cells: Sequence[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow([harmless(cell) for cell in cells])
    return out.getvalue()


def _day(body: BodyState) -> str:
    return max((one.day for taken in body.readings.values() for one in taken), default="")


def _lengths(body: BodyState, catalogue: Catalogue, unit: Unit) -> list[str]:
    found = []
    for one in catalogue.measurements:
        taken = body.readings.get(one.key)
        if taken:
            number = average(taken, one).mm / float(MM_PER[unit])
            found.append(f"{number:.{_DIGITS[unit]}f}".rstrip("0").rstrip("."))
        else:
            found.append("")
    return found


def person_json(
    person: PersonState, number: int, catalogue: Catalogue, heads: ExportHeads, with_names: bool
) -> dict[str, Any]:
    """Return a person as plain data; lengths in mm."""
    about: dict[str, Any] = {"name": heads.numbered.format(n=number)}
    if with_names:
        about = {"name": person.name, "tags": list(person.tags), "notes": person.notes}
    return {
        **about,
        "archived": person.archived,
        "bodies": [_body_json(body, catalogue) for body in person.bodies.values()],
        "fittings": [
            {"form": one.form_name, "day": one.at[:10], "finished": one.finished}
            for one in person.fittings
        ],
    }


def _body_json(body: BodyState, catalogue: Catalogue) -> dict[str, Any]:
    measurements = []
    for one in catalogue.measurements:
        now, past = body.readings.get(one.key, ()), body.past.get(one.key, ())
        if not now and not past:
            continue
        taken = average(now, one) if now else None
        measurements.append(
            {
                "key": one.key,
                "line": one.line,
                "what": one.what.value,
                "mm": round(taken.mm, 2) if taken else None,
                "spread_mm": round(taken.spread_mm, 2) if taken else None,
                "readings": [_reading_json(r, counts=False) for r in past]
                + [_reading_json(r, counts=True) for r in now],
            }
        )
    return {
        "name": body.name,
        "kind": body.kind,
        "undergarment": body.undergarment,
        "measurements": measurements,
    }


def _reading_json(reading: BodyReading, *, counts: bool) -> Mapping[str, Any]:
    return {
        "mm": reading.mm,
        "text": reading.text,
        "how": reading.how,
        "day": reading.day,
        "counts": counts,
    }
