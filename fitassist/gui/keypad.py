# SPDX-License-Identifier: MIT
"""The keys of a small numeric pad: what they are called, what each does, and which may be changed.

A pad whose number lock is off sends arrows and the like; those mean the digits printed on them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

ACTIONS: Final = ("done", "apart", "overlap", "skip", "undo", "again", "else")
DEFAULT_KEYS: Final = {
    "done": "enter",
    "apart": "+",
    "overlap": "-",
    "skip": "*",
    "undo": "/",
    "again": ".",
    "else": "0",
}
# What may be given to an action: no reading begins with one of these.
FREE_KEYS: Final = ("enter", "+", "-", "*", "/", ".", "0", "backspace", "=")

_UNLOCKED: Final = {
    Qt.Key.Key_Insert: "0", Qt.Key.Key_End: "1", Qt.Key.Key_Down: "2", Qt.Key.Key_PageDown: "3",
    Qt.Key.Key_Left: "4", Qt.Key.Key_Clear: "5", Qt.Key.Key_Right: "6", Qt.Key.Key_Home: "7",
    Qt.Key.Key_Up: "8", Qt.Key.Key_PageUp: "9", Qt.Key.Key_Delete: ".",
}  # fmt: skip
_NAMED: Final = {
    Qt.Key.Key_Return: "enter",
    Qt.Key.Key_Enter: "enter",
    Qt.Key.Key_Backspace: "backspace",
    Qt.Key.Key_Escape: "escape",
}
_SHORTCUTS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


def key_of(event: QKeyEvent) -> str:
    """Return what a key is called here: a digit, a sign, enter, backspace, escape; or nothing."""
    key = Qt.Key(event.key())
    if event.modifiers() & _SHORTCUTS:
        return ""
    if key in _NAMED:
        return _NAMED[key]
    if event.modifiers() & Qt.KeyboardModifier.KeypadModifier and key in _UNLOCKED:
        return _UNLOCKED[key]
    text = event.text()
    if len(text) == 1 and text in "0123456789.,+-*/= ":
        return text
    return ""


def complete_keys(chosen: Mapping[str, str]) -> dict[str, str]:
    """Return a key for every action: the chosen ones if they make sense together, else the usual.

    A file may hold anything; two actions on one key, or a key no pad has, count as nothing chosen.
    """
    return _with_usual(chosen) if makes_sense(chosen) else dict(DEFAULT_KEYS)


def makes_sense(chosen: Mapping[str, str]) -> bool:
    """Say whether the chosen keys are keys of a pad and none of them has two meanings."""
    keys = list(_with_usual(chosen).values())
    return all(key in FREE_KEYS for key in keys) and len(set(keys)) == len(keys)


def _with_usual(chosen: Mapping[str, str]) -> dict[str, str]:
    return {**DEFAULT_KEYS, **{a: k for a, k in chosen.items() if a in ACTIONS}}


def taken_by(keys: Mapping[str, str], action: str, key: str) -> str:
    """Return the other action that uses a key already, or an empty text."""
    return next((other for other, k in keys.items() if k == key and other != action), "")
