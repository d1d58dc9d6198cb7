# SPDX-License-Identifier: MIT
"""What a reading, a look from the side or the proof leads to: a layer out or in, an edge, a dial.

All of it is common practice, no source; only the girths are worked out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.domain.form import Form
from fitassist.session.padding_state import Answered, PaddedReading, PaddingState
from fitassist.session.padding_steps import Step, StepKind, StepState, base_steps
from fitassist.session.padding_work import PaddingWork, base_place

FRONT = ("tummy", "midriff", "cup", "front_hip")
BACK = ("seat", "small_of_back", "rounded_back", "shoulder_blade")
LEAST_EFFECT_MM = 1.5  # a layer that changes a girth by less cannot be what the tape complains of


@dataclass(frozen=True)
class Fix:
    """What one layer less or more at a place would do to a line's girth."""

    place: str  # without its side
    layers: int
    effect_mm: float


def all_steps(work: PaddingWork, state: PaddingState, form: Form) -> list[Step]:
    """Return every step with the corrections that readings, looks and answers have led to.

    A correction stands right behind what led to it. A look may be told at any time: what it leads
    to comes before the first step that is still open.
    """
    steps: list[Step] = []
    for step in base_steps(work, state, form):
        if step.kind == "measure":
            steps += _measured(step, work, state)
        elif step.kind == "proof":
            steps += _proved(step, work, state, form)
        else:
            steps.append(step)
    looks = [step for look in state.looks for step in _looked(look, work, state)]
    at = next((i for i, one in enumerate(steps) if one.state == "open"), len(steps))
    return [*steps[:at], *looks, *steps[at:]]


# -- the tape -----------------------------------------------------------------------------------


def _measured(step: Step, work: PaddingWork, state: PaddingState) -> list[Step]:
    """Return a reading, and while the last one is off, a layer out or in and the tape again."""
    steps = [step]
    if step.values.get("early"):
        return steps
    asked = step
    while True:
        read = _reading_of(asked.id, state)
        fix = fix_for(read, work, state) if read is not None else None
        if read is None or fix is None:
            return steps
        kind: StepKind = "take_out" if fix.layers < 0 else "put_in"
        id_ = f"fix:{read.seq}"
        values = {"line": read.line, "off_mm": abs(_off(read, work)), "effect_mm": fix.effect_mm}
        steps.append(Step(id_, kind, fix.place, values, _plain_state(id_, state)))
        if steps[-1].state != "done":
            return steps
        again = f"{step.id}:{read.seq}"
        is_read = _reading_of(again, state) is not None
        told: StepState = "done" if is_read else _plain_state(again, state)
        asked = Step(again, "measure", step.place, {"again": True}, told)
        steps.append(asked)


def _reading_of(step: str, state: PaddingState) -> PaddedReading | None:
    return next((one for one in reversed(state.readings) if one.step == step), None)


def _plain_state(step: str, state: PaddingState) -> StepState:
    if step in state.done:
        return "done"
    return "skipped" if step in state.skipped else "open"


def _off(read: PaddedReading, work: PaddingWork) -> float:
    line = work.task.line(read.line)
    return read.mm - line.goal_mm if line is not None else 0.0


def fix_for(read: PaddedReading, work: PaddingWork, state: PaddingState) -> Fix | None:
    """Return the layer that brings a line nearest to its goal, or None where it is near enough.

    A layer is changed only if the line is past its tolerance and comes nearer by it; of several
    places that one whose layer comes nearest to what is over or missing.
    """
    line = work.task.line(read.line)
    if line is None:
        return None
    off = _off(read, work)
    low, high = line.allowed_mm
    if low <= off <= high:
        return None
    if work.book is None:  # sheets all round: each adds 2 pi t (Steiner)
        one = 2.0 * math.pi * work.choice.thickness_mm
        return Fix(read.line, -1 if off > 0 else 1, one) if abs(off) > one / 2.0 else None
    # As it was when the tape was read: what came of it must not change what it asked for.
    then = _as_then(read, state)
    fixes = _fixes(read.line, -1 if off > 0 else 1, work, then)
    fixes = [one for one in fixes if one.effect_mm > LEAST_EFFECT_MM]
    near = min(fixes, key=lambda one: abs(abs(off) - one.effect_mm), default=None)
    if near is None or abs(abs(off) - near.effect_mm) >= abs(off):
        return None
    return near


def _as_then(read: PaddedReading, state: PaddingState) -> PaddingState:
    pairs = [(c, s) for c, s in zip(state.changes, state.change_seqs, strict=True) if s < read.seq]
    return PaddingState(
        laid=tuple(one for one in state.laid if one.step in read.laid),
        changes=tuple(change for change, _seq in pairs),
        change_seqs=tuple(seq for _change, seq in pairs),
        readings=tuple(one for one in state.readings if one.seq <= read.seq),
    )


def _fixes(line: str, layers: int, work: PaddingWork, state: PaddingState) -> list[Fix]:
    """Return what one layer at each place that lies on a line would do there."""
    book = work.book
    assert book is not None
    thickness = work.working_mm(state)
    plies = work.laid_now(state)
    now = book.girths(book.sheets(plies), thickness)[line]
    found = []
    for base in dict.fromkeys(base_place(work.pieces[n].place) for n in sorted(plies)):
        mine = [n for n in plies if base_place(work.pieces[n].place) == base]
        if not any(line in work.lines_of(n) for n in mine):
            continue
        changed = work.changed_plies(dict(plies), {base: layers})
        girth = book.girths(book.sheets(changed), thickness)[line]
        found.append(Fix(base, layers, (girth - now) * layers))
    return found


# -- the eye ------------------------------------------------------------------------------------


def _looked(look: Answered, work: PaddingWork, state: PaddingState) -> list[Step]:
    kinds: dict[str, StepKind] = {"too_full": "take_out", "too_flat": "put_in", "ridge": "thin"}
    id_ = f"look:{look.seq}"
    base = base_place(look.about)
    if _plain_state(id_, state) != "open":
        return []
    if look.says == "too_full" and not _sheets_at(base, work, state):
        return []
    return [Step(id_, kinds.get(look.says, "thin"), base, {"look": True})]


def _sheets_at(base: str, work: PaddingWork, state: PaddingState) -> int:
    plies = work.laid_now(state)
    return sum(n for at, n in plies.items() if base_place(work.pieces[at].place) == base)


# -- the proof ----------------------------------------------------------------------------------


def _proved(step: Step, work: PaddingWork, state: PaddingState, form: Form) -> list[Step]:
    """Return a question, behind each answer that was not yes what it leads to, and it again."""
    steps: list[Step] = []
    answers = [one for one in state.proof if one.about == step.place]
    for answer in answers:
        steps.append(Step(step.id, "proof", step.place, {"says": answer.says}, "done"))
        if answer.says == "yes":
            return steps
        lead = _lead(answer, work, state, form)
        steps.append(lead)
        if lead.state == "open":
            return steps
        if lead.state == "skipped":
            return steps
    return [*steps, Step(step.id, "proof", step.place, {}, step.state if not answers else "open")]


def _lead(answer: Answered, work: PaddingWork, state: PaddingState, form: Form) -> Step:
    """Return the pad or the dial that an answer of the proof leads back to."""
    id_ = f"lead:{answer.seq}"
    told = _plain_state(id_, state)
    line = answer.says.removeprefix("strains_") if answer.says.startswith("strains_") else ""
    if line:
        places = _places_on(line, work, state)
    else:
        places = [p for p in _side_of(answer.says) if _sheets_at(p, work, state) or told == "done"]
    if places and any(one.step == id_ for one in state.changes):
        places = [one.place for one in state.changes if one.step == id_]
    if places:
        return Step(id_, "take_out", places[0], {"proof": answer.about}, told)
    rows = [row.name for row in form.rows if not line or row.line == line]
    row = rows[0] if rows else ""
    seam = "" if line else ("front" if answer.says in ("away_front", "forward") else "back")
    return Step(id_, "dial", row, {"seam": seam, "proof": answer.about}, told)


def _side_of(says: str) -> Sequence[str]:
    """Return the places that push a hem or a seam that way: what is too full above it."""
    return FRONT if says in ("away_front", "forward") else BACK


def _places_on(line: str, work: PaddingWork, state: PaddingState) -> list[str]:
    """Return the places with a layer on a line, the one whose layer adds least to it first."""
    if work.book is None or line not in work.book.lines:
        return []
    fixes = _fixes(line, -1, work, state)
    fixes = [one for one in fixes if one.effect_mm > LEAST_EFFECT_MM]
    return [one.place for one in sorted(fixes, key=lambda one: one.effect_mm)]
