# SPDX-License-Identifier: MIT
"""Spacing and type of the window, in pixels and points at normal size."""

from __future__ import annotations

from typing import Final

STEP: Final = 8  # spacing goes in steps of this many pixels
HALF: Final = 4  # inside a control
MARGIN: Final = 24  # round a page and between groups
TARGET: Final = 36  # least height of what can be pressed
TARGET_BESIDE_FORM: Final = 48

TEXT_PT: Final = 11.0
LABEL_PT: Final = 10.0
HEADING_PT: Final = 15.0
INSTRUCTION_PT: Final = 34.0
NUMBER_PT: Final = 56.0

LARGE_SCALE: Final = 1.3
LEAST_SCALE: Final = 0.75
GREATEST_SCALE: Final = 2.5
