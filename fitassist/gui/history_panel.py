# SPDX-License-Identifier: MIT
"""Readings of a person by day and line, and whether they differ by more than the tape does."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from fitassist.domain.tape_error import LineHistory
from fitassist.errors import FitError
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.people_panel import PeoplePanel, PlainTable
from fitassist.gui.people_ports import BodyHistory, PeopleDesk
from fitassist.session.events import MeasuringBegan
from fitassist.wording.history_words import (
    day_reading_text,
    detail_text,
    difference_text,
    matter_text,
    say,
    touches_text,
)


class HistoryPanel(PeoplePanel):
    """What the tape said over time."""

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(say("why"), parent)
        self._desk = desk
        self._id = ""
        self._bodies: tuple[BodyHistory, ...] = ()
        self._shown = 0
        self.body_row = ChoiceRow(say("body"), [])
        self.column.addWidget(self.body_row)
        heads = [say(f"column.{one}") for one in ("line", "days", "difference", "matter")]
        self.table = PlainTable(say("list"), heads, stretch=1)
        self.table.currentCellChanged.connect(lambda *_: self._on_current())
        self.column.addWidget(self.table, 1)
        self.detail = plain_label(role="quiet", wraps=True)
        self.column.addWidget(self.detail)
        self.only_last = button(say("only_last"))
        self.only_last.clicked.connect(self._count_only_last)
        self.anew = button(say("anew"))
        self.anew.clicked.connect(self._begin_anew)
        self.end(self.anew, self.only_last)

    def begin(self, person_id: str, name: str) -> None:
        """Show the readings of a person."""
        self._id = person_id
        self._shown = 0
        self.heading.setText(say("heading", name=name))
        self.say("")
        self._load()
        self.table.setFocus()

    def _load(self) -> None:
        try:
            self._bodies = self._desk.history(self._id)
        except FitError as error:
            self._bodies = ()
            self.fail(error)
        place = self.column.indexOf(self.body_row)
        self.column.removeWidget(self.body_row)
        self.body_row.hide()
        self.body_row.deleteLater()
        choices = [(str(i), one.name) for i, one in enumerate(self._bodies)]
        self.body_row = ChoiceRow(say("body"), choices)
        self.body_row.set_value(str(self._shown))
        self.body_row.chosen.connect(self._on_body)
        self.column.insertWidget(place, self.body_row)
        self.body_row.setVisible(len(choices) > 1)
        self._show_body()

    def _on_body(self, key: str) -> None:
        self._shown = int(key)
        self._show_body()

    def _body(self) -> BodyHistory | None:
        return self._bodies[self._shown] if self._shown < len(self._bodies) else None

    def _show_body(self) -> None:
        body = self._body()
        lines = body.lines if body else ()
        self.table.show_rows([self._texts(one) for one in lines])
        self.anew.setEnabled(bool(lines))
        if not lines and not self.said():
            self.say(say("none"))
        self._on_current()

    def _texts(self, line: LineHistory) -> tuple[str, str, str, str]:
        unit = self._desk.unit
        days = " · ".join(day_reading_text(day, unit) for day in reversed(line.days))
        if line.change_mm is None:
            return line.measurement.label, days, say("one_day"), ""
        difference = difference_text(line.change_mm, unit)
        return line.measurement.label, days, difference, matter_text(line.matter)

    def _line(self) -> LineHistory | None:
        body, row = self._body(), self.table.currentRow()
        return body.lines[row] if body and 0 <= row < len(body.lines) else None

    def _on_current(self) -> None:
        body, line = self._body(), self._line()
        self.only_last.setEnabled(
            line is not None and sum(day.counts for day in line.days) > 1 and line.days[-1].counts
        )
        if body is None or line is None:
            self.detail.setText("")
            return
        place = line.measurement.line
        touches = touches_text(body.form, place, body.padding.get(place, ()))
        self.detail.setText(detail_text(line, self._desk.unit, touches))

    # -- what is done -------------------------------------------------------------------------

    def _begin_anew(self) -> None:
        body = self._body()
        if body is not None:
            self._keep(MeasuringBegan(body_id=body.body_id), say("anew_done"))

    def _count_only_last(self) -> None:
        body, line = self._body(), self._line()
        if body is None or line is None:
            return
        earlier = [seq for day in line.days[:-1] for seq in day.seqs]
        before_last = [seq for seq in earlier if seq < min(line.days[-1].seqs)]
        event = MeasuringBegan(
            body_id=body.body_id,
            after_seq=max(before_last, default=0),
            measurements=(line.measurement.key,),
        )
        self._keep(event, say("only_last_done"))

    def _keep(self, event: MeasuringBegan, text: str) -> None:
        try:
            self._desk.measure_anew(self._id, event)
        except FitError as error:
            self.fail(error)
            return
        self._load()
        self.say(text)
