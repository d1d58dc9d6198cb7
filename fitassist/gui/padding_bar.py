# SPDX-License-Identifier: MIT
"""The foot of the padding page: the one answer to the step, and what looks wrong, at any time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.units import AnyUnit, Length
from fitassist.gui import theme
from fitassist.gui.answer_panel import ENTER
from fitassist.gui.fields import LengthField, button, plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import clear_layout, show_all
from fitassist.wording.padding_page_words import say
from fitassist.wording.padding_step_words import ANSWERS, pair_text, says_text

LOOKS = ("too_full", "too_flat", "ridge")


class PaddingBar(QFrame):
    """Done, a length or a choice; skip and undo; and where something looks wrong.

    Signals
    -------
    done, skipped, undo_asked
        As named.
    read
        The ``Length`` and its text.
    answered
        An answer of the proof.
    looked
        Place and what it looks like.
    """

    done = Signal()
    skipped = Signal()
    undo_asked = Signal()
    read = Signal(object, str)
    answered = Signal(str)
    looked = Signal(str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind = ""
        self._place = ""
        self.primary = button(say("done"), "primary")
        self.primary.clicked.connect(self._on_primary)
        self.field = LengthField(say("tape_reads"))
        self.field.committed.connect(self._on_committed)
        self.field.line_edit.installEventFilter(self)
        self._tape = plain_label(say("tape_reads"))
        self._tape.setBuddy(self.field)
        self._choices = QHBoxLayout()
        self._choices.setSpacing(theme.STEP)
        self.wrong = button(say("looks_wrong"))
        self.wrong.clicked.connect(lambda: self._show_wrong(True))
        self.skip, self.undo = button(say("skip")), button(say("undo"))
        self.skip.clicked.connect(self.skipped)
        self.undo.clicked.connect(self.undo_asked)
        self._error = plain_label(role="error", wraps=True)
        self._error.hide()
        self._places: tuple[str, ...] = ()
        self._stack = QStackedWidget()
        self._stack.addWidget(self._answer_row())
        self._stack.addWidget(self._wrong_row())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(self._error)
        column.addWidget(self._stack)

    def _answer_row(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.STEP)
        for widget in (self._tape, self.field, self.primary):
            row.addWidget(widget)
        row.addLayout(self._choices)
        row.addStretch(1)
        for widget in (self.wrong, self.skip, self.undo):
            row.addWidget(widget)
        return holder

    def _wrong_row(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.STEP)
        self._asked = plain_label(say("where"))
        flow_holder = QWidget()
        self._flow = FlowLayout(flow_holder, gap=theme.STEP)
        back = button(say("back"))
        back.clicked.connect(lambda: self._show_wrong(False))
        row.addWidget(self._asked)
        row.addWidget(flow_holder, 1)
        row.addWidget(back)
        return holder

    # -- what is shown ------------------------------------------------------------------------

    def show_step(
        self, kind: str, place: str, places: Sequence[str], can_undo: bool, is_read_only: bool
    ) -> None:
        """Ask for the answer to a step; an empty kind: everything is done."""
        is_other = (kind, place) != (self._kind, self._place)
        self._kind, self._place = kind, place
        self._places = tuple(places)
        self._show_wrong(False)
        self.show_error("")
        is_tape, is_proof = kind == "measure", kind == "proof"
        self._tape.setVisible(is_tape)
        self.field.setVisible(is_tape)
        if is_other:
            self.field.clear()
        self.primary.setVisible(bool(kind))
        words = {"measure": say("take"), "look": say("looks_right")}
        text = says_text("yes") if is_proof else words.get(kind, say("done"))
        self.primary.setText(text)
        self.primary.setAccessibleName(text)
        self._show_choices(ANSWERS[place][1:] if is_proof else ())
        self.wrong.setVisible(bool(places) and not is_proof)  # room for the answers
        self.skip.setVisible(bool(kind))
        for widget in (self.primary, self.field, self.wrong, self.skip, self.undo):
            widget.setEnabled(not is_read_only)
        self.undo.setEnabled(can_undo)

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare numbers in another unit."""
        self.field.set_unit(unit)

    def show_error(self, text: str) -> None:
        """Say what was not taken; an empty text: nothing."""
        self._error.setText(text)
        self._error.setVisible(bool(text))

    def error_text(self) -> str:
        """Return what is said to be wrong."""
        return self._error.text()

    def first_widget(self) -> QWidget:
        """Return what the keys should go to."""
        if self._stack.currentIndex() == 1:
            found = self.choices()
            return found[0] if found else self
        return self.field.line_edit if self._kind == "measure" else self.primary

    def choices(self) -> list[QPushButton]:
        """Return the buttons of the choices beside the first one, or of the places asked for."""
        layout = self._flow if self._stack.currentIndex() == 1 else self._choices
        items = (layout.itemAt(i) for i in range(layout.count()))
        widgets = [item.widget() for item in items if item is not None]
        return [one for one in widgets if isinstance(one, QPushButton)]

    def _show_choices(self, answers: Sequence[str]) -> None:
        clear_layout(self._choices)
        for says in answers:
            made = button(says_text(says))
            made.clicked.connect(partial(_called, self.answered.emit, says))
            self._choices.addWidget(made)

    # -- answers ------------------------------------------------------------------------------

    def _on_primary(self) -> None:
        if self._kind == "measure":
            self.field.commit()
        elif self._kind == "proof":
            self.answered.emit("yes")
        else:
            self.done.emit()

    def _on_committed(self, length: Length) -> None:
        self.read.emit(length, self.field.text())

    def _show_wrong(self, is_asked: bool) -> None:
        self._stack.setCurrentIndex(1 if is_asked else 0)
        if is_asked:
            self._asked.setText(say("where"))
            self._offer([(base, pair_text(base)) for base in self._places], self._on_place)

    def _on_place(self, base: str) -> None:
        self._asked.setText(say("what"))
        looks = [(what, say(what)) for what in LOOKS]
        self._offer(looks, lambda what: self.looked.emit(base, what))

    def _offer(self, choices: Sequence[tuple[str, str]], act: Callable[[str], object]) -> None:
        clear_layout(self._flow)
        for key, text in choices:
            made = button(text)
            made.clicked.connect(partial(_called, act, key))
            self._flow.addWidget(made)
        show_all(self._flow)
        self.first_widget().setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter in the field answer once, and go no further."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            is_enter = event.key() in ENTER
            if is_enter and not event.isAutoRepeat():
                self.field.commit()
            if is_enter:
                return True
        return super().eventFilter(watched, event)


def _called(act: Callable[[str], object], key: str, _on: bool = False) -> None:
    act(key)
