# SPDX-License-Identifier: MIT
"""What a cover and a hem are asked for before their sheets can be made."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, LengthField, plain_label
from fitassist.wording.lengths import say_length
from fitassist.wording.sheet_words import words

if TYPE_CHECKING:
    from fitassist.report.cover_sheet import CoverWanted
    from fitassist.report.facts import Facts
    from fitassist.report.hem_sheet import HemWanted

EASES: Final = ("0.03", "0.05", "0.08")
MANNERS: Final = ("rectangle", "drafted", "tube")
GAUGES_MM: Final = {"in": 101.6, "cm": 100.0}  # 4 in or 10 cm of the fold


class Asked(QWidget):
    """Names and fields in line; where the type is large, each name stands above its field."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: list[tuple[QLabel, QWidget]] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.STEP * 2)
        self._grid.setVerticalSpacing(theme.HALF)
        self._grid.setColumnStretch(1, 1)

    def add(self, name: str, widget: QWidget) -> None:
        """Add a field under the others."""
        label = plain_label(name, "label", wraps=True)
        self._rows.append((label, widget))
        self._lay()

    def show_row(self, widget: QWidget, is_shown: bool) -> None:
        """Show a field with its name, or neither."""
        for label, one in self._rows:
            if one is widget:
                label.setVisible(is_shown and bool(label.text()))
                one.setVisible(is_shown)

    def changeEvent(self, event: QEvent) -> None:
        """Lay out anew for another size of type."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._lay()

    def _lay(self) -> None:
        is_large = theme.is_large()
        for number, (label, widget) in enumerate(self._rows):
            label.setMinimumWidth(0 if is_large else theme.characters(14))
            if is_large:
                self._grid.addWidget(label, 2 * number, 0, 1, 2)
                self._grid.addWidget(widget, 2 * number + 1, 0, 1, 2)
            else:
                self._grid.addWidget(label, 2 * number, 0, Qt.AlignmentFlag.AlignVCenter)
                self._grid.addWidget(widget, 2 * number, 1)


class Questions(QWidget):
    """Fields under one another, each with its words at the left.

    Signals
    -------
    changed
        Something was chosen or typed.
    """

    changed = Signal()

    def __init__(self, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = unit
        self._fields: dict[str, LengthField] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.STEP)
        self._asked = Asked()

    def field(self, key: str) -> LengthField:
        """Return the field of a key."""
        return self._fields[key]

    def set_unit(self, unit: str) -> None:
        """Read bare numbers in this unit."""
        self._unit = unit
        for field in self._fields.values():
            field.set_unit(unit)  # type: ignore[arg-type]

    def mm(self, key: str) -> float | None:
        """Return what a field says, or None."""
        length = self._fields[key].length()
        return None if length is None else length.mm

    def _add_field(self, key: str) -> LengthField:
        name = words(f"ask_{key}")
        made = LengthField(name, self._unit, commit_on_leave=False, allow_zero=True)  # type: ignore[arg-type]
        made.length_changed.connect(lambda _length: self.changed.emit())
        self._fields[key] = made
        self._add(name, made)
        return made

    def _add(self, name: str, widget: QWidget) -> None:
        self._asked.add(name, widget)

    def _show(self, key: str, is_shown: bool) -> None:
        self._asked.show_row(self._fields[key], is_shown)

    def _fill(self, key: str, mm: float | None) -> None:
        """Show a length where nothing was typed yet."""
        field = self._fields[key]
        if mm is not None and not field.text().strip():
            field.set_text(say_length(mm, self._unit))  # type: ignore[arg-type]


class CoverQuestions(Questions):
    """The stretch test, the shape, and the two things that may be measured besides."""

    def __init__(self, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(unit, parent)
        rest = say_length(GAUGES_MM.get(unit, 100.0), unit)  # type: ignore[arg-type]
        self._how = plain_label(words("ask_cover_test", rest=rest), "note", wraps=True)
        self._column.addWidget(self._how)
        for key in ("rest", "stretched"):
            self._add_field(key)
        self._gives = plain_label(role="quiet")
        self._add("", self._gives)
        choices = [(key, words(f"ask_{key}")) for key in MANNERS]
        self.manner = ChoiceRow(words("ask_manner"), choices)
        self._add(words("ask_manner"), self.manner)
        self.ease = ChoiceRow(
            words("ask_ease"), [(e, f"{float(e):.0%}".replace("%", " %")) for e in EASES]
        )
        self.ease.set_value("0.05")
        self._add(words("ask_ease"), self.ease)
        for key in ("neck", "knit"):
            self._add_field(key)
        # A plain tube is as wide as its narrowest line asks for, whatever the ease.
        self.manner.chosen.connect(lambda key: self._asked.show_row(self.ease, key != "tube"))
        for row in (self.manner, self.ease):
            row.chosen.connect(lambda _key: self.changed.emit())
        self._column.addWidget(self._asked)
        self.changed.connect(self._say_stretch)
        self._fill("rest", GAUGES_MM.get(unit, 100.0))

    def wanted(self) -> CoverWanted | None:
        """Return what was told, or None while the test is not."""
        from fitassist.report.cover_sheet import CoverWanted

        rest, stretched = self.mm("rest"), self.mm("stretched")
        if not rest or not stretched:
            return None
        return CoverWanted(
            stretched_mm=stretched,
            rest_mm=rest,
            ease=float(self.ease.value()),
            manner=next(one for one in MANNERS if one == self.manner.value()),
            neck_mm=self.mm("neck") or 0.0,
            knit_mm=self.mm("knit") or 0.0,
        )

    def _say_stretch(self) -> None:
        told = self.wanted()
        text = "" if told is None else words("ask_stretch", percent=round(100.0 * told.stretch))
        self._gives.setText(text)


class HemQuestions(Questions):
    """Heights of waist and shoes, and the hem: level, or by its lengths."""

    def __init__(self, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(unit, parent)
        choices = [(key, words(f"ask_{key}")) for key in ("level", "lengths")]
        self.manner = ChoiceRow(words("ask_hem_manner"), choices)
        self._add(words("ask_hem_manner"), self.manner)
        for key in ("worn", "front", "side", "back", "shoe", "waist", "form_waist"):
            self._add_field(key)
        self.manner.chosen.connect(lambda _key: self._on_manner())
        self._column.addWidget(self._asked)
        self._on_manner()

    def show_facts(self, facts: Facts) -> None:
        """Fill in what the record knows, where nothing was typed."""
        self._fill("waist", facts.length_mm("floor_to_waist"))
        self._fill("form_waist", facts.length_mm("floor_to_waist"))

    def clear(self) -> None:
        """Forget what was typed; it was another body's."""
        for field in self._fields.values():
            field.clear()

    def wanted(self) -> HemWanted | None:
        """Return what was told, or None while something is missing."""
        from fitassist.report.hem_sheet import HemWanted

        waist, form_waist = self.mm("waist"), self.mm("form_waist")
        if not waist or not form_waist:
            return None
        shoe = self.mm("shoe") or 0.0
        if self.manner.value() == "level":
            worn = self.mm("worn")
            return None if worn is None else HemWanted(waist, form_waist, shoe, worn_mm=worn)
        lengths = {place: self.mm(place) for place in ("front", "side", "back")}
        told = tuple((place, mm) for place, mm in lengths.items() if mm)
        return HemWanted(waist, form_waist, shoe, told) if told else None  # type: ignore[arg-type]

    def _on_manner(self) -> None:
        is_level = self.manner.value() == "level"
        self._show("worn", is_level)
        for key in ("front", "side", "back"):
            self._show(key, not is_level)
        self.changed.emit()
