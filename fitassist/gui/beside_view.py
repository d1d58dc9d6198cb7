# SPDX-License-Identifier: MIT
"""The fitting seen from beside the form: one step, its number, where it is, and nothing else.

It fills the screen, is read from two metres away, and is answered by the keys of a numeric pad.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.steps import Ask, Finished, Instruction, Measure, Reason, SetDials
from fitassist.domain.units import AnyUnit, both_units
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.instruction_card import InstructionCard
from fitassist.gui.key_map_view import KeyMapView
from fitassist.gui.keypad import key_of
from fitassist.gui.keypad_flow import KeypadFlow
from fitassist.gui.keypad_screens import Entry, Menu
from fitassist.gui.sections_plot import SectionsPlot
from fitassist.gui.torso_step import show_step
from fitassist.gui.torso_view import TorsoView
from fitassist.session.view import FittingView, LineView
from fitassist.wording import reasons
from fitassist.wording.beside_words import beside_cells, cap, progress_text, say
from fitassist.wording.fitting_words import choice_text, short_title
from fitassist.wording.instructions import detail, title
from fitassist.wording.private_words import (
    private_cells,
    private_detail,
    private_title,
    typed_to_go,
)

if TYPE_CHECKING:
    from fitassist.session.shaping import KnownOutlines

SCREEN_MM = 174.3  # height of a 14-inch screen of 16 to 9: 14 in * 25.4 * 9 / sqrt(16**2 + 9**2)
USUAL_MM = 24.0
CURSOR = "_"
_SIZES = (
    (44, 21), (40, 20), (38, 19), (36, 18), (34, 17), (32, 16), (30, 16), (28, 15), (26, 15),
    (24, 14), (22, 13), (20, 12), (18, 11), (15, 10), (12, 9),
)  # fmt: skip


class BesideCard(InstructionCard):
    """The card, with its least number given in pixels of a digit's height."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._digit_px = 106.0
        self.gap_px = 32
        self.is_plain = True
        self.zoom = 1.0

    def set_digit(self, high_px: float) -> None:
        """Keep the figures at least so high."""
        self._digit_px = high_px
        self.forget_fit()

    def digit_high(self) -> float:
        """Return how high the figures of the number stand, in pixels."""
        return QFontMetricsF(self.fit().number).tightBoundingRect("0").height()

    def least_number_px(self) -> float:
        """Return the size of type at which a digit has the wanted height."""
        probe = QFont(self.font())
        probe.setWeight(QFont.Weight.DemiBold)
        probe.setPixelSize(100)
        return self._digit_px / QFontMetricsF(probe).tightBoundingRect("0").height() * 100.0 + 1

    def most_number_px(self) -> float:
        """Return the largest size: choices are words, and need not fill the card."""
        if self.is_result:
            return 84.0 * self.zoom
        return 46.0 * self.zoom if self.is_words else 1.7 * self.least_number_px()

    def wanted_sizes(self) -> Iterator[tuple[float, tuple[float, float]]]:
        """Give what to try: the figures keep their height as long as there is any other way."""
        for share in (1.0, 0.85, 0.7, 0.5, 0.0):
            for heading, words in _SIZES:
                yield share, (heading * self.zoom, words * self.zoom)


class BesideView(QWidget):
    """One fitting for two metres' distance.

    Signals
    -------
    left
        The user wants the page again.
    """

    left = Signal()

    def __init__(
        self,
        form: Form,
        body: Body,
        unit: AnyUnit,
        view: FittingView,
        outlines: KnownOutlines | None = None,
    ) -> None:
        super().__init__()
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self.setAccessibleName(say("view"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._form, self._unit, self._view = form, unit, view
        self._figure_mm = USUAL_MM
        self.flow = KeypadFlow(self)
        self.flow.changed.connect(self._show)
        self.card = BesideCard()
        self.torso = TorsoView(form)
        self.sections = SectionsPlot()
        self.sections.assumed.setParent(self)
        self.sections.assumed.hide()
        self.sections.begin(form, body, view.lines, unit, outlines)
        self.progress = plain_label(role="quiet", wraps=True)
        self.message = plain_label(role="error", wraps=True)
        self.private = plain_label(say("private"), "quiet")
        self.legend = KeyMapView()
        self._lay_out()

    def _lay_out(self) -> None:
        side = QVBoxLayout()
        side.setSpacing(theme.STEP)
        side.addWidget(self.torso, 1)
        side.addWidget(self.progress)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(*(theme.MARGIN, theme.STEP * 2, theme.MARGIN, theme.STEP * 2))
        self._grid.setHorizontalSpacing(theme.MARGIN)
        self._grid.setVerticalSpacing(theme.STEP)
        self._grid.addWidget(self.private, 0, 0, 1, 2)
        self._grid.addWidget(self.card, 1, 0)
        self._grid.addLayout(side, 1, 1, 3, 1)
        self._grid.addWidget(self.message, 2, 0)
        self._grid.addWidget(self.sections, 3, 0)
        self._grid.addWidget(self.legend, 4, 0, 1, 2)
        self._grid.setColumnStretch(0, 1)
        self._grid.setRowStretch(1, 1)

    # -- what is shown ------------------------------------------------------------------------

    def show_view(self, view: FittingView, lines: tuple[LineView, ...], unit: AnyUnit) -> None:
        """Show what the fitting has come to."""
        self._view, self._unit = view, unit
        self.flow.begin(view, self._form, unit)
        self.sections.set_unit(unit)
        show_step(self.torso, view.instruction)
        self.sections.show_from(self.torso.shown == ("back",))
        self.sections.show_lines(lines, view.numbers)
        dialled = [line for line in lines if line.has_dials]
        good = sum(line.state == "good" for line in dialled)
        self.progress.setText(progress_text(good, len(dialled), view.readings, view.turns))
        self._show()

    def show_lines(self, lines: tuple[LineView, ...]) -> None:
        """Draw what is only typed so far."""
        self.sections.show_lines(lines, self._view.numbers)

    def keep_private(self, is_private: bool) -> None:
        """Show no measure of the body, or show all again."""
        self.flow.is_private = is_private
        self.sections.keep_private(is_private)
        self._show()

    def set_figures(self, high_mm: float) -> None:
        """Let figures be at least so high on a 14-inch screen."""
        self._figure_mm = high_mm
        self._measure()

    @property
    def step(self) -> Instruction:
        """The instruction that is shown."""
        return self._view.instruction

    def step_words(self) -> tuple[str, str]:
        """Return the step as it is read aloud: what to do, and the number to bring it to."""
        step, form, unit = self.step, self._form, self._unit
        if not self.flow.is_private:
            return title(step, form, unit), ""
        cells = private_cells(step, form, unit, self._to_go())
        numbers = "; ".join(f"{label} {number}".strip() for label, number in cells)
        return private_title(step, form, unit), numbers

    def _to_go(self) -> float | None:
        step = self.step
        if not isinstance(step, Measure):
            return None
        there = (v for v in self._view.lines if (v.line, v.what) == (step.line, step.what))
        return next((v.to_go_mm for v in there), None)

    def _show(self) -> None:
        flow, top = self.flow, self.flow.top
        self.private.setVisible(flow.is_private)
        self.message.setText(flow.message)
        self.message.setVisible(bool(flow.message))
        self.setAccessibleDescription(flow.message)
        self.card.is_words = isinstance(top, Menu) or (top is None and isinstance(self.step, Ask))
        self.card.is_result = not self.flow.screens and isinstance(self.step, Finished)
        self.card.forget_fit()
        if isinstance(top, Menu):
            cells = [("", f"{n}  {one.words}") for n, one in enumerate(top.choices, 1)]
            self.card.show_parts(top.title, top.title, cells, "", "")
        elif isinstance(top, Entry) or flow.text:
            self._show_typed(top)
        else:
            self._show_step()
        self.legend.show_keys(self._keys())

    def _show_step(self) -> None:
        step, form, unit = self.step, self._form, self._unit
        why = reasons.reason(getattr(step, "reason", Reason()), unit)
        if isinstance(step, Ask):
            asked = private_title(step, form, unit) if self.flow.is_private else ""
            asked = asked or title(step, form, unit)
            words = [choice_text(step, name) for name in step.choices]
            cells = [("", f"{n}  {text}") for n, text in enumerate(words, 1)]
            self.card.show_parts(asked, asked, cells, "", "")
        elif self.flow.is_private:
            heading = private_title(step, form, unit)
            cells = private_cells(step, form, unit, self._to_go())
            said = private_detail(step, form, unit)
            self.card.show_parts(heading, heading, cells, said, why)
        else:
            cells = beside_cells(step, form, unit)
            full, said = title(step, form, unit), detail(step, form, unit)
            self.card.show_parts(short_title(step, form, unit), full, cells, said, why)

    def _show_typed(self, entry: Entry | None) -> None:
        flow, step = self.flow, self.step
        heading = entry.title if entry is not None else private_title(step, self._form, self._unit)
        label = entry.label if entry is not None else say("tape_reads")
        is_hidden = flow.hides()
        shown = "\u2022" * len(flow.text) if is_hidden else _pretty(flow.text)
        said = [entry.hint] if entry is not None and entry.hint else []
        length = flow.typed()
        if is_hidden:
            said.append(say("hidden"))
            if length is not None and entry is None and isinstance(step, Measure):
                said.append(typed_to_go(length.mm, step.target_mm, self._unit))
        elif length is not None:
            said.append(f"= {both_units(length.mm, self._unit)}")
        words = " ".join(part for part in said if part)
        self.card.show_parts(
            heading, heading, [(label, shown if is_hidden and shown else shown + CURSOR)], words, ""
        )

    def _keys(self) -> list[tuple[str, str]]:
        """Return the keys that mean something now."""
        flow, top, step = self.flow, self.flow.top, self.step
        enter, erase = cap("enter"), ("-", say("key_erase"))
        if isinstance(top, Menu):
            keys = [(f"1-{len(top.choices)}", say("key_choose"))]
            if top.enter is not None:
                keys.append((enter, top.enter.words))
            keys.append(("0", say("key_back")))
            if top.title == say("else_title"):
                usual = [
                    (cap(key), say(f"key_{action}"))
                    for action, key in flow.keys.items()
                    if action != "else"
                ]
                keys += [*usual, ("*", say("key_star")), ("+", say("key_gap")), erase]
            return keys
        if isinstance(top, Entry) or flow.text:
            gap = [] if self._unit != "in" else [("*", say("key_star")), ("+", say("key_gap"))]
            return [(enter, say("key_take")), erase, *gap]
        if isinstance(step, Measure):
            first = [(cap("digits"), say("key_type"))]
            ways = ["apart", "overlap"] if step.target_mm is not None else []
            ways += ["skip", "undo", "again", "else"]
        elif isinstance(step, Ask):
            first, ways = [(f"1-{len(step.choices)}", say("key_choose"))], ["undo", "again", "else"]
        elif isinstance(step, Finished):
            first, ways = [("1", say("key_new"))], ["undo", "again", "else"]
        else:
            first, ways = [(cap(flow.keys["done"]), say("key_done"))], ["skip", "undo", "again"]
            ways.append("else")
            if isinstance(step, SetDials):
                first.append(("1", say("key_dials")))
        return first + [(cap(flow.keys[way]), say(f"key_{way}")) for way in ways]

    # -- how large ----------------------------------------------------------------------------

    def _measure(self) -> None:
        """Size all for the screen, not for the room that is left: 24 mm are 24 mm."""
        high = max(self.height(), self.window().height(), 300)
        digit = self._figure_mm / SCREEN_MM * high
        zoom = high / 768.0
        self.card.zoom = zoom
        self.card.set_digit(digit)
        larger = max(self._figure_mm / USUAL_MM, 1.0)
        self.sections.setFixedHeight(round(high * 0.235 / larger**0.5))
        side = round(self.width() * 0.175)
        self.torso.setFixedWidth(side)
        self.progress.setFixedWidth(side)
        self.legend.set_points(14.0 * zoom)
        for label, points in ((self.progress, 14.0), (self.message, 19.0), (self.private, 14.0)):
            label.setStyleSheet(f"font-size: {points * zoom:.1f}pt;")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Size all anew."""
        super().resizeEvent(event)
        self._measure()

    def changeEvent(self, event: QEvent) -> None:
        """Size all anew for another type."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "legend"):
            self._measure()

    def showEvent(self, event: QShowEvent) -> None:
        """Take the keys."""
        super().showEvent(event)
        self._measure()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- keys ---------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand keys to the flow; one that is held down counts once."""
        key = key_of(event)
        if not key:
            super().keyPressEvent(event)
            return
        event.accept()
        if not event.isAutoRepeat() or key == "backspace":
            self.flow.press(key)


def _pretty(text: str) -> str:
    """Return what is typed as it is meant: 38*5 as 38 5/8."""
    return re.sub(r"^(\d+) ?\*(\d*)$", lambda m: f"{m[1]} {m[2] or '_'}/8", text)
