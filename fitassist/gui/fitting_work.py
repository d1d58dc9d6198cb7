# SPDX-License-Identifier: MIT
"""How the fitting page is laid out: the instruction and the form above, the rest waits below.

On a small screen sections and lines take turns; on a tall one both are there. Where the type is so
large that the sections would be too small, they take turns with the instruction as well.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QGridLayout,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.form import Form
from fitassist.domain.steps import Check, Instruction
from fitassist.gui import theme
from fitassist.gui.answer_bar import AnswerBar
from fitassist.gui.answer_panel import AnswerPanel, RibbonPanel
from fitassist.gui.drawings import DrawingView, drawing_names
from fitassist.gui.exceptions_panel import ExceptionsPanel
from fitassist.gui.fields import ChoiceRow, button
from fitassist.gui.fitting_list import FittingList
from fitassist.gui.fitting_side import FittingSide
from fitassist.gui.flow import FlowLayout
from fitassist.gui.instruction_card import InstructionCard
from fitassist.gui.lines_table import LinesTable
from fitassist.gui.never_strip import NeverStrip
from fitassist.gui.sections_plot import LEAST_HIGH, SectionsPlot
from fitassist.gui.torso_step import show_step
from fitassist.gui.torso_view import TorsoView
from fitassist.gui.volunteer_panel import VolunteerPanel
from fitassist.wording.fitting_words import say
from fitassist.wording.help_words import say as say_help

QWIDGETSIZE_MAX = (1 << 24) - 1  # Qt's own name for no limit
TALL_PX = 860  # from here sections and lines are both shown
LOW_PX = 400  # below this, at normal type, there is no room for sections under the instruction
SECTIONS_SHARE = 0.18  # of a tall page, or shapes could not be told apart
BELOW_STRETCH, BELOW_STRETCH_TALL = 9, 13  # where the instruction has 10
SIDE_SHARE, SIDE_LEAST, SIDE_MOST = 0.24, 290, 460
PANEL_WIDTH = 540
PICTURES = {
    "undergarment": "check_undergarment",
    "marks": "check_marks",
    "padding_off": "pad_all_round",
    "padding_on": "pad_all_round",
    "torso_length": "check_torso_length",
    "torso_again": "check_torso_length",
    "shoulder_level": "floor_to_shoulder",
    "waist_level": "floor_to_waist",
}


def _spare_sections(parent: QWidget | None) -> SectionsPlot | None:
    """Return the plot that an earlier work left to its page, or None."""
    if parent is None:
        return None
    directly = Qt.FindChildOption.FindDirectChildrenOnly
    return next(iter(parent.findChildren(SectionsPlot, options=directly)), None)


class FittingWork(QWidget):
    """All parts of the page for one form, in their places; the page makes them act."""

    def __init__(self, form: Form, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.strip = NeverStrip()
        self.card = InstructionCard()
        self.torso = TorsoView(form)
        self.drawing = DrawingView("")
        self.sections = _spare_sections(parent) or SectionsPlot()
        self.lines = LinesTable()
        self.list = FittingList()
        self.bar = AnswerBar()
        self.ribbon = RibbonPanel()
        self.exceptions = ExceptionsPanel()
        self.volunteer = VolunteerPanel()
        self.below = ChoiceRow(
            say("lower"), [(key, say(key)) for key in ("step", "sections", "lines")]
        )
        self.below.choice("step").hide()
        self.below.mark_first("sections")
        self.below.set_value("sections")
        self.below.chosen.connect(lambda _key: self.arrange())
        self.beside, self.private = button(say("beside"), "link"), button(say("private"), "link")
        self.how = button(say_help("how"), "link")
        self.how.setCheckable(True)
        self.how.clicked.connect(self.toggle_how)
        # A click here must not take Enter away from the answer.
        for looking in (
            *map(self.below.choice, ("step", "sections", "lines")),
            self.lines.chances, self.lines.table, self.beside, self.private, self.how,
        ):  # fmt: skip
            looking.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._panels = QStackedWidget()
        for panel in self.panels():
            self._panels.addWidget(panel)
        self._panels.hide()
        self._picture = QStackedWidget()
        self._picture.addWidget(self.torso)
        self._picture.addWidget(self.drawing)
        self._shown_id = 0
        self._side = FittingSide(self.list)
        self._side.how_changed.connect(self.how.setChecked)
        self._lay_out()

    def leave_sections_to(self, page: QWidget) -> None:
        """Give the plot back before this work goes: a plot made anew each time is never freed."""
        for widget in (self.sections, self.sections.assumed):
            widget.hide()
        self.sections.setParent(page)
        self.sections.assumed.setParent(self.sections)

    def panels(self) -> tuple[AnswerPanel, ...]:
        """Return all that can open beside the sections."""
        return self.ribbon, self.exceptions, self.volunteer

    def _lay_out(self) -> None:
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(theme.MARGIN, theme.STEP * 2, theme.MARGIN, theme.STEP * 2)
        self._grid.setHorizontalSpacing(theme.MARGIN)
        self._grid.setVerticalSpacing(theme.STEP)
        self._grid.addWidget(self.strip, 0, 0, 1, 2)
        self._grid.addWidget(self.card, 1, 0)
        self._pictured = QWidget()
        beside = QVBoxLayout(self._pictured)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        beside.addWidget(self._picture, 1)
        beside.addWidget(self.how, 0, Qt.AlignmentFlag.AlignRight)
        self._grid.addWidget(self._pictured, 1, 1)
        self._grid.addLayout(self._below(), 2, 0, 1, 2)
        self._grid.addWidget(self.bar, 3, 0, 1, 2)
        self._grid.setColumnStretch(0, 1)
        self._grid.setRowStretch(1, 10)
        self.arrange()

    def _below(self) -> QHBoxLayout:
        self._ways = FlowLayout(gap=theme.STEP)
        self._ways.addWidget(self.lines.chances)
        self._ways.addWidget(self.private)
        self._ways.addWidget(self.beside)
        self._ways.addWidget(self.below)
        self._foot = foot = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        foot.setSpacing(theme.STEP)
        foot.addWidget(self.sections.assumed, 1000)
        foot.addLayout(self._ways)
        shown = QVBoxLayout()
        shown.setSpacing(0)
        shown.addWidget(self.sections, 3)
        shown.addWidget(self.lines, 2)
        shown.addStretch(0)
        shown.addLayout(foot)
        row = QHBoxLayout()
        row.setSpacing(theme.MARGIN)
        row.addLayout(shown, 1)
        row.addWidget(self._side)
        row.addWidget(self._panels)
        return row

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the side its share and show as much below as there is room for."""
        super().resizeEvent(event)
        self.arrange()

    def arrange(self) -> None:
        """Give each part its room, by what is shown and how large the page is."""
        larger = min(max(theme.scale(), 1.0), 1.4)
        side = round(min(max(self.width() * SIDE_SHARE, SIDE_LEAST * larger), SIDE_MOST * larger))
        self._grid.setColumnMinimumWidth(1, side)
        self._picture.setFixedWidth(side)
        self._side.setFixedWidth(side)
        self._panels.setFixedWidth(
            max(min(round(PANEL_WIDTH * larger), round(self.width() * 0.6)), side)
        )
        has_panel = not self._panels.isHidden()
        self._side.setVisible(not has_panel)
        is_tall = self.height() >= TALL_PX
        is_low = self._take_turns(not is_tall and self.height() < LOW_PX * theme.scale())
        self._grid.setRowStretch(2, BELOW_STRETCH_TALL if is_tall else BELOW_STRETCH)
        wants_lines = self.below.value() == "lines"
        has_step = has_panel or not is_low or self.below.value() == "step"
        has_step_alone = is_low and has_step and not has_panel
        self.card.setVisible(has_step)
        self._pictured.setVisible(has_step)
        share = 20 if has_step_alone and not self._side.is_how else 10
        self._grid.setRowStretch(1, round(share * larger**0.5) * has_step)
        self.below.setVisible(not is_tall and not has_panel)
        for way in (self.private, self.beside):
            way.setVisible(not has_panel)
        has_sections = is_tall or not (wants_lines or has_step_alone)
        self.sections.setVisible(has_sections)
        self.lines.setVisible(is_tall or wants_lines)
        self.sections.assumed.setVisible(has_sections)
        high = round(SECTIONS_SHARE * self.height()) if is_tall else LEAST_HIGH
        self.sections.setMinimumHeight(high)
        # All lines are in sight where both are; the sections have what is left.
        high = min(self.lines.content_height(), self.height() // 5)
        self.lines.setMaximumHeight(high if is_tall else QWIDGETSIZE_MAX)
        self.lines.setMinimumHeight(high if is_tall else 0)
        self.lines.chances.setVisible(is_tall or wants_lines)
        self._arrange_foot(self.width() - side - 3 * theme.MARGIN)

    def _take_turns(self, is_low: bool) -> bool:
        """Offer the step as a view of its own where there is no room for two; return is_low."""
        step = self.below.choice("step")
        if step.isHidden() == is_low:
            step.setVisible(is_low)
            self.below.mark_first("step" if is_low else "sections")
            self.below.set_value("step" if is_low else "sections")
        return is_low

    def _arrange_foot(self, wide: int) -> None:
        """Let the note stand above the ways where beside them it would be a column of words."""
        left = wide - self._ways.sizeHint().width()
        note = self.sections.assumed
        is_narrow = 2 * left < note.fontMetrics().horizontalAdvance(note.text())  # over two lines
        self._foot.setDirection(
            QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        )

    # -- what is open -------------------------------------------------------------------------

    def open_panel(self) -> AnswerPanel | None:
        """Return the panel that is open, or None."""
        if self._panels.isHidden():
            return None
        return next(p for p in self.panels() if p is self._panels.currentWidget())

    def show_panel(self, panel: AnswerPanel) -> None:
        """Open a panel beside the sections."""
        self.below.set_value("sections")
        self._panels.setCurrentWidget(panel)
        for beside in (self._side, self.below, self.private, self.beside):
            beside.hide()  # first, or for a moment both would ask for room
        self._panels.show()
        self.arrange()

    def hide_panel(self) -> None:
        """Put an open panel away."""
        self._panels.hide()
        if not self.below.choice("step").isHidden():
            self.below.set_value("step")
        self.arrange()

    def toggle_how(self) -> None:
        """Explain the step, or show again what comes next."""
        self._side.show_how(not self._side.is_how)
        self.arrange()

    @property
    def side(self) -> FittingSide:
        """What comes next, or how the step is done."""
        return self._side

    # -- the picture --------------------------------------------------------------------------

    def show_picture(self, step: Instruction) -> None:
        """Show where the instruction is carried out, and have ready how."""
        self._side.show_step(step)
        if step.id != self._shown_id and not self.below.choice("step").isHidden():
            self.below.set_value("step")  # what is new is never hidden behind the sections
        self._shown_id = step.id
        picture = PICTURES.get(step.code, "") if isinstance(step, Check) else ""
        if picture in drawing_names():
            self.drawing.show_drawing(picture, self.card.accessibleName())
            self._picture.setCurrentWidget(self.drawing)
            return
        self._picture.setCurrentWidget(self.torso)
        show_step(self.torso, step)

    def is_behind(self) -> bool:
        """Say whether the person was sent to the back."""
        return self._picture.currentWidget() is self.torso and self.torso.shown == ("back",)
