# SPDX-License-Identifier: MIT
"""Dials of a set that do not stand where asked: stopped, stuck or left, and at which number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from fitassist.domain.answers import DialException, Done, Why
from fitassist.domain.form import Form
from fitassist.domain.lines import Seam
from fitassist.domain.steps import SetDials, Turn
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.answer_panel import AnswerPanel
from fitassist.gui.dial_number import DialNumberField
from fitassist.gui.fields import ChoiceRow, plain_label
from fitassist.gui.folds import clear_layout
from fitassist.wording.fitting_words import say
from fitassist.wording.language import capital
from fitassist.wording.places import dial_name, seam_name
from fitassist.wording.sentences import sentence

LARGE_TYPE = 1.3  # above this scale a number stands below its choices
WHYS = ("there", "stopped", "stuck", "skipped")


@dataclass(frozen=True)
class _DialRow:
    turn: Turn
    why: ChoiceRow
    number: DialNumberField


class ExceptionsPanel(AnswerPanel):
    """One line per dial of the set on screen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(say("exceptions_title"), parent)
        self._rows: list[_DialRow] = []
        self._column = QVBoxLayout(self.content)
        self._column.setContentsMargins(0, 0, theme.STEP, 0)
        self._column.setSpacing(theme.HALF)

    def begin(self, step: SetDials, form: Form) -> None:
        """Ask about one set; all dials are taken to stand as asked until told."""
        clear_layout(self._column)
        self.show_message("")
        self._rows = [self._make_row(turn, step, form) for turn in step.turns]
        self._column.addWidget(plain_label(say("why_hint"), "note", wraps=True))
        self._column.addStretch(1)

    def _make_row(self, turn: Turn, step: SetDials, form: Form) -> _DialRow:
        dial = form.dial(turn.dial)
        assert dial is not None
        name = capital(dial_name(turn.dial, form))
        seams = {Seam(t.dial.rpartition(".")[2]) for t in step.turns}
        behind = Seam.BACK in seams and Seam.FRONT not in seams
        where = capital(seam_name(dial.seam, behind))
        why = ChoiceRow(say("why", dial=name), [(key, say(f"why_{key}")) for key in WHYS])
        number = DialNumberField(say("number_of", dial=name), form, dial)
        row = _DialRow(turn, why, number)
        why.chosen.connect(lambda key, row=row: self._on_why(row, key))
        number.number_changed.connect(lambda _number: self._tell())
        number.setEnabled(False)
        number.show_number(turn.number)
        is_large = theme.scale() > LARGE_TYPE
        way = QBoxLayout.Direction.TopToBottom if is_large else QBoxLayout.Direction.LeftToRight
        line = QBoxLayout(way)
        line.setSpacing(theme.STEP)
        line.addWidget(why)
        line.addWidget(number)
        line.addStretch(1)
        self._column.addWidget(plain_label(where, "label"))
        self._column.addLayout(line)
        return row

    def row(self, dial: str) -> tuple[ChoiceRow, DialNumberField]:
        """Return the choice and the number of a dial."""
        found = next(row for row in self._rows if row.turn.dial == dial)
        return found.why, found.number

    def first_widget(self) -> QWidget:
        """Return the first dial's choice."""
        return self._rows[0].why

    def commit_text(self) -> str:
        """Return what the button says that commits."""
        return say("exceptions_done")

    def _on_why(self, row: _DialRow, key: str) -> None:
        there = key == "there"
        row.number.setEnabled(not there)
        # A dial that turned part of the way stands somewhere between; one left alone has not moved.
        row.number.show_number(row.turn.number if there else row.turn.start)
        if not there:
            row.number.setFocus()
            row.number.line_edit.selectAll()
        self._tell()

    def _tell(self) -> None:
        numbers: dict[str, float] = {}
        for row in self._rows:
            number = row.turn.number if row.why.value() == "there" else row.number.in_range()
            if number is not None:
                numbers[row.turn.dial] = number
        self.typed.emit(numbers, None)

    def commit(self) -> None:
        """Take the set as done but for these dials."""
        odd = []
        for row in self._rows:
            why = row.why.value()
            if why == "there":
                continue
            if not row.number.commit():
                row.number.setFocus()
                return
            number = row.number.number()
            assert number is not None
            odd.append(DialException(dial=row.turn.dial, number=number, why=cast(Why, why)))
        self.answered.emit(Done(exceptions=tuple(odd)))

    def show_failure(self, error: FitError) -> None:
        """Say under the dial it is about why an answer was not taken."""
        for row in self._rows:
            if error.values.get("dial") == row.turn.dial:
                row.number.show_error(sentence(error, self.unit))
                return
        super().show_failure(error)
