# SPDX-License-Identifier: MIT
"""A record in memory: events get their numbers and are kept nowhere else."""

from __future__ import annotations

from collections.abc import Sequence

from fitassist.session.events import Event, Recorded


class Numbering:
    """Numbers events from 1 on."""

    def __init__(self) -> None:
        self._seq = 0

    def __call__(self, events: Sequence[Event]) -> Sequence[Recorded]:
        first = self._seq + 1
        self._seq += len(events)
        return [Recorded(seq=first + i, event=event) for i, event in enumerate(events)]
