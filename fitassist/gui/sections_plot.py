# SPDX-License-Identifier: MIT
"""Three level sections from above, at one scale: the form's panels as they stand, and the body.

All lie in one plot, so they cannot help sharing its scale. Where the shape is only assumed, it
says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainterPath,
    QResizeEvent,
    QTextOption,
)
from PySide6.QtWidgets import QGraphicsPathItem, QSizePolicy, QVBoxLayout, QWidget

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.units import AnyUnit, Unit
from fitassist.geometry.sections import Points, body_section
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.section_facts import SHOWN, chosen_lines, in_two_lines
from fitassist.gui.section_items import SectionItems, section_items
from fitassist.gui.section_outlines import DrawnSection, SectionMaker
from fitassist.gui.section_shapes import (
    WALL_MM,
    closed_path,
    free_corner,
    lies_within,
    pen,
    ring_path,
    walled,
)
from fitassist.session.view import LineView
from fitassist.wording.fitting_words import amounts_unit, say, section_text, state_shape
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.places import line_name
from fitassist.wording.section_words import as_ellipse, band_text, shape_note

if TYPE_CHECKING:
    from fitassist.session.shaping import KnownOutlines

GRID_MM = 50.0
LABELS_PX = 230  # least width of a section with labels of its own
FIRST_LABELS_PX = 125  # the same where the first one speaks for all
BAR_PX = 700  # least width of the plot with a scale bar, or it would meet those labels
NAMES_PX = 210  # room for a name with what is left to go beside it
LEAST_HIGH, MOST_SCALE = 100, 1.4
LABEL_GAP_PX = 1.0  # a label has a margin of its own as well
LEAST_MIDDLE_PT = 9.0
_IN_WORDS = ("good", "measure_again")  # states that stand in a section in place of an amount


class SectionsPlot(QWidget):
    """Draws up to three sections of one fitting; also says in words what it draws."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        pg.setConfigOptions(antialias=True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.setMinimumHeight(LEAST_HIGH)
        self._maker: SectionMaker | None = None
        self._body: Body | None = None
        self._unit: AnyUnit = Unit.IN
        self._names: tuple[str, ...] = ()
        self._behind = False
        self._is_private = False
        self._cell_mm = 500.0
        self._deep_mm = 350.0
        self._shown: list[DrawnSection] = []
        self._plot = pg.PlotWidget(enableMenu=False)  # nobody asks for it, and it is never let go
        self._plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._plot.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._plot.setMouseEnabled(False, False)
        self._plot.hideButtons()
        self._plot.hideAxis("left")
        self._plot.hideAxis("bottom")
        self._plot.setFrameShape(self._plot.Shape.NoFrame)
        self._plot.plotItem.setContentsMargins(0, 0, 0, 0)
        self._box = self._plot.plotItem.vb
        self._box.setDefaultPadding(0)
        self._box.disableAutoRange()
        self._box.setAspectLocked(True)
        self.assumed = plain_label(say("assumed"), "note", wraps=True)
        self.assumed.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._plot, 1)
        self._grid = QGraphicsPathItem()
        self._bar = QGraphicsPathItem()
        self._bar_label = pg.TextItem(anchor=(0.0, 1.0))
        for item in (self._grid, self._bar, self._bar_label):
            self._plot.addItem(item, ignoreBounds=True)
        self._sections = [section_items(self._plot) for _slot in range(SHOWN)]
        self._recolour()

    # -- what is shown ------------------------------------------------------------------------

    def begin(
        self,
        form: Form,
        body: Body,
        lines: Sequence[LineView],
        unit: AnyUnit,
        outlines: KnownOutlines | None = None,
    ) -> None:
        """Take a fitting: which lines are drawn, what is known of them, how large all are."""
        self._maker = SectionMaker(form, body, outlines)
        self._body, self._unit = body, unit
        self._names = chosen_lines(lines)
        self._behind = False
        drawn: list[Points] = []
        for view in lines:
            if view.line in self._names and view.what == What.GIRTH:
                drawn.append(body_section(max(view.target_mm, view.predicted_mm or 0.0)))
                drawn += self._maker.drawn(view, form.numbers()).curves()
        broad = max((float(np.ptp(points[:, 0])) for points in drawn), default=360.0)
        deep = max((float(np.ptp(points[:, 1])) for points in drawn), default=270.0)
        self._cell_mm = float(np.ceil((broad * 1.06 + 60.0) / GRID_MM) * GRID_MM)
        self._deep_mm = deep * 1.08
        self._set_range()

    def set_unit(self, unit: AnyUnit) -> None:
        """Write lengths in another unit."""
        self._unit = unit
        self._set_range()

    def keep_private(self, is_private: bool) -> None:
        """Say and draw no measure of the body, only what is left to go; or all of it again."""
        self._is_private = is_private
        self._show_bar()
        self._say()

    def show_from(self, behind: bool) -> None:
        """Turn the sections with the person: her side of the form is at the bottom."""
        if behind != self._behind:
            self._behind = behind
            self._draw()

    def show_lines(self, lines: Sequence[LineView], numbers: Mapping[str, float]) -> None:
        """Draw the lines as a view or a preview has them, with the dials at `numbers`."""
        if self._maker is None:
            return
        by_name = {view.line: view for view in lines if view.what == What.GIRTH}
        there = [by_name[name] for name in self._names if name in by_name]
        self._shown = [self._maker.drawn(view, numbers) for view in there]
        self._draw()
        self._say()

    def girth_texts(self) -> tuple[str, ...]:
        """Return what stands in the middle of each section."""
        return tuple(self._middle(one.view) for one in self._shown)

    def _middle(self, view: LineView) -> str:
        shown = [s.view.to_go_mm for s in self._shown if s.view.state not in _IN_WORDS]
        beside = amounts_unit(shown, self._unit)
        return section_text(view.state, view.to_go_mm, self._unit, beside=beside)

    def _say(self) -> None:
        """Put the picture into words for those who do not see it."""
        parts = []
        for one in self._shown:
            view = one.view
            if self._is_private:
                parts.append(f"{capital(line_name(view.line))}: {self._middle(view)}.")
                continue
            there = say("unknown")
            if one.section is not None and view.predicted_mm is not None:
                there = say_length(view.predicted_mm, self._unit)
            parts.append(
                f"{capital(line_name(view.line))}: {say('form')} {there}, "
                f"{say('body')} {say_length(view.target_mm, self._unit)}, {self._middle(view)}."
            )
            if not self._is_all_assumed():
                parts.append(f"{capital(band_text(one.band_mm, self._unit))}.")
        note = self._note()
        if self.assumed.text() != note:
            self.assumed.setText(note)
        for widget in (self, self._plot):
            widget.setAccessibleName(say("sections"))
            widget.setAccessibleDescription(" ".join([*parts, note]))

    def _is_all_assumed(self) -> bool:
        return all(one.body_is_ellipse and one.form_is_ellipse for one in self._shown)

    def _note(self) -> str:
        """Return what is drawn and what is only assumed of it."""
        if self._maker is None or self._is_all_assumed():
            return say("assumed")
        has_ellipses = any(one.body_is_ellipse or one.form_is_ellipse for one in self._shown)
        is_known = any(not one.body_is_ellipse for one in self._shown)
        return shape_note(is_known, has_ellipses, self._maker.wider, self._maker.do_disagree)

    # -- drawing ------------------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return a size at which three sections stand side by side at ease."""
        return QSize(900, 260)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which they can be told apart."""
        return QSize(300, LEAST_HIGH)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep all sections in sight at one scale."""
        super().resizeEvent(event)
        self._set_range()

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and sizes of the theme."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._recolour()

    def mm_per_px(self) -> float:
        """Return the one scale of all sections."""
        width, high = max(self._plot.width(), 1), max(self._plot.height(), 1)
        text = QFontMetricsF(self._font(theme.TEXT_PT)).height()
        count = max(len(self._names), 1)
        across = count * self._cell_mm / width
        down = self._deep_mm / max(high - 2.6 * text - theme.STEP, 20.0)
        return float(max(across, down))

    def _set_range(self) -> None:
        scale = self.mm_per_px()
        half_x = self._plot.width() * scale / 2
        half_y = self._plot.height() * scale / 2
        self._box.setRange(xRange=(-half_x, half_x), yRange=(-half_y, half_y), padding=0)
        grid = QPainterPath()
        for x in np.arange(-np.floor(half_x / GRID_MM), half_x / GRID_MM + 1) * GRID_MM:
            grid.moveTo(x, -half_y)
            grid.lineTo(x, half_y)
        for y in np.arange(-np.floor(half_y / GRID_MM), half_y / GRID_MM + 1) * GRID_MM:
            grid.moveTo(-half_x, y)
            grid.lineTo(half_x, y)
        self._grid.setPath(grid)
        self._draw_bar(scale, -half_x, -half_y)
        self._draw()

    def _draw_bar(self, scale: float, left: float, bottom: float) -> None:
        """Draw the one scale bar, in the user's unit."""
        length, words = (101.6, "4 in") if self._unit == Unit.IN else (100.0, "10 cm")
        x, y = left + 10 * scale, bottom + 7 * scale
        tick = 4 * scale
        bar = QPainterPath()
        bar.moveTo(x, y + tick)
        bar.lineTo(x, y)
        bar.lineTo(x + length, y)
        bar.lineTo(x + length, y + tick)
        self._bar.setPath(bar)
        self._bar_label.setText(words)
        self._bar_label.setPos(x, y)
        self._show_bar()

    def _show_bar(self) -> None:
        """Show the scale bar where there is room for it and lengths may be seen."""
        there = not self._is_private and self._plot.width() >= BAR_PX * _larger()
        for item in (self._bar, self._bar_label):
            item.setVisible(there)

    def _apart_mm(self, scale: float) -> float:
        """Return how far apart sections stand: as the room allows, the scale being one for all."""
        room = self._plot.width() * scale / max(len(self._names), 1)
        ease = max(1.5 * self._cell_mm, NAMES_PX * _larger() * scale)  # or names would meet
        return float(min(max(room, self._cell_mm), ease))

    def _draw(self) -> None:
        scale = self.mm_per_px()
        for slot, items in enumerate(self._sections):
            there = slot < len(self._shown)
            for item in items.items():
                item.setVisible(there)
            if there:
                self._draw_section(items, slot, scale)

    def _draw_section(self, items: SectionItems, slot: int, scale: float) -> None:
        one = self._shown[slot]
        view, section, body = one.view, one.section, one.body
        middle = (slot - (len(self._shown) - 1) / 2) * self._apart_mm(scale)
        turned = -1.0 if self._behind else 1.0
        offset = np.array([middle, 0.0])
        panels = QPainterPath()
        if section is not None:
            for panel in section.panels:
                panels.addPath(closed_path(walled(panel) * turned + offset))
        items.panels.setPath(panels)
        items.panels.setVisible(section is not None)
        items.body.setPath(closed_path(body * turned + offset))
        items.band.setVisible(one.band is not None)
        if one.band is not None:
            inner, outer = one.band
            items.band.setPath(ring_path(inner * turned + offset, outer * turned + offset))
        hull = section.hull if section is not None else body
        reach = max(float(np.abs(curve[:, 1]).max()) for curve in one.curves())
        marks = not self._is_all_assumed()
        name = capital(line_name(view.line))
        items.name.setText(as_ellipse(name) if marks and one.body_is_ellipse else name)
        items.name.setPos(middle, reach)
        items.front.setText(say("back_side") if self._behind else say("front"))
        items.front.setPos(middle, -reach)
        self._write_middle(items, view, middle, 2 * np.abs(hull).max(axis=0) / scale)
        good = view.state == "good"
        items.middle.setColor(QColor(theme.palette().good if good else theme.palette().ink))
        # The inner upper corner of a label lies just outside all curves, the rest further out:
        # curves that bulge outwards can then never meet it.
        curves = [curve * turned for curve in one.curves()]
        x, y = free_corner(curves, LABEL_GAP_PX * scale)
        items.body_label.setText(say("body"))
        items.body_label.setPos(middle + x, y)
        x, y = free_corner([curve * (-1.0, 1.0) for curve in curves], LABEL_GAP_PX * scale)
        form = say("form")
        items.form_label.setText(as_ellipse(form) if marks and one.form_is_ellipse else form)
        items.form_label.setPos(middle - x, y)
        # Where the sections are small their labels would meet: the first one speaks for all.
        apart_px = self._apart_mm(scale) / scale / _larger()
        spoken = apart_px > (LABELS_PX if slot else FIRST_LABELS_PX)
        items.body_label.setVisible(spoken)
        items.form_label.setVisible(spoken and section is not None)

    def _write_middle(self, items: SectionItems, view: LineView, x: float, size_px: Points) -> None:
        """Write what is left to go inside the panels, in two lines where one would meet them."""
        whole = self._middle(view)
        inside = size_px - 2 * WALL_MM / self.mm_per_px() - theme.STEP
        font = self._font(theme.TEXT_PT + 2, bold=True)
        texts = (whole, in_two_lines(whole))
        while not (fits := [text for text in texts if lies_within(text, font, inside)]):
            font.setPointSizeF(font.pointSizeF() - 0.5)
            if font.pointSizeF() < LEAST_MIDDLE_PT:  # no room: it stands beside the name instead
                fits = [""]
                items.name.setText(self._name_with(items.name.toPlainText(), whole, view))
                break
        items.middle.setFont(font)
        items.middle.setText(fits[0])
        words = items.middle.textItem
        words.document().setDefaultTextOption(QTextOption(Qt.AlignmentFlag.AlignHCenter))
        words.setTextWidth(-1.0)  # or the last text's width would count
        words.setTextWidth(words.document().idealWidth() if fits[0] else -1.0)
        items.middle.updateTextPos()  # it was centred for the width of the text before
        items.middle.setPos(x, 0.0)

    def _name_with(self, name: str, rest: str, view: LineView) -> str:
        """Return a name with what is left to go, or where names would meet with its state."""
        said = f"{name} · {rest}"
        scale = self.mm_per_px()
        wide = QFontMetricsF(self._font(theme.TEXT_PT, bold=True)).horizontalAdvance(said)
        room = self._apart_mm(scale) / scale - theme.STEP
        return said if wide <= room else f"{state_shape(view.state)} {name}"

    def _recolour(self) -> None:
        colours = theme.palette()
        self._plot.setBackground(colours.page)
        self._grid.setPen(pen(theme.blend(colours.page, colours.fine, 0.3), 1.0))
        self._bar.setPen(pen(colours.quiet, 1.5))
        self._bar_label.setColor(QColor(colours.quiet))
        self._bar_label.setFont(self._font(theme.LABEL_PT))
        for items in self._sections:
            items.dress(lambda points, bold: self._font(points, bold=bold))
        self._draw()

    def _font(self, points: float, *, bold: bool = False) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(points * _larger())
        if bold:
            font.setWeight(QFont.Weight.DemiBold)
        return font


def _larger() -> float:
    """Return the scale of type in the plot; very large type would leave no room to draw."""
    return min(theme.scale(), MOST_SCALE)
