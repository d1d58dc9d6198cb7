# SPDX-License-Identifier: MIT
"""Places on a torso (lines) and what a tape or ruler can say there."""

from __future__ import annotations

from enum import StrEnum


class What(StrEnum):
    """What is measured at a line.

    ``girth`` is the taut tape all the way round; ``front`` and ``back`` run from side to side;
    ``left_half`` and ``right_half`` from centre front to centre back; ``breadth`` and ``depth``
    lie between two flat boards; ``length`` is any other distance, named by its line.
    """

    GIRTH = "girth"
    FRONT = "front"
    BACK = "back"
    LEFT_HALF = "left_half"
    RIGHT_HALF = "right_half"
    BREADTH = "breadth"
    DEPTH = "depth"
    LENGTH = "length"


class Seam(StrEnum):
    """The four seams that open. Left and right are the form's own, not the viewer's."""

    FRONT = "front"
    LEFT = "left"
    BACK = "back"
    RIGHT = "right"


# From the neck down; the order in which a torso is drawn and listed.
NAMED_LINES = ("neck", "upper_chest", "bust", "under_bust", "waist", "high_hip", "hip")
# Girths a form may have below its torso: they are compared and padded, no dial moves them.
LEG_LINES = ("thigh",)

# Heights above the waist as a share of the back neck to waist length, used only to order lines and
# to guess how far rows of dials are apart when a form's heights were not given.
# Source: our own reading of the 420 outlines in resources (synthetic bodies), rounded.
USUAL_HEIGHTS_MM = {
    "neck": 380.0,
    "upper_chest": 240.0,
    "bust": 160.0,
    "under_bust": 80.0,
    "waist": 0.0,
    "high_hip": -105.0,
    "hip": -205.0,
}
