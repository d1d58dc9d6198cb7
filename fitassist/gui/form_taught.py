# SPDX-License-Identifier: MIT
"""What the form has taught, for whom it was set last, and what it remembers of single dials.

It is worked out when it is unfolded, not before: past fittings have to be replayed for it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from fitassist.domain.form import Form
from fitassist.domain.taught import Taught
from fitassist.domain.units import AnyUnit, Unit
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import Fold, clear_layout, show_all
from fitassist.wording.language import capital
from fitassist.wording.places import dial_name
from fitassist.wording.sentences import sentence
from fitassist.wording.taught_words import copy_name, met_text, row_text, say, wearer_text

Teach = Callable[[Form], Taught]
NameOf = Callable[[str], str | None]
NOTE_WIDTH = 420
LONGEST_NOTE = 300


class FormTaught(QWidget):
    """What a form knows of itself.

    Parameters
    ----------
    teach
        Works out what a form has taught; may raise ``BadFile``.
    name_of
        What a person is called, by id; None where there is no such record.

    Signals
    -------
    changed
        The ``Form`` as it now is.
    copied
        A ``Form`` to be kept beside this one.
    lessons_asked
        A few readings are to be taken that teach how the form opens.
    """

    changed = Signal(object)
    copied = Signal(object)
    lessons_asked = Signal()

    def __init__(self, teach: Teach, name_of: NameOf, unit: AnyUnit = Unit.IN) -> None:
        super().__init__()
        self._teach, self._name_of, self._unit = teach, name_of, Unit(unit)
        self._form: Form | None = None
        self._is_stale = True
        self._taught: tuple[Form, Taught] | None = None  # of the form as it is when closed
        self._noted: tuple[str, ...] = ()
        self.notes: dict[str, QLineEdit] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.STEP, theme.HALF, 0, theme.STEP * 2)
        column.setSpacing(theme.STEP)
        self._wearer = plain_label(wraps=True)
        self._rows = _column()
        self._met = _column()
        column.addWidget(plain_label(say("for_whom"), "label"))
        column.addWidget(self._wearer)
        column.addSpacing(theme.STEP)
        column.addWidget(plain_label(say("scales"), "label"))
        column.addLayout(self._rows)
        self.lessons = button(say("lessons"))
        self.lessons.clicked.connect(self.lessons_asked)
        column.addWidget(self.lessons, 0, Qt.AlignmentFlag.AlignLeft)
        self._build_forgetting(column)
        column.addSpacing(theme.STEP)
        column.addWidget(plain_label(say("dials"), "label"))
        column.addLayout(self._met)
        holder = QWidget()
        self._grid = QGridLayout(holder)
        self._grid.setContentsMargins(theme.STEP, 0, 0, 0)
        self._grid.setSpacing(theme.STEP)
        self._grid.setColumnStretch(2, 1)  # names and fields stay together on a wide page
        self.notes_fold = Fold(say("notes"), holder)
        column.addWidget(self.notes_fold)
        self._build_copying(column)

    def _build_forgetting(self, column: QVBoxLayout) -> None:
        self.forget = button(say("forget"), "link")
        self.forget.clicked.connect(lambda: self._ask(True))
        column.addWidget(self.forget, 0, Qt.AlignmentFlag.AlignLeft)
        self._question = QWidget()
        inside = QVBoxLayout(self._question)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(theme.HALF)
        inside.addWidget(plain_label(say("forget_why"), wraps=True))
        self.forget_yes = button(say("forget_yes"))
        self.forget_no = button(say("forget_no"), "link")
        self.forget_yes.clicked.connect(self._forget)
        self.forget_no.clicked.connect(lambda: self._ask(False))
        both = QHBoxLayout()
        both.setSpacing(theme.STEP)
        both.addWidget(self.forget_yes)
        both.addWidget(self.forget_no)
        both.addStretch(1)
        inside.addLayout(both)
        self._question.hide()
        column.addWidget(self._question)

    def _build_copying(self, column: QVBoxLayout) -> None:
        self.with_learned = QCheckBox(say("copy_learned"))
        self.copy = button(say("copy"))
        self.copy.clicked.connect(self._copy)
        column.addSpacing(theme.STEP)
        column.addWidget(self.with_learned)
        column.addWidget(plain_label(say("copy_why"), "note", wraps=True))
        column.addWidget(self.copy, 0, Qt.AlignmentFlag.AlignLeft)

    # -- what is shown ------------------------------------------------------------------------

    def show_form(self, form: Form) -> None:
        """Show a form, now if it can be seen, else as soon as it is unfolded."""
        self._form = form
        self._is_stale = True
        self._ask(False)
        if self.isVisible():
            self._refresh()

    def set_unit(self, unit: AnyUnit) -> None:
        """Say lengths in this unit."""
        self._unit = Unit(unit)
        if self._form is not None:
            self.show_form(self._form)

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what has changed while it was folded."""
        super().showEvent(event)
        if self._is_stale:
            self._refresh()

    def _refresh(self) -> None:
        form = self._form
        if form is None:
            return
        self._is_stale = False
        last = form.last_fitted
        name = self._name_of(last.person_id) if last else None
        self._wearer.setText(wearer_text(last, name, form) if last else say("nobody"))
        self._show_rows(form)
        self._show_met(form)
        self._show_notes(form)

    def _show_rows(self, form: Form) -> None:
        clear_layout(self._rows)
        try:
            rows = self._learned(form).rows
        except FitError as error:
            self._rows.addWidget(plain_label(sentence(error, self._unit), "error", wraps=True))
            rows = ()
        else:
            if not rows:
                self._rows.addWidget(plain_label(say("nothing"), wraps=True))
        for row in rows:
            self._rows.addWidget(plain_label(row_text(row, form, self._unit), wraps=True))
            if row.is_off:
                self._rows.addWidget(plain_label(say("off"), wraps=True))
        show_all(self._rows)

    def _learned(self, form: Form) -> Taught:
        """Work it out, unless only the dials stand elsewhere than at the last time."""
        shut = form_draft.closed(form)
        if self._taught is None or self._taught[0] != shut:
            self._taught = (shut, self._teach(form))
        return self._taught[1]

    def _show_met(self, form: Form) -> None:
        clear_layout(self._met)
        met = [(dial, text) for dial in form.dials if (text := met_text(dial, form))]
        if not met:
            self._met.addWidget(plain_label(say("no_dials"), wraps=True))
        for dial, text in met:
            self._met.addWidget(plain_label(text, wraps=True))
            again = button(say("again"), "link", f"{text}: {say('again')}")
            again.clicked.connect(partial(self._turns_again, dial.name))
            self._met.addWidget(again, 0, Qt.AlignmentFlag.AlignLeft)
        show_all(self._met)

    def _show_notes(self, form: Form) -> None:
        names = tuple(dial.name for dial in form.dials)
        self.notes_fold.setVisible(bool(names))
        if names != self._noted:
            self._noted = names
            clear_layout(self._grid)
            self.notes = {}
            for place, name in enumerate(names):
                called = capital(dial_name(name, form))
                field = QLineEdit()
                field.setMaxLength(LONGEST_NOTE)
                field.setAccessibleName(f"{say('notes')}: {called}")
                theme.exactly(field, NOTE_WIDTH)
                field.editingFinished.connect(partial(self._note, name))
                self.notes[name] = field
                self._grid.addWidget(plain_label(called, "label"), place, 0)
                self._grid.addWidget(field, place, 1)
        for dial in form.dials:
            if self.notes[dial.name].text() != dial.quirk:
                self.notes[dial.name].setText(dial.quirk)

    # -- what is done -------------------------------------------------------------------------

    def _ask(self, is_asked: bool) -> None:
        self._question.setVisible(is_asked)
        self.forget.setVisible(not is_asked and bool(self._form and self._form.learned))
        if is_asked:
            self.forget_no.setFocus()

    def _forget(self) -> None:
        if self._form is not None:
            self.changed.emit(form_draft.changed(self._form, learned={}))

    def _turns_again(self, name: str) -> None:
        if self._form is not None:
            free = {"stuck": False, "stopped_above": None, "stopped_below": None}
            self.changed.emit(form_draft.with_dial(self._form, name, **free))

    def _note(self, name: str) -> None:
        dial = self._form.dial(name) if self._form is not None else None
        text = " ".join(self.notes[name].text().split())
        if self._form is not None and dial is not None and dial.quirk != text:
            self.changed.emit(form_draft.with_dial(self._form, name, quirk=text))

    def _copy(self) -> None:
        if self._form is not None:
            name = copy_name(self._form.name)
            self.copied.emit(form_draft.copied(self._form, name, self.with_learned.isChecked()))
            self.with_learned.setChecked(False)


def _column() -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(theme.HALF)
    return column
