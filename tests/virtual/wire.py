# SPDX-License-Identifier: MIT
"""The person at the virtual form, on the far side of a process that speaks JSON lines."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.virtual.cases import Case
from tests.virtual.judge import Outcome, Tally
from tests.virtual.play import MOST_ANSWERS, Endless

PROGRAM = (sys.executable, "-m", "fitassist.scripted")
ROOT = Path(__file__).parents[2]


class Broken(Exception):
    """A line that protocol 1 does not allow, or an error where nothing was wrong."""


def body_file(case: Case) -> dict[str, Any]:
    """Return the body file of a case, with how it is to be judged."""
    room = [-case.tolerance_mm, case.tolerance_mm]
    return {
        "format": "fitassist-body",
        "version": 1,
        "name": "Someone",
        "kind": "woman" if case.sex == "F" else "man",
        "targets": [
            {"line": line, "what": "girth", "value": girth, "unit": "mm", "tolerance": room}
            for line, girth in case.targets_mm.items()
        ],
        "preferences": {
            "tape_spread_mm": max(case.form.options.tape_spread_mm, 0.5),
            "units": case.form.options.units,
        },
    }


@dataclass
class _Person:
    """Does what a line asks and says what to answer."""

    case: Case
    tally: Tally = field(default_factory=Tally)
    stated: list[tuple[float, bool]] = field(default_factory=list)
    answers: int = 0
    last_id: int = 0

    def meet(self, message: dict[str, Any]) -> dict[str, Any] | None:
        """Return the answer to a line, or None if it wants none."""
        kind = message["kind"]
        if kind == "error":
            raise Broken(f"refused: {message}")
        if message["id"] <= self.last_id or (kind == "hello") != (self.last_id == 0):
            raise Broken(f"out of order: {message}")
        self.last_id = message["id"]
        if kind == "state" and self.answers and message["joint"] is not None:
            self.stated.append((message["joint"], self.case.within()))
        if kind not in ("set", "measure", "ask"):
            return None
        self.answers += 1
        if self.answers > MOST_ANSWERS:
            raise Endless(f"case {self.case.seed}: no end after {MOST_ANSWERS} answers")
        return {"to": message["id"]} | self._do(kind, message)

    def _do(self, kind: str, message: dict[str, Any]) -> dict[str, Any]:
        form = self.case.form
        if kind == "set":
            for one in message["dials"]:
                dial, number = one["dial"], one["number"]
                start, step = form.numbers[dial], form.made.step
                moved = abs(number - start)
                opens = number > start
                if abs(one["from"] - start) > 1e-6 or (one["action"] == "open") != opens:
                    raise Broken(f"{dial} stands at {start}: {one}")
                if abs(moved / step - one["clicks"]) > 1e-3:
                    raise Broken(f"{dial} clicks do not add up: {one}")
                self.tally.turn(dial, start, number, step)
                form.turn(dial, number)
            return {"answer": "done"}
        if kind == "measure":
            self.tally.read()
            girth = form.tape(message["line"], message["what"])
            return {"answer": "reading", "value": girth, "unit": "mm"}
        choices = message["choices"]
        again = message["code"] == "reading_unlikely" and "again" in choices
        return {"answer": "choose", "choice": "again" if again else choices[0]}


def play_scripted(
    case: Case, folder: Path, program: Sequence[str] = PROGRAM
) -> tuple[Outcome, dict[str, Any]]:
    """Play a case over a child process; returns our outcome and the child's last line.

    Parameters
    ----------
    folder
        Where the form and body files are written, and the learned form (``learned.json``).
    program
        Command that is given ``--form --body --learned-out --verbose``.
    """
    files = {"form": case.form.description(), "body": body_file(case)}
    for name, content in files.items():
        (folder / f"{name}.json").write_text(json.dumps(content), encoding="utf-8")
    command = [*program, "--form", str(folder / "form.json"), "--body", str(folder / "body.json")]
    command += ["--learned-out", str(folder / "learned.json"), "--verbose"]
    person = _Person(case)
    with subprocess.Popen(
        command,
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        encoding="utf-8",
    ) as child:
        try:
            end = _converse(child, person)
        except BaseException:
            child.kill()
            raise
        code = child.wait(timeout=60)
    if code != 0 or end is None:
        raise Broken(f"ended with {code}, last line {end}")
    outcome = Outcome.of(
        person.tally, case.worst_mm(), case.tolerance_mm, end["verdict"], person.stated
    )
    return outcome, end


def _converse(child: subprocess.Popen[str], person: _Person) -> dict[str, Any] | None:
    assert child.stdin is not None
    assert child.stdout is not None
    for line in child.stdout:
        message = json.loads(line)
        answer = person.meet(message)
        if message["kind"] == "done":
            return dict(message)
        if answer is not None:
            child.stdin.write(json.dumps(answer) + "\n")
            child.stdin.flush()
    return None
