# SPDX-License-Identifier: MIT
"""How the form is to be set: three ways in one line each, one of them proposed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QRadioButton, QWidget

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.shaping import SETTINGS, Setting, frame_lines, proposed_setting
from fitassist.domain.units import AnyUnit
from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.wording.lengths import say_amount
from fitassist.wording.shaping_words import say, setting_name, setting_why

WIDE = 760  # the lines beside the settings grow no longer


class ShapingChoice(QWidget):
    """Shows the settings; what the user has chosen for a body stays while he looks around."""

    def __init__(self, unit: AnyUnit = "in", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(say("title"))
        self._body_id = ""
        self._body: Body | None = None
        self._form: Form | None = None
        self._unit = unit
        self._chosen: dict[str, Setting] = {}  # by body
        self._group = QButtonGroup(self)
        self._ways: dict[Setting, QRadioButton] = {}
        self._whys = {one: plain_label(setting_why(one), "note", wraps=True) for one in SETTINGS}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.STEP)
        grid.setVerticalSpacing(0)
        grid.addWidget(plain_label(say("title"), "label"), 0, 0, 1, 2)
        for row, setting in enumerate(SETTINGS, start=1):
            way = QRadioButton(setting_name(setting))
            way.clicked.connect(lambda _on=False, setting=setting: self._choose(setting))
            self._group.addButton(way)
            self._ways[setting] = way
            grid.addWidget(way, row, 0)
            grid.addWidget(self._whys[setting], row, 1, Qt.AlignmentFlag.AlignVCenter)
        grid.setColumnStretch(1, 1)
        theme.at_most(self, WIDE)
        self._ways["nearest_girth"].setChecked(True)
        self._show()

    def show_body(self, body_id: str, body: Body | None) -> None:
        """Propose what suits a body, unless the user has chosen for it already."""
        self._body_id, self._body = body_id, body
        self._show()

    def show_form(self, form: Form) -> None:
        """Offer what this form can be set by."""
        self._form = form
        self._show()

    def set_unit(self, unit: AnyUnit) -> None:
        """Say lengths in another unit."""
        self._unit = unit
        self._show()

    def value(self) -> Setting:
        """Return the setting that is chosen."""
        return next(setting for setting, way in self._ways.items() if way.isChecked())

    def way(self, setting: Setting) -> QRadioButton:
        """Return the button of a setting."""
        return self._ways[setting]

    def why(self, setting: Setting) -> str:
        """Return the line beside a setting."""
        return self._whys[setting].text()

    def _choose(self, setting: Setting) -> None:
        self._chosen[self._body_id] = setting

    def _show(self) -> None:
        body, form = self._body, self._form
        has_frame = body is not None and bool(frame_lines(body, form))
        proposed = proposed_setting(body) if body is not None and has_frame else "nearest_girth"
        wanted = self._chosen.get(self._body_id, proposed)
        if wanted == "frame_first" and not has_frame:
            wanted = "nearest_girth"
        self._ways["frame_first"].setEnabled(has_frame)
        why = setting_why("frame_first")
        if not has_frame:
            why = say("frame_missing")
        elif proposed == "frame_first":
            assert body is not None
            bust, chest = body.target("bust"), body.target("upper_chest")
            if bust is not None and chest is not None:
                more = say_amount(bust.value_mm - chest.value_mm, self._unit)
                why = say("proposed", why=why, amount=more)
        self._whys["frame_first"].setText(why)
        self._ways[wanted].setChecked(True)
        for setting, way in self._ways.items():
            way.setAccessibleDescription(self._whys[setting].text())
