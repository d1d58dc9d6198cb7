# SPDX-License-Identifier: MIT
"""What past fittings left with a form: where its dials stood and what the tape said; no numerics.

How much is kept and how much is replayed is bounded, because replaying takes time at each start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, ValidationError

from fitassist.domain.form import Form
from fitassist.domain.form_file import MAX_MM
from fitassist.domain.form_reach import MAX_PRINTED
from fitassist.domain.lines import What
from fitassist.domain.model import Model
from fitassist.errors import BadFile

VERSION = 1
MOST_FITTINGS = 30  # kept with a form; older ones add next to nothing
MOST_ENTRIES = 400  # of one fitting
# Replayed at the start of a fitting: about 0.4 ms each with 12 dials. An ordinary fitting has 10 to
# 20 entries, so thirty of them are replayed whole.
MOST_REPLAYED = 800
_Number = Annotated[float, Field(ge=-MAX_PRINTED, le=MAX_PRINTED)]  # beside a dial


class Entry(Model):
    """Dials set, or a reading taken."""

    numbers: dict[str, _Number] = Field(default_factory=dict)
    line: str = ""
    what: What = What.GIRTH
    mm: float | None = Field(default=None, gt=0, le=MAX_MM)
    spread_mm: float = Field(default=3.0, gt=0, le=100)
    vouched: bool = False


class PastFitting(Model):
    """One fitting's evidence."""

    undergarment: str = ""
    wearer: str = ""  # whose undergarment: see ``wearer_of``; empty where it is not known
    at: str = ""  # when it ended, ISO 8601; empty where it is not known
    start: dict[str, _Number]
    entries: tuple[Entry, ...] = Field(default=(), max_length=MOST_ENTRIES)

    def wears(self, wearer: str, undergarment: str) -> bool:
        """Tell whether the form wore this very undergarment; one without a name is no other's."""
        name = _plain(undergarment)
        return bool(wearer and name) and (self.wearer, _plain(self.undergarment)) == (wearer, name)


class Evidence(Model):
    """All of a form's evidence, oldest first."""

    version: int = VERSION
    fittings: tuple[PastFitting, ...] = ()

    @property
    def readings(self) -> int:
        """How many readings it rests on."""
        return sum(1 for f in self.fittings for e in f.entries if e.mm is not None)


@dataclass(frozen=True)
class Replay:
    """What is replayed: fittings in other undergarments, then those in today's; oldest first."""

    others: tuple[PastFitting, ...]
    same: tuple[PastFitting, ...]
    since: int  # fittings of others after the last one in today's undergarment


def wearer_of(fitting_id: str, body_id: str) -> str:
    """Return by what name a form knows one body of one person: ids only, never a name."""
    person_id = fitting_id.rpartition("-")[0]
    return f"{person_id}/{body_id}" if person_id and body_id else ""


def evidence_of(form: Form) -> Evidence:
    """Return a form's evidence; raises BadFile (code bad_learned) if it cannot be understood."""
    if not form.learned:
        return Evidence()
    try:
        evidence = Evidence.model_validate(form.learned)
    except ValidationError as error:
        place = ".".join(str(part) for part in error.errors()[0]["loc"])
        raise BadFile("bad_learned", field=f"learned.{place}") from error
    if evidence.version > VERSION:
        raise BadFile("newer_version", field="learned.version", version=evidence.version)
    return evidence


def with_fitting(evidence: Evidence, fitting: PastFitting) -> dict[str, Any]:
    """Return the `learned` of a form after one more fitting; one without readings adds nothing."""
    fittings: list[Mapping[str, Any]] = [one.model_dump(mode="json") for one in evidence.fittings]
    if any(entry.mm is not None for entry in fitting.entries):
        fittings = worth_keeping([*fittings, fitting.model_dump(mode="json")])
    return evidence.model_dump(mode="json") | {"fittings": fittings}


def worth_keeping(
    fittings: Sequence[Mapping[str, Any]], most: int = MOST_FITTINGS
) -> list[Mapping[str, Any]]:
    """Return at most so many fittings, oldest first.

    The last one of each wearer goes before all others, so that nobody's way back is forgotten while
    another is fitted often; then the newest.
    """
    if len(fittings) <= most:
        return list(fittings)
    last: dict[object, int] = {}
    for i, one in enumerate(fittings):
        last[one.get("wearer") or i] = i
    last_of_wearer = {i for who, i in last.items() if isinstance(who, str)}
    order = sorted(range(len(fittings)), key=lambda i: (i in last_of_wearer, i), reverse=True)
    # The newest fitting of all is always among them: whoever it is of, it is his last.
    kept = {len(fittings) - 1, *[i for i in order if i != len(fittings) - 1][: most - 1]}
    return [fittings[i] for i in sorted(kept)]


def to_replay(
    evidence: Evidence, wearer: str = "", undergarment: str = "", most: int = MOST_REPLAYED
) -> Replay:
    """Return what to replay: today's undergarment first of all, then the newest, within a budget.

    Parameters
    ----------
    most
        Entries (sets and readings) in all. A fitting that goes beyond gives its newest entries.
    """
    fittings = evidence.fittings[-MOST_FITTINGS:]
    same = [i for i, one in enumerate(fittings) if one.wears(wearer, undergarment)]
    others = [i for i in range(len(fittings)) if i not in same]
    parts: dict[int, PastFitting] = {}
    for i in (*reversed(same), *reversed(others)):
        if most <= 0:
            break
        parts[i] = _newest(fittings[i], most)
        most -= len(parts[i].entries)
    return Replay(
        tuple(parts[i] for i in others if i in parts),
        tuple(parts[i] for i in same if i in parts),
        len(fittings) - 1 - same[-1] if same else 0,
    )


def _newest(past: PastFitting, most: int) -> PastFitting:
    """Return the newest entries of a fitting, beginning where the dials stood by then."""
    if len(past.entries) <= most:
        return past
    start = dict(past.start)
    for entry in past.entries[:-most]:
        start |= entry.numbers
    return past.model_copy(update={"start": start, "entries": past.entries[-most:]})


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
