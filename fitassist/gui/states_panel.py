# SPDX-License-Identifier: MIT
"""Earlier states of a person's record, and versions in conflict side by side with the present."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from fitassist.errors import FitError
from fitassist.gui.fields import button
from fitassist.gui.people_panel import PeoplePanel, PlainTable
from fitassist.gui.people_ports import PeopleDesk, Settle
from fitassist.session.record_facts import StateFacts
from fitassist.wording.lengths import say_length
from fitassist.wording.people_words import day_text, holds_text, moment_text, say
from fitassist.wording.sentences import sentence


def facts_texts(facts: StateFacts) -> tuple[str, str]:
    """Return when a state was last changed, and what it holds or why it cannot be read."""
    if facts.problem is not None:
        return day_text(facts.kept_on), sentence(facts.problem)
    holds = holds_text(facts.n_bodies, facts.n_readings, facts.n_fittings)
    return moment_text(facts.changed_at), holds


class StatesPanel(PeoplePanel):
    """The backups of one person; the present state can be exchanged for one of them."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(say("states.why"), parent)
        self._desk = desk
        self._id = self._name = ""
        self._states: tuple[StateFacts, ...] = ()
        heads = (say("states.changed"), say("states.holds"), say("states.kept"))
        self.table = PlainTable(say("states.list"), heads, stretch=1)
        self.table.currentCellChanged.connect(lambda *_: self._on_current())
        self.column.addWidget(self.table, 1)
        self.restore = button(say("states.restore"), "primary")
        self.restore.clicked.connect(self._restore)
        self.end(self.restore)

    def begin(self, person_id: str, name: str) -> None:
        """Show the earlier states of a person."""
        self._id, self._name = person_id, name
        self.heading.setText(say("states.heading", name=name))
        self.say("")
        self._fill()
        self.table.setFocus()

    def _fill(self) -> None:
        try:
            self._states = self._desk.states(self._id)
        except FitError as error:
            self._states = ()
            self.fail(error)
        self.table.show_rows([(*facts_texts(one), day_text(one.kept_on)) for one in self._states])
        if not self._states and not self.said():
            self.say(say("states.none"))
        self._on_current()

    def _on_current(self) -> None:
        row = self.table.currentRow()
        is_sound = 0 <= row < len(self._states) and self._states[row].problem is None
        self.restore.setEnabled(is_sound)

    def _restore(self) -> None:
        state = self._states[self.table.currentRow()]
        try:
            self._desk.restore(self._id, state.key)
        except FitError as error:
            self.fail(error)
            return
        self._fill()
        self.say(say("states.restored", name=self._name, day=moment_text(state.changed_at)))


class CopiesPanel(PeoplePanel):
    """The present record and a version in conflict, column by column."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(say("copies.why"), parent)
        self._desk = desk
        self._id = ""
        self._here: StateFacts | None = None
        self._copies: tuple[StateFacts, ...] = ()
        heads = (say("copies.file"), say("states.changed"), say("states.holds"))
        self.files = PlainTable(say("copies.list"), heads, stretch=0)
        self.files.setMaximumHeight(160)
        self.files.currentCellChanged.connect(lambda *_: self._on_current())
        sides = (say("copies.column.line"), say("copies.here"), say("copies.other"))
        self.table = PlainTable(say("copies.differ"), sides)
        self.column.addWidget(self.files)
        self.column.addWidget(self.table, 1)
        self.ways: dict[Settle, QWidget] = {}
        for how in ("both", "keep", "use"):
            way = button(say(f"copies.{how}"), "primary" if how == "both" else "")
            way.clicked.connect(lambda _on=False, how=how: self._settle(how))
            self.ways[how] = way
        self.end(*self.ways.values())

    def begin(self, person_id: str, name: str) -> None:
        """Show the versions beside a record."""
        self._id = person_id
        self.heading.setText(say("copies.heading", name=name))
        self.say("")
        self._fill()
        self.files.setFocus()

    def _fill(self) -> None:
        try:
            self._here, *copies = self._desk.copies(self._id)
        except FitError as error:
            copies = []
            self.fail(error)
        self._copies = tuple(copies)
        self.files.show_rows([(one.key, *facts_texts(one)) for one in self._copies])
        self._on_current()

    def _current(self) -> StateFacts | None:
        row = self.files.currentRow()
        return self._copies[row] if 0 <= row < len(self._copies) else None

    def _on_current(self) -> None:
        copy = self._current()
        for way in self.ways.values():
            way.setEnabled(copy is not None and copy.problem is None)
        self.table.show_rows(self._sides(copy) if copy and not copy.problem else [])
        if copy is not None:
            told = "copies.fitting" if copy.fits_too else ""
            told = "copies.same" if copy.says_nothing_new else told
            self.say(say(told) if told else "")

    def _sides(self, copy: StateFacts) -> list[tuple[str, str, str]]:
        here = self._here
        assert here is not None
        rows = [(say("states.changed"), moment_text(here.changed_at), moment_text(copy.changed_at))]
        rows.append((say("states.holds"), facts_texts(here)[1], facts_texts(copy)[1]))
        if here.name != copy.name:
            rows.append((say("column.name"), here.name, copy.name))
        for one in copy.rows:
            reading = say("copies.reading", measurement=one.measurement.label, body=one.body)
            rows.append((reading, self._length(one.here_mm), self._length(one.there_mm)))
        return rows

    def _length(self, mm: float | None) -> str:
        return say("none_here") if mm is None else say_length(mm, self._desk.unit)

    def _settle(self, how: Settle) -> None:
        copy = self._current()
        if copy is None:
            return
        try:
            self._desk.settle(self._id, copy.key, how)
        except FitError as error:
            self.fail(error)
            return
        self._fill()
        if not self._copies:
            self.left.emit(self._id)
        self.say(say("copies.settled"))
