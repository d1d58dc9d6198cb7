# SPDX-License-Identifier: MIT
"""What the person at the form is asked to do, as codes and numbers; the words are elsewhere."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from fitassist.domain.lines import What
from fitassist.domain.model import Model


class Reason(Model):
    """Why: a code of ``fitassist.wording`` and what its sentence needs (lengths in mm)."""

    code: str = ""
    values: dict[str, Any] = Field(default_factory=dict)


class Turn(Model):
    """One dial to another number."""

    dial: str
    action: Literal["open", "close"]
    start: float  # printed number it stands at
    number: float  # printed number it is to stand at
    clicks: int  # whole clicks (eighths of the unit on a smooth dial), always positive


class SetDials(Model):
    """One walk round the form: the dials of one row."""

    kind: Literal["set"] = "set"
    id: int
    row: str
    turns: tuple[Turn, ...]
    part: tuple[int, int] = (1, 1)  # which part-turn of how many
    reason: Reason = Reason()
    undoes: int | None = None  # id of the earlier set that is being taken back


class Measure(Model):
    """Wrap the tape (or hold the ruler) once."""

    kind: Literal["measure"] = "measure"
    id: int
    line: str
    what: What = What.GIRTH
    expect_mm: float | None
    spread_mm: float | None
    target_mm: float | None
    reason: Reason = Reason()


class Ask(Model):
    """A question with a few answers; nothing is believed before it is answered."""

    kind: Literal["ask"] = "ask"
    id: int
    code: str
    about: int | None = None  # id of the instruction in doubt
    choices: tuple[str, ...]
    values: dict[str, Any] = Field(default_factory=dict)


class Check(Model):
    """A plain step without a reading that the plan needs: checklist, torso, shoulders, stand."""

    kind: Literal["check"] = "check"
    id: int
    code: str
    values: dict[str, Any] = Field(default_factory=dict)


class LineResult(Model):
    """How one line ended."""

    line: str
    what: What = What.GIRTH
    target_mm: float
    predicted_mm: float
    spread_mm: float
    chance: float
    left_for_padding_mm: float = 0.0
    stands_out_mm: float = 0.0


class Finished(Model):
    """The fitting has ended, and how."""

    kind: Literal["done"] = "done"
    id: int
    verdict: Literal["good_enough", "as_near_as_dials_go", "too_big", "left"]
    joint: float
    readings: int
    turns: int
    walks: int
    clicks: int
    lines: tuple[LineResult, ...]
    dials: dict[str, float]


Instruction = Annotated[SetDials | Measure | Ask | Check | Finished, Field(discriminator="kind")]


class Note(Model):
    """Something said in passing that needs no answer."""

    code: Literal["too_big", "symmetry", "dial_limit", "caution", "step", "learned", "reordered"]
    line: str = ""
    amount_mm: float | None = None
    reason: Reason = Reason()
