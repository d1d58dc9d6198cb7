#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Runs everything that must pass: `python3 packaging/test.py`."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import environment
import system_parts

USAGE = """usage: python3 packaging/test.py                run every stage
       python3 packaging/test.py -- ARGS        run every stage, with arguments for pytest

Sets .venv up with the tools of the tests first, if need be. CI=true in the environment makes a
missing virtual screen an error; otherwise the tests that need one are left out, and it says so."""

IMPORT_RULES = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports())"


def stages(python: Path, workers: int, pytest_arguments: list[str]) -> list[tuple[str, list[str]]]:
    """List the stages as (name, command); pytest last, so that its closing line ends the run."""
    run = [str(python), "-m"]
    spread = ["-n", str(workers)] if workers > 1 else []
    return [
        ("ruff check (faults and style)", [*run, "ruff", "check", "."]),
        ("ruff format (layout)", [*run, "ruff", "format", "--check", "."]),
        ("mypy (types)", [*run, "mypy"]),
        ("lint-imports (who may import whom)", [str(python), "-c", IMPORT_RULES]),
        ("pytest (behaviour)", [*run, "pytest", *spread, *pytest_arguments]),
    ]


def run_stages(listed: list[tuple[str, list[str]]], root: Path) -> list[str]:
    """Run the stages one after the other; return the names of those that failed."""
    environ = dict(os.environ)
    environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    failed: list[str] = []
    for number, (name, command) in enumerate(listed, start=1):
        is_last = number == len(listed)
        if is_last and failed:
            print("\nFailed so far: " + "; ".join(failed), flush=True)
        print(f"\n[{number} of {len(listed)}] {name}", flush=True)
        began = time.monotonic()
        code = subprocess.call(command, cwd=str(root), env=environ)
        if code != 0:
            failed.append(name)
        if not is_last:
            verdict = "passed" if code == 0 else "FAILED"
            print(f"      {verdict} in {time.monotonic() - began:.0f} s", flush=True)
    if failed:  # after the closing line of pytest, which may well say that all passed
        print("\nFailed: " + "; ".join(failed), file=sys.stderr, flush=True)
    return failed


def has_system_parts(needs_screen: bool) -> bool:
    """Tell whether the tests can run, and say what is missing for all or for some of them."""
    needed = system_parts.missing_libraries(system_parts.QT_LIBRARIES)
    wished = system_parts.missing_for_screen()
    if needed or wished:
        packages = environment.missing_venv_packages()
        print(system_parts.complaint_of(needed + wished, packages), flush=True)
    if needed or (wished and needs_screen):
        return False
    if wished:
        print("Until then the tests under a virtual screen are left out.\n", flush=True)
    return True


def main(arguments: list[str]) -> int:
    """Check, set up, run the stages; return the exit code."""
    complaint = environment.python_complaint()
    if complaint:
        print(complaint)
        return 1
    if arguments in (["-h"], ["--help"]):
        print(USAGE)
        return 0
    if arguments and arguments[0] != "--":
        print(USAGE)
        return 2

    if not has_system_parts(bool(os.environ.get("CI"))):
        return 1
    try:
        python = environment.ensure_environment(True, "python3 packaging/test.py")
    except environment.SetUpError as error:
        print(error)
        return 1
    workers = min(4, os.cpu_count() or 1)
    return 1 if run_stages(stages(python, workers, arguments[1:]), environment.ROOT) else 0


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit("Stopped.")
