# SPDX-License-Identifier: MIT
"""Fittings to be judged: a form cut from one slim body, to become the double of another."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from tests.virtual.form import VirtualForm
from tests.virtual.made import ROW_LINE, ROWS, FormOptions
from tests.virtual.outlines import FLOATS, LINES, load_bodies
from tests.virtual.search import best_setting

TOLERANCE_MM = 6.35  # a quarter of an inch
REACH = 0.75  # share of the tolerance a fair case leaves between its best setting and the target
MOST_SECONDS = 60  # bodies tried for a second person
WANTED = ("reachable", "beyond", "apart", "too_small")
_OPTION_NAMES = {field.name for field in fields(FormOptions)}


@dataclass(frozen=True)
class Case:
    """A form as it stands and the girths it is to have, mm."""

    form: VirtualForm
    targets_mm: dict[str, float]
    tolerance_mm: float
    sex: str
    seed: int
    want: str = "reachable"

    def within(self) -> bool:
        """Say whether every line truly lies within tolerance now."""
        return self.worst_mm() <= self.tolerance_mm

    def worst_mm(self) -> float:
        """Return the largest true distance from a target now."""
        return max(abs(self.form.truth(line) - girth) for line, girth in self.targets_mm.items())


def make_case(
    seed: int,
    *,
    want: str = "reachable",
    tolerance_mm: float = TOLERANCE_MM,
    between: bool = False,
    **options: object,
) -> Case:
    """Return the case of that number.

    Parameters
    ----------
    want
        ``reachable``; or out of reach: ``beyond`` the range of the dials, rows pulled too far
        ``apart``, or ``too_small`` for the closed shell.
    between
        The lines between the rows have targets too.
    options
        Fields of `FormOptions`.
    """
    if want not in WANTED or not set(options) <= _OPTION_NAMES:
        raise ValueError(f"no such case: {want} {sorted(options)}")
    rng = np.random.default_rng([seed, WANTED.index(want)])
    lines = LINES if between else ROWS
    while True:
        sex = "F" if rng.random() < 0.75 else "M"
        form = VirtualForm.draw(rng, FormOptions(**options), _slim(rng, sex))  # type: ignore[arg-type]
        for _ in range(6):
            targets = _targets(rng, form, sex, lines, want)
            if targets is None:
                continue
            case = Case(form, targets, tolerance_mm, sex, seed, want)
            if want == "reachable":
                if reachable(case):
                    return case
            elif not reachable(case, share=1.5):
                return case


def make_second(case: Case, seed: int) -> Case | None:
    """Return a second person's fitting on the form of a case, standing where the first ended.

    None where no other body among many tried is within the form's reach.
    """
    rng = np.random.default_rng([case.seed, seed, 2])
    form = case.form.next_person(rng)
    for _ in range(MOST_SECONDS):
        targets = _targets(rng, form, case.sex, tuple(case.targets_mm), "reachable")
        if targets is None:
            continue
        second = Case(form, targets, case.tolerance_mm, case.sex, seed)
        if reachable(second):
            return second
    return None


def reachable(case: Case, share: float = REACH) -> bool:
    """Say whether some whole-click setting brings every line well within tolerance.

    Left stands like right, front and back at most two clicks from their row's mean; without
    slop and noise, over the undergarment of the day.
    """
    found = best_setting(case.form, case.targets_mm, good_mm=share * case.tolerance_mm)
    return found.worst_mm <= share * case.tolerance_mm


def _slim(rng: np.random.Generator, sex: str) -> int:
    """Return a body from the slimmer third by waist, but not the very slimmest."""
    bodies = load_bodies()
    mine = bodies.of_sex(sex)
    by_waist = mine[np.argsort(bodies.girth_mm[mine, LINES.index("waist")])]
    return int(rng.choice(by_waist[len(mine) // 50 : len(mine) // 3]))


def _targets(
    rng: np.random.Generator, form: VirtualForm, sex: str, lines: tuple[str, ...], want: str
) -> dict[str, float] | None:
    """Return girths of a larger body, bent out of reach if wanted; None: no such body."""
    bodies = load_bodies()
    closed = np.array([section.closed_girth_mm for section in form.made.sections])
    rows = list(ROW_LINE)
    whole_mm = float((form.made.greatest[0] - form.made.least[0]) * form.made.unit_mm)
    mine = bodies.of_sex(sex)
    above = bodies.girth_mm[mine][:, rows] - closed[rows]
    fits = mine[np.all((above > 10.0) & (above < 0.95 * whole_mm), axis=1)]
    if len(fits) == 0:
        return None
    girths = bodies.girth_mm[int(rng.choice(fits))].copy()
    if want != "reachable":
        open_wide = np.repeat(form.made.greatest[:, None], 4, axis=1)
        _bend(rng, girths, (closed, form.girths(open_wide)), want)
    return {line: round(float(girths[LINES.index(line)]), 1) for line in lines}


def _bend(
    rng: np.random.Generator, girths: FLOATS, reach: tuple[FLOATS, FLOATS], want: str
) -> None:
    """Move girths (5,) out of what the form can do; `reach` is closed and with all dials open."""
    closed, most = reach
    bust, waist, hip = ROW_LINE
    place = int(rng.choice(ROW_LINE))
    if want == "beyond":
        girths[place] = most[place] + rng.uniform(15.0, 50.0)
    elif want == "apart":
        girths[waist] = closed[waist] + rng.uniform(0.0, 6.0)
        for far in (bust, hip):
            girths[far] = closed[far] + (most - closed)[far] * rng.uniform(0.65, 0.85)
    else:
        girths[place] = closed[place] - rng.uniform(20.0, 50.0)
