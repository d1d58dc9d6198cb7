# SPDX-License-Identifier: MIT
"""The real program killed at random moments: ``python -m tests.trust.kills --kills 500``.

An answer is acknowledged once the line that follows it has been read. After each kill the record
must hold every acknowledged answer, at most the one under way besides, and the program started
again must go on at the instruction that was open.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fitassist.domain.form_file import form_to_json
from fitassist.session.events import DialsSet, FormRead, QuestionAnswered, Undone
from fitassist.storage.record import Record
from tests.unit.scripted.partner import BODY, a_form

ROOT = Path(__file__).parents[2]
# A tight joint tolerance and a tape that scatters make a fitting long enough to be killed often.
TARGETS = [{"tolerance": ["-1/8", "1/8"]} | target for target in BODY["targets"]]  # type: ignore[attr-defined]
OPEN_KINDS = ("set", "measure", "ask")
LONGEST_WAIT_S = 60.0

Line = dict[str, Any]
Fact = tuple[str, Any]


class Program:
    """The program itself, in a process of its own, one fitting over pipes."""

    def __init__(self, folder: Path, person: Path) -> None:
        files = ("--form", folder / "form.json", "--body", folder / "body.json")
        self.process = subprocess.Popen(
            [sys.executable, "-m", "fitassist", "--scripted", *files, "--person", person],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            cwd=ROOT,
        )
        assert self.process.stdin
        assert self.process.stdout
        self.to, self.out = self.process.stdin, self.process.stdout
        self._watch = threading.Timer(LONGEST_WAIT_S, self.process.kill)
        self._watch.start()

    def next_open(self) -> Line | None:
        """Read up to the next line that wants an answer; None at the end."""
        for raw in self.out:
            line: Line = json.loads(raw)
            assert line["kind"] != "error", line
            if line["kind"] in OPEN_KINDS:
                return line
            if line["kind"] == "done":
                return None
        return None

    def say(self, answer: Line) -> None:
        self.to.write(json.dumps(answer).encode() + b"\n")
        self.to.flush()

    def kill(self) -> list[Line]:
        """Kill it (SIGKILL), and return what it had said but nobody had read."""
        self.process.kill()
        rest, error = self.process.communicate()
        self._watch.cancel()
        assert b"Traceback" not in error, error.decode()
        return [json.loads(line) for line in rest.splitlines() if line.endswith(b"}")]


class Siege:
    """One folder in which a fitting after another is begun, killed and taken up again."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder, self.chance = folder, random.Random(seed)
        (folder / "form.json").write_text(json.dumps(form_to_json(a_form())), encoding="utf-8")
        body = json.dumps(BODY | {"targets": TARGETS})
        (folder / "body.json").write_text(body, encoding="utf-8")
        self.counts: Counter[str] = Counter()
        self.person = folder
        self._another()

    def _another(self) -> None:
        self.counts["fittings"] += 1
        self.person = self.folder / f"p{self.counts['fittings']}.json"
        self.kept: list[Fact] = []  # acknowledged, in order
        self.numbers = {dial.name: dial.number for dial in a_form().dials}
        self.open: Line | None = None

    def round(self) -> None:
        """Start the program, answer for a while, kill it, and look at what is kept."""
        program = Program(self.folder, self.person)
        under_way: Fact | None = None
        try:
            if self.chance.random() < 0.1:  # while it is still starting
                time.sleep(self.chance.random() * 0.6)
            else:
                under_way = self._answer(program)
        finally:
            unread = program.kill()
        self.counts["kills"] += 1
        opened = [line for line in unread if line["kind"] in OPEN_KINDS]
        if under_way and (opened or any(line["kind"] == "done" for line in unread)):
            self._acknowledge(under_way)
            under_way = None
        if opened:
            self.open = opened[-1]
        self._check(under_way)

    def _answer(self, program: Program) -> Fact | None:
        """Answer some instructions; return the answer under way when it is time to kill."""
        asked = program.next_open()
        if self.open is not None and asked is not None:
            assert _same(asked, self.open), (asked, self.open)
        for left in range(self.chance.randrange(1, 6), 0, -1):
            if asked is None:
                self._another()
                return None
            self.open = asked
            answer, fact = self._reply(asked)
            program.say(answer)
            if left == 1:
                time.sleep(self.chance.random() ** 2 * 0.08)  # writing takes some ms
                return fact
            asked = program.next_open()
            self._acknowledge(fact)
        return None

    def _reply(self, asked: Line) -> tuple[Line, Fact]:
        head = {"to": asked["id"]}
        if self.kept and self.chance.random() < 0.05 and self.kept[-1][0] == "read":
            return head | {"answer": "undo"}, ("undone", None)
        if asked["kind"] == "set":
            numbers = {dial["dial"]: dial["number"] for dial in asked["dials"]}
            return head | {"answer": "done"}, ("set", numbers)
        if asked["kind"] == "ask":
            choice = asked["choices"][self.chance.randrange(len(asked["choices"]))]
            return head | {"answer": "choose", "choice": choice}, ("chosen", choice)
        there = [n for name, n in self.numbers.items() if name.startswith(f"{asked['line']}.")]
        mm = round(25.4 * sum(there) / len(there) - 4 + self.chance.gauss(0, 4), 1)
        return head | {"answer": "reading", "value": mm, "unit": "mm"}, ("read", mm)

    def _acknowledge(self, fact: Fact) -> None:
        self.kept.append(fact)
        self.counts["answers"] += 1
        if fact[0] == "set":
            self.numbers |= fact[1]

    def _check(self, under_way: Fact | None) -> None:
        """Every acknowledged answer is there, and nothing but the one under way besides."""
        if not self.person.exists():
            assert not self.kept
            self.counts["before the record was made"] += 1
            return
        with Record.open(self.person, lambda: "", read_only=True) as record:
            found = _facts(record)
            assert {notice.code for notice in record.notices} <= {"journal_torn"}
        assert found[: len(self.kept)] == self.kept, (found, self.kept)
        more = found[len(self.kept) :]
        assert more in ([], [under_way]), (more, under_way)
        if more:
            assert under_way is not None
            self._acknowledge(under_way)
            self.open = None  # what came next was never heard
            self.counts["kept though not acknowledged"] += 1


def _same(one: Line, other: Line) -> bool:
    """Whether two lines ask the same; numbers of lines begin anew with each start."""
    return {k: v for k, v in one.items() if k not in ("id", "about")} == {
        k: v for k, v in other.items() if k not in ("id", "about")
    }


def _facts(record: Record) -> list[Fact]:
    found: list[Fact] = []
    for one in record.events:
        event = one.event
        if isinstance(event, DialsSet):
            found.append(("set", dict(event.numbers)))
        elif isinstance(event, FormRead):
            found.append(("read", event.mm))
        elif isinstance(event, QuestionAnswered):
            found.append(("chosen", event.choice))
        elif isinstance(event, Undone):
            found.append(("undone", None))
    return found


def run(folder: Path, kills: int, seed: int) -> Counter[str]:
    """Kill so many times and return what happened; AssertionError if anything was lost."""
    siege = Siege(folder, seed)
    for _ in range(kills):
        siege.round()
    return siege.counts


def main(argv: Sequence[str] | None = None) -> int:
    """Run the long form."""
    parser = argparse.ArgumentParser(prog="python -m tests.trust.kills")
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(argv)
    began = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="fitassist-kills-") as folder:
        counts = run(Path(folder), asked.kills, asked.seed)
    print(f"nothing lost in {time.monotonic() - began:.0f} s: {dict(counts)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
