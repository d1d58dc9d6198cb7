# SPDX-License-Identifier: MIT
"""What a form is like inside, drawn by chance: gains, leaks, laps, scales. Nobody may ask it.

The sizes of these effects are our own guesses at a simple wooden or plastic form; no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from tests.virtual.outlines import FLOATS, LINES, load_bodies
from tests.virtual.section import SEAMS, Section

ROWS = ("bust", "waist", "hip")
ROW_LINE = tuple(LINES.index(row) for row in ROWS)
_UNDERGARMENT_SPREAD_MM = np.array([5.0, 3.0, 2.0, 3.0, 3.0])  # by line


@dataclass(frozen=True)
class FormOptions:
    """What kind of form is drawn; None leaves it to chance."""

    parts: int | None = None  # 4 or 8
    units: str = "in"
    smooth: bool = False  # dials without clicks
    click: float | None = None  # of the printed unit; None: a quarter inch, or half a cm
    dead: bool = False  # one dial does nothing
    double: bool = False  # one dial does twice what it says
    curved: bool = False  # gaps that open unevenly, by 15 % instead of 3 %
    tape_spread_mm: float = 3.0
    gross_share: float = 0.01
    round_to_mm: float = 1.0  # 25.4 / 16 for a tape in sixteenths
    slop: bool = True
    closed: str = "mixed"  # declared closed girths: "read", "none", "mixed"
    undergarment_factor: float = 1.0  # how much more than usual undergarments differ by day


@dataclass(frozen=True)
class Made:
    """The hidden truths of one form; axes rows (3) x seams (4) unless said otherwise."""

    sections: tuple[Section, ...]  # by line
    height_mm: FLOATS  # (5,) above the waist
    parts: int
    halves: tuple[str, ...]  # by row
    unit_mm: float
    click: float | None
    least: FLOATS  # (3,) printed numbers
    greatest: FLOATS
    gain: FLOATS
    lap_mm: FLOATS  # of number: closed panels lap so far before they open
    curve: FLOATS
    coupling: FLOATS  # (5 lines, 4 seams, 3 rows, 4 seams): gap there per gap made here
    first_undergarment_mm: FLOATS  # (5,) when the closed girths were declared

    @property
    def step(self) -> float:
        """Smallest turn in printed numbers; an eighth of the unit on smooth dials."""
        return self.click if self.click else 0.125

    def own_gaps(self, numbers: FLOATS) -> FLOATS:
        """Return the gap (..., 3, 4), mm, that each dial makes at its own seam."""
        turned = (numbers - self.least[:, None]) * self.unit_mm
        whole = ((self.greatest - self.least) * self.unit_mm)[:, None]
        corner = 1.5  # mm of number over which a lap gives way to opening
        raised = corner * np.logaddexp(0.0, (turned - self.lap_mm) / corner)
        at_rest = corner * np.logaddexp(0.0, -self.lap_mm / corner)
        open_mm = np.maximum(raised - at_rest, 0.0)
        uneven = 1.0 + 2.0 * self.curve * (turned / whole - 0.5)
        return np.asarray(self.gain * open_mm * uneven / 4.0)

    def gaps(self, numbers: FLOATS) -> FLOATS:
        """Return the gaps (..., 5 lines, 4 seams), mm, with the dials at numbers (..., 3, 4)."""
        spread = np.einsum("lsrt,...rt->...ls", self.coupling, self.own_gaps(numbers))
        return np.asarray(np.maximum(spread, 0.0))

    def girths(self, numbers: FLOATS, lines: tuple[int, ...] = tuple(range(5))) -> FLOATS:
        """Return the bare shell's girths (..., lines), mm, dials truly at numbers (..., 3, 4)."""
        gaps = self.gaps(numbers)
        return np.stack([self.sections[i].girth(gaps[..., i, :]) for i in lines], axis=-1)


def draw_undergarment(rng: np.random.Generator, factor: float = 1.0) -> FLOATS:
    """Return what one undergarment adds to the girths of the lines, (5,), mm."""
    return np.asarray(rng.normal(0.0, 1.0, 5) * _UNDERGARMENT_SPREAD_MM * factor)


def draw_form(rng: np.random.Generator, options: FormOptions, shell: int) -> Made:
    """Return a form with the shape of the given body, its mechanics drawn by chance."""
    bodies = load_bodies()
    unit_mm = 25.4 if options.units == "in" else 10.0
    parts = options.parts or int(rng.choice([4, 8]))
    usual = 0.25 if options.units == "in" else 0.5
    click = None if options.smooth else (options.click or usual)
    sections = tuple(Section(outline) for outline in bodies.outline_mm[shell])
    halves = _halves(rng, parts)
    closed = np.array([sections[i].closed_girth_mm for i in ROW_LINE])
    scale_error = rng.normal(0.0, 0.3 * 25.4, 3)  # of the printed scale, in girth
    grid = click or 0.25
    least = np.round((closed + scale_error) / unit_mm / grid) * grid
    gain = np.clip(
        rng.normal(0.96, 0.04) * rng.normal(1.0, 0.03, (3, 1)) * rng.normal(1.0, 0.03, (3, 4)),
        0.80,
        1.12,
    )
    curve = rng.uniform(-1.0, 1.0, (3, 4)) * (0.15 if options.curved else 0.03)
    made = Made(
        sections=sections,
        height_mm=bodies.height_mm[shell],
        parts=parts,
        halves=halves,
        unit_mm=unit_mm,
        click=click,
        least=least,
        greatest=least + (8.0 if options.units == "in" else 20.0),
        gain=gain,
        lap_mm=rng.uniform(0.0, 0.35 * 25.4, (3, 4)),
        curve=curve,
        coupling=_coupling(rng, parts, halves),
        first_undergarment_mm=draw_undergarment(rng),
    )
    return _spoil(rng, options, made)


def _spoil(rng: np.random.Generator, options: FormOptions, made: Made) -> Made:
    odd = rng.permutation(12)
    gain = made.gain.copy()
    if options.dead:
        gain.flat[odd[0]] = 0.0
    if options.double:
        gain.flat[odd[1]] *= 2.0
    return replace(made, gain=gain)


def _halves(rng: np.random.Generator, parts: int) -> tuple[str, ...]:
    if parts == 4:
        return ("whole",) * 3
    return ("upper", str(rng.choice(["upper", "lower"])), "lower")


def _coupling(rng: np.random.Generator, parts: int, halves: tuple[str, ...]) -> FLOATS:
    """Return the share of each gap that shows at every line and seam.

    Rows reach their neighbours in one shell, less across a horizontal split, hardly two rows on;
    lines between rows take from both sides. Levers are small and negative.
    """
    line_half = ("upper", "upper", "", "lower", "lower")  # the waist belongs to its row's half
    stiffness = rng.uniform(0.08, 0.35)
    split = rng.uniform(0.3, 0.6)
    coupling = np.zeros((len(LINES), 4, len(ROWS), 4))
    for line in range(len(LINES)):
        half = line_half[line] or halves[1]
        crosses = [parts == 8 and halves[row] != half for row in range(3)]
        share = np.array([_reach(rng, line, row, stiffness) for row in range(3)])
        share = np.where(crosses, share * split, share)
        for seam in range(4):
            opposite = (seam + 2) % 4
            for row in range(3):
                wobble = 1.0 if ROW_LINE[row] == line else rng.uniform(0.85, 1.15)
                coupling[line, seam, row, seam] = share[row] * wobble
                if abs(ROW_LINE[row] - line) >= 3:
                    coupling[line, seam, row, seam] -= _lever(rng)
                coupling[line, seam, row, opposite] -= _lever(rng)
    return coupling


def _lever(rng: np.random.Generator) -> float:
    return float(rng.uniform(0.0, 0.06)) if rng.random() < 0.5 else 0.0


def _reach(rng: np.random.Generator, line: int, row: int, stiffness: float) -> float:
    """Return the share of a row's gap that shows at a line of the same shell."""
    apart = abs(ROW_LINE[row] - line)
    if apart == 0:
        return 1.0
    if apart == 1:  # a line between two rows: about half of either
        return float(rng.uniform(0.40, 0.60))
    if apart == 2:
        return stiffness * float(rng.uniform(0.8, 1.2))
    return stiffness * float(rng.uniform(0.05, 0.25))


__all__ = ["ROWS", "ROW_LINE", "SEAMS", "FormOptions", "Made", "draw_form", "draw_undergarment"]
