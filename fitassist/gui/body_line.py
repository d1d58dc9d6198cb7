# SPDX-License-Identifier: MIT
"""Above the measurements: which body is measured, how much of it, and how the tape is held."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Signal
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.session.person import BodyState
from fitassist.wording.body_words import depth_note, depths, hows
from fitassist.wording.pages import say


class BodyLine(QWidget):
    """Choices that hold for all fields below.

    Signals
    -------
    body_chosen, depth_chosen
        The id of the body, the depth.
    another_asked, change_asked
        The user wants to describe another body, or this one anew.
    """

    body_chosen = Signal(str)
    depth_chosen = Signal(str)
    another_asked = Signal()
    change_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.body_row: ChoiceRow | None = None
        self._under = plain_label(role="quiet")
        self.change_button = button(say("measure.change_body"), "link")
        self.change_button.clicked.connect(self.change_asked)
        self.another_button = button(say("measure.another_body"), "link")
        self.another_button.clicked.connect(self.another_asked)
        self.depth_row = ChoiceRow(say("measure.depth"), depths())
        self.depth_row.chosen.connect(self.depth_chosen)
        self.how_row = ChoiceRow(say("measure.how"), hows())
        self._depth_note = plain_label(role="note", wraps=True)
        self._bodies = QHBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        self._across = (self._body_layout(), self._choice_layout())
        for box in self._across:
            column.addLayout(box)
        column.addWidget(self._depth_note)
        self._turn()

    def changeEvent(self, event: QEvent) -> None:
        """Stand side by side, or one below the other where the type is large."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._turn()

    def _turn(self) -> None:
        down, across = QBoxLayout.Direction.TopToBottom, QBoxLayout.Direction.LeftToRight
        for box in getattr(self, "_across", ()):
            box.setDirection(down if theme.is_large() else across)

    def _body_layout(self) -> QBoxLayout:
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(theme.STEP)
        self._bodies.addWidget(self.another_button)
        self._bodies.addStretch(1)
        worn = QHBoxLayout()
        worn.addWidget(self._under)
        worn.addWidget(self.change_button)
        worn.addStretch(1)
        row.addLayout(self._bodies)
        row.addLayout(worn, 1)
        return row

    def _choice_layout(self) -> QBoxLayout:
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(theme.MARGIN)
        for key, widget in (("measure.depth", self.depth_row), ("measure.how", self.how_row)):
            column = QVBoxLayout()
            column.setSpacing(theme.HALF)
            column.addWidget(plain_label(say(key), "label"))
            column.addWidget(widget)
            row.addLayout(column)
        row.addStretch(1)
        return row

    def show_bodies(
        self, bodies: Sequence[BodyState], shown: BodyState, count: int, can_change: bool
    ) -> None:
        """Show the bodies of a person, one of them chosen, and how many measurements it asks."""
        if self.body_row is not None:
            self._bodies.removeWidget(self.body_row)
            self.body_row.hide()
            self.body_row.deleteLater()
        choices = [(one.body_id, one.name) for one in bodies]
        self.body_row = ChoiceRow(say("measure.bodies"), choices)
        self.body_row.set_value(shown.body_id)
        self.body_row.chosen.connect(self.body_chosen)
        self._bodies.insertWidget(0, self.body_row)
        under = shown.undergarment
        self._under.setText(
            say("measure.under", undergarment=under) if under else say("measure.under_none")
        )
        self.depth_row.set_value(shown.depth)
        self._depth_note.setText(depth_note(shown.depth, count))
        for widget in (self.another_button, self.change_button, self.depth_row):
            widget.setEnabled(can_change)
