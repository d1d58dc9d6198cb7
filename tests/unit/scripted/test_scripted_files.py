# SPDX-License-Identifier: MIT
"""Files of a scripted session: bad ones, the record that is gone on in, what was learned."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from fitassist.domain.form_file import load_form_text
from fitassist.scripted import main
from fitassist.session.events import FittingStarted, Undone
from fitassist.storage.record import Record
from tests.unit.scripted.partner import (
    BODY,
    Partner,
    arguments,
    fitted,
    line,
    run,
    said,
)


def test_bad_files_end_with_one_error_line_and_exit_code_two(files: Path, tmp_path: Path) -> None:
    body, form = str(files / "body.json"), str(files / "form.json")
    cases = {
        "not json": b"{",
        "not text": b"\xff\xfe",
        "not an object": b"[]",
        "another format": b'{"format":"something-else","version":1}',
        "newer": b'{"format":"fitassist-form","version":99}',
        "empty": b"",
    }
    for name, content in cases.items():
        path = tmp_path / f"{name}.json"
        path.write_bytes(content)
        for given_files in ((str(path), body), (form, str(path))):
            sink = io.BytesIO()
            code = main(["--form", given_files[0], "--body", given_files[1]], io.BytesIO(), sink)
            lines = said(sink.getvalue())
            assert code == 2, name
            assert [one["kind"] for one in lines] == ["error"], name
            assert lines[0]["to"] is None
            assert lines[0]["field"].startswith("form" if given_files[0] == str(path) else "body")
        assert path.read_bytes() == content


def test_a_file_that_is_not_there_is_named(files: Path, tmp_path: Path) -> None:
    sink = io.BytesIO()
    missing = tmp_path / "missing.json"
    assert main(["--form", str(missing), "--body", "x"], io.BytesIO(), sink) == 2
    assert "missing.json" in said(sink.getvalue())[0]["text"]


def test_a_body_without_targets_is_refused(files: Path, tmp_path: Path) -> None:
    body = tmp_path / "body.json"
    body.write_text('{"name": "somebody", "targets": []}', encoding="utf-8")
    sink = io.BytesIO()
    assert main(["--form", str(files / "form.json"), "--body", str(body)], io.BytesIO(), sink) == 2
    assert said(sink.getvalue())[0]["field"] == "body: targets"


def test_preferences_stand_in_the_bodys_file(files: Path, tmp_path: Path) -> None:
    body = tmp_path / "body.json"
    chosen = {"confidence": 0.8, "default_tolerance_mm": [-10.0, 5.0], "units": "cm"}
    body.write_text(json.dumps(BODY | {"preferences": chosen}), encoding="utf-8")
    sink = io.BytesIO()
    main(["--form", str(files / "form.json"), "--body", str(body)], io.BytesIO(), sink)
    hello = said(sink.getvalue())[0]
    assert hello["confidence"] == 0.8
    assert hello["tolerance_mm"]["waist"] == [-10.0, 5.0]
    body.write_text(json.dumps(BODY | {"preferences": {"confidence": 7}}), encoding="utf-8")
    sink = io.BytesIO()
    assert main(["--form", str(files / "form.json"), "--body", str(body)], io.BytesIO(), sink) == 2
    assert said(sink.getvalue())[0]["field"] == "body: preferences: confidence"


def test_what_was_learned_is_written_also_when_input_ends(files: Path, tmp_path: Path) -> None:
    out = tmp_path / "learned.json"
    code, _out, partner = fitted(files, "--learned-out", out, most=6)
    assert code == 3
    form = load_form_text(out.read_text(encoding="utf-8"))
    assert form.numbers() == partner.numbers
    assert form.learned
    assert fitted(files, "--learned-out", out)[0] == 0
    assert load_form_text(out.read_text(encoding="utf-8")).learned != form.learned
    again = tmp_path / "again"
    again.mkdir()
    (again / "form.json").write_bytes(out.read_bytes())
    (again / "body.json").write_bytes((files / "body.json").read_bytes())
    first = run(files, [])[1]
    second = run(again, [])[1]
    assert first[-1]["kind"] == "set"  # closed dials are first opened
    assert second[-1]["kind"] == "measure"  # these stand where they should


def test_a_place_nothing_can_be_written_to_is_refused_at_once(files: Path, tmp_path: Path) -> None:
    code, lines = run(files, [], "--learned-out", tmp_path / "nowhere" / "f.json")
    assert code == 2
    assert [one["code"] for one in lines] == ["not_kept"]


def test_the_record_goes_on_at_the_same_instruction(
    files: Path, tmp_path: Path, whole: tuple[int, bytes, Partner]
) -> None:
    person = tmp_path / "person.json"
    unbroken = whole[2].instructions
    sink = io.BytesIO()
    partner = Partner(sink, 4)
    assert main(arguments(files, "--person", person), partner, sink) == 3  # type: ignore[arg-type]
    open_then = said(sink.getvalue())[-1]
    sink = io.BytesIO()
    rest = Partner(sink)
    rest.numbers = partner.numbers
    assert main(arguments(files, "--person", person), rest, sink) == 0  # type: ignore[arg-type]
    plain = [{k: v for k, v in one.items() if k != "id"} for one in unbroken]
    halves = partner.instructions + rest.instructions
    assert [{k: v for k, v in one.items() if k != "id"} for one in halves] == plain
    assert rest.instructions[0] | {"id": 0} == open_then | {"id": 0}
    # Run once more: it has ended, and says so again.
    code, lines = run(files, [], "--person", person)
    assert code == 0
    assert lines[-1]["kind"] == "done"
    assert lines[-1] | {"id": 0} == said(sink.getvalue())[-1] | {"id": 0}


def test_an_undo_survives_in_the_record(files: Path, tmp_path: Path) -> None:
    person = tmp_path / "person.json"
    first = run(files, [], "--person", person)[1][-1]["id"]
    second = run(files, [line(to=first, answer="done")], "--person", person)[1][-1]
    run(files, [line(to=run(files, [], "--person", person)[1][-1]["id"], answer="undo")],
        "--person", person)  # fmt: skip
    back = run(files, [], "--person", person)[1][-1]
    assert back["kind"] == "set"
    assert all(dial["action"] == "close" for dial in back["dials"])
    assert second["kind"] == "set"
    record = Record.open(person, lambda: "", read_only=True)
    assert sum(isinstance(one.event, Undone) for one in record.events) == 1


def test_other_files_begin_another_fitting_in_the_same_record(files: Path, tmp_path: Path) -> None:
    person = tmp_path / "person.json"
    first = run(files, [], "--person", person)[1]
    other = tmp_path / "other"
    other.mkdir()
    (other / "form.json").write_bytes((files / "form.json").read_bytes())
    (other / "body.json").write_text(json.dumps(BODY | {"undergarment": "corset"}))
    run(other, [], "--person", person)
    record = Record.open(person, lambda: "", read_only=True)
    started = [one.event for one in record.events if isinstance(one.event, FittingStarted)]
    assert [one.body.undergarment for one in started] == ["", "corset"]
    assert run(other, [], "--person", person)[1][-1] == first[-1]
    assert len(Record.open(person, lambda: "", read_only=True).events) == len(record.events)


def test_a_record_open_elsewhere_is_not_written_to(files: Path, tmp_path: Path) -> None:
    person = tmp_path / "person.json"
    run(files, [], "--person", person)
    with Record.open(person, lambda: "2020-01-01T00:00:00+00:00"):
        code, lines = run(files, [], "--person", person)
    assert code == 2
    assert [one["kind"] for one in lines] == ["error"]
    assert lines[0]["field"] == "person"


def test_it_runs_as_a_module_and_keeps_standard_output_to_the_protocol(files: Path) -> None:
    child = subprocess.run(
        [sys.executable, "-m", "fitassist.scripted", "--verbose", *arguments(files)],
        input=b"nonsense\n",
        capture_output=True,
        check=False,
    )
    assert child.returncode == 3
    assert [one["kind"] for one in said(child.stdout)][-1] == "error"
    assert b"refused" in child.stderr


def _with_setting(files: Path, tmp_path: Path, **more: object) -> tuple[int, list[dict[str, Any]]]:
    """Run the first lines of a session whose body's file holds more."""
    (tmp_path / "form.json").write_bytes((files / "form.json").read_bytes())
    (tmp_path / "body.json").write_text(json.dumps(BODY | more), encoding="utf-8")
    return run(tmp_path, [])


def test_a_setting_lets_shape_choose_the_seams_and_is_kept(files: Path, tmp_path: Path) -> None:
    def opened(lines: list[dict[str, Any]]) -> dict[str, int]:
        dials = next(one for one in lines if one["kind"] == "set")["dials"]
        return {one["dial"].partition(".")[2]: one["clicks"] for one in dials}

    plain, shaped = (
        opened(_with_setting(files, tmp_path, **more)[1])
        for more in ({}, {"setting": "nearest_girth"})
    )
    # By girths alone the seams of a row stay within a click; by shape the back gives less.
    assert max(plain.values()) - min(plain.values()) <= 1
    assert shaped["front"] - shaped["back"] >= 2
    assert shaped["left"] == shaped["right"]
    room = _with_setting(files, tmp_path, setting="room_for_padding")[1][0]
    assert room["tolerance_mm"].keys() == {"bust", "waist", "hip"}
    record = tmp_path / "p.json"
    for _ in range(2):  # the second goes on in the first
        run(tmp_path, [], "--person", record)
    with Record.open(record, lambda: "2026-03-04T09:00:00Z") as kept:
        begun = [e.event for e in kept.events if isinstance(e.event, FittingStarted)]
    assert [one.shaping.setting for one in begun] == ["room_for_padding"]
    assert begun[0].shaping.girths_mm


def test_a_setting_that_is_none_is_refused_by_its_name(files: Path, tmp_path: Path) -> None:
    for wrong in ("nearest", 3, None, ["frame_first"]):
        code, lines = _with_setting(files, tmp_path, setting=wrong)
        assert code == 2
        assert lines[0]["field"] == "body: setting"


def test_frame_first_without_a_frame_is_told_as_a_note(files: Path, tmp_path: Path) -> None:
    code, lines = _with_setting(files, tmp_path, setting="frame_first")
    assert code == 3  # the input ended; the fitting began
    assert any(one["kind"] == "note" and one["code"] == "step" for one in lines)
