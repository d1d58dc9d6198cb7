# SPDX-License-Identifier: MIT
"""The real window goes through a whole day's work, and no socket ever leads out of this computer.

What Python does is told to an audit hook (PEP 578), which ends the program. What the libraries of
the window do by themselves is seen in the kernel's list of the process's open files (Linux).
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from fitassist.demo import demo_folder

ROOT = Path(__file__).parents[2]
# A pair of sockets of the Unix kind wakes the event loop for signals; it leads nowhere.
HOOK = """
import socket, sys

def refuse(event, arguments):
    inside = event == "socket.__new__" and arguments[1] == getattr(socket, "AF_UNIX", None)
    if event.startswith("socket.") and event != "socket.gethostname" and not inside:
        print("socket used:", event, file=sys.stderr, flush=True)
        import os
        os._exit(9)

sys.addaudithook(refuse)
"""
DAY = """
import os
from pathlib import Path
from PySide6.QtWidgets import QApplication, QFileDialog
from fitassist.app.signals import quit_on_signals
from fitassist.app.start import make_workroom, tear_down
from fitassist.domain.answers import Done
from fitassist.gui.main_window import PLACES

profile, paper = Path(sys.argv[1]), sys.argv[2]
app = QApplication([])
room = make_workroom(app, profile)
QFileDialog.getSaveFileName = staticmethod(lambda *_: (paper, ""))

def until(is_there):
    while not is_there():
        app.processEvents()

def outward():
    \"\"\"Return open sockets that are not of the Unix kind.\"\"\"
    if not Path("/proc/self/fd").is_dir():
        return []
    unix = Path("/proc/net/unix").read_text()
    found = []
    for one in os.listdir("/proc/self/fd"):
        try:
            target = os.readlink(f"/proc/self/fd/{one}")
        except OSError:
            continue
        if target.startswith("socket:[") and target[8:-1] not in unix:
            found.append(target)
    return found

with quit_on_signals(app):
    room.begin()
    room.window.show()
    until(lambda: room.room.bridge is not None and room.room.bridge.is_ready)
    seen = []
    for place in PLACES:
        room.window.go_to(place)
        for _ in range(20):
            app.processEvents()
        seen += outward()
    bridge = room.room.bridge
    if bridge.view().instruction.kind in ("set", "check"):
        bridge.submit(Done())
    room.window.go_to("sheets")
    page = room.window.page("sheets")
    page.save_button.click()
    until(lambda: Path(paper).exists())
    seen += outward()
    tear_down(app, room)
loaded = [name for name in sys.modules if "QtNetwork" in name or name.startswith(("http.", "ssl"))]
print("outward", seen, "loaded", loaded)
"""


def child(code: str, *arguments: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        capture_output=True,
        cwd=ROOT,
        check=False,
        timeout=100,
    )


@pytest.mark.skipif(sys.platform == "win32", reason="the event loop has no such pair there")
def test_the_window_goes_through_every_place_and_no_socket_leads_out(tmp_path: Path) -> None:
    shutil.copytree(demo_folder(), tmp_path / "profile")
    program = child(HOOK + DAY, tmp_path / "profile", tmp_path / "page.pdf")
    assert program.returncode == 0, program.stderr.decode()
    assert b"outward [] loaded []" in program.stdout, program.stdout
    assert (tmp_path / "page.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    "reaches_out",
    [
        "socket.create_connection(('127.0.0.1', 9))",
        "socket.getaddrinfo('localhost', 80)",
        "socket.socket(socket.AF_INET)",
    ],
)
def test_the_hook_would_have_seen_it(reaches_out: str) -> None:
    assert child(HOOK + reaches_out).returncode == 9
