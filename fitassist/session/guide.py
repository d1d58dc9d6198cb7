# SPDX-License-Identifier: MIT
"""The next instruction: from a state of the fitting to what the person at the form is asked.

Questions go before anything else, then what was begun (a set being taken back, a plan half turned),
then the engine's advice. Nothing here changes the state.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from fitassist.domain.form import Form
from fitassist.domain.lines import Seam, What
from fitassist.domain.steps import (
    Ask,
    Check,
    Instruction,
    Measure,
    Reason,
    SetDials,
    Turn,
)
from fitassist.planning.advise import Advice, Policy, Reads, advise
from fitassist.planning.belief import moments, predict, turned
from fitassist.planning.layout import Floats
from fitassist.planning.order import Walk, walks
from fitassist.planning.plan import Rules
from fitassist.session.ending import Verdict, finished, verdict_of
from fitassist.session.goals import halves_differ
from fitassist.session.posture import wedge_of
from fitassist.session.state import State

# A fitting that would need more corrections than this is not getting nearer; honest to say so.
MOST_PLANS = 15
# The reserve is for stopping at the luckiest of many looks. Who comes back begins near the end, and
# at the first looks there is no luck to pick (our own choice, measured: tests.bench.switching).
FEW_LOOKS = 2
_COMING_BACK = Policy(reserve=1.0)
CHECKS_FIRST = ("padding_off", "undergarment", "marks", "torso_length")
CHECKS_LAST = (
    *("torso_again", "shoulder_level", "waist_level", "wedge_left", "wedge_right"),
    "padding_on",
)


@dataclass(frozen=True)
class Next:
    """The next instruction, the plan it begins if it begins one, and the advice behind it."""

    instruction: Instruction
    plan: dict[str, float] | None = None
    why: str = ""
    advice: Advice | None = None


def rules_of(state: State) -> Rules:
    """Return what a plan must keep to now."""
    preferences = state.started.preferences
    return Rules(
        confidence=preferences.confidence,
        stuck=state.stuck | state.held,
        ceilings=state.ceilings,
        floors=state.floors,
        uneven=state.uneven,
        shape=state.started.shaping.offsets or None,
        opposite_equal=preferences.opposite_equal,
        halves_differ=state.aims.halves_differ,
    )


def advice_for(state: State) -> Advice:
    """Return the engine's advice on a state."""
    most = Policy().most_readings_of_one
    reads = []
    for goal in state.aims.steered:
        quantity = (goal.line, goal.what)
        since = most if quantity in state.passed_over else state.since_turn.get(quantity, 0)
        reads.append(Reads(since, state.times_read.get(quantity, 0)))
    tape = state.started.preferences.tape_spread_mm
    soon = state.comes_back and state.readings <= FEW_LOOKS
    every = state.is_known and all(one.ever for one in reads)
    policy = _COMING_BACK if soon or every else Policy()
    return advise(state.belief, state.aims.steered, rules_of(state), tape, reads, policy)


def next_instruction(state: State) -> Next:
    """Return what to ask for next."""
    new_id = state.last_id + 1
    if state.left:
        return Next(finished(state, new_id, "left"))
    begun = _begun(state, new_id)
    if begun is not None:
        return Next(begun)
    if not state.aims.steered:
        return _ending(state, new_id, "as_near_as_dials_go", None)
    advice = advice_for(state)
    if advice.kind == "stop" or (advice.kind == "set" and state.plans >= MOST_PLANS):
        return _ending(state, new_id, verdict_of(state, advice), advice)
    if advice.kind == "measure":
        return Next(_measure(state, new_id, advice), advice=advice)
    numbers = {
        d: float(n) for d, n in zip(state.belief.layout.dials, advice.plan.numbers, strict=True)
    }
    reason = set_reason(state, advice)
    first = _set(state, new_id, numbers, reason)
    if first is None:  # the plan is where the form stands: nothing left to turn
        return _ending(state, new_id, verdict_of(state, advice), advice)
    return Next(first, numbers, reason.code, advice)


def _begun(state: State, new_id: int) -> Instruction | None:
    """Return what was begun and must be finished first."""
    if state.back is not None:
        turns = _turns(state, state.back.numbers)
        if turns:
            row = turns[0].dial.rpartition(".")[0]
            return SetDials(
                id=new_id,
                row=row,
                turns=tuple(turn for turn in turns if turn.dial.rpartition(".")[0] == row),
                reason=Reason(code="undo_set"),
                undoes=state.back.set_id,
            )
    if state.question is not None:
        q = state.question
        return Ask(
            id=new_id,
            code="reading_unlikely",
            about=q.about,
            choices=("again", "keep", "discard"),
            values={"line": q.line, "what": q.what, "mm": q.mm, "expected_mm": q.expected_mm},
        )
    if state.started.preferences.checks:
        check = _first_check(state, new_id) or _symmetry(state, new_id)
        if check is not None:
            return check
    if state.again is not None:
        line, what = state.again
        return _measure_of(state, new_id, line, what, Reason(code="doubt", values={"line": line}))
    if state.target is not None:
        return _set(state, new_id, dict(state.target), Reason(code=state.target_why or "begun"))
    return None


def _first_check(state: State, new_id: int) -> Check | None:
    code = next(iter(first_checks(state)), None)
    return Check(id=new_id, code=code, values=_check_values(state, code)) if code else None


def first_checks(state: State) -> tuple[str, ...]:
    """Return the plain steps still to be done before anything is turned or read."""
    if state.readings or not state.started.preferences.checks:
        return ()
    needless = {
        "padding_off": not state.started.padding_worn,
        "torso_length": state.started.form.torso.parts == "none",
    }
    return tuple(
        code
        for code in CHECKS_FIRST
        if code not in state.checks_done and not needless.get(code, False)
    )


def _check_values(state: State, code: str) -> dict[str, object]:
    body, form = state.started.body, state.started.form
    if code.startswith("padding"):
        started = state.started
        worn = started.padding_worn if code == "padding_off" else started.padding_kept
        return {"on": worn}
    values: dict[str, object] = {"undergarment": body.undergarment, "post": form.post}
    torso = body.target("back_neck_to_waist", What.LENGTH)
    if code.startswith("torso") and torso is not None:
        values["mm"] = torso.value_mm
    if code.startswith("wedge"):
        wedge = wedge_of(body) * (1.0 if code == "wedge_left" else -1.0)
        return {"mm": wedge} if wedge > 0 else {}
    for key in ("floor_to_shoulder", "floor_to_waist"):
        target = body.target(key, What.LENGTH)
        if target is not None:
            values[key + "_mm"] = target.value_mm
    return values


def uneven_rows(state: State) -> list[tuple[str, float, float]]:
    """Return rows whose left and right numbers differ though the body's halves do not."""
    found = []
    for row in state.started.form.rows:
        left = state.numbers.get(f"{row.name}.{Seam.LEFT}")
        right = state.numbers.get(f"{row.name}.{Seam.RIGHT}")
        if left is None or right is None or abs(left - right) < 1e-9 or row.name in state.uneven:
            continue
        if not halves_differ(state.started.body, row.line):
            found.append((row.name, left, right))
    return found


def _symmetry(state: State, new_id: int) -> Ask | None:
    for row, left, right in uneven_rows(state):
        settled = row in state.symmetry_settled or state.target is not None
        if not settled and can_be_evened(state, row):
            return Ask(
                id=new_id,
                code="symmetry",
                choices=("even", "keep"),
                values={"row": row, "left": left, "right": right},
            )
    return None


def can_be_evened(state: State, row: str) -> bool:
    """Whether left and right of a row can be brought to one number: neither is asked in vain."""
    names = [f"{row}.{seam}" for seam in (Seam.LEFT, Seam.RIGHT)]
    fixed = [state.numbers[name] for name in names if name in state.stuck]
    if len(fixed) == len(names):
        return False
    form = state.started.form
    low, high = [], []
    for dial in (form.dial(name) for name in names):
        if dial is not None and dial.name not in state.stuck:
            low.append(state.floors.get(dial.name, dial.least))
            high.append(state.ceilings.get(dial.name, dial.greatest))
    low += fixed
    high += fixed
    return max(low) <= min(high)


def _ending(state: State, new_id: int, verdict: Verdict, advice: Advice | None) -> Next:
    """Return the last plain steps, then the verdict."""
    if state.started.preferences.checks:
        for code in CHECKS_LAST:
            values = _check_values(state, code)
            if code not in state.checks_done and _worth_checking(state, code, values):
                return Next(Check(id=new_id, code=code, values=values), advice=advice)
    return Next(finished(state, new_id, verdict, advice), advice=advice)


def _worth_checking(state: State, code: str, values: dict[str, object]) -> bool:
    if code == "torso_again":
        return state.started.form.torso.parts != "none" and state.walks > 0
    if code.startswith("wedge"):
        return "mm" in values
    if code == "padding_on":
        return bool(values["on"])
    if code == "shoulder_level":
        return "floor_to_shoulder_mm" in values
    return "floor_to_waist_mm" in values


def _measure(state: State, new_id: int, advice: Advice) -> Measure:
    goal = state.aims.steered[advice.goal]
    quantity = (goal.line, goal.what)
    spread = float(advice.now.spreads_mm[advice.goal])
    if quantity not in state.last_read:
        code = "never_read"
    elif not state.since_turn.get(quantity):
        code = "moved"
    else:
        code = "confirm"
    values = {"line": goal.line, "mm": spread, "chance": float(advice.now.chances[advice.goal])}
    return _measure_of(state, new_id, goal.line, goal.what, Reason(code=code, values=values))


def _measure_of(state: State, new_id: int, line: str, what: What, reason: Reason) -> Measure:
    mean, spread = predict(state.belief, line, what)
    tape = state.started.preferences.tape_spread_mm
    target = next(
        (
            g.target_mm
            for g in (*state.aims.steered, *state.aims.reported)
            if (g.line, g.what) == (line, what)
        ),
        None,
    )
    return Measure(
        id=new_id,
        line=line,
        what=what,
        expect_mm=mean,
        spread_mm=float(np.hypot(spread, tape)),
        target_mm=target,
        reason=reason,
    )


def set_reason(state: State, advice: Advice) -> Reason:
    """Return why a plan is to be turned: the line it helps most."""
    code = "fine" if advice.why == "fine" else "short"
    goals = state.aims.steered
    off = np.array([goals[g].target_mm for g in range(len(goals))]) - advice.now.means_mm
    g = int(np.argmax(np.abs(off) / np.array([goal.half_mm for goal in goals])))
    if code == "short" and off[g] < 0:
        code = "over"
    return Reason(code=code, values={"line": goals[g].line, "mm": float(abs(off[g]))})


def plan_walks(state: State, target: dict[str, float]) -> tuple[Walk, ...]:
    """Return the walks still to do for a plan, in order."""
    layout = state.belief.layout
    n_l, n_d = len(layout.lines), len(layout.dials)
    effects = moments(state.belief)[0][: n_l * n_d].reshape(n_l, n_d)
    return walks(layout, effects, _vector(state, state.numbers), _vector(state, target))


def _vector(state: State, numbers: Mapping[str, float]) -> Floats:
    return np.array([numbers.get(d, state.numbers[d]) for d in state.belief.layout.dials])


def _set(state: State, new_id: int, target: dict[str, float], reason: Reason) -> SetDials | None:
    """Return the next walk towards a plan, or None if the form already stands there."""
    allowed = {d: n for d, n in target.items() if d not in state.stuck | state.held}
    todo = plan_walks(state, allowed)
    if not todo:
        return None
    first = todo[0]
    row = state.started.form.rows[first.row]
    return SetDials(
        id=new_id,
        row=row.name,
        turns=_turns(state, dict(first.numbers)),
        part=first.part,
        reason=walk_reason(state, row.line, reason),
    )


def walk_reason(state: State, line: str, reason: Reason) -> Reason:
    """Return why this row: how far its own line is off, if it is; else why the plan."""
    goal = next((g for g in state.aims.steered if (g.line, g.what) == (line, What.GIRTH)), None)
    if goal is None or reason.code in ("fine", "undo_set"):
        return reason
    mean, _ = predict(state.belief, line)
    off = goal.target_mm - mean
    code = "short" if off >= 0 else "over"
    return Reason(code=code, values={"line": line, "mm": abs(off)})


def _turns(state: State, numbers: dict[str, float]) -> tuple[Turn, ...]:
    form: Form = state.started.form
    found = []
    for dial in form.dials:
        if dial.name not in numbers or dial.name not in state.numbers:
            continue
        start, number = state.numbers[dial.name], numbers[dial.name]
        if abs(number - start) < 1e-9:
            continue
        found.append(
            Turn(
                dial=dial.name,
                action="open" if number > start else "close",
                start=start,
                number=number,
                clicks=max(1, round(abs(number - start) / dial.step)),
            )
        )
    return tuple(found)


def with_belief_of(state: State, numbers: dict[str, float]) -> State:
    """Return the state as it would be with dials at other numbers (nothing is recorded)."""
    moved = {**state.numbers, **numbers}
    return replace(state, belief=turned(state.belief, numbers), numbers=moved)
