# SPDX-License-Identifier: MIT
"""The catalogue of measurements in the tongue in use; its own words are those of its file."""

from __future__ import annotations

from fitassist.domain.body import Kind
from fitassist.domain.measurements import Measurement
from fitassist.wording.language import _


def label_text(measurement: Measurement, kind: Kind) -> str:
    """Return what a measurement is called on a body of a kind."""
    return _(measurement.label_for(kind))


def how_to_measure(measurement: Measurement) -> str:
    """Return how a measurement is taken."""
    return _(measurement.how)
