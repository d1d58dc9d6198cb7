# SPDX-License-Identifier: MIT
"""People taken out to a file: whom, as what, with or without names."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from PySide6.QtWidgets import QCheckBox, QFileDialog, QWidget

from fitassist.errors import FitError
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.people_panel import PeoplePanel
from fitassist.gui.people_ports import FileKind, PeopleDesk, PersonRow, Work
from fitassist.gui.slices import Slices
from fitassist.wording.people_words import people_text, say


class OutPanel(PeoplePanel):
    """Writes one person or all to a table or to JSON."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._desk = desk
        self._one: PersonRow | None = None
        self._all: tuple[PersonRow, ...] = ()
        self._ids: tuple[str, ...] = ()
        self._path = ""
        self._work: Work | None = None
        self._slices = Slices(self._go_on, self)
        self.heading.setText(say("out.heading"))
        self.whom = ChoiceRow(say("out.whom"), [("all", say("out.all"))])
        self.kind = ChoiceRow(say("out.kind"), [("csv", say("out.csv")), ("json", say("out.json"))])
        self.kind.chosen.connect(lambda _key: self._on_kind())
        self._kind_why = plain_label(role="quiet", wraps=True)
        self.names = QCheckBox(say("out.names"))
        self.names.setChecked(True)
        self._whom_label = plain_label(say("out.whom"), "label")
        self.column.addWidget(self._whom_label)
        self.column.addWidget(self.whom)
        self.column.addWidget(plain_label(say("out.kind"), "label"))
        self.column.addWidget(self.kind)
        self.column.addWidget(self._kind_why)
        self.column.addWidget(self.names)
        self.make = button(say("out.make"), "primary")
        self.make.clicked.connect(self._choose)
        self.stop_button = button(say("out.stop"))
        self.stop_button.clicked.connect(self.stop)
        self.end(self.make, self.stop_button)
        self.column.addStretch(1)

    def begin(self, one: PersonRow | None, everybody: Sequence[PersonRow]) -> None:
        """Ask how to take out one person, or all."""
        self._one = one
        self._all = tuple(person for person in everybody if person.problem is None)
        choices = [("all", say("out.all"))]
        if one is not None:
            choices.insert(0, ("one", say("out.one", name=one.name)))
        place = self.column.indexOf(self.whom)
        self.column.removeWidget(self.whom)
        self.whom.hide()
        self.whom.deleteLater()
        self.whom = ChoiceRow(say("out.whom"), choices)
        self.column.insertWidget(place, self.whom)
        self.say("")
        self._on_kind()
        self._show_going(False)
        self.kind.setFocus()

    def _on_kind(self) -> None:
        self._kind_why.setText(say(f"out.{self.kind.value()}_why"))

    def _show_going(self, is_going: bool) -> None:
        had_focus = self.make.hasFocus() or self.stop_button.hasFocus()
        self.stop_button.setVisible(is_going)
        if had_focus:  # keys go on being heard here
            (self.stop_button if is_going else self.back).setFocus()
        self.make.setEnabled(not is_going)

    def _choose(self) -> None:
        kind = self.kind.value()
        path, _filter = QFileDialog.getSaveFileName(
            self, say("out.heading"), f"people.{kind}", f"*.{kind}"
        )
        if path:
            self.write(path if PurePath(path).suffix else f"{path}.{kind}")

    def write(self, path: str) -> None:
        """Write to a file; a file of that name is replaced at the end."""
        is_one = self.whom.value() == "one" and self._one is not None
        chosen = (self._one,) if is_one and self._one else self._all
        self._ids = tuple(person.id for person in chosen)
        kind: FileKind = "json" if self.kind.value() == "json" else "csv"
        self._path = path
        try:
            self._work = self._desk.take_out(self._ids, path, kind, self.names.isChecked())
        except FitError as error:
            self.fail(error)
            return
        self._show_going(True)
        self._slices.begin()

    def stop(self) -> None:
        """Write nothing after all."""
        if self._slices.is_going():
            self._slices.stop()
            self._show_going(False)
            self.say(say("out.stopped"))

    def leave(self) -> None:
        """Go back to the list; what is not yet written is not."""
        self.stop()
        super().leave()

    def _go_on(self, seconds: float) -> bool:
        work = self._work
        assert work is not None
        try:
            has_ended = work.go_on(seconds)
        except FitError as error:
            self._show_going(False)
            self.fail(error)
            return True
        if not has_ended:
            self.say(say("out.progress", done=work.done, all=len(self._ids)))
            return False
        self._show_going(False)
        n = people_text(len(self._ids) - len(work.failed))
        lines = [say("out.done", n=n, file=PurePath(self._path).name)]
        names = {one.id: one.name for one in self._all}
        lines += [say("out.failed", name=names.get(key, key)) for key, _ in work.failed[:5]]
        self.say("\n".join(lines))
        return True
