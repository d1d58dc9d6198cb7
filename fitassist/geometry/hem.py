# SPDX-License-Identifier: MIT
"""Where a hem stands: from lengths along the cloth to a marker's height beside the form.

From waist to hip the cloth lies on the body, below it hangs plumb. Between the two lines the body
is taken as straight, so cloth of length ``sqrt(h^2 + r^2)`` falls by ``h`` where the hip stands
out by ``r`` past the waist.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fitassist.errors import FitError

HemPlace = Literal["front", "side", "back"]
PLACES: tuple[HemPlace, ...] = ("front", "side", "back")
LEAST_MM, MOST_MM = 50.0, 2000.0  # of lengths and waist heights, children included
MOST_SHOE_MM = 250.0


@dataclass(frozen=True)
class HemMark:
    """A hem at one place, mm.

    Attributes
    ----------
    length_mm
        Along the cloth from the waist line.
    drop_mm
        How far below the waist line it ends.
    worn_mm, marker_mm
        Above the floor on the person in shoes, and beside the form.
    """

    place: HemPlace
    length_mm: float
    drop_mm: float
    worn_mm: float
    marker_mm: float


def drop_of(length_mm: float, hip_below_mm: float, stands_out_mm: float) -> float:
    """Return how far below the waist line cloth of a length ends.

    Parameters
    ----------
    hip_below_mm
        Height from waist to hip.
    stands_out_mm
        How far the hip stands out past the waist at this place; less than nothing counts as 0.
    """
    along = math.hypot(hip_below_mm, max(stands_out_mm, 0.0))
    if length_mm >= along:
        return length_mm - (along - hip_below_mm)
    return length_mm * hip_below_mm / along if along else length_mm


def length_for(drop_mm: float, hip_below_mm: float, stands_out_mm: float) -> float:
    """Return the length along the cloth that ends so far below the waist line."""
    along = math.hypot(hip_below_mm, max(stands_out_mm, 0.0))
    if drop_mm >= hip_below_mm:
        return drop_mm + (along - hip_below_mm)
    return drop_mm * along / hip_below_mm


def hem_marks(
    lengths_mm: Mapping[HemPlace, float],
    waist_mm: float,
    form_waist_mm: float,
    shoe_mm: float = 0.0,
    hip_below_mm: float = 0.0,
    stands_out_mm: Mapping[HemPlace, float] | None = None,
) -> tuple[HemMark, ...]:
    """Return where the hem stands at front, side and back.

    Parameters
    ----------
    lengths_mm
        Along the cloth from the waist line, by place.
    waist_mm, form_waist_mm
        The waist line above the floor: of the person as measured, and of the form.
    shoe_mm
        By how much the shoes are higher than those the waist was measured in.

    Raises
    ------
    FitError
        ``hem_height``, ``hem_shoe``, ``hem_length`` or ``hem_below_floor`` (values: place, mm).
    """
    for field, mm in (("waist_mm", waist_mm), ("form_waist_mm", form_waist_mm)):
        if not LEAST_MM <= mm <= MOST_MM:
            raise FitError("hem_height", field=field)
    if not 0.0 <= shoe_mm <= MOST_SHOE_MM:
        raise FitError("hem_shoe", field="shoe_mm")
    found = []
    for place in PLACES:
        if place not in lengths_mm:
            continue
        length = lengths_mm[place]
        if not LEAST_MM <= length <= MOST_MM:
            raise FitError("hem_length", field=place)
        drop = drop_of(length, hip_below_mm, (stands_out_mm or {}).get(place, 0.0))
        worn, marker = waist_mm + shoe_mm - drop, form_waist_mm - drop
        if min(worn, marker) < 0.0:
            raise FitError("hem_below_floor", field=place, mm=-min(worn, marker))
        found.append(HemMark(place, length, drop, worn, marker))
    return tuple(found)


def level_lengths(
    worn_mm: float,
    waist_mm: float,
    shoe_mm: float = 0.0,
    hip_below_mm: float = 0.0,
    stands_out_mm: Mapping[HemPlace, float] | None = None,
) -> dict[HemPlace, float]:
    """Return the lengths that make a hem level at a height above the floor.

    Raises
    ------
    FitError
        ``hem_length`` where that height lies above the waist.
    """
    drop = waist_mm + shoe_mm - worn_mm
    if not LEAST_MM <= drop <= MOST_MM:
        raise FitError("hem_length", field="worn_mm")
    out = stands_out_mm or {}
    return {place: length_for(drop, hip_below_mm, out.get(place, 0.0)) for place in PLACES}
