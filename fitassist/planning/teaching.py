# SPDX-License-Identifier: MIT
"""What a form has taught, read off the belief that its evidence leads to."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtr

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import What
from fitassist.domain.taught import SCALE_OFF, Taught, TaughtRow
from fitassist.planning.belief import moments
from fitassist.planning.evidence import Evidence, evidence_of
from fitassist.planning.layout import Floats, Layout
from fitassist.planning.learned import belief_for

SURE = 0.9  # chance that a scale is off, before anybody is told; our own choice


def taught(form: Form) -> Taught:
    """Return what a form has taught, row by row.

    Raises
    ------
    BadFile
        Where its evidence cannot be understood (codes bad_learned, newer_version).
    """
    read = _readings(form, evidence_of(form))
    layout = Layout.of(form, [])
    if not layout.dials or not any(n for n, _at in read.values()):
        return Taught()
    mean, cov = moments(belief_for(layout, {}))
    has_print = form.dial_meaning != DialMeaning.PLAIN_TURNS
    rows = []
    for number, row in enumerate(form.rows):
        at = np.array([i for i, r in enumerate(layout.dial_rows) if r == number], dtype=int)
        n, last_at = read[row.line]
        if not n or not len(at):
            continue
        gain, spread = _gain(layout, mean, cov, row.line, at)
        turn_mm = gain * layout.unit_mm * float(layout.shares[at].sum())
        rows.append(
            TaughtRow(
                row=row.name,
                gain=gain,
                readings=n,
                last_at=last_at,
                is_off=has_print and chance_off(gain, spread) > SURE,
                turn_mm=None if has_print else turn_mm,
            )
        )
    return Taught(tuple(rows))


def _readings(form: Form, evidence: Evidence) -> dict[str, tuple[int, str]]:
    """Count the girths read of each line, in fittings and beside them; with the last one's time."""
    found = {line.name: (len(line.girths), "") for line in form.lines}
    for past in evidence.fittings:
        for entry in past.entries:
            if entry.mm is not None and entry.what == What.GIRTH and entry.line in found:
                n, last_at = found[entry.line]
                found[entry.line] = (n + 1, max(last_at, past.at))
    return found


def _gain(layout: Layout, mean: Floats, cov: Floats, line: str, at: Floats) -> tuple[float, float]:
    """Return mm of girth at a line per mm that the dials at those places print, and spread."""
    places = layout.effects(layout.lines.index(line)).start + at
    total = float(layout.shares[at].sum())
    variance = max(float(cov[np.ix_(places, places)].sum()), 0.0)
    return float(mean[places].sum()) / total, float(np.sqrt(variance)) / total


def chance_off(gain: float, spread: float) -> float:
    """Return the chance that a gain believed to be Gaussian lies further from 1 than SCALE_OFF."""
    spread = max(spread, 1e-6)
    inside = ndtr((1 + SCALE_OFF - gain) / spread) - ndtr((1 - SCALE_OFF - gain) / spread)
    return float(1.0 - inside)
