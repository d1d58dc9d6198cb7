# SPDX-License-Identifier: MIT
"""The user's preferences: one readable file, replaced whole; a damaged one is kept aside."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any, Literal, NamedTuple, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from fitassist.errors import BadFile, FitError
from fitassist.files import DISK, Disk, move_aside, read_file, replace_file

FILE_NAME = "settings.json"
_LIMIT = 1_000_000  # bytes; a settings file has about one thousand

_Built = TypeVar("_Built")
_Text = Annotated[str, Field(max_length=200)]
_MOST_MM = 3000.0  # round a torso, as in domain.form_file
_LEAST_WIDTH_MM = 0.01  # as in domain.body_file


def _ordered(sides: tuple[float, float]) -> tuple[float, float]:
    below, above = sides
    if not (-_MOST_MM <= below <= above - _LEAST_WIDTH_MM and above <= _MOST_MM):
        raise ValueError("no tolerance: (below, above) in mm")
    return sides


_Tolerance = Annotated[tuple[float, float], AfterValidator(_ordered)]


class Window(BaseModel):
    """Where the window stood, in device independent pixels."""

    model_config = ConfigDict(frozen=True, extra="allow", strict=True)

    left: int = Field(default=0, ge=-100_000, le=100_000)
    top: int = Field(default=0, ge=-100_000, le=100_000)
    width: int = Field(default=1100, ge=200, le=100_000)
    height: int = Field(default=760, ge=200, le=100_000)
    maximized: bool = False


class Settings(BaseModel):
    """What the user chose. Fields of a newer program are kept; change with ``model_copy``."""

    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False)

    units: Literal["in", "cm"] = "in"
    theme: Literal["system", "light", "dark", "contrast", "contrast_dark"] = "system"
    language: _Text = ""  # such as "de"; empty: as the system
    tour_seen: bool = False  # the first screens, left or gone through
    confidence: float = Field(default=0.95, ge=0.5, le=0.999)
    default_tolerance_mm: _Tolerance = (-6.35, 6.35)
    line_tolerance_mm: dict[_Text, _Tolerance] = Field(
        default_factory=lambda: {"hip": (-9.525, 9.525)}
    )
    cover_mm: float = Field(default=0.0, ge=0, le=30)
    tape_spread_mm: float = Field(default=3.0, gt=0, le=30)
    padding_follows: bool = False
    opposite_equal: bool = False
    checks: bool = True  # at the form the plain steps belong to the work
    beside_figure_mm: float = Field(default=24.0, ge=12, le=80)  # on a 14-inch screen
    keypad: dict[_Text, _Text] = Field(default_factory=dict)  # action -> key, where not the usual
    speak: bool = False
    remind_measured: bool = False  # say when somebody was last measured
    font_scale: float = Field(default=1.0, ge=0.5, le=3.0)
    paper: _Text = ""  # taken last for what is printed; empty: as usual with the unit
    last_person: _Text = ""
    last_page: _Text = ""
    window: Window = Window()

    def preferences(self, build: Callable[..., _Built], **changes: Any) -> _Built:
        """Build the preferences of a new fitting from these.

        Parameters
        ----------
        build
            ``fitassist.domain.body.Preferences``, passed in because settings lie below the domain.
        changes
            What this fitting wants otherwise, by field name.
        """
        values: dict[str, Any] = {
            "units": self.units,
            "confidence": self.confidence,
            "default_tolerance_mm": self.default_tolerance_mm,
            "line_tolerance_mm": dict(self.line_tolerance_mm),
            "cover_mm": self.cover_mm,
            "tape_spread_mm": self.tape_spread_mm,
            "padding_follows": self.padding_follows,
            "opposite_equal": self.opposite_equal,
            "checks": self.checks,
        }
        return build(**(values | changes))


class LoadedSettings(NamedTuple):
    """Settings, and what was wrong with the file if they are the defaults for that reason."""

    settings: Settings
    problem: str = ""  # code; empty if there is none
    aside: Path | None = None  # where the damaged file now is


def load_settings(folder: Path, disk: Disk = DISK) -> LoadedSettings:
    """Load the settings of a profile; never fails.

    A file that cannot be understood is kept beside under a new name, and the defaults are used.
    """
    path = folder / FILE_NAME
    try:
        data, _ = read_file(path, _LIMIT)
    except BadFile as error:
        problem = "" if error.code == "not_found" else "settings_unreadable"
        return LoadedSettings(Settings(), problem)
    try:
        values = json.loads(
            data.decode("utf-8-sig"), parse_constant=_refuse_constant, parse_float=_finite
        )
        settings = Settings.model_validate(values)
        _written(settings)  # a field not known here may be what could never be saved again
        return LoadedSettings(settings)
    except (ValueError, RecursionError, ValidationError):
        pass
    try:
        aside: Path | None = move_aside(path, disk)
    except FitError:
        aside = None  # the damaged file itself still stands until settings are saved
    return LoadedSettings(Settings(), "settings_damaged", aside)


def save_settings(folder: Path, settings: Settings, disk: Disk = DISK) -> None:
    """Save the settings of a profile.

    Raises
    ------
    StorageFailed
        If they could not be written; the old ones then still stand.
    """
    replace_file(folder / FILE_NAME, _written(settings), disk)


def _written(settings: Settings) -> bytes:
    """Return the bytes of the file; ValueError if they could not be read again."""
    values = settings.model_dump(mode="json")
    data = (json.dumps(values, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode(
        "utf-8"
    )
    if len(data) > _LIMIT:  # indented, what is nested deep is far longer than it came
        raise ValueError("too large")
    return data


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError("a number too large to hold")
    return number


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is no JSON number")
