# SPDX-License-Identifier: MIT
"""Two records of one person: what taking them together gives, before it is done."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QLineEdit, QTableView, QWidget

from fitassist.errors import FitError
from fitassist.gui.fields import button, plain_label
from fitassist.gui.people_model import PeopleModel
from fitassist.gui.people_panel import PeoplePanel
from fitassist.gui.people_ports import PeopleDesk, PersonRow
from fitassist.gui.people_table import dress_table
from fitassist.session.taking_in import Together
from fitassist.wording.people_words import fittings_text, readings_text, say


class TogetherPanel(PeoplePanel):
    """Chooses a second record, says what comes of it, and takes both together."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._desk = desk
        self._id = self._name = ""
        self.heading.setText(say("together.heading"))
        self._about = plain_label(role="quiet", wraps=True)
        self.search = QLineEdit()
        self.search.setPlaceholderText(say("search"))
        self.search.setAccessibleName(say("search"))
        self.search.setClearButtonEnabled(True)
        self._model = PeopleModel(self)
        self._model.show_which("all")
        self.search.textChanged.connect(self._on_search)
        self.list_view = QTableView()
        dress_table(self.list_view, self._model, say("together.choose"))
        self.list_view.selectionModel().currentChanged.connect(lambda *_: self._look())
        for widget in (self._about, self.search):
            self.column.addWidget(widget)
        self.column.addWidget(self.list_view, 1)
        self.make = button(say("together.make"), "primary")
        self.make.clicked.connect(self._make)
        self.end(self.make)

    def begin(self, person: PersonRow, people: Sequence[PersonRow]) -> None:
        """Ask for the second record of a person."""
        self._id, self._name = person.id, person.name
        self._about.setText(say("together.why", name=person.name))
        self._model.show_people([one for one in people if one.id != person.id and not one.problem])
        self.search.clear()
        self.list_view.setCurrentIndex(self._model.index(-1, -1))
        self._look()
        self.search.setFocus()

    def _on_search(self, text: str) -> None:
        self._model.search(text)
        if text.strip():
            self.list_view.setCurrentIndex(self._model.index(0, 0))
        self._look()

    def _other(self) -> PersonRow | None:
        index = self.list_view.currentIndex()
        return self._model.person(index.row()) if index.isValid() else None

    def _look(self) -> None:
        other = self._other()
        self.make.setEnabled(False)
        if other is None:
            self.say(say("together.nothing"))
            return
        try:
            made = self._desk.look_together(self._id, other.id)
        except FitError as error:
            self.fail(error)
            return
        self.say(together_text(made, self._name, other.name))
        self.make.setEnabled(True)

    def _make(self) -> None:
        other = self._other()
        if other is None:
            return
        try:
            self._desk.take_together(self._id, other.id)
        except FitError as error:
            self.fail(error)
            return
        self.left.emit(self._id)


def together_text(made: Together, name: str, other: str) -> str:
    """Say what comes of two records, a line each."""
    added = f"{readings_text(made.readings)}, {fittings_text(made.fittings)}"
    lines = [say("together.comes", what=added)]
    if made.same_readings:
        lines.append(say("together.same", what=readings_text(made.same_readings)))
    if made.joined:
        lines.append(say("together.bodies", names=", ".join(made.joined)))
    if made.added:
        lines.append(say("together.added", names=", ".join(made.added)))
    if name != other:
        lines.append(say("together.name", name=name, other=other))
    return "\n".join(lines)
