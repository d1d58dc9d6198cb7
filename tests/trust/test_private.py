# SPDX-License-Identifier: MIT
"""What is kept is the owner's alone: modes, no network, and logs anybody may be shown."""

from __future__ import annotations

import json
import logging
import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from fitassist.errors import FitError
from fitassist.files import profile_dir
from fitassist.log import FILE_NAME, start_log, stop_log
from fitassist.settings import Settings, save_settings
from fitassist.storage.library import Library
from tests.builders import a_form
from tests.trust.sessions import Session

ROOT = Path(__file__).parents[2]
NAME = "Quillonbrastle"  # nobody's; found nowhere by chance
GIRTH_MM = 937.31
OPEN = 4  # id of the first instruction: hello, a caution, how the lines stand, a set


def clock() -> str:
    return "2026-01-02T03:04:05Z"


@pytest.fixture
def open_umask() -> Iterator[None]:
    before = os.umask(0)
    try:
        yield
    finally:
        os.umask(before)


@pytest.mark.skipif(os.name == "nt", reason="modes of a Unix")
@pytest.mark.usefixtures("open_umask")
def test_whatever_a_profile_and_a_session_leave_is_the_owners_alone(tmp_path: Path) -> None:
    """Even where the system would let everybody read new files."""
    profile = profile_dir(tmp_path / "profile")
    library = Library(profile, clock)
    record = library.create_person(NAME)
    seen: dict[str, int] = {}

    def look() -> None:
        for path in (profile, *profile.rglob("*")):
            seen[path.relative_to(tmp_path).as_posix()] = stat.S_IMODE(path.lstat().st_mode)

    look()
    record.close()
    save_settings(profile, Settings())
    library.save_form("", a_form())
    start_log(profile / "log")
    logging.getLogger("fitassist").warning("something")
    stop_log()
    (profile / "sessions").mkdir(mode=0o700)
    session = Session(tmp_path, profile / "sessions" / "p.json")
    for _ in range(2):  # the second makes a backup of the first
        session.run(2, before=lambda _n: look())
    look()
    endings = {Path(name).suffix for name in seen}
    assert {".json", ".journal", ".lock", ".log"} <= endings
    assert any("backups/p/" in name for name in seen)
    folders = {name for name in seen if not Path(name).suffix}
    assert {name: oct(mode) for name, mode in seen.items() if mode != 0o600} == {
        name: oct(0o700) for name in folders
    }


WITHOUT_NETWORK = """
import sys

def refuse(event, arguments):
    if event.startswith("socket.") and event != "socket.gethostname":
        print("socket used: " + event, file=sys.stderr)
        raise SystemExit(9)

sys.addaudithook(refuse)
from fitassist.app import main
sys.exit(main())
"""


def child(code: str, *arguments: object, says: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        input=says,
        capture_output=True,
        cwd=ROOT,
        check=False,
        timeout=100,
    )


def test_a_whole_session_opens_no_socket_of_any_kind(tmp_path: Path) -> None:
    """Every call that could is told to an audit hook (PEP 578), which ends the program."""
    session = Session(tmp_path, tmp_path / "p.json")
    files = ("--form", tmp_path / "form.json", "--body", tmp_path / "body.json")
    out = tmp_path / "learned.json"
    leave = b"".join(json.dumps({"to": i, "answer": "leave"}).encode() + b"\n" for i in range(9))
    program = child(
        WITHOUT_NETWORK,
        *("--scripted", *files, "--person", session.person, "--learned-out", out, "--verbose"),
        says=leave,
    )
    assert (program.returncode, b"socket used" in program.stderr) == (0, False), program.stderr
    assert json.loads(program.stdout.splitlines()[-1])["kind"] == "done"
    assert out.exists()
    caught = child(WITHOUT_NETWORK.split("from fitassist")[0] + "import socket; socket.socket()")
    assert caught.returncode == 9, "the hook sees a socket"


def test_the_log_of_a_whole_session_holds_no_name_and_no_length(tmp_path: Path) -> None:
    start_log(tmp_path / "log")
    try:
        library = Library(tmp_path, clock)
        record = library.create_person(NAME)
        record.close()
        session = Session(tmp_path, tmp_path / f"{NAME}.json")
        body = json.loads((tmp_path / "body.json").read_bytes()) | {"name": NAME}
        body["targets"][0] |= {"value": GIRTH_MM, "unit": "mm"}
        (tmp_path / "body.json").write_text(json.dumps(body))
        session.run(4)
        # Refusals quote what was typed, and errors of the program carry it along.
        body["targets"][0]["value"] = f"{GIRTH_MM} {NAME}"
        (tmp_path / "body.json").write_text(json.dumps(body))
        code, _person, _lines = session.run(1)
        assert code == 2
        try:
            raise FitError("out_of_range", NAME, mm=GIRTH_MM, text=NAME)
        except FitError as error:
            logging.getLogger("fitassist.x").error("failed", exc_info=error)
    finally:
        stop_log()
    text = "".join(path.read_text() for path in (tmp_path / "log").iterdir())
    assert (tmp_path / "log" / FILE_NAME).stat().st_size > 100, "something was logged"
    for secret in (NAME, NAME.lower(), str(GIRTH_MM), "937"):
        assert secret not in text


def test_standard_error_of_a_session_quotes_nothing_that_was_typed(tmp_path: Path) -> None:
    Session(tmp_path, tmp_path / "p.json")
    typed = (
        {"to": OPEN, "answer": "done", "except": [NAME, GIRTH_MM]},
        {"to": OPEN, "answer": NAME},
        {"to": OPEN, "answer": "done", NAME: GIRTH_MM},
        {"to": OPEN, "answer": "volunteer", "line": NAME, "value": GIRTH_MM},
        {"to": OPEN, "answer": "leave"},
    )
    says = b"".join(json.dumps(one).encode() + b"\n" for one in typed)
    program = scripted(tmp_path, says)
    assert program.stdout.count(b'"kind":"error"') == 4
    assert program.stderr.count(b"refused") == 4
    quotes_nothing(program)
    body = json.loads((tmp_path / "body.json").read_bytes()) | {"name": NAME}
    body["targets"][0]["value"] = f"{GIRTH_MM} {NAME}"
    (tmp_path / "body.json").write_text(json.dumps(body))
    program = scripted(tmp_path, b"")
    assert (program.returncode, program.stderr.count(b"refused")) == (2, 1)
    quotes_nothing(program)


def scripted(folder: Path, says: bytes) -> subprocess.CompletedProcess[bytes]:
    files = ("--form", folder / "form.json", "--body", folder / "body.json")
    code = "from fitassist.scripted import main; raise SystemExit(main())"
    return child(code, *files, "--verbose", says=says)


def quotes_nothing(program: subprocess.CompletedProcess[bytes]) -> None:
    assert NAME.encode() not in program.stderr
    assert b"937" not in program.stderr
