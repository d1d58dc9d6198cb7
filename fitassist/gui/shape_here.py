# SPDX-License-Identifier: MIT
"""One height, looked at closely: its section large, and all that can be said of it in words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.outline_plot import OutlinePlot
from fitassist.session.shape_sections import Section
from fitassist.wording.shape_words import (
    amount,
    difference_text,
    length,
    place_text,
    say,
    sides_text,
    size_text,
)

PLOT_HEIGHT = 210
ALL_SIDES = 4


class ShapeHere(QFrame):
    """The card about the height that is chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.title = plain_label(role="title", wraps=True)
        self.plot = OutlinePlot(columns=1, named=False)
        self.plot.setMinimumHeight(PLOT_HEIGHT)
        self.words = plain_label(wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.STEP * 2,) * 4)
        column.setSpacing(theme.STEP)
        column.addWidget(self.title)
        column.addWidget(self.plot, 1)
        column.addWidget(self.words)

    def show_section(
        self, section: Section, unit: AnyUnit, between: Sequence[str], has_form: bool
    ) -> None:
        """Show body and form at one height; `between` names the lines above and below it."""
        place = place_text(section.line, section.height_mm, unit, between)
        facts = section_facts(section, unit, has_form)
        self.title.setText(place)
        self.words.setText("\n".join(facts))
        self.plot.show_sections([section], unit, -1, " ".join((f"{place}.", *facts)))
        self.setAccessibleName(place)


def section_facts(section: Section, unit: AnyUnit, has_form: bool = True) -> tuple[str, ...]:
    """Return all that can be said of body and form at one height, sentence by sentence."""
    found = [
        size_text("body_here", section.girth_mm, section.breadth_mm, section.depth_mm, unit),
        say("in_band", band=amount(section.band_mm, unit)),
    ]
    if not section.is_measured:
        low, high = section.girth_mm - section.girth_band_mm, section.girth_mm
        high += section.girth_band_mm
        found.append(say("girth_between", low=length(low, unit), high=length(high, unit)))
    form = section.form
    if form is None:
        return (*found, say("form_not_here" if has_form else "no_form"))
    found.append(size_text("form_here", form.girth_mm, form.breadth_mm, form.depth_mm, unit))
    found.append(difference_text(section.girth_mm - form.girth_mm, unit))
    room = form.room
    for key, mm, sides in (
        ("stands_out", room.stands_out_mm, room.stands_out_at),
        ("room", room.room_mm, room.room_at),
    ):
        if key == "room" and len(sides) == ALL_SIDES:
            found.append(say("room_round", amount=amount(mm, unit)))
        elif sides:
            found.append(say(key, amount=amount(mm, unit), sides=sides_text(sides)))
    return tuple(found)
