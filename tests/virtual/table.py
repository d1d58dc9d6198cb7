# SPDX-License-Identifier: MIT
"""The table that says what a fitting is worth: ``python -m tests.virtual.table --cases 200``.

a: the common round. b: a form never seen. c: a second person, only the learned form carried over.
d: the fewest turns, knowing the truth (d even: left like right, front near back). e: like b, with
opposite dials always equal.
"""

from __future__ import annotations

import argparse
import json
import time
import traceback
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from typing import Any

from tests.virtual.cases import Case, make_case, make_second
from tests.virtual.judge import Outcome, calibration_lines, table_lines
from tests.virtual.oracle import fewest_turns
from tests.virtual.play import play, start_fitting
from tests.virtual.rounds import common_round

METHODS = {
    "a": "a common round",
    "b": "b never seen",
    "c": "c second person",
    "d": "d fewest turns",
    "e": "e opposite equal",
}


def _fewest(case: Case, even: bool) -> list[Outcome]:
    turns = fewest_turns(case, even=even)
    return [] if turns is None else [Outcome(0, turns, 0, 0, True, 0.0)]


def run_case(seed: int, only: str, options: dict[str, Any]) -> dict[str, list[Outcome]]:
    """Return the outcomes of every wanted method on one case; each starts from the same form."""
    found: dict[str, list[Outcome]] = {}

    def keep(name: str, outcomes: list[Outcome]) -> None:
        found.setdefault(name, []).extend(outcomes)

    def fresh() -> Case:
        return make_case(seed, **options)

    if "a" in only:
        keep("a common round", [common_round(fresh())])
    if "b" in only or "c" in only:
        case = fresh()
        fitting = start_fitting(case)
        keep("b never seen", [play(fitting, case)])
        if "c" in only:
            case.form.learned = fitting.learned()
            second = make_second(case, seed)
            if second is not None:
                keep("c second person", [play(start_fitting(second), second)])
    if "d" in only:
        keep("d fewest turns", _fewest(fresh(), even=False))
        keep("d even", _fewest(fresh(), even=True))
    if "e" in only:
        case = fresh()
        keep("e opposite equal", [play(start_fitting(case, opposite_equal=True), case)])
    return found


def _guarded(seed: int, only: str, options: dict[str, Any]) -> dict[str, list[Outcome]] | str:
    try:
        return run_case(seed, only, options)
    except Exception:  # one broken fitting must not hide the rest of the table
        return f"case {seed}\n{traceback.format_exc()}"


def run(
    seeds: range, only: str, options: dict[str, Any], workers: int
) -> tuple[dict[str, list[Outcome]], list[str]]:
    """Return the outcomes by method, and the traces of cases that broke."""
    work = partial(_guarded, only=only, options=options)
    if workers > 1:
        with ProcessPoolExecutor(workers) as pool:
            answers = list(pool.map(work, seeds, chunksize=4))
    else:
        answers = [work(seed) for seed in seeds]
    results: dict[str, list[Outcome]] = {}
    broken = [answer for answer in answers if isinstance(answer, str)]
    for answer in answers:
        if not isinstance(answer, str):
            for name, outcomes in answer.items():
                results.setdefault(name, []).extend(outcomes)
    return dict(sorted(results.items())), broken


def _verdicts(outcomes: list[Outcome]) -> str:
    names = sorted({outcome.verdict for outcome in outcomes})
    parts = []
    for name in names:
        those = [o for o in outcomes if o.verdict == name]
        parts.append(f"{name} {len(those)}, within {sum(o.within for o in those)}")
    return "; ".join(parts)


def report(results: dict[str, list[Outcome]], broken: list[str]) -> list[str]:
    """Return the whole report as lines of text."""
    lines = table_lines(results, against=METHODS["a"])
    for name, outcomes in results.items():
        stated = [pair for outcome in outcomes for pair in outcome.stated]
        if stated:
            lines += ["", f"{name}: {_verdicts(outcomes)}", *calibration_lines(stated)]
            ends = [o.stated[-1] for o in outcomes if o.stated]
            lines += ["at the end only", *calibration_lines(ends)]
    if broken:
        lines += ["", f"BROKEN: {len(broken)}", broken[0]]
    return lines


def main() -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="a,b,c,d,e", help="methods, e.g. a,b,c")
    parser.add_argument("--options", default="{}", help='JSON, e.g. {"parts": 8, "dead": true}')
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    started = time.perf_counter()
    first = 100_000 * asked.seed
    results, broken = run(
        range(first, first + asked.cases), asked.only, json.loads(asked.options), asked.workers
    )
    print("\n".join(report(results, broken)))
    print(f"{time.perf_counter() - started:.1f} s")
    return 1 if broken else 0


if __name__ == "__main__":
    raise SystemExit(main())
