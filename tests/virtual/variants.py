# SPDX-License-Identifier: MIT
"""The table by what may be different: ``python -m tests.virtual.variants --cases 500``.

Each line changes one thing of the usual form and tape: how steady the tape is, how fine the clicks,
how many parts, one dead dial, and an undergarment other than the one the form was described with.
"""

from __future__ import annotations

import argparse
import datetime
import time
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from tests.virtual.judge import Outcome
from tests.virtual.table import METHODS, run

VARIANTS: dict[str, dict[str, Any]] = {
    "usual": {},
    "tape 1.5 mm": {"tape_spread_mm": 1.5},
    "tape 5 mm": {"tape_spread_mm": 5.0},
    "click 1/8": {"click": 0.125},
    "click 1/2": {"click": 0.5},
    "no clicks": {"smooth": True},
    "four parts": {"parts": 4},
    "eight parts": {"parts": 8},
    "one dead dial": {"dead": True},
    "wrong undergarment": {"undergarment_factor": 3.0},
}
ORACLES = (METHODS["d"], "d even")
COLUMNS = ("readings", "turns", "walks", "clicks")
SURE = 0.95  # stated chances of at least this are judged together


def row(name: str, method: str, outcomes: Sequence[Outcome]) -> str:
    """Return one line: mean of each count, success, and stated chances against the truth."""
    means = [float(np.mean([getattr(one, column) for one in outcomes])) for column in COLUMNS]
    within = 100.0 * float(np.mean([one.within for one in outcomes]))
    ends = [one.stated[-1] for one in outcomes if one.stated]
    sure = [(stated, true) for stated, true in ends if stated >= SURE]
    calibrated = "-"
    if sure:
        said, was = np.mean([s for s, _ in sure]), np.mean([t for _, t in sure])
        calibrated = f"{100 * said:.1f} / {100 * was:.1f} ({len(sure)})"
    counts = " | ".join(f"{mean:.1f}" for mean in means)
    if method in ORACLES:  # it knows the truth, so only its turns mean anything
        counts = f"- | {means[1]:.1f} | - | -"
    return f"| {name} | {method} | {len(outcomes)} | {counts} | {within:.1f} | {calibrated} |"


def table(found: Mapping[str, Mapping[str, Sequence[Outcome]]]) -> list[str]:
    """Return all variants as the lines of one table in Markdown."""
    lines = [
        "| variant | method | cases | readings | turns | walks | clicks | within % "
        "| sure: said / true % (n) |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for name, methods in found.items():
        lines += [row(name, method, outcomes) for method, outcomes in methods.items() if outcomes]
    return lines


def main() -> int:
    """Print the table; 1 if a case broke."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="a,b,c,d", help="methods of tests.virtual.table")
    parser.add_argument("--variant", choices=sorted(VARIANTS), action="append")
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    began, broken = time.monotonic(), []
    first = 100_000 * asked.seed
    found: dict[str, Mapping[str, Sequence[Outcome]]] = {}
    for name in asked.variant or VARIANTS:
        seeds = range(first, first + asked.cases)
        found[name], more = run(seeds, asked.only, VARIANTS[name], asked.workers)
        broken += more
        print(f"{name}: {time.monotonic() - began:.0f} s", flush=True)
    print(f"\n{datetime.date.today()}, {asked.cases} cases each, seed {asked.seed}\n")
    print("\n".join(table(found)))
    if broken:
        print(f"\nBROKEN: {len(broken)}\n{broken[0]}")
    return int(bool(broken))


if __name__ == "__main__":
    raise SystemExit(main())
