# SPDX-License-Identifier: MIT
"""A form one might buy, as far as its box or a shop's table describes it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import NAMED_LINES
from fitassist.domain.model import Model

MadeFor = Literal["woman", "man", "child", "legs", "any"]
Post = Literal["centre", "offset", "hanging", "unknown"]

MOST_MM = 3000.0
# Lines and lengths a candidate can be described by; leg forms have the last ones.
GIRTHS = (*NAMED_LINES, "thigh")
HEIGHT = "floor_to_shoulder"
LENGTHS = ("shoulder_length", "back_neck_to_waist", "body_rise", "inside_leg", HEIGHT)
_Name = Annotated[str, Field(min_length=1, max_length=300)]


class Range(Model):
    """From closed to fully open; both the same where nothing turns."""

    least_mm: float = Field(gt=0, le=MOST_MM)
    greatest_mm: float = Field(gt=0, le=MOST_MM)

    @model_validator(mode="after")
    def _in_order(self) -> Range:
        if self.least_mm > self.greatest_mm:
            raise ValueError("least is above greatest")
        return self

    @property
    def turns(self) -> bool:
        """Whether anything can be set here."""
        return self.greatest_mm > self.least_mm


class Candidate(Model):
    """One form on offer. What is not said is None or missing, and never taken for a no."""

    name: _Name
    made_for: MadeFor = "any"
    girths_mm: dict[str, Range] = Field(default_factory=dict, max_length=64)  # by line
    lengths_mm: dict[str, Range] = Field(default_factory=dict, max_length=64)
    post: Post = "unknown"
    waist_shifts: bool | None = None  # the waist line can be moved up and down, or tipped
    takes_pins: bool | None = None

    @property
    def has_dials(self) -> bool:
        """Whether any girth can be set; else it is padded up."""
        return any(one.turns for one in self.girths_mm.values())

    @property
    def takes_trousers(self) -> bool | None:
        """Whether trousers can be put on: never over a post in the middle; None: not said."""
        # An offset pole or a form that hangs leaves the legs free (common practice, no source).
        return {"centre": False, "offset": True, "hanging": True}.get(self.post)


def candidate_of(form: Form) -> Candidate:
    """Return one of the user's own forms as a candidate.

    A line with dials reaches from its closed girth to that plus what the row prints; where the
    dials print gaps or turns, only what is closed is known.
    """
    girths: dict[str, Range] = {}
    for line in form.lines:
        least = line.closed_girth_mm
        rows = {row.name for row in form.rows if row.line == line.name}
        dials = [dial for dial in form.dials if dial.row in rows and not dial.missing]
        opens = 0.0
        if dials and form.dial_meaning == DialMeaning.WHOLE_GIRTH:
            printed = sum(dial.least for dial in dials) / len(dials) * form.unit_mm
            opens = sum(dial.greatest - dial.least for dial in dials) / len(dials) * form.unit_mm
            least = printed if least is None else least
        elif dials and form.dial_meaning == DialMeaning.SEAM_GAP:
            opens = sum(dial.greatest - dial.least for dial in dials) * form.unit_mm
        if least is not None and least > 0 and least + opens <= MOST_MM:
            girths[line.name] = Range(least_mm=least, greatest_mm=least + opens)
    lengths: dict[str, Range] = {}
    for name, low, high in (
        ("shoulder_length", form.shoulder_length_mm, form.shoulder_length_mm),
        ("back_neck_to_waist", form.torso.least_mm, form.torso.greatest_mm),
        ("back_neck_to_waist", form.torso.length_mm, form.torso.length_mm),
        (HEIGHT, form.stand.least_mm, form.stand.greatest_mm),
    ):
        if name not in lengths and low is not None and high is not None and 0 < low <= high:
            lengths[name] = Range(least_mm=low, greatest_mm=high)
    return Candidate(
        name=form.name or "-",
        made_for=form.made_for,
        girths_mm=girths,
        lengths_mm=lengths,
        post=form.post,
        waist_shifts=form.torso.parts != "none" or None,
    )
