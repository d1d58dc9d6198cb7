# SPDX-License-Identifier: MIT
"""Which sheet, on which paper, in which unit, and what else a sheet is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, plain_label
from fitassist.gui.folds import scrolling
from fitassist.gui.sheet_questions import Asked, CoverQuestions, HemQuestions
from fitassist.report.paper import PAPERS
from fitassist.report.sheets import BLIND, SHEETS, SheetKey, Wanted
from fitassist.wording.sheet_words import words

if TYPE_CHECKING:
    from fitassist.report.facts import Facts

PAPER_OF: Final = {"in": "Letter", "cm": "A4"}
WIDE = 300  # least room for the list


class SheetChoices(QWidget):
    """The list of sheets and the choices under it.

    Signals
    -------
    changed
        True where another sheet was chosen, False where only a choice for it was.
    paper_chosen
        The name of the paper the user took.
    """

    changed = Signal(bool)
    paper_chosen = Signal(str)

    def __init__(self, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._own_paper = ""  # what the user took; it is kept to whatever the unit
        self.setMinimumWidth(WIDE)
        self.list = QListWidget()
        self.list.setAccessibleName(words("sheets_list"))
        self.list.setUniformItemSizes(True)
        for key in SHEETS:
            item = QListWidgetItem(words(f"sheet_{key}"))
            item.setData(Qt.ItemDataRole.UserRole, key)
            item.setData(Qt.ItemDataRole.AccessibleDescriptionRole, words(f"sheet_{key}_why"))
            item.setToolTip(words(f"sheet_{key}_why"))
            self.list.addItem(item)
        self._why = plain_label(role="quiet", wraps=True)
        choices = [(name, words(f"sheets_paper_{name}")) for name in PAPERS]
        self.paper = ChoiceRow(words("sheets_paper"), choices)
        self.units = ChoiceRow(words("sheets_units"), [(u, u) for u in ("in", "cm")])
        self.blind = QCheckBox(words("sheets_blind"))
        self.cover = CoverQuestions(unit)
        self.hem = HemQuestions(unit)
        self._build()
        self.units.set_value(unit)
        self.paper.set_value(PAPER_OF.get(unit, "A4"))
        self.list.setCurrentRow(0)
        self._show_asked()
        self.list.currentRowChanged.connect(lambda _row: self._on_row())
        self.paper.chosen.connect(self._on_paper)
        for row in (self.paper, self.units):
            row.chosen.connect(lambda _key: self.changed.emit(False))
        self.blind.toggled.connect(lambda _on: self.changed.emit(False))
        for asked in (self.cover, self.hem):
            asked.changed.connect(lambda: self.changed.emit(False))

    def _build(self) -> None:
        below = QWidget()
        inside = QVBoxLayout(below)
        inside.setContentsMargins(0, 0, theme.STEP, 0)
        inside.setSpacing(theme.STEP)
        inside.addWidget(self._why)
        asked = Asked()
        asked.add(words("sheets_paper"), self.paper)
        asked.add(words("sheets_units"), self.units)
        inside.addWidget(asked)
        inside.addWidget(self.blind)
        inside.addWidget(self.cover)
        inside.addWidget(self.hem)
        inside.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP * 2)
        self.list.setMaximumHeight(self._list_height())
        column.addWidget(self.list, 1)
        column.addWidget(scrolling(below), 1)

    @property
    def key(self) -> SheetKey:
        """The sheet that is chosen."""
        return SHEETS[max(self.list.currentRow(), 0)]

    @property
    def unit(self) -> str:
        """The unit sheets are written in."""
        return self.units.value()

    def choose(self, key: SheetKey) -> None:
        """Choose a sheet, as the user does."""
        self.list.setCurrentRow(SHEETS.index(key))

    def set_unit(self, unit: str) -> None:
        """Write in another unit, on the paper that goes with it unless another was taken."""
        self.units.set_value(unit)
        self.paper.set_value(self._own_paper or PAPER_OF.get(unit, "A4"))
        self.cover.set_unit(unit)
        self.hem.set_unit(unit)

    def keep_to_paper(self, name: str) -> None:
        """Take a paper the user took before; one there is no more is passed over."""
        if name in PAPERS:
            self._own_paper = name
            self.paper.set_value(name)

    def _on_paper(self, name: str) -> None:
        self._own_paper = name
        self.paper_chosen.emit(name)

    def wanted(self) -> Wanted:
        """Return the sheet as it is wanted."""
        key = self.key
        return Wanted(
            key=key,
            paper=PAPERS[self.paper.value()],
            unit="in" if self.unit == "in" else "cm",
            is_blind=key in BLIND and self.blind.isChecked(),
            cover=self.cover.wanted() if key == "cover" else None,
            hem=self.hem.wanted() if key == "hem" else None,
        )

    def show_facts(self, facts: Facts) -> None:
        """Fill in what the record knows, without telling that anything changed."""
        self.blockSignals(True)
        self.hem.show_facts(facts)
        self.blockSignals(False)

    def forget_body(self) -> None:
        """Forget what was typed for another body."""
        self.blockSignals(True)
        self.hem.clear()
        self.blockSignals(False)

    def sizeHint(self) -> QSize:
        """Return room for the longest name of a sheet."""
        return QSize(theme.wide(380), 560)

    def _list_height(self) -> int:
        """Return how high the list is with every sheet in it."""
        return self.list.sizeHintForRow(0) * self.list.count() + 2 * self.list.frameWidth() + 2

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger type."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self.list.setMaximumHeight(self._list_height())

    def _on_row(self) -> None:
        self._show_asked()
        self.changed.emit(True)

    def _show_asked(self) -> None:
        key = self.key
        self._why.setText(words(f"sheet_{key}_why"))
        self.blind.setVisible(key in BLIND)
        self.cover.setVisible(key == "cover")
        self.hem.setVisible(key == "hem")
