# SPDX-License-Identifier: MIT
"""Fields that keep what was typed, say the other unit beside it and complain quietly under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from fitassist.domain.units import AnyUnit, Length, Unit, parse_length, parse_number
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.flow import FlowLayout
from fitassist.wording.lengths import say_length
from fitassist.wording.sentences import sentence

LENGTH_CHARACTERS = 13  # room for "38 15/16 in"
NUMBER_CHARACTERS = 7
ASIDE_CHARACTERS = 11


def plain_label(text: str = "", role: str = "", wraps: bool = False) -> QLabel:
    """Return a label that never reads its text as anything but text."""
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setText(text)
    label.setWordWrap(wraps)
    if role:
        label.setProperty("role", role)
    return label


def button(text: str, role: str = "", name: str = "") -> QPushButton:
    """Return a push button with a role of the style sheet and a name for screen readers."""
    made = QPushButton(text.replace("&", "&&"))
    made.setAutoDefault(False)
    made.setAccessibleName(name or text)
    if role:
        made.setProperty("role", role)
    return made


class _Line(QLineEdit):
    """A line edit that tells when the focus comes and goes, and selects what it holds."""

    entered = Signal()
    left = Signal()

    def __init__(self, characters: int) -> None:
        super().__init__()
        self._characters = characters
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return room for so many figures at the size of type in use."""
        hint = super().sizeHint()
        figure = self.fontMetrics().horizontalAdvance("0")
        return QSize(figure * self._characters + 2 * theme.STEP + theme.HALF, hint.height())

    def minimumSizeHint(self) -> QSize:
        """Return the same: a length is never cut off."""
        return self.sizeHint()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that the focus came."""
        super().focusInEvent(event)
        self.entered.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the focus went, but not to a menu of the field itself."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()


class _Field(QWidget):
    """Line edit, quiet aside and the sentence under them; what the text means is a subclass's.

    Signals
    -------
    entered
        The focus came into the field.
    emptied
        The field was left, or Enter pressed, with nothing in it where something had been.
    """

    entered = Signal()
    emptied = Signal()

    def __init__(
        self, name: str, characters: int, commit_on_leave: bool, parent: QWidget | None
    ) -> None:
        super().__init__(parent)
        self._commit_on_leave = commit_on_leave
        self._committed_text = ""
        self._edit = _Line(characters)
        self._edit.setAccessibleName(name)
        self._aside = plain_label(role="quiet")
        self._error = plain_label(role="error", wraps=True)
        self._error.hide()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.STEP)
        grid.setVerticalSpacing(theme.HALF)
        grid.addWidget(self._edit, 0, 0)
        grid.addWidget(self._aside, 0, 1)
        grid.addWidget(self._error, 1, 0, 1, 2)
        grid.setColumnStretch(1, 1)
        self.setFocusProxy(self._edit)
        self._edit.textChanged.connect(self._on_text_changed)
        self._edit.returnPressed.connect(self._on_return)
        self._edit.entered.connect(self.entered)
        self._edit.left.connect(self._on_left)

    @property
    def line_edit(self) -> QLineEdit:
        """The line edit inside, for completers, buddies and tests."""
        return self._edit

    def text(self) -> str:
        """Return what is typed, exactly."""
        return self._edit.text()

    def set_text(self, text: str) -> None:
        """Show a text that counts as already taken: leaving the field commits nothing."""
        self._committed_text = text
        self._edit.setText(text)
        self.show_error("")

    def clear(self) -> None:
        """Empty the field."""
        self.set_text("")

    def set_read_only(self, is_read_only: bool) -> None:
        """Show, but take nothing."""
        self._edit.setReadOnly(is_read_only)
        self._edit.style().unpolish(self._edit)
        self._edit.style().polish(self._edit)

    def show_error(self, text: str) -> None:
        """Put a sentence under the field, also as its description; an empty one goes away."""
        self._error.setText(text)
        self._error.setVisible(bool(text))
        self._edit.setAccessibleDescription(text)

    def error_text(self) -> str:
        """Return the sentence under the field."""
        return self._error.text()

    def commit(self) -> bool:
        """Take what is typed as meant; return whether it could be understood."""
        raise NotImplementedError

    def commit_pending(self) -> None:
        """Take what was typed and not yet taken, as leaving the field would."""
        if self._commit_on_leave and self.text().strip() and self.text() != self._committed_text:
            self.commit()

    def mark_committed(self) -> None:
        """Remember that the text as it stands was taken."""
        self._committed_text = self.text()

    def mark_uncommitted(self) -> None:
        """Remember that the text as it stands could not be kept, so that it can be tried again."""
        self._committed_text = ""

    def _on_return(self) -> None:
        if not self._tell_emptied():
            self.commit()

    def _tell_emptied(self) -> bool:
        """Tell that the field was emptied, to those who asked to know."""
        has_listeners = self.receivers("2emptied()") > 0
        if self.text().strip() or not self._committed_text or not has_listeners:
            return False
        self.show_error("")
        self._committed_text = ""
        self.emptied.emit()
        return True

    def _on_left(self) -> None:
        if not self.text().strip():
            self.show_error("")
            self._tell_emptied()
        else:
            self.commit_pending()

    def _on_text_changed(self) -> None:
        raise NotImplementedError


class LengthField(_Field):
    """A length in any writing; the other unit stands beside it.

    Signals
    -------
    length_changed
        On each change: the ``Length``, or None while it cannot be understood.
    committed
        The ``Length``, on Enter (and on leaving the field, where that was asked for).
    """

    length_changed = Signal(object)
    committed = Signal(object)

    def __init__(
        self,
        name: str,
        unit: AnyUnit = Unit.IN,
        commit_on_leave: bool = False,
        parent: QWidget | None = None,
        *,
        allow_zero: bool = False,
    ) -> None:
        super().__init__(name, LENGTH_CHARACTERS, commit_on_leave, parent)
        self._unit = Unit(unit)
        self._allow_zero = allow_zero
        self._length: Length | None = None
        self._keep_in_line()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger type."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._keep_in_line()

    def _keep_in_line(self) -> None:
        # Columns of fields stay in line, whatever stands beside them.
        self._aside.setMinimumWidth(theme.characters(ASIDE_CHARACTERS))

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare numbers in this unit; what was typed stays, its meaning is worked out anew."""
        self._unit = Unit(unit)
        self._on_text_changed()

    @property
    def unit(self) -> Unit:
        """The unit a bare number is read in."""
        return self._unit

    def length(self) -> Length | None:
        """Return what the text means, or None."""
        return self._length

    def commit(self) -> bool:
        """Emit the length, or say under the field what is wrong; the text stays either way."""
        try:
            length = parse_length(self.text(), self._unit, allow_zero=self._allow_zero)
        except FitError as error:
            self.show_error(sentence(error, self._unit))
            return False
        self.show_error("")
        self.mark_committed()
        self.committed.emit(length)
        return True

    def _on_text_changed(self) -> None:
        try:
            self._length = parse_length(self.text(), self._unit, allow_zero=self._allow_zero)
        except FitError:
            self._length = None
        if self._length is None:
            self._aside.setText("")
        else:
            other = Unit.CM if self._length.unit is Unit.IN else Unit.IN
            self._aside.setText("= " + say_length(self._length.mm, other))
        if self._length is not None or not self.text().strip():
            self.show_error("")
        self.length_changed.emit(self._length)


class NumberField(_Field):
    """A printed number of a dial: whole, with a fraction, or decimal.

    Signals
    -------
    number_changed
        On each change: the number, or None while it cannot be understood.
    committed
        The number, on Enter (and on leaving the field, where that was asked for).
    """

    number_changed = Signal(object)
    committed = Signal(float)

    def __init__(
        self,
        name: str,
        check: Callable[[float], str] | None = None,
        commit_on_leave: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(name, NUMBER_CHARACTERS, commit_on_leave, parent)
        self._check = check or (lambda _number: "")
        self._number: float | None = None
        self._aside.hide()

    def number(self) -> float | None:
        """Return what the text means, or None."""
        return self._number

    def commit(self) -> bool:
        """Emit the number, or say under the field what is wrong; the text stays either way."""
        try:
            number = parse_number(self.text())
        except FitError as error:
            self.show_error(sentence(error))
            return False
        complaint = self._check(number)
        self.show_error(complaint)
        if complaint:
            return False
        self.mark_committed()
        self.committed.emit(number)
        return True

    def _on_text_changed(self) -> None:
        try:
            self._number = parse_number(self.text())
        except FitError:
            self._number = None
        self.show_error("")
        self.number_changed.emit(self._number)


class ChoiceRow(QWidget):
    """A few choices side by side, one of them chosen; arrow keys move between them.

    Signals
    -------
    chosen
        The key of the choice, when the user changes it.
    """

    chosen = Signal(str)

    def __init__(
        self, name: str, choices: Sequence[tuple[str, str]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._buttons: dict[str, QPushButton] = {}
        row = FlowLayout(self)
        for key, text in choices:
            made = button(text, "choice", f"{name}: {text}")
            made.setCheckable(True)
            if not self._buttons:
                made.setProperty("end", "first")
            made.clicked.connect(lambda _on=False, key=key: self.chosen.emit(key))
            self._group.addButton(made)
            self._buttons[key] = made
            row.addWidget(made)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)  # at large type the choices go on in a new line
        self.setSizePolicy(policy)
        if choices:
            self.set_value(choices[0][0])

    def value(self) -> str:
        """Return the key of the choice."""
        return next((key for key, made in self._buttons.items() if made.isChecked()), "")

    def set_value(self, key: str) -> None:
        """Choose without telling."""
        if key in self._buttons:
            self._buttons[key].setChecked(True)
            self.setFocusProxy(self._buttons[key])

    def mark_first(self, key: str) -> None:
        """Draw the left edge of the first choice that is shown."""
        for name, made in self._buttons.items():
            made.setProperty("end", "first" if name == key else "")
            made.style().unpolish(made)
            made.style().polish(made)
            made.updateGeometry()

    def choice(self, key: str) -> QPushButton:
        """Return the button of a choice."""
        return self._buttons[key]
