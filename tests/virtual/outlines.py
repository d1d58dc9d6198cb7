# SPDX-License-Identifier: MIT
"""Outlines of synthetic bodies; where they come from is told in tests/data/BODIES.md."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

FLOATS = NDArray[np.float64]

LINES = ("bust", "under_bust", "waist", "high_hip", "hip")
POINTS = 128
_FILE = Path(__file__).parents[1] / "data" / "bodies.npz"


@dataclass(frozen=True)
class Bodies:
    """All bodies; the second axis of every array is the line.

    ``outline_mm`` (n, 5, 128, 2): taut-tape outlines from centre front by the body's left, x to
    its left, y to its front. ``girth_mm`` and ``height_mm`` (n, 5), heights above the waist.
    """

    outline_mm: FLOATS
    girth_mm: FLOATS
    height_mm: FLOATS
    sex: tuple[str, ...]

    def of_sex(self, sex: str) -> NDArray[np.intp]:
        """Return the numbers of all bodies of one sex."""
        return np.flatnonzero(np.asarray(self.sex) == sex)


@cache
def load_bodies() -> Bodies:
    """Return the 420 bodies (read once; do not write into the arrays)."""
    with np.load(_FILE) as stored:
        half = stored["half_xy_tenth_mm"].astype(np.float64) / 10.0
        mirrored = half[:, :, -2:0:-1] * [-1.0, 1.0]
        bodies = Bodies(
            outline_mm=np.concatenate([half, mirrored], axis=2),
            girth_mm=stored["girth_mm"].astype(np.float64),
            height_mm=stored["height_mm"].astype(np.float64),
            sex=tuple(str(s) for s in stored["sex"]),
        )
    for array in (bodies.outline_mm, bodies.girth_mm, bodies.height_mm):
        array.flags.writeable = False
    return bodies
