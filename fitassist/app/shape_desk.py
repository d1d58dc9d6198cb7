# SPDX-License-Identifier: MIT
"""What the page about shape is shown: the body and the form the other pages have chosen."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING, Literal, cast

from PySide6.QtCore import QObject

from fitassist.app.torso_shapes import torso_shapes
from fitassist.domain.body import Kind
from fitassist.domain.plausibility import Code
from fitassist.errors import BadFile, FitError
from fitassist.gui.person_page import PersonPage
from fitassist.gui.shape_page import ShapePage
from fitassist.session.person import BodyState, body_for_fitting, open_questions
from fitassist.wording.body_words import body_question
from fitassist.wording.catalogue_words import label_text
from fitassist.wording.sentences import sentence
from fitassist.wording.shape_words import say

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom
    from fitassist.domain.form import Form

log = logging.getLogger(__name__)

PLACE = "shape"
# Questions about readings that outlines are drawn from.
SHAPE_CODES: frozenset[Code] = frozenset(
    ("halves_sum", "front_back_sum", "part_over_whole", "boards_too_wide", "boards_too_narrow",
     "lengths_swapped")
)  # fmt: skip
Drawn = Literal["woman", "man", "any"]


class ShapeDesk(QObject):
    """Keeps the page up to date whenever it is gone to, and passes on what it asks for."""

    def __init__(self, room: Workroom, page: ShapePage) -> None:
        super().__init__(page)
        self._room = room
        self._page = page
        self._drawn: tuple[str, Drawn] | None = None  # body and choice that could not be kept
        page.kind_chosen.connect(self._on_kind)
        page.field_asked.connect(self._on_field)
        page.people_asked.connect(lambda: room.window.go_to("people"))
        page.measurements_asked.connect(lambda: room.window.go_to("measurements"))
        room.window.place_changed.connect(self._on_place)

    def _on_place(self, place: str) -> None:
        if place == PLACE:
            self.show_now()

    def show_now(self) -> None:
        """Show the body that is open, and the form its page shows."""
        measurements = self._measurements()
        if self._room.record is None:
            self._page.show_nobody()
            return
        body = measurements.state.bodies.get(measurements.body_id)
        if body is None:
            self._page.show_no_body()
            return
        self._show(body)

    def _show(self, body: BodyState) -> None:
        from fitassist.session.shape_view import shape_view  # brings numpy

        priors = torso_shapes()
        if priors is None:
            self._page.show_problem(sentence(BadFile("shape_prior_unreadable")))
            return
        room, form = self._room, self._form()
        labels = {one.key: label_text(one, body.kind) for one in room.catalogue.measurements}
        drawn = self._drawn[1] if self._drawn and self._drawn[0] == body.body_id else None
        targets = body_for_fitting(self._measurements().state, body.body_id, room.catalogue)
        try:
            view = shape_view(targets, form, priors, room.catalogue, drawn)
        except (FitError, ArithmeticError, ValueError) as error:  # a body nobody thought of
            log.error("no_shape", exc_info=error)
            self._page.show_problem(say("look_again"))
            return
        asked = [
            (body_question(one, labels, room.settings.units), one.likelier or one.keys[-1])
            for one in open_questions(body, room.catalogue)
            if one.code in SHAPE_CODES
        ]
        self._page.show_view(view, labels, asked, has_form=form is not None)

    def _form(self) -> Form | None:
        """Return the form its page shows, with its dials where they stand."""
        return cast("Form | None", getattr(self._room.window.page("form"), "form", None))

    def _measurements(self) -> PersonPage:
        page = self._room.window.page("measurements")
        assert isinstance(page, PersonPage)
        return page

    def _on_kind(self, drawn: Drawn) -> None:
        """Keep the choice with the body, where it also decides what is asked of its readings."""
        measurements = self._measurements()
        body = measurements.state.bodies.get(measurements.body_id)
        if body is None:
            return
        now = body.kind if body.kind in ("woman", "man") else "any"
        kind: Kind = "other" if drawn == "any" else drawn
        is_kept = drawn == now or measurements.check_as(kind)
        self._drawn = None if is_kept else (body.body_id, drawn)
        self.show_now()

    def _on_field(self, key: str) -> None:
        self._room.window.go_to("measurements")
        self._measurements().show_field(key)
