# SPDX-License-Identifier: MIT
"""How a fitting is to be shaped: settled once, when it begins, and kept with it."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.model import Model

Setting = Literal["nearest_girth", "room_for_padding", "frame_first"]
SETTINGS: tuple[Setting, ...] = get_args(Setting)
# How much larger a bust may be than the upper chest before an empty cup on a hard shell measures
# nothing and the frame is better set first (common practice, no source for the figure).
FRAME_FIRST_MM = 90.0
FRAME_LINES = ("upper_chest", "under_bust")


class Shaping(Model):
    """What the outlines of body and form ask of the dials beside the girths."""

    setting: Setting = "nearest_girth"
    # Clicks by which a dial should stand off its row's mean, so that front, back and sides get
    # the body's shape.
    offsets: dict[str, float] = Field(default_factory=dict)
    # Girth the form itself should have where padding is to fill the rest, by line.
    girths_mm: dict[str, float] = Field(default_factory=dict)
    # Lines the dials leave alone (their cups or the like are filled with padding).
    left_to_padding: tuple[str, ...] = ()
    # What could not be used, by code; the fitting goes by girths alone there.
    doubts: tuple[str, ...] = ()


def frame_lines(body: Body, form: Form | None) -> tuple[str, ...]:
    """Return the lines the frame can be set by: measured on the body and described on the form."""
    there = {line.name for line in form.lines} if form is not None else set()
    return tuple(n for n in FRAME_LINES if n in there and body.target(n) is not None)


def proposed_setting(body: Body) -> Setting:
    """Return the setting that offers itself: frame first where the bust stands out far."""
    bust, chest = body.target("bust"), body.target("upper_chest")
    if bust is not None and chest is not None and bust.value_mm - chest.value_mm > FRAME_FIRST_MM:
        return "frame_first"
    return "nearest_girth"
