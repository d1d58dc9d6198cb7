# SPDX-License-Identifier: MIT
"""From what the core says to the objects on the wire: lengths in mm to 0.1, chances to 4 digits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitassist.domain.body import Preferences
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check, Finished, LineResult, Measure, Note, SetDials
from fitassist.errors import FitError
from fitassist.scripted.refusals import wire_code
from fitassist.session.view import FittingView, LineView
from fitassist.wording.instructions import detail, title
from fitassist.wording.reasons import coming, note, reason
from fitassist.wording.sentences import sentence

PROTOCOL = 1

Message = dict[str, Any]

# Notes of other kinds are for a window: each set and measure has its reason in the line itself.
NOTE_CODES = frozenset({"too_big", "symmetry", "dial_limit", "caution", "step"})


def hello(view: FittingView, wire_id: int, preferences: Preferences) -> Message:
    """Return the first line: units, tolerances and the confidence asked for."""
    tolerances = {
        _place(line.line, line.what): [round(side, 3) for side in line.tolerance_mm]
        for line in view.lines
    }
    return {
        "kind": "hello",
        "id": wire_id,
        "protocol": PROTOCOL,
        "units": "mm",
        "tolerance_mm": tolerances,
        "confidence": preferences.confidence,
    }


def set_message(step: SetDials, wire_id: int, form: Form, preferences: Preferences) -> Message:
    """Return the dials of one walk round the form."""
    dials = [
        {
            "dial": turn.dial,
            "action": turn.action,
            "from": _number(turn.start),
            "number": _number(turn.number),
            "clicks": turn.clicks,
        }
        for turn in step.turns
    ]
    unit = preferences.units
    why = reason(step.reason, unit) or title(step, form, unit)
    return {"kind": "set", "id": wire_id, "row": step.row, "dials": dials, "reason": why}


def measure_message(step: Measure, wire_id: int, form: Form, preferences: Preferences) -> Message:
    """Return one reading to be taken, and what it should say."""
    unit = preferences.units
    return {
        "kind": "measure",
        "id": wire_id,
        "line": step.line,
        "what": step.what.value,
        "expect_mm": _mm(step.expect_mm),
        "spread_mm": _mm(step.spread_mm),
        "target_mm": _mm(step.target_mm),
        "reason": reason(step.reason, unit) or title(step, form, unit),
    }


def ask_message(
    step: Ask, wire_id: int, sent: Mapping[int, int], form: Form, preferences: Preferences
) -> Message:
    """Return a question; `sent` maps the core's ids to those on the wire."""
    return {
        "kind": "ask",
        "id": wire_id,
        "code": step.code,
        "about": None if step.about is None else sent.get(step.about),
        "choices": list(step.choices),
        "text": title(step, form, preferences.units),
    }


def check_message(step: Check, wire_id: int, form: Form, preferences: Preferences) -> Message:
    """Return a plain step as a note: a script has nothing to answer to it."""
    unit = preferences.units
    text = ". ".join(part for part in (title(step, form, unit), detail(step, form, unit)) if part)
    return _note("step", wire_id, "", None, text)


def note_message(said: Note, wire_id: int, preferences: Preferences) -> Message:
    """Return a note."""
    return _note(said.code, wire_id, said.line, said.amount_mm, note(said, preferences.units))


def state_message(view: FittingView, wire_id: int, preferences: Preferences) -> Message:
    """Return how every line stands, for ``--verbose``."""
    nexts = [coming(one.kind, one.place, one.reason, preferences.units) for one in view.upcoming]
    return {
        "kind": "state",
        "id": wire_id,
        "lines": [_line_state(line) for line in view.lines],
        "joint": _chance(view.joint),
        "next": nexts,
    }


def done_message(end: Finished, wire_id: int) -> Message:
    """Return how the fitting ended."""
    return {
        "kind": "done",
        "id": wire_id,
        "verdict": end.verdict,
        "joint": _chance(end.joint),
        "readings": end.readings,
        "turns": end.turns,
        "walks": end.walks,
        "clicks": end.clicks,
        "lines": [_line_result(result) for result in end.lines],
        "dials": {name: _number(number) for name, number in end.dials.items()},
    }


def error_message(error: FitError, to: int | None, preferences: Preferences) -> Message:
    """Return why a line was refused; `to` is the instruction that is still open."""
    return {
        "kind": "error",
        "to": to,
        "code": wire_code(error),
        "field": error.field,
        "text": sentence(error, preferences.units),
        "state": "unchanged",
    }


def _note(code: str, wire_id: int, line: str, amount_mm: float | None, text: str) -> Message:
    return {
        "kind": "note",
        "id": wire_id,
        "code": code,
        "line": line or None,
        "amount_mm": _mm(amount_mm),
        "text": text,
    }


def _line_state(line: LineView) -> Message:
    return _line(line.line, line.what) | {
        "predicted_mm": _mm(line.predicted_mm),
        "target_mm": _mm(line.target_mm),
        "spread_mm": _mm(line.spread_mm),
        "chance": _chance(line.chance),
    }


def _line_result(result: LineResult) -> Message:
    return _line(result.line, result.what) | {
        "target_mm": _mm(result.target_mm),
        "predicted_mm": _mm(result.predicted_mm),
        "spread_mm": _mm(result.spread_mm),
        "chance": _chance(result.chance),
        "left_for_padding_mm": _mm(result.left_for_padding_mm),
    }


def _line(line: str, what: What) -> Message:
    """Name a line; what is measured there is said only where it is not the girth."""
    return {"line": line} if what == What.GIRTH else {"line": line, "what": what.value}


def _place(line: str, what: What) -> str:
    return line if what == What.GIRTH else f"{line}.{what.value}"


def _mm(value: float | None) -> float | None:
    return None if value is None else round(value, 1) + 0.0  # no "-0.0"


def _chance(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _number(value: float) -> float:
    return round(float(value), 6) + 0.0
