# SPDX-License-Identifier: MIT
"""What the page of forms on offer asks of whoever keeps people and forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from fitassist.choosing.candidate import Candidate
from fitassist.choosing.table import Table
from fitassist.domain.body import Body
from fitassist.domain.units import Unit


@dataclass(frozen=True)
class Measured:
    """Somebody who has been measured, as the list shows them."""

    id: str
    name: str


class OfferDesk(Protocol):
    """Keeps forms on offer and knows the bodies they are for."""

    @property
    def unit(self) -> Unit:
        """The unit lengths are said in."""

    def measured(self) -> Sequence[Measured]:
        """List everybody in use who has been measured, by name."""

    def bodies(self, person_id: str) -> Sequence[Body]:
        """Return the bodies of a person that have readings, each named as they are together.

        Raises FitError if the record cannot be read.
        """

    def offers(self) -> tuple[Candidate, ...]:
        """Return the forms on offer that are kept; raises FitError if they cannot be read."""

    def keep(self, offers: Sequence[Candidate]) -> None:
        """Keep these instead; raises FitError, and those before still stand then."""

    def own(self) -> tuple[Candidate, ...]:
        """Return one's own forms as candidates; those that cannot be read are left out."""

    def read_table(self, path: str) -> Table:
        """Read forms on offer from a table; raises FitError."""
