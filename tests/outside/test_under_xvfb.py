# SPDX-License-Identifier: MIT
"""The real program under a virtual screen, driven by keys from outside, killed, and opened again.

What has happened is read from the record's files, never from inside the program.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
PATIENCE_S = 60.0
PERSON = "amara"

pytestmark = [
    pytest.mark.outside,
    pytest.mark.skipif(sys.platform == "win32", reason="there are no X screens on Windows"),
]


def until(what: str, look: Callable[[], Any]) -> Any:
    """Look again and again until there is something, and fail by name if it never comes."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        found = look()
        if found:
            return found
        time.sleep(0.05)  # between looks only: nothing is awaited by it
    raise AssertionError(f"this never came: {what}")


@pytest.fixture
def screen(tmp_path: Path) -> Iterator[dict[str, str]]:
    """Start a virtual screen of the size of a small laptop; give the environment to use it."""
    read_end, write_end = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write_end), "-screen", "0", "1366x768x24", "-nolisten", "tcp"],
        pass_fds=[write_end],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(write_end)
    with os.fdopen(read_end) as told:
        number = told.readline().strip()  # written once the server answers
    assert number, "the virtual screen did not start"
    environ = {key: value for key, value in os.environ.items() if key != "WAYLAND_DISPLAY"}
    yield {**environ, "QT_QPA_PLATFORM": "xcb", "DISPLAY": f":{number}"}
    server.terminate()
    server.wait(timeout=PATIENCE_S)


class Program:
    """One run of the program, seen from outside."""

    def __init__(self, profile: Path, environ: dict[str, str], errors: Path) -> None:
        self._environ = environ
        self._errors = errors
        with errors.open("a") as sink:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "fitassist", "--profile", str(profile)],
                env=environ,
                cwd=ROOT,
                stderr=sink,
            )
        # A killed program's window is there for a moment more: the one that takes the keys is ours.
        self.window = until("the window", self._find_focused)

    def focus(self) -> None:
        """Give the window the keys: without a window manager nobody else does, or keeps it so."""
        self._xdotool("windowfocus", self.window)

    def _find_focused(self) -> str:
        """Return the newest window that takes the keys, if there is one."""
        for window in reversed(self._find_windows()):
            asked = ["xdotool", "windowfocus", window]
            if not subprocess.run(
                asked, env=self._environ, capture_output=True, check=False, timeout=PATIENCE_S
            ).returncode:
                return window
        return ""

    def _find_windows(self) -> list[str]:
        assert self._process.poll() is None, self._errors.read_text()
        return self._find_all()

    def _find_all(self) -> list[str]:
        found = subprocess.run(
            ["xdotool", "search", "--onlyvisible", "--name", "Fitassist"],
            env=self._environ, capture_output=True, text=True, check=False,
        )  # fmt: skip
        return found.stdout.split()

    def _xdotool(self, *words: str) -> None:
        subprocess.run(["xdotool", *words], env=self._environ, check=True, timeout=PATIENCE_S)

    def key(self, name: str) -> None:
        self._xdotool("key", "--clearmodifiers", name)

    def type(self, text: str) -> None:
        self._xdotool("type", "--delay", "20", text)

    def picture(self, path: Path) -> bool:
        """Take a picture of the whole screen, where ImageMagick is there to do it."""
        if shutil.which("import") is None:
            return False
        command = ["import", "-window", "root", str(path)]
        return subprocess.run(command, env=self._environ, check=False).returncode == 0

    def kill(self) -> None:
        self._process.send_signal(signal.SIGKILL)
        assert self._process.wait(timeout=PATIENCE_S) == -signal.SIGKILL
        window = self.window
        until("the end of its window", lambda: window not in self._find_all())

    def has_ended(self) -> bool:
        return self._process.poll() is not None

    def wait(self) -> int:
        return self._process.wait(timeout=PATIENCE_S)

    def stop(self) -> None:
        if not self.has_ended():
            self._process.kill()
            self._process.wait(timeout=PATIENCE_S)


@pytest.fixture
def profile(tmp_path: Path) -> Path:
    """Make the demonstration somebody's own folder, so that it is kept."""
    folder = tmp_path / "profile"
    shutil.copytree(ROOT / "resources" / "demo", folder)
    return folder


def events_on_disk(profile: Path) -> list[dict[str, Any]]:
    """Return all events of the record's two files by our own reading of them, by number."""
    people = profile / "people"
    found = {one["seq"]: one["event"] for one in json.loads(
        (people / f"{PERSON}.json").read_text(encoding="utf-8"))["events"]}  # fmt: skip
    journal = people / f"{PERSON}.journal"
    if journal.exists():
        for line in journal.read_text(encoding="utf-8").splitlines(keepends=True):
            if line.endswith("\n"):  # the last may be half written while we look
                recorded = json.loads(line)["recorded"]
                found[recorded["seq"]] = recorded["event"]
    return [found[seq] for seq in sorted(found)]


def kinds(profile: Path, kind: str) -> list[dict[str, Any]]:
    return [event for event in events_on_disk(profile) if event["kind"] == kind]


def shown(profile: Path) -> dict[str, Any]:
    """Return the instruction that was last put before the person at the form."""
    return dict(kinds(profile, "advised")[-1]["instruction"])


def odd_eighths(mm: float) -> int:
    """Return a length as a number of eighths of an inch that has a fraction in eighths."""
    return round((mm / 25.4 * 8 - 1) / 2) * 2 + 1


def press_until(program: Program, key: str, look: Callable[[], Any]) -> None:
    """Press a key once the window listens; pressing again is harmless until it is heard."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        program.focus()
        program.key(key)
        soon = time.monotonic() + 2.0
        while time.monotonic() < soon:
            if look():
                return
            time.sleep(0.05)
    raise AssertionError(f"{key} was never heard")


def test_answers_given_by_keys_outlive_a_kill(
    tmp_path: Path, profile: Path, screen: dict[str, str]
) -> None:
    errors = tmp_path / "errors.txt"
    program = Program(profile, screen, errors)
    try:
        first = shown(profile)
        assert first["kind"] == "set"
        turned = {turn["dial"]: turn["number"] for turn in first["turns"]}
        sets = len(kinds(profile, "dials_set"))
        press_until(program, "Return", lambda: len(kinds(profile, "dials_set")) > sets)
        assert kinds(profile, "dials_set")[sets]["numbers"] == turned
        while shown(profile)["kind"] != "measure":
            before = len(events_on_disk(profile))
            program.key("Return")
            until("the next step", lambda before=before: len(events_on_disk(profile)) > before + 1)
        readings = len(kinds(profile, "form_read"))
        line, eighths = shown(profile)["line"], odd_eighths(shown(profile)["expect_mm"])
        typed = f"{eighths // 8} {eighths % 8}/8"
        program.type(typed)
        program.key("Return")
        until("the reading", lambda: len(kinds(profile, "form_read")) > readings)
        until("the step after it", lambda: events_on_disk(profile)[-1]["kind"] == "advised")
        if program.picture(tmp_path / "screen.png"):
            assert (tmp_path / "screen.png").read_bytes()[:4] == b"\x89PNG"
        program.kill()
    finally:
        program.stop()

    kept = events_on_disk(profile)
    read = kinds(profile, "form_read")[-1]
    assert (read["line"], read["text"]) == (line, typed)
    assert read["mm"] == pytest.approx(eighths * 25.4 / 8)  # an inch is 25.4 mm by definition

    again = Program(profile, screen, errors)
    try:
        log = profile / "log" / "fitassist.log"
        until("the second start", lambda: log.read_text(encoding="utf-8").count(" started ") == 2)
        assert events_on_disk(profile) == kept
        press_until(again, "ctrl+q", again.has_ended)
        assert again.wait() == 0
    finally:
        again.stop()
    assert events_on_disk(profile) == kept
    assert not (profile / "people" / f"{PERSON}.journal").exists()
    assert list((profile / "under_way").iterdir()) == []
    form = json.loads((profile / "forms" / "window.json").read_text(encoding="utf-8"))
    stands = {dial["name"]: dial["number"] for dial in form["dials"]}
    for answered in kinds(profile, "dials_set"):
        last = answered["numbers"]
    assert {name: stands[name] for name in last} == last
    assert "Traceback" not in errors.read_text()
