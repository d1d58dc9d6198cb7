# SPDX-License-Identifier: MIT
"""The scripted session: whole ones, and how they end."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from fitassist.scripted import main
from tests.unit.scripted.partner import (
    OPEN,
    Partner,
    arguments,
    fitted,
    line,
    run,
    said,
)


def test_a_session_ends_well_and_says_so(whole: tuple[int, bytes, Partner]) -> None:
    code, out, partner = whole
    lines = said(out)
    assert code == 0
    assert lines[0]["kind"] == "hello"
    assert lines[0]["protocol"] == 1
    assert lines[0]["units"] == "mm"
    assert lines[0]["tolerance_mm"]["bust"] == [-6.35, 6.35]  # a quarter inch
    done = lines[-1]
    assert done["kind"] == "done"
    assert done["verdict"] == "good_enough"
    assert done["dials"] == partner.numbers
    for result in done["lines"]:  # the form really is near its target, not only said to be
        assert abs(partner.girth_mm(result["line"]) - result["target_mm"]) < 9.525 + 3
    asked = [one["kind"] for one in partner.instructions]
    assert done["readings"] == asked.count("measure")
    assert done["walks"] == asked.count("set")


def test_ids_rise_strictly_over_all_lines(whole: tuple[int, bytes, Partner]) -> None:
    _code, out, _partner = whole
    ids = [one["id"] for one in said(out)]
    assert ids == sorted(set(ids))


def test_the_state_is_told_only_when_asked_for(
    files: Path, whole: tuple[int, bytes, Partner]
) -> None:
    assert all(one["kind"] != "state" for one in run(files, [])[1])
    states = [one for one in said(whole[1]) if one["kind"] == "state"]
    assert len(states) > 2
    for state in states:
        assert {one["line"] for one in state["lines"]} == {"bust", "waist", "hip"}
        assert 0 <= state["joint"] <= 1
        assert all(0 <= one["chance"] <= 1 for one in state["lines"])


def test_the_same_files_and_answers_give_the_same_bytes(
    files: Path, tmp_path: Path, whole: tuple[int, bytes, Partner]
) -> None:
    assert fitted(files, "--verbose")[1] == whole[1]
    for name in ("1.json", "2.json"):
        fitted(files, "--learned-out", tmp_path / name, most=5)
    assert (tmp_path / "1.json").read_bytes() == (tmp_path / "2.json").read_bytes()


def test_another_seed_for_hashes_gives_the_same_bytes(files: Path) -> None:
    outs = {
        subprocess.run(
            [sys.executable, "-m", "fitassist.scripted", *arguments(files)],
            input=line(to=OPEN, answer="done") + line(to=OPEN + 1, answer="done"),
            capture_output=True,
            check=False,
            env=os.environ | {"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(outs) == 1
    assert len(said(outs.pop())) > 3


def test_input_that_ends_is_told_by_the_exit_code(files: Path) -> None:
    code, lines = run(files, [])
    assert code == 3
    assert lines[-1]["kind"] in {"set", "measure"}
    assert fitted(files, most=3)[0] == 3


def test_leaving_ends_with_a_verdict_and_exit_code_zero(files: Path) -> None:
    lines = run(files, [])[1]
    code, lines = run(files, [line(to=lines[-1]["id"], answer="leave")])
    assert code == 0
    assert lines[-1]["verdict"] == "left"


def test_a_last_line_without_an_end_counts(files: Path) -> None:
    open_id = run(files, [])[1][-1]["id"]
    code, lines = run(files, [line(to=open_id, answer="leave").rstrip()])
    assert code == 0
    assert lines[-1]["kind"] == "done"


def test_undoing_a_set_yields_the_set_back_first(files: Path) -> None:
    first = run(files, [])[1][-1]
    assert first["kind"] == "set"
    second = run(files, [line(to=first["id"], answer="done")])[1][-1]
    answers = [line(to=first["id"], answer="done"), line(to=second["id"], answer="undo")]
    back = run(files, answers)[1][-1]
    assert back["kind"] == "set"
    assert back["id"] > second["id"]
    turned = {dial["dial"]: (dial["from"], dial["number"]) for dial in first["dials"]}
    assert {d["dial"]: (d["number"], d["from"]) for d in back["dials"]} == turned
    assert all(dial["action"] == "close" for dial in back["dials"])


def test_a_stuck_dial_is_left_out_until_it_is_freed(files: Path) -> None:
    sink = io.BytesIO()

    class Stuck(Partner):
        def answer(self, asked: dict[str, Any]) -> dict[str, Any]:
            names = [dial["dial"] for dial in asked.get("dials", [])]
            found = super().answer(asked)
            if "bust.left" in names:
                self.numbers["bust.left"] = 35.25
                odd = {"dial": "bust.left", "number": 35.25, "why": "stuck"}
                found["except"] = [odd]
            return found

    partner = Stuck(sink, 60)
    main(arguments(files), partner, sink)  # type: ignore[arg-type]
    touched = [
        dial["dial"]
        for asked in partner.instructions
        if asked["kind"] == "set"
        for dial in asked["dials"]
    ]
    assert touched.count("bust.left") == 1


def test_an_output_nobody_reads_any_more_ends_it_quietly(files: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "fitassist.scripted", *arguments(files)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert child.stdin is not None
    assert child.stdout is not None
    assert child.stderr is not None
    while b'"kind":"set"' not in child.stdout.readline():
        pass
    child.stdout.close()
    child.stdin.write(line(to=OPEN, answer="done"))
    child.stdin.close()
    said_aside = child.stderr.read()
    child.stderr.close()
    assert child.wait(timeout=60) == 3
    assert said_aside == b""
