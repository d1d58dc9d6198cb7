# SPDX-License-Identifier: MIT
"""How a fitting is to be shaped: settled once, when it begins, and kept with it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from fitassist.domain.model import Model

Setting = Literal["nearest_girth", "room_for_padding", "frame_first"]


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
