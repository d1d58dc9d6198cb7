# SPDX-License-Identifier: MIT
"""Which key of a numeric pad does what: one choice for each, and no key twice."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.fields import plain_label
from fitassist.gui.keypad import ACTIONS, DEFAULT_KEYS, FREE_KEYS, makes_sense, taken_by
from fitassist.wording.beside_words import cap, say
from fitassist.wording.language import capital


class KeyChooser(QWidget):
    """One list of keys for each action.

    Signals
    -------
    chosen
        All actions with their keys, after one was changed.
    """

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keys = dict(DEFAULT_KEYS)
        self._boxes: dict[str, QComboBox] = {}
        self._message = plain_label(role="error", wraps=True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.STEP * 2)
        grid.setVerticalSpacing(theme.HALF)
        for row, action in enumerate(ACTIONS):
            words = capital(say(f"key_{action}"))
            box = QComboBox()
            box.setAccessibleName(words)
            box.setMinimumHeight(theme.TARGET)
            for key in FREE_KEYS:
                box.addItem(cap(key), key)
            box.activated.connect(lambda _index, action=action: self._on_chosen(action))
            label = plain_label(words)
            label.setBuddy(box)
            grid.addWidget(label, row, 0)
            grid.addWidget(box, row, 1)
            self._boxes[action] = box
        grid.addWidget(self._message, len(ACTIONS), 0, 1, 2)
        self._message.hide()
        self.show_keys(self._keys)

    def show_keys(self, keys: dict[str, str]) -> None:
        """Show which key does what."""
        self._keys = dict(keys)
        for action, box in self._boxes.items():
            box.setCurrentIndex(box.findData(self._keys[action]))

    def say_clash(self, chosen: Mapping[str, str]) -> None:
        """Say so if chosen keys make no sense together: the usual ones are in use then."""
        text = "" if makes_sense(chosen) else say("keys_clash")
        self._message.setText(text)
        self._message.setVisible(bool(text))

    def box(self, action: str) -> QComboBox:
        """Return the list of an action."""
        return self._boxes[action]

    def message(self) -> str:
        """Return why a key was not given, or an empty text."""
        return self._message.text()

    def _on_chosen(self, action: str) -> None:
        key = str(self._boxes[action].currentData())
        other = taken_by(self._keys, action, key)
        text = say("key_taken", other=cap(key), action=say(f"key_{other}")) if other else ""
        self._message.setText(text)
        self._message.setVisible(bool(text))
        if other:
            self.show_keys(self._keys)
            return
        if key != self._keys[action]:
            self._keys[action] = key
            self.chosen.emit(dict(self._keys))
