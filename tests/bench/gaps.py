# SPDX-License-Identifier: MIT
"""How much nearer a slim shell comes to a larger body if its seams are opened by shape.

Run ``python -m tests.bench.gaps``; the seed is fixed. Held-out synthetic bodies are both shells
and bodies: a shell is the same line of a slimmer one, shut.
"""

from __future__ import annotations

import itertools

import numpy as np
from scipy.optimize import differential_evolution

from fitassist.geometry.best_gaps import (
    Shell,
    best_gaps,
    difference,
    opening_for,
    section_reach,
    shell_of,
)
from fitassist.geometry.form_outline import SEAMS
from fitassist.geometry.shape_learning import LEARNED_LINES, Bodies, load_bodies
from fitassist.geometry.support import Floats, girth_of, support
from tests.bench.outlines import BODIES, SEED, split

OPENING_MM = (60.0, 220.0)
# Of one seam, where a click is a quarter or half an inch of the whole girth.
GAP_CLICKS_MM = (25.4 / 16.0, 25.4 / 8.0)


def pairs(held: Bodies, count: int, seed: int = SEED) -> list[tuple[str, Floats, Floats, float]]:
    """Return line, shell, body and the body's girth; the body is 6 to 22 cm larger."""
    rng = np.random.default_rng(seed)
    found = []
    while len(found) < count:
        a, b = rng.choice(np.flatnonzero(held.women), 2, replace=False)
        at = int(rng.choice([0, 2, 4]))
        shell, body = held.outlines_mm[a, at], held.outlines_mm[b, at]
        more = girth_of(support(body)) - girth_of(support(shell))
        if OPENING_MM[0] <= more <= OPENING_MM[1]:
            found.append((LEARNED_LINES[at], shell, body, girth_of(support(body))))
    return found


def brute(shell: Shell, girth_mm: float, lopsided: bool, seed: int = SEED) -> float:
    """Return the least RMS that free gaps reach at a girth, by differential evolution.

    Lopsided: left and right need not be alike. A form opened at one side only is as deep as one
    opened at both, so this can be a little nearer, though nobody would stand like that.
    """

    def miss(shares: Floats) -> float:
        four = shares if lopsided else shares[[0, 1, 2, 1]]
        return difference(shell, opening_for(shell, four + 1e-9, girth_mm))

    found = differential_evolution(
        miss, [(0.0, 1.0)] * (4 if lopsided else 3), seed=seed, popsize=8, maxiter=40, tol=1e-6,
        polish=False,
    )  # fmt: skip
    return float(found.fun)


def whole_clicks(shell: Shell, gaps: Floats, girth_mm: float, gap_click_mm: float) -> float:
    """Return the least RMS with every gap a whole click, the girth within half a row's click."""
    low = np.floor(gaps / gap_click_mm)
    near = []
    for up in itertools.product((0.0, 1.0), repeat=4):
        turned = np.maximum(low + up, 0.0) * gap_click_mm
        section = girth_of(section_reach(shell, turned))
        near.append((abs(section - girth_mm) > 2.0 * gap_click_mm, difference(shell, turned)))
    return min(near)[1]


def main(count: int = 40) -> None:
    """Print the table."""
    _learned, held = split(load_bodies(BODIES))
    rows = []
    for line, closed, body, girth in pairs(held, count):
        best = best_gaps(closed, body, girth)
        shell = shell_of(closed, body)
        least = brute(shell, girth, False), brute(shell, girth, True)
        gaps = np.array([best.gaps_mm[seam] for seam in SEAMS])
        clicks = [whole_clicks(shell, gaps, girth, click) for click in GAP_CLICKS_MM]
        rows.append((line, best.equal_rms_mm, best.rms_mm, *least, *clicks))
    for name in ("bust", "waist", "hip", ""):
        told = np.array([row[1:] for row in rows if name in (row[0], "")])
        equal, ours, least, lopsided, quarter, half = told.mean(axis=0)
        print(
            f"{name or 'all':8} n {len(told):3}  equal {equal:6.2f}  by shape {ours:6.2f}  "
            f"brute {least:6.2f}  lopsided {lopsided:6.2f} mm  share {ours / equal:.2f}  "
            f"whole clicks {quarter:6.2f} (1/4 in) {half:6.2f} (1/2 in)"
        )
    for name, column in (("left = right", 3), ("lopsided", 4)):
        beyond = [row[2] - max(1.05 * row[column], row[column] + 0.3) for row in rows]
        count_beyond = sum(one > 0.0 for one in beyond)
        print(
            f"{name}: {count_beyond} farther than 5 % and 0.3 mm, at most by {max(beyond):.2f} mm"
        )


if __name__ == "__main__":
    main()
