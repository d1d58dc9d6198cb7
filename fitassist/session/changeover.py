# SPDX-License-Identifier: MIT
"""From one person to the next on one form: whose padding comes off first, whose goes back on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fitassist.session import events as ev
from fitassist.session.padding_state import fold_padding

Carrier = ev.Carrier


def padding_of_fitting(events: Sequence[ev.Recorded], fitting_id: str) -> Carrier:
    """Return what carried the padding laid in one fitting of a record; "" if none was laid."""
    return next((_carrier(part) for s, part in _parts(events) if s.fitting_id == fitting_id), "")


def kept_padding(events: Sequence[ev.Recorded], body_id: str, form_id: str) -> Carrier:
    """Return what carries the padding last laid for a body on a form; "" if there is none."""
    found: Carrier = ""
    for started, part in _parts(events):
        if (started.body_id, started.form_id) == (body_id, form_id):
            found = _carrier(part) or found
    return found


def _parts(
    events: Sequence[ev.Recorded],
) -> Iterator[tuple[ev.FittingStarted, Sequence[ev.Recorded]]]:
    """Give each fitting of a record with what was told in it."""
    starts = [i for i, one in enumerate(events) if isinstance(one.event, ev.FittingStarted)]
    for first, end in pairwise([*starts, len(events)]):
        started = events[first].event
        assert isinstance(started, ev.FittingStarted)
        yield started, events[first + 1 : end]


def _carrier(events: Sequence[ev.Recorded]) -> Carrier:
    """Return what the padding of one fitting was laid on; "" if none was."""
    state = fold_padding(events)
    if not state.has_begun:
        return ""
    return state.choice.carrier if state.choice is not None else "form"
