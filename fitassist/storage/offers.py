# SPDX-License-Identifier: MIT
"""The forms one might buy, kept in one file of the profile, in millimetres.

A file that cannot be understood is never written over: it is moved aside before the next save.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from fitassist.choosing.candidate import Candidate
from fitassist.errors import BadFile, FitError
from fitassist.files import DISK, Disk, move_aside, read_file, replace_file
from fitassist.storage.strict_json import dump_json, parse_json

FILE_NAME = "forms_on_offer.json"
FORMAT, VERSION = "fitassist-forms-on-offer", 1
MOST = 500  # as many as a table may hold
_LIMIT = 4 * 1024 * 1024  # bytes
_CANDIDATES: TypeAdapter[tuple[Candidate, ...]] = TypeAdapter(tuple[Candidate, ...])


class Offers:
    """The forms on offer of one profile."""

    def __init__(self, profile: Path, disk: Disk = DISK) -> None:
        self._path = profile / FILE_NAME
        self._disk = disk

    def load(self) -> tuple[Candidate, ...]:
        """Return what is kept, in the order of entering; nothing yet is an empty list.

        Raises
        ------
        BadFile
            If the file is there and cannot be read or understood; it stays as it is.
        """
        try:
            data, _about = read_file(self._path, _LIMIT)
        except BadFile as error:
            if error.code == "not_found":
                return ()
            raise
        return read_offers(data)

    def save(self, candidates: Sequence[Candidate]) -> None:
        """Keep these in the place of those before.

        Raises
        ------
        BadFile
            ``too_many`` if there are more than can be compared; nothing is written then.
        StorageFailed
            If it could not be written; what was kept before still stands.
        """
        if len(candidates) > MOST:
            raise BadFile("too_many", most=MOST)
        values = [one.model_dump(mode="json", exclude_none=True) for one in candidates]
        data = dump_json({"format": FORMAT, "version": VERSION, "candidates": values}) + b"\n"
        read_offers(data)  # what could not be read again is not written
        try:
            self.load()
        except FitError:
            if self._path.exists():
                move_aside(self._path, self._disk)
        replace_file(self._path, data, self._disk)


def read_offers(data: bytes) -> tuple[Candidate, ...]:
    """Understand the bytes of the file.

    Raises
    ------
    BadFile
        ``truncated``, ``bad_json``, ``too_deep``, ``foreign_file``, ``newer_version``,
        ``unknown_version``, ``too_many`` or ``bad_document``.
    """
    raw = parse_json(data)
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise BadFile("foreign_file")
    version = raw.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise BadFile("unknown_version")
    if version > VERSION:
        raise BadFile("newer_version")
    found = raw.get("candidates")
    if isinstance(found, list) and len(found) > MOST:
        raise BadFile("too_many", most=MOST)
    try:
        return _CANDIDATES.validate_python(found)
    except (ValidationError, RecursionError) as error:
        raise BadFile("bad_document", field="candidates") from error
