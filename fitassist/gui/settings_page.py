# SPDX-License-Identifier: MIT
"""Preferences, each with a sentence; every change counts at once, and all can be set back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final, get_args

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from fitassist.domain.units import Length, parse_length
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, LengthField, button, plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import scrolling
from fitassist.gui.key_chooser import KeyChooser
from fitassist.gui.keypad import complete_keys
from fitassist.settings import Settings
from fitassist.wording.lengths import say_amount
from fitassist.wording.numbers import decimal_text
from fitassist.wording.pages import say

WIDTH = 760
SCALES: Final = ("1.0", "1.25", "1.5", "2.0")
CONFIDENCES: Final = ("0.9", "0.95", "0.99")
SWITCHES: Final = ("padding_follows", "opposite_equal", "checks", "speak", "remind_measured")
FIGURES: Final = ("24", "30", "36", "44")
NUMBERS: Final = ("font_scale", "confidence", "beside_figure_mm")
KEPT_ON_RESET: Final = ("last_person", "last_page", "window", "tour_seen", "paper")
LINES: Final = ("", "hip")  # "": every line that has no tolerance of its own


class SettingsPage(QWidget):
    """All preferences on one page.

    Parameters
    ----------
    languages
        The tongues that can be chosen: code, and what it calls itself.

    Signals
    -------
    changed
        The ``Settings`` as they now are.
    """

    changed = Signal(object)

    def __init__(
        self,
        settings: Settings,
        languages: Sequence[tuple[str, str]] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._languages = languages
        self.setProperty("role", "page")
        self._settings = settings
        self._rows: dict[str, ChoiceRow] = {}
        self._fields: dict[str, LengthField] = {}
        self._switches: dict[str, QCheckBox] = {}
        inside = QWidget()
        theme.at_most(inside, WIDTH)
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(*(theme.MARGIN,) * 4)
        self._column.setSpacing(theme.STEP)
        self._column.addWidget(plain_label(say("place.settings"), "heading"))
        self._build()
        self._said = plain_label(role="error", wraps=True)
        self._said.hide()
        self.reset_button = button(say("settings.reset"))
        self.reset_button.clicked.connect(self._reset)
        foot = QHBoxLayout()
        foot.addWidget(self.reset_button)
        foot.addWidget(self._said, 1)
        foot.addStretch(1)
        self._column.addSpacing(theme.STEP * 2)
        self._column.addLayout(foot)
        self._column.addStretch(1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scrolling(inside))
        self.show_settings(settings)

    def _build(self) -> None:
        themes = get_args(Settings.model_fields["theme"].annotation)
        self._choice("units", [(u, say(f"form.units_{u}")) for u in ("in", "cm")])
        self._choice("theme", [(t, say(f"settings.theme_{t}")) for t in theme.NAMES if t in themes])
        if len(self._languages) > 1:
            system = ("", say("settings.language_system"))
            self._choice("language", [system, *self._languages])
        self._choice("font_scale", [(s, f"{float(s):.0%}".replace("%", " %")) for s in SCALES])
        self._choice(
            "confidence",
            [(c, say("settings.in_100", n=round(100 * float(c)))) for c in CONFIDENCES],
        )
        for line in LINES:
            self._tolerance(line)
        self._length("cover_mm")
        self._length("tape_spread_mm")
        for key in SWITCHES:
            made = QCheckBox(say(f"settings.{key}"))
            made.clicked.connect(lambda on, key=key: self._set(key, on))
            self._switches[key] = made
            self._group(f"settings.{key}_why", made)
        self._choice("beside_figure_mm", [(mm, f"{mm} mm") for mm in FIGURES])
        self.key_chooser = KeyChooser()
        self.key_chooser.chosen.connect(lambda keys: self._set("keypad", keys))
        self._group("settings.keypad_why", self.key_chooser, title=say("settings.keypad"))

    def _group(self, why: str, *widgets: QWidget, title: str = "") -> None:
        self._column.addSpacing(theme.STEP)
        if title:
            self._column.addWidget(plain_label(title, "title"))
        note = plain_label(say(why), "note", wraps=True)
        if len(widgets) == 1:  # in a row it is as wide as it needs to be, and wraps if it must
            row = QHBoxLayout()
            row.addWidget(widgets[0])
            row.addStretch(0)
            self._column.addLayout(row)
        else:
            flow = FlowLayout(gap=theme.STEP)
            for widget in widgets:
                flow.addWidget(widget)
            self._column.addLayout(flow)
        self._column.addWidget(note)

    def _choice(self, key: str, choices: list[tuple[str, str]]) -> None:
        made = ChoiceRow(say(f"settings.{key}"), choices)
        made.chosen.connect(lambda value, key=key: self._on_choice(key, value))
        self._rows[key] = made
        self._group(f"settings.{key}_why", made, title=say(f"settings.{key}"))

    def _length(self, key: str) -> None:
        made = LengthField(
            say(f"settings.{key}"), "cm", commit_on_leave=True, allow_zero=key == "cover_mm"
        )
        made.committed.connect(lambda length, key=key: self._on_length(key, length))
        self._fields[key] = made
        self._group(f"settings.{key}_why", made, title=say(f"settings.{key}"))

    def _tolerance(self, line: str) -> None:
        title = say("settings.tolerance_hip" if line else "settings.tolerance")
        widgets: list[QWidget] = []
        for side in ("below", "above"):
            words = say(f"settings.{side}")
            made = LengthField(f"{title}, {words}", "cm", commit_on_leave=True)
            made.committed.connect(
                lambda length, line=line, side=side: self._on_tolerance(line, side, length)
            )
            self._fields[f"{line or 'all'}_{side}"] = made
            widgets.append(_beside_its_words(words, made))
        self._group("settings.tolerance_why", *widgets, title=title)

    # -- what is shown ------------------------------------------------------------------------

    def show_settings(self, settings: Settings) -> None:
        """Show what is chosen."""
        self._settings = settings
        self._rows["units"].set_value(settings.units)
        self._rows["theme"].set_value(settings.theme)
        if "language" in self._rows:
            codes = [code for code, _name in self._languages]
            self._rows["language"].set_value(
                settings.language if settings.language in codes else ""
            )
        self._rows["font_scale"].set_value(_nearest(settings.font_scale, SCALES))
        self._rows["confidence"].set_value(_nearest(settings.confidence, CONFIDENCES))
        self._rows["beside_figure_mm"].set_value(_nearest(settings.beside_figure_mm, FIGURES))
        self.key_chooser.show_keys(complete_keys(settings.keypad))
        self.key_chooser.say_clash(settings.keypad)
        for key, made in self._switches.items():
            made.setChecked(getattr(settings, key))
        lengths = {"cover_mm": settings.cover_mm, "tape_spread_mm": settings.tape_spread_mm}
        for line in LINES:
            below, above = self._tolerance_of(line)
            lengths[f"{line or 'all'}_below"] = -below
            lengths[f"{line or 'all'}_above"] = above
        for key, mm in lengths.items():
            self._fill(key, mm)

    def _fill(self, key: str, mm: float) -> None:
        field = self._fields[key]
        unit_changed = field.unit != self._settings.units
        if unit_changed:
            field.set_unit(self._settings.units)
        now = field.length()
        if unit_changed or now is None or abs(now.mm - mm) > 0.1:
            field.set_text(_as_typed(mm, self._settings.units))

    def settings(self) -> Settings:
        """Return what is chosen."""
        return self._settings

    def row(self, key: str) -> ChoiceRow:
        """Return the choices of a preference."""
        return self._rows[key]

    def field(self, key: str) -> LengthField:
        """Return the field of a length: ``cover_mm``, ``all_below``, ``hip_above``..."""
        return self._fields[key]

    def switch(self, key: str) -> QCheckBox:
        """Return the switch of a preference."""
        return self._switches[key]

    def show_failure(self, text: str) -> None:
        """Say that the preferences count now but could not be kept."""
        self._said.setText(text)
        self._said.setVisible(bool(text))

    # -- what is done -------------------------------------------------------------------------

    def _set(self, key: str, value: Any) -> bool:
        values = {**self._settings.model_dump(), key: value}
        try:
            self._settings = Settings.model_validate(values)
        except ValueError:  # pydantic's own errors are ValueErrors
            return False
        self.show_failure("")
        self.show_settings(self._settings)
        self.changed.emit(self._settings)
        return True

    def _on_choice(self, key: str, value: str) -> None:
        self._set(key, float(value) if key in NUMBERS else value)

    def _on_length(self, key: str, length: Length) -> None:
        if not self._set(key, length.mm):
            self._fields[key].show_error(say("settings.too_much"))

    def _tolerance_of(self, line: str) -> tuple[float, float]:
        default = self._settings.default_tolerance_mm
        return self._settings.line_tolerance_mm.get(line, default) if line else default

    def _on_tolerance(self, line: str, side: str, length: Length) -> None:
        below, above = self._tolerance_of(line)
        new = (-length.mm, above) if side == "below" else (below, length.mm)
        if not MOST_TOLERANCE_MM >= length.mm > 0:
            self._fields[f"{line or 'all'}_{side}"].show_error(say("settings.too_much"))
        elif line:
            self._set("line_tolerance_mm", {**self._settings.line_tolerance_mm, line: new})
        else:
            self._set("default_tolerance_mm", new)

    def _reset(self) -> None:
        kept = {key: getattr(self._settings, key) for key in KEPT_ON_RESET}
        self._settings = Settings(**kept)
        self.show_failure("")
        self.show_settings(self._settings)
        self.changed.emit(self._settings)


def _beside_its_words(words: str, field: QWidget) -> QWidget:
    """Return a field with its words before it, kept in one line."""
    pair = QWidget()
    row = QHBoxLayout(pair)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(theme.STEP)
    row.addWidget(plain_label(words, "quiet"))
    row.addWidget(field)
    return pair


MOST_TOLERANCE_MM: Final = 50.0  # our own choice: wider than that is no longer a fit


def _nearest(value: float, choices: tuple[str, ...]) -> str:
    return min(choices, key=lambda choice: abs(float(choice) - value))


def _as_typed(mm: float, unit: str) -> str:
    """Return an amount as one would type it, exact enough to read back."""
    if mm == 0:
        return "0"
    text = say_amount(mm, "in") if unit == "in" else f"{decimal_text(round(mm, 1))} mm"
    try:
        if abs(parse_length(text, "in" if unit == "in" else "cm").mm - mm) <= 0.1:
            return text
    except FitError:
        pass
    return f"{decimal_text(round(mm, 1))} mm"
