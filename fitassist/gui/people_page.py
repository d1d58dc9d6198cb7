# SPDX-License-Identifier: MIT
"""The people kept here: find one among thousands, begin one, open one, and all that is rarer."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import at_left, scrolling
from fitassist.gui.naming_card import NamingCard
from fitassist.gui.people_list import PeopleList
from fitassist.gui.people_panel import PeoplePanel
from fitassist.gui.people_ports import PeopleDesk, PeopleListed
from fitassist.gui.person_card import WIDTH as CARD_WIDTH
from fitassist.gui.person_card import PersonCard
from fitassist.gui.slices import SLICE_S, Slices
from fitassist.wording.pages import say
from fitassist.wording.people_words import say as people_say
from fitassist.wording.sentences import sentence

LIST_WIDTH = 1400
_EMPTY, _LIST = 0, 1


class PeoplePage(QWidget):
    """List, search, the person chosen, and a panel in their place for what takes more room.

    Signals
    -------
    open_asked
        The id of the person to open.
    create_asked
        The name of the person to begin.
    erased
        The id of a person who is kept no more.
    """

    open_asked = Signal(str)
    create_asked = Signal(str)
    erased = Signal(str)

    def __init__(self, desk: PeopleDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._desk = desk
        self._listed: PeopleListed | None = None
        self._reading = Slices(self._read_on, self)
        self._wanted = ""  # who is to be chosen once their record has been read
        self._copied = ""  # of whom the name of a copy is asked
        self._panels: dict[str, PeoplePanel] = {}
        self._stack = QStackedWidget()
        self._stack.addWidget(self._build_empty())
        self._stack.addWidget(self._build_list())
        self._naming = NamingCard()
        self._naming.named.connect(self._on_named)
        self._naming.left.connect(self._stop_naming)
        self.name_edit = self._naming.name_edit
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP * 2)
        column.addWidget(plain_label(say("people.heading"), "heading"))
        column.addLayout(at_left(self._naming))
        column.addWidget(self._stack, 1)
        self._is_fresh = True
        self.reload()

    def showEvent(self, event: QShowEvent) -> None:
        """Offer the one thing to do first, where nobody is kept yet."""
        super().showEvent(event)
        if self._stack.currentIndex() == _EMPTY and self._first.isEnabled():
            self._first.setFocus()

    # -- building -----------------------------------------------------------------------------

    def _build_empty(self) -> QWidget:
        page = QWidget()
        theme.at_most(page, 640)
        self._first = button(say("people.new"), "primary")
        self._first.clicked.connect(self.begin_naming)
        table = button(people_say("bring_in"), "link")
        table.clicked.connect(self._bring_in)
        column = QVBoxLayout(page)
        column.setContentsMargins(0, theme.STEP, 0, 0)
        column.setSpacing(theme.MARGIN)
        column.addWidget(plain_label(say("people.empty"), wraps=True))
        column.addWidget(self._first, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(table, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return page

    def _build_list(self) -> QWidget:
        page = QWidget()
        theme.at_most(page, LIST_WIDTH)
        self.list = PeopleList()
        self.search, self.list_view = self.list.search, self.list.list_view
        self._new = self.list.new_button
        self.list.current_changed.connect(self._on_current)
        self.list.opened.connect(self._open)
        self.list.new_asked.connect(self.begin_naming)
        self.list.in_asked.connect(self._bring_in)
        self.list.out_asked.connect(self._take_all_out)
        both = QHBoxLayout(page)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(theme.STEP * 2)
        both.addWidget(self.list, 1)
        both.addWidget(self._build_card())
        return page

    def _build_card(self) -> QWidget:
        self.card = PersonCard()
        self.card.open_asked.connect(self._open)
        self.card.tagged.connect(self._tag)
        self.card.put_away_asked.connect(self._put_away)
        self.card.copy_asked.connect(self._begin_copying)
        self.card.erase_sure.connect(self._erase)
        self.card.confirmed.connect(self._confirm_together)
        self.card.apart_asked.connect(self._take_apart)
        for signal, panel in (
            (self.card.history_asked, "history"),
            (self.card.states_asked, "states"),
            (self.card.copies_asked, "copies"),
        ):
            signal.connect(lambda panel=panel: self._show_about(panel))
        self.card.together_asked.connect(self._show_together)
        self.card.out_asked.connect(self._take_out)
        area = scrolling(self.card)
        self.card.setProperty("role", "card")
        theme.exactly(area, CARD_WIDTH)
        return area

    # -- what is shown ------------------------------------------------------------------------

    def reload(self, choose: str = "") -> None:
        """Read the list anew and choose a person in it; long reading goes on between events."""
        self._wanted = choose or self._wanted or self.current_id()
        self._reading.stop()
        try:
            listed = self._desk.listing()
            if listed.unread:  # most often the one or two just worked on
                listed = self._desk.read_on(SLICE_S)
        except FitError as error:
            self._say(sentence(error))
            return
        self._listed = listed
        self._show_listed()
        self._reading.begin()

    @property
    def is_reading(self) -> bool:
        """Whether records are still being read for the list."""
        return self._reading.is_going()

    def visit(self) -> None:
        """Read the list anew on coming back; at the first visit it has just been read."""
        if not self._is_fresh:
            self.reload()
        self._is_fresh = False

    def _read_on(self, seconds: float) -> bool:
        listed = self._listed
        if listed is None or not listed.unread:
            self._desk.keep_index()
            return True
        try:
            self._listed = self._desk.read_on(3 * seconds)
        except FitError as error:
            self._say(sentence(error))
            return True
        self._show_listed()
        return False

    def _show_listed(self) -> None:
        listed = self._listed
        assert listed is not None
        wanted = self._wanted or self.current_id()
        self.list.show_people(listed.people, len(listed.unread), wanted)
        if self._stack.currentIndex() <= _LIST:
            self._stack.setCurrentIndex(_LIST if listed.people or listed.unread else _EMPTY)
        if not listed.unread or self.current_id() == wanted:
            self._wanted = ""
        self._on_current()

    def current_id(self) -> str:
        """Return the id of the chosen person, or an empty text."""
        return self.list.current_id()

    def said(self) -> QLabel:
        """Return the line about the person chosen where something may be said."""
        return self.card.said_label

    def show_failure(self, error: FitError) -> None:
        """Say what went wrong, where the user is looking."""
        if self._naming.isVisible():
            self._naming.show_error(sentence(error))
        else:
            self._say(sentence(error))

    def _say(self, text: str) -> None:
        self.card.say(text)

    def _on_current(self) -> None:
        entry = self.list.current()
        self.card.show_person(entry)
        if entry is None and self.list.is_searching():
            self._say(say("people.none_found"))
        elif entry is not None and entry.problem is None:
            self._say(self._desk.reminder(entry.last_measured))

    # -- naming -------------------------------------------------------------------------------

    def begin_naming(self) -> None:
        """Ask for the name of a new person."""
        self._copied = ""
        self._begin_name()
        self._naming.begin(say("people.create"))

    def _begin_copying(self) -> None:
        entry = self.list.current()
        if entry is not None:
            self._copied = entry.id
            self._begin_name()
            name = people_say("copy_first", name=entry.name)
            self._naming.begin(people_say("copy_make"), name, people_say("copy_why"))

    def _begin_name(self) -> None:
        self._first.hide()
        self._new.setEnabled(False)
        self.card.setEnabled(False)

    def _stop_naming(self) -> None:
        self._naming.hide()
        self._first.show()
        self._new.setEnabled(True)
        self.card.setEnabled(True)
        self.name_edit.clear()
        (self._first if self._stack.currentIndex() == _EMPTY else self._new).setFocus()

    def _on_named(self, name: str) -> None:
        if not self._copied:
            self.create_asked.emit(name)
            return
        try:
            person_id = self._desk.copy_person(self._copied, name)
        except FitError as error:
            self.show_failure(error)
            return
        self.show_created(person_id)

    def show_created(self, person_id: str) -> None:
        """Take the new person into the list; the name was kept."""
        self._stop_naming()
        self.search.clear()
        self.reload(person_id)

    # -- one person ---------------------------------------------------------------------------

    def _open(self) -> None:
        entry = self.list.current()
        if entry is not None and entry.problem is None:
            self.open_asked.emit(entry.id)

    def _change(self, act: Callable[[str], object], text: str = "") -> None:
        """Do something to the chosen person, and say what came of it."""
        entry = self.list.current()
        if entry is None:
            return
        try:
            act(entry.id)
        except FitError as error:
            self.card.stop_erasing()
            self._say(sentence(error))
            return
        self.reload(entry.id)
        if text:
            self._say(text)

    def _tag(self, tags: tuple[str, ...]) -> None:
        self._change(lambda person_id: self._desk.tag_person(person_id, tags))

    def _put_away(self, is_away: bool) -> None:
        self._change(lambda person_id: self._desk.put_away(person_id, is_away))

    def _take_apart(self) -> None:
        self._change(self._desk.take_apart, people_say("apart_done"))

    def _confirm_together(self) -> None:
        self._change(self._desk.confirm_together, people_say("confirm_done"))

    def _erase(self) -> None:
        entry = self.list.current()
        if entry is None:
            return
        try:
            self._desk.erase_person(entry.id)
        except FitError as error:
            self.card.stop_erasing()
            self._say(sentence(error))
            return
        self.erased.emit(entry.id)
        self.reload()

    # -- panels -------------------------------------------------------------------------------

    def panel(self, name: str) -> PeoplePanel:
        """Return a panel, made when it is first wanted."""
        if name not in self._panels:
            from fitassist.gui.people_panels import PANELS

            made = PANELS[name](self._desk)
            made.left.connect(self._on_left)
            self._panels[name] = made
            self._stack.addWidget(made)
        return self._panels[name]

    def _show(self, panel: PeoplePanel) -> None:
        self._stop_naming_quietly()
        self._stack.setCurrentWidget(panel)

    def _stop_naming_quietly(self) -> None:
        if self._naming.isVisible():
            self._stop_naming()

    def _on_left(self, person_id: str) -> None:
        self._stack.setCurrentIndex(_LIST)
        self.reload(person_id)
        (self._first if self._stack.currentIndex() == _EMPTY else self.list_view).setFocus()

    def _show_about(self, name: str) -> None:
        from fitassist.gui.people_panels import CopiesPanel, HistoryPanel, StatesPanel

        entry, panel = self.list.current(), self.panel(name)
        if entry is not None and isinstance(panel, HistoryPanel | StatesPanel | CopiesPanel):
            self._show(panel)
            panel.begin(entry.id, entry.name)

    def _show_together(self) -> None:
        from fitassist.gui.people_panels import TogetherPanel

        entry, panel = self.list.current(), self.panel("together")
        if entry is not None and isinstance(panel, TogetherPanel):
            self._show(panel)
            panel.begin(entry, self.list.model.everybody())

    def _take_out(self, is_all: bool = False) -> None:
        from fitassist.gui.people_panels import OutPanel

        panel = self.panel("out")
        assert isinstance(panel, OutPanel)
        self._show(panel)
        panel.begin(None if is_all else self.list.current(), self.list.model.everybody())

    def _take_all_out(self) -> None:
        self._take_out(is_all=True)

    def _bring_in(self) -> None:
        from fitassist.gui.people_panels import ImportPanel

        panel = self.panel("in")
        assert isinstance(panel, ImportPanel)
        self._show(panel)
        panel.begin(self.list.model.everybody())
