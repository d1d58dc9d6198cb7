# SPDX-License-Identifier: MIT
"""A drawn sample of mutants, judged by the tests: ``python -m tests.mutation --group units``.

Cosmic Ray (``pip install cosmic-ray``, not part of the usual test tools) makes and runs them in a
copy of the project, so that the tree worked in is never touched. All mutants of a group would take
days; a sample with a fixed seed takes minutes and its share has a known error. Changes to type
hints are left out: nothing evaluates them.
"""

from __future__ import annotations

import argparse
import ast
import json
import math
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
LEFT_BEHIND = (".git", ".venv", ".hypothesis", "__pycache__", "*_cache")
SESSION = "mutants.sqlite"


@dataclass(frozen=True)
class Group:
    """Modules, the tests that are to notice, and the share that must be."""

    modules: tuple[str, ...]
    tests: tuple[str, ...]
    least: float
    seconds: int = 120  # after which a mutant counts as noticed: it hangs


GROUPS = {
    "units": Group(
        ("fitassist/domain/units.py",),
        ("tests/unit/domain/test_units.py", "tests/unit/domain/test_body_file.py"),
        0.8,
    ),
    "storage": Group(
        tuple(
            f"fitassist/storage/{name}.py"
            for name in (
                *("record", "journal", "document", "backups", "restore", "lock"),
                *("library", "migrations", "places", "strict_json", "sharing"),
            )
        ),
        ("tests/storage",),
        0.8,
    ),
    "planner": Group(
        tuple(
            f"fitassist/planning/{name}.py"
            for name in (
                *("advise", "belief", "chance", "forecast", "layout"),
                *("learned", "order", "plan", "prior"),
            )
        ),
        ("tests/unit/planning", "tests/unit/session", "tests/virtual/test_play.py"),
        0.8,
    ),
    "padding": Group(
        tuple(
            f"fitassist/padding/{name}.py"
            for name in ("gap", "layers", "laying", "flatten", "surface", "plan", "tidy")
        ),
        ("tests/unit/padding",),
        0.0,  # asked for nothing; told all the same
    ),
}


def in_type_hints(source: str) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Return where type hints stand, as ((line, column), (line, column))."""
    found: list[ast.expr | None] = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.AnnAssign | ast.arg):
            found.append(node.annotation)
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            found.append(node.returns)
    return [
        ((hint.lineno, hint.col_offset), (hint.end_lineno or 0, hint.end_col_offset or 0))
        for hint in found
        if hint is not None
    ]


def draw(session: Path, folder: Path, sample: int, seed: int) -> tuple[int, int]:
    """Leave so many mutants in a session; return how many were left and how many there were."""
    with closing(sqlite3.connect(session)) as base, base:
        rows = base.execute(
            "SELECT job_id, module_path, start_pos_row, start_pos_col FROM mutation_specs"
        ).fetchall()
        hints = {path: in_type_hints((folder / path).read_text()) for path in {r[1] for r in rows}}
        sound = sorted(
            (path, line, column, job)
            for job, path, line, column in rows
            if not any(low <= (line, column) < high for low, high in hints[path])
        )
        # Jobs have random names: their place in the source is what a seed can choose by.
        order = [job for *_, job in sound]
        drawn = set(random.Random(seed).sample(order, min(sample, len(order))))
        for job in (row[0] for row in rows):
            if job not in drawn:
                base.execute("DELETE FROM mutation_specs WHERE job_id = ?", (job,))
                base.execute("DELETE FROM work_items WHERE job_id = ?", (job,))
    return len(drawn), len(sound)


def settings_text(group: Group) -> str:
    """Return the settings of Cosmic Ray for a group."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *group.tests]
    return "\n".join(
        [
            "[cosmic-ray]",
            f"module-path = {json.dumps(list(group.modules))}",
            f"timeout = {group.seconds}.0",
            "excluded-modules = []",
            f"test-command = {json.dumps(' '.join(command))}",
            "[cosmic-ray.distributor]",
            'name = "local"',
            "",
        ]
    )


def results(session: Path) -> list[tuple[bool, str, int, str, str]]:
    """Return (noticed, path, line, operator, difference) of each mutant that was run."""
    asked = (
        "SELECT r.test_outcome, r.diff, m.module_path, m.start_pos_row, m.operator_name "
        "FROM work_results r JOIN mutation_specs m ON m.job_id = r.job_id"
    )
    with closing(sqlite3.connect(session)) as base:
        rows = base.execute(asked).fetchall()
    return sorted(
        ("SURVIVED" not in str(outcome).upper(), path, line, operator, diff or "")
        for outcome, diff, path, line, operator in rows
    )


def run(name: str, sample: int, seed: int) -> int:
    """Run one group; return 1 if too few were noticed."""
    group = GROUPS[name]
    with tempfile.TemporaryDirectory(prefix="fitassist-mutants-") as above:
        folder = Path(above) / "project"
        shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(*LEFT_BEHIND))
        (folder / "mutants.toml").write_text(settings_text(group))

        def cosmic_ray(*words: str) -> None:
            tool = [sys.executable, "-m", "cosmic_ray.cli", *words]
            subprocess.run(tool, cwd=folder, check=True)

        cosmic_ray("baseline", "mutants.toml")
        cosmic_ray("init", "mutants.toml", SESSION)
        drawn, all_of_them = draw(folder / SESSION, folder, sample, seed)
        print(f"{name}: {drawn} of {all_of_them} mutants, seed {seed}", flush=True)
        cosmic_ray("exec", "mutants.toml", SESSION)
        found = results(folder / SESSION)
    return _tell(name, group, found)


def _tell(name: str, group: Group, found: Sequence[tuple[bool, str, int, str, str]]) -> int:
    noticed = sum(one[0] for one in found)
    share = noticed / max(len(found), 1)
    error = math.sqrt(share * (1 - share) / max(len(found), 1))
    for killed, path, line, operator, diff in found:
        if not killed:
            print(f"\nSURVIVED {path}:{line} {operator}")
            changed = [text for text in diff.splitlines() if text[:1] in "+-"]
            print("\n".join(text for text in changed if text[:3] not in ("+++", "---")))
    told = f"{name}: {noticed} of {len(found)} noticed, {share:.0%} (standard error {error:.0%})"
    print(f"\n{told}, asked for {group.least:.0%}", flush=True)
    return int(share < group.least)


def main() -> int:
    """Run the groups asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("--group", choices=sorted(GROUPS), action="append")
    parser.add_argument("--sample", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    return max(run(name, asked.sample, asked.seed) for name in asked.group or GROUPS)


if __name__ == "__main__":
    sys.exit(main())
