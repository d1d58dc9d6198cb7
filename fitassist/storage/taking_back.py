# SPDX-License-Identifier: MIT
"""People just brought in from a table, taken back again; whoever was changed since stays."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.errors import FitError
from fitassist.storage.people_folder import PeopleFolder


@dataclass(frozen=True)
class Brought:
    """What one row of a table did to one record."""

    person_id: str
    before: int  # events of the record before; none: it was made for the row
    after: int


class TakingBack:
    """Undoes rows, the last first, for about so long at a time.

    A record made for a row is erased; one that was added to goes back to its earlier state, and
    what was added stays among its earlier states.
    """

    def __init__(self, folder: PeopleFolder, brought: Sequence[Brought]) -> None:
        self._folder = folder
        self._left = list(brought)
        self.done = 0
        self.kept: list[str] = []  # ids of records changed since, or open elsewhere

    def go_on(self, seconds: float) -> bool:
        """Take back for about so long; return whether all are dealt with."""
        until = time.monotonic() + seconds
        while self._left:
            one = self._left.pop()
            try:
                is_back = self._take_back(one)
            except FitError:
                is_back = False
            if is_back:
                self.done += 1
            else:
                self.kept.append(one.person_id)
            if time.monotonic() > until:
                break
        return not self._left

    def _take_back(self, one: Brought) -> bool:
        if self._count(one.person_id) != one.after:
            return False
        if one.before == 0:
            with self._folder.open_person(one.person_id):
                pass  # who has it open elsewhere keeps it
            self._folder.erase_person(one.person_id)
            return True
        for backup in self._folder.backups(one.person_id)[:2]:
            self._folder.restore_person(one.person_id, backup.number)
            if self._count(one.person_id) == one.before:
                return True
        return False

    def _count(self, person_id: str) -> int:
        with self._folder.open_person(person_id, read_only=True) as record:
            return len(record.events)
