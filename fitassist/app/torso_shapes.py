# SPDX-License-Identifier: MIT
"""What is known of torso shapes before anything is measured: read once, when first wanted.

A fitting begins with or without it: a file that cannot be read is logged and said, never raised.
"""

from __future__ import annotations

import importlib
import logging
from pathlib import Path
from typing import TYPE_CHECKING

from fitassist.domain.body import Body, Preferences
from fitassist.domain.form import Form
from fitassist.domain.shaping import Setting, Shaping
from fitassist.errors import FitError
from fitassist.files import resources_dir

if TYPE_CHECKING:
    from fitassist.geometry.shape_prior import ShapePriors
    from fitassist.session.shaping import KnownOutlines

log = logging.getLogger(__name__)

FILE = ("shape", "prior.npz")
_read: dict[Path, ShapePriors] = {}


def torso_shapes() -> ShapePriors | None:
    """Return the shipped priors, or None if they cannot be read."""
    from fitassist.geometry.shape_prior import load_priors  # brings numpy

    file = resources_dir().joinpath(*FILE)
    try:
        if file not in _read:
            _read[file] = load_priors(file)
        return _read[file]
    except Exception as error:
        log.error("no_torso_shapes", exc_info=error)
        return None


def load_shapes() -> None:
    """Load now what working with shapes takes long to load; for a thread of its own."""
    importlib.import_module("scipy.spatial")
    importlib.import_module("fitassist.session.shaping")
    torso_shapes()


def outlines_of(body: Body, form: Form) -> KnownOutlines | None:
    """Return what is known of the outlines of a body and a form; None if nothing can be."""
    from fitassist.session.shaping import known_outlines

    priors = torso_shapes()
    if priors is None:
        return None
    try:
        return known_outlines(body, form, priors)
    except (ArithmeticError, ValueError) as error:  # a body nobody thought of
        log.error("no_outlines", exc_info=error)
        return None


def shaping_of(body: Body, form: Form, preferences: Preferences, setting: Setting) -> Shaping:
    """Return what shape asks of the dials; a fitting goes by girths alone where it asks nothing."""
    from fitassist.session.shaping import shaping_for, shaping_without

    priors = torso_shapes()
    if priors is None:
        return shaping_without(body, form, setting, "shape_prior_unreadable")
    try:
        return shaping_for(body, form, preferences, priors, setting)
    except (FitError, ArithmeticError, ValueError) as error:  # a body nobody thought of
        log.error("no_shaping", exc_info=error)
        return shaping_without(body, form, setting, "shape_not_told")
