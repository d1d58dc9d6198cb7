# SPDX-License-Identifier: MIT
"""How a torso is carried, from lengths along it: arcs and chords, tips, slopes; no statistics."""

from __future__ import annotations

import math
from dataclasses import dataclass

NEAR_RAD = 1e-12


@dataclass(frozen=True)
class StandSetting:
    """How a stand of a limited range meets a height.

    Attributes
    ----------
    height_mm
        Where to set it.
    raise_mm
        By how much the base is to be raised besides; 0 where the stand reaches.
    over_mm
        By how much it stands too high even at its lowest.
    """

    height_mm: float
    raise_mm: float
    over_mm: float


def arc_rise_mm(arc_mm: float, chord_mm: float) -> float:
    """Return how far the arc of a circle stands out from its chord, half-way; 0 if it is no longer.

    The half angle h solves sin(h) / h = chord / arc (halving, to the precision of a float); the
    rise is chord / 2 * tan(h / 2).

    Parameters
    ----------
    arc_mm, chord_mm
        Along the arc, and straight from end to end, above 0.
    """
    share = chord_mm / arc_mm
    if share >= 1.0:
        return 0.0
    low, high = 0.0, math.pi
    while high - low > NEAR_RAD:
        half = 0.5 * (low + high)
        low, high = (half, high) if math.sin(half) / half > share else (low, half)
    return 0.5 * chord_mm * math.tan(0.25 * (low + high))


def tip_rad(front_more_mm: float, back_more_mm: float, depth_mm: float) -> float:
    """Return how far the upper half tips back when front and back are pulled longer apart.

    Parameters
    ----------
    front_more_mm, back_more_mm
        By how much each is longer than where the halves were level.
    depth_mm
        Between front and back there, above 0.
    """
    return math.atan2(front_more_mm - back_more_mm, depth_mm)


def slope_rad(drop_mm: float, length_mm: float) -> float:
    """Return a shoulder's slope below horizontal; a drop longer than the shoulder is upright."""
    return math.asin(min(max(drop_mm / length_mm, 0.0), 1.0))


def wedge_mm(left: tuple[float, float], right: tuple[float, float]) -> float:
    """Return what the left shoulder's tip is to be built up by; below zero: the right one's.

    The form stands by the lower tip. Over a shoulder of length L that falls by d, the tip lies
    L sin(slope) = d below the neck, so the wedge is the difference of the drops.

    Parameters
    ----------
    left, right
        Drop and length of each shoulder, mm.
    """
    tips = [length * math.sin(slope_rad(drop, length)) for drop, length in (left, right)]
    return tips[1] - tips[0]


def stand_setting(wanted_mm: float, least_mm: float, greatest_mm: float) -> StandSetting:
    """Return how a stand between two heights meets the wanted one."""
    height = min(max(wanted_mm, least_mm), greatest_mm)
    return StandSetting(height, max(wanted_mm - height, 0.0), max(height - wanted_mm, 0.0))
