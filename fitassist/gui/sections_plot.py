# SPDX-License-Identifier: MIT
"""Three level sections from above, at one scale: the form's panels as they stand, and the body.

All lie in one plot, so they cannot help sharing its scale. The shape is assumed, and it says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import (
    QBrush,
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
from fitassist.geometry.sections import (
    USUAL_BREADTH_PER_DEPTH,
    Points,
    SectionOutline,
    body_section,
    form_section,
)
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.section_facts import SHOWN, chosen_lines, in_two_lines, seam_gaps
from fitassist.gui.section_shapes import WALL_MM, closed_path, lies_within, pen, walled
from fitassist.session.view import LineView
from fitassist.wording.fitting_words import amounts_unit, say, section_text
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_length
from fitassist.wording.places import line_name

GRID_MM = 50.0
LABELS_PX = 230  # least width of a section with labels of its own
LEAST_HIGH, MOST_SCALE = 100, 1.4
LABEL_GAP_PX = 1.0  # a label has a margin of its own as well
BODY_DASHES = (7.0, 4.0)
LEAST_MIDDLE_PT = 9.0
_IN_WORDS = ("good", "measure_again")  # states that stand in a section in place of an amount


@dataclass
class _Section:
    """The items of one section; made once, then only changed."""

    panels: QGraphicsPathItem
    body: QGraphicsPathItem
    name: pg.TextItem
    middle: pg.TextItem
    front: pg.TextItem
    body_label: pg.TextItem
    form_label: pg.TextItem

    def items(self) -> tuple[QGraphicsPathItem | pg.TextItem, ...]:
        return (
            self.panels, self.body, self.name, self.middle, self.front, self.body_label,
            self.form_label,
        )  # fmt: skip


class SectionsPlot(QWidget):
    """Draws up to three sections of one fitting; also says in words what it draws."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        pg.setConfigOptions(antialias=True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.setMinimumHeight(LEAST_HIGH)
        self._form: Form | None = None
        self._body: Body | None = None
        self._unit: AnyUnit = Unit.IN
        self._names: tuple[str, ...] = ()
        self._behind = False
        self._is_private = False
        self._cell_mm = 500.0
        self._deep_mm = 350.0
        self._shown: list[tuple[LineView, SectionOutline | None, Points]] = []
        self._plot = pg.PlotWidget()
        self._plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._plot.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._plot.setMouseEnabled(False, False)
        self._plot.setMenuEnabled(False)
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
        self._sections = [self._make_section() for _slot in range(SHOWN)]
        self._recolour()

    def _make_section(self) -> _Section:
        made = _Section(
            panels=QGraphicsPathItem(),
            body=QGraphicsPathItem(),
            name=pg.TextItem(anchor=(0.5, 1.0)),
            middle=pg.TextItem(anchor=(0.5, 0.5)),
            front=pg.TextItem(anchor=(0.5, 0.0)),
            body_label=pg.TextItem(anchor=(0.0, 0.0)),
            form_label=pg.TextItem(anchor=(1.0, 0.0)),
        )
        for item in made.items():
            self._plot.addItem(item, ignoreBounds=True)
        return made

    # -- what is shown ------------------------------------------------------------------------

    def begin(self, form: Form, body: Body, lines: Sequence[LineView], unit: AnyUnit) -> None:
        """Take a fitting: which lines are drawn, and how large all of them are."""
        self._form, self._body, self._unit = form, body, unit
        self._names = chosen_lines(lines)
        self._behind = False
        girths = [
            max(view.target_mm, view.predicted_mm or 0.0)
            for view in lines
            if view.line in self._names and view.what == What.GIRTH
        ]
        drawn = [body_section(girth, self._flatness(name)) for girth, name in zip(
            girths, [v.line for v in lines if v.line in self._names and v.what == What.GIRTH],
            strict=True)]  # fmt: skip
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
        for item in (self._bar, self._bar_label):
            item.setVisible(not is_private)
        self._say()

    def show_from(self, behind: bool) -> None:
        """Turn the sections with the person: her side of the form is at the bottom."""
        if behind != self._behind:
            self._behind = behind
            self._draw()

    def show_lines(self, lines: Sequence[LineView], numbers: Mapping[str, float]) -> None:
        """Draw the lines as a view or a preview has them, with the dials at `numbers`."""
        if self._form is None:
            return
        by_name = {view.line: view for view in lines if view.what == What.GIRTH}
        self._shown = []
        for name in self._names:
            view = by_name.get(name)
            if view is None:
                continue
            flat = self._flatness(name)
            section = (
                form_section(view.predicted_mm, seam_gaps(self._form, name, numbers), flat)
                if view.predicted_mm
                else None
            )
            self._shown.append((view, section, body_section(view.target_mm, flat)))
        self._draw()
        self._say()

    def girth_texts(self) -> tuple[str, ...]:
        """Return what stands in the middle of each section."""
        return tuple(self._middle(view) for view, _section, _body in self._shown)

    def _flatness(self, line: str) -> float:
        """Return breadth over depth: as measured on the body, or else as usual."""
        assert self._body is not None
        broad = self._body.target(line, What.BREADTH)
        deep = self._body.target(line, What.DEPTH)
        if broad is None or deep is None:
            return USUAL_BREADTH_PER_DEPTH
        return broad.value_mm / deep.value_mm

    def _middle(self, view: LineView) -> str:
        shown = [v.to_go_mm for v, _section, _body in self._shown if v.state not in _IN_WORDS]
        beside = amounts_unit(shown, self._unit)
        return section_text(view.state, view.to_go_mm, self._unit, beside=beside)

    def _say(self) -> None:
        """Put the picture into words for those who do not see it."""
        parts = []
        for view, section, _body in self._shown:
            if self._is_private:
                parts.append(f"{capital(line_name(view.line))}: {self._middle(view)}.")
                continue
            there = say("unknown")
            if section is not None and view.predicted_mm is not None:
                there = say_length(view.predicted_mm, self._unit)
            parts.append(
                f"{capital(line_name(view.line))}: {say('form')} {there}, "
                f"{say('body')} {say_length(view.target_mm, self._unit)}, {self._middle(view)}."
            )
        for widget in (self, self._plot):
            widget.setAccessibleName(say("sections"))
            widget.setAccessibleDescription(" ".join([*parts, say("assumed")]))

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

    def _apart_mm(self, scale: float) -> float:
        """Return how far apart sections stand: as the room allows, the scale being one for all."""
        room = self._plot.width() * scale / max(len(self._names), 1)
        return float(min(max(room, self._cell_mm), 1.5 * self._cell_mm))

    def _draw(self) -> None:
        scale = self.mm_per_px()
        for slot, items in enumerate(self._sections):
            there = slot < len(self._shown)
            for item in items.items():
                item.setVisible(there)
            if there:
                self._draw_section(items, slot, scale)

    def _draw_section(self, items: _Section, slot: int, scale: float) -> None:
        view, section, body = self._shown[slot]
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
        hull = section.hull if section is not None else body
        reach = max(float(np.abs(hull[:, 1]).max()), float(np.abs(body[:, 1]).max()))
        items.name.setText(capital(line_name(view.line)))
        items.name.setPos(middle, reach)
        items.front.setText(say("back_side") if self._behind else say("front"))
        items.front.setPos(middle, -reach)
        self._write_middle(items, view, middle, 2 * np.abs(hull).max(axis=0) / scale)
        good = view.state == "good"
        items.middle.setColor(QColor(theme.palette().good if good else theme.palette().ink))
        # The inner upper corner of a label lies just outside both curves, the rest further out:
        # curves that bulge outwards can then never meet it.
        reached = np.maximum(np.abs(body).max(axis=0), np.abs(hull).max(axis=0))
        corner = np.sqrt(0.5) * reached + LABEL_GAP_PX * scale
        items.body_label.setText(say("body"))
        items.body_label.setPos(middle + corner[0], -corner[1])
        items.form_label.setText(say("form"))
        items.form_label.setPos(middle - corner[0], -corner[1])
        # Where the sections are small their labels would meet: the first one speaks for all.
        spoken = slot == 0 or self._apart_mm(scale) / scale > LABELS_PX * _larger()
        items.body_label.setVisible(spoken)
        items.form_label.setVisible(spoken and section is not None)

    def _write_middle(self, items: _Section, view: LineView, x: float, size_px: Points) -> None:
        """Write what is left to go inside the panels, in two lines where one would meet them."""
        whole = self._middle(view)
        inside = size_px - 2 * WALL_MM / self.mm_per_px() - theme.STEP
        font = self._font(theme.TEXT_PT + 2, bold=True)
        texts = (whole, in_two_lines(whole))
        while not (fits := [text for text in texts if lies_within(text, font, inside)]):
            font.setPointSizeF(font.pointSizeF() - 0.5)
            if font.pointSizeF() < LEAST_MIDDLE_PT:  # no room: it stands beside the name instead
                fits = [""]
                items.name.setText(f"{items.name.toPlainText()} · {whole}")
                break
        items.middle.setFont(font)
        items.middle.setText(fits[0])
        words = items.middle.textItem
        words.document().setDefaultTextOption(QTextOption(Qt.AlignmentFlag.AlignHCenter))
        words.setTextWidth(-1.0)  # or the last text's width would count
        words.setTextWidth(words.document().idealWidth() if fits[0] else -1.0)
        items.middle.setPos(x, 0.0)

    def _recolour(self) -> None:
        colours = theme.palette()
        self._plot.setBackground(colours.page)
        self._grid.setPen(pen(theme.blend(colours.page, colours.fine, 0.3), 1.0))
        self._bar.setPen(pen(colours.quiet, 1.5))
        text, small = self._font(theme.TEXT_PT), self._font(theme.LABEL_PT)
        self._bar_label.setColor(QColor(colours.quiet))
        self._bar_label.setFont(small)
        for items in self._sections:
            items.panels.setPen(pen(colours.form, 1.5))
            items.panels.setBrush(QBrush(QColor(theme.blend(colours.page, colours.form, 0.14))))
            dashed = pen(colours.body, 2.0)
            dashed.setDashPattern(BODY_DASHES)
            items.body.setPen(dashed)
            for item, role, font in (
                (items.name, colours.ink, self._font(theme.TEXT_PT, bold=True)),
                (items.front, colours.quiet, small),
                (items.body_label, colours.body, text),
                (items.form_label, colours.form, text),
            ):
                item.setColor(QColor(role))
                item.setFont(font)
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
