# SPDX-License-Identifier: MIT
"""The shape of a body: six outlines with their bands, silhouettes, and the form beside them.

The page shows a ``ShapeView`` and holds no facts; whoever makes it decides whose view that is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.units import AnyUnit, Unit
from fitassist.geometry.outline import REAL_PEOPLE
from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.folds import Fold, at_left, scrolling
from fitassist.gui.height_slider import HeightSlider
from fitassist.gui.outline_plot import MOST_SCALE, OutlinePlot
from fitassist.gui.shape_here import ShapeHere, section_facts
from fitassist.gui.shape_side import DoubtList, MeasuringAtHome, SharperList
from fitassist.gui.silhouette_plot import SilhouettePlot
from fitassist.session.shape_sections import Section
from fitassist.session.shape_view import ShapeView
from fitassist.wording.places import line_name
from fitassist.wording.reasons import note
from fitassist.wording.shape_words import amount, kinds, note_text, place_text, say, times_text

HERE_WIDTH = 344
EMPTY_WIDTH = 640
PLOTS_HEIGHT = 330
HANDLE_PX = 9  # half of a slider's handle: there its groove begins
TOGETHER_MM = 0.5  # heights nearer than this are one


class ShapePage(QWidget):
    """Outlines, silhouettes, doubts and what would sharpen them.

    Signals
    -------
    kind_chosen
        Whose outlines to draw after: woman, man or any.
    field_asked
        The key of a measurement whose field is to be shown.
    people_asked, measurements_asked
        The user wants to choose a person, or to describe a body.
    """

    kind_chosen = Signal(str)
    field_asked = Signal(str)
    people_asked = Signal()
    measurements_asked = Signal()

    def __init__(self, unit: AnyUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._unit = Unit(unit)
        self._view: ShapeView | None = None
        self._labels: Mapping[str, str] = {}
        self._questions: Sequence[tuple[str, str]] = ()
        self._has_form = False
        self._height_mm = 0.0
        self._stack = QStackedWidget()
        self._stack.addWidget(self._build_empty())
        self._stack.addWidget(self._build_shape())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)
        self.show_nobody()

    # -- building -----------------------------------------------------------------------------

    def _build_empty(self) -> QWidget:
        holder = QWidget()
        self._empty = plain_label(wraps=True)
        theme.at_most(self._empty, EMPTY_WIDTH)
        self.empty_button = button("", "primary")
        self.empty_button.clicked.connect(self._on_empty)
        column = QVBoxLayout(holder)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.MARGIN)
        column.addWidget(plain_label(say("heading"), "heading"))
        column.addLayout(at_left(self._empty))
        self._empty_doubts = DoubtList()
        self._empty_doubts.field_asked.connect(self.field_asked)
        column.addLayout(at_left(self._empty_doubts))
        column.addWidget(self.empty_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return scrolling(holder)

    def _build_shape(self) -> QWidget:
        inside = QWidget()
        self._plots = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._plots.setSpacing(theme.MARGIN)
        self.grid = OutlinePlot(columns=3)
        self.grid.chosen.connect(self._on_grid)
        self._plots.addWidget(self.grid, 1)
        self._plots.addLayout(self._build_silhouettes(), 1)
        self._how = plain_label(role="note", wraps=True)
        self.carried = plain_label(role="note", wraps=True)
        self._below = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._below.setSpacing(theme.MARGIN)
        self.sharper = SharperList()
        self.sharper.field_asked.connect(self.field_asked)
        self.doubts = DoubtList()
        self.doubts.field_asked.connect(self.field_asked)
        self._below.addWidget(self.sharper, 1)
        self._below.addWidget(self.doubts, 1)
        left = QVBoxLayout()
        left.setSpacing(theme.STEP)
        left.addLayout(self._plots, 1)
        left.addWidget(self._how)
        left.addWidget(self.carried)
        left.addLayout(self._below)
        self.here = ShapeHere()
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._sides.setSpacing(theme.MARGIN)
        self._sides.addLayout(left, 1)
        self._sides.addWidget(self.here)
        self.home = MeasuringAtHome()
        self.home_fold = Fold(say("home"), self.home)
        column = QVBoxLayout(inside)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP)
        column.addLayout(self._build_head())
        column.addLayout(self._sides, 1)
        column.addWidget(self.home_fold)
        self._arrange()
        return scrolling(inside)

    def _build_head(self) -> QVBoxLayout:
        self.kind_row = ChoiceRow(say("after"), kinds())
        self.kind_row.chosen.connect(self.kind_chosen)
        self._kind_why = plain_label(role="note", wraps=True)
        row = QHBoxLayout()
        row.setSpacing(theme.STEP)
        row.addWidget(plain_label(say("heading"), "heading"))
        row.addSpacing(theme.MARGIN)
        row.addWidget(plain_label(say("after"), "label"))
        row.addWidget(self.kind_row, 1)
        head = QVBoxLayout()
        head.setSpacing(theme.HALF)
        head.addLayout(row)
        head.addWidget(self._kind_why)
        return head

    def _build_silhouettes(self) -> QHBoxLayout:
        self.silhouettes = SilhouettePlot()
        self.slider = HeightSlider()
        self.slider.height_changed.connect(self._go_to)
        self.silhouettes.height_chosen.connect(self._on_pressed)
        beside = QVBoxLayout()
        beside.addWidget(self.slider)
        self.silhouettes.reach_changed.connect(
            lambda top, low: beside.setContentsMargins(
                0, max(top - HANDLE_PX, 0), 0, max(low - HANDLE_PX, 0)
            )
        )
        row = QHBoxLayout()
        row.setSpacing(theme.HALF)
        row.addWidget(self.silhouettes, 1)
        row.addLayout(beside)
        return row

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on; a focus proxy would take what stands before it out of Tab's round."""
        super().focusInEvent(event)
        self.slider.setFocus(event.reason())

    def _arrange(self) -> None:
        """Put things below each other where the type is large."""
        ways = QBoxLayout.Direction
        way = ways.TopToBottom if theme.is_large() else ways.LeftToRight
        self._plots.setDirection(way)
        self._sides.setDirection(way)
        self._below.setDirection(way)
        for plot in (self.grid, self.silhouettes):
            plot.setMinimumHeight(round(PLOTS_HEIGHT * min(theme.scale(), MOST_SCALE)))
        if theme.is_large():
            self.here.setMinimumWidth(0)
            self.here.setMaximumWidth(16777215)
        else:
            self.here.setFixedWidth(theme.wide(HERE_WIDTH))
        self.home.arrange()

    def changeEvent(self, event: QEvent) -> None:
        """Arrange anew for type of another size."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._arrange()

    # -- what is shown ------------------------------------------------------------------------

    def show_nobody(self) -> None:
        """Say that nobody is chosen, and where to choose."""
        self._show_empty(say("nobody"), say("to_people"))

    def show_no_body(self) -> None:
        """Say that the person chosen has no body described yet."""
        self._show_empty(say("no_body"), say("to_measurements"))

    def show_problem(self, text: str) -> None:
        """Say why nothing can be drawn at all."""
        self._show_empty(say("unreadable", why=text), say("to_measurements"))

    def show_view(
        self,
        view: ShapeView,
        labels: Mapping[str, str],
        questions: Sequence[tuple[str, str]] = (),
        has_form: bool = False,
    ) -> None:
        """Show a body in the round.

        Parameters
        ----------
        view
            What there is to see.
        labels
            What measurements are called on this body, by key.
        questions
            What is asked about its readings: sentences, each with the key of a field.
        has_form
            Whether a form is chosen, known at every height or not.
        """
        self._labels, self._questions, self._has_form = labels, questions, has_form
        if not view.lines:
            lines = ", ".join(
                labels.get(line, line_name(line)).lower() for line in view.missing[:3]
            )
            first = labels.get(view.missing[0], line_name(view.missing[0])).lower()
            self._show_empty(say("empty", lines=lines), say("measure_line", line=first))
            self._view = view
            self._empty_doubts.show_doubts(self._doubts())
            return
        self._view = view
        self._stack.setCurrentIndex(1)
        self.slider.show_lines([section.height_mm for section in view.lines])
        self.slider.setEnabled(view.stack is not None)
        for widget in (self.slider, self.silhouettes):
            widget.setVisible(view.stack is not None)
        low, high = view.lines[-1].height_mm, view.lines[0].height_mm
        near = min(view.lines, key=lambda one: abs(one.height_mm - self._height_mm))
        if not low <= self._height_mm <= high or abs(near.height_mm - self._height_mm) < 20.0:
            self._height_mm = near.height_mm
        self._show_all()

    def set_unit(self, unit: AnyUnit) -> None:
        """Say lengths in this unit."""
        self._unit = Unit(unit)
        if self._view is not None and self._view.lines:
            self._show_all()

    def said(self) -> QLabel:
        """Return the text of the page while there is nothing to draw."""
        return self._empty

    def shown_view(self) -> ShapeView:
        """Return what is shown; only while something is."""
        assert self._view is not None
        return self._view

    @property
    def height_mm(self) -> float:
        """The height that is looked at, above the waist."""
        return self._height_mm

    def _show_empty(self, text: str, words: str) -> None:
        self._view = None
        self._empty.setText(text)
        self.empty_button.setText(words)
        self.empty_button.setAccessibleName(words)
        self._empty_doubts.show_doubts(())
        self._stack.setCurrentIndex(0)

    def _show_all(self) -> None:
        assert self._view is not None
        view, unit = self._view, self._unit
        self.kind_row.set_value(view.kind)
        how = [say("outlines_how")] + ([say("outlines_form")] if self._has_form else [])
        self._how.setText(" ".join(how))
        self._kind_why.setText(say("after_any_why" if view.kind == "any" else "after_why"))
        carried = " ".join(self._carried())
        self.carried.setText(carried)
        self.carried.setVisible(bool(carried))
        words = "\n".join(filter(None, (self._words(), carried)))
        self.silhouettes.show_views(
            view.silhouettes, view.lines, self._height_mm, words, view.carriage
        )
        self.sharper.show_sharper(view.sharper, self._labels)
        self.sharper.why.setText(say("wider", times=times_text(REAL_PEOPLE)))
        self.doubts.show_doubts(self._doubts())
        self._show_height(self._height_mm)
        self.grid.show_sections(view.lines, unit, self._chosen(), self._words())

    def _words(self) -> str:
        """Say of each line what the pictures show of it."""
        assert self._view is not None
        said = []
        for section in self._view.lines:
            place = place_text(section.line, section.height_mm, self._unit)
            facts = section_facts(section, self._unit, self._has_form)
            said.append(" ".join((f"{place}.", *facts)))
        return "\n".join(said)

    def _carried(self) -> list[str]:
        """Say how the body is carried and how long the form's torso is drawn, where it is known."""
        assert self._view is not None
        view, said = self._view, []
        if view.carriage is not None:
            said = [note(view.carriage.note, self._unit)]
            said += [say("plumb")] if view.stack is not None else []
        if view.pulled_mm:
            which = "form_longer" if view.pulled_mm > 0 else "form_shorter"
            said.append(say(which, amount=amount(abs(view.pulled_mm), self._unit)))
        return said

    def _doubts(self) -> list[tuple[str, str]]:
        assert self._view is not None
        notes = [
            (note_text(one.code, one.line, one.values, self._unit), next(iter(one.keys), ""))
            for one in self._view.notes
        ]
        return [*self._questions, *notes]

    # -- heights ------------------------------------------------------------------------------

    def _line_at(self, height_mm: float) -> Section | None:
        assert self._view is not None
        near = min(self._view.lines, key=lambda one: abs(one.height_mm - height_mm))
        return near if abs(near.height_mm - height_mm) < TOGETHER_MM else None

    def _chosen(self) -> int:
        assert self._view is not None
        line = self._line_at(self._height_mm)
        return self._view.lines.index(line) if line is not None else -1

    def _go_to(self, height_mm: float) -> None:
        if self._view is None or not self._view.lines:
            return
        self._show_height(height_mm)
        self.silhouettes.set_height(self._height_mm)
        self.grid.show_sections(self._view.lines, self._unit, self._chosen(), self._words())

    def _show_height(self, height_mm: float) -> None:
        assert self._view is not None
        lines = self._view.lines
        self._height_mm = min(max(height_mm, lines[-1].height_mm), lines[0].height_mm)
        section = self._line_at(self._height_mm)
        between: tuple[str, ...] = ()
        if section is None and self._view.stack is not None:
            section = self._view.stack.at(self._height_mm)
            above = [one for one in lines if one.height_mm > self._height_mm]
            below = [one for one in lines if one.height_mm <= self._height_mm]
            between = (above[-1].line, below[0].line)
        if section is None:
            section = min(lines, key=lambda one: abs(one.height_mm - self._height_mm))
        self.here.show_section(section, self._unit, between, self._has_form)
        place = place_text(section.line, section.height_mm, self._unit, between)
        self.slider.set_height(self._height_mm, place)

    def _on_pressed(self, height_mm: float) -> None:
        self._go_to(self.slider.snapped(height_mm))

    def _on_grid(self, number: int) -> None:
        assert self._view is not None
        self._go_to(self._view.lines[number].height_mm)

    def _on_empty(self) -> None:
        if self._view is not None and self._view.missing:
            self.field_asked.emit(self._view.missing[0])
        elif self.empty_button.text() == say("to_people"):
            self.people_asked.emit()
        else:
            self.measurements_asked.emit()
