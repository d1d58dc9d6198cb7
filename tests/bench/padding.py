# SPDX-License-Identifier: MIT
"""How near padding comes to bodies, and how long it takes: `python -m tests.bench.padding`.

Each body is put over a slim shell opened until it would stand out; see tests/data/BODIES.md. The
limits are our own: what is asked of free and of tidy pieces.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from fitassist.padding.plan import Manner, plan_padding
from fitassist.report.templates import template_pages
from tests.unit.padding.shells import shell_and_body
from tests.virtual.outlines import load_bodies

SHEETS_MM = (3.2, 6.0, 9.5)
TOLERANCE_MM = 3.2
SHARES = {Manner.FREE: (0.25, 0.4), Manner.TIDY: (0.4, 0.6)}
SENSIBLE_SHEETS = 8.5


def measure(step: int) -> dict[tuple[Manner, float], list[tuple[float, ...]]]:
    """Plan the padding of every step-th body; return a row of figures for each."""
    found: dict[tuple[Manner, float], list[tuple[float, ...]]] = {}
    for number in range(0, len(load_bodies().sex), step):
        sections = shell_and_body(number)
        for manner, (share, sheets) in SHARES.items():
            for sheet in SHEETS_MM:
                began = time.perf_counter()
                plan = plan_padding(sections, sheet, manner=manner, ignored_mm=2.0)
                if plan.pieces:
                    template_pages(plan)
                took = time.perf_counter() - began
                told = plan.outcome
                limit = max(share * told.before_mm, sheets * sheet)
                miss = np.abs(told.girth_miss_mm) <= max(TOLERANCE_MM, np.pi * sheet)
                found.setdefault((manner, sheet), []).append(
                    (
                        told.before_mm,
                        told.after_mm,
                        told.after_mm <= limit,
                        miss.mean(),
                        told.most_over_mm <= sheet + 1e-6,
                        told.volume_mm3 <= 1.25 * told.gap_volume_mm3,
                        len(plan.pieces),
                        took,
                        plan.most_sheets <= SENSIBLE_SHEETS,
                    )
                )
    return found


def main() -> None:
    """Print one line for each manner and sheet."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--step", type=int, default=20, help="take every so-manieth body")
    rows = measure(asked.parse_args().step)
    print("manner sheet bodies | before after mm | near lines over volume % | pieces | s mean max")
    for only in (False, True):
        print("gaps of at most eight sheets:" if only else "all gaps:")
        for (manner, sheet), figures in rows.items():
            table = np.array(figures, dtype=float)
            table = table[table[:, 8] > 0] if only else table
            if not len(table):
                continue
            mean = table.mean(axis=0)
            held = " ".join(f"{100 * mean[i]:5.1f}" for i in (2, 3, 4, 5))
            print(
                f"{manner.value:6} {sheet:4.1f} {len(table):4} | {mean[0]:5.1f} {mean[1]:5.2f} | "
                f"{held} | {mean[6]:4.1f} | {mean[7]:.2f} {table[:, 7].max():.2f}"
            )


if __name__ == "__main__":
    main()
