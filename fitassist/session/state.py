# SPDX-License-Identifier: MIT
"""What the log of a fitting means: a fold of its events into one frozen state.

Physical facts stay facts: a set that is taken back was still turned, so the dials are asked back
and both turns count. A reading that is taken back, or discarded when questioned, is left out of the
belief, which is then folded anew from the start.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from fitassist.domain.form import Dial
from fitassist.domain.form_file import MAX_MM
from fitassist.domain.lines import What
from fitassist.domain.steps import Instruction, SetDials
from fitassist.planning import learned
from fitassist.planning.advise import Policy
from fitassist.planning.belief import Belief, predict, trusted
from fitassist.planning.layout import Layout, Quantity
from fitassist.planning.learned import Entry
from fitassist.session import events as ev
from fitassist.session.goals import Aims, aims

ASKED_AT_MOST = 2  # questions about one quantity between two turns
DOUBT = Policy().doubt  # above this chance of a slip a reading is questioned


@dataclass(frozen=True)
class Question:
    """A reading that is questioned."""

    about: int | None  # id of the instruction it answered
    line: str
    what: What
    mm: float
    expected_mm: float


@dataclass(frozen=True)
class Back:
    """Sets being taken back: the last one asked about, and where their dials stood before."""

    set_id: int | None
    numbers: dict[str, float]


@dataclass(frozen=True)
class State:
    """Everything known of a fitting after some number of events."""

    started: ev.FittingStarted
    aims: Aims
    belief: Belief
    comes_back: bool = False  # the form has worn this very undergarment before
    is_known: bool = False  # the form was read for this very body before, whatever it wore
    entries: tuple[Entry, ...] = ()
    numbers: Mapping[str, float] = field(default_factory=dict)
    at_last_reading: Mapping[str, float] = field(default_factory=dict)
    last_read: Mapping[Quantity, float] = field(default_factory=dict)
    since_turn: Mapping[Quantity, int] = field(default_factory=dict)
    times_read: Mapping[Quantity, int] = field(default_factory=dict)
    asked: Mapping[Quantity, int] = field(default_factory=dict)
    passed_over: frozenset[Quantity] = frozenset()  # readings skipped until something turns
    held: frozenset[str] = frozenset()  # dials skipped until something is read
    stuck: frozenset[str] = frozenset()
    ceilings: Mapping[str, float] = field(default_factory=dict)
    floors: Mapping[str, float] = field(default_factory=dict)
    uneven: frozenset[str] = frozenset()  # rows whose left and right differ on purpose
    symmetry_settled: frozenset[str] = frozenset()
    target: Mapping[str, float] | None = None
    target_why: str = ""
    plans: int = 0  # those of which something was answered
    begun: bool = False  # whether something of the present plan was
    question: Question | None = None
    again: Quantity | None = None
    back: Back | None = None
    checks_done: frozenset[str] = frozenset()
    left: bool = False
    readings: int = 0
    turns: int = 0
    walks: int = 0
    clicks: int = 0
    last_id: int = 0
    shown: Instruction | None = None  # the instruction on screen, if nothing has answered it
    sets: Mapping[int, tuple[int | None, dict[str, float]]] = field(default_factory=dict)
    instructions: Mapping[int, Instruction] = field(default_factory=dict)

    def pending_turns(self) -> int:
        """Dials that stand elsewhere than at the last reading."""
        return sum(
            1 for d, n in self.numbers.items() if abs(n - self.at_last_reading.get(d, n)) > 1e-9
        )


def begin(started: ev.FittingStarted) -> State:
    """Return the state before anything happened."""
    body, form = started.body, started.form
    wanted = aims(body, form, started.preferences, started.shaping)
    quantities = [(g.line, g.what) for g in (*wanted.steered, *wanted.reported)]
    layout = Layout.of(form, quantities)
    guesses = {t.line: t.value_mm for t in body.targets if t.what == What.GIRTH}
    numbers = {name: form.numbers()[name] for name in layout.dials}
    dials = [dial for dial in form.dials if dial.name in numbers]
    worn = learned.wearer_of(started.fitting_id, started.body_id), body.undergarment
    return State(
        started=started,
        aims=wanted,
        belief=learned.belief_for(layout, guesses, *worn),
        comes_back=learned.has_worn(form, *worn),
        is_known=learned.has_met(form, worn[0]),
        numbers=numbers,
        at_last_reading=dict(numbers),
        # What an earlier fitting met holds until somebody says that the dial turns again.
        stuck=frozenset(dial.name for dial in dials if dial.stuck),
        ceilings=_met({d.name: d.stopped_above for d in dials}, dials),
        floors=_met({d.name: d.stopped_below for d in dials}, dials),
    )


def _met(stops: Mapping[str, float | None], dials: Iterable[Dial]) -> dict[str, float]:
    """Return where dials stopped before, but for one that by now stands beyond where it did."""
    found = {}
    for dial in dials:
        number = stops[dial.name]
        above, below = dial.stopped_above, dial.stopped_below
        is_beyond = (above is not None and dial.number > above) or (
            below is not None and dial.number < below
        )
        if number is not None and dial.least <= number <= dial.greatest and not is_beyond:
            found[dial.name] = number
    return found


def fold(started: ev.FittingStarted, log: Iterable[ev.Recorded]) -> State:
    """Return the state after a whole log."""
    log = tuple(log)
    gone = left_out(log)
    state = begin(started)
    for recorded in log:
        state = step(state, recorded, gone)
    return state


def left_out(log: Iterable[ev.Recorded]) -> frozenset[int]:
    """Return the events that do not count: undone ones (but sets), and discarded readings."""
    log = tuple(log)
    undone = {r.event.undone_seq for r in log if isinstance(r.event, ev.Undone)}
    gone = {r.seq for r in log if r.seq in undone and not isinstance(r.event, ev.DialsSet)}
    reading: int | None = None
    for r in log:
        if isinstance(r.event, ev.FormRead) and r.seq not in gone:
            reading = r.seq
        discards = isinstance(r.event, ev.QuestionAnswered) and r.event.choice == "discard"
        if discards and r.seq not in gone and reading is not None:
            gone.add(reading)
    return frozenset(gone)


def step(state: State, recorded: ev.Recorded, gone: frozenset[int] = frozenset()) -> State:
    """Return the state after one more event."""
    event = recorded.event
    if isinstance(event, ev.Advised):
        shown = event.instruction
        known = {**state.instructions, shown.id: shown}
        return replace(state, shown=shown, last_id=shown.id, instructions=known)
    if recorded.seq in gone:
        # A discarded reading was still a wrap of the tape; an undone one too.
        counted = state.readings + (1 if isinstance(event, ev.FormRead) else 0)
        return replace(state, shown=None, readings=counted)
    state = replace(state, shown=None)
    if isinstance(event, ev.PlanAdopted):
        target = _possible(state, event.numbers)
        return replace(state, target=target, target_why=event.why, begun=False)
    if isinstance(event, ev.DialsSet):
        return _dials_set(state, recorded.seq, event)
    if isinstance(event, ev.FormRead):
        # A record may hold lengths no tape reads; they say nothing.
        return _form_read(state, event) if 0 < event.mm <= MAX_MM else state
    return _said(state, event)


def _said(state: State, event: ev.Event) -> State:
    """Fold what is neither a turn nor a reading."""
    if isinstance(event, ev.QuestionAnswered):
        return _question_answered(state, event)
    if isinstance(event, ev.DialFreed):
        free = {d: n for d, n in state.ceilings.items() if d != event.dial}
        floors = {d: n for d, n in state.floors.items() if d != event.dial}
        stuck = state.stuck - {event.dial}
        return replace(state, stuck=stuck, ceilings=free, floors=floors, target=None)
    if isinstance(event, ev.CheckDone):
        return replace(state, checks_done=state.checks_done | {event.code})
    if isinstance(event, ev.Skipped):
        return _skipped(state, event)
    if isinstance(event, ev.Undone):
        set_ = state.sets.get(event.undone_seq)
        back = state.back
        if set_ is not None:
            # Dials still to be turned back go on to where they stood before the earlier set.
            set_id, before = set_
            back = Back(set_id, {**(back.numbers if back else {}), **before})
        return replace(state, back=back, target=None)
    if isinstance(event, ev.FittingLeft):
        return replace(state, left=True)
    return state


def _dials_set(state: State, seq: int, event: ev.DialsSet) -> State:
    told = _possible(state, event.numbers)
    before = {d: state.numbers[d] for d in told}
    moved = {d: n for d, n in told.items() if abs(n - before[d]) > 1e-9}
    numbers = {**state.numbers, **told}
    steps = {d.name: d.step for d in state.started.form.dials}
    clicks = sum(round(abs(n - before[d]) / steps[d]) for d, n in moved.items())
    entry = Entry(numbers=moved)
    asked_for = state.instructions.get(event.to) if event.to is not None else None
    ceilings, floors = dict(state.ceilings), dict(state.floors)
    # A dial that stopped at once has not moved; only what was asked tells which way it ends.
    asked = {t.dial: t.action for t in asked_for.turns} if isinstance(asked_for, SetDials) else {}
    for dial in set(event.stopped) & set(numbers):
        moved_up = numbers[dial] >= before.get(dial, numbers[dial])
        opening = asked[dial] == "open" if dial in asked else moved_up
        (ceilings if opening else floors)[dial] = numbers[dial]
    held = state.held
    reached = state.target is not None and _same(numbers, state.target)
    plans, begun = state.plans, state.begun
    if isinstance(asked_for, SetDials):
        left_alone = {
            t.dial for t in asked_for.turns if abs(numbers.get(t.dial, t.number) - t.number) > 1e-9
        }
        held |= left_alone - set(event.stopped) - set(event.stuck)
        reached = reached or bool(left_alone)
        if state.target is not None and not begun:
            plans, begun = plans + 1, True
    else:
        reached = True  # volunteered: the plan is made again
    return replace(
        state,
        belief=learned.apply(state.belief, entry) if moved else state.belief,
        entries=(*state.entries, entry) if moved else state.entries,
        numbers=numbers,
        target=None if reached else state.target,
        plans=plans,
        begun=begun,
        since_turn={} if moved else state.since_turn,
        asked={} if moved else state.asked,
        passed_over=frozenset() if moved else state.passed_over,
        stuck=state.stuck | (set(event.stuck) & set(numbers)),
        ceilings=ceilings,
        floors=floors,
        held=held,
        walks=state.walks + (1 if moved else 0),
        clicks=state.clicks + clicks,
        back=_still_back(state.back, told),
        sets={**state.sets, seq: (event.to, before)},
    )


def _possible(state: State, numbers: Mapping[str, float]) -> dict[str, float]:
    """Return numbers that dials of this form can show; a record may name any dial and number."""
    dials = {d.name: d for d in state.started.form.dials if d.name in state.numbers}
    return {
        name: number
        for name, number in numbers.items()
        if name in dials and dials[name].least - 1e-6 <= number <= dials[name].greatest + 1e-6
    }


def _still_back(back: Back | None, told: Mapping[str, float]) -> Back | None:
    """Return what is still to be turned back after these dials were answered for."""
    numbers = {d: n for d, n in back.numbers.items() if d not in told} if back else {}
    return replace(back, numbers=numbers) if back and numbers else None


def _same(numbers: Mapping[str, float], target: Mapping[str, float]) -> bool:
    return all(abs(numbers[d] - n) < 1e-9 for d, n in target.items())


def _form_read(state: State, event: ev.FormRead) -> State:
    entry = Entry(
        line=event.line,
        what=event.what,
        mm=event.mm,
        spread_mm=state.started.preferences.tape_spread_mm,
    )
    quantity = (event.line, event.what)
    belief, question = state.belief, None
    if learned.knows(belief.layout, event.line, event.what):
        expected, _ = predict(belief, event.line, event.what)
        belief = learned.apply(belief, entry)
        if belief.doubt > DOUBT and state.asked.get(quantity, 0) < ASKED_AT_MOST:
            question = Question(event.to, event.line, event.what, event.mm, expected)
    turns = state.turns + state.pending_turns()
    return replace(
        state,
        belief=belief,
        entries=(*state.entries, entry),
        last_read={**state.last_read, quantity: event.mm},
        since_turn={**state.since_turn, quantity: state.since_turn.get(quantity, 0) + 1},
        times_read={**state.times_read, quantity: state.times_read.get(quantity, 0) + 1},
        asked={**state.asked, quantity: state.asked.get(quantity, 0) + (question is not None)},
        readings=state.readings + 1,
        turns=turns,
        at_last_reading=dict(state.numbers),
        held=frozenset(),
        target=None,
        question=question,
        again=None if state.again == quantity else state.again,
    )


def _question_answered(state: State, event: ev.QuestionAnswered) -> State:
    if event.code == "symmetry":
        row = event.choice.partition(":")[2]
        uneven = state.uneven | {row} if event.choice.startswith("keep") else state.uneven
        return replace(
            state, uneven=uneven, symmetry_settled=state.symmetry_settled | {row}, target=None
        )
    question, state = state.question, replace(state, question=None)
    if question is None:
        return state
    quantity = (question.line, question.what)
    if event.choice == "keep":
        # A dial may have been turned since: it is the reading that is vouched for.
        entries = list(state.entries)
        at = max(i for i, entry in enumerate(entries) if entry.mm is not None)
        entries[at] = entries[at].model_copy(update={"vouched": True})
        return replace(state, belief=trusted(state.belief), entries=tuple(entries))
    # A discarded reading is left out before it could raise a question, so this is "again".
    return replace(state, again=quantity)


def _skipped(state: State, event: ev.Skipped) -> State:
    instruction = state.instructions.get(event.to)
    if instruction is None:
        return state
    if instruction.kind == "measure":
        quantity = (instruction.line, instruction.what)
        return replace(state, passed_over=state.passed_over | {quantity}, again=None)
    if instruction.kind == "set":
        names = {turn.dial for turn in instruction.turns}
        return replace(state, held=state.held | names, target=None, back=None)
    if instruction.kind == "check":
        return replace(state, checks_done=state.checks_done | {instruction.code})
    return state
