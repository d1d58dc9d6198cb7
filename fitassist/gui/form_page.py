# SPDX-License-Identifier: MIT
"""The form: which one, where its dials stand now, and, folded below, all that can be said of it.

Every change that makes sense is kept at once; one that does not is explained where it was typed.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.person_name import clean_name
from fitassist.domain.taught import Taught
from fitassist.domain.units import AnyUnit, Unit
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.dial_grid import DialGrid
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import Fold, scrolling
from fitassist.gui.form_beginnings import FormBeginnings
from fitassist.gui.form_build import FormHandling, FormTorso
from fitassist.gui.form_dials import FormDials
from fitassist.gui.form_places import FormPlaces
from fitassist.gui.form_taught import FormTaught, Teach
from fitassist.gui.ports import Entry, Library
from fitassist.gui.shaping_choice import ShapingChoice
from fitassist.wording.pages import form_refusal, say
from fitassist.wording.sentences import sentence
from fitassist.wording.taught_words import say as say_taught

LIST_WIDTH = 320
NAME_WIDTH = 480
EMPTY_WIDTH = 600


class FormPage(QWidget):
    """Choosing and describing a form.

    Signals
    -------
    start_asked
        Id of the body and of the form the fitting is to begin with, and how it is to be set.
    form_chosen
        Id of the form now shown and the ``Form``; again after each change.
    choose_asked
        A form is to be chosen before it is bought.
    describe_asked, lessons_asked
        The form that is shown is to be described one question at a time, or only taught.
    failed
        A ``FitError`` met while keeping or reading a form.
    """

    start_asked = Signal(str, str, str)
    form_chosen = Signal(str, object)
    choose_asked = Signal()
    describe_asked, lessons_asked = Signal(), Signal()
    failed = Signal(object)

    def __init__(
        self,
        library: Library,
        ready: Sequence[Form],
        unit: AnyUnit = Unit.IN,
        parent: QWidget | None = None,
        teach: Teach = lambda _form: Taught(),
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._teach = teach
        self._library = library
        self._ready = tuple(ready)
        self._unit = Unit(unit)
        self._entries: tuple[Entry, ...] = ()
        self._form: Form | None = None
        self._form_id = ""
        self._body_id = ""
        self._instead: QWidget | None = None  # what is shown in the place of all this
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(0)
        both.addWidget(self._build_side())
        both.addWidget(self._build_main(), 1)
        for beginnings in (self._side_beginnings, self._first):
            beginnings.begun.connect(self._begin)
            beginnings.choose_asked.connect(self.choose_asked)
            beginnings.describe_asked.connect(self._begin_describing)
        self.reload()

    # -- building -----------------------------------------------------------------------------

    def _build_side(self) -> QWidget:
        side = QWidget()
        self._names = QStringListModel(self)
        self.list_view = QListView()
        self.list_view.setModel(self._names)
        self.list_view.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.list_view.setAccessibleName(say("form.list"))
        self.list_view.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list_view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list_view.setWordWrap(True)
        self.list_view.selectionModel().currentChanged.connect(lambda *_: self._on_current())
        column = QVBoxLayout(side)
        column.setContentsMargins(theme.MARGIN, theme.MARGIN, theme.STEP, theme.MARGIN)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("form.heading"), "heading"))
        column.addWidget(self.list_view, 1)
        self._side_beginnings = FormBeginnings(self._ready)
        column.addWidget(self._side_beginnings)
        self._side = scrolling(side)
        theme.exactly(self._side, LIST_WIDTH)
        return self._side

    def _build_main(self) -> QWidget:
        self._stack = QStackedWidget()
        empty = QWidget()
        theme.at_most(empty, EMPTY_WIDTH)
        column = QVBoxLayout(empty)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP)
        self._empty_heading = plain_label(say("form.heading"), "heading")
        column.addWidget(self._empty_heading)
        self._empty_text = plain_label(say("form.empty"), wraps=True)
        column.addWidget(self._empty_text)
        self._first = FormBeginnings(self._ready)
        column.addSpacing(theme.STEP * 2)
        column.addWidget(self._first)
        column.addStretch(1)
        self._stack.addWidget(empty)
        self._stack.addWidget(self._build_editor())
        return self._stack

    def _build_editor(self) -> QWidget:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(theme.STEP * 2, theme.MARGIN, theme.MARGIN, theme.STEP)
        column.setSpacing(theme.STEP)
        self.name_edit = QLineEdit()
        theme.at_most(self.name_edit, NAME_WIDTH)
        self.name_edit.setAccessibleName(say("form.own_name"))
        self.name_edit.editingFinished.connect(self._on_name)
        self._name_error = plain_label(role="error", wraps=True)
        self._name_error.hide()
        self.grid = DialGrid()
        self.grid.number_set.connect(self._on_number)
        self._now_why = plain_label(role="note", wraps=True)
        self._closed = button(say("form.all_closed"), "link")
        self._closed.clicked.connect(
            lambda: self._form and self.keep(form_draft.closed(self._form))
        )
        self.dials = FormDials()
        self.places = FormPlaces(self._unit)
        self.torso = FormTorso(self._unit)
        self.handling = FormHandling()
        column.addWidget(plain_label(say("form.own_name"), "label"))
        column.addWidget(self.name_edit)
        column.addWidget(self._name_error)
        column.addSpacing(theme.STEP)
        column.addWidget(plain_label(say("form.now"), "title"))
        column.addWidget(self._now_why)
        column.addWidget(self.grid)
        column.addWidget(self._closed, 0, Qt.AlignmentFlag.AlignLeft)
        self.taught = FormTaught(self._teach, self._person_name, self._unit)
        self.taught.changed.connect(self.keep)
        self.taught.copied.connect(self._begin)
        self.taught.lessons_asked.connect(self.lessons_asked)
        self.folds: dict[str, Fold] = {}
        for key, panel in (
            ("form.dials", self.dials),
            ("form.girths", self.places),
            ("form.torso", self.torso),
            ("form.handling", self.handling),
        ):
            panel.changed.connect(self.keep)
            self.folds[key] = Fold(say(key), panel)
            column.addWidget(self.folds[key])
        self.folds["taught"] = Fold(say_taught("fold"), self.taught)
        column.addWidget(self.folds["taught"])
        column.addStretch(1)
        self.start_button = button(say("form.start"), "primary")
        self.start_button.clicked.connect(self._start)
        self._said = plain_label(role="quiet", wraps=True)
        self.shaping = ShapingChoice(self._unit)
        holder = QWidget()
        whole = QVBoxLayout(holder)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scrolling(inside), 1)
        whole.addLayout(self._foot())
        return holder

    def _foot(self) -> QHBoxLayout:
        start = QVBoxLayout()
        start.setSpacing(theme.HALF)
        start.addWidget(self.start_button, 0, Qt.AlignmentFlag.AlignLeft)
        start.addWidget(self._said)
        start.addStretch(1)
        foot = QHBoxLayout()
        foot.setContentsMargins(theme.STEP * 2, theme.STEP, theme.MARGIN, theme.STEP * 2)
        foot.setSpacing(theme.MARGIN)
        foot.addWidget(self.shaping, 1000)
        foot.addLayout(start, 1)
        foot.addStretch(1)
        return foot

    # -- what is shown ------------------------------------------------------------------------

    def reload(self, choose: str = "") -> None:
        """Read the list anew and choose a form in it."""
        keep = choose or self._form_id
        try:
            self._entries = tuple(self._library.forms())
        except FitError as error:
            self._entries = ()
            self.failed.emit(error)
        self._names.setStringList(
            [say("people.damaged", name=e.name) if e.problem else e.name for e in self._entries]
        )
        row = next((i for i, e in enumerate(self._entries) if e.id == keep), 0)
        has_forms = bool(self._entries)
        self._side.setVisible(has_forms and self._instead is None)
        self._empty_heading.setVisible(not has_forms)
        self._first.setVisible(not has_forms)
        self._stack.setCurrentIndex(1 if self._form is not None else 0)
        if self._entries:
            self.list_view.selectionModel().setCurrentIndex(
                self._names.index(row), QItemSelectionModel.SelectionFlag.ClearAndSelect
            )

    def reread(self) -> None:
        """Show the form anew as it is kept now: a fitting has moved its dials."""
        if self._form_id:
            try:
                self._show(self._form_id, self._library.load_form(self._form_id))
            except FitError as error:
                self.failed.emit(error)

    def show_body(self, body_id: str, person: str, name: str, body: Body | None = None) -> None:
        """Say for which body a fitting would begin; an empty id: for none yet."""
        self._body_id = body_id
        self.shaping.show_body(body_id, body)
        self.start_button.setEnabled(bool(body_id))
        self._said.setText(
            say("form.for_body", person=person, body=name) if body_id else say("form.no_body")
        )

    def set_unit(self, unit: AnyUnit) -> None:
        """Say and read lengths in this unit; dial numbers stay as they are printed."""
        self._unit = Unit(unit)
        for part in (self.places, self.torso, self.taught, self.shaping):
            part.set_unit(unit)
        if self._instead is not None:
            self._instead.set_unit(unit)  # type: ignore[attr-defined]

    @property
    def form(self) -> Form | None:
        """The form that is shown."""
        return self._form

    @property
    def form_id(self) -> str:
        """The id of the form that is shown, or an empty text."""
        return self._form_id

    def begin_button(self, index: int) -> QPushButton:
        """Return the button of one of the beginnings, in their order."""
        return (self._side_beginnings if self._entries else self._first).button(index)

    def choose_button(self) -> QPushButton:
        """Return the button that leads to choosing a form before it is bought."""
        return (self._side_beginnings if self._entries else self._first).choose

    def show_instead(self, page: QWidget | None) -> None:
        """Show something else in the place of all forms; None: the forms again."""
        if self._instead is not None:
            self._instead.hide()
        self._instead = page
        self._side.setVisible(page is None and bool(self._entries))
        self._stack.setVisible(page is None)
        if page is not None:
            self.layout().addWidget(page)  # type: ignore[union-attr]
            page.show()

    def said(self) -> QLabel:
        """Return the line beside the main button."""
        return self._said

    def _on_current(self) -> None:
        row = self.list_view.currentIndex().row()
        if not 0 <= row < len(self._entries) or self._entries[row].id == self._form_id:
            return
        entry = self._entries[row]
        try:
            if entry.problem is not None:
                raise entry.problem
            form = self._library.load_form(entry.id)
        except FitError as error:
            self._form, self._form_id = None, ""
            self._empty_text.setText(sentence(error, self._unit.value))
            self._stack.setCurrentIndex(0)
            return
        self._show(entry.id, form)

    def _show(self, form_id: str, form: Form) -> None:
        self._form_id, self._form = form_id, form
        self._stack.setCurrentIndex(1)
        if self.name_edit.text() != form.name:
            self.name_edit.setText(form.name)
            self.name_edit.setCursorPosition(0)
        has_dials = bool(form.dials)
        self._now_why.setText(say("form.now_why") if has_dials else say("form.no_dials"))
        self._closed.setVisible(has_dials)
        for panel in (self.grid, self.dials, self.places, self.torso, self.handling, self.taught):
            panel.show_form(form)
        self.shaping.show_form(form)
        self.form_chosen.emit(form_id, form)

    def _person_name(self, person_id: str) -> str | None:
        try:
            return next((p.name for p in self._library.people() if p.id == person_id), None)
        except FitError:
            return None  # the list of people says why; the form is still somebody's

    # -- what is done -------------------------------------------------------------------------

    def _begin(self, form: Form) -> None:
        try:
            form_id = self._library.save_form("", form)
        except FitError as error:
            self._fail(error)
            return
        self._show(form_id, form)
        self.reload(form_id)

    def _begin_describing(self) -> None:
        self._begin(form_draft.blank_form(say("form.blank_name")))
        if self._form is not None:
            self.describe_asked.emit()

    def keep(self, form: Form) -> bool:
        """Keep a change; if it cannot be kept, what was typed stays and the old form is shown."""
        try:
            form_id = self._library.save_form(self._form_id, form)
        except FitError as error:
            self._fail(error)
            return False
        renamed = self._form is None or self._form.name != form.name
        self._show(form_id, form)
        if renamed:
            self.reload(form_id)
        return True

    def _fail(self, error: FitError) -> None:
        text = say("measure.not_kept", why=sentence(error, self._unit.value))
        self._said.setText(text)
        if self._form is None:
            self._empty_text.setText(text)
        self.failed.emit(error)

    def _on_number(self, dial: str, number: float) -> None:
        if self._form is None:
            return
        try:
            form = form_draft.with_number(self._form, dial, number)
        except FitError as error:
            self.grid.field(dial).show_error(form_refusal(error.code))
            return
        if not self.keep(form):
            field = self.grid.field(dial)
            field.show_error(self._said.text())
            field.mark_uncommitted()

    def _on_name(self) -> None:
        if self._form is None or self.name_edit.text() == self._form.name:
            return
        try:
            name = clean_name(self.name_edit.text())
        except FitError as error:
            self._name_error.setText(sentence(error, self._unit.value))
            self._name_error.show()
            return
        self._name_error.hide()
        self.keep(form_draft.changed(self._form, name=name))

    def _start(self) -> None:
        if self._form_id and self._body_id:
            self.start_asked.emit(self._body_id, self._form_id, self.shaping.value())
