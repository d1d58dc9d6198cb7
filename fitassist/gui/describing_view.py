# SPDX-License-Identifier: MIT
"""An unknown form described one question at a time; each answer is kept with the form at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from fitassist.domain.form import Form
from fitassist.domain.person_name import clean_name
from fitassist.domain.units import AnyUnit, Length, format_length, format_number
from fitassist.errors import FitError
from fitassist.gui import form_draft, theme
from fitassist.gui.answer_panel import ENTER, leaves
from fitassist.gui.drawings import DrawingView
from fitassist.gui.fields import LengthField, NumberField, button, plain_label
from fitassist.gui.folds import clear_layout, scrolling, show_all
from fitassist.gui.form_questions import (
    Question,
    answered,
    last_question,
    lesson_question,
    questions,
)
from fitassist.wording.describing_words import say
from fitassist.wording.pages import form_refusal
from fitassist.wording.sentences import sentence

WIDTH = 640
PICTURE_WIDTH, PICTURE_HIGH = 300, 420
USUAL_LESSONS = 4  # how many come after the questions is known only from the answers


class Lesson(Protocol):
    """One reading that teaches: a row at some numbers, and the line to read."""

    @property
    def row(self) -> str:
        """The row whose dials are set."""

    @property
    def line(self) -> str:
        """The line that is read."""

    @property
    def numbers(self) -> dict[str, float]:
        """Where every dial is to stand."""


NextLesson = Callable[[Form], "Lesson | None"]


class DescribingView(QWidget):
    """Asks, keeps, and goes on; back and leaving lose nothing.

    Parameters
    ----------
    current
        Gives the form as it is now; a fitting may move its dials between two answers.
    keep
        Keeps a changed form and says whether that worked.
    next_lesson
        Which reading would teach most about a form; None when none is worth a walk.

    Signals
    -------
    left
        The user has enough, or is through.
    """

    left = Signal()

    def __init__(
        self,
        current: Callable[[], Form],
        unit: AnyUnit,
        keep: Callable[[Form], bool],
        next_lesson: NextLesson,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self._current, self._unit = current, unit
        self._keep, self._next_lesson = keep, next_lesson
        self._number = 0
        self._lesson: Lesson | None = None  # asked once the questions are through; none: the end
        self._where = plain_label(role="quiet")
        self._title = plain_label(role="heading", wraps=True)
        self._why = plain_label(wraps=True)
        self._error = plain_label(role="error", wraps=True)
        self._answers = QVBoxLayout()
        self._answers.setSpacing(theme.STEP)
        self._picture = DrawingView("", theme.palette())
        self.go_on = button(say("next"), "primary")
        self.go_on.clicked.connect(self._on_next)
        self.back = button(say("back"))
        self.back.clicked.connect(self._on_back)
        self.skip = button(say("skip"))
        self.skip.clicked.connect(self._on_skip)
        self.leave = button(say("leave"), "link")
        self.leave.clicked.connect(self.left)
        self._group: QButtonGroup | None = None
        self._text: QLineEdit | None = None
        self._numbers: tuple[NumberField, ...] = ()
        self._length: LengthField | None = None
        self._lay_out()
        self._show()

    def _lay_out(self) -> None:
        words = QWidget()
        theme.at_most(words, WIDTH)
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        for widget in (self._where, self._title, self._why):
            column.addWidget(widget)
        column.addSpacing(theme.STEP)
        column.addLayout(self._answers)
        column.addWidget(self._error)
        column.addStretch(1)
        self._picture.setFixedSize(PICTURE_WIDTH, PICTURE_HIGH)
        inside = QWidget()
        row = QHBoxLayout(inside)
        row.setContentsMargins(*(theme.MARGIN,) * 4)
        row.setSpacing(theme.MARGIN * 2)
        row.addWidget(words, 1)
        row.addWidget(self._picture, 0, Qt.AlignmentFlag.AlignTop)
        row.addStretch(1)
        foot = QHBoxLayout()
        foot.setContentsMargins(theme.MARGIN, theme.STEP, theme.MARGIN, theme.STEP * 2)
        foot.setSpacing(theme.STEP)
        for made in (self.go_on, self.back, self.skip):
            foot.addWidget(made)
        foot.addWidget(plain_label(say("kept"), "note", wraps=True), 1)
        foot.addWidget(self.leave)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scrolling(inside), 1)
        whole.addLayout(foot)

    # -- what is shown ------------------------------------------------------------------------

    @property
    def question(self) -> Question:
        """The question on screen."""
        asked = questions(self.form)
        if self._number < len(asked):
            return asked[self._number]
        lesson = self._lesson
        if lesson is None:
            return last_question()
        return lesson_question(self.form, lesson.row, lesson.line, lesson.numbers)

    @property
    def form(self) -> Form:
        """The form as described so far."""
        return self._current()

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare lengths in another unit."""
        self._unit = unit
        if self._length is not None:
            self._length.set_unit(unit)

    def error_text(self) -> str:
        """Return what is said under the answers."""
        return self._error.text()

    def choose(self, key: str) -> None:
        """Choose one of the answers, as a click would."""
        assert self._group is not None
        for made in self._group.buttons():
            if made.property("key") == key:
                made.setChecked(True)

    def _show(self) -> None:
        one = self.question
        many = len(questions(self.form)) + USUAL_LESSONS
        self._where.setText(say("where", number=self._number + 1, many=many))
        self._where.setVisible(one.kind != "end")
        self._title.setText(one.title)
        self._why.setText(one.why)
        self._error.clear()
        self._error.hide()
        self._picture.show_drawing(one.drawing, one.title)
        self._build(one)
        self.back.setEnabled(self._number > 0)
        self.skip.setVisible(one.kind != "end")
        self.go_on.setText(say("finish" if one.kind == "end" else "next"))
        self.go_on.setAccessibleName(self.go_on.text())
        self.setAccessibleName(one.title)
        if self.isVisible():
            said = QAccessibleAnnouncementEvent(self, f"{one.title} {one.why}")
            QAccessible.updateAccessibility(said)
        self._focus()

    def _build(self, one: Question) -> None:
        clear_layout(self._answers)
        self._group, self._text, self._numbers, self._length = None, None, (), None
        if one.kind == "choice":
            self._group = QButtonGroup(self)
            for key, words in one.choices:
                made = QRadioButton(words)
                made.setProperty("key", key)
                made.setChecked(key == one.now)
                self._group.addButton(made)
                self._answers.addWidget(made)
        elif one.kind == "text":
            self._text = QLineEdit(str(one.now))
            self._text.setAccessibleName(one.title)
            self._answers.addWidget(self._text)
        elif one.kind == "range":
            self._build_range(one)
        elif one.kind == "girth":
            self._length = LengthField(say("girth.length"), self._unit)
            if one.now is not None:
                self._length.set_text(f"{format_length(one.now, self._unit, 16)} {self._unit}")
            self._answers.addWidget(plain_label(say("girth.length"), "label"))
            self._answers.addWidget(self._length)
        show_all(self._answers)

    def _build_range(self, one: Question) -> None:
        fields = []
        for key, value in zip(("least", "greatest", "click"), one.now, strict=True):
            field = NumberField(say(f"range.{key}"))
            field.set_text("" if value is None else format_number(value, self.form.units))
            self._answers.addWidget(plain_label(say(f"range.{key}"), "label"))
            self._answers.addWidget(field)
            fields.append(field)
        self._numbers = tuple(fields)

    def _focus(self) -> None:
        first: QWidget = self.go_on
        if self._text is not None:
            first = self._text
        elif self._numbers:
            first = self._numbers[0]
        elif self._length is not None:
            first = self._length
        elif self._group is not None:
            first = self._group.checkedButton() or self._group.buttons()[0]
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- what is answered ---------------------------------------------------------------------

    def _on_next(self) -> None:
        one = self.question
        if one.kind == "end":
            self.left.emit()
            return
        try:
            answer = self._answer()
            if answer is None:
                return
            form = self._with_lesson(answer) if one.key == "lesson" else None
            form = form or answered(self.form, one, answer)
        except FitError as error:
            known = error.code.startswith("form_")
            self._say(form_refusal(error.code) if known else sentence(error, self._unit))
            return
        if self._keep(form):
            self._go(self._number + 1)

    def _answer(self) -> Any:
        """Return what is answered, or None once it was said why it is no answer."""
        if self._group is not None:
            chosen = self._group.checkedButton()
            return chosen.property("key") if chosen is not None else self._on_skip()
        if self._text is not None:
            return clean_name(self._text.text())
        if self._numbers:
            click = self._numbers[2]
            for field in self._numbers[:2] if not click.text().strip() else self._numbers:
                if not field.commit():
                    return None
            return tuple(field.number() for field in self._numbers)
        assert self._length is not None
        length: Length | None = self._length.length() if self._length.commit() else None
        return length.mm if length is not None else None

    def _with_lesson(self, mm: float) -> Form:
        assert self._lesson is not None
        there = self.form.at(self._lesson.numbers)
        read = form_draft.with_known_girth(there, self._lesson.line, mm)
        return form_draft.closed(read)

    def _on_skip(self) -> None:
        if self.question.key == "lesson":
            self._lesson = None  # who skips one lesson wants no other
            self._show()
        else:
            self._go(self._number + 1)

    def _on_back(self) -> None:
        self._go(min(self._number, len(questions(self.form))) - 1)

    def go_to_lessons(self) -> None:
        """Ask only for readings that teach how the form opens."""
        self._go(len(questions(self.form)))

    def _go(self, number: int) -> None:
        self._number = max(number, 0)
        if self._number >= len(questions(self.form)):
            self._lesson = self._next_lesson(self.form)
        self._show()

    def _say(self, text: str) -> None:
        self._error.setText(text)
        self._error.setVisible(bool(text))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus, or goes on; Escape leaves."""
        if leaves(event, self.left):
            return
        if event.key() in ENTER and not event.isAutoRepeat():
            event.accept()
            here = QApplication.focusWidget()
            (here if isinstance(here, QPushButton) else self.go_on).click()
        else:
            super().keyPressEvent(event)
