# SPDX-License-Identifier: MIT
"""Beside the list: what is known of the person chosen there, and the few things to do."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.people_model import fitting_text
from fitassist.gui.people_ports import PersonRow
from fitassist.session.people_import import clean_tags
from fitassist.wording.pages import say as page_say
from fitassist.wording.people_words import day_text, say
from fitassist.wording.sentences import sentence

WIDTH = 320


class _Ask(QFrame):
    """A sentence and the buttons that answer it."""

    def __init__(self, ways: Mapping[str, SignalInstance]) -> None:
        super().__init__()
        self.setProperty("role", "ask")
        self._text = plain_label(wraps=True)
        box = QVBoxLayout(self)
        box.setContentsMargins(*(theme.STEP,) * 4)
        box.addWidget(self._text)
        self.ways: list[QPushButton] = []
        for words, told in ways.items():
            way = button(words)
            way.clicked.connect(lambda _on=False, told=told: told.emit())
            box.addWidget(way)
            self.ways.append(way)
        self.hide()

    def ask(self, text: str) -> None:
        """Ask; an empty text goes away."""
        self._text.setText(text)
        self.setVisible(bool(text))


class PersonCard(QFrame):
    """One person: facts, tags, and what can be done.

    Signals
    -------
    open_asked, history_asked, states_asked, copies_asked, together_asked, out_asked, copy_asked
        The user wants to open the record, or one of the panels about it.
    tagged, put_away_asked
        The tags to keep; whether to put away (True) or bring back.
    confirmed, apart_asked
        What to do about a record taken in.
    erase_sure
        The user has said twice that the person is to be erased.
    """

    open_asked = Signal()
    history_asked = Signal()
    states_asked = Signal()
    copies_asked = Signal()
    together_asked = Signal()
    out_asked = Signal()
    copy_asked = Signal()
    tagged = Signal(tuple)
    put_away_asked = Signal(bool)
    confirmed = Signal()
    apart_asked = Signal()
    erase_sure = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self._person: PersonRow | None = None
        self._name = plain_label(role="title", wraps=True)
        self._facts = plain_label(role="quiet", wraps=True)
        self.said_label = plain_label(role="quiet", wraps=True)
        self.open_button = button(page_say("people.open"), "primary")
        self.open_button.clicked.connect(self.open_asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        column.addWidget(self._name)
        column.addWidget(self._facts)
        column.addWidget(self.said_label)
        column.addWidget(self.open_button)
        self.copies_ask = _Ask({say("copies_look"): self.copies_asked})
        self.holds_ask = _Ask(
            {say("holds_confirm"): self.confirmed, say("holds_apart"): self.apart_asked}
        )
        column.addWidget(self.copies_ask)
        column.addWidget(self.holds_ask)
        column.addWidget(self._build_tags())
        column.addWidget(self._build_ways())
        column.addWidget(self._build_erasing())
        column.addStretch(1)
        self.show_person(None)

    # -- building -----------------------------------------------------------------------------

    def _build_tags(self) -> QWidget:
        self._tags_box = QWidget()
        label = plain_label(say("tags"), "label")
        self.tags_edit = QLineEdit()
        self.tags_edit.setAccessibleName(say("tags"))
        self.tags_edit.textChanged.connect(self._on_tags)
        self.tags_edit.returnPressed.connect(self._keep_tags)
        label.setBuddy(self.tags_edit)
        self.keep_tags = button(say("keep_tags"))
        self.keep_tags.clicked.connect(self._keep_tags)
        box = QVBoxLayout(self._tags_box)
        box.setContentsMargins(0, theme.STEP, 0, 0)
        box.setSpacing(theme.HALF)
        box.addWidget(label)
        box.addWidget(self.tags_edit)
        box.addWidget(self.keep_tags)
        return self._tags_box

    def _build_ways(self) -> QWidget:
        self._ways = QWidget()
        self.away_button = button(say("put_away"), "link")
        self.away_button.setToolTip(say("put_away_why"))
        self.away_button.clicked.connect(self._on_away)
        self.copy_button = button(say("copy"), "link")
        self.copy_button.clicked.connect(self.copy_asked)
        self.together_button = button(say("together"), "link")
        self.together_button.clicked.connect(self.together_asked)
        self.history_button = button(say("history"), "link")
        self.history_button.clicked.connect(self.history_asked)
        self.states_button = button(say("states"), "link")
        self.states_button.clicked.connect(self.states_asked)
        self.out_button = button(say("take_out"), "link")
        self.out_button.clicked.connect(self.out_asked)
        box = QVBoxLayout(self._ways)
        box.setContentsMargins(0, theme.STEP, 0, 0)
        box.setSpacing(0)
        for one in (
            self.history_button,
            self.states_button,
            self.together_button,
            self.copy_button,
            self.out_button,
            self.away_button,
        ):
            box.addWidget(one)
        return self._ways

    def _build_erasing(self) -> QWidget:
        self._erasing = QFrame()
        self._erasing.setProperty("role", "ask")
        self._erase_text = plain_label(wraps=True)
        self.keep_button = button(page_say("people.erase_no"))
        self.keep_button.clicked.connect(self.stop_erasing)
        self.erase_yes = button(page_say("people.erase_yes"), "link")
        self.erase_yes.clicked.connect(self.erase_sure)
        row = QHBoxLayout()
        row.addWidget(self.keep_button)
        row.addStretch(1)
        row.addWidget(self.erase_yes)
        box = QVBoxLayout(self._erasing)
        box.setContentsMargins(*(theme.STEP,) * 4)
        box.addWidget(self._erase_text)
        box.addLayout(row)
        self._erasing.hide()
        self.erase_button = button(page_say("people.erase"), "link")
        self.erase_button.clicked.connect(self._ask_erase)
        whole = QWidget()
        both = QVBoxLayout(whole)
        both.setContentsMargins(0, theme.STEP, 0, 0)
        both.addWidget(self._erasing)
        both.addWidget(self.erase_button)
        return whole

    # -- what is shown ------------------------------------------------------------------------

    @property
    def person(self) -> PersonRow | None:
        """The person that is shown, or None."""
        return self._person

    def show_person(self, person: PersonRow | None) -> None:
        """Show a person, or that nobody is chosen."""
        self._person = person
        self.stop_erasing()
        is_sound = person is not None and person.problem is None
        self._name.setText(person.name if person else say("nobody"))
        self._facts.setText(facts_text(person) if person and is_sound else "")
        self._facts.setVisible(bool(self._facts.text()))
        self.say(sentence(person.problem) if person and person.problem else "")
        self._tags_box.setVisible(is_sound)
        self.open_button.setEnabled(is_sound)
        for way in self._ways.findChildren(QPushButton):
            way.setVisible(is_sound or way is self.states_button)
        self._ways.setVisible(person is not None)
        self.erase_button.setVisible(person is not None)
        self.tags_edit.setText(", ".join(person.tags) if person else "")
        is_away = person is not None and person.archived
        self.away_button.setText(say("bring_back") if is_away else say("put_away"))
        copies = len(person.copies) if person else 0
        self.copies_ask.ask(say("copies_here", n=copies) if copies else "")
        self.holds_ask.ask(say("holds") if person and person.holds else "")
        self._on_tags()

    def say(self, text: str) -> None:
        """Say something under the facts; an empty text goes away."""
        self.said_label.setText(text)
        self.said_label.setVisible(bool(text))

    # -- what is done -------------------------------------------------------------------------

    def _on_tags(self) -> None:
        kept = self._person.tags if self._person else ()
        self.keep_tags.setEnabled(self._typed_tags() != kept)

    def _typed_tags(self) -> tuple[str, ...]:
        return clean_tags(self.tags_edit.text().split(","))

    def _keep_tags(self) -> None:
        if self.keep_tags.isEnabled():
            self.tagged.emit(self._typed_tags())

    def _on_away(self) -> None:
        if self._person is not None:
            self.put_away_asked.emit(not self._person.archived)

    def _ask_erase(self) -> None:
        if self._person is None:
            return
        self._erase_text.setText(page_say("people.erase_ask", name=self._person.name))
        self._erasing.show()
        self.erase_button.hide()
        self.keep_button.setFocus()

    def stop_erasing(self) -> None:
        """Take the question back."""
        self._erasing.hide()
        self.erase_button.setVisible(self._person is not None)


def facts_text(person: PersonRow) -> str:
    """Return when somebody was measured and fitted, a line each."""
    measured = (
        say("measured_on", day=day_text(person.last_measured))
        if person.last_measured
        else say("never_measured")
    )
    fitted = say("never_fitted")
    if person.last_fitted:
        day = day_text(person.last_fitted)
        fitted = say("fitted_on", day=day, state=fitting_text(person))
    return f"{measured}\n{fitted}"
