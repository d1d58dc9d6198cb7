# SPDX-License-Identifier: MIT
"""The files beside a document, and what interrupted writes have left there."""

from __future__ import annotations

import contextlib
import re
from pathlib import Path


def journal_path(document: Path) -> Path:
    """Return the journal beside a document."""
    return document.with_suffix(".journal")


def lock_path(document: Path) -> Path:
    """Return the lock beside a document."""
    return document.with_suffix(".lock")


def backup_folder(document: Path) -> Path:
    """Return where the backups of a document are kept."""
    return document.parent / "backups" / document.stem


def beside(document: Path) -> list[Path]:
    """List all other files of a document in its folder, also those interrupted writes left."""
    start = f"{document.stem}."
    return [
        path
        for path in document.parent.iterdir()
        if path.name.lstrip(".").startswith(start) and path != document
    ]


# What files.replace_file and lock.Lock call what they have not finished; anything else hidden is
# somebody else's: an editor's, or a copy that is just being brought from another machine.
_UNFINISHED = re.compile(r"\..+\.[0-9a-f]{8}\.new|\..+\.lock\.[0-9a-f]{16}")


def is_unfinished(name: str) -> bool:
    """Say whether a file is one of ours that was never finished."""
    return _UNFINISHED.fullmatch(name) is not None


def sweep(document: Path) -> None:
    """Remove the unfinished files of writers that were killed; call with the lock held."""
    with contextlib.suppress(OSError):
        for path in beside(document):
            if is_unfinished(path.name):
                path.unlink()
    with contextlib.suppress(OSError):
        for path in backup_folder(document).iterdir():
            if is_unfinished(path.name):
                path.unlink()
