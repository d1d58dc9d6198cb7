# SPDX-License-Identifier: MIT
"""What is said in the first minute of a fitting: what cannot be, and what could not be told."""

from __future__ import annotations

from fitassist.domain.steps import Note, Reason
from fitassist.session import events as ev
from fitassist.session.goals import never
from fitassist.session.posture import posture_notes


def first_minute(started: ev.FittingStarted) -> tuple[Note, ...]:
    """Return what a fitting begins with: limits of the form, lengths, what shape did not tell."""
    never_fits = never(started.body, started.form, started.preferences)
    doubts = (Note(code="step", reason=Reason(code=code)) for code in started.shaping.doubts)
    return (*never_fits, *posture_notes(started.body, started.form), *doubts)
