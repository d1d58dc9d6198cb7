# SPDX-License-Identifier: MIT
"""The usual places of padding, as boxes in the chart between the lines of the body.

Names and extents are common practice, no source. A place is given for the wearer's left half;
a pair has its mirror image on the right.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fitassist.padding.surface import Surface

# Height of a place where its line is not among those given: above the waist, mm. The same
# reading of synthetic bodies as ``domain.lines.USUAL_HEIGHTS_MM``, rounded.
USUAL_Z_MM = {
    "neck": 380.0,
    "upper_chest": 240.0,
    "bust": 160.0,
    "under_bust": 80.0,
    "waist": 0.0,
    "high_hip": -105.0,
    "hip": -205.0,
}


@dataclass(frozen=True)
class Place:
    """A place: where the middles of its pieces may lie.

    Attributes
    ----------
    low, high
        Names of the lines between which the middles lie.
    from_share, to_share
        Column shares between which they lie, 0 centre front to 1/2 centre back.
    is_pair
        Whether there is one on each side; else it lies on the centre line.
    """

    name: str
    low: str
    high: str
    from_share: float
    to_share: float
    is_pair: bool


PLACES = (
    Place("cup", "under_bust", "upper_chest", 0.06, 0.16, True),
    Place("side", "waist", "bust", 0.18, 0.32, True),
    Place("shoulder_blade", "under_bust", "upper_chest", 0.34, 0.44, True),
    Place("rounded_back", "bust", "neck", 0.5, 0.5, False),
    Place("midriff", "waist", "bust", 0.0, 0.0, False),
    Place("small_of_back", "high_hip", "bust", 0.5, 0.5, False),
    Place("tummy", "hip", "waist", 0.0, 0.0, False),
    Place("front_hip", "hip", "waist", 0.07, 0.17, True),
    Place("hip", "hip", "waist", 0.18, 0.32, True),
    Place("seat", "hip", "high_hip", 0.34, 0.44, True),
)
ALL_ROUND = "all_round"


def line_heights(surface: Surface) -> dict[str, float]:
    """Return a height for every usual line: given, or guessed from the nearest given one."""
    given = dict(zip(surface.lines, surface.level_z_mm.tolist(), strict=True))
    known = {line: z for line, z in given.items() if line in USUAL_Z_MM}
    if not known:
        low, high = surface.level_z_mm[[0, -1]]
        known = {"hip": float(low), "upper_chest": float(high)}
    found = {}
    for line, usual in USUAL_Z_MM.items():
        near = min(known, key=lambda other: abs(USUAL_Z_MM[other] - usual))
        found[line] = known.get(line, known[near] + usual - USUAL_Z_MM[near])
    return found


def sided(place: Place, side: str) -> str:
    """Return the full name of a place: "left_cup", "tummy"."""
    return f"{side}_{place.name}" if place.is_pair else place.name


def nearest_place(share: float, z_mm: float, surface: Surface) -> str:
    """Return the usual place nearest to a point of the chart."""
    share = float(np.mod(share, 1.0))
    side = "left" if share <= 0.5 else "right"
    folded = min(share, 1.0 - share)
    heights = line_heights(surface)

    def far(place: Place) -> float:
        across = (folded - (place.from_share + place.to_share) / 2) * surface.width_mm
        return float(np.hypot(across, z_mm - (heights[place.low] + heights[place.high]) / 2))

    return sided(min(PLACES, key=far), side)
