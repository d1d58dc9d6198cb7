# SPDX-License-Identifier: MIT
"""What a new form can begin from, and the way to choosing one before it is bought."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from fitassist.domain.form import Form
from fitassist.gui import form_draft, theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import ShortButton
from fitassist.wording.describing_words import say as say_describing
from fitassist.wording.offer_words import say as say_offer
from fitassist.wording.pages import say


class FormBeginnings(QWidget):
    """A button for each ready form and for one of another kind.

    Signals
    -------
    begun
        The ``Form`` to begin from.
    describe_asked
        A form nobody knows is to be described, one question at a time.
    choose_asked
        Nothing of them: a form is still to be bought.
    """

    begun = Signal(object)
    describe_asked = Signal()
    choose_asked = Signal()

    def __init__(self, ready: Sequence[Form], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("form.begin_from"), "label"))
        self._buttons: list[QPushButton] = []
        found = [(form.name, form) for form in ready]
        found.append((say("form.blank"), form_draft.blank_form(say("form.blank_name"))))
        for name, form in found:
            made = ShortButton(name, f"{say('form.begin_from')}: {name}")
            made.clicked.connect(lambda _on=False, form=form: self.begun.emit(form))
            self._buttons.append(made)
            column.addWidget(made)
        self.describe = button(say_describing("open"), "link")
        self.describe.clicked.connect(self.describe_asked)
        column.addWidget(self.describe, 0, Qt.AlignmentFlag.AlignLeft)
        self.choose = button(say_offer("open"), "link")
        self.choose.clicked.connect(self.choose_asked)
        column.addWidget(self.choose, 0, Qt.AlignmentFlag.AlignLeft)

    def button(self, index: int) -> QPushButton:
        """Return the button of one of the beginnings, in their order."""
        return self._buttons[index]
