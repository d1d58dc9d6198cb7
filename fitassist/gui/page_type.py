# SPDX-License-Identifier: MIT
"""Type of printed pages: how wide words are, and which letters no font here can draw."""

from __future__ import annotations

import unicodedata

from PySide6.QtGui import QFont, QFontMetricsF, QGuiApplication, QTextLayout

UNITS_PER_MM = 1200 / 25.4  # fonts are made this fine and drawn smaller, so that sizes stay true


def page_font(size_mm: float, is_bold: bool = False) -> QFont:
    """Return the font of a printed page; a pixel of it is 1/1200 in."""
    font = QFont(QGuiApplication.font())
    font.setPixelSize(max(1, round(size_mm * UNITS_PER_MM)))
    font.setWeight(QFont.Weight.DemiBold if is_bold else QFont.Weight.Normal)
    return font


def width_mm(text: str, size_mm: float, is_bold: bool = False) -> float:
    """Return how wide words are printed, mm."""
    return QFontMetricsF(page_font(size_mm, is_bold)).horizontalAdvance(text) / UNITS_PER_MM


def missing_letters(text: str) -> str:
    """Return the letters of a text that no font here can draw, each once, in order.

    Every font that stands in for another is asked, as it would be when drawing.
    """
    found: list[str] = []
    for letter in dict.fromkeys(text):
        if letter.isspace() or unicodedata.category(letter) in ("Cc", "Cf"):
            continue
        layout = QTextLayout(letter, page_font(4.0))
        layout.beginLayout()
        layout.createLine()
        layout.endLayout()
        if any(0 in run.glyphIndexes() for run in layout.glyphRuns()):
            found.append(letter)
    return "".join(found)
