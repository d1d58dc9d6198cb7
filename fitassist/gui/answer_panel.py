# SPDX-License-Identifier: MIT
"""What opens beside the sections when one key is not enough to answer; and one such: the ribbon.

A panel only gathers an answer. Enter takes it, Escape puts the panel away, and what is typed moves
the sections before it is taken.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.answers import Ribbon
from fitassist.domain.steps import Measure
from fitassist.domain.units import AnyUnit, Length
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.drawings import DrawingView
from fitassist.gui.fields import LengthField, button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.wording.fitting_words import say
from fitassist.wording.sentences import sentence

PICTURE_HIGH = 60
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def leaves(event: QKeyEvent, left: SignalInstance) -> bool:
    """Leave on Escape; return whether that was the key."""
    if event.key() != Qt.Key.Key_Escape:
        return False
    event.accept()
    left.emit()
    return True


class AnswerPanel(QFrame):
    """Shared by what gathers an answer.

    Signals
    -------
    answered
        The answer, when it was committed and makes sense.
    typed
        Numbers of dials and a reading ``(line, what, mm)``, as far as they are typed; or None.
    closed
        The user would rather not.
    """

    answered = Signal(object)
    typed = Signal(object, object)
    closed = Signal()

    def __init__(self, heading: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setAccessibleName(heading)
        self.unit: AnyUnit = "in"
        self._heading = plain_label(heading, "title", wraps=True)
        self._message = plain_label(role="error", wraps=True)
        self._message.hide()
        self.content = QWidget()
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2, theme.STEP, theme.HALF, theme.STEP))
        column.setSpacing(theme.HALF)
        column.addWidget(self._heading)
        area = scrolling(self.content)
        # The card's own paper shows through.
        clear = "background: transparent; border: none;"
        area.setStyleSheet(f"QScrollArea, QScrollArea > QWidget > QWidget {{ {clear} }}")
        self.content.setProperty("role", "")
        column.addWidget(area, 1)
        column.addWidget(self._message)

    def commit(self) -> None:
        """Take what was gathered, or say what is wrong with it."""
        raise NotImplementedError

    def commit_text(self) -> str:
        """Return what the button says that commits."""
        return say("take")

    def first_widget(self) -> QWidget:
        """Return what should have the focus when the panel opens."""
        raise NotImplementedError

    def set_unit(self, unit: AnyUnit) -> None:
        """Take lengths in another unit."""
        self.unit = unit

    def show_message(self, text: str) -> None:
        """Say something at the foot of the panel; an empty text goes away."""
        self._message.setText(text)
        self._message.setVisible(bool(text))
        self.setAccessibleDescription(text)

    def message(self) -> str:
        """Return what is said at the foot."""
        return self._message.text()

    def show_failure(self, error: FitError) -> None:
        """Say why an answer was not taken; all that was typed stays."""
        self.show_message(sentence(error, self.unit))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter commits or presses the button that has the focus; Escape puts the panel away."""
        if event.key() in ENTER:
            event.accept()
            here = QApplication.focusWidget()
            if event.isAutoRepeat() or here is None or not self.isAncestorOf(here):
                return
            if isinstance(here, QPushButton):
                here.click()
            else:
                self.commit()
        elif event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


class RibbonPanel(AnswerPanel):
    """A ribbon of the target's length round the form: its marks do not meet, overlap, or meet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(say("ribbon_ask"), parent)
        self._step: Measure | None = None
        self._group = QButtonGroup(self)
        self._marks: dict[str, QPushButton] = {}
        grid = QGridLayout(self.content)
        grid.setContentsMargins(0, 0, theme.STEP, 0)
        grid.setSpacing(theme.STEP)
        for row, (key, drawing) in enumerate(
            (("apart", "ribbon_apart"), ("overlap", "ribbon_overlap"), ("meet", ""))
        ):
            words = say(f"ribbon_{key}")
            made = button(words)
            made.setCheckable(True)
            made.clicked.connect(self._on_marks)
            self._group.addButton(made)
            self._marks[key] = made
            grid.addWidget(made, row, 0)
            if drawing:
                picture = DrawingView(drawing, description=words)
                picture.setFixedSize(2 * PICTURE_HIGH, PICTURE_HIGH)
                grid.addWidget(picture, row, 1)
        self.field = LengthField(say("ribbon_by"))
        self.field.length_changed.connect(self._on_typed)
        by = QHBoxLayout()
        by.setSpacing(theme.STEP)
        self._by = plain_label(say("ribbon_by"), "label")
        by.addWidget(self._by)
        by.addWidget(self.field, 1)
        grid.addLayout(by, 3, 0, 1, 2)
        grid.addWidget(plain_label(say("ribbon_hint"), "note", wraps=True), 4, 0, 1, 2)
        grid.setRowStretch(5, 1)
        grid.setColumnStretch(1, 1)

    def begin(self, step: Measure) -> None:
        """Ask about one instruction."""
        self._step = step
        self.show_message("")
        self.field.clear()
        self._marks["apart"].setChecked(True)
        self._on_marks()

    def marks_button(self, key: str) -> QPushButton:
        """Return the button of a choice: apart, overlap or meet."""
        return self._marks[key]

    def set_unit(self, unit: AnyUnit) -> None:
        """Take lengths in another unit."""
        super().set_unit(unit)
        self.field.set_unit(unit)

    def first_widget(self) -> QWidget:
        """Return the first choice."""
        return self._marks["apart"]

    def _chosen(self) -> str:
        return next((key for key, made in self._marks.items() if made.isChecked()), "apart")

    def _on_marks(self) -> None:
        needs_amount = self._chosen() != "meet"
        for widget in (self._by, self.field):
            widget.setVisible(needs_amount)
        if needs_amount and self.isVisible():
            self.field.setFocus()
        self._on_typed(self.field.length())

    def _on_typed(self, length: Length | None) -> None:
        step, marks = self._step, self._chosen()
        if step is None or step.target_mm is None:
            return
        by = 0.0 if marks == "meet" else (length.mm if length is not None else None)
        if by is None:
            self.typed.emit(None, None)
            return
        mm = step.target_mm + (by if marks == "apart" else -by)
        self.typed.emit(None, (step.line, step.what, mm) if mm > 0 else None)

    def commit(self) -> None:
        """Take what the marks say."""
        marks = self._chosen()
        if marks == "meet":
            self.answered.emit(Ribbon(marks="apart", by_mm=0.0))
            return
        if not self.field.commit():
            self.field.setFocus()
            return
        length = self.field.length()
        assert length is not None
        self.answered.emit(
            Ribbon(
                marks="apart" if marks == "apart" else "overlap",
                by_mm=length.mm,
                text=self.field.text(),
            )
        )
