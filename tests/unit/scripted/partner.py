# SPDX-License-Identifier: MIT
"""Somebody at a form who answers what a scripted session says, and the files it is about."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.domain.lines import Seam
from fitassist.scripted import main

OPEN = 3  # id of the first instruction of these files: hello, a caution, then a set

BODY = {
    "format": "fitassist-body",
    "version": 1,
    "name": "somebody",
    "targets": [
        {"line": "bust", "value": "37", "unit": "in"},
        {"line": "waist", "value": "30", "unit": "in"},
        {"line": "hip", "value": "39", "unit": "in"},
    ],
}

Lines = list[dict[str, Any]]


def a_form() -> Form:
    numbers = {"bust": 35, "waist": 28, "hip": 37}
    dials = [
        Dial(name=f"{row}.{seam}", least=n, greatest=n + 7, click=0.25, number=n)
        for row, n in numbers.items()
        for seam in Seam
    ]
    return Form(
        name="a form of four parts",
        parts=4,
        lines=tuple(FormLine(name=row, closed_girth_mm=n * 25.4) for row, n in numbers.items()),
        rows=tuple(Row(name=row, line=row) for row in numbers),
        dials=tuple(dials),
    )


def arguments(files: Path, *more: object) -> list[str]:
    given = ["--form", files / "form.json", "--body", files / "body.json", *more]
    return [str(one) for one in given]


def said(out: bytes) -> Lines:
    assert out == b"" or out.endswith(b"\n")
    return [json.loads(line) for line in out.splitlines()]


def run(files: Path, lines: Iterable[bytes], *more: object) -> tuple[int, Lines]:
    """Run one session over the given lines."""
    sink = io.BytesIO()
    code = main(arguments(files, *more), io.BytesIO(b"".join(lines)), sink)
    return code, said(sink.getvalue())


class Partner(io.RawIOBase):
    """Answers the last line said, as the person at a form would; ends the input after a while."""

    def __init__(self, sink: io.BytesIO, most: int = 200) -> None:
        self.sink, self.most, self.heard = sink, most, 0
        self.numbers = {dial.name: dial.number for dial in a_form().dials}
        self.instructions: Lines = []

    def readline(self, size: int | None = -1) -> bytes:
        if self.heard >= self.most:
            return b""
        self.heard += 1
        asked = said(self.sink.getvalue())[-1]
        self.instructions.append(asked)
        return json.dumps(self.answer(asked)).encode() + b"\n"

    def girth_mm(self, line: str) -> float:
        """Opening a seam by an inch of number gives a quarter of it, less a little give."""
        there = [n for name, n in self.numbers.items() if name.startswith(f"{line}.")]
        return 25.4 * sum(there) / len(there) - 4.0

    def answer(self, asked: dict[str, Any]) -> dict[str, Any]:
        if asked["kind"] == "set":
            self.numbers |= {dial["dial"]: dial["number"] for dial in asked["dials"]}
            return {"to": asked["id"], "answer": "done"}
        if asked["kind"] == "measure":
            mm = round(self.girth_mm(asked["line"]))
            return {"to": asked["id"], "answer": "reading", "value": mm, "unit": "mm"}
        return {"to": asked["id"], "answer": "choose", "choice": asked["choices"][0]}


def fitted(files: Path, *more: object, most: int = 200) -> tuple[int, bytes, Partner]:
    """Run a session with somebody answering sensibly."""
    sink = io.BytesIO()
    partner = Partner(sink, most)
    code = main(arguments(files, *more), partner, sink)  # type: ignore[arg-type]
    return code, sink.getvalue(), partner


def line(**answer: object) -> bytes:
    return json.dumps(answer).encode() + b"\n"
