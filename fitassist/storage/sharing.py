# SPDX-License-Identifier: MIT
"""Equal parts of events are kept in memory once.

Each fitting begins with the form as it stood and all it had been taught, nearly what the fitting
before began with. Events are frozen, so what is equal may be the same object.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Any

from fitassist.domain.model import Model
from fitassist.session.events import FittingStarted, Recorded

# Of the beginning of a fitting: parts nearly the same as in the fitting before.
WHOLE = ("body", "form", "preferences", "shaping")
_PLAIN = (float, int, bool, type(None))
_NOTHING: dict[str, Any] = {}  # what events hold beside their fields: mostly nothing


class Sharing:
    """What was seen so far of one record."""

    def __init__(self) -> None:
        self._parts: dict[object, Any] = {}  # of forms and bodies at the beginning of fittings
        self._given: dict[type[Model], set[str]] = {}  # names of fields given
        self._taught: list[Any] = []  # what the form of the last fitting had learned

    def share(self, events: Iterable[Recorded]) -> None:
        """Make events just read, which nobody else holds yet, of shared parts."""
        for recorded in events:
            event = recorded.event
            if isinstance(event, FittingStarted):
                self._share_learned(event.form.learned)
                values = event.__dict__
                for name in WHOLE:
                    values[name] = self._shared(values[name])
            self._slim(recorded)

    def _share_learned(self, learned: dict[str, Any]) -> None:
        """Take over the past fittings that the form of the fitting before knew as well."""
        fittings = learned.get("fittings")
        if not isinstance(fittings, list):
            return
        before = self._taught
        fittings[:] = [next((old for old in before if old == one), one) for one in fittings]
        self._taught = fittings

    def _slim(self, value: Any) -> Any:
        """Share what every model carries along; return texts and mappings with shared texts."""
        kind = type(value)
        if kind is str:
            return sys.intern(value)
        if kind is tuple:
            return tuple(map(self._slim, value)) if value else value
        if kind is dict:
            return {sys.intern(name): self._slim(one) for name, one in value.items()}
        if isinstance(value, Model):
            self._lighten(value)
            done = WHOLE if kind is FittingStarted else ()
            values = value.__dict__
            for name, one in values.items():  # most are numbers, and texts need no further look
                if type(one) is str:
                    values[name] = sys.intern(one)
                elif type(one) not in _PLAIN and name not in done:
                    values[name] = self._slim(one)
        return value

    def _lighten(self, value: Model) -> None:
        """Share what every model carries beside its fields."""
        kind, given = type(value), value.__pydantic_fields_set__
        shared = self._given.setdefault(kind, given)  # nearly always the same of one kind
        if shared is not given and shared == given:
            object.__setattr__(value, "__pydantic_fields_set__", shared)
        if not value.__pydantic_extra__:
            object.__setattr__(value, "__pydantic_extra__", _NOTHING)

    def _shared(self, value: Any) -> Any:
        """Return the first value equal to this one, part by part from the inside."""
        key: object
        if isinstance(value, Model):
            self._lighten(value)
            values = value.__dict__
            for name, one in values.items():
                if name != "learned":
                    values[name] = self._shared(one)
            if value.__pydantic_extra__:
                return value
            key = (type(value), *map(id, values.values()))
        elif isinstance(value, tuple):
            value = tuple(map(self._shared, value))
            key = (tuple, *map(id, value))
        elif isinstance(value, dict):
            return {sys.intern(name): self._shared(one) for name, one in value.items()}
        elif isinstance(value, float | int | str):
            key = (type(value), value)
        else:
            return value
        return self._parts.setdefault(key, value)
