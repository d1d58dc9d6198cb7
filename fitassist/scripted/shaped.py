# SPDX-License-Identifier: MIT
"""The setting a body's file may ask for, as what shape asks of the dials; none: by girths alone.

What cannot be told is logged and said as a note, as in the window; it never stops a fitting.
"""

from __future__ import annotations

import logging

from fitassist.domain.body import Body, Preferences
from fitassist.domain.form import Form
from fitassist.domain.form_file import build
from fitassist.domain.shaping import Shaping
from fitassist.errors import FitError
from fitassist.files import resources_dir

log = logging.getLogger(__name__)
FIELD = "setting"


def shaping_asked(body: Body, form: Form, preferences: Preferences) -> Shaping:
    """Return what the setting in a body's file asks of the dials; raises `BadFile` for no setting.

    Without the field nothing is asked, and nothing of the shapes is loaded.
    """
    extra = body.model_extra or {}
    if FIELD not in extra:
        return Shaping()
    given = {FIELD: extra[FIELD]}
    setting = build(Shaping, given, given).setting
    from fitassist.geometry.shape_prior import load_priors  # brings scipy
    from fitassist.session.shaping import shaping_for, shaping_without

    try:
        priors = load_priors(resources_dir() / "shape" / "prior.npz")
    except FitError as error:
        log.error("no_torso_shapes", exc_info=error)
        return shaping_without(body, form, setting, "shape_prior_unreadable")
    try:
        return shaping_for(body, form, preferences, priors, setting)
    except (FitError, ArithmeticError, ValueError) as error:  # a body nobody thought of
        log.error("no_shaping", exc_info=error)
        return shaping_without(body, form, setting, "shape_not_told")
