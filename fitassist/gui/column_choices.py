# SPDX-License-Identifier: MIT
"""The columns of a table, one below the other: head, an example, what it is, and in which unit."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QWidget

from fitassist.domain.measurements import Catalogue
from fitassist.domain.units import Unit
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.folds import clear_layout
from fitassist.session.column_guess import PERSON_COLUMNS, Column
from fitassist.wording.import_words import meaning_text, say
from fitassist.wording.language import plain


class ColumnChoices(QWidget):
    """What each column is taken for, to be put right.

    Signals
    -------
    changed
        The user has put something right.
    """

    changed = Signal()

    def __init__(self, catalogue: Catalogue, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._catalogue = catalogue
        keys = (one.key for one in catalogue.measurements)
        self._meanings = ("", *PERSON_COLUMNS, *keys)
        self._texts = [meaning_text(key, catalogue) for key in self._meanings]
        self._columns: list[Column] = []
        self._choosers: list[tuple[QComboBox, QComboBox]] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, theme.STEP, 0)
        self._grid.setHorizontalSpacing(theme.STEP * 2)
        self._grid.setVerticalSpacing(theme.HALF)
        self._grid.setColumnStretch(4, 1)

    def show_columns(
        self, heads: Sequence[str], examples: Sequence[str], columns: Sequence[Column]
    ) -> None:
        """Show the columns of a table as they were guessed."""
        clear_layout(self._grid)
        self._columns = list(columns)
        self._choosers = []
        for number, (head, example, column) in enumerate(
            zip(heads, examples, columns, strict=True)
        ):
            name = plain(head, 40) or say("column", n=number + 1)
            meaning, unit = self._meaning(number, name, column), self._unit(number, name, column)
            self._choosers.append((meaning, unit))
            text = say("example", text=plain(example, 24)) if example.strip() else ""
            for place, widget in enumerate(
                (plain_label(name), plain_label(text, "quiet"), meaning, unit)
            ):
                self._grid.addWidget(widget, number, place)

    def _meaning(self, number: int, name: str, column: Column) -> QComboBox:
        made = QComboBox()
        made.setAccessibleName(say("meaning_of", column=name))
        made.addItems(self._texts)
        made.setCurrentIndex(self._meanings.index(column.meaning))
        made.activated.connect(lambda index: self._on_meaning(number, self._meanings[index]))
        return made

    def _unit(self, number: int, name: str, column: Column) -> QComboBox:
        made = QComboBox()
        made.setAccessibleName(say("unit_of", column=name))
        made.addItems([unit.value for unit in Unit])
        made.setCurrentText((column.unit or Unit.CM).value)
        if column.unit is None:
            made.hide()  # never shown before it has its place, or it would be a window of its own
        made.activated.connect(lambda index: self._on_unit(number, list(Unit)[index]))
        return made

    def columns(self) -> tuple[Column, ...]:
        """Return what the columns are taken for."""
        return tuple(self._columns)

    def chooser(self, number: int) -> QComboBox:
        """Return what chooses the meaning of a column, counted from 0."""
        return self._choosers[number][0]

    def _on_meaning(self, number: int, meaning: str) -> None:
        for other, column in enumerate(self._columns):
            if meaning and column.meaning == meaning and other != number:
                self._set(other, Column())  # a meaning is given once
        chooser = self._choosers[number][1]
        is_length = self._catalogue.get(meaning) is not None
        self._set(number, Column(meaning, Unit(chooser.currentText()) if is_length else None))
        self.changed.emit()

    def _on_unit(self, number: int, unit: Unit) -> None:
        self._set(number, self._columns[number]._replace(unit=unit))
        self.changed.emit()

    def _set(self, number: int, column: Column) -> None:
        self._columns[number] = column
        meaning, unit = self._choosers[number]
        meaning.setCurrentIndex(self._meanings.index(column.meaning))
        unit.setVisible(column.unit is not None)
