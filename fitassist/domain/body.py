# SPDX-License-Identifier: MIT
"""The body a form is to become: targets with their spread, ready for planning."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from fitassist.domain.lines import What
from fitassist.domain.model import Model

Kind = Literal["woman", "man", "child", "other"]


class Target(Model):
    """One thing the finished form should measure."""

    line: str
    what: What = What.GIRTH
    value_mm: float = Field(gt=0)
    text: str = ""  # as typed
    spread_mm: float | None = None  # standard deviation of the body reading; None: not known
    tolerance_mm: tuple[float, float] | None = None  # (below, above), e.g. (-6.35, 6.35)


class Body(Model):
    """One body of one person: everyday, in a corset, with pads."""

    name: str
    kind: Kind = "woman"
    undergarment: str = ""
    targets: tuple[Target, ...]

    def target(self, line: str, what: What = What.GIRTH) -> Target | None:
        """Return the target for a line, or None."""
        return next((t for t in self.targets if t.line == line and t.what == what), None)


class Preferences(Model):
    """How one fitting is to be judged and guided; kept with the fitting."""

    confidence: float = Field(default=0.95, ge=0.5, le=0.999)
    default_tolerance_mm: tuple[float, float] = (-6.35, 6.35)
    line_tolerance_mm: dict[str, tuple[float, float]] = Field(
        default_factory=lambda: {"hip": (-9.525, 9.525)}
    )
    padding_follows: bool = False  # then a line may fall short further than it may exceed
    padded_tolerance_mm: tuple[float, float] = (-12.7, 3.175)
    cover_mm: float = Field(default=0.0, ge=0, le=30)  # thickness of what goes on top, all round
    opposite_equal: bool = False  # left = right and front = back, always
    tape_spread_mm: float = Field(default=3.0, gt=0, le=30)  # sd of one wrap round the form
    checks: bool = False  # put the checklist and plain steps (torso, shoulders, stand) in the list
    units: Literal["in", "cm"] = "in"
