# SPDX-License-Identifier: MIT
"""The panels that take the list's place, together: the first paint need not wait for them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from fitassist.gui.history_panel import HistoryPanel
from fitassist.gui.import_panel import ImportPanel
from fitassist.gui.out_panel import OutPanel
from fitassist.gui.people_panel import PeoplePanel
from fitassist.gui.people_ports import PeopleDesk
from fitassist.gui.states_panel import CopiesPanel, StatesPanel
from fitassist.gui.together_panel import TogetherPanel

__all__ = [
    "PANELS",
    "CopiesPanel",
    "HistoryPanel",
    "ImportPanel",
    "OutPanel",
    "StatesPanel",
    "TogetherPanel",
]

PANELS: Final[dict[str, Callable[[PeopleDesk], PeoplePanel]]] = {
    "history": HistoryPanel,
    "states": StatesPanel,
    "copies": CopiesPanel,
    "together": TogetherPanel,
    "out": OutPanel,
    "in": ImportPanel,
}
