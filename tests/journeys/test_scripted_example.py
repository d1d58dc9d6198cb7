# SPDX-License-Identifier: MIT
"""The example in the developers' guide is a session that really runs.

``python -m tests.journeys.test_scripted_example`` writes it anew, here and in the guide; do so
whenever a change of the engine or of a sentence is meant.
"""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import fitassist.scripted
from fitassist.scripted import main, refusals

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "tests" / "data" / "scripted_example.txt"
GUIDE = ROOT / "DEVELOPERS.md"
FORM = ROOT / "resources" / "forms" / "four_parts_whole_height.json"
PRINTED = re.compile(r"^(?:out|in ) \{.*\n", re.MULTILINE)  # a line of the example
BODY = '{"name":"Example","targets":[{"line":"bust","value":"35 1/2","unit":"in"}]}'

# What the person at the form answers, in turn; the last one as often as it is needed.
ANSWERS: dict[str, list[dict[str, Any]]] = {
    "set": [{"answer": "done"}],
    "ask": [{"answer": "choose", "choice": "again"}],
    "measure": [
        {"answer": "reading", "value": "53 1/4", "unit": "in"},
        {"answer": "reading", "value": "35 1/4", "unit": "in"},
        {"answer": "ribbon", "marks": "apart", "by": "1/8", "unit": "in"},
    ],
}


def example() -> list[tuple[str, dict[str, Any]]]:
    """The lines of the example: "out" or "in", and the object."""
    found = []
    for line in EXAMPLE.read_text(encoding="utf-8").splitlines():
        way, text = line.split(maxsplit=1)
        found.append((way, json.loads(text)))
    return found


def session(answers: list[bytes], folder: Path) -> tuple[int, list[str]]:
    """Run a session with these answers; return its exit code and its lines."""
    body = folder / "body.json"
    body.write_text(BODY, encoding="utf-8")
    sink = io.BytesIO()
    source = io.BytesIO(b"".join(answer + b"\n" for answer in answers))
    code = main(["--form", str(FORM), "--body", str(body)], source, sink)
    return code, sink.getvalue().decode().splitlines()


def test_the_example_runs_exactly_as_it_is_printed(tmp_path: Path) -> None:
    printed = EXAMPLE.read_text(encoding="utf-8").splitlines()
    answers = [line.split(maxsplit=1)[1].encode() for line in printed if line.startswith("in")]
    code, said = session(answers, tmp_path)
    assert code == 0
    shown = [line.split(maxsplit=1)[1] for line in printed if line.startswith("out")]
    assert said == shown, "if this change is meant: python -m tests.journeys.test_scripted_example"


def test_the_example_shows_every_kind_of_line_but_the_state() -> None:
    kinds = {found["kind"] for way, found in example() if way == "out"}
    assert kinds == {"hello", "note", "set", "measure", "ask", "error", "done"}


def test_the_guide_prints_this_example() -> None:
    printed = PRINTED.findall(GUIDE.read_text(encoding="utf-8"))
    assert printed == EXAMPLE.read_text(encoding="utf-8").splitlines(keepends=True)


def test_the_description_names_every_error_code() -> None:
    described = fitassist.scripted.__doc__ or ""
    codes = set(re.findall(r'": "([a-z_]+)"', Path(refusals.__file__).read_text("utf-8")))
    assert {"bad_json", "wrong_id", "out_of_range"} <= codes
    assert {code for code in codes if code not in described} == set()


def write_anew(folder: Path) -> str:
    """Play the example once more, with one slip on the way, and return its text."""
    left = {kind: list(answers) for kind, answers in ANSWERS.items()}
    answers: list[bytes] = [b'{"to":2,"answer":"done"}']
    while True:
        code, said = session(answers, folder)
        asked = json.loads(said[-1])
        if code == 0:
            break
        if asked["kind"] == "error":
            asked = json.loads(said[-2])
        ready = left[asked["kind"]]
        answer = ready.pop(0) if len(ready) > 1 else ready[0]
        found = {"to": asked["id"]} | answer
        answers.append(json.dumps(found, separators=(",", ":")).encode())
    text = ""
    for line in said:
        text += f"out {line}\n"
        if json.loads(line)["kind"] not in {"hello", "note", "done"}:
            text += f"in  {answers.pop(0).decode()}\n"
    return text


def into_the_guide(text: str) -> None:
    """Put the example where the guide prints the old one."""
    guide = GUIDE.read_text(encoding="utf-8")
    places = [match.span() for match in PRINTED.finditer(guide)]
    first, last = places[0][0], places[-1][1]
    GUIDE.write_text(guide[:first] + text + guide[last:], encoding="utf-8")


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as name:
        written = write_anew(Path(name))
    EXAMPLE.write_text(written, encoding="utf-8")
    into_the_guide(written)
