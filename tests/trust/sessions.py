# SPDX-License-Identifier: MIT
"""Whole scripted sessions over the real store; what was not kept is answered again."""

from __future__ import annotations

import contextlib
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from fitassist.domain.form_file import form_to_json
from fitassist.errors import BadFile
from fitassist.scripted import main
from fitassist.session.events import DialsSet, FormRead
from fitassist.storage.record import Record
from tests.unit.scripted.partner import BODY, a_form

Line = dict[str, Any]
Fact = tuple[str, Any]


class Person(io.RawIOBase):
    """Answers what is open; says again what the program could not keep, so often.

    Parameters
    ----------
    most
        Answers given before the input ends.
    before
        Called before each answer with how many were acknowledged.
    patience
        How often an answer that was not kept is given again.
    restless
        Only tells of a dial turned to and fro, so that the fitting never ends.
    """

    def __init__(
        self,
        sink: io.BytesIO,
        most: int,
        before: Callable[[int], None] = lambda _n: None,
        patience: int = 3,
        restless: bool = False,
    ) -> None:
        self.sink, self.most, self.before, self.patience = sink, most, before, patience
        self.restless = restless
        self.facts: list[Fact] = []  # acknowledged: another line than an error came after
        self.refused: list[Line] = []
        self._said: tuple[Line, Fact] | None = None
        self.numbers = {dial.name: dial.number for dial in a_form().dials}

    def settle(self) -> Line | None:
        """Take the last line heard for what it says about the last answer."""
        heard = self.sink.getvalue().splitlines()
        last: Line | None = json.loads(heard[-1]) if heard else None
        if self._said is not None and last is not None and last["kind"] != "error":
            kind, value = self._said[1]
            self.facts.append((kind, value))
            self.numbers |= value if kind == "set" else {}
            self._said = None
        return last

    def readline(self, size: int | None = -1) -> bytes:
        last = self.settle()
        assert last is not None
        if last["kind"] == "error":
            self.refused.append(last)
            self.patience -= 1
        if len(self.facts) >= self.most or self.patience < 0:
            return b""
        self.before(len(self.facts))
        self._said = self._said or self._answer(last)
        return json.dumps(self._said[0]).encode() + b"\n"

    def _answer(self, asked: Line) -> tuple[Line, Fact]:
        if self.restless:
            number = a_form().dials[0].least + len(self.facts) % 2 * 0.25
            said = {"answer": "volunteer", "dial": a_form().dials[0].name, "number": number}
            return {"to": asked["id"], **said}, ("set", {a_form().dials[0].name: number})
        if asked["kind"] == "set":
            numbers = {dial["dial"]: dial["number"] for dial in asked["dials"]}
            return {"to": asked["id"], "answer": "done"}, ("set", numbers)
        assert asked["kind"] == "measure", asked
        there = [n for name, n in self.numbers.items() if name.startswith(f"{asked['line']}.")]
        mm = round(25.4 * sum(there) / len(there) - 4.0)
        return {"to": asked["id"], "answer": "reading", "value": mm}, ("read", mm)


class Session:
    """One session: its files, what was acknowledged in it, how it ended."""

    def __init__(self, folder: Path, person: Path, tolerance: str = "1/4") -> None:
        self.folder, self.person = folder, person
        targets = [{"tolerance": [f"-{tolerance}", tolerance]} | one for one in BODY["targets"]]
        (folder / "form.json").write_text(json.dumps(form_to_json(a_form())), encoding="utf-8")
        body = json.dumps(BODY | {"targets": targets})
        (folder / "body.json").write_text(body, encoding="utf-8")

    def run(self, most: int, **wishes: Any) -> tuple[int, Person, list[Line]]:
        """Answer so many times; return the exit code, the person and the lines."""
        sink = io.BytesIO()
        person = Person(sink, most, **wishes)
        with contextlib.suppress(BadFile):
            for kind, value in self.kept():  # where the form was left standing
                person.numbers |= value if kind == "set" else {}
        files = ("--form", self.folder / "form.json", "--body", self.folder / "body.json")
        arguments = [*map(str, files), "--person", str(self.person)]
        code = main(arguments, person, sink)  # type: ignore[arg-type]
        person.settle()
        return code, person, [json.loads(line) for line in sink.getvalue().splitlines()]

    def kept(self) -> list[Fact]:
        """Return the answers in the record, opened anew."""
        with Record.open(self.person, lambda: "", read_only=True) as record:
            return facts(record)


def facts(record: Record) -> list[Fact]:
    """Return the sets and readings of a record."""
    found: list[Fact] = []
    for one in record.events:
        if isinstance(one.event, DialsSet):
            found.append(("set", dict(one.event.numbers)))
        elif isinstance(one.event, FormRead):
            found.append(("read", one.event.mm))
    return found
