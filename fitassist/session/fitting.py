# SPDX-License-Identifier: MIT
"""One fitting: the object that the window and the scripted session both drive.

``submit(answer)`` checks the answer against the instruction on screen, turns it into events, has
them written, and only then moves on. A refused answer changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from fitassist.domain import answers as an
from fitassist.domain.body import Body, Preferences
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.shaping import Shaping
from fitassist.domain.steps import Instruction, Note
from fitassist.planning import learned
from fitassist.session import events as ev
from fitassist.session.answering import events_for, last_answer
from fitassist.session.guide import Next, next_instruction, with_belief_of
from fitassist.session.state import State, fold, left_out, step
from fitassist.session.view import FittingView, LineView
from fitassist.session.viewing import preview_lines, view_of

Append = Callable[[Sequence[ev.Event]], Sequence[ev.Recorded]]


class Fitting:
    """A fitting of one body on one form.

    Parameters
    ----------
    started
        The event it began with.
    append
        Writes events and returns them with their numbers; must not return before they are safe.
        Raises StorageFailed, and the fitting is then as it was.
    past
        What was recorded after `started`, to go on where it ended.
    """

    def __init__(
        self, started: ev.FittingStarted, append: Append, past: Iterable[ev.Recorded] = ()
    ) -> None:
        self._append = append
        self._log: list[ev.Recorded] = list(past)
        self._gone = left_out(self._log)
        self._notes: tuple[Note, ...] = ()
        self._view: FittingView | None = None
        answered = _answered_part(self._log)
        self._state = fold(started, answered)
        before = self._state
        for told in self._log[len(answered) :]:
            self._state = step(self._state, told, self._gone)
        if self._state.shown:
            self._next = _as_shown(before, self._state.shown)
        else:
            self._next = self._take(())

    @classmethod
    def start(
        cls,
        body: Body,
        form: Form,
        preferences: Preferences | None = None,
        shaping: Shaping | None = None,
    ) -> Fitting:
        """Begin a fitting that is kept in memory only."""
        started = ev.FittingStarted(
            fitting_id="memory",
            body=body,
            form=form,
            preferences=preferences or Preferences(),
            shaping=shaping or Shaping(),
        )
        return cls(started, _Memory())

    @property
    def instruction(self) -> Instruction:
        """What the person at the form is asked to do."""
        return self._next.instruction

    @property
    def started(self) -> ev.FittingStarted:
        """The event the fitting began with."""
        return self._state.started

    @property
    def has_ended(self) -> bool:
        """Whether it has come to its end or was left."""
        return self._next.instruction.kind == "done"

    @property
    def revision(self) -> int:
        """Rises with every event; equal revisions show equal views."""
        return len(self._log)

    def submit(self, answer: an.Answer) -> None:
        """Take an answer to the instruction on screen, or a fact nobody asked for.

        Raises
        ------
        FitError
            The answer does not fit, or could not be written; nothing has changed.
        """
        expected = self.view().upcoming[:1]
        found = events_for(self._state, self._next.instruction, answer, self._log)
        self._next = self._take(found)
        self._notes = _reordered(expected, self._next)

    def _take(self, answered: Sequence[ev.Event]) -> Next:
        """Find what follows an answer, then write both in one go, then move on.

        The state after the answer is worked out before anything is written, so that a write that
        fails leaves the fitting as it was, and one that succeeds needs no second.
        """
        first = self._log[-1].seq + 1 if self._log else 1
        likely = [ev.Recorded(seq=first + i, event=event) for i, event in enumerate(answered)]
        state, gone = self._after(likely)
        following = next_instruction(state)
        told: list[ev.Event] = []
        if following.plan is not None:
            told.append(ev.PlanAdopted(numbers=following.plan, why=following.why))
        told.append(ev.Advised(instruction=following.instruction))
        recorded = list(self._append([*answered, *told]))
        if [r.seq for r in recorded[: len(likely)]] != [r.seq for r in likely]:
            # The record holds other events in between: number the state by the true ones.
            likely = recorded[: len(likely)]
            state, gone = self._after(likely)
        self._log += recorded
        self._gone = gone
        self._view = None
        for one in recorded[len(likely) :]:
            state = step(state, one, gone)
        self._state = state
        return following

    def _after(self, more: Sequence[ev.Recorded]) -> tuple[State, frozenset[int]]:
        """Return the state after further events, and which events do not count by then."""
        gone = left_out([*self._log, *more])
        if gone != self._gone:  # something no longer counts: fold anew
            return fold(self._state.started, [*self._log, *more]), gone
        state = self._state
        for one in more:
            state = step(state, one, gone)
        return state, gone

    def view(self) -> FittingView:
        """Return what may be shown now."""
        if self._view is None:
            self._view = view_of(self._state, self._next, self.revision, self._notes, self.can_undo)
        return self._view

    @property
    def can_undo(self) -> bool:
        """Whether there is an answer to take back."""
        return last_answer(self._log) is not None

    def preview(
        self,
        numbers: Mapping[str, float] | None = None,
        reading: tuple[str, What, float] | None = None,
    ) -> tuple[LineView, ...]:
        """Return the lines as they would stand with dials or a reading not yet committed."""
        state = self._state
        if numbers:
            state = with_belief_of(state, dict(numbers))
        if reading:
            line, what, mm = reading
            entry = learned.Entry(
                line=line, what=what, mm=mm, spread_mm=state.started.preferences.tape_spread_mm
            )
            state = replace(state, belief=learned.apply(state.belief, entry))
        return preview_lines(state)

    def learned(self) -> dict[str, Any]:
        """Return what the form has taught, this fitting included, for the form's file."""
        form = self._state.started.form
        entries, start = self._state.entries, form.numbers()
        for entry in entries[: -learned.MOST_ENTRIES]:  # too old to keep, but they moved the dials
            start |= entry.numbers
        past = learned.PastFitting(
            undergarment=self._state.started.body.undergarment,
            wearer=learned.wearer_of(self._state.started.fitting_id, self._state.started.body_id),
            start=start,
            entries=entries[-learned.MOST_ENTRIES :],
        )
        return learned.with_fitting(learned.evidence_of(form), past)

    def form_now(self) -> Form:
        """Return the form as it stands, with what it has taught and what its dials were met at."""
        state = self._state
        form = state.started.form.at(dict(state.numbers))
        dials = tuple(
            dial.model_copy(
                update={
                    "stuck": dial.name in state.stuck,
                    "stopped_above": state.ceilings.get(dial.name),
                    "stopped_below": state.floors.get(dial.name),
                }
            )
            for dial in form.dials
        )
        return form.model_copy(update={"dials": dials, "learned": self.learned()})


def _answered_part(log: Sequence[ev.Recorded]) -> Sequence[ev.Recorded]:
    """Return a log without what was told after its last answer."""
    end = len(log)
    while end and isinstance(log[end - 1].event, ev.PlanAdopted | ev.Advised):
        end -= 1
    return log[:end]


def _as_shown(before: State, shown: Instruction) -> Next:
    """Return the instruction on screen with the advice behind it, thought over again.

    A record keeps no advice. Where another version of the program asked for something else, what
    it asked stands, without advice.
    """
    again = next_instruction(before)
    return again if again.instruction == shown else Next(shown)


class _Memory:
    """Numbers events and keeps nothing."""

    def __init__(self) -> None:
        self._seq = 0

    def __call__(self, events: Sequence[ev.Event]) -> Sequence[ev.Recorded]:
        first = self._seq + 1
        self._seq += len(events)
        return [ev.Recorded(seq=first + i, event=event) for i, event in enumerate(events)]


def _reordered(expected: Sequence[Any], following: Next) -> tuple[Note, ...]:
    """Return a note if what comes now is not what the list said would come."""
    if not expected:
        return ()
    told, now = expected[0], following.instruction
    place = getattr(now, "row", getattr(now, "line", None))
    # A reading asked before a set that was foretold is no other order: only what is asked of the
    # same hands at another place is worth a word.
    if now.kind not in ("set", "measure") or told.kind != now.kind or told.place == place:
        return ()
    reason = getattr(now, "reason", None)
    return (Note(code="reordered", line=place or "", reason=reason),) if reason else ()
