# SPDX-License-Identifier: MIT
"""Padding as a list of steps: strips, pieces from the smallest up, the tape, the eye, the proof.

The list is worked out anew from the plan and the record each time; a step is known by its id.
Which correction a reading or a look leads to is in ``padding_fixes``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from fitassist.domain.form import Form
from fitassist.padding.by_eye import stacks
from fitassist.padding.places import ALL_ROUND
from fitassist.session.padding_state import PaddingState
from fitassist.session.padding_work import PaddingWork, base_place

StepKind = Literal[
    "search", "slip_on", "strip", "card", "wedge", "piece", "stack", "wrap", "measure",
    "take_out", "put_in", "thin", "dial", "cover", "look", "proof", "bag", "count",
]  # fmt: skip
StepState = Literal["open", "done", "skipped"]

QUESTIONS = ("closes", "plumb", "sides")
# Fewer pieces than this are laid before the tape is worth an early wrap.
EARLY_PIECES = 4


@dataclass(frozen=True)
class Step:
    """One thing to do.

    Attributes
    ----------
    id
        Stays the same while plan and record say the same.
    place
        A place of padding, or a line for wraps and readings, or a question of the proof.
    values
        What its sentence needs; lengths in mm.
    """

    id: str
    kind: StepKind
    place: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    state: StepState = "open"


def base_steps(work: PaddingWork, state: PaddingState, form: Form) -> list[Step]:
    """Return all steps of a plan in order, without corrections, each open or done."""
    steps = [Step("search", "search")]
    if work.choice.carrier == "slip_on":
        steps.append(Step("slip_on", "slip_on"))
    steps += _strips(work, form)
    if work.wedge is not None:
        place, wedge = work.wedge
        values = {"lengths_mm": wedge.lengths_mm, "width_mm": wedge.width_mm}
        steps.append(Step(f"{place}:wedge", "wedge", place, values))
    steps += _wraps(work) if work.plan is None else _pieces(work)
    steps += [Step("cover", "cover"), Step("look", "look")]
    steps += [Step(f"proof:{question}", "proof", question) for question in QUESTIONS]
    if work.choice.carrier == "slip_on":
        steps.append(Step("bag", "bag"))
    steps.append(Step("count", "count"))
    return [replace(one, state=_state_of(one, state)) for one in steps]


def _state_of(step: Step, state: PaddingState) -> StepState:
    if step.id in state.skipped:
        return "skipped"
    laid = any(one.step == step.id for one in state.laid)
    read = any(one.step == step.id for one in state.readings)
    answered = step.kind == "proof" and bool(state.proof_answer(step.place))
    return "done" if laid or read or answered or step.id in state.done else "open"


def _strips(work: PaddingWork, form: Form) -> list[Step]:
    """Bridge every open seam before anything soft could sink into it."""
    if work.plan is None:
        return []
    strips = [
        Step(
            f"strip:{strip.seam.value}",
            "strip",
            strip.seam.value,
            {"length_mm": strip.length_mm, "width_mm": max(w for _z, w in strip.edges_mm)},
        )
        for strip in work.plan.strips
    ]
    is_split = {row.half for row in form.rows} >= {"upper", "lower"}
    return [*strips, Step("card", "card")] if is_split and strips else strips


def _wraps(work: PaddingWork) -> list[Step]:
    steps = []
    for wrap in work.wraps:
        values = {"sheets": wrap.sheets, "left_mm": wrap.left_mm}
        steps.append(Step(f"wrap:{wrap.line}", "wrap", wrap.line, values))
        steps.append(Step(f"measure:{wrap.line}", "measure", wrap.line))
    return steps


def _pieces(work: PaddingWork) -> list[Step]:
    """Return the pieces place by place with the tape after the last one that lies on a line."""
    if work.choice.manner == "by_eye":
        laying = _by_eye(work)
    elif work.choice.manner == "free":
        order = sorted(range(len(work.pieces)), key=lambda n: work.pieces[n].order)
        laying = [_piece_step(work, number) for number in order]
    else:
        laying = [_piece_step(work, number) for number in _tidy_order(work)]
    return _with_tape(work, laying)


def _tidy_order(work: PaddingWork) -> list[int]:
    """Order pieces from the top place to the lowest, pairs together, what goes all round last."""
    pieces = work.pieces
    height: dict[str, float] = {}
    for piece in pieces:
        base = base_place(piece.place)
        height[base] = max(height.get(base, -1e9), piece.outline.centroid.y)
    return sorted(
        range(len(pieces)),
        key=lambda n: (
            pieces[n].place == ALL_ROUND,
            -height[base_place(pieces[n].place)],
            base_place(pieces[n].place),
            pieces[n].place,
            pieces[n].order,
        ),
    )


def _piece_step(work: PaddingWork, number: int) -> Step:
    piece = work.pieces[number]
    same = [one for one in work.pieces if one.place == piece.place]
    rank = sorted(same, key=lambda one: one.order).index(piece) + 1
    width, height = piece.size_mm
    assert work.plan is not None
    surface = work.plan.gap.surface
    middle = piece.outline.centroid
    values = {
        "number": rank,
        "of": len(same),
        "plies": piece.plies,
        "width_mm": width,
        "height_mm": height,
        "kind": piece.kind.value,
        "share": float(middle.x / surface.width_mm) % 1.0,
        "z_mm": float(middle.y),
        "numbers": (number,),
    }
    return Step(work.keys[number], "piece", piece.place, values)


def _by_eye(work: PaddingWork) -> list[Step]:
    """Return one step for each place: how many layers, and how large."""
    assert work.plan is not None
    order = [work.pieces[n].place for n in _tidy_order(work)]
    by_place = {one.place: one for one in stacks(work.pieces, work.plan.feather_mm)}
    steps = []
    for place in dict.fromkeys(order):
        numbers = tuple(n for n, piece in enumerate(work.pieces) if piece.place == place)
        values = {"sizes_mm": by_place[place].sizes_mm, "numbers": numbers}
        steps.append(Step(f"{place}:all", "stack", place, values))
    return steps


def _with_tape(work: PaddingWork, laying: Sequence[Step]) -> list[Step]:
    """Put a reading after the last step that lies on each line, and an early one if it is long."""
    last: dict[str, int] = {}
    for at, step in enumerate(laying):
        for number in step.values["numbers"]:
            for line in work.lines_of(number):
                last[line] = at
    wanted = {one.line: one.wanted_mm for one in work.task.lines if one.wanted_mm > 0.0}
    steps: list[Step] = []
    for at, step in enumerate(laying):
        steps.append(step)
        is_last_of_place = at + 1 == len(laying) or (
            base_place(laying[at + 1].place) != base_place(step.place)
        )
        is_early = not any(one.kind == "measure" for one in steps) and is_last_of_place
        if is_early and len(laying) - at > EARLY_PIECES:
            lines = [n for n in work.lines_of(step.values["numbers"][0]) if n in wanted]
            line = max(lines, key=lambda n: wanted[n], default="")
            if line and last[line] > at:
                steps.append(Step(f"early:{line}", "measure", line, {"early": True}))
        ending = [line for line, end in last.items() if end == at and line in wanted]
        for line in reversed(ending):
            steps.append(Step(f"measure:{line}", "measure", line))
    return steps


def current(steps: Sequence[Step]) -> Step | None:
    """Return the first step that is open."""
    return next((one for one in steps if one.state == "open"), None)


def sheets_to_lay(step: Step, work: PaddingWork, state: PaddingState) -> int:
    """Return how many sheets to lay for a piece, if one works thinner or thicker than assumed."""
    plies = int(step.values["plies"])
    times = work.choice.thickness_mm / work.working_mm(state)
    return max(1, round(plies * times))
