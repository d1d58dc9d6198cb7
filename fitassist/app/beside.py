# SPDX-License-Identifier: MIT
"""Lets the fitting page have the whole screen, and follow the settings while it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fitassist.app.kept_settings import KeptSettings
    from fitassist.gui.fitting_page import FittingPage
    from fitassist.gui.main_window import MainWindow


def tie_beside(page: FittingPage, window: MainWindow, kept: KeptSettings) -> None:
    """Tie a fitting page to its window and to the settings of its view beside the form."""

    def on_place(place: str) -> None:
        if place != "fitting":
            page.leave_beside()

    page.alone_asked.connect(window.show_alone)
    window.place_changed.connect(on_place)
    kept.watch(page.link.use)
