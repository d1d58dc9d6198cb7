# SPDX-License-Identifier: MIT
"""A form's description that was opened from the desktop: taken into the folder of one's own forms.

The file itself is only read. Opening it once more takes nothing twice.
"""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING

from fitassist.domain.form import Form
from fitassist.domain.form_file import load_form_text
from fitassist.errors import BadFile, FitError
from fitassist.files import read_file
from fitassist.wording.sentences import sentence

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom

log = logging.getLogger(__name__)

_LIMIT = 4_000_000  # bytes; a form with all it was taught has a few hundred thousand


def read_form(path: Path) -> Form:
    """Read a form's description.

    Raises
    ------
    BadFile
        If it is not there or cannot be understood.
    """
    data, _ = read_file(path, _LIMIT)
    try:
        return load_form_text(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise BadFile("bad_json", path=str(path)) from error


def take_form(room: Workroom, path: Path) -> None:
    """Show the form a file describes, kept among one's own; or say why not."""
    try:
        form = read_form(path)
        form_id = _known(room, form) or room.own.save_form("", form)
    except FitError as error:
        log.warning("file_not_taken", extra={"facts": {"code": error.code}})
        room.window.show_message(sentence(error, room.settings.units))
        return
    room.window.go_to("form")
    page = room.window.page("form")
    page.reload(form_id)  # type: ignore[attr-defined]


def _known(room: Workroom, form: Form) -> str:
    """Return the id under which the very same form is kept already, or an empty text."""
    for entry in room.own.forms():
        if entry.problem is None and room.own.load_form(entry.id) == form:
            return entry.id
    return ""
