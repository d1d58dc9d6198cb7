# SPDX-License-Identifier: MIT
"""From an answer to events: what fits the instruction on screen, and what is refused.

Refusals are FitErrors with a code; nothing has been recorded when one is raised.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from fitassist.domain import answers as an
from fitassist.domain.form import Dial
from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check, Finished, Instruction, Measure, SetDials
from fitassist.errors import FitError
from fitassist.session import events as ev
from fitassist.session.state import State

# A reading outside these limits cannot be of a torso; between them anything is taken.
LEAST_MM, MOST_MM = 20.0, 3000.0


def events_for(
    state: State, instruction: Instruction, answer: an.Answer, log: Sequence[ev.Recorded]
) -> list[ev.Event]:
    """Return the events an answer means; raises FitError if it does not fit."""
    if isinstance(answer, an.Undo):
        return [_undone(log)]
    if isinstance(answer, an.VolunteeredReading):
        return [_volunteered(state, answer)]
    if isinstance(answer, an.VolunteeredDial):
        number = _number(state, answer.dial, answer.number)
        return [ev.DialsSet(numbers={answer.dial: number})]
    if isinstance(answer, an.Free):
        _dial(state, answer.dial)
        return [ev.DialFreed(dial=answer.dial)]
    if isinstance(instruction, Finished):
        raise FitError("finished")
    if isinstance(answer, an.Leave):
        return [ev.FittingLeft()]
    if isinstance(answer, an.Skip):
        if isinstance(instruction, Ask):
            raise FitError("wrong_answer", expected="choose")
        return [ev.Skipped(to=instruction.id)]
    return _answered(state, instruction, answer)


def _answered(state: State, instruction: Instruction, answer: an.Answer) -> list[ev.Event]:
    if isinstance(instruction, SetDials) and isinstance(answer, an.Done):
        return [_dials_set(state, instruction, answer)]
    if isinstance(instruction, Check) and isinstance(answer, an.Done):
        return [ev.CheckDone(to=instruction.id, code=instruction.code)]
    if isinstance(instruction, Measure) and isinstance(answer, an.TapeReading):
        return [_read(instruction, answer.mm, answer.text)]
    if isinstance(instruction, Measure) and isinstance(answer, an.Ribbon):
        if instruction.target_mm is None:
            raise FitError("no_ribbon", field="marks", line=instruction.line)
        by = _length(answer.by_mm, "by", least=0.0)
        mm = instruction.target_mm + (by if answer.marks == "apart" else -by)
        return [_read(instruction, mm, answer.text, answer.marks)]
    if isinstance(instruction, Ask) and isinstance(answer, an.Choose):
        if answer.choice not in instruction.choices:
            raise FitError("unknown_choice", field="choice", choices=instruction.choices)
        row = instruction.values.get("row")
        choice = f"{answer.choice}:{row}" if instruction.code == "symmetry" else answer.choice
        return [
            ev.QuestionAnswered(
                to=instruction.id, code=instruction.code, about=instruction.about, choice=choice
            )
        ]
    expected = {"set": "done", "check": "done", "measure": "reading", "ask": "choose"}
    raise FitError("wrong_answer", expected=expected[instruction.kind])


def _dials_set(state: State, instruction: SetDials, answer: an.Done) -> ev.DialsSet:
    numbers = {turn.dial: turn.number for turn in instruction.turns}
    stopped, stuck = [], []
    for odd in answer.exceptions:
        if odd.dial not in numbers:
            raise FitError("unknown_dial", field="dial", dial=odd.dial)
        numbers[odd.dial] = _number(state, odd.dial, odd.number)
        if odd.why == "stopped":
            stopped.append(odd.dial)
        elif odd.why == "stuck":
            stuck.append(odd.dial)
    return ev.DialsSet(
        to=instruction.id, numbers=numbers, stopped=tuple(stopped), stuck=tuple(stuck)
    )


def _read(
    instruction: Measure, mm: float, text: str, ribbon: Literal["", "apart", "overlap"] = ""
) -> ev.FormRead:
    return ev.FormRead(
        to=instruction.id,
        line=instruction.line,
        what=instruction.what,
        mm=_length(mm, "value"),
        text=text,
        ribbon=ribbon,
    )


def _volunteered(state: State, answer: an.VolunteeredReading) -> ev.FormRead:
    if state.started.form.line(answer.line) is None or answer.what == What.LENGTH:
        raise FitError("unknown_line", field="line", line=answer.line)
    mm = _length(answer.mm, "value")
    return ev.FormRead(line=answer.line, what=answer.what, mm=mm, text=answer.text)


def _length(mm: float, field: str, least: float = LEAST_MM) -> float:
    if not math.isfinite(mm) or not least <= mm <= MOST_MM:
        raise FitError("out_of_range", field=field, least_mm=least, most_mm=MOST_MM)
    return mm


def _dial(state: State, name: str) -> Dial:
    dial = state.started.form.dial(name)
    if dial is None or name not in state.numbers:
        raise FitError("unknown_dial", field="dial", dial=name)
    return dial


def _number(state: State, name: str, number: float) -> float:
    dial = _dial(state, name)
    if not math.isfinite(number) or not dial.least - 1e-9 <= number <= dial.greatest + 1e-9:
        raise FitError(
            "number_out_of_range",
            field="number",
            dial=name,
            least=dial.least,
            greatest=dial.greatest,
        )
    return number


def last_answer(log: Sequence[ev.Recorded]) -> ev.Recorded | None:
    """Return the last answer that can still be taken back."""
    undone = {r.event.undone_seq for r in log if isinstance(r.event, ev.Undone)}
    passive = (ev.Advised, ev.PlanAdopted, ev.Undone)
    # Turning dials back answers an undo; it is not itself an answer to take back.
    back = {
        r.event.instruction.id
        for r in log
        if isinstance(r.event, ev.Advised)
        and isinstance(r.event.instruction, SetDials)
        and r.event.instruction.reason.code == "undo_set"
    }
    for r in reversed(log):
        if isinstance(r.event, passive) or r.seq in undone:
            continue
        if isinstance(r.event, ev.DialsSet) and r.event.to in back:
            continue
        return r
    return None


def _undone(log: Sequence[ev.Recorded]) -> ev.Undone:
    last = last_answer(log)
    if last is None:
        raise FitError("nothing_to_undo")
    return ev.Undone(undone_seq=last.seq)
