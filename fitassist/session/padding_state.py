# SPDX-License-Identifier: MIT
"""What the record says of the padding of its last fitting: a fold of its events, undone ones out.

Padding turns no dial and reads no bare form, so a fitting is folded without these events.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fitassist.session import events as ev


@dataclass(frozen=True)
class PaddedReading:
    """One wrap of the tape round the padded form, and how much had been done by then."""

    seq: int
    step: str  # that asked for it
    line: str
    mm: float
    laid: frozenset[str]  # steps of the pieces that lay on the form


@dataclass(frozen=True)
class Answered:
    """Something that was seen or answered: where, what, and in which event."""

    seq: int
    about: str
    says: str


@dataclass(frozen=True)
class PaddingState:
    """Everything known of the padding of one fitting.

    Attributes
    ----------
    choice
        The last one made, or None.
    wrap
        The last wraps measured of the chosen material, or None.
    laid
        Steps of pieces that lie on the form.
    done, skipped
        Plain steps that are done or were passed over; corrections are told by their step too.
    changed
        Layers put in (above zero) or taken out by place.
    """

    choice: ev.PaddingChosen | None = None
    wrap: ev.WrapMeasured | None = None
    laid: tuple[ev.PieceLaid, ...] = ()
    done: frozenset[str] = frozenset()
    skipped: frozenset[str] = frozenset()
    changes: tuple[ev.LayerChanged, ...] = ()
    change_seqs: tuple[int, ...] = ()  # the event of each of these
    readings: tuple[PaddedReading, ...] = ()
    looks: tuple[Answered, ...] = ()
    accepted: frozenset[str] = frozenset()
    proof: tuple[Answered, ...] = ()
    last_seq: int | None = None  # the event that Undo would take back

    @property
    def has_begun(self) -> bool:
        """Whether anything lies on the form."""
        return bool(self.laid)

    @property
    def changed(self) -> dict[str, int]:
        """Layers put in or taken out, by place."""
        found: dict[str, int] = {}
        for one in self.changes:
            found[one.place] = found.get(one.place, 0) + one.layers
        return found

    def proof_answer(self, question: str) -> str:
        """Return the last answer to a question of the proof, or an empty text."""
        return next((one.says for one in reversed(self.proof) if one.about == question), "")

    def read(self, line: str) -> float | None:
        """Return what the tape last read at a line, or None."""
        return next((one.mm for one in reversed(self.readings) if one.line == line), None)


def last_padding(events: Sequence[ev.Recorded]) -> PaddingState:
    """Return the padding of the last fitting begun in a whole record."""
    starts = [i for i, one in enumerate(events) if isinstance(one.event, ev.FittingStarted)]
    return fold_padding(events[starts[-1] + 1 :]) if starts else PaddingState()


def fold_padding(log: Iterable[ev.Recorded]) -> PaddingState:
    """Return the padding after everything that happened since a fitting began."""
    log = tuple(log)
    undone = {one.event.undone_seq for one in log if isinstance(one.event, ev.Undone)}
    state = PaddingState()
    for one in log:
        if isinstance(one.event, ev.PaddingEvent) and one.seq not in undone:
            state = _step(state, one.seq, one.event)
    return state


def without_padding(log: Iterable[ev.Recorded]) -> tuple[ev.Recorded, ...]:
    """Return what a fitting itself is folded from: all but padding and what was undone of it."""
    log = tuple(log)
    padding = {one.seq for one in log if isinstance(one.event, ev.PaddingEvent)}
    return tuple(
        one
        for one in log
        if one.seq not in padding
        and not (isinstance(one.event, ev.Undone) and one.event.undone_seq in padding)
    )


def _step(state: PaddingState, seq: int, event: ev.PaddingEvent) -> PaddingState:
    changes: dict[str, Any] = {"last_seq": seq}
    match event:
        case ev.PaddingChosen():
            changes["choice"] = event
        case ev.WrapMeasured():
            changes["wrap"] = event
        case ev.PieceLaid():
            kept = tuple(one for one in state.laid if one.step != event.step)
            changes["laid"] = (*kept, event)
        case ev.LayerChanged():
            changes["changes"] = (*state.changes, event)
            changes["change_seqs"] = (*state.change_seqs, seq)
            changes["done"] = state.done | {event.step}
        case ev.PaddedRead():
            laid = frozenset(one.step for one in state.laid)
            reading = PaddedReading(seq, event.step, event.line, event.mm, laid)
            changes["readings"] = (*state.readings, reading)
        case ev.PaddingLooked():
            changes["looks"] = (*state.looks, Answered(seq, event.place, event.looks))
        case ev.PaddingStepDone():
            which = "skipped" if event.skipped else "done"
            changes[which] = getattr(state, which) | {event.step}
        case ev.StandingOutAccepted():
            changes["accepted"] = state.accepted | {event.line}
        case ev.ProofAnswered():
            changes["proof"] = (*state.proof, Answered(seq, event.question, event.answer))
    return replace(state, **changes)
