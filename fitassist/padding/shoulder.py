# SPDX-License-Identifier: MIT
"""A wedge for the higher shoulder: the form is set to the lower one, the other is built up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fitassist.errors import FitError

MOST_SLOPE_DEG = 45.0


@dataclass(frozen=True)
class ShoulderWedge:
    """Sheets that step out from the shoulder tip towards the neck, smallest first.

    Attributes
    ----------
    tip_mm
        Thickness wanted at the tip.
    lengths_mm
        Length of each sheet from the tip along the shoulder; all are ``width_mm`` wide.
    """

    tip_mm: float
    width_mm: float
    lengths_mm: tuple[float, ...]


def shoulder_wedge(
    length_mm: float, lower_deg: float, higher_deg: float, thickness_mm: float, width_mm: float
) -> ShoulderWedge:
    """Return the wedge that lifts a shoulder from the lower slope to the higher one.

    Parameters
    ----------
    length_mm
        Of the shoulder, neck to tip.
    lower_deg, higher_deg
        Slopes below horizontal of the lower and the higher shoulder, the lower one being steeper.

    Raises
    ------
    FitError
        ``padding_thickness``, ``padding_shoulder``.
    """
    if not 0.0 < thickness_mm < 100.0:
        raise FitError("padding_thickness", field="thickness_mm")
    slopes_fit = 0.0 <= higher_deg <= lower_deg <= MOST_SLOPE_DEG
    if not (slopes_fit and 50.0 <= length_mm <= 300.0 and 20.0 <= width_mm <= 300.0):
        raise FitError("padding_shoulder")
    tip = length_mm * (math.sin(math.radians(lower_deg)) - math.sin(math.radians(higher_deg)))
    sheets = math.floor(tip / thickness_mm + 0.5)
    # Thickness rises evenly to the tip; sheet k lies where k - 1/2 sheets or more are wanted.
    lengths = [length_mm * (1.0 - (k - 0.5) * thickness_mm / tip) for k in range(1, sheets + 1)]
    return ShoulderWedge(tip, width_mm, tuple(reversed(lengths)))
