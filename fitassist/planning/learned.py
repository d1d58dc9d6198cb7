# SPDX-License-Identifier: MIT
"""What a form has taught: the readings of its past fittings, replayed through the same belief.

No numbers of the belief are stored. A form carries its evidence (where its dials stood and what the
tape said), so a better model makes more of old fittings, and anybody can read what it rests on.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, ValidationError

from fitassist.domain.form import Form
from fitassist.domain.form_file import MAX_MM
from fitassist.domain.form_reach import MAX_PRINTED
from fitassist.domain.lines import What
from fitassist.domain.model import Model
from fitassist.errors import BadFile
from fitassist.planning import belief as beliefs
from fitassist.planning.belief import Belief
from fitassist.planning.layout import Layout

VERSION = 1
MOST_FITTINGS = 30  # older ones add next to nothing and cost time
MOST_ENTRIES = 400  # of one fitting
KNOWN_GIRTH_MM = 4.0  # spread of a girth noted with the form's description
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
    start: dict[str, _Number]
    entries: tuple[Entry, ...] = Field(default=(), max_length=MOST_ENTRIES)


class Evidence(Model):
    """All of a form's evidence, oldest first."""

    version: int = VERSION
    fittings: tuple[PastFitting, ...] = ()

    @property
    def readings(self) -> int:
        """How many readings it rests on."""
        return sum(1 for f in self.fittings for e in f.entries if e.mm is not None)


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
    fittings = evidence.fittings
    if any(entry.mm is not None for entry in fitting.entries):
        fittings = (*fittings, fitting)[-MOST_FITTINGS:]
    return evidence.model_copy(update={"fittings": fittings}).model_dump(mode="json")


def belief_for(layout: Layout, guesses_mm: Mapping[str, float]) -> Belief:
    """Return the belief at the start of a fitting: geometry, noted girths, past fittings."""
    form = layout.form
    evidence = evidence_of(form)
    belief = beliefs.start(layout, guesses_mm)
    for line in form.lines:
        if line.name in layout.lines:
            for girth in line.girths:
                numbers = _by_dial(layout, girth.numbers)
                belief = beliefs.known_girth(
                    belief, line.name, numbers.items(), girth.girth_mm, KNOWN_GIRTH_MM
                )
    for past in evidence.fittings[-MOST_FITTINGS:]:
        belief = _replayed(beliefs.next_fitting(belief, past.start), past)
    if evidence.fittings:
        belief = beliefs.next_fitting(belief, form.numbers())
    return belief


def _by_dial(layout: Layout, numbers: Mapping[str, float]) -> dict[str, float]:
    """Numbers by dial; a row's name stands for all its dials."""
    return {
        dial: numbers.get(dial, numbers.get(dial.rpartition(".")[0], float("nan")))
        for dial in layout.dials
        if dial in numbers or dial.rpartition(".")[0] in numbers
    }


def _replayed(belief: Belief, past: PastFitting) -> Belief:
    for entry in past.entries:
        belief = apply(belief, entry)
    return belief


def apply(belief: Belief, entry: Entry) -> Belief:
    """Return the belief after one entry; a quantity this layout does not know changes nothing."""
    if entry.numbers:
        belief = beliefs.turned(belief, entry.numbers)
    if entry.mm is None or not knows(belief.layout, entry.line, entry.what):
        return belief
    belief = beliefs.observe(belief, entry.line, entry.what, entry.mm, entry.spread_mm)
    return beliefs.trusted(belief) if entry.vouched else belief


def knows(layout: Layout, line: str, what: What) -> bool:
    """Whether a reading of this quantity can teach anything."""
    if line not in layout.lines:
        return False
    return what == What.GIRTH or (line, what) in layout.others
