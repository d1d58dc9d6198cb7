# SPDX-License-Identifier: MIT
"""F1 wherever one is, the way back, and the first screens at the first start."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QObject
from PySide6.QtGui import QKeySequence, QShortcut

if TYPE_CHECKING:
    from fitassist.app.kept_settings import KeptSettings
    from fitassist.gui.help_page import HelpPage
    from fitassist.gui.main_window import MainWindow


class HelpDesk(QObject):
    """Ties the help to a window.

    Parameters
    ----------
    kept
        Notes that the first screens were seen.
    """

    def __init__(self, window: MainWindow, kept: KeptSettings) -> None:
        super().__init__(window)
        self._window = window
        self._kept = kept
        self._was = ""
        window.place_changed.connect(self._on_place)
        QShortcut(QKeySequence("F1"), window).activated.connect(self._on_key)

    def make_page(self) -> HelpPage:
        """Return the page of help."""
        from fitassist.gui.help_page import HelpPage

        page = HelpPage()
        page.back_asked.connect(self._window.go_to)
        page.tour_left.connect(self._on_tour_left)
        return page

    def _page(self) -> HelpPage:
        page = self._window.page("help")
        return cast("HelpPage", page)

    def show_topic(self, key: str) -> None:
        """Show a page of help."""
        self._window.go_to("help")
        self._page().show_topic(key)

    def begin(self) -> bool:
        """Show the first screens if they were never seen; tell whether they were."""
        if self._kept.now.tour_seen:
            return False
        self._window.go_to("help")
        self._page().show_tour()
        return True

    def _on_place(self, place: str) -> None:
        if place == "help":
            self._page().show_from(self._was)
            return
        if self._was == "" and self._window.has_page("help") and self._page().is_touring:
            self._note_seen()  # left by going somewhere else
        self._was = place

    def _on_key(self) -> None:
        page = self._window.page(self._window.place) if self._window.place else None
        work = getattr(page, "work", None)  # of the fitting page, where there is a step to explain
        if work is not None and work.isVisible():
            work.toggle_how()
            return
        if self._window.place == "help":
            self._page().show_from(self._was)
        else:
            self._window.go_to("help")

    def _on_tour_left(self) -> None:
        is_first = not self._kept.now.tour_seen
        self._note_seen()
        if is_first:
            self._window.go_to(self._was or "people")

    def _note_seen(self) -> None:
        self._kept.note(tour_seen=True)
