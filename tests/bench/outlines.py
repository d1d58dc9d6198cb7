# SPDX-License-Identifier: MIT
"""How well outlines follow from readings, on bodies the prior has not seen.

Run ``python -m tests.bench.outlines``; the seed is fixed. A number behind it gives means
over so many splits. Tape noise (sd): girths 5 mm, breadth and depth 6 mm, arcs 7 mm.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from fitassist.domain.lines import What
from fitassist.geometry.outline import NORMAL_90, TorsoOutlines, torso_outlines
from fitassist.geometry.outline_readings import OutlineReading
from fitassist.geometry.shape_learning import Bodies, learn_priors, load_bodies
from fitassist.geometry.shape_prior import LEARNED_LINES, PriorKind, ShapePriors
from fitassist.geometry.support import outside_mm, rms_difference

BODIES = Path(__file__).resolve().parents[2] / "resources" / "shape" / "bodies.npz"
SEED = 20
NOISE_MM = {What.GIRTH: 5.0, What.BREADTH: 6.0, What.DEPTH: 6.0, What.FRONT: 7.0}
THREE = ("bust", "waist", "hip")
SETS: dict[str, dict[What, tuple[str, ...]]] = {
    "three girths": {What.GIRTH: THREE},
    "five girths": {What.GIRTH: LEARNED_LINES},
    "and depth at bust, waist, hip": {What.GIRTH: LEARNED_LINES, What.DEPTH: THREE},
    "and breadth there": {What.GIRTH: LEARNED_LINES, What.DEPTH: THREE, What.BREADTH: THREE},
    "five girths and fronts": {What.GIRTH: LEARNED_LINES, What.FRONT: THREE},
}


@dataclass(frozen=True)
class Found:
    """What one set of readings gave: mean RMS (mm), share within the raw band, band (mm)."""

    rms_mm: float
    covered: float
    band_mm: float


def split(bodies: Bodies, seed: int = SEED) -> tuple[Bodies, Bodies]:
    """Return four fifths to learn from and a fifth held out, women and men alike."""
    rng = np.random.default_rng(seed)
    held: list[int] = []
    for women in (True, False):
        order = rng.permutation(np.flatnonzero(bodies.women == women))
        held.extend(order[: round(0.2 * len(order))])
    mask = np.zeros(len(bodies.women), dtype=bool)
    mask[held] = True
    return bodies.only(np.flatnonzero(~mask)), bodies.only(np.flatnonzero(mask))


def readings_of(
    bodies: Bodies, body: int, what: dict[What, tuple[str, ...]], rng: np.random.Generator
) -> list[OutlineReading]:
    """Return noisy readings of one body, taken off its outlines themselves."""
    found = []
    for kind, lines in what.items():
        for line in lines:
            at = LEARNED_LINES.index(line)
            points = bodies.outlines_mm[body, at]
            side = np.roll(points, -1, axis=0) - points
            girth = float(np.hypot(side[:, 0], side[:, 1]).sum())
            true = {
                What.GIRTH: girth,
                What.BREADTH: float(np.ptp(points[:, 0])),
                What.DEPTH: float(np.ptp(points[:, 1])),
                What.FRONT: girth * float(bodies.front_share[body, at]),
            }[kind]
            noise = NOISE_MM[kind]
            found.append(OutlineReading(line, kind, true + noise * rng.standard_normal(), noise))
    return found


def judge(
    priors: ShapePriors, bodies: Bodies, what: dict[What, tuple[str, ...]], kind: PriorKind
) -> Found:
    """Return how well one set of readings tells the outlines of one kind of body."""
    rng = np.random.default_rng(SEED)
    errors, inside, bands = [], [], []
    for body in np.flatnonzero(bodies.women == (kind == "woman")):
        outlines = torso_outlines(priors[kind], readings_of(bodies, body, what, rng))
        bands.append(np.mean([outlines.levels[line].band_mm(False) for line in LEARNED_LINES]))
        for at, line in enumerate(LEARNED_LINES):
            points = bodies.outlines_mm[body, at]
            level = outlines.levels[line]
            errors.append(rms_difference(points, level.points))
            away, direction = outside_mm(points, level.reach_mm)
            inside.append(np.mean(np.abs(away) <= NORMAL_90 * level.raw_mm[direction]))
    return Found(float(np.mean(errors)), float(np.mean(inside)), float(np.mean(bands)))


def time_ms(priors: ShapePriors, bodies: Bodies, times: int = 50) -> float:
    """Return how long all outlines of one body take, the median of some."""
    rng = np.random.default_rng(SEED)
    readings = readings_of(bodies, 0, SETS["and breadth there"], rng)
    taken = []
    outlines: TorsoOutlines | None = None
    for _ in range(times):
        start = time.perf_counter()
        outlines = torso_outlines(priors["woman"], readings)
        taken.append(time.perf_counter() - start)
    assert outlines is not None
    return 1000.0 * float(np.median(taken))


def over_splits(count: int) -> None:
    """Print the means over several splits: one fifth of the bodies is a small sample."""
    bodies = load_bodies(BODIES)
    found: dict[tuple[str, str], list[Found]] = {}
    for seed in range(SEED, SEED + count):
        learned, held = split(bodies, seed)
        priors = learn_priors(learned)
        for name, what in SETS.items():
            for kind in ("woman", "man"):
                found.setdefault((name, kind), []).append(judge(priors, held, what, kind))
    for (name, kind), every in found.items():
        rms, covered, band = np.mean([(f.rms_mm, f.covered, f.band_mm) for f in every], axis=0)
        print(f"{name:32}{kind:>8}{rms:9.2f}{covered:9.1%}{band:9.2f}")


def main() -> None:
    """Print the table; with a number, the means over so many splits."""
    if len(sys.argv) > 1:
        over_splits(int(sys.argv[1]))
        return
    learned, held = split(load_bodies(BODIES))
    priors = learn_priors(learned)
    print(f"{'readings':32}{'kind':>8}{'RMS mm':>9}{'in 90 %':>9}{'band mm':>9}")
    for name, what in SETS.items():
        for kind in ("woman", "man"):
            found = judge(priors, held, what, kind)
            print(f"{name:32}{kind:>8}{found.rms_mm:9.2f}{found.covered:9.1%}{found.band_mm:9.2f}")
    print(f"all outlines of one body: {time_ms(priors, held):.2f} ms")


if __name__ == "__main__":
    main()
