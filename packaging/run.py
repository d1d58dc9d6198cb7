#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Sets Fitassist up, if need be, and starts it: `python3 packaging/run.py`."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import environment
import system_parts

USAGE = """usage: python3 packaging/run.py            open the window on a ready-made demonstration
       python3 packaging/run.py -- ARGS    start the program with arguments of your own;
                                           without any, it opens your own fittings

The first start makes the environment .venv and fetches what is needed; later starts do not."""


def program_arguments(arguments: list[str]) -> list[str] | None:
    """Turn this script's arguments into those of the program; None when they make no sense."""
    if not arguments:
        return ["--demo"]
    if arguments[0] == "--":
        return arguments[1:]
    return None


def start(python: Path, arguments: list[str]) -> int:
    """Start the program in place of this script; on Windows, wait for it."""
    command = [str(python), "-m", "fitassist", *arguments]
    if os.name != "nt":
        os.execv(command[0], command)
    return subprocess.call(command)


def main(arguments: list[str]) -> int:
    """Check, set up, start; return the exit code."""
    complaint = environment.python_complaint()
    if complaint:
        print(complaint)
        return 1
    if arguments in (["-h"], ["--help"]):
        print(USAGE)
        return 0
    passed = program_arguments(arguments)
    if passed is None:
        print(USAGE)
        return 2

    complaint = system_parts.display_complaint(os.environ)
    if not complaint:
        is_x11 = system_parts.chosen_platform(os.environ) == "x11"
        complaint = system_parts.library_complaint(is_x11, environment.missing_venv_packages())
    if complaint:
        print(complaint)
        return 1
    try:
        python = environment.ensure_environment(False, "python3 packaging/run.py")
    except environment.SetUpError as error:
        print(error)
        return 1
    complaint = system_parts.window_complaint(python)
    if complaint:
        print(complaint)
        return 1
    return start(python, passed)


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit("Stopped.")
