# SPDX-License-Identifier: MIT
"""The program from outside, fitted beside the form by the keys of a numeric pad and nothing else.

The form that is measured is our own arithmetic: its girth is what its dials say together.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.outside.test_under_xvfb import (
    PERSON,
    Program,
    events_on_disk,
    kinds,
    press_until,
    profile,
    screen,
    shown,
    until,
)

__all__ = ["profile", "screen"]  # fixtures

MOST_ANSWERS = 60
LEAST_ANSWERS = 12
STARTED = "fitting_started"
MORE_MM = 6.0  # by our own choice
SIGNS = {"*": "KP_Multiply", "/": "KP_Divide", "+": "KP_Add", "-": "KP_Subtract"}

pytestmark = [
    pytest.mark.outside,
    pytest.mark.skipif(sys.platform == "win32", reason="there are no X screens on Windows"),
]


def type_eighths(program: Program, mm: float) -> None:
    """Type a length to the nearest eighth of an inch with keys of the pad: 38*5."""
    whole, rest = divmod(round(mm / 25.4 * 8), 8)
    for letter in f"{whole}*{rest}" if rest else str(whole):
        program.key(SIGNS.get(letter, f"KP_{letter}"))
    program.key("KP_Enter")


def begun_anew(profile: Path) -> dict[str, Any]:
    """Take back all that happened in the fitting of the demonstration; return how it began."""
    path = profile / "people" / f"{PERSON}.json"
    record = json.loads(path.read_text(encoding="utf-8"))
    begins = [i for i, one in enumerate(record["events"]) if one["event"]["kind"] == STARTED]
    record["events"] = record["events"][: begins[-1] + 1]
    path.write_text(json.dumps(record), encoding="utf-8")
    return dict(record["events"][-1]["event"])


def tape(profile: Path, form: dict[str, Any], line: str) -> float | None:
    """Return what the tape reads: as the dials of that line say together, and a little more."""
    stands = {dial["name"]: dial["number"] for dial in form["dials"] if not dial["missing"]}
    for told in kinds(profile, "dials_set"):
        stands.update(told["numbers"])
    rows = {row["name"] for row in form["rows"] if row["line"] == line}
    numbers = [n for name, n in stands.items() if name.rpartition(".")[0] in rows]
    return 25.4 * sum(numbers) / len(numbers) + MORE_MM if numbers else None


def answer(program: Program, profile: Path, form: dict[str, Any], step: dict[str, Any]) -> None:
    """Do what a step asks."""
    if step["kind"] == "measure":
        read = tape(profile, form, step["line"]) if step["what"] == "girth" else None
        type_eighths(program, read or step["expect_mm"] or step["target_mm"])
    elif step["kind"] == "ask":
        program.key("KP_1")
    else:
        program.key("KP_Enter")


def test_a_fitting_is_done_on_a_numeric_pad_in_the_view_beside_the_form(
    tmp_path: Path, profile: Path, screen: dict[str, str]
) -> None:
    form = begun_anew(profile)["form"]
    errors = tmp_path / "errors.txt"
    program = Program(profile, screen, errors)
    try:
        until("the first step", lambda: kinds(profile, "advised"))
        first = len(events_on_disk(profile))
        # Only F11 is no key of a pad. Once the first Enter was heard, the window listens.
        press_until(program, "KP_Enter", lambda: len(events_on_disk(profile)) > first)
        program.key("F11")
        given = 1
        while given < MOST_ANSWERS and shown(profile)["kind"] != "done":
            step, written = shown(profile), len(events_on_disk(profile))
            answer(program, profile, form, step)
            until("what follows", lambda n=written: len(events_on_disk(profile)) > n + 1)
            until("the step", lambda: events_on_disk(profile)[-1]["kind"] == "advised")
            program.picture(tmp_path / f"{given}-{shown(profile)['kind']}.png")
            given += 1
        end = shown(profile)
        assert end["kind"] == "done"
        assert end["verdict"] in ("good_enough", "as_near_as_dials_go")
        assert given >= LEAST_ANSWERS
        readings = kinds(profile, "form_read")
        # Undo by one key of the pad exists in the view alone: it is the view that was answered.
        assert any("*" in one["text"] for one in readings)
        taken_back = len(kinds(profile, "undone"))
        press_until(program, "KP_Divide", lambda: len(kinds(profile, "undone")) > taken_back)
        press_until(program, "ctrl+q", program.has_ended)
    finally:
        program.stop()
    assert "Traceback" not in errors.read_text()
