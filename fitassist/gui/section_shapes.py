# SPDX-License-Identifier: MIT
"""Outlines of sections as paths, and whether words have room inside them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainterPath, QPen

from fitassist.geometry.sections import Points

WALL_MM = 14.0  # drawn thickness of a panel


def lies_within(text: str, font: QFont, inside: Points) -> bool:
    """Say whether all corners of a text lie within an ellipse of this breadth and depth, in px."""
    metrics = QFontMetricsF(font)
    lines = text.split("\n")
    wide = max(map(metrics.horizontalAdvance, lines))
    high = metrics.height() * len(lines)
    return bool(min(inside) > 0 and (wide / inside[0]) ** 2 + (high / inside[1]) ** 2 < 1)


def walled(panel: Points) -> Points:
    """Return a panel as a closed strip: its outside, then its inside back again."""
    along = np.gradient(panel, axis=0)
    inward = np.column_stack((-along[:, 1], along[:, 0])) / np.hypot(*along.T)[:, None]
    return np.concatenate((panel, (panel + WALL_MM * inward)[::-1]))


def closed_path(points: Points) -> QPainterPath:
    """Return a closed path through points, in mm."""
    path: QPainterPath = pg.arrayToQPath(points[:, 0], points[:, 1], connect="all")
    path.closeSubpath()
    return path


def ring_path(inner: Points, outer: Points) -> QPainterPath:
    """Return the path between two closed curves, in mm."""
    path = closed_path(outer)  # what lies in both is left out: Qt fills by odd and even
    path.addPath(closed_path(inner))
    return path


def free_corner(curves: Sequence[Points], gap_mm: float) -> tuple[float, float]:
    """Return a point (x > 0, y < 0) with nothing of convex curves beyond it, both ways.

    Parameters
    ----------
    curves
        Closed, (n, 2) each, round the origin, mm; the first point need not be repeated.
    gap_mm
        How far from them the corner is to stay.
    """
    x = float(np.sqrt(0.5) * max(curve[:, 0].max() for curve in curves)) + gap_mm
    lowest = 0.0
    for curve in curves:
        ring = np.vstack((curve, curve[:1]))
        start, end = ring[:-1], ring[1:]
        crosses = (start[:, 0] - x) * (end[:, 0] - x) < 0.0
        share = (x - start[crosses, 0]) / (end[crosses, 0] - start[crosses, 0])
        there = start[crosses, 1] + share * (end[crosses, 1] - start[crosses, 1])
        beyond = curve[curve[:, 0] >= x, 1]
        lowest = min([lowest, *there.tolist(), *beyond.tolist()])
    return x, lowest - gap_mm


def pen(colour: str, px: float) -> QPen:
    """Return a pen that stays as wide as told at any scale."""
    made = QPen(QColor(colour), px)
    made.setCosmetic(True)
    return made
