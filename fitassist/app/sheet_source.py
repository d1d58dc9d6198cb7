# SPDX-License-Identifier: MIT
"""What the page of sheets is told of: the open record, its fitting, and what shapes are known."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from fitassist.app.torso_shapes import torso_shapes
from fitassist.errors import FitError
from fitassist.files import resources_dir
from fitassist.padding.materials import Material, read_materials
from fitassist.report.facts import Facts, facts_of
from fitassist.report.padding_facts import Padding, last_padding_choice, padding_of
from fitassist.session.padding_work import Watch

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom

Seen = tuple[str, int, str, bool]


class RoomSheets:
    """The sheets of whoever is open; what was worked out is kept while it is true."""

    def __init__(self, room: Workroom) -> None:
        self._room = room
        self._facts: tuple[Seen, Facts] | None = None
        self._padding: tuple[Seen, Padding | None] | None = None

    def facts(self, newest: bool = False) -> Facts | None:
        """Return what is known of the body that is worked on, or None while nobody is open."""
        record = self._room.record
        if record is None:
            return None
        seen = self._seen(newest)
        if self._facts is None or self._facts[0] != seen:
            body = self._room.body_id
            self._facts = seen, facts_of(record.events, self._room.catalogue, body, newest)
        return self._facts[1]

    def fronts(self) -> Mapping[str, float]:
        """Return the share of each girth that the body's outlines put before the side line."""
        from fitassist.session.shaping import body_outlines

        priors, facts = torso_shapes(), self._facts
        if priors is None or facts is None:
            return {}
        try:
            levels = body_outlines(facts[1].body, priors).levels
        except FitError:
            return {}
        return {line: level.front_mm / level.girth_mm for line, level in levels.items()}

    def padding(self) -> Padding | None:
        """Return what was worked out to be laid on the form, or None."""
        known = self._padding
        return known[1] if known is not None and known[0] == self._seen(False) else None

    def padding_job(self) -> Callable[[Watch], object] | None:
        """Return what has to be worked out before padding can be told, or None."""
        record, facts = self._room.record, self.facts()
        seen = self._seen(False)
        if record is None or facts is None or facts.form is None:
            return None
        if self._padding is not None and self._padding[0] == seen:
            return None
        events, body_id = tuple(record.events), self._room.body_id
        if last_padding_choice(events, body_id) is None:
            self._padding = seen, None
            return None

        def work_out(watch: Watch) -> object:
            return seen, padding_of(events, body_id, torso_shapes(), _materials(), watch)

        return work_out

    def take(self, worked_out: object) -> None:
        """Keep what a job has worked out."""
        self._padding = worked_out  # type: ignore[assignment]

    def _seen(self, newest: bool) -> Seen:
        record = self._room.record
        return (
            record.id if record else "",
            len(record.events) if record else 0,
            self._room.body_id,
            newest,
        )


def _materials() -> tuple[Material, ...]:
    try:
        return read_materials(resources_dir().joinpath("materials.json").read_bytes())
    except (FitError, OSError):
        return ()
