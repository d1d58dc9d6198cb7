# SPDX-License-Identifier: MIT
"""The descriptions of common kinds of form that come with the program, to start one's own from."""

from __future__ import annotations

from pathlib import Path

from fitassist.domain.form import Form
from fitassist.domain.form_file import MAX_BYTES, load_form_text
from fitassist.errors import BadFile


def ready_forms(folder: Path) -> dict[str, Form]:
    """Load every form description of a folder.

    Parameters
    ----------
    folder
        Where the ``*.json`` files lie; given, because the domain knows no places.

    Returns
    -------
    dict
        The forms by file name without its ending, in the order of those names.

    Raises
    ------
    BadFile
        With the file's name in ``values["file"]``; "unreadable" if the folder or a file is.
    """
    try:
        paths = sorted(path for path in folder.iterdir() if path.suffix == ".json")
    except OSError:
        raise BadFile("unreadable", file=folder.name) from None
    return {path.stem: _load(path) for path in paths}


def _load(path: Path) -> Form:
    try:
        if path.stat().st_size > MAX_BYTES:
            raise BadFile("too_large", most_bytes=MAX_BYTES)
        return load_form_text(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError):
        raise BadFile("unreadable", file=path.name) from None
    except BadFile as error:
        error.values["file"] = path.name
        raise
