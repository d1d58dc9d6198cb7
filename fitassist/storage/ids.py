# SPDX-License-Identifier: MIT
"""Names of files that tell nothing and lead nowhere: drawn at random, checked before each use."""

from __future__ import annotations

import re
import secrets

from fitassist.errors import BadFile

_ID = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}")
# Names Windows keeps for devices, with any ending.
_DEVICES = re.compile(r"con|prn|aux|nul|com\d|lpt\d")


def random_id() -> str:
    """Return a new id."""
    return secrets.token_hex(8)


def is_id(text: str) -> bool:
    """Say whether a file of that stem may be one of ours."""
    return _ID.fullmatch(text) is not None


def checked_id(name: str) -> str:
    """Return an id that is safe as a file name in its folder, or raise BadFile ``bad_id``."""
    if not is_id(name) or _DEVICES.fullmatch(name):
        raise BadFile("bad_id", id=name)
    return name
