# SPDX-License-Identifier: MIT
"""A fitting that writes to a list, and somebody who answers what it asks."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fitassist.domain import answers as an
from fitassist.domain.body import Preferences
from fitassist.domain.steps import Ask, Check, Finished, Measure, SetDials
from fitassist.errors import StorageFailed
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from tests.builders import a_body, a_form


class Log:
    """Keeps what a fitting writes; refuses to write on request."""

    def __init__(self) -> None:
        self.events: list[ev.Recorded] = []
        self.full = False

    def __call__(self, events: Sequence[ev.Event]) -> Sequence[ev.Recorded]:
        if self.full:
            raise StorageFailed("disk_full")
        first = len(self.events) + 1
        new = [ev.Recorded(seq=first + i, event=event) for i, event in enumerate(events)]
        self.events += new
        return new


def a_fitting(log: Log | None = None, **fields: object) -> Fitting:
    started = ev.FittingStarted(
        fitting_id="f", body=a_body(), form=a_form(**fields), preferences=Preferences()
    )
    return Fitting(started, log or Log())


def answered(fitting: Fitting, until: Callable[[Fitting], bool], off_mm: float = 0.0) -> None:
    """Answer as asked, with the tape saying what is expected, until something holds."""
    for _ in range(80):
        if until(fitting):
            return
        now = fitting.instruction
        if isinstance(now, SetDials | Check):
            fitting.submit(an.Done())
        elif isinstance(now, Measure):
            assert now.expect_mm is not None
            fitting.submit(an.TapeReading(mm=now.expect_mm + off_mm))
        elif isinstance(now, Ask):
            fitting.submit(an.Choose(choice=now.choices[0]))
        else:
            break
    assert until(fitting)


def at_measure(fitting: Fitting) -> bool:
    return isinstance(fitting.instruction, Measure)


def at_set(fitting: Fitting) -> bool:
    return isinstance(fitting.instruction, SetDials)


def at_end(fitting: Fitting) -> bool:
    return isinstance(fitting.instruction, Finished)
