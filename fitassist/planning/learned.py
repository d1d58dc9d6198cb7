# SPDX-License-Identifier: MIT
"""What a form has taught: the readings of its past fittings, replayed through the same belief.

No numbers of the belief are stored. A form carries its evidence (where its dials stood and what the
tape said), so a better model makes more of old fittings, and anybody can read what it rests on.
"""

from __future__ import annotations

from collections.abc import Mapping

from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.planning import belief as beliefs
from fitassist.planning.belief import Belief
from fitassist.planning.evidence import (
    MOST_ENTRIES,
    MOST_FITTINGS,
    MOST_REPLAYED,
    Entry,
    Evidence,
    PastFitting,
    evidence_of,
    to_replay,
    wearer_of,
    with_fitting,
)
from fitassist.planning.layout import Layout

__all__ = [
    "MOST_ENTRIES",
    "MOST_FITTINGS",
    "MOST_REPLAYED",
    "Entry",
    "Evidence",
    "PastFitting",
    "apply",
    "belief_for",
    "evidence_of",
    "has_met",
    "has_worn",
    "knows",
    "wearer_of",
    "with_fitting",
]

KNOWN_GIRTH_MM = 4.0  # spread of a girth noted with the form's description


def belief_for(
    layout: Layout, guesses_mm: Mapping[str, float], wearer: str = "", undergarment: str = ""
) -> Belief:
    """Return the belief at the start of a fitting: geometry, noted girths, past fittings.

    Where the form has worn today's undergarment before, what was read over it is replayed last and
    what it adds is held on to: that is how a person fitted before is come back to by few readings.
    """
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
    replay = to_replay(evidence, wearer, undergarment)
    for past in replay.others:
        belief = _replayed(beliefs.next_fitting(belief, past.start), past)
    for i, past in enumerate(replay.same):
        belief = _replayed(beliefs.next_fitting(belief, past.start, same_garment=i > 0), past)
    if replay.others or replay.same:
        belief = beliefs.next_fitting(
            belief,
            form.numbers(),
            same_garment=bool(replay.same),
            passed=1 + min(replay.since, len(replay.others)),
        )
    return belief


def has_worn(form: Form, wearer: str, undergarment: str) -> bool:
    """Tell whether the form was read while it wore this very undergarment."""
    return any(past.wears(wearer, undergarment) for past in evidence_of(form).fittings)


def has_met(form: Form, wearer: str) -> bool:
    """Tell whether the form was read for this very body before, whatever it wore."""
    return bool(wearer) and any(past.wearer == wearer for past in evidence_of(form).fittings)


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
