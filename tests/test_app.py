# SPDX-License-Identifier: MIT
"""The program from outside and at its edges: arguments, log, failures, first paint, quiet end."""

from __future__ import annotations

import logging
import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel

from fitassist import __version__
from fitassist.app import main
from fitassist.app.arguments import Asked, Refused, read_arguments
from fitassist.app.failures import Failures
from fitassist.app.screen import screen_complaint
from fitassist.demo import demo_folder
from fitassist.errors import StorageFailed
from fitassist.files import resources_dir
from fitassist.log import FILE_NAME, start_log, stop_log
from fitassist.wording import program

HALF_WAY = "amara"
SECRET_NAME, SECRET_MM = "Secretive Person", "987.65"


def run(*arguments: str, env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "fitassist", *arguments],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        env={**os.environ, **(env or {})},
        cwd=resources_dir().parent,
    )


def run_code(code: str, *arguments: str) -> str:
    told = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        cwd=resources_dir().parent,
    )
    assert told.returncode == 0, told.stdout + told.stderr
    return told.stdout


@pytest.fixture
def profile(tmp_path):
    """A copy of the demonstration, as somebody's own folder."""
    folder = tmp_path / "profile"
    shutil.copytree(demo_folder(), folder)
    return folder


# -- arguments --------------------------------------------------------------------------------


def test_no_arguments_open_ones_own_fittings():
    assert read_arguments([]) == Asked()


@pytest.mark.parametrize("arguments", [["--profile", "here"], ["--profile=here"]])
def test_a_folder_may_follow_or_be_joined(arguments):
    assert read_arguments(arguments).profile == Path("here").absolute()


@pytest.mark.parametrize(
    "arguments",
    [["--what"], ["file"], ["--demo=1"], ["--profile"], ["--profile="], ["--profile", "--demo"],
     ["--demo", "--profile", "x"], ["--demo", "--demo"]],
)  # fmt: skip
def test_what_makes_no_sense_is_answered_with_a_sentence_and_the_usage(arguments):
    with pytest.raises(Refused) as told:
        read_arguments(arguments)
    assert told.value.exit_code == 2
    first, _, rest = told.value.text.partition("\n")
    assert first.endswith(".")
    assert rest.startswith("usage: fitassist")


def test_the_version_and_the_usage_are_told_without_a_window():
    assert run("--version", env={"QT_QPA_PLATFORM": "none"}).stdout == f"Fitassist {__version__}\n"
    assert "--scripted" in run("--help").stdout
    assert run("--nonsense").returncode == 2


def test_a_scripted_session_never_loads_qt(tmp_path):
    code = (
        "import sys; from fitassist.app import main;"
        "code = main(['--scripted', '--form', sys.argv[1], '--body', sys.argv[1]]);"
        "print(code, [m for m in sys.modules if m.startswith(('PySide6', 'pyqtgraph'))])"
    )
    last = run_code(code, str(tmp_path / "none.json")).splitlines()[-1]
    assert last == "2 []"  # 2: files that cannot be read


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="screens are named so on Linux")
def test_a_missing_or_silent_screen_is_said_and_nothing_aborts():
    none = {"QT_QPA_PLATFORM": "", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    told = run("--demo", env=none)
    assert (told.returncode, told.stderr.strip()) == (1, program.say("no_screen"))
    told = run("--demo", env={**none, "DISPLAY": ":98765"})
    assert told.returncode == 1
    assert ":98765" in told.stderr


def test_any_screen_that_was_asked_for_by_name_is_tried():
    assert screen_complaint({"QT_QPA_PLATFORM": "offscreen"}, "linux") == ""
    assert screen_complaint({}, "darwin") == ""
    assert screen_complaint({"WAYLAND_DISPLAY": "wayland-0"}, "linux") == ""


def test_a_profile_that_is_no_folder_is_refused_with_a_sentence(tmp_path, capsys):
    file = tmp_path / "notes.txt"
    file.write_text("mine")
    assert main(["--profile", str(file)]) == 1
    assert "notes.txt is a file, not a folder" in capsys.readouterr().err
    assert main(["--profile", str(file / "inside")]) == 1
    assert "cannot keep anything in the folder" in capsys.readouterr().err
    assert file.read_text() == "mine"


def test_every_sentence_of_the_program_can_be_said():
    all_keys = program.keys()
    assert len(all_keys) > 20
    for key in all_keys:
        assert program.say(key, text="x", why="y", form="z").strip()


# -- log and failures -------------------------------------------------------------------------


def test_the_log_holds_what_happened_but_no_name_and_no_length(tmp_path):
    assert start_log(tmp_path)
    log = logging.getLogger("fitassist.somewhere")
    try:
        log.warning("not kept %s %s", SECRET_NAME, SECRET_MM)
        try:
            raise StorageFailed("disk_full", mm=SECRET_MM, path=f"/x/{SECRET_NAME}")
        except StorageFailed:
            log.exception("failed")
    finally:
        stop_log()
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert "not kept" in text
    assert "disk_full" in text
    assert "test_app.py" in text
    assert SECRET_NAME not in text
    assert SECRET_MM not in text
    assert str(tmp_path) not in text


def test_the_log_stays_small(tmp_path):
    assert start_log(tmp_path)
    try:
        for _ in range(12000):
            logging.getLogger("fitassist").info("x" * 80)
    finally:
        stop_log()
    sizes = [path.stat().st_size for path in tmp_path.iterdir()]
    assert len(sizes) == 3
    assert max(sizes) <= 200_000


@pytest.fixture
def failures(qtbot):
    made = Failures()
    made.install()
    yield made
    made.remove()
    if made.dialog is not None:
        made.dialog.close()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


class Sender(QObject):
    sent = Signal()


def fail():
    raise ValueError(f"{SECRET_NAME} {SECRET_MM}")


def test_an_error_in_a_slot_is_said_once_and_its_details_tell_nobody_anything(qtbot, failures):
    sender = Sender()
    sender.sent.connect(fail)
    sender.sent.emit()
    sender.sent.emit()
    qtbot.waitUntil(lambda: failures.dialog is not None and failures.dialog.isVisible())
    dialog = failures.dialog
    said = " ".join(label.text() for label in dialog.findChildren(QLabel))
    assert "Every answer given so far is on disk" in said
    qtbot.mouseClick(dialog.copy_button, Qt.MouseButton.LeftButton)
    copied = QGuiApplication.clipboard().text()
    assert "ValueError" in copied
    assert "fail" in copied
    assert SECRET_NAME not in copied
    assert SECRET_MM not in copied
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    assert failures.dialog is None


def test_an_error_in_a_timer_and_in_a_thread_reach_the_same_window(qtbot, failures):
    QTimer.singleShot(0, fail)
    qtbot.waitUntil(lambda: failures.dialog is not None)
    failures.dialog.accept()
    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: failures.dialog is not None)


# -- starting and ending ----------------------------------------------------------------------

FIRST_PAINT = """
import os, shutil, sys, tempfile
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from pathlib import Path
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication
from fitassist.app.start import make_workroom, tear_down

class Eye(QObject):
    seen = None
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and self.seen is None:
            heavy = ("scipy", "shapely", "pyqtgraph", "numpy")
            self.seen = [name for name in heavy if name in sys.modules]
        return False

app = QApplication([])
eye = Eye()
room = make_workroom(app, Path(sys.argv[1]))
room.window.centralWidget().installEventFilter(eye)
room.begin()
room.window.show()
def look():
    is_there = room.room.bridge is None or room.room.bridge.is_ready
    app.exit(0) if is_there and eye.seen is not None else QTimer.singleShot(20, look)
QTimer.singleShot(0, look)
app.exec()
print(eye.seen, room.window.place)
tear_down(app, room)
"""


@pytest.mark.parametrize("kind", ["new", "half_way", "cut_short"])
def test_the_first_paint_waits_for_nothing_heavy(tmp_path, profile, kind):
    if kind == "cut_short":  # as a killed program leaves it: the form must be brought up to date
        (profile / "under_way").mkdir()
        (profile / "under_way" / "amara.json").write_text('{"person_id": "amara"}')
    folder = tmp_path / "new" if kind == "new" else profile
    folder.mkdir(exist_ok=True)
    place = "help" if kind == "new" else "fitting"
    assert run_code(FIRST_PAINT, str(folder)).strip() == f"[] {place}"
    assert list(folder.glob("under_way/*")) == []


ONE_ROUND = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from fitassist.app.start import run_window
from pathlib import Path
app = QApplication([])
def look():
    from fitassist.gui.fitting_page import FittingPage
    pages = [w for w in app.allWidgets() if isinstance(w, FittingPage)]
    if pages and pages[0].work is not None:
        app.quit()
    else:
        QTimer.singleShot(20, look)
QTimer.singleShot(0, look)
sys.exit(run_window(Path(sys.argv[1])))
"""


def test_the_program_ends_quietly_with_a_plot_on_screen_and_leaves_no_lock(profile):
    run_code(ONE_ROUND, str(profile))  # fails on any exit code but 0, a crash at the end included
    assert list(profile.rglob("*.lock")) == []
    assert list(profile.rglob("*.journal")) == []
    assert not (profile / "under_way").exists()  # nothing was answered
    log = (profile / "log" / FILE_NAME).read_text(encoding="utf-8")
    assert "ERROR" not in log
    assert "Amara" not in log
