# SPDX-License-Identifier: MIT
"""Forms forget whose double they were; how their dials work is theirs, and stays."""

from __future__ import annotations

import logging
from typing import Any

from fitassist.domain.form import Form
from fitassist.errors import FitError
from fitassist.storage.library import Library

log = logging.getLogger(__name__)


def forget_in_forms(library: Library, person_id: str) -> list[str]:
    """Take an erased person out of all forms; return the ids of the forms that knew of her."""
    changed = []
    for entry in library.forms():
        if entry.problem is not None:
            continue
        try:
            form = library.load_form(entry.id)
            without = without_person(form, person_id)
            if without != form:
                library.save_form(entry.id, without)
                changed.append(entry.id)
        except FitError as error:
            log.warning("form_remembers", extra={"facts": {"code": error.code}})
    return changed


def without_person(form: Form, person_id: str) -> Form:
    """Return a form that does not tell who it was fitted to, nor what she wore."""
    last = form.last_fitted
    if last is not None and last.person_id == person_id:
        last = None
    learned = form.learned
    fittings = learned.get("fittings")
    if isinstance(fittings, list):
        learned = {**learned, "fittings": [_nobodys(one, person_id) for one in fittings]}
    return form.model_copy(update={"last_fitted": last, "learned": learned})


def _nobodys(past: Any, person_id: str) -> Any:
    """Return one past fitting without whose it was; others as they are."""
    if not isinstance(past, dict):
        return past
    if str(past.get("fitting_id", "")).rpartition("-")[0] != person_id:
        return past
    kept = {name: it for name, it in past.items() if name not in ("fitting_id", "wearer")}
    return {**kept, "undergarment": ""}
