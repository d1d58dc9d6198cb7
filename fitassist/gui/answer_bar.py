# SPDX-License-Identifier: MIT
"""The foot of the fitting page: one primary answer, always in its place, and the ways aside."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain import answers as an
from fitassist.domain.steps import Ask, Instruction, Measure, SetDials
from fitassist.domain.units import AnyUnit, Length
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.answer_panel import ENTER
from fitassist.gui.at_the_end import leaves_padding
from fitassist.gui.fields import LengthField, button, plain_label
from fitassist.wording.fitting_words import choice_text, say
from fitassist.wording.sentences import sentence

FIELD_PT = 16.0
ASIDE = ("ribbon", "exceptions", "skip", "undo", "else", "leave", "padding", "new", "back")


def _side_by_side(widgets: Sequence[QWidget], at_right: Sequence[QWidget] = ()) -> QWidget:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(theme.STEP)
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    for widget in at_right:
        row.addWidget(widget)
    return holder


class _TapeZone(QWidget):
    """Label and field for the tape; Enter goes no further, or it would answer twice."""

    def __init__(self) -> None:
        super().__init__()
        self.field = LengthField(say("tape_reads"))
        self.field.line_edit.installEventFilter(self)
        self._grow()
        label = plain_label(say("tape_reads"))
        label.setBuddy(self.field)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.STEP)
        row.addWidget(label)
        row.addWidget(self.field, 1)

    def _grow(self) -> None:
        font = QFont(self.font())
        font.setPointSizeF(theme.points(FIELD_PT))
        self.field.line_edit.setFont(font)

    def changeEvent(self, event: QEvent) -> None:
        """Keep the field large at any scale."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "field"):
            self._grow()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter end here: the field has taken it."""
        if event.key() in ENTER:
            event.accept()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave undo to the page where the field has nothing of its own to undo."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.matches(QKeySequence.StandardKey.Undo)
            and not self.field.line_edit.isUndoAvailable()
        ):
            event.ignore()
            return True
        return super().eventFilter(watched, event)


class AnswerBar(QFrame):
    """Offers what can be answered to the instruction on screen.

    Signals
    -------
    answered
        An answer.
    typed
        The ``Length`` in the tape's field as it is typed, or None.
    asked
        A way aside by name: ribbon, exceptions, else, back, commit (of what is open), new, padding.
    """

    answered = Signal(object)
    typed = Signal(object)
    asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self._step: Instruction | None = None
        self._unit: AnyUnit = "in"
        self._has_panel = False
        self.tape = _TapeZone()
        self.field = self.tape.field
        self.field.committed.connect(self._on_length)
        self.field.length_changed.connect(self.typed)
        self.primary = button(say("done"), "primary")
        self.primary.clicked.connect(self._on_primary)
        self._zone = QStackedWidget()
        self._zone.addWidget(QWidget())
        self._zone.addWidget(self.tape)
        self._zone.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._others = [button("") for _choice in range(3)]
        for i, other in enumerate(self._others):
            other.clicked.connect(lambda _on=False, i=i: self._choose(i + 1))
        words = {"new": "new_fitting", "padding": "go_on_padding"}
        self._aside = {
            name: button(say(words.get(name, name)), "primary" if name == "padding" else "")
            for name in ASIDE
        }
        for name, made in self._aside.items():
            made.clicked.connect(lambda _on=False, name=name: self._on_aside(name))
        self._message = plain_label(role="error", wraps=True)
        self._message.hide()
        self._lay_out()

    def _lay_out(self) -> None:
        inside = theme.TARGET_BESIDE_FORM - 2 * theme.HALF - 2  # less padding and border
        self.setStyleSheet(f"QPushButton, QLineEdit {{ min-height: {inside}px; }}")
        for made in (self.primary, *self._others, *self._aside.values()):
            made.installEventFilter(self)
        self._near = _side_by_side((self._zone, self.primary, *self._others))
        ways = [
            self._aside[name] for name in ("padding", "new", "back", "exceptions", "ribbon", "skip")
        ]
        further = [self._aside[name] for name in ("undo", "else", "leave")]
        self._far = _side_by_side(ways, further)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._row.setSpacing(theme.STEP)
        self._row.addWidget(self._near)
        self._row.addWidget(self._far, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2, theme.STEP, theme.STEP * 2, theme.STEP))
        column.setSpacing(theme.HALF)
        column.addLayout(self._row)
        column.addWidget(self._message)

    def minimumSizeHint(self) -> QSize:
        """Return room for the wider of the two groups: they can stand below each other."""
        least = super().minimumSizeHint()
        groups = (self._near.minimumSizeHint(), self._far.minimumSizeHint())
        return QSize(max(size.width() for size in groups) + 4 * theme.STEP, least.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the ways aside below where they do not fit beside the answer."""
        super().resizeEvent(event)
        self._turn()

    def _turn(self) -> None:
        across, down = QBoxLayout.Direction.LeftToRight, QBoxLayout.Direction.TopToBottom
        wide = self._near.sizeHint().width() + self._far.sizeHint().width() + 6 * theme.STEP
        fits = wide <= self.width()
        if self._row.direction() != (across if fits else down):
            self._row.setDirection(across if fits else down)
            self.updateGeometry()

    # -- what is offered ----------------------------------------------------------------------

    def show_step(self, step: Instruction, can_undo: bool, unit: AnyUnit) -> None:
        """Offer the answers to an instruction, with nothing typed yet."""
        self._step, self._unit = step, unit
        self._has_panel = False
        self.field.set_unit(unit)
        self.field.clear()
        self.show_message("")
        self._aside["undo"].setEnabled(can_undo)
        self._offer()

    def show_panel(self, commit_text: str) -> None:
        """Offer to take what is gathered in an open panel, or to put it away."""
        self._has_panel = True
        self.primary.setText(commit_text)
        self.primary.setAccessibleName(commit_text)
        self.show_message("")
        self._offer()

    def show_step_again(self) -> None:
        """Offer the answers to the instruction again, with what was typed kept."""
        self._has_panel = False
        self._offer()

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare numbers in another unit."""
        self._unit = unit
        self.field.set_unit(unit)

    def aside(self, name: str) -> QPushButton:
        """Return the button of a way aside."""
        return self._aside[name]

    def others(self) -> tuple[QPushButton, ...]:
        """Return the other answers to a question, as far as there are some."""
        return tuple(other for other in self._others if not other.isHidden())

    def first_widget(self) -> QWidget:
        """Return what should have the focus."""
        measuring = isinstance(self._step, Measure) and not self._has_panel
        if measuring:
            return self.field
        if not self.primary.isHidden():
            return self.primary
        return self._aside["else"]

    def _offer(self) -> None:
        step, panel = self._step, self._has_panel
        kind = step.kind if step is not None else ""
        self._zone.setVisible(kind == "measure" and not panel)
        self._zone.setCurrentIndex(1)
        choices = step.choices if isinstance(step, Ask) and not panel else ()
        for i, other in enumerate(self._others):
            there = len(choices) > i + 1
            other.setVisible(there)
            if there and isinstance(step, Ask):
                other.setText(choice_text(step, choices[i + 1]))
                other.setAccessibleName(other.text())
        self.primary.setVisible(panel or kind != "done")
        if not panel:
            self.primary.setText(self._primary_text(step))
            self.primary.setAccessibleName(self.primary.text())
        ribbon = isinstance(step, Measure) and step.target_mm is not None
        shown = {
            "ribbon": ribbon,
            "exceptions": isinstance(step, SetDials),
            "skip": kind in ("set", "measure", "check"),
            "leave": kind not in ("done", ""),
            "padding": step is not None and leaves_padding(step),
            "new": kind == "done",
            "undo": True,
            "else": True,
        }
        for name, made in self._aside.items():
            made.setVisible(name == "back" if panel else shown.get(name, False))
        self._aside["else"].setText(say("measure_on") if kind == "done" else say("else"))
        self._aside["else"].setAccessibleName(self._aside["else"].text())
        self._turn()

    def _primary_text(self, step: Instruction | None) -> str:
        if isinstance(step, Measure):
            return say("take")
        if isinstance(step, Ask):
            return say("choose_first", words=choice_text(step, step.choices[0]))
        return say("done")

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let a double click answer once: the second would be for the next instruction."""
        if event.type() == QEvent.Type.MouseButtonDblClick:
            return True
        return super().eventFilter(watched, event)

    # -- what is answered ---------------------------------------------------------------------

    def press(self) -> None:
        """Answer as Enter does."""
        if self.primary.isVisible():
            self.primary.click()

    def _on_primary(self) -> None:
        if self._has_panel:
            self.asked.emit("commit")
        elif isinstance(self._step, Measure):
            if not self.field.commit():
                self.field.setFocus(Qt.FocusReason.OtherFocusReason)
        elif isinstance(self._step, Ask):
            self._choose(0)
        elif self._step is not None:
            self.answered.emit(an.Done())

    def _on_length(self, length: Length) -> None:
        self.answered.emit(an.TapeReading(mm=length.mm, text=length.text))

    def _choose(self, place: int) -> None:
        if isinstance(self._step, Ask):
            self.answered.emit(an.Choose(choice=self._step.choices[place]))

    def _on_aside(self, name: str) -> None:
        plain: dict[str, an.Answer] = {"skip": an.Skip(), "undo": an.Undo(), "leave": an.Leave()}
        if name in plain:
            self.answered.emit(plain[name])
        else:
            self.asked.emit(name)

    # -- what went wrong ----------------------------------------------------------------------

    def show_failure(self, error: FitError) -> None:
        """Say in place why an answer was not taken; what was typed stays and can be tried again."""
        text = sentence(error, self._unit)
        if isinstance(self._step, Measure) and self.field.text().strip():
            self.field.mark_uncommitted()
        self.show_message(text)

    def show_message(self, text: str) -> None:
        """Say something under the answers; an empty text goes away."""
        self._message.setText(text)
        self._message.setVisible(bool(text))
        self.setAccessibleDescription(text)

    def message(self) -> str:
        """Return what is said under the answers."""
        return self._message.text()
