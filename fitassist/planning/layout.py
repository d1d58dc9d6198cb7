# SPDX-License-Identifier: MIT
"""Which unknown stands where in the belief's vector, and how printed numbers become openings.

The unknowns of a form with L lines and D dials, in this order:

====================  =====  ==================================================================
effects               L*D    mm of gap at the line per mm of opening of the dial
form girth            L      girth of the line with every dial closed, without undergarment (mm)
undergarment          L      what today's undergarment adds to it (mm); drawn anew each fitting
slop                  D      where the dial truly stands less its number (mm of opening)
lap                   D      opening used up before the seam opens (mm of opening)
other offsets         Q      closed value of every reading that is not a whole girth (mm)
====================  =====  ==================================================================

A reading of line l is ``form girth + undergarment + sum_d w_d * effect[l, d] * gap_d`` with
``gap_d = max(0, opening_d + slop_d - lap_d)`` and w the weight with which a seam counts in what was
read: all four seams in a whole girth, the centre front fully and the sides by half in the front
from side to side, and so on.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from fitassist.domain.form import Dial, DialMeaning, Form
from fitassist.domain.lines import USUAL_HEIGHTS_MM, Seam, What

Floats = NDArray[np.float64]
Ints = NDArray[np.int_]
Bools = NDArray[np.bool_]
Quantity = tuple[str, What]

# How much of each seam's gap a reading sees. The tape is a taut closed curve, so moving two panels
# apart by g lengthens it by g at each side (support of a Minkowski sum with a segment); breadth
# grows with the centre seams, depth with the side seams.
SEAM_WEIGHTS: Mapping[What, Mapping[Seam, float]] = {
    What.GIRTH: dict.fromkeys(Seam, 1.0),
    What.FRONT: {Seam.FRONT: 1.0, Seam.LEFT: 0.5, Seam.RIGHT: 0.5, Seam.BACK: 0.0},
    What.BACK: {Seam.FRONT: 0.0, Seam.LEFT: 0.5, Seam.RIGHT: 0.5, Seam.BACK: 1.0},
    What.LEFT_HALF: {Seam.FRONT: 0.5, Seam.LEFT: 1.0, Seam.RIGHT: 0.0, Seam.BACK: 0.5},
    What.RIGHT_HALF: {Seam.FRONT: 0.5, Seam.LEFT: 0.0, Seam.RIGHT: 1.0, Seam.BACK: 0.5},
    What.BREADTH: {Seam.FRONT: 0.5, Seam.LEFT: 0.0, Seam.RIGHT: 0.0, Seam.BACK: 0.5},
    What.DEPTH: {Seam.FRONT: 0.0, Seam.LEFT: 0.5, Seam.RIGHT: 0.5, Seam.BACK: 0.0},
}
# Girth of one plain turn where the scale prints none (our own guess; its gain is held loosely).
PLAIN_TURN_MM = 6.0


@dataclass(frozen=True)
class Layout:
    """Indexes into the vector of unknowns for one form and the quantities in play."""

    form: Form
    lines: tuple[str, ...]
    others: tuple[Quantity, ...]  # quantities other than whole girths

    @classmethod
    def of(cls, form: Form, quantities: Sequence[Quantity]) -> Layout:
        """Lay out the unknowns for every line with dials and every quantity in play."""
        known = [line.name for line in form.lines]
        rows = {row.line for row in form.rows}
        used = {line for line, what in quantities if what in SEAM_WEIGHTS} | rows
        lines = tuple(name for name in known if name in used)
        others = tuple(
            dict.fromkeys(
                (line, what)
                for line, what in quantities
                if line in lines and what in SEAM_WEIGHTS and what != What.GIRTH
            )
        )
        return cls(form, lines, others)

    @cached_property
    def dials(self) -> tuple[str, ...]:
        """Names of the dials that exist."""
        return tuple(dial.name for dial in self.form.dials if not dial.missing)

    @cached_property
    def dial_index(self) -> dict[str, int]:
        """Place of each dial."""
        return {name: i for i, name in enumerate(self.dials)}

    @cached_property
    def dial_rows(self) -> tuple[int, ...]:
        """Row number of each dial."""
        rows = {row.name: i for i, row in enumerate(self.form.rows)}
        return tuple(rows[name.rpartition(".")[0]] for name in self.dials)

    @cached_property
    def shares(self) -> Floats:
        """(D,) part of a row's printed girth that one of its seams gives."""
        counts: dict[str, int] = {}
        for dial in self.form.dials:
            counts[dial.row] = counts.get(dial.row, 0) + 1
        whole = self.form.dial_meaning == DialMeaning.WHOLE_GIRTH
        return np.array(
            [1.0 / counts[name.rpartition(".")[0]] if whole else 1.0 for name in self.dials]
        )

    @cached_property
    def unit_mm(self) -> float:
        """Opening in mm of one printed unit."""
        turns = self.form.dial_meaning == DialMeaning.PLAIN_TURNS
        return PLAIN_TURN_MM if turns else self.form.unit_mm

    @cached_property
    def least(self) -> Floats:
        """(D,) closed numbers."""
        return np.array([self._dial(name).least for name in self.dials])

    @cached_property
    def greatest(self) -> Floats:
        """(D,) greatest numbers."""
        return np.array([self._dial(name).greatest for name in self.dials])

    @cached_property
    def steps(self) -> Floats:
        """(D,) smallest turn in printed numbers."""
        return np.array([self._dial(name).step for name in self.dials])

    def _dial(self, name: str) -> Dial:
        dial = self.form.dial(name)
        assert dial is not None
        return dial

    @cached_property
    def size(self) -> int:
        """Number of unknowns."""
        n_l, n_d = len(self.lines), len(self.dials)
        return n_l * n_d + 2 * n_l + 2 * n_d + len(self.others)

    def effects(self, line: int) -> slice:
        """Effects of all dials on a line."""
        n_d = len(self.dials)
        return slice(line * n_d, (line + 1) * n_d)

    @cached_property
    def girth(self) -> slice:
        """Closed form girths."""
        start = len(self.lines) * len(self.dials)
        return slice(start, start + len(self.lines))

    @cached_property
    def undergarment(self) -> slice:
        """What the undergarment adds."""
        return slice(self.girth.stop, self.girth.stop + len(self.lines))

    @cached_property
    def slop(self) -> slice:
        """True stand less number."""
        return slice(self.undergarment.stop, self.undergarment.stop + len(self.dials))

    @cached_property
    def lap(self) -> slice:
        """Opening used up before a seam opens."""
        return slice(self.slop.stop, self.slop.stop + len(self.dials))

    @cached_property
    def other(self) -> slice:
        """Closed values of readings other than girths."""
        return slice(self.lap.stop, self.lap.stop + len(self.others))

    @cached_property
    def heights_mm(self) -> dict[str, float]:
        """Height of every line (mm): the form's own if all were given, else usual ones for all."""
        given = {
            line.name: line.height_mm for line in self.form.lines if line.height_mm is not None
        }
        if len(given) == len(self.form.lines):
            return {name: float(height) for name, height in given.items()}
        return {
            line.name: USUAL_HEIGHTS_MM.get(line.name, -30.0 * i)
            for i, line in enumerate(self.form.lines)
        }

    @cached_property
    def row_lines(self) -> dict[str, str]:
        """Row name to its line."""
        return {row.name: row.line for row in self.form.rows}

    def weights(self, what: What) -> Floats:
        """(D,) weight of each dial's seam in a reading of this kind.

        A row with a single dial opens the whole round, so that dial counts fully in a girth.
        """
        table = SEAM_WEIGHTS[what]
        return np.array([table[Seam(name.rpartition(".")[2])] for name in self.dials])

    def openings(self, numbers: Mapping[str, float]) -> Floats:
        """(D,) openings in mm above closed, from printed numbers (now standing if not named)."""
        values = [numbers.get(name, self._dial(name).number) for name in self.dials]
        return (np.array(values) - self.least) * self.unit_mm
