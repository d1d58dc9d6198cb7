# SPDX-License-Identifier: MIT
r"""What is believed of a form before it has been measured: geometry with honest doubt.

Opening one of a row's n seams by one printed inch of whole girth gives ``g / n`` inches at the
row's own line, g being the dial's gain: printed scales are seldom true, so g is about 0.95 with a
spread of 0.08, part of it common to the form, part to the row, part the dial's own. At another
line the same turn gives a share ("leak") of that: a panel is stiff, so its neighbour lines follow,
less across a horizontal split, and a far line may even be levered the other way. In symbols, with
E0 the mean effect,

.. math:: E_{ld} = E0_{ld} (1 + a + b_{r(d)} + c_d) + s_d (k_{l r(d)} + q_{ld})

where a, b, c are the gain's common, row and dial parts and k, q the leak's. All are Gaussian and
independent; the covariance of E follows by adding rank-one terms. No source is known for these
spreads: they are our own guesses, wide on purpose, and every reading narrows them.

A few forms are not like that: a dial that does nothing, or twice what it prints. One further
hypothesis a row holds its dials very loosely. It starts with little weight and gains it only if
the tape says so (see ``belief``).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam, What
from fitassist.planning.layout import Floats, Ints, Layout


@dataclass(frozen=True)
class PriorSpreads:
    """Standard deviations held before any reading; our own choices (no source)."""

    gain_mean: float = 0.95
    gain_form: float = 0.035
    gain_row: float = 0.025
    gain_dial: float = 0.07
    gain_unknown: float = 0.6  # plain turns, or a dial that may be dead or double
    leak_shell: float = 0.20  # mean share within one shell, across a split, and if not known
    leak_split: float = 0.09
    leak_unsaid: float = 0.15
    leak_shell_width: float = 0.075
    leak_split_width: float = 0.05
    leak_far: float = 0.04
    leak_between: float = 0.15
    leak_dial: float = 0.025
    declared_girth_mm: float = 3.5  # an owner's closed girth: tape and level; see below
    printed_girth_mm: float = 12.0  # the scale's own word for the closed girth
    unknown_girth_mm: float = 120.0
    lap_mean_mm: float = 4.5
    lap_mm: float = 2.8
    # The gap does not run quite straight with the number: after a turn of t mm the lap is known
    # less well by this share of t.
    bend: float = 0.02
    other_mm: float = 40.0
    loose_row: float = 0.03  # chance that one row has a dial unlike its print


# What an undergarment adds, by line (mm): spread between one undergarment and the next.
UNDERGARMENT_MM = {"bust": 5.0, "under_bust": 3.0, "waist": 2.0, "hip": 3.0}
UNDERGARMENT_OTHER_MM = 3.0


def leak_mean(layout: Layout, line: str, row: str, seam: Seam) -> tuple[float, float]:
    """Return mean and spread of the share of a row's opening that appears at a line."""
    spreads = PriorSpreads()
    own = layout.row_lines[row]
    if line == own:
        return 1.0, 0.0
    heights = layout.heights_mm
    # In the form's own order where heights are equal, so that the same file gives the same lines.
    lines = dict.fromkeys(layout.row_lines[r.name] for r in layout.form.rows)
    rows = sorted(lines, key=heights.__getitem__)
    if line in rows:
        apart = abs(rows.index(line) - rows.index(own))
        if apart > 1:
            return 0.02, spreads.leak_far
        return _neighbour_leak(layout, line, row)
    return _between(layout, line, own, rows, seam), spreads.leak_between


def _neighbour_leak(layout: Layout, line: str, row: str) -> tuple[float, float]:
    """Return mean and spread of the leak into a neighbour row: less across a horizontal split."""
    spreads = PriorSpreads()
    halves = {r.half for r in layout.form.rows if r.line == line or r.name == row}
    if halves == {"upper", "lower"}:
        return spreads.leak_split, spreads.leak_split_width
    if "whole" in halves and layout.form.parts >= 8:
        return spreads.leak_unsaid, spreads.leak_shell_width
    return spreads.leak_shell, spreads.leak_shell_width


def _between(layout: Layout, line: str, own: str, rows: list[str], seam: Seam) -> float:
    """Share at a line without dials: linear between rows, falling off beyond the last."""
    heights = layout.heights_mm
    z = heights[line]
    below = [r for r in rows if heights[r] <= z]
    above = [r for r in rows if heights[r] > z]
    if below and above:
        low, high = below[-1], above[0]
        t = (z - heights[low]) / max(heights[high] - heights[low], 1.0)
        return {low: 1.0 - t, high: t}.get(own, 0.02)
    nearest = above[0] if above else below[-1]
    if own != nearest:
        return 0.02
    share = float(np.exp(-abs(z - heights[nearest]) / 150.0))
    # Above the last row the side seams end at the armhole (common practice, no source).
    ends_at_armhole = bool(below) and seam in (Seam.LEFT, Seam.RIGHT)
    return share * (0.3 if ends_at_armhole else 1.0)


def prior_mean(layout: Layout, guesses_mm: dict[str, float]) -> Floats:
    """(S,) mean of the unknowns; `guesses_mm` gives a closed girth where the form has none."""
    mean = np.zeros(layout.size)
    for i, line in enumerate(layout.lines):
        mean[layout.effects(i)] = _mean_effects(layout, line)
    for i, line in enumerate(layout.lines):
        mean[layout.girth.start + i] = _closed_girth(layout, line, guesses_mm)[0]
    mean[layout.lap] = PriorSpreads().lap_mean_mm
    for i, (line, what) in enumerate(layout.others):
        girth = mean[layout.girth.start + layout.lines.index(line)]
        mean[layout.other.start + i] = girth * _share_of_girth(what)
    return mean


def _mean_effects(layout: Layout, line: str) -> Floats:
    gain = PriorSpreads().gain_mean
    leaks = [
        leak_mean(layout, line, name.rpartition(".")[0], Seam(name.rpartition(".")[2]))[0]
        for name in layout.dials
    ]
    return np.asarray(gain * layout.shares * np.array(leaks))


def _share_of_girth(what: What) -> float:
    # Half of a girth for arcs and halves; breadth and depth of an ordinary flattened section.
    return {What.BREADTH: 0.35, What.DEPTH: 0.26}.get(what, 0.5)


def _closed_girth(layout: Layout, line: str, guesses_mm: dict[str, float]) -> tuple[float, float]:
    """Return mean and spread of a line's girth with all dials closed."""
    spreads = PriorSpreads()
    known = layout.form.line(line)
    if known is not None and known.closed_girth_mm is not None:
        # It was read over some other undergarment, which is as wide again as today's.
        garment = UNDERGARMENT_MM.get(line, UNDERGARMENT_OTHER_MM)
        return known.closed_girth_mm, float(np.hypot(spreads.declared_girth_mm, garment))
    printed = [
        layout.least[i] * layout.form.unit_mm
        for i, name in enumerate(layout.dials)
        if layout.row_lines[name.rpartition(".")[0]] == line
    ]
    if printed and layout.form.dial_meaning == DialMeaning.WHOLE_GIRTH:
        return float(np.mean(printed)), spreads.printed_girth_mm
    return guesses_mm.get(line, 900.0), spreads.unknown_girth_mm


def prior_covariance(
    layout: Layout, guesses_mm: dict[str, float], loose_row: int | None = None
) -> Floats:
    """(S, S) covariance of the unknowns, `loose_row` holding that row's dials very loosely."""
    spreads = PriorSpreads()
    cov = np.zeros((layout.size, layout.size))
    mean = prior_mean(layout, guesses_mm)
    n_l, n_d = len(layout.lines), len(layout.dials)
    block = slice(0, n_l * n_d)
    effects = mean[block]
    rows = np.tile(np.array(layout.dial_rows), n_l)
    dials = np.tile(np.arange(n_d), n_l)
    cov[block, block] = _gain_covariance(layout, effects, rows, dials, loose_row)
    for i, line in enumerate(layout.lines):
        at = layout.effects(i)
        cov[at, at] += _leak_covariance(layout, line)
    for i, line in enumerate(layout.lines):
        spread = _closed_girth(layout, line, guesses_mm)[1]
        cov[layout.girth.start + i, layout.girth.start + i] = spread**2
    diagonal = np.diag_indices(layout.size)
    variances = cov[diagonal]
    variances[layout.undergarment] = undergarment_variances(layout)
    variances[layout.slop] = slop_variances(layout)
    variances[layout.lap] = spreads.lap_mm**2
    variances[layout.other] = spreads.other_mm**2
    cov[diagonal] = variances
    return cov


def _gain_covariance(
    layout: Layout, effects: Floats, rows: Ints, dials: Ints, loose_row: int | None
) -> Floats:
    spreads = PriorSpreads()
    unprinted = layout.form.dial_meaning == DialMeaning.PLAIN_TURNS
    common = spreads.gain_unknown if unprinted else spreads.gain_form
    same_row = rows[:, None] == rows[None, :]
    same_dial = dials[:, None] == dials[None, :]
    dial_variance = np.full(len(dials), spreads.gain_dial**2)
    if loose_row is not None:
        dial_variance[rows == loose_row] = spreads.gain_unknown**2
    gain = common**2 + spreads.gain_row**2 * same_row + same_dial * dial_variance[:, None]
    return np.asarray(np.outer(effects, effects) * gain)


def _leak_covariance(layout: Layout, line: str) -> Floats:
    """(D, D) covariance of the leaks into one line."""
    n_d = len(layout.dials)
    rows = np.array(layout.dial_rows)
    widths = np.array(
        [
            leak_mean(layout, line, name.rpartition(".")[0], Seam(name.rpartition(".")[2]))[1]
            for name in layout.dials
        ]
    )
    shared = np.outer(widths, widths) * (rows[:, None] == rows[None, :])
    own = np.eye(n_d) * np.where(widths > 0, PriorSpreads().leak_dial, 0.0) ** 2
    return np.asarray(np.outer(layout.shares, layout.shares) * (shared + own))


def undergarment_variances(layout: Layout) -> Floats:
    """(L,) variance of what an undergarment adds."""
    return np.array(
        [UNDERGARMENT_MM.get(line, UNDERGARMENT_OTHER_MM) ** 2 for line in layout.lines]
    )


def slop_variances(layout: Layout) -> Floats:
    """(D,) variance of where a dial comes to stand: even over plus or minus half a click."""
    return np.asarray((layout.steps * layout.unit_mm) ** 2 / 12.0)
