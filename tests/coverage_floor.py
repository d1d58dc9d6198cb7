# SPDX-License-Identifier: MIT
"""Branch coverage of the core, held file by file: ``python -m tests.coverage_floor``.

The core as a whole must reach ``LEAST``; no file may fall below what
``tests/data/coverage_floor.json`` says of it. ``--raise`` writes down what was reached, and only
ever raises a file's floor. A new file needs ``LEAST`` at once. ``--report FILE`` judges a report
of coverage (``coverage json``) that is already there.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
FLOOR = ROOT / "tests" / "data" / "coverage_floor.json"
LEAST = 95.0  # per cent of lines and branches together
CORE = ("domain", "planning", "session", "geometry", "padding", "storage", "wording", "report")
TESTS = (
    *("tests/unit", "tests/storage", "tests/fuzz", "tests/virtual", "tests/world"),
    *("tests/trust", "tests/journeys", "tests/gui", "tests/test_app.py"),
)
SLACK = 0.05  # per cent; what rounding may take


def measured(tests: Sequence[str]) -> dict[str, Any]:
    """Run the tests under coverage and return its report."""
    with tempfile.TemporaryDirectory(prefix="fitassist-coverage-") as name:
        report = Path(name) / "coverage.json"
        sources = [f"--cov=fitassist.{part}" for part in CORE]
        command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *sources]
        command += ["--cov-branch", f"--cov-report=json:{report}", *tests]
        environ = {**os.environ, "COVERAGE_FILE": str(Path(name) / "data")}
        environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        subprocess.run(command, cwd=ROOT, env=environ, check=False)
        found: dict[str, Any] = json.loads(report.read_text())
        return found


def by_file(report: Mapping[str, Any]) -> dict[str, float]:
    """Return the share of lines and branches reached in each file of the core, per cent."""
    core = tuple(f"fitassist/{part}/" for part in CORE)
    return {
        path: round(float(about["summary"]["percent_covered"]), 1)
        for path, about in sorted(report["files"].items())
        if path.startswith(core)
    }


def whole(report: Mapping[str, Any]) -> float:
    """Return the share of all lines and branches of the core, per cent."""
    files = by_file(report)
    kept = [about["summary"] for path, about in report["files"].items() if path in files]
    reached = sum(one["covered_lines"] + one["covered_branches"] for one in kept)
    there = sum(one["num_statements"] + one["num_branches"] for one in kept)
    return 100.0 * reached / there


def faults(reached: Mapping[str, float], floor: Mapping[str, float], total: float) -> list[str]:
    """Return what lies below its floor."""
    found = [f"the core: {total:.1f} of {LEAST}"] if total < LEAST else []
    for path, share in reached.items():
        least = floor.get(path, LEAST)
        if share < least - SLACK:
            found.append(f"{path}: {share} of {least}")
    return found


def raised(reached: Mapping[str, float], floor: Mapping[str, float]) -> dict[str, float]:
    """Return the floors of the files there are, each as high as it ever was."""
    return {path: max(share, floor.get(path, 0.0)) for path, share in reached.items()}


def main(argv: Sequence[str] | None = None) -> int:
    """Measure and judge."""
    parser = argparse.ArgumentParser(prog="python -m tests.coverage_floor")
    parser.add_argument("--raise", dest="raise_floor", action="store_true")
    parser.add_argument("--report", type=Path)
    asked = parser.parse_args(argv)
    report = json.loads(asked.report.read_text()) if asked.report else measured(TESTS)
    floor = json.loads(FLOOR.read_text()) if FLOOR.exists() else {}
    reached, total = by_file(report), whole(report)
    found = faults(reached, floor, total)
    print(f"core: {total:.1f} % of lines and branches in {len(reached)} files")
    if asked.raise_floor:
        FLOOR.write_text(json.dumps(raised(reached, floor), indent=1) + "\n")
    for fault in found:
        print("below its floor:", fault)
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
