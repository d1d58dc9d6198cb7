# SPDX-License-Identifier: MIT
"""Outlines of sections as paths, and whether words have room inside them."""

from __future__ import annotations

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


def pen(colour: str, px: float) -> QPen:
    """Return a pen that stays as wide as told at any scale."""
    made = QPen(QColor(colour), px)
    made.setCosmetic(True)
    return made
