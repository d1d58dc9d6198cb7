# SPDX-License-Identifier: MIT
"""One form on offer for those who are ticked: a picture, and the same line by line in words."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from fitassist.choosing.judging import Judged
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.folds import clear_layout, show_all
from fitassist.gui.people_panel import PlainTable
from fitassist.gui.ranges_picture import RangesPicture
from fitassist.wording.lengths import kept_together
from fitassist.wording.offer_words import reason_of, remarks, rows_of, say

LEAST_WIDTH = 460
MOST_TABLES = 6  # bodies told line by line; beyond them the picture speaks


class OfferResult(QWidget):
    """What one form could do."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._judged: Judged | None = None
        self._name = plain_label(role="title", wraps=True)
        self._reason = plain_label(wraps=True)
        self._remarks = plain_label(role="quiet", wraps=True)
        self.picture = RangesPicture()
        self._tables = QVBoxLayout()
        self._tables.setSpacing(theme.STEP)
        self.setMinimumWidth(LEAST_WIDTH)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, theme.STEP, 0)
        column.setSpacing(theme.STEP)
        for widget in (self._name, self._reason, self._remarks, self.picture):
            column.addWidget(widget)
        column.addLayout(self._tables)
        column.addStretch(1)

    @property
    def judged(self) -> Judged | None:
        """The form that is shown."""
        return self._judged

    def tables(self) -> tuple[PlainTable, ...]:
        """Return the tables of the bodies, in their order."""
        items = (self._tables.itemAt(i) for i in range(self._tables.count()))
        found = (item.widget() for item in items if item is not None)
        return tuple(one for one in found if isinstance(one, PlainTable))

    def show_judged(self, one: Judged | None, unit: AnyUnit) -> None:
        """Show a form, or nothing."""
        self._judged = one
        self.picture.show_judged(one, unit)
        bodies = one.bodies if one is not None else ()
        self._name.setText(one.candidate.name if one is not None else "")
        reason = reason_of(one, unit) if one is not None and bodies else ""
        self._reason.setText(kept_together(reason))
        said = remarks(one) if one is not None else ()
        self._remarks.setText("\n".join(said))
        self._remarks.setVisible(bool(said))
        spoken = []
        clear_layout(self._tables)
        for body in bodies[:MOST_TABLES]:
            rows = rows_of(body, unit)
            spoken += [f"{body.body}, {line}: {outcome}." for line, _form, _body, outcome in rows]
            self._tables.addWidget(plain_label(body.body, "label"))
            heads = tuple(say(f"column.{key}") for key in ("line", "range", "body", "outcome"))
            table = PlainTable(body.body, heads, stretch=3)
            table.show_rows(rows)
            self._tables.addWidget(table)
        show_all(self._tables)
        for table in self.tables():
            rows_high = sum(table.rowHeight(y) for y in range(table.rowCount()))
            table.setFixedHeight(rows_high + table.horizontalHeader().height() + theme.STEP)
        self.picture.setAccessibleDescription(" ".join(spoken))
