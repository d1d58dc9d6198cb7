# SPDX-License-Identifier: MIT
"""The items one section is drawn with: made once, then only changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pyqtgraph as pg
from PySide6.QtGui import QBrush, QColor, QFont
from PySide6.QtWidgets import QGraphicsPathItem

from fitassist.gui import theme
from fitassist.gui.section_shapes import pen

BODY_DASHES = (7.0, 4.0)
BAND_SHARE = 0.2  # how much of the body's colour lies in its band


@dataclass
class SectionItems:
    """Panels and body with its band, and the words about them."""

    panels: QGraphicsPathItem
    band: QGraphicsPathItem
    body: QGraphicsPathItem
    name: pg.TextItem
    middle: pg.TextItem
    front: pg.TextItem
    body_label: pg.TextItem
    form_label: pg.TextItem

    def items(self) -> tuple[QGraphicsPathItem | pg.TextItem, ...]:
        """Return all of them, the lowest first."""
        return (
            self.panels, self.band, self.body, self.name, self.middle, self.front,
            self.body_label, self.form_label,
        )  # fmt: skip

    def dress(self, font: Callable[[float, bool], QFont]) -> None:
        """Take the colours of the theme, and type by its size in points and whether it is bold."""
        colours = theme.palette()
        self.panels.setPen(pen(colours.form, 1.5))
        self.panels.setBrush(QBrush(QColor(theme.blend(colours.page, colours.form, 0.14))))
        see_through, edge = QColor(colours.body), pen(colours.body, 1.0)
        see_through.setAlphaF(BAND_SHARE)
        edge.setColor(see_through)
        self.band.setPen(edge)
        self.band.setBrush(QBrush(see_through))
        dashed = pen(colours.body, 2.0)
        dashed.setDashPattern(BODY_DASHES)
        self.body.setPen(dashed)
        for item, role, made in (
            (self.name, colours.ink, font(theme.TEXT_PT, True)),
            (self.front, colours.quiet, font(theme.LABEL_PT, False)),
            (self.body_label, colours.body, font(theme.TEXT_PT, False)),
            (self.form_label, colours.form, font(theme.TEXT_PT, False)),
        ):
            item.setColor(QColor(role))
            item.setFont(made)


def section_items(plot: pg.PlotWidget) -> SectionItems:
    """Make the items of one section and put them into a plot."""
    made = SectionItems(
        panels=QGraphicsPathItem(),
        band=QGraphicsPathItem(),
        body=QGraphicsPathItem(),
        name=pg.TextItem(anchor=(0.5, 1.0)),
        middle=pg.TextItem(anchor=(0.5, 0.5)),
        front=pg.TextItem(anchor=(0.5, 0.0)),
        body_label=pg.TextItem(anchor=(0.0, 0.0)),
        form_label=pg.TextItem(anchor=(1.0, 0.0)),
    )
    for item in made.items():
        plot.addItem(item, ignoreBounds=True)
    return made
