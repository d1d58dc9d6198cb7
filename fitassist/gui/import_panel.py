# SPDX-License-Identifier: MIT
"""A table of people: its columns, what would come of its rows, and only then bringing them in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import get_args

from PySide6.QtWidgets import QCheckBox, QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from fitassist.domain.body import Kind
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.column_choices import ColumnChoices
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.gui.people_panel import PeoplePanel, PlainTable
from fitassist.gui.people_ports import BackWork, ImportWork, PeopleDesk, PersonRow
from fitassist.gui.slices import Slices
from fitassist.session.column_guess import Column, guess_columns, looks_like_heads
from fitassist.session.people_import import (
    KnownName,
    Options,
    PlannedPerson,
    Preview,
    TableReader,
)
from fitassist.session.people_table import ENCODINGS, SEPARATORS, Table, read_table
from fitassist.wording.body_words import kinds
from fitassist.wording.import_words import HEAD_WORDS, problem_text, say, summary_text
from fitassist.wording.lengths import say_length
from fitassist.wording.pages import say as page_say
from fitassist.wording.people_words import day_text, held_text, people_text

SAMPLE_PEOPLE = 50
SAMPLE_PROBLEMS = 300
SAMPLE_FAILED = 8
_SAMPLE_READINGS = 6
_KNOWN: dict[str, KnownName] = {"leave": "leave", "add": "add", "new": "new"}


class ImportPanel(PeoplePanel):
    """Nothing is kept before the last button is pressed."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(say("why"), parent)
        self._desk = desk
        self._known: tuple[tuple[str, str], ...] = ()
        self._data = b""
        self._table: Table | None = None
        self._reader: TableReader | None = None
        self._work: ImportWork | None = None
        self._looking = Slices(self._look_on, self)
        self._keeping = Slices(self._keep_on, self)
        self._taking = Slices(self._take_on, self)
        self._back_work: BackWork | None = None
        self.heading.setText(say("heading"))
        self.choose = button(say("choose"))
        self.choose.clicked.connect(self._choose)
        self.confirm = button(say("nobody"), "primary")
        self.confirm.clicked.connect(self._confirm)
        self.stop_button = button(say("stop"))
        self.stop_button.clicked.connect(self.stop)
        self.take_back = button(say("take_back"))
        self.take_back.clicked.connect(self._take_back)
        self.take_back.hide()
        row = QHBoxLayout()
        row.addWidget(self.choose)
        row.addStretch(1)
        self.column.addLayout(row)
        self._content = self._build_content()
        self._area = scrolling(self._content)
        self.column.addWidget(self._area, 1)
        self.end(self.confirm, self.stop_button, self.take_back)

    # -- building -----------------------------------------------------------------------------

    def _build_content(self) -> QWidget:
        content = QWidget()
        box = QVBoxLayout(content)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.STEP)
        self.letters = ChoiceRow(say("letters"), [(e, say(f"letters.{e}")) for e in ENCODINGS])
        self.letters.chosen.connect(lambda key: self._read(encoding=key))
        self.separator = ChoiceRow(
            say("separator"), [(s, say(f"separator.{s}")) for s in SEPARATORS]
        )
        self.separator.chosen.connect(lambda key: self._read(separator=key))
        self.heads = QCheckBox(say("heads"))
        self.heads.clicked.connect(lambda: self._guess())
        self.columns = ColumnChoices(self._desk.catalogue)
        self.columns.changed.connect(self._look)
        self.same = self._choice("same", ("one", "each"))
        self.known = self._choice("known", ("leave", "add", "new"))
        self.day_order = self._choice("day_order", ("day", "month"))
        self.kind = ChoiceRow(say("kind"), kinds())
        box.addLayout(_across({"letters": self.letters, "separator": self.separator}))
        box.addWidget(self.heads)
        box.addWidget(plain_label(say("columns"), "label"))
        box.addWidget(self.columns)
        box.addLayout(_across({"same": self.same, "known": self.known}))
        box.addLayout(_across({"day_order": self.day_order, "kind": self.kind}))
        box.addWidget(plain_label(say("sample"), "label"))
        heads = (say("sample.person"), say("body"), say("date"), say("sample.readings"))
        self.sample = PlainTable(say("sample"), heads, stretch=3)
        self.sample.setMinimumHeight(220)
        box.addWidget(self.sample)
        box.addWidget(plain_label(say("problems"), "label"))
        self.problems = PlainTable(say("problems"), (say("problems"),))
        self.problems.horizontalHeader().hide()
        self.problems.setMinimumHeight(160)
        box.addWidget(self.problems)
        return content

    def _choice(self, key: str, choices: Sequence[str]) -> ChoiceRow:
        made = ChoiceRow(say(key), [(one, say(f"{key}.{one}")) for one in choices])
        made.chosen.connect(lambda _key: self._look())
        return made

    # -- the file -----------------------------------------------------------------------------

    def begin(self, everybody: Sequence[PersonRow]) -> None:
        """Ask for a file; names of those kept already are looked for in it."""
        self._known = tuple((one.id, one.name) for one in everybody if one.problem is None)
        self._table = self._reader = self._work = None
        self._area.hide()
        self.confirm.hide()
        self.stop_button.hide()
        self.take_back.hide()
        self.say("")
        self.choose.setFocus()

    def _choose(self) -> None:
        path, _filter = QFileDialog.getOpenFileName(self, say("heading"), "", say("file_kinds"))
        if path:
            self.open_file(path)

    def open_file(self, path: str) -> None:
        """Look at a file."""
        try:
            self._data = self._desk.read_table_file(path)
        except FitError as error:
            self.fail(error)
            return
        self._read()

    def _read(self, encoding: str = "", separator: str = "") -> None:
        if self._table is not None and (encoding or separator):
            encoding = encoding or self._table.encoding
            separator = separator or self._table.separator
        try:
            self._table = read_table(self._data, encoding, separator)
        except FitError as error:
            self.stop()
            self.fail(error)
            return
        self.letters.set_value(self._table.encoding)
        self.separator.set_value(self._table.separator)
        has_heads = looks_like_heads(self._table.rows[0], self._desk.catalogue, HEAD_WORDS)
        self.heads.setChecked(has_heads)
        self._area.show()
        self._guess()

    def _guess(self) -> None:
        table = self._table
        if table is None:
            return
        first, rest = table.rows[0], table.rows[1:]
        rows = rest if self.heads.isChecked() else table.rows
        heads = [*first, *[""] * (table.width - len(first))]
        columns: Sequence[Column] = [Column()] * table.width
        if self.heads.isChecked():
            columns = guess_columns(
                heads, rows[:500], self._desk.catalogue, HEAD_WORDS, self._desk.unit
            )
        else:
            heads = [""] * table.width
        examples = [
            next((r[i] for r in rows[:200] if i < len(r) and r[i].strip()), "")
            for i in range(table.width)
        ]
        self.columns.show_columns(heads, examples, columns)
        self._look()

    # -- looking ------------------------------------------------------------------------------

    def options(self) -> Options:
        """Return what the user has decided about the table."""
        return Options(
            same_name="each" if self.same.value() == "each" else "one",
            known_name=_KNOWN[self.known.value()],
            kind=next(kind for kind in get_args(Kind) if kind == self.kind.value()),
            day_first=self.day_order.value() == "day",
            body_name=page_say("body.everyday"),
            has_heads=self.heads.isChecked(),
        )

    def _look(self) -> None:
        """Look at all rows anew."""
        table = self._table
        self._looking.stop()
        self.confirm.hide()
        if table is None:
            return
        try:
            columns = self.columns.columns()
            self._reader = TableReader(
                table.rows, columns, self._desk.catalogue, self._known, self.options()
            )
        except FitError as error:
            self._reader = None
            self._show(Preview())
            self.fail(error)
            return
        self._looking.begin()

    def _look_on(self, seconds: float) -> bool:
        reader, table = self._reader, self._table
        assert reader is not None
        assert table is not None
        if not reader.read_on(seconds):
            self.say(say("looking", done=reader.done, all=len(table.rows)))
            return False
        found = reader.preview
        self._show(found)
        self.say(
            summary_text(
                found.n_rows,
                len(found.people),
                found.n_readings,
                found.n_added_to,
                found.n_problems,
            )
        )
        text = say("nobody")
        if found.people:
            text = say("confirm", people=people_text(len(found.people)))
        self.confirm.setText(text)
        self.confirm.setAccessibleName(text)
        self.confirm.setEnabled(bool(found.people))
        self.confirm.show()
        return True

    def _show(self, found: Preview) -> None:
        rows = [row for person in found.people[:SAMPLE_PEOPLE] for row in self._sample(person)]
        self.sample.show_rows(rows)
        unit = self._desk.unit
        texts = [[problem_text(*one, unit)] for one in found.problems[:SAMPLE_PROBLEMS]]
        more = found.n_problems - len(texts)
        if more > 0:
            texts.append([say("more_problems", n=more)])
        self.problems.show_rows(texts or [[say("no_problems")]])

    def _sample(self, person: PlannedPerson) -> list[tuple[str, str, str, str]]:
        rows = []
        for body, readings in person.bodies.items():
            said = [
                f"{self._label(one.measurement)} {say_length(one.length.mm, self._desk.unit)}"
                for one in readings[:_SAMPLE_READINGS]
            ]
            more = " …" if len(readings) > _SAMPLE_READINGS else ""
            day = day_text(readings[-1].day) if readings and readings[-1].day else ""
            rows.append((person.name, body, day, ", ".join(said) + more))
        return rows or [(person.name, "", "", "")]

    def _label(self, key: str) -> str:
        found = self._desk.catalogue.get(key)
        return found.label if found is not None else key

    # -- keeping ------------------------------------------------------------------------------

    def _confirm(self) -> None:
        if self._reader is None or self._looking.is_going() or self._keeping.is_going():
            return
        self._work = self._desk.bring_in(self._reader.preview.people, self.options())
        self._area.hide()
        self.confirm.hide()
        self.choose.setEnabled(False)
        self.stop_button.show()
        self.stop_button.setFocus()
        self._keeping.begin()

    def _keep_on(self, seconds: float) -> bool:
        work, reader = self._work, self._reader
        assert work is not None
        assert reader is not None
        if not work.go_on(seconds):
            self.say(say("keeping", done=work.done, all=len(reader.preview.people)))
            return False
        self._end_keeping(say("done", people=people_text(len(work.kept))))
        if work.stopped_by is not None:
            self.fail(work.stopped_by)
        return True

    def _end_keeping(self, text: str) -> None:
        work = self._work
        self.choose.setEnabled(True)
        self.stop_button.hide()
        failed = work.failed[:SAMPLE_FAILED] if work is not None else []
        lines = [text, *(say("failed", name=name, why=held_text(why)) for name, why in failed)]
        self.say("\n".join(lines))
        self._table = self._reader = None
        self.take_back.setVisible(work is not None and bool(work.kept))
        self.back.setFocus()

    def _take_back(self) -> None:
        if self._work is None or self._taking.is_going():
            return
        self._back_work = self._desk.take_back(self._work)
        self.take_back.hide()
        self._taking.begin()

    def _take_on(self, seconds: float) -> bool:
        work = self._back_work
        assert work is not None
        if not work.go_on(seconds):
            self.say(say("taking_back", done=work.done))
            return False
        lines = [say("taken_back", people=people_text(work.done))]
        if work.kept:
            lines.append(say("stayed", people=people_text(len(work.kept))))
        self.say("\n".join(lines))
        self._work = None
        return True

    def stop(self) -> None:
        """Go no further; who has been kept stays."""
        self._looking.stop()
        self._taking.stop()
        if self._keeping.is_going():
            self._keeping.stop()
            n = len(self._work.kept) if self._work is not None else 0
            self._end_keeping(say("stopped", people=people_text(n)))

    def leave(self) -> None:
        """Go back to the list."""
        self.stop()
        kept = self._work.kept if self._work is not None else []
        self.left.emit(kept[0] if kept else "")


def _across(choices: Mapping[str, ChoiceRow]) -> QHBoxLayout:
    """Return choices side by side, each under what it is about."""
    row = QHBoxLayout()
    row.setSpacing(theme.MARGIN)
    for key, choice in choices.items():
        column = QVBoxLayout()
        column.setSpacing(theme.HALF)
        column.addWidget(plain_label(say(key), "label"))
        column.addWidget(choice)
        row.addLayout(column)
    row.addStretch(1)
    return row
