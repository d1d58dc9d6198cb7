# SPDX-License-Identifier: MIT
"""The guard against the broken Qt binding, and the fault itself looked for in the installed one."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from fitassist import qt_guard

# Void Qt methods only; a sound binding leaves None's count where it was, but for a handful.
COUNT_NONE = """
import sys
from PySide6.QtCore import QCoreApplication, QObject
app = QCoreApplication([])
thing = QObject()
thing.blockSignals(False)
before = sys.getrefcount(None)
for _ in range(200):
    thing.setObjectName("thing")
print(sys.getrefcount(None) - before)
"""


def _run_child(code: str) -> str:
    root = Path(__file__).resolve().parent.parent
    child = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=root
    )
    return child.stdout.strip()


# Measured: aborts on 3.10 and 3.11, runs on 3.12 and 3.13.
@pytest.mark.parametrize("python", [(3, 10), (3, 11)])
def test_the_broken_binding_is_refused_where_it_aborts(python: tuple[int, int]) -> None:
    sentence = qt_guard.qt_refusal("6.12.0", python)
    assert "PySide6 6.12.0" in sentence
    assert "pip install" in sentence


@pytest.mark.parametrize("python", [(3, 12), (3, 13)])
def test_the_broken_binding_is_let_through_where_none_is_immortal(python: tuple[int, int]) -> None:
    assert qt_guard.qt_refusal("6.12.0", python) == ""


@pytest.mark.parametrize("qt", ["6.10.3", "6.11.3", "6.12.1"])
def test_other_bindings_are_let_through(qt: str) -> None:
    assert qt_guard.qt_refusal(qt, (3, 11)) == ""


def test_a_missing_binding_is_named_with_the_command_that_brings_it() -> None:
    assert "python3 packaging/run.py" in qt_guard.qt_refusal(None, (3, 11))


def test_the_guard_ends_the_program_with_its_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(qt_guard, "installed_qt", lambda: "6.12.0")
    monkeypatch.setattr(sys, "version_info", (3, 11, 7, "final", 0))
    with pytest.raises(SystemExit, match=r"does not start with PySide6 6\.12\.0"):
        qt_guard.guard_qt()


def test_the_guard_lets_the_installed_binding_through() -> None:
    qt_guard.guard_qt()


def test_the_guard_itself_does_not_load_qt() -> None:
    code = "import sys, fitassist.qt_guard as g; g.guard_qt(); print('PySide6' in sys.modules)"
    assert _run_child(code) == "False"


def test_void_qt_calls_do_not_use_up_none() -> None:
    assert abs(int(_run_child(COUNT_NONE))) < 20
