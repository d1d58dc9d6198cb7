# SPDX-License-Identifier: MIT
"""The long form: ``python -m tests.fuzz.run --loader form --cases 200000 [--seed 1] [--keep]``.

Ends with code 1 if a case did anything but load or be refused, or took longer than two seconds.
``--keep`` puts such cases into ``tests/data/regressions``, where the short form finds them.
"""

from __future__ import annotations

import argparse
import hashlib
import random
import resource
import sys
import time
import traceback
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from fitassist.errors import FitError
from tests.fuzz.loaders import LOADERS, Loader
from tests.fuzz.mutators import spoil

REGRESSIONS = Path(__file__).parents[1] / "data" / "regressions"
SLOWEST_S = 2.0


def try_case(loader: Loader, data: bytes) -> str:
    """Return the code of the refusal, or "understood"; anything else is raised."""
    try:
        loader.load(data)
    except FitError as error:
        return error.code
    return "understood"


def cases(loader: Loader, seed: int, count: int) -> list[bytes]:
    """Return so many spoilt examples, the same for the same seed."""
    seeds = loader.seeds()
    chances = (random.Random(seed * 1_000_003 + i) for i in range(count))
    return [spoil(seeds[i % len(seeds)], chance) for i, chance in enumerate(chances)]


def keep(name: str, data: bytes) -> Path:
    """Keep a case under a name of its own."""
    folder = REGRESSIONS / name
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{hashlib.sha256(data).hexdigest()[:12]}.case"
    path.write_bytes(data)
    return path


def main(argv: Sequence[str] | None = None) -> int:
    """Run so many cases against one loader and say what came of it."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.run")
    parser.add_argument("--loader", choices=sorted(LOADERS), required=True)
    parser.add_argument("--cases", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=float("inf"), help="stop after so long")
    parser.add_argument("--keep", action="store_true")
    asked = parser.parse_args(argv)
    loader = LOADERS[asked.loader]
    seeds = loader.seeds()
    for seed in seeds:
        assert try_case(loader, seed) == "understood", "the examples are sound"
    found: Counter[str] = Counter()
    failures: dict[str, bytes] = {}
    slowest, began = 0.0, time.monotonic()
    for i in range(asked.cases):
        if time.monotonic() - began > asked.seconds:
            break
        chance = random.Random(asked.seed * 1_000_003 + i)
        data = spoil(seeds[i % len(seeds)], chance)
        start = time.process_time()
        try:
            found[try_case(loader, data)] += 1
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            what = f"{type(error).__name__} at {Path(where.filename).name}:{where.lineno}"
            found[f"FAILED {what}"] += 1
            failures.setdefault(what, data)
        taken = time.process_time() - start
        if taken > SLOWEST_S:
            failures.setdefault("slow", data)
        slowest = max(slowest, taken)
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{asked.loader}: {found.total()} cases in {time.monotonic() - began:.0f} s")
    print(f"slowest {slowest:.3f} s, peak memory {peak_mb} MB, {len(failures)} kinds of failure")
    for code, count in found.most_common():
        print(f"  {count:8d} {code}")
    for what, data in failures.items():
        place = keep(asked.loader, data) if asked.keep else data[:2000]
        print(f"FAILED {what}: {place!r}")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
