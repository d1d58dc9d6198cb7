# SPDX-License-Identifier: MIT
"""How a fitting ends: the verdict, and what each line came to."""

from __future__ import annotations

from typing import Literal

from fitassist.domain.steps import Finished, LineResult
from fitassist.planning.advise import Advice
from fitassist.planning.belief import predict, turned
from fitassist.planning.chance import Goal, outlook
from fitassist.session.state import State

Verdict = Literal["good_enough", "as_near_as_dials_go", "too_big", "left"]


def verdict_of(state: State, advice: Advice) -> Verdict:
    """Return how a fitting ends that ends here."""
    sure_enough = advice.now.joint >= state.started.preferences.confidence
    if advice.why == "good_enough" or sure_enough:
        return "good_enough"
    over = [g for g in advice.out_of_reach if _too_big_closed(state, state.aims.steered[g])]
    return "too_big" if over else "as_near_as_dials_go"


def _too_big_closed(state: State, goal: Goal) -> bool:
    """Whether a line would be over its target even with every dial closed.

    One that is over only because another row had to be opened far is as near as dials go.
    """
    dials = state.belief.layout.dials
    least = dict(zip(dials, state.belief.layout.least.tolist(), strict=True))
    return predict(turned(state.belief, least), goal.line, goal.what)[0] > goal.high_mm


def finished(state: State, new_id: int, verdict: Verdict, advice: Advice | None = None) -> Finished:
    """Return the last instruction: the verdict, and what each line came to."""
    now = advice.now if advice else outlook(state.belief, state.aims.steered)
    lines = [
        _result(goal, float(now.means_mm[g]), float(now.spreads_mm[g]), float(now.chances[g]))
        for g, goal in enumerate(state.aims.steered)
    ]
    lines += [_compared(state, goal) for goal in state.aims.reported if is_known(state, goal)]
    return Finished(
        id=new_id,
        verdict=verdict,
        joint=now.joint,
        readings=state.readings,
        turns=state.turns + state.pending_turns(),
        walks=state.walks,
        clicks=state.clicks,
        lines=tuple(lines),
        dials=dict(state.numbers),
    )


def is_known(state: State, goal: Goal) -> bool:
    """Whether anything is known of a line without dials: its closed girth, or a reading."""
    line = state.started.form.line(goal.line)
    known = line is not None and (line.closed_girth_mm is not None or bool(line.girths))
    return known or (goal.line, goal.what) in state.last_read


def _compared(state: State, goal: Goal) -> LineResult:
    there = outlook(state.belief, [goal])
    return _result(
        goal, float(there.means_mm[0]), float(there.spreads_mm[0]), float(there.chances[0])
    )


def _result(goal: Goal, mean: float, spread: float, chance: float) -> LineResult:
    # Within tolerance nothing is left to do; past it, what is missing or too much is told whole.
    within = goal.low_mm <= mean <= goal.high_mm
    return LineResult(
        line=goal.line,
        what=goal.what,
        target_mm=goal.target_mm,
        predicted_mm=mean,
        spread_mm=spread,
        chance=chance,
        left_for_padding_mm=0.0 if within else max(goal.target_mm - mean, 0.0),
        stands_out_mm=0.0 if within else max(mean - goal.target_mm, 0.0),
    )
