# SPDX-License-Identifier: MIT
"""How a document of an older version becomes one of this version: a pure dict -> dict a version.

A change of the file format adds a function here and an old file to ``tests/data/records``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from fitassist.errors import BadFile
from fitassist.session.events import SINCE_VERSION_2, Recorded

VERSION = 2

Migration = Callable[[dict[str, Any]], dict[str, Any]]

# From version n to n + 1. Version 1 is the first; 2 only added kinds of events, and a document
# that has none of them is still written as version 1, so that an older program can read it.
MIGRATIONS: Mapping[int, Migration] = {1: dict}


def version_needed(events: Iterable[Recorded]) -> int:
    """Return the oldest version whose programs understand all of these events."""
    return VERSION if any(isinstance(one.event, SINCE_VERSION_2) for one in events) else 1


def migrate(
    document: dict[str, Any],
    table: Mapping[int, Migration] = MIGRATIONS,
    version: int = VERSION,
) -> dict[str, Any]:
    """Bring a document to ``version``, one step at a time; the given one is not changed.

    Raises
    ------
    BadFile
        ``bad_document`` if it has no version, ``newer_version``, or ``unknown_version`` if no
        step leads from its version.
    """
    found = document.get("version")
    if isinstance(found, bool) or not isinstance(found, int):
        raise BadFile("bad_document", field="version")
    if found > version:
        raise BadFile("newer_version", found=found, known=version)
    while found < version:
        if found not in table:
            raise BadFile("unknown_version", found=found, known=version)
        found += 1
        document = {**table[found - 1](document), "version": found}
    return document
