# SPDX-License-Identifier: MIT
"""A fitting answered by single keys: what a key means now, what is typed, which choices are open.

Knows no widgets: keys go in by name, answers come out; `beside_words` and `keypad_screens` say it.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QObject

from fitassist.domain import answers as an
from fitassist.domain.form import Dial
from fitassist.domain.steps import Ask, Finished, Instruction, Measure, SetDials
from fitassist.domain.units import parse_length, parse_number
from fitassist.errors import FitError
from fitassist.gui.keypad import DEFAULT_KEYS
from fitassist.gui.keypad_screens import Choice, Entry, Menu, Screens
from fitassist.wording.beside_words import cap, say
from fitassist.wording.fitting_words import say as say_on_page
from fitassist.wording.language import capital
from fitassist.wording.numbers import number_text
from fitassist.wording.places import dial_name, place_name, seam_name
from fitassist.wording.sentences import sentence

TYPED = "0123456789.,*/= "


class KeypadFlow(Screens):
    """What the keys do, for one fitting."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.keys: dict[str, str] = dict(DEFAULT_KEYS)

    def set_keys(self, keys: Mapping[str, str]) -> None:
        """Let other keys do what the usual ones did."""
        self.keys = dict(keys)

    # -- keys ---------------------------------------------------------------------------------

    def press(self, key: str) -> None:
        """Do what a key means now."""
        if self.view is None or not key:
            return
        self.message = ""
        top = self.top
        if isinstance(top, Menu):
            self._press_menu(top, key)
        elif isinstance(top, Entry) or self.text:
            self._press_typing(top, key)
        else:
            self._press_step(key)
        self.changed.emit()

    def _press_step(self, key: str) -> None:
        step = self.step
        action = next((a for a, k in self.keys.items() if k == key), "")
        if action:
            self._act(action, step)
        elif key == "escape":
            self.asked.emit("leave")
        elif isinstance(step, Ask) and key.isdigit() and int(key) <= len(step.choices):
            self.answered.emit(an.Choose(choice=step.choices[int(key) - 1]))
        elif isinstance(step, SetDials) and key == "1":
            self.open_odd()
        elif isinstance(step, Measure) and (key.isdigit() or key in ".,"):
            self.text = key
        elif isinstance(step, Finished) and key == "1":
            self.asked.emit("new")
        else:
            self.message = say("no_key", other=cap(self.keys["else"]))

    def _act(self, action: str, step: Instruction) -> None:
        if action == "done":
            self._done(step)
        elif action in ("apart", "overlap"):
            self._open_ribbon(action, step)
        elif action == "skip":
            if isinstance(step, Ask | Finished):
                self.message = say("no_skip")
            else:
                self.answered.emit(an.Skip())
        elif action == "undo":
            if self.view is not None and self.view.can_undo:
                self.answered.emit(an.Undo())
            else:
                self.message = say("no_undo")
        elif action == "again":
            self.asked.emit("again")
        else:
            self.open_else()

    def _done(self, step: Instruction) -> None:
        if isinstance(step, Measure):
            self.message = say("type_first")
        elif isinstance(step, Finished):
            self.message = say("at_end", other=cap(self.keys["else"]))
        elif isinstance(step, Ask):
            self.answered.emit(an.Choose(choice=step.choices[0]))
        else:
            self.answered.emit(an.Done())

    def _press_menu(self, menu: Menu, key: str) -> None:
        if key in ("0", "escape", "backspace", "-"):
            self._back()
        elif key == "enter" and menu.enter is not None:
            menu.enter.act()
        elif key.isdigit() and int(key) <= len(menu.choices):
            menu.choices[int(key) - 1].act()
        else:
            self.message = say("no_key", other=say("cap_digits"))

    def _press_typing(self, entry: Entry | None, key: str) -> None:
        if key in ("-", "backspace"):
            if self.text:
                self.text = self.text[:-1]
            else:
                self._back()
        elif key == "escape":
            if self.text:
                self.text = ""
            else:
                self._back()
        elif key == "+":
            self.text += " "
        elif key == "enter":
            self._commit(entry)
        elif key in TYPED and len(self.text) < 20:
            self.text += key

    def _commit(self, entry: Entry | None) -> None:
        try:
            if entry is not None:
                entry.commit(self.text)
                return
            length = parse_length(self.text, self._unit)
            self.answered.emit(an.TapeReading(mm=length.mm, text=self.text))
        except FitError as error:
            self.message = sentence(error, self._unit)

    # -- the ribbon ---------------------------------------------------------------------------

    def _open_ribbon(self, marks: str, step: Instruction) -> None:
        if not isinstance(step, Measure) or step.target_mm is None:
            self.message = say("only_tape")
            return

        def commit(text: str) -> None:
            by = parse_length(text, self._unit, allow_zero=True)
            kind = "apart" if marks == "apart" or by.mm == 0 else "overlap"
            self.answered.emit(an.Ribbon(marks=kind, by_mm=by.mm, text=text))

        title = capital(place_name(step.line, step.what))
        self._push(Entry(title, say(f"{marks}_by"), commit, is_amount=True))

    # -- dials that do not stand as asked -----------------------------------------------------

    def open_odd(self) -> None:
        """Ask which dials of the set do not stand as asked."""
        step, form = self.step, self._form
        if not isinstance(step, SetDials) or form is None:
            return
        choices = []
        for turn in step.turns:
            dial = form.dial(turn.dial)
            if dial is not None:
                choices.append(Choice(self._odd_words(dial), partial(self._open_why, dial)))
        enter = Choice(say("odd_done"), self._odd_done) if self._odd else None
        self._ask(say("odd_title"), choices, enter)

    def _odd_words(self, dial: Dial) -> str:
        assert self._form is not None
        name = capital(seam_name(dial.seam))
        if dial.name not in self._odd:
            return name
        why, number = self._odd[dial.name]
        if self.hides(dial):
            return say("odd_as", dial=name, why=say(f"odd_{why}"))
        at = number_text(number, self._form)
        return say("odd_at", dial=name, why=say_on_page(f"why_{why}"), number=at)

    def _open_why(self, dial: Dial) -> None:
        choices = [
            Choice(say(f"odd_{why}"), partial(self._open_where, dial, why))
            for why in ("stopped", "stuck", "skipped")
        ]
        choices.append(Choice(say("odd_there"), lambda: self._set_odd(dial.name, None)))
        name = capital(seam_name(dial.seam))
        self._ask(say("odd_why", dial=name), choices)

    def _open_where(self, dial: Dial, why: an.Why) -> None:
        def commit(text: str) -> None:
            if not text.strip():
                if why == "stopped":  # it turned some way: only the dial tells how far
                    parse_number(text)
                self._set_odd(dial.name, (why, dial.number))
                return
            number = parse_number(text, least=dial.least, most=dial.greatest)
            self._set_odd(dial.name, (why, number))

        hint = ""
        if why != "stopped":
            stood = number_text(dial.number, self._form) if self._form else ""
            is_hidden = self.hides(dial)
            hint = say("empty_is_private") if is_hidden else say("empty_is", number=stood)
        name = capital(dial_name(dial.name, self._form))
        self._push(Entry(name, say("stands_at"), commit, hint, is_length=False))

    def _set_odd(self, dial: str, odd: tuple[an.Why, float] | None) -> None:
        self._odd.pop(dial, None)
        if odd is not None:
            self._odd[dial] = odd
        self.text, self.screens = "", []
        self.open_odd()

    def _odd_done(self) -> None:
        odd = tuple(
            an.DialException(dial=dial, number=number, why=why)
            for dial, (why, number) in self._odd.items()
        )
        self.answered.emit(an.Done(exceptions=odd))
