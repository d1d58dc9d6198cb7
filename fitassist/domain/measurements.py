# SPDX-License-Identifier: MIT
"""The catalogue of what can be measured on a body, read from a data file and checked.

A new measurement needs an entry in the file and no code.
"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from pydantic import ConfigDict, Field, ValidationError, model_validator

from fitassist.domain.body import Kind
from fitassist.domain.lines import LEG_LINES, NAMED_LINES, What
from fitassist.domain.model import Model
from fitassist.errors import BadFile

Depth = Literal["quick", "good", "full"]
"""How much of a body is measured; each holds all of the one before."""

Sort = Literal["large_girth", "small_girth", "part_girth", "breadth", "depth", "length", "height"]
"""What kind of distance it is, which decides how far readings of it usually scatter."""

DEPTHS: tuple[Depth, ...] = ("quick", "good", "full")


class _Entry(Model):
    """The file is the project's own, so a field it should not have is a slip of the pen."""

    model_config = ConfigDict(extra="forbid")


class Measurement(_Entry):
    """One thing to measure on a body.

    A length has no line of its own: its key stands in for the line, so that a target made from
    it can still be told from every other.
    """

    key: str = Field(pattern=r"^[a-z][a-z_]*[a-z]$")
    line: str
    what: What = What.GIRTH
    depth: Depth
    sort: Sort
    label: str = Field(min_length=1, max_length=60)
    label_by_kind: dict[Kind, str] = Field(default_factory=dict)
    how: str = Field(min_length=1, max_length=200)
    helper: bool = False  # hard to take on oneself
    picture: str = Field(pattern=r"^[a-z][a-z_]*[a-z]$")
    least_mm: float = Field(gt=0)  # wide, children included: only for catching slips
    most_mm: float

    @model_validator(mode="after")
    def _fits_together(self) -> Measurement:
        if not self.least_mm < self.most_mm:
            raise ValueError(f"{self.key}: least must be below most")
        if self.what is What.LENGTH:
            if self.line != self.key:
                raise ValueError(f"{self.key}: a length is named by its own key")
        elif self.line not in (*NAMED_LINES, *LEG_LINES):
            raise ValueError(f"{self.key}: unknown line {self.line}")
        return self

    def label_for(self, kind: Kind) -> str:
        """Return what it is called on a body of this kind."""
        return self.label_by_kind.get(kind, self.label)


class Catalogue(_Entry):
    """All measurements, in the order in which they are best taken."""

    source: str = ""
    measurements: tuple[Measurement, ...]

    @model_validator(mode="after")
    def _no_two_alike(self) -> Catalogue:
        keys = [one.key for one in self.measurements]
        places = [(one.line, one.what) for one in self.measurements]
        if len(set(keys)) != len(keys):
            raise ValueError("two measurements share one key")
        if len(set(places)) != len(places):
            raise ValueError("two measurements say the same thing of one line")
        return self

    def get(self, key: str) -> Measurement | None:
        """Return the measurement of that key, or None."""
        return next((one for one in self.measurements if one.key == key), None)

    def at_depth(self, depth: Depth) -> tuple[Measurement, ...]:
        """Return what is asked for at a depth, in asking order."""
        asked = DEPTHS[: DEPTHS.index(depth) + 1]
        return tuple(one for one in self.measurements if one.depth in asked)


def load_catalogue(path: Path) -> Catalogue:
    """Read and check the catalogue.

    Parameters
    ----------
    path
        The JSON file; where it lies is known to the caller only.

    Raises
    ------
    BadFile
        ``catalogue_unreadable`` (values: name, detail) if the file is missing or not as it
        should be.
    """
    try:
        return Catalogue.model_validate_json(path.read_bytes())
    except (OSError, ValidationError) as error:
        raise BadFile("catalogue_unreadable", name=path.name, detail=str(error)) from error
