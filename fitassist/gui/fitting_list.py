# SPDX-License-Identifier: MIT
"""Behind the instruction: what comes next and why, and what is worth knowing meanwhile."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from fitassist.domain.form import Form
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import clear_layout
from fitassist.session.view import FittingView
from fitassist.wording import reasons
from fitassist.wording.fitting_words import coming_title, say
from fitassist.wording.language import capital
from fitassist.wording.numbers import number_text
from fitassist.wording.places import dial_name, line_name, row_name


class FittingList(QWidget):
    """The next few things, each with its reason in one short sentence.

    Signals
    -------
    free_asked
        The name of a stuck dial that is said to turn again.
    never_asked
        What this form cannot do is to be shown again.
    """

    free_asked = Signal(str)
    never_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: list[str] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)

    def show_view(
        self, view: FittingView, form: Form, unit: AnyUnit, *, offer_never: bool = False
    ) -> None:
        """Show what follows the instruction of a view."""
        clear_layout(self._column)
        self._lines = []
        self._say(say("next"), "title")
        for note in view.notes:
            if note.code == "reordered":
                self._say(say("reordered", place=line_name(note.line)), "note")
            else:
                self._say(reasons.note(note, unit), "note")
        for number, coming in enumerate(view.upcoming, 1):
            self._gap()
            self._say(
                f"{number}  {coming_title(coming.kind, coming.place, coming.values, form)}", ""
            )
            why = reasons.reason(coming.reason, unit)
            if why:
                self._say(why, "note")
        if not view.upcoming:
            ended = view.instruction.kind == "done"
            self._say(say("next_done") if ended else say("next_none"), "quiet")
        for pair in view.symmetry:
            self._gap()
            self._say(
                say(
                    "symmetry",
                    row=capital(row_name(pair.row, form)),
                    left=number_text(pair.left, form),
                    right=number_text(pair.right, form),
                ),
                "note",
            )
        for dial in view.stuck:
            self._gap()
            spoken = capital(dial_name(dial, form))
            self._say(say("volunteer_stuck", dial=spoken), "note")
            again = self._link(say("stuck_again"), f"{spoken}: {say('stuck_again')}")
            again.clicked.connect(lambda _on=False, dial=dial: self.free_asked.emit(dial))
        if offer_never:
            self._gap()
            self._link(say("never_show")).clicked.connect(self.never_asked)
        self._column.addStretch(1)

    def lines(self) -> tuple[str, ...]:
        """Return what is said, line by line."""
        return tuple(self._lines)

    def _say(self, text: str, role: str) -> None:
        self._lines.append(text)
        self._column.addWidget(plain_label(text, role, wraps=True))

    def _gap(self) -> None:
        self._column.addSpacing(theme.HALF)

    def _link(self, text: str, name: str = "") -> QPushButton:
        made = button(text, "link", name)
        self._column.addWidget(made)
        return made
