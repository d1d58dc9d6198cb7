# SPDX-License-Identifier: MIT
"""What padding is made of, how thick one sheet works, how pieces are shaped, where they are laid.

Nothing counts before "Use this"; a thickness that is only typed is shown on the map meanwhile.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from fitassist.domain.units import AnyUnit, Length, Unit
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, LengthField, NumberField, button, plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import Fold
from fitassist.padding.materials import Material, working_thickness
from fitassist.session.events import PaddingChosen, WrapMeasured
from fitassist.wording.padding_page_words import (
    girth_added,
    range_text,
    say,
    say_thickness,
)
from fitassist.wording.sentences import sentence

OWN = ""
MANNERS = ("tidy", "free", "by_eye")
CARRIERS = ("form", "slip_on")


class PaddingChoices(QWidget):
    """The choices as they were kept last, and as they are being changed.

    Signals
    -------
    chosen
        The ``PaddingChosen`` to keep.
    wrapped
        The ``WrapMeasured`` to keep.
    tried
        A thickness in mm that is typed and not yet kept; 0: none.
    """

    chosen = Signal(object)
    wrapped = Signal(object)
    tried = Signal(float)

    def __init__(self, materials: Sequence[Material], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._materials = {one.key: one for one in materials if one.is_sheet}
        self._unit: AnyUnit = Unit.IN
        self._is_showing = False  # what is only shown is not tried
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._buttons: dict[str, QPushButton] = {}
        self._sold = plain_label(role="note", wraps=True)
        self.thickness = LengthField(say("thickness"))
        self.thickness.length_changed.connect(self._on_typed)
        self.thickness.committed.connect(lambda _length: self._choose())
        self._adds = plain_label(role="note", wraps=True)
        self.manner = ChoiceRow(say("manner"), [(m, say(f"manner_{m}")) for m in MANNERS])
        self.carrier = ChoiceRow(say("carrier"), [(c, say(f"carrier_{c}")) for c in CARRIERS])
        self.use = button(say("choose"))
        self.use.clicked.connect(self._choose)
        self.wrap = Fold(say("wrap"), self._wrap_fields())
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, theme.STEP, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("made_of"), "title"))
        holder = QWidget()
        flow = FlowLayout(holder, gap=theme.HALF)
        for key, name in [*((k, m.name) for k, m in self._materials.items()), (OWN, say("own"))]:
            made = button(name, name=f"{say('made_of')}: {name}")
            made.setCheckable(True)
            made.clicked.connect(partial(self._on_material, key))
            self._group.addButton(made)
            self._buttons[key] = made
            flow.addWidget(made)
        column.addWidget(holder)
        column.addWidget(self._sold)
        row = QHBoxLayout()
        row.setSpacing(theme.STEP)
        label = plain_label(say("thickness"))
        label.setBuddy(self.thickness)
        row.addWidget(label)
        row.addWidget(self.thickness, 1)
        column.addLayout(row)
        column.addWidget(self._adds)
        column.addWidget(self.wrap)
        for key, widget, why in (
            ("manner", self.manner, "manner_why"),
            ("carrier", self.carrier, "carrier_why"),
        ):
            column.addWidget(plain_label(say(key), "title"))
            column.addWidget(widget)
            column.addWidget(plain_label(say(why), "note", wraps=True))
        last = QHBoxLayout()
        last.addWidget(self.use)
        last.addStretch(1)
        column.addLayout(last)
        for key in ("firm", "ready"):
            column.addWidget(plain_label(say(key), "note", wraps=True))
        column.addStretch(1)

    def _wrap_fields(self) -> QWidget:
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.HALF)
        column.addWidget(plain_label(say("wrap_how"), "note", wraps=True))
        self.bare = LengthField(say("wrap_bare"))
        self.times = NumberField(say("wrap_count"))
        self.around = LengthField(say("wrap_wrapped"))
        self.times.set_text("3")
        fields: tuple[tuple[str, QWidget], ...] = (
            ("wrap_bare", self.bare),
            ("wrap_count", self.times),
            ("wrap_wrapped", self.around),
        )
        for key, field in fields:
            row = QHBoxLayout()
            label = plain_label(say(key))
            label.setMinimumWidth(theme.characters(22))
            row.addWidget(label)
            row.addWidget(field, 1)
            column.addLayout(row)
        self.take = button(say("wrap_take"))
        self.take.clicked.connect(self._take_wrap)
        self.told = plain_label(role="note", wraps=True)
        row = QHBoxLayout()
        row.addWidget(self.take)
        row.addWidget(self.told, 1)
        column.addLayout(row)
        return holder

    # -- what is shown ------------------------------------------------------------------------

    def show_choice(self, choice: PaddingChosen, unit: AnyUnit, is_read_only: bool) -> None:
        """Show what was kept last."""
        self._unit = Unit(unit)
        self._is_showing = True
        for field in (self.thickness, self.bare, self.around):
            field.set_unit(unit)
        key = choice.material if choice.material in self._buttons else OWN
        self._buttons[key].setChecked(True)
        self._show_sold(key)
        self._show_thickness(choice.thickness_mm)
        self._is_showing = False
        self.manner.set_value(choice.manner)
        self.carrier.set_value(choice.carrier)
        for widget in (self.use, self.take):
            widget.setEnabled(not is_read_only)

    def chosen_material(self) -> str:
        """Return the key of the material that is marked."""
        return next((key for key, made in self._buttons.items() if made.isChecked()), OWN)

    def material_button(self, key: str) -> QPushButton:
        """Return the button of a material."""
        return self._buttons[key]

    def _show_thickness(self, mm: float) -> None:
        self.thickness.set_text(_typed(mm))
        self._say_adds(mm)

    def _say_adds(self, mm: float) -> None:
        told = say_thickness(mm, self._unit)
        adds = girth_added(mm, self._unit)
        self._adds.setText(say("thickness_why", thickness=told, girth=adds))

    def _show_sold(self, key: str) -> None:
        material = self._materials.get(key)
        self._sold.setVisible(material is not None)
        if material is not None:
            sold = range_text(material.least_mm, material.most_mm, self._unit)
            self._sold.setText(say("as_sold", range=sold))

    # -- what is changed ----------------------------------------------------------------------

    def _on_material(self, key: str) -> None:
        self._show_sold(key)
        material = self._materials.get(key)
        if material is not None:
            self._show_thickness(material.thickness_mm)
            self.tried.emit(material.thickness_mm)

    def _on_typed(self, length: Length | None) -> None:
        if length is not None and 0.0 < length.mm < 100.0:
            self._say_adds(length.mm)
            if not self._is_showing:
                self.tried.emit(length.mm)

    def _choose(self) -> None:
        length = self.thickness.length()
        if length is None:
            self.thickness.commit()
            return
        if not 0.0 < length.mm < 100.0:
            self.thickness.show_error(sentence(FitError("padding_thickness"), self._unit))
            return
        self.thickness.show_error("")
        self.chosen.emit(
            PaddingChosen(
                material=self.chosen_material(),
                thickness_mm=length.mm,
                manner=self.manner.value(),
                carrier=self.carrier.value(),
            )
        )

    def _take_wrap(self) -> None:
        bare, times, around = self.bare.length(), self.times.number(), self.around.length()
        if bare is None or times is None or around is None:
            field = self.bare if bare is None else self.times if times is None else self.around
            field.commit()
            return
        try:
            mm = working_thickness(bare.mm, around.mm, int(times))
        except FitError as error:
            self.around.show_error(sentence(error, self._unit))
            return
        self.around.show_error("")
        self._show_thickness(mm)
        self.told.setText(say("wrap_told", thickness=say_thickness(mm, self._unit)))
        self.tried.emit(mm)
        self.wrapped.emit(
            WrapMeasured(
                material=self.chosen_material(),
                wraps=int(times),
                bare_mm=bare.mm,
                wrapped_mm=around.mm,
            )
        )


def _typed(mm: float) -> str:
    """Return a thickness as it would be typed: always in mm, which no bare number is."""
    return f"{mm:.1f}".rstrip("0").rstrip(".") + " mm"
