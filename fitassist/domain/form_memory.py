# SPDX-License-Identifier: MIT
"""What a form remembers besides what its owner described: whose double it was made last."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from fitassist.domain.model import Model

MOST_PRINTED = 10_000.0  # no dial prints a larger number
_Id = Annotated[str, Field(max_length=100)]
_Number = Annotated[float, Field(ge=-MOST_PRINTED, le=MOST_PRINTED)]


class LastFitted(Model):
    """The last fitting in which this form was turned. Ids, no name: a name is the record's."""

    fitting_id: _Id
    person_id: _Id
    body_id: _Id = ""
    undergarment: str = Field(default="", max_length=300)
    at: str = Field(default="", max_length=40)  # UTC, ISO 8601; empty where it is not known
    finished: bool = False
    numbers: dict[str, _Number] = Field(default_factory=dict, max_length=64)  # where it left it

    def still_stands(self, numbers: dict[str, float]) -> bool:
        """Tell whether no dial has been turned since."""
        shared = set(numbers) & set(self.numbers)
        return all(abs(numbers[name] - self.numbers[name]) < 1e-6 for name in shared)
