# SPDX-License-Identifier: MIT
"""Shapes beside one another on a width: the tallest first, in rows from left to right.

Each shape keeps its box and is not turned, because the sheet's stretch and its up arrow count.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.errors import FitError

Size = tuple[float, float]


@dataclass(frozen=True)
class Nest:
    """Top left corners of the boxes in the order given, and the height they take, mm."""

    corners: tuple[tuple[float, float], ...]
    height_mm: float


def nest(sizes_mm: Sequence[Size], width_mm: float, apart_mm: float = 5.0) -> Nest:
    """Lay boxes out on a width.

    Raises
    ------
    FitError
        ``padding_too_wide`` (values: piece_mm, width_mm) when one is wider than the width.
    """
    order = sorted(range(len(sizes_mm)), key=lambda i: (-sizes_mm[i][1], -sizes_mm[i][0]))
    corners: dict[int, tuple[float, float]] = {}
    rows: list[list[float]] = []  # top, height, filled width
    bottom = 0.0
    for i in order:
        width, height = sizes_mm[i]
        if width > width_mm + 1e-9:
            raise FitError("padding_too_wide", piece_mm=width, width_mm=width_mm)
        row = next((r for r in rows if r[2] + width <= width_mm + 1e-9), None)
        if row is None:
            row = [bottom, height, 0.0]
            rows.append(row)
            bottom += height + apart_mm
        corners[i] = (row[2], row[0])
        row[2] += width + apart_mm
    height_mm = max(0.0, bottom - apart_mm)
    return Nest(tuple(corners[i] for i in range(len(sizes_mm))), height_mm)
