# SPDX-License-Identifier: MIT
"""What a form has taught, ready to be said: how much its dials give, and what that rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

SCALE_OFF: Final = 0.15  # a printed scale further off than this share is pointed out


@dataclass(frozen=True)
class TaughtRow:
    """How much a row's dials give of what they print."""

    row: str
    gain: float  # 1: just what is printed; without a print, 1 is what was guessed
    readings: int  # girths read of its line, in fittings and beside them
    last_at: str = ""  # when the last of them was read, ISO 8601; empty where it is not known
    is_off: bool = False  # surely more than SCALE_OFF off its print
    turn_mm: float | None = None  # girth of one turn of all its dials, where no scale is printed


@dataclass(frozen=True)
class Taught:
    """Everything a form has taught, row by row; rows never read are not there."""

    rows: tuple[TaughtRow, ...] = ()
