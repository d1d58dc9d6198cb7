# SPDX-License-Identifier: MIT
"""What a front end may show of a fitting: frozen numbers and codes, ready to be put into words."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from fitassist.domain.lines import What
from fitassist.domain.model import Model
from fitassist.domain.steps import Instruction, Note, Reason

LineState = Literal["good", "measure_again", "not_yet", "out_of_reach"]


class LineView(Model):
    """One target as it stands now (or as it would stand, in a preview)."""

    line: str
    what: What = What.GIRTH
    has_dials: bool
    target_mm: float
    tolerance_mm: tuple[float, float]
    predicted_mm: float | None  # None: nothing is known yet
    spread_mm: float | None
    chance: float | None  # of lying within tolerance
    state: LineState
    last_read_mm: float | None = None  # last believed reading
    read_since_turn: bool = False
    to_go_mm: float | None = None  # target less predicted: positive, still to open
    reason: Reason = Reason()  # why (not) to measure it


class Upcoming(Model):
    """One of the next things, with why."""

    kind: Literal["set", "measure", "check"]
    place: str  # row, line or check code
    reason: Reason = Reason()
    values: dict[str, object] = Field(default_factory=dict)


class SymmetryView(Model):
    """Left and right of a row differ though the body's halves do not."""

    row: str
    left: float
    right: float


class FittingView(Model):
    """Everything a page needs; equal views look equal."""

    revision: int
    instruction: Instruction
    upcoming: tuple[Upcoming, ...] = ()
    lines: tuple[LineView, ...] = ()
    joint: float | None = None
    numbers: dict[str, float] = Field(default_factory=dict)  # dial -> printed number
    stuck: tuple[str, ...] = ()
    symmetry: tuple[SymmetryView, ...] = ()
    notes: tuple[Note, ...] = ()  # said since the last answer
    first_minute: tuple[Note, ...] = ()  # what this form can never do for this body
    readings: int = 0
    turns: int = 0
    walks: int = 0
    clicks: int = 0
    can_undo: bool = False
