# SPDX-License-Identifier: MIT
"""Refuses the one Qt binding that is known to bring the program down, before Qt is loaded.

PySide6 6.12.0 loses a reference to None at each call that returns nothing. Up to Python 3.11 that
ends in an abort after some thousand calls; from 3.12 on None is immortal and nothing happens.
"""

from __future__ import annotations

import sys
from importlib.metadata import PackageNotFoundError, version

BROKEN_QT = "6.12.0"
SOUND_PYTHON = (3, 12)


def installed_qt() -> str | None:
    """Tell the version of the installed Qt binding without loading it; None if there is none."""
    try:
        return version("PySide6-Essentials")
    except PackageNotFoundError:
        return None


def qt_refusal(qt: str | None, python: tuple[int, int]) -> str:
    """Say why the program cannot run on these versions; empty when it can.

    Parameters
    ----------
    qt
        Version of PySide6-Essentials, or None when it is not installed.
    python
        Major and minor version of Python.
    """
    if qt is None:
        return (
            "Fitassist cannot open its window: PySide6-Essentials is not installed here. "
            "Start it with: python3 packaging/run.py"
        )
    is_broken = qt == BROKEN_QT or qt.startswith(BROKEN_QT + ".")
    if is_broken and python < SOUND_PYTHON:
        return (
            f"Fitassist does not start with PySide6 {qt} on Python {python[0]}.{python[1]}: "
            "together they stop the program after a while, in the middle of the work. "
            'Install another version with: python -m pip install "PySide6-Essentials>=6.10.3,<6.12"'
        )
    return ""


def guard_qt() -> None:
    """End the program with a sentence when the installed Qt binding would bring it down."""
    refusal = qt_refusal(installed_qt(), sys.version_info[:2])
    if refusal:
        raise SystemExit(refusal)
