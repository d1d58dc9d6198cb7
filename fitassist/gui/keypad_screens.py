# SPDX-License-Identifier: MIT
"""What can lie over a step: numbered choices and a number to be typed; and all that is offered.

Nobody asks for these facts; they are volunteered, choice by choice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QObject, Signal

from fitassist.domain import answers as an
from fitassist.domain.form import Dial, Form
from fitassist.domain.lines import What
from fitassist.domain.steps import Finished, Instruction, SetDials
from fitassist.domain.units import AnyUnit, Length, parse_length, parse_number
from fitassist.errors import FitError
from fitassist.session.view import FittingView
from fitassist.wording.beside_words import say
from fitassist.wording.language import capital
from fitassist.wording.places import dial_name, place_name, row_name, seam_name
from fitassist.wording.private_words import prints_girths
from fitassist.wording.sentences import sentence

A_PAGE = 8  # choices shown at once where there are more than nine


@dataclass(frozen=True)
class Choice:
    """One numbered answer."""

    words: str
    act: Callable[[], object]


@dataclass(frozen=True)
class Menu:
    """Numbered answers to one question; Enter may take what was gathered."""

    title: str
    choices: tuple[Choice, ...]
    enter: Choice | None = None


@dataclass(frozen=True)
class Entry:
    """A number to be typed."""

    title: str
    label: str
    commit: Callable[[str], object]
    hint: str = ""
    is_length: bool = True
    is_amount: bool = False


class Screens(QObject):
    """Choices and entries over one step, the last on top.

    Signals
    -------
    answered
        An answer.
    asked
        By name: again, private, leave, new.
    changed
        Something other than the step itself is to be shown.
    """

    answered = Signal(object)
    asked = Signal(str)
    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.is_private = False
        self.text = ""
        self.message = ""
        self.screens: list[Menu | Entry] = []
        self.view: FittingView | None = None
        self._form: Form | None = None
        self._unit: AnyUnit = "in"
        self._odd: dict[str, tuple[an.Why, float]] = {}

    # -- what it is about ---------------------------------------------------------------------

    def begin(self, view: FittingView, form: Form, unit: AnyUnit) -> None:
        """Take a new step; whatever was open or typed has been answered."""
        self.view, self._form, self._unit = view, form.at(dict(view.numbers)), unit
        self.screens, self._odd = [], {}
        self.text = self.message = ""

    def show_failure(self, error: FitError) -> None:
        """Say why an answer was not taken; what was typed stays."""
        self.message = sentence(error, self._unit)
        self.changed.emit()

    @property
    def step(self) -> Instruction:
        """The instruction to be answered."""
        assert self.view is not None
        return self.view.instruction

    @property
    def top(self) -> Menu | Entry | None:
        """What lies over the step, or None."""
        return self.screens[-1] if self.screens else None

    def typed(self) -> Length | None:
        """Return what is typed as a length, as far as it can be understood."""
        top = self.top
        if not self.text or (isinstance(top, Entry) and not top.is_length):
            return None
        try:
            return parse_length(self.text, self._unit, allow_zero=isinstance(top, Entry))
        except FitError:
            return None

    def _back(self) -> None:
        self.text = ""
        if self.screens:
            self.screens.pop()
        if not self.screens:
            self._odd = {}

    def _push(self, screen: Menu | Entry) -> None:
        self.text = ""
        self.screens.append(screen)

    def _ask(self, title: str, choices: Sequence[Choice], enter: Choice | None = None) -> None:
        """Open numbered choices; where there are more than nine keys, the rest is one key away."""
        if len(choices) <= A_PAGE + 1:
            self._push(Menu(title, tuple(choices), enter))
            return
        rest = list(choices[A_PAGE:])
        more = Choice(say("more"), lambda: self._ask(title, rest, enter))
        self._push(Menu(title, (*choices[:A_PAGE], more), enter))

    def hides(self, dial: Dial | None = None) -> bool:
        """Say whether what is typed now must not be seen: a girth, or a dial that prints one."""
        top = self.top
        if not self.is_private or self._form is None:
            return False
        if dial is not None or (isinstance(top, Entry) and not top.is_length):
            return prints_girths(self._form)
        return not (isinstance(top, Entry) and top.is_amount)

    # -- something else -----------------------------------------------------------------------

    def open_odd(self) -> None:
        """Ask which dials of the set do not stand as asked."""
        raise NotImplementedError

    def open_else(self) -> None:
        """Offer everything that nobody asked for; the keys are shown with it."""
        step, view = self.step, self.view
        assert view is not None
        self.screens = []
        is_over = isinstance(step, Finished)
        look = "else_open" if self.is_private else "else_private"
        found = [("else_reading", self._open_lines), ("else_dial", self._open_rows)]
        if isinstance(step, SetDials):
            found.insert(0, ("else_dials", self.open_odd))
        if view.stuck:
            found.append(("else_free", self._open_free))
        found.append((look, lambda: self.asked.emit("private")))
        if is_over:
            found.append(("else_new", lambda: self.asked.emit("new")))
        else:
            found.append(("else_end", self._open_end))
        found.append(("else_leave", lambda: self.asked.emit("leave")))
        self._ask(say("else_title"), [Choice(say(key), act) for key, act in found])

    def _open_end(self) -> None:
        end = Choice(say("end_yes"), lambda: self.answered.emit(an.Leave()))
        self._ask(say("end_title"), [end])

    def _open_free(self) -> None:
        assert self.view is not None
        self._ask(
            say("which_free"),
            [
                Choice(
                    capital(dial_name(dial, self._form)),
                    partial(self.answered.emit, an.Free(dial=dial)),
                )
                for dial in self.view.stuck
            ],
        )

    def _open_lines(self) -> None:
        assert self._form is not None
        assert self.view is not None
        places = [(line.name, What.GIRTH) for line in self._form.lines]
        places += [(v.line, v.what) for v in self.view.lines if (v.line, v.what) not in places]
        self._ask(
            say("which_line"),
            [
                Choice(capital(place_name(*place)), partial(self._open_reading, *place))
                for place in places
                if place[1] != What.LENGTH
            ],
        )

    def _open_reading(self, line: str, what: What) -> None:
        def commit(text: str) -> None:
            mm = parse_length(text, self._unit).mm
            self.answered.emit(an.VolunteeredReading(line=line, what=what, mm=mm, text=text))

        self._push(Entry(capital(place_name(line, what)), say("tape_reads"), commit))

    def _open_rows(self) -> None:
        assert self._form is not None
        self._ask(
            say("which_row"),
            [
                Choice(
                    capital(row_name(row.name, self._form)),
                    partial(self._open_dials, row.name),
                )
                for row in self._form.rows
            ],
        )

    def _open_dials(self, row: str) -> None:
        assert self._form is not None
        assert self.view is not None
        dials = [d for d in self._form.dials if d.row == row and d.name in self.view.numbers]
        self._ask(
            say("which_dial"),
            [Choice(capital(seam_name(d.seam)), partial(self._open_number, d)) for d in dials],
        )

    def _open_number(self, dial: Dial) -> None:
        def commit(text: str) -> None:
            number = parse_number(text, least=dial.least, most=dial.greatest)
            self.answered.emit(an.VolunteeredDial(dial=dial.name, number=number))

        name = capital(dial_name(dial.name, self._form))
        self._push(Entry(name, say("stands_at"), commit, is_length=False))
