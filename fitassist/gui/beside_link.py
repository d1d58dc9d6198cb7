# SPDX-License-Identifier: MIT
"""Ties the view beside the form, and the voice, to a fitting page."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from fitassist.domain import answers as an
from fitassist.domain.lines import What
from fitassist.domain.steps import Measure
from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.keypad import complete_keys
from fitassist.gui.speaker import Speaker, make_speaker
from fitassist.session.view import FittingView, LineView
from fitassist.settings import Settings
from fitassist.wording.beside_words import say
from fitassist.wording.instructions import title
from fitassist.wording.lengths import say_length
from fitassist.wording.spoken_words import said_back, spoken

if TYPE_CHECKING:
    from fitassist.gui.beside_view import BesideView


class BesideLink(QObject):
    """The view of one page, made when first asked for; what it is answered goes to the bridge.

    Signals
    -------
    answered
        An answer.
    left, new_asked
        The page is wanted again; another fitting is.
    """

    answered = Signal(object)
    left = Signal()
    new_asked = Signal()

    def __init__(
        self,
        parent: QObject | None = None,
        make: Callable[[QObject | None], Speaker] = make_speaker,
    ) -> None:
        super().__init__(parent)
        self.view: BesideView | None = None
        self._settings = Settings()
        self._make = make
        self._speaker: Speaker | None = None
        self._bridge: FittingBridge | None = None
        self._last: an.Answer | None = None
        self._unit: AnyUnit = "in"

    def use(self, settings: Settings) -> None:
        """Take the size of figures, the keys and whether steps are spoken from the settings."""
        self._settings = settings
        if self.view is not None:
            self._dress(self.view)
        if not settings.speak and self._speaker is not None:
            self._speaker.stop()

    def _dress(self, view: BesideView) -> None:
        view.set_figures(self._settings.beside_figure_mm)
        view.flow.set_keys(complete_keys(self._settings.keypad))

    def open(self, bridge: FittingBridge, unit: AnyUnit, is_private: bool) -> BesideView:
        """Return the view of a fitting, made anew."""
        from fitassist.gui.beside_view import BesideView  # brings the plots

        self.close()
        self._bridge, self._unit = bridge, unit
        form, body = bridge.started.form, bridge.started.body
        view = BesideView(form, body, unit, bridge.view(), bridge.outlines())
        view.flow.answered.connect(self.answered)
        view.flow.asked.connect(self._on_asked)
        view.flow.changed.connect(self._preview)
        self.view = view
        self._dress(view)
        view.keep_private(is_private)
        return view

    def watch(self, bridge: FittingBridge | None) -> None:
        """Read the steps of this fitting, also while the page shows them."""
        self._bridge = bridge

    def close(self) -> None:
        """Put the view away."""
        if self.view is not None:
            self.view.setParent(None)
            self.view.deleteLater()
        self.view = None
        if self._speaker is not None:
            self._speaker.stop()

    @property
    def is_private(self) -> bool:
        """Whether no measure of the body may be seen or heard."""
        return self.view is not None and self.view.flow.is_private

    def note(self, answer: an.Answer) -> None:
        """Remember what was answered, to repeat it once it was taken."""
        self._last = answer

    def show_view(self, view: FittingView, lines: tuple[LineView, ...], unit: AnyUnit) -> None:
        """Show a new step, and read it aloud."""
        self._unit = unit
        if self.view is not None:
            self.view.show_view(view, lines, unit)
        self.read_step()

    def show_failure(self, error: FitError) -> None:
        """Say why an answer was not taken."""
        if self.view is not None:
            self.view.flow.show_failure(error)

    def _preview(self) -> None:
        view, bridge = self.view, self._bridge
        if view is None or bridge is None or not bridge.is_ready:
            return
        length, step = view.flow.typed(), view.step
        reading: tuple[str, What, float] | None = None
        if length is not None and isinstance(step, Measure) and view.flow.top is None:
            reading = (step.line, step.what, length.mm)
        view.show_lines(bridge.preview(None, reading))

    def _on_asked(self, name: str) -> None:
        if name == "leave":
            self.left.emit()
        elif name == "new":
            self.new_asked.emit()
        elif name == "again":
            self._again()
        elif name == "private" and self.view is not None:
            self.view.flow.screens = []
            self.view.keep_private(not self.view.flow.is_private)

    # -- the voice ----------------------------------------------------------------------------

    def _again(self) -> None:
        view = self.view
        if view is None:
            return
        view.card.announce()
        if not self._settings.speak:
            view.flow.message = say("not_aloud")
            return
        self.read_step()
        if not self._voice().has_voice:
            view.flow.message = say("no_voice")

    def _voice(self) -> Speaker:
        if self._speaker is None:
            self._speaker = self._make(self)
        return self._speaker

    def read_step(self) -> None:
        """Repeat what was just answered and read the step aloud, where that is wanted."""
        last, self._last = self._last, None
        if not self._settings.speak or self._bridge is None or not self._bridge.is_ready:
            return
        parts = []
        if isinstance(last, an.TapeReading | an.VolunteeredReading) and not self.is_private:
            parts.append(said_back(say_length(last.mm, self._unit)))
        said: tuple[str, ...]
        if self.view is not None:
            said = self.view.step_words()
        else:
            said = (title(self._bridge.view().instruction, self._bridge.started.form, self._unit),)
        parts += [f"{spoken(text)}." for text in said if text]
        self._voice().say(" ".join(parts))
