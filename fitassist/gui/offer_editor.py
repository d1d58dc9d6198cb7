# SPDX-License-Identifier: MIT
"""Entering or changing one form on offer, as its box or a shop's table describes it."""

from __future__ import annotations

from typing import get_args

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from fitassist.choosing.candidate import GIRTHS, LENGTHS, MOST_MM, Candidate, MadeFor, Post, Range
from fitassist.domain.person_name import clean_name
from fitassist.domain.units import AnyUnit, format_length
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.answer_panel import leaves
from fitassist.gui.fields import ChoiceRow, LengthField, button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.wording.language import capital
from fitassist.wording.offer_words import say
from fitassist.wording.places import line_name
from fitassist.wording.sentences import sentence

NAME_WIDTH = 480
_KNOWN: dict[str, bool | None] = {"unknown": None, "yes": True, "no": False}


class OfferEditor(QWidget):
    """The fields of one form on offer.

    Signals
    -------
    kept
        The ``Candidate`` as entered.
    left
        Nothing is to be kept now; what was entered stays in the fields.
    """

    kept = Signal(object)
    left = Signal()

    def __init__(self, unit: AnyUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = unit
        self.name = QLineEdit()
        theme.at_most(self.name, NAME_WIDTH)
        self.name.setAccessibleName(say("editor.name"))
        self._error = plain_label(role="error", wraps=True)
        self.made_for = _choices("editor.made_for", "made_for", get_args(MadeFor))
        self.post = _choices("editor.post", "post", get_args(Post))
        self.pins = _choices("editor.pins", "known", tuple(_KNOWN))
        self.waist_shifts = _choices("editor.waist_shifts", "known", tuple(_KNOWN))
        self.fields: dict[str, tuple[LengthField, LengthField]] = {}
        self.keep_button = button(say("editor.keep"), "primary")
        self.keep_button.clicked.connect(self.keep)
        self.leave_button = button(say("editor.leave"))
        self.leave_button.clicked.connect(self.left)
        self._lay_out()
        self._begun = self._typed()

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, theme.STEP, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("editor.new"), "title"))
        column.addWidget(plain_label(say("editor.name"), "label"))
        column.addWidget(self.name)
        for key, row in (
            ("editor.made_for", self.made_for),
            ("editor.post", self.post),
            ("editor.pins", self.pins),
            ("editor.waist_shifts", self.waist_shifts),
        ):
            column.addWidget(plain_label(say(key), "label"))
            column.addWidget(row)
        column.addSpacing(theme.STEP)
        column.addWidget(plain_label(say("editor.hint"), "note", wraps=True))
        column.addLayout(self._ranges())
        column.addStretch(1)
        foot = QHBoxLayout()
        foot.setSpacing(theme.STEP)
        foot.addWidget(self.keep_button)
        foot.addWidget(self.leave_button)
        foot.addWidget(self._error, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scrolling(inside), 1)
        whole.addLayout(foot)

    def _ranges(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.STEP * 2)
        grid.setVerticalSpacing(theme.HALF)
        grid.addWidget(plain_label(say("editor.closed"), "label"), 0, 1)
        grid.addWidget(plain_label(say("editor.open"), "label"), 0, 2)
        for row, line in enumerate((*GIRTHS, *LENGTHS), start=1):
            name = capital(line_name(line))
            pair = (
                LengthField(f"{name}, {say('editor.closed')}", self._unit),
                LengthField(f"{name}, {say('editor.open')}", self._unit),
            )
            self.fields[line] = pair
            grid.addWidget(plain_label(name), row, 0)
            for column, field in enumerate(pair, start=1):
                grid.addWidget(field, row, column)
        grid.setColumnStretch(3, 1)
        return grid

    # -- what is entered ----------------------------------------------------------------------

    def begin(self, candidate: Candidate | None, unit: AnyUnit) -> None:
        """Show a form to be changed, or empty fields for another one."""
        self._unit = unit
        self._error.clear()
        self.name.setText(candidate.name if candidate else "")
        self.made_for.set_value(candidate.made_for if candidate else "any")
        self.post.set_value(candidate.post if candidate else "unknown")
        for row, value in (
            (self.pins, candidate.takes_pins if candidate else None),
            (self.waist_shifts, candidate.waist_shifts if candidate else None),
        ):
            row.set_value(next(key for key, one in _KNOWN.items() if one is value))
        ranges = {**candidate.girths_mm, **candidate.lengths_mm} if candidate else {}
        for line, (closed, opened) in self.fields.items():
            found = ranges.get(line)
            for field, mm in (
                (closed, found.least_mm if found else None),
                (opened, found.greatest_mm if found and found.turns else None),
            ):
                field.set_unit(unit)
                field.set_text("" if mm is None else f"{format_length(mm, unit, 16)} {unit}")
        self._begun = self._typed()
        self.name.setFocus()

    @property
    def is_changed(self) -> bool:
        """Whether anything was entered since ``begin``."""
        return self._typed() != self._begun

    def _typed(self) -> tuple[str, ...]:
        rows = (self.made_for, self.post, self.pins, self.waist_shifts)
        fields = (field for pair in self.fields.values() for field in pair)
        texts = (field.text() for field in fields)
        return self.name.text(), *(row.value() for row in rows), *texts

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare numbers in another unit; what is typed stays."""
        self._unit = unit
        for pair in self.fields.values():
            for field in pair:
                field.set_unit(unit)

    def keep(self) -> None:
        """Tell what was entered, or say at the field what is wrong with it."""
        self._error.clear()
        if not self.name.text().strip():
            self._fail(say("editor.name_missing"), self.name)
            return
        try:
            name = clean_name(self.name.text())
        except FitError as error:
            self._fail(sentence(error), self.name)
            return
        ranges = self._entered()
        if ranges is None:
            return
        self.kept.emit(
            Candidate.model_validate(
                {
                    "name": name,
                    "made_for": self.made_for.value(),
                    "post": self.post.value(),
                    "takes_pins": _KNOWN[self.pins.value()],
                    "waist_shifts": _KNOWN[self.waist_shifts.value()],
                    "girths_mm": {k: v for k, v in ranges.items() if k in GIRTHS},
                    "lengths_mm": {k: v for k, v in ranges.items() if k in LENGTHS},
                }
            )
        )

    def error_text(self) -> str:
        """Return what is said beside the buttons."""
        return self._error.text()

    def _entered(self) -> dict[str, Range] | None:
        """Return the ranges entered, or None once a field has said what is wrong."""
        found: dict[str, Range] = {}
        for line, (closed, opened) in self.fields.items():
            for field in (closed, opened):
                field.show_error("")
                if field.text().strip() and not field.commit():
                    field.setFocus(Qt.FocusReason.OtherFocusReason)
                    return None
            least, greatest = closed.length(), opened.length()
            if least is None:
                if greatest is not None:
                    closed.show_error(say("editor.closed_missing"))
                    closed.setFocus(Qt.FocusReason.OtherFocusReason)
                    return None
                continue
            high = greatest.mm if greatest is not None else least.mm
            if high < least.mm or high > MOST_MM:
                opened.show_error(say("editor.order"))
                opened.setFocus(Qt.FocusReason.OtherFocusReason)
                return None
            found[line] = Range(least_mm=least.mm, greatest_mm=high)
        return found

    def tell(self, text: str) -> None:
        """Say beside the buttons why the form is not kept."""
        self._error.setText(text)

    def _fail(self, text: str, where: QWidget) -> None:
        self.tell(text)
        where.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave with Escape."""
        if not leaves(event, self.left):
            super().keyPressEvent(event)


def _choices(name: str, words: str, keys: tuple[str, ...]) -> ChoiceRow:
    return ChoiceRow(say(name), [(key, say(f"{words}.{key}")) for key in keys])
