# SPDX-License-Identifier: MIT
"""Facts nobody asked for, at any time: a reading, a dial that was turned, one that turns again."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.answers import Free, VolunteeredDial, VolunteeredReading
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.answer_panel import AnswerPanel
from fitassist.gui.dial_number import DialNumberField
from fitassist.gui.fields import ChoiceRow, LengthField, plain_label
from fitassist.gui.folds import clear_layout
from fitassist.session.view import FittingView
from fitassist.wording.fitting_words import say
from fitassist.wording.language import capital
from fitassist.wording.places import dial_name, place_name

KINDS = ("reading", "dial", "free")


class VolunteerPanel(AnswerPanel):
    """Asks what happened, then for the one thing needed to know it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(say("volunteer_title"), parent)
        self._form: Form | None = None
        self.kind = ChoiceRow(
            say("volunteer_kind"), [(key, say(f"volunteer_{key}")) for key in KINDS]
        )
        self.kind.chosen.connect(self._on_kind)
        self.place = _choices(say("volunteer_line"))
        self.place.currentIndexChanged.connect(lambda _index: self._tell())
        self.field = LengthField(say("volunteer_reads"))
        self.field.length_changed.connect(lambda _length: self._tell())
        self.dial = _choices(say("volunteer_which"))
        self.dial.currentIndexChanged.connect(lambda _index: self._on_dial())
        self.number: DialNumberField | None = None
        self.stuck = _choices(say("volunteer_which"))
        self._pages = QStackedWidget()
        for label, chooser, below in (
            ("volunteer_line", self.place, "volunteer_reads"),
            ("volunteer_which", self.dial, "volunteer_to"),
            ("volunteer_which", self.stuck, ""),
        ):
            self._pages.addWidget(self._page(say(label), chooser, say(below) if below else ""))
        column = QVBoxLayout(self.content)
        column.setContentsMargins(0, 0, theme.STEP, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(self.kind)
        column.addWidget(self._pages)
        column.addStretch(1)

    def _page(self, label: str, chooser: QComboBox, below: str) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(plain_label(label, "label"))
        column.addWidget(chooser)
        if below:
            column.addWidget(plain_label(below, "label"))
        if chooser is self.place:
            column.addWidget(self.field)
        elif chooser is self.dial:
            self._number_column = QVBoxLayout()
            column.addLayout(self._number_column)
        column.addStretch(1)
        return page

    def begin(self, form: Form, view: FittingView, free: str = "") -> None:
        """Offer the lines and dials of a form as it stands; `free`: a stuck dial to begin with."""
        self._form = form.at(dict(view.numbers))
        self.show_message("")
        self.field.clear()
        places = [(line.name, What.GIRTH) for line in form.lines]
        places += [(v.line, v.what) for v in view.lines if (v.line, v.what) not in places]
        _fill(self.place, [(f"{p}|{w}", capital(place_name(p, w))) for p, w in places])
        if view.instruction.kind == "measure":
            self._choose_other(view.instruction.line, places)
        dials = [dial.name for dial in form.dials if dial.name in view.numbers]
        _fill(self.dial, [(d, capital(dial_name(d, form, behind=False))) for d in dials])
        _fill(self.stuck, [(d, capital(dial_name(d, form, behind=False))) for d in view.stuck])
        self.kind.choice("free").setVisible(bool(view.stuck))
        self.kind.set_value("free" if free else "reading")
        if free:
            self.stuck.setCurrentIndex(max(self.stuck.findData(free), 0))
        self._on_dial()
        self._pages.setCurrentIndex(KINDS.index(self.kind.value()))

    def _choose_other(self, asked: str, places: list[tuple[str, What]]) -> None:
        """Begin with another line than the one that is asked for anyway."""
        other = next((i for i, (line, _what) in enumerate(places) if line != asked), 0)
        self.place.setCurrentIndex(other)

    def set_unit(self, unit: AnyUnit) -> None:
        """Take lengths in another unit."""
        super().set_unit(unit)
        self.field.set_unit(unit)

    def first_widget(self) -> QWidget:
        """Return the choice of what happened."""
        return self.kind

    def commit_text(self) -> str:
        """Return what the button says that commits."""
        return say("volunteer_free_it") if self.kind.value() == "free" else say("take")

    def _on_kind(self, key: str) -> None:
        self._pages.setCurrentIndex(KINDS.index(key))
        self.show_message("")
        chooser = {"reading": self.place, "dial": self.dial, "free": self.stuck}[key]
        chooser.setFocus()
        self._tell()

    def _on_dial(self) -> None:
        clear_layout(self._number_column)
        self.number = None
        name = self.dial.currentData()
        dial = self._form.dial(name) if self._form is not None and name else None
        if dial is None or self._form is None:
            return
        spoken = capital(dial_name(dial.name, self._form))
        self.number = DialNumberField(say("number_of", dial=spoken), self._form, dial)
        self.number.show_number(dial.number)
        self.number.number_changed.connect(lambda _number: self._tell())
        self._number_column.addWidget(self.number)

    def _tell(self) -> None:
        key = self.kind.value()
        length = self.field.length()
        if key == "reading" and length is not None and self.place.currentData():
            self.typed.emit(None, (*self._chosen_place(), length.mm))
        elif key == "dial" and self.number is not None:
            number = self.number.in_range()
            self.typed.emit({self.dial.currentData(): number} if number is not None else None, None)
        else:
            self.typed.emit(None, None)

    def _chosen_place(self) -> tuple[str, What]:
        line, _bar, what = str(self.place.currentData()).rpartition("|")
        return line, What(what)

    def commit(self) -> None:
        """Take what was told."""
        self.show_message("")
        match self.kind.value():
            case "reading":
                self._commit_reading()
            case "dial":
                self._commit_dial()
            case _:
                self.answered.emit(Free(dial=str(self.stuck.currentData())))

    def _commit_reading(self) -> None:
        if not self.field.commit():
            self.field.setFocus()
            return
        length = self.field.length()
        assert length is not None
        line, what = self._chosen_place()
        self.answered.emit(
            VolunteeredReading(line=line, what=what, mm=length.mm, text=self.field.text())
        )

    def _commit_dial(self) -> None:
        if self.number is None or not self.number.commit():
            if self.number is not None:
                self.number.setFocus()
            return
        number = self.number.number()
        assert number is not None
        self.answered.emit(VolunteeredDial(dial=str(self.dial.currentData()), number=number))


def _choices(name: str) -> QComboBox:
    made = QComboBox()
    made.setAccessibleName(name)
    made.setMinimumHeight(theme.TARGET)
    return made


def _fill(chooser: QComboBox, choices: list[tuple[str, str]]) -> None:
    chooser.blockSignals(True)
    chooser.clear()
    for key, words in choices:
        chooser.addItem(words, key)
    chooser.blockSignals(False)
