# SPDX-License-Identifier: MIT
"""How a table of people looks and is walked: whole rows, heads that sort, Tab that leaves it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from fitassist.gui import theme
from fitassist.gui.people_model import COLUMNS, PeopleModel

_CHARACTERS = {"tags": 15, "measured": 16, "fitted": 16, "fitting": 11}

_BY_WORTH = ("fitting", "measured", "fitted", "tags")  # our own choice
_NAME_CHARACTERS = 16


def dress_table(table: QTableView, model: PeopleModel, name: str) -> None:
    """Show a model of people in a table."""
    table.setModel(model)
    table.setAccessibleName(name)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setTabKeyNavigation(False)
    table.setShowGrid(False)
    table.setWordWrap(False)
    table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    rows = table.verticalHeader()
    rows.hide()
    # A height of its own for each row would ask every one of thousands.
    rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
    header = table.horizontalHeader()
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header.setHighlightSections(False)
    header.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
    table.setSortingEnabled(True)
    fit_columns(table)


def fit_columns(table: QTableView) -> None:
    """Give rows and columns room for the type in use; what has none beside the name is hidden."""
    rows = table.verticalHeader()
    rows.setDefaultSectionSize(max(theme.TARGET, table.fontMetrics().height() + 2 * theme.STEP))
    header = table.horizontalHeader()
    free = table.width() - theme.characters(_NAME_CHARACTERS)
    for column in _BY_WORTH:
        free -= theme.characters(_CHARACTERS[column])
        table.setColumnHidden(COLUMNS.index(column), free < 0)
    for number, column in enumerate(COLUMNS):
        if column == "name":
            header.setSectionResizeMode(number, QHeaderView.ResizeMode.Stretch)
        else:
            header.setSectionResizeMode(number, QHeaderView.ResizeMode.Interactive)
            header.resizeSection(number, theme.characters(_CHARACTERS[column]))
    header.setMinimumSectionSize(theme.characters(12))
