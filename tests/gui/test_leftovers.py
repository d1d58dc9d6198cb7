# SPDX-License-Identifier: MIT
"""The watch over the window's tests is itself watched: each fault it looks for, made on purpose."""

from __future__ import annotations

import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

FAULTY_TESTS = """
import threading
from PySide6.QtCore import QThread, QTimer
from PySide6.QtWidgets import QDialog, QMessageBox, QPushButton, QWidget

kept = []

def test_window(qapp):
    window = QWidget()
    window.show()
    kept.append(window)

def test_hidden_dialog(qapp):
    kept.append(QDialog())

def test_timer(qapp):
    timer = QTimer()
    timer.start(1000)
    kept.append(timer)

def test_thread(qapp):
    thread = threading.Thread(target=threading.Event().wait, daemon=True)
    thread.start()

def test_qt_thread(qapp):
    thread = QThread()
    thread.start()
    kept.append(thread)

def test_dialog(qapp):
    QMessageBox.information(None, "title", "text")

def test_raising_slot(qtbot):
    button = QPushButton()
    qtbot.addWidget(button)
    button.clicked.connect(lambda: 1 / 0)
    button.click()

def test_tidy(qtbot, monkeypatch):
    monkeypatch.setattr(QMessageBox, "question", lambda *a: QMessageBox.StandardButton.Yes)
    window = QWidget()
    qtbot.addWidget(window)
    timer = QTimer(window)
    timer.start(1000)
    window.show()
    assert QMessageBox.question(window, "t", "q") == QMessageBox.StandardButton.Yes
    thread = threading.Thread(target=print)
    thread.start()

def test_end_of_the_qt_thread(qapp):
    for thing in kept:
        if isinstance(thing, QThread):
            thing.quit()
            thing.wait()
"""


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Run the faulty tests in a child; tell what each of them was failed for."""
    folder = tmp_path_factory.mktemp("faulty")
    watch = Path(__file__).with_name("conftest.py").read_text(encoding="utf-8")
    quick = watch.replace("PATIENCE_MS = 3000", "PATIENCE_MS = 50")
    (folder / "conftest.py").write_text(quick, encoding="utf-8")
    (folder / "test_faulty.py").write_text(FAULTY_TESTS, encoding="utf-8")
    (folder / "pytest.ini").write_text("[pytest]\nqt_api = pyside6\n", encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:xdist"]
    environ = dict(os.environ, PYTHONPATH=str(Path(__file__).resolve().parents[2]))
    said = subprocess.run(
        [*command, "--junitxml", "out.xml", "."],
        cwd=folder,
        env=environ,
        capture_output=True,
        text=True,
        check=False,
    )
    assert said.returncode == 1, said.stdout
    found: dict[str, str] = {}
    for case in ET.parse(folder / "out.xml").iter("testcase"):
        faults = [(f.get("message") or "") + (f.text or "") for f in case if f.tag != "system-out"]
        found[case.get("name") or ""] = found.get(case.get("name") or "", "") + "".join(faults)
    return found


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("test_window", "left behind: window"),
        ("test_hidden_dialog", "left behind: window"),
        ("test_timer", "left behind: timer"),
        ("test_thread", "left behind: thread"),
        ("test_qt_thread", "left behind: thread"),
        ("test_dialog", "QMessageBox.information"),
        ("test_raising_slot", "ZeroDivisionError"),
    ],
)
def test_a_fault_of_this_kind_fails_its_test(
    outcomes: dict[str, str], name: str, words: str
) -> None:
    assert words in outcomes[name]


def test_a_tidy_test_with_an_expected_dialog_passes(outcomes: dict[str, str]) -> None:
    assert outcomes["test_tidy"] == ""
    assert outcomes["test_end_of_the_qt_thread"] == ""
