# SPDX-License-Identifier: MIT
"""What the person at the form can answer; checked for shape here, for sense by the session."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from fitassist.domain.lines import What
from fitassist.domain.model import Model

Why = Literal["stopped", "stuck", "skipped"]


class DialException(Model):
    """A dial that does not stand where the set asked."""

    dial: str
    number: float
    why: Why


class Done(Model):
    """All dials of the set stand at their numbers, but for the exceptions; or a check is done."""

    kind: Literal["done"] = "done"
    exceptions: tuple[DialException, ...] = ()


class TapeReading(Model):
    """The tape says so much."""

    kind: Literal["reading"] = "reading"
    mm: float
    text: str = ""


class Ribbon(Model):
    """A ribbon of the target's length: its marks do not meet (form larger) or overlap (smaller)."""

    kind: Literal["ribbon"] = "ribbon"
    marks: Literal["apart", "overlap"]
    by_mm: float
    text: str = ""


class VolunteeredReading(Model):
    """A reading nobody asked for."""

    kind: Literal["volunteered_reading"] = "volunteered_reading"
    line: str
    what: What = What.GIRTH
    mm: float
    text: str = ""


class VolunteeredDial(Model):
    """A dial that was turned without being asked for."""

    kind: Literal["volunteered_dial"] = "volunteered_dial"
    dial: str
    number: float


class Free(Model):
    """A dial that was stuck turns again."""

    kind: Literal["free"] = "free"
    dial: str


class Skip(Model):
    """Not this one, not now."""

    kind: Literal["skip"] = "skip"


class Undo(Model):
    """Take the last answer back."""

    kind: Literal["undo"] = "undo"


class Choose(Model):
    """Answer a question."""

    kind: Literal["choose"] = "choose"
    choice: str


class Leave(Model):
    """End here, whatever has been reached."""

    kind: Literal["leave"] = "leave"


Answer = Annotated[
    Done
    | TapeReading
    | Ribbon
    | VolunteeredReading
    | VolunteeredDial
    | Free
    | Skip
    | Undo
    | Choose
    | Leave,
    Field(discriminator="kind"),
]
