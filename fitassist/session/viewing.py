# SPDX-License-Identifier: MIT
"""From a state to what may be shown of it: lines, chances, what comes next and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fitassist.domain.steps import Check, Instruction, Note, Reason, SetDials
from fitassist.planning.advise import Advice
from fitassist.planning.belief import predict
from fitassist.planning.chance import Goal, Outlook, outlook
from fitassist.session.ending import is_known
from fitassist.session.first_minute import first_minute
from fitassist.session.guide import Next, advice_for, first_checks, plan_walks, uneven_rows
from fitassist.session.state import State
from fitassist.session.view import FittingView, LineState, LineView, SymmetryView, Upcoming

SHOWN_NEXT = 3
SHOWN_WALK = 9  # before anything is turned, the whole way to this person is shown


def view_of(
    state: State, now: Next, revision: int, notes: Sequence[Note], can_undo: bool
) -> FittingView:
    """Return everything a page needs to know of a state."""
    advice = now.advice
    outlook_now = advice.now if advice else outlook(state.belief, state.aims.steered)
    lost = advice.out_of_reach if advice else frozenset()
    instruction = state.shown or now.instruction
    lines = line_views(state, outlook_now, lost)
    return FittingView(
        revision=revision,
        instruction=instruction,
        upcoming=upcoming(state, now, instruction, lines),
        lines=lines,
        joint=outlook_now.joint if state.aims.steered else None,
        numbers=dict(state.numbers),
        stuck=tuple(sorted(state.stuck)),
        symmetry=tuple(
            SymmetryView(row=row, left=left, right=right) for row, left, right in uneven_rows(state)
        ),
        notes=tuple(notes),
        first_minute=first_minute(state.started),
        readings=state.readings,
        turns=state.turns + state.pending_turns(),
        walks=state.walks,
        clicks=state.clicks,
        can_undo=can_undo,
    )


def line_views(
    state: State, now: Outlook, lost: frozenset[int] = frozenset()
) -> tuple[LineView, ...]:
    """Return the lines dials steer, then those only compared."""
    views = [
        _line(
            state,
            goal,
            float(now.means_mm[g]),
            float(now.spreads_mm[g]),
            float(now.chances[g]),
            True,
            g in lost,
        )
        for g, goal in enumerate(state.aims.steered)
    ]
    for goal in state.aims.reported:
        there = outlook(state.belief, [goal])
        if is_known(state, goal):
            views.append(
                _line(
                    state,
                    goal,
                    float(there.means_mm[0]),
                    float(there.spreads_mm[0]),
                    float(there.chances[0]),
                    False,
                    False,
                )
            )
        else:
            views.append(_unknown(goal))
    return tuple(views)


def _line(
    state: State, goal: Goal, mean: float, spread: float, chance: float, dials: bool, lost: bool
) -> LineView:
    quantity = (goal.line, goal.what)
    read = bool(state.since_turn.get(quantity))
    shown = _state_of(state, goal, mean, spread, chance, lost)
    return LineView(
        line=goal.line,
        what=goal.what,
        has_dials=dials,
        target_mm=goal.target_mm,
        tolerance_mm=(goal.below_mm, goal.above_mm),
        predicted_mm=mean,
        spread_mm=spread,
        chance=chance,
        state=shown,
        last_read_mm=state.last_read.get(quantity),
        read_since_turn=read,
        to_go_mm=goal.target_mm - mean,
        reason=_line_reason(goal, shown, spread, read, quantity in state.last_read),
    )


def _state_of(
    state: State, goal: Goal, mean: float, spread: float, chance: float, lost: bool
) -> LineState:
    n = max(len(state.aims.steered), 1)
    if chance >= state.started.preferences.confidence ** (1.0 / n):
        return "good"
    if lost:
        return "out_of_reach"
    if (goal.line, goal.what) not in state.last_read:
        return "not_yet"  # "again" would be odd of what was never measured
    if goal.low_mm <= mean <= goal.high_mm and chance >= 0.5:
        return "measure_again"
    uncertain = spread > 0.6 * goal.half_mm and not state.since_turn.get((goal.line, goal.what))
    return "measure_again" if uncertain and chance > 0.15 else "not_yet"


def _line_reason(goal: Goal, shown: LineState, spread: float, read: bool, was_read: bool) -> Reason:
    if shown == "good":
        return Reason(code="not_needed", values={"line": goal.line, "mm": 2 * spread})
    code = "confirm" if read else ("moved" if was_read else "never_read")
    return Reason(code=code, values={"line": goal.line, "mm": spread})


def _unknown(goal: Goal) -> LineView:
    return LineView(
        line=goal.line,
        what=goal.what,
        has_dials=False,
        target_mm=goal.target_mm,
        tolerance_mm=(goal.below_mm, goal.above_mm),
        predicted_mm=None,
        spread_mm=None,
        chance=None,
        state="not_yet",
        reason=Reason(code="never_read", values={"line": goal.line}),
    )


def upcoming(
    state: State, now: Next, instruction: Instruction, views: Sequence[LineView]
) -> tuple[Upcoming, ...]:
    """Return the next few things after the one on screen, with why."""
    found: list[Upcoming] = []
    if isinstance(instruction, Check) and instruction.code in first_checks(state):
        return _whole_walk(state, instruction)
    target = now.plan or (dict(state.target) if state.target else None)
    if isinstance(instruction, SetDials) and target:
        found += _further_walks(state, target, instruction)
    if instruction.kind == "done":
        return ()
    found += _further_readings(views, instruction, bool(target))
    advice = now.advice
    if instruction.kind == "measure" and advice is not None and advice.plan.turns:
        found.append(
            Upcoming(kind="set", place=_first_row(state, advice), reason=Reason(code="reorder"))
        )
    return tuple(found[:SHOWN_NEXT])


def _whole_walk(state: State, instruction: Check) -> tuple[Upcoming, ...]:
    """Return all that lies between the form as it stands and this person, in its order."""
    found = [
        Upcoming(kind="check", place=code)
        for code in first_checks(state)
        if code != instruction.code
    ]
    advice = advice_for(state) if state.aims.steered else None
    if advice is not None and advice.kind == "set":
        dials = state.belief.layout.dials
        numbers = {d: float(n) for d, n in zip(dials, advice.plan.numbers, strict=True)}
        allowed = {d: n for d, n in numbers.items() if d not in state.stuck | state.held}
        # Each row once, with the numbers it ends at, however many turns it takes to get there.
        for at in dict.fromkeys(walk.row for walk in plan_walks(state, allowed)):
            row = state.started.form.rows[at]
            ends = {d: n for d, n in allowed.items() if d.rpartition(".")[0] == row.name}
            moved = {d: n for d, n in ends.items() if abs(n - state.numbers[d]) > 1e-9}
            reason = _row_reason(state, row.line)
            found.append(
                Upcoming(kind="set", place=row.name, reason=reason, values={"numbers": moved})
            )
    if advice is not None and advice.kind != "stop":
        # Where the belief is least sure for its tolerance, the tape is asked first.
        unsure = max(
            range(len(state.aims.steered)),
            key=lambda g: advice.plan.spreads_mm[g] / state.aims.steered[g].half_mm,
        )
        line = state.aims.steered[unsure].line
        spread = float(advice.plan.spreads_mm[unsure])
        why = "moved" if state.is_known else "never_read"
        reason = Reason(code=why, values={"line": line, "mm": spread})
        found.append(Upcoming(kind="measure", place=line, reason=reason))
    if state.started.padding_kept:
        found.append(Upcoming(kind="check", place="padding_on"))
    return tuple(found[:SHOWN_WALK])


def _first_row(state: State, advice: Advice) -> str:
    """Return the row that the plan would turn first, or "" if it turns none."""
    dials = state.belief.layout.dials
    numbers = {d: float(n) for d, n in zip(dials, advice.plan.numbers, strict=True)}
    todo = plan_walks(state, numbers)
    return state.started.form.rows[todo[0].row].name if todo else ""


def _further_walks(state: State, target: dict[str, float], instruction: SetDials) -> list[Upcoming]:
    # From where the form will stand then: a fitting taken up again by a later version of the
    # program may order its walks otherwise than the one that asked for this one.
    then = {**state.numbers, **{turn.dial: turn.number for turn in instruction.turns}}
    state = replace(state, numbers=then)
    allowed = {d: n for d, n in target.items() if d not in state.stuck | state.held}
    found = []
    for walk in plan_walks(state, allowed):
        row = state.started.form.rows[walk.row]
        found.append(
            Upcoming(
                kind="set",
                place=row.name,
                reason=_row_reason(state, row.line),
                values={"numbers": dict(walk.numbers), "part": walk.part},
            )
        )
    return found


def _row_reason(state: State, line: str) -> Reason:
    goal = next((g for g in state.aims.steered if g.line == line), None)
    if goal is None:
        return Reason(code="begun")
    off = goal.target_mm - predict(state.belief, line)[0]
    return Reason(code="short" if off >= 0 else "over", values={"line": line, "mm": abs(off)})


def _further_readings(
    views: Sequence[LineView], instruction: Instruction, turning: bool
) -> list[Upcoming]:
    """Lines that will want the tape: all that a turn moves, or those still unsure."""
    here = (instruction.line, instruction.what) if instruction.kind == "measure" else None
    return [
        Upcoming(
            kind="measure",
            place=v.line,
            reason=Reason(
                code="never_read" if v.last_read_mm is None else "moved",
                values={"line": v.line, "mm": v.spread_mm},
            ),
        )
        for v in views
        if v.has_dials
        and (v.line, v.what) != here
        and (turning or v.state != "good")
        and not (instruction.kind == "measure" and v.read_since_turn)
    ]


def preview_lines(state: State) -> tuple[LineView, ...]:
    """Return the lines of a state that was only imagined."""
    return line_views(state, outlook(state.belief, state.aims.steered))


__all__ = ["line_views", "preview_lines", "upcoming", "view_of"]
