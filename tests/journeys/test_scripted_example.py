# SPDX-License-Identifier: MIT
"""The example in the developers' guide is a session that really runs.

``python -m tests.journeys.test_scripted_example`` writes it anew after the engine has changed.
"""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

import fitassist.scripted
from fitassist.scripted import main, refusals

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "tests" / "data" / "scripted_example.txt"
GUIDE = ROOT / "DEVELOPERS.md"
FORM = ROOT / "resources" / "forms" / "four_parts_whole_height.json"
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


def alike(shown: object, real: object, name: str = "") -> bool:
    """Compare as the protocol promises: texts may change, and numbers in their last figures."""
    if name in {"text", "reason"}:
        return isinstance(real, str) and bool(real)
    if isinstance(shown, dict) and isinstance(real, dict):
        same = list(shown) == list(real)
        return same and all(alike(shown[key], real[key], key) for key in shown)
    if isinstance(shown, list) and isinstance(real, list):
        return len(shown) == len(real) and all(map(alike, shown, real))
    if isinstance(shown, float) and isinstance(real, float):
        return real == pytest.approx(shown, abs=0.11)
    return shown == real


def test_the_example_runs_as_it_is_printed(tmp_path: Path) -> None:
    lines = example()
    answers = [json.dumps(found).encode() for way, found in lines if way == "in"]
    code, said = session(answers, tmp_path)
    assert code == 0
    shown = [found for way, found in lines if way == "out"]
    real = [json.loads(line) for line in said]
    assert [one["kind"] for one in real] == [one["kind"] for one in shown]
    for one, other in zip(shown, real, strict=True):
        assert alike(one, other), (one, other)


def test_the_comparison_sees_what_matters() -> None:
    line = {"kind": "measure", "id": 3, "expect_mm": 900.0, "reason": "a text"}
    assert alike(line, line | {"reason": "another text", "expect_mm": 900.1})
    for change in ({"id": 4}, {"expect_mm": 901.0}, {"reason": ""}, {"more": 1}, {"kind": "set"}):
        assert not alike(line, line | change)


def test_the_example_shows_every_kind_of_line_but_the_state() -> None:
    kinds = {found["kind"] for way, found in example() if way == "out"}
    assert kinds == {"hello", "note", "set", "measure", "ask", "error", "done"}


@pytest.mark.skipif(not GUIDE.exists(), reason="no guide in this copy")
def test_the_guide_prints_this_example() -> None:
    guide = GUIDE.read_text(encoding="utf-8")
    printed = [line for line in guide.splitlines() if re.match(r"(out|in ) \{", line)]
    assert printed == EXAMPLE.read_text(encoding="utf-8").splitlines()


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


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as name:
        EXAMPLE.write_text(write_anew(Path(name)), encoding="utf-8")
