# SPDX-License-Identifier: MIT
"""The measurements of one person: which body, how much of it, and field after field.

What is entered is in the record before it is shown as taken; if it cannot be kept, the sentence
stands under the field and the text stays.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Catalogue, Depth
from fitassist.domain.plausibility import Question, question_key
from fitassist.domain.units import AnyUnit, Length, Unit
from fitassist.errors import FitError
from fitassist.gui import measurement_guide, theme
from fitassist.gui.body_card import BodyCard
from fitassist.gui.body_line import BodyLine
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.gui.measurement_guide import MeasurementGuide
from fitassist.gui.measurement_row import AskBar, MeasurementRow
from fitassist.gui.person_beginnings import nobody_chosen, scroll_to, upper_left
from fitassist.gui.person_notes import PersonNotes
from fitassist.gui.ports import Record
from fitassist.session.events import (
    BodyDescribed,
    Event,
    MeasurementKept,
    MeasurementTaken,
    MeasurementWithdrawn,
    NotesChanged,
    PersonNamed,
)
from fitassist.session.person import BodyState, PersonState, fold_person, open_questions
from fitassist.wording.body_words import body_question
from fitassist.wording.catalogue_words import label_text
from fitassist.wording.pages import say
from fitassist.wording.sentences import sentence


class PersonPage(QWidget):
    """Entry of measurements, built from the catalogue.

    Signals
    -------
    body_chosen
        The id of the body that is shown.
    person_changed
        The ``PersonState`` after something was kept.
    next_asked, people_asked
        The user wants to go on to the form, or to choose a person.
    failed
        A ``FitError`` met while keeping something.
    """

    body_chosen = Signal(str)
    person_changed = Signal(object)
    next_asked = Signal()
    people_asked = Signal()
    failed = Signal(object)

    def __init__(
        self, catalogue: Catalogue, unit: AnyUnit = Unit.IN, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._catalogue = catalogue
        self._unit = Unit(unit)
        self._record: Record | None = None
        self._state = PersonState()
        self._body_id = ""
        self._rows: dict[str, MeasurementRow] = {}
        self._rows_for: tuple[Kind, Depth] | None = None
        self._focused = ""
        self._stack = QStackedWidget()
        self._stack.addWidget(nobody_chosen(self.people_asked.emit))
        self.body_card = BodyCard()
        self.body_card.described.connect(self._on_described)
        self.body_card.left.connect(self._refresh)
        self._stack.addWidget(upper_left(self.body_card))
        self._stack.addWidget(self._build_measuring())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)

    # -- building -----------------------------------------------------------------------------

    def _build_measuring(self) -> QWidget:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(theme.MARGIN, theme.MARGIN, theme.STEP, theme.STEP)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("place.measurements"), "heading"))
        self.line = BodyLine()
        self.line.body_chosen.connect(self._on_body)
        self.line.depth_chosen.connect(self._on_depth)
        self.line.another_asked.connect(self._begin_another)
        self.line.change_asked.connect(self._begin_change)
        column.addWidget(self.line)
        column.addSpacing(theme.STEP)
        self._rows_box = QVBoxLayout()
        self._rows_box.setSpacing(theme.STEP)
        column.addLayout(self._rows_box)
        column.addSpacing(theme.STEP)
        self.notes = PersonNotes()
        self.notes.named.connect(lambda name: self._keep_notes(PersonNamed(name=name)))
        self.notes.noted.connect(lambda text: self._keep_notes(NotesChanged(text=text)))
        column.addWidget(self.notes)
        column.addStretch(1)
        self._area = scrolling(left)
        self.guide = MeasurementGuide()
        self.guide.withdraw_asked.connect(self._withdraw)
        self._side = scrolling(self.guide)
        theme.exactly(self._side, measurement_guide.WIDTH)
        self.guide.setProperty("role", "card")
        self.next_button = button(say("measure.next"), "primary")
        self.next_button.clicked.connect(self.next_asked)
        self._said = plain_label(role="quiet", wraps=True)
        foot = QHBoxLayout()
        foot.setContentsMargins(theme.MARGIN, theme.STEP, theme.MARGIN, theme.STEP * 2)
        foot.setSpacing(theme.MARGIN)
        foot.addWidget(self.next_button)
        foot.addWidget(self._said, 1)
        both = QHBoxLayout()
        both.setContentsMargins(0, 0, theme.MARGIN, 0)
        both.addWidget(self._area, 1)
        guide_column = QVBoxLayout()
        guide_column.setContentsMargins(0, theme.MARGIN, 0, theme.STEP)
        guide_column.addWidget(self._side)
        both.addLayout(guide_column)
        holder = QWidget()
        whole = QVBoxLayout(holder)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(both, 1)
        whole.addLayout(foot)
        return holder

    # -- what is shown ------------------------------------------------------------------------

    def show_record(self, record: Record | None) -> None:
        """Show one person's record, or that nobody is chosen."""
        self._record = record
        self._body_id = ""
        self._focused = ""
        self._rows_for = None
        self._said.clear()
        self._refresh()

    def keep_pending(self) -> None:
        """Keep what is typed and not yet kept; call it before the record is closed."""
        if self._record is None or self._record.read_only:
            return
        for row in tuple(self._rows.values()):
            row.field.commit_pending()
        self.notes.keep_pending()

    def set_unit(self, unit: AnyUnit) -> None:
        """Say and read lengths in this unit."""
        self._unit = Unit(unit)
        self._refresh()

    def show_field(self, key: str) -> None:
        """Give the focus to a measurement's field, asking for more of the body where it must."""
        found = self._catalogue.get(key)
        if found is None or not self._body_id:
            return
        if key not in self._rows:
            self._on_depth(found.depth)
        if key in self._rows:
            self._stack.setCurrentIndex(2)
            self._rows[key].field.setFocus(Qt.FocusReason.OtherFocusReason)
            scroll_to(self._rows[key], self._area)
            self._show_guide(key)

    def check_as(self, kind: Kind) -> bool:
        """Take the body for one of another kind; return whether that could be kept."""
        if not self._can_change() or not self._body_id:
            return False
        return not self._describe(kind, self._body().depth)

    @property
    def state(self) -> PersonState:
        """What the record says."""
        return self._state

    @property
    def body_id(self) -> str:
        """The body that is shown, or an empty text."""
        return self._body_id

    def row(self, key: str) -> MeasurementRow:
        """Return the row of a measurement that is shown."""
        return self._rows[key]

    def shown_keys(self) -> tuple[str, ...]:
        """Return the measurements shown, in order."""
        return tuple(self._rows)

    def said(self) -> QLabel:
        """Return the line where something about the whole page may be said."""
        return self._said

    def _body(self) -> BodyState:
        return self._state.bodies[self._body_id]

    def _can_change(self) -> bool:
        return self._record is not None and not self._record.read_only

    def _refresh(self) -> None:
        if self._record is None:
            self._state = PersonState()
            self._stack.setCurrentIndex(0)
            return
        self._state = fold_person(self._record.events)
        if self._body_id not in self._state.bodies:
            self._body_id = next(iter(self._state.bodies), "")
            self.body_chosen.emit(self._body_id)
        self.notes.show_person(self._state.name, self._state.notes, self._can_change())
        if not self._body_id:
            self.body_card.begin("body-1", first=True)
            self.body_card.done.setEnabled(self._can_change())
            self._stack.setCurrentIndex(1)
            return
        self._stack.setCurrentIndex(2)
        self._show_body()

    def _show_body(self) -> None:
        body = self._body()
        if self._rows_for != (body.kind, body.depth):
            self._build_rows(body)
        bodies = tuple(self._state.bodies.values())
        self.line.show_bodies(bodies, body, len(self._rows), self._can_change())
        for key, row in self._rows.items():
            row.show_readings(body.readings.get(key, ()), self._unit)
            row.field.set_read_only(not self._can_change())
            row.again.setEnabled(self._can_change())
        self._show_questions(body)
        self._show_guide(self._focused)

    def _build_rows(self, body: BodyState) -> None:
        for row in self._rows.values():
            self._rows_box.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = {}
        for measurement in self._catalogue.at_depth(body.depth):
            row = MeasurementRow(measurement, body.kind, self._unit)
            key = measurement.key
            row.entered.connect(lambda key=key: self._show_guide(key))
            row.taken.connect(lambda length, key=key: self._take(key, length))
            row.corrected.connect(lambda length, key=key: self._correct(key, length))
            self._rows[key] = row
            self._rows_box.addWidget(row)
        self._rows_for = (body.kind, body.depth)

    def _show_guide(self, key: str) -> None:
        key = key if key in self._rows else next(iter(self._rows), "")
        found = self._catalogue.get(key)
        if found is None:
            return
        self._focused = key
        body = self._body()
        readings = body.readings.get(key, ())
        self.guide.show_measurement(found, body.kind, readings, self._unit, self._can_change())

    def _show_questions(self, body: BodyState) -> None:
        labels = {one.key: label_text(one, body.kind) for one in self._catalogue.measurements}
        asks: dict[str, list[AskBar]] = {key: [] for key in self._rows}
        for question in open_questions(body, self._catalogue) if self._can_change() else ():
            shown = [key for key in question.keys if key in self._rows]
            if not shown:
                continue
            place = self._focused if self._focused in shown else shown[0]
            ask = AskBar(body_question(question, labels, self._unit))
            ask.kept.connect(lambda question=question: self._keep_question(question))
            ask.change_asked.connect(lambda place=place: self._change(place))
            asks[place].append(ask)
        for key, row in self._rows.items():
            row.show_questions(asks[key])

    # -- what is done -------------------------------------------------------------------------

    def _append(self, *events: Event) -> str:
        """Keep events and show what follows; return the sentence if they could not be kept."""
        if self._record is None:
            return say("measure.nobody")
        try:
            self._record.append(events)
        except FitError as error:
            self.failed.emit(error)
            return say("measure.not_kept", why=sentence(error, self._unit.value))
        self._said.clear()
        self._refresh()
        self.person_changed.emit(self._state)
        return ""

    def _take(self, key: str, length: Length) -> None:
        self._enter(key, length, ())

    def _correct(self, key: str, length: Length) -> None:
        last = self._body().readings[key][-1]
        self._enter(key, length, (MeasurementWithdrawn(taken_seq=last.seq),))

    def _enter(self, key: str, length: Length, before: tuple[Event, ...]) -> None:
        self._focused = key
        row = self._rows[key]
        was_here = row.field.line_edit.hasFocus()
        taken = MeasurementTaken.model_validate(
            {
                "body_id": self._body_id,
                "measurement": key,
                "mm": length.mm,
                "text": length.text,
                "how": self.line.how_row.value(),
            }
        )
        problem = self._append(*before, taken)
        if problem:
            row.field.show_error(problem)
            row.field.mark_uncommitted()
        elif was_here:
            self._go_on(key)

    def _go_on(self, key: str) -> None:
        """After Enter, go to the next measurement, blank or not."""
        keys = list(self._rows)
        later = keys[keys.index(key) + 1 :]
        if later:
            self._rows[later[0]].field.setFocus(Qt.FocusReason.TabFocusReason)
            self._area.ensureWidgetVisible(self._rows[later[0]])

    def _withdraw(self, seq: int) -> None:
        self._said.setText(self._append(MeasurementWithdrawn(taken_seq=seq)))

    def _keep_question(self, question: Question) -> None:
        key = question_key(question)
        self._said.setText(self._append(MeasurementKept(body_id=self._body_id, question=key)))

    def _change(self, key: str) -> None:
        field = self._rows[key].field
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        field.line_edit.selectAll()

    def _keep_notes(self, event: Event) -> None:
        self.notes.show_failure(self._append(event))

    def _on_body(self, body_id: str) -> None:
        self._body_id = body_id
        self._rows_for = None
        self._refresh()
        self.body_chosen.emit(body_id)

    def _on_depth(self, depth: str) -> None:
        body = self._body()
        problem = self._describe(body.kind, depth)
        self._said.setText(problem)
        if problem:
            self.line.depth_row.set_value(body.depth)

    def _describe(self, kind: str, depth: str) -> str:
        body = self._body()
        event = BodyDescribed.model_validate(
            {
                "body_id": body.body_id,
                "name": body.name,
                "body_kind": kind,
                "undergarment": body.undergarment,
                "depth": depth,
            }
        )
        return self._append(event)

    def _begin_another(self) -> None:
        number = len(self._state.bodies) + 1
        while f"body-{number}" in self._state.bodies:
            number += 1
        self.body_card.begin(f"body-{number}", first=False)
        self._stack.setCurrentIndex(1)
        self.body_card.name_edit.setFocus()

    def _begin_change(self) -> None:
        self.body_card.change(self._body())
        self._stack.setCurrentIndex(1)
        self.body_card.name_edit.setFocus()

    def _on_described(self, event: BodyDescribed) -> None:
        shown, self._body_id = self._body_id, event.body_id
        problem = self._append(event)
        if problem:
            self._body_id = shown
            self.body_card.show_failure(problem)
            return
        self.body_chosen.emit(self._body_id)
        first = next(iter(self._rows.values()), None)
        if first is not None:
            first.field.setFocus()
