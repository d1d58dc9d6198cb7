# SPDX-License-Identifier: MIT
"""An adjustable form as data: lines, rows of dials, ranges, clicks, torso, neck, stand.

Dial numbers are kept as the form prints them (`units` says inches or cm), lengths in mm.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any, Literal

from pydantic import Field, model_validator

from fitassist.domain.form_memory import MOST_PRINTED, LastFitted
from fitassist.domain.lines import Seam
from fitassist.domain.model import Model


class DialMeaning(StrEnum):
    """What the numbers beside a dial say."""

    WHOLE_GIRTH = "whole_girth"  # the girth at this row if all its seams stand at this number
    SEAM_GAP = "seam_gap"  # the width of this one gap
    PLAIN_TURNS = "plain_turns"  # turns of the dial; what one turn gives is not printed


class Dial(Model):
    """One dial. Its name is ``row.seam``; a neck dial may be ``neck.back``."""

    name: str
    least: float  # closed
    greatest: float
    click: float | None = None  # smallest turn that holds, in printed numbers; None: smooth
    number: float  # where it stands now
    missing: bool = False  # the seam opens but has no dial of its own
    readable: bool = True  # False: numbers worn away, count clicks instead
    quirk: str = Field(default="", max_length=300)  # the owner's note: "sticks above 40"
    # What a fitting met and nobody has put right: it would not turn, or not beyond this number.
    stuck: bool = False
    stopped_above: float | None = Field(default=None, ge=-MOST_PRINTED, le=MOST_PRINTED)
    stopped_below: float | None = Field(default=None, ge=-MOST_PRINTED, le=MOST_PRINTED)

    @property
    def row(self) -> str:
        """Name of the row this dial belongs to."""
        return self.name.rpartition(".")[0]

    @property
    def seam(self) -> Seam:
        """The seam this dial opens."""
        return Seam(self.name.rpartition(".")[2])

    @property
    def step(self) -> float:
        """Smallest turn planned, in printed numbers; an eighth of the unit where it is smooth."""
        return self.click if self.click else 0.125


class KnownGirth(Model):
    """A girth read earlier with the dials at known numbers (by dial name, or by row name)."""

    girth_mm: float = Field(gt=0)
    numbers: dict[str, float]
    undergarment: str = ""


class FormLine(Model):
    """A line of the form."""

    name: str
    height_mm: float | None = (
        None  # above the waist line, or above the floor: only differences count
    )
    closed_girth_mm: float | None = None
    girths: tuple[KnownGirth, ...] = ()


class Row(Model):
    """A row of dials round the form, at one line."""

    name: str
    line: str
    half: Literal["upper", "lower", "whole"] = "whole"


class Torso(Model):
    """How the torso pulls longer. All None: it does not."""

    parts: Literal["none", "one", "front_back_sides"] = "none"
    least_mm: float | None = None  # back neck to waist, shortest
    greatest_mm: float | None = None
    length_mm: float | None = None  # as it stands now


class Stand(Model):
    """The stand: height range of the shoulder above the floor."""

    least_mm: float | None = None
    greatest_mm: float | None = None
    height_mm: float | None = None


class Form(Model):
    """An adjustable form as it stands now."""

    name: str
    parts: int = 8
    units: Literal["in", "cm"] = "in"
    dial_meaning: DialMeaning = DialMeaning.WHOLE_GIRTH
    lines: tuple[FormLine, ...]
    rows: tuple[Row, ...]
    dials: tuple[Dial, ...]
    largest_turn: float | None = None  # in printed numbers, in one go
    shoulder_length_mm: float | None = None  # closed
    torso: Torso = Torso()
    stand: Stand = Stand()
    post: Literal["centre", "offset", "hanging", "unknown"] = "unknown"
    lock: bool = False  # a catch must be released before a dial turns
    opens: str = ""  # the owner's note on which way opens
    overlaps: str = ""  # the owner's note on what overlaps what
    set_first: Literal["upper", "lower"] = "upper"
    made_for: Literal["woman", "man", "child", "legs", "any"] = "any"
    learned: dict[str, Any] = Field(default_factory=dict)  # opaque here; read by planning
    last_fitted: LastFitted | None = None

    @model_validator(mode="after")
    def _dials_belong(self) -> Form:
        rows = {row.name for row in self.rows}
        lines = {line.name for line in self.lines}
        names = [dial.name for dial in self.dials]
        if len(set(names)) != len(names):
            raise ValueError("two dials share one name")
        if len(lines) != len(self.lines) or len(rows) != len(self.rows):
            raise ValueError("two lines or two rows share one name")
        for row in self.rows:
            if row.line not in lines:
                raise ValueError(f"row {row.name} names the unknown line {row.line}")
        for dial in self.dials:
            if dial.row not in rows:
                raise ValueError(f"dial {dial.name} names an unknown row")
            Seam(dial.name.rpartition(".")[2])
            if not dial.least < dial.greatest:
                raise ValueError(f"dial {dial.name}: least must be below greatest")
            if not dial.least - 1e-6 <= dial.number <= dial.greatest + 1e-6:
                raise ValueError(f"dial {dial.name}: its number lies outside its range")
            if dial.click is not None and not 0 < dial.click <= dial.greatest - dial.least:
                raise ValueError(f"dial {dial.name}: click must be above zero")
        return self

    @property
    def unit_mm(self) -> float:
        """Millimetres in one printed unit."""
        return 25.4 if self.units == "in" else 10.0

    def line(self, name: str) -> FormLine | None:
        """Return the line of that name, or None."""
        return next((line for line in self.lines if line.name == name), None)

    def dial(self, name: str) -> Dial | None:
        """Return the dial of that name, or None."""
        return next((dial for dial in self.dials if dial.name == name), None)

    def numbers(self) -> dict[str, float]:
        """Where every dial stands."""
        return {dial.name: dial.number for dial in self.dials}

    def at(self, numbers: dict[str, float]) -> Form:
        """Return this form with its dials standing at other numbers."""
        dials = tuple(
            dial.model_copy(update={"number": numbers.get(dial.name, dial.number)})
            for dial in self.dials
        )
        return self.model_copy(update={"dials": dials})
