# SPDX-License-Identifier: MIT
"""Why a form on offer has its place among the others, in one line."""

from __future__ import annotations

from typing import Final

from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, plain
from fitassist.wording.lengths import say_length
from fitassist.wording.places import line_name

_REASONS: Final[dict[str, str]] = {
    "all_reached": N_("The dials reach every line that is described."),
    "padded": N_("Nowhere larger than the body; most padding at the {line}: {by} of girth."),
    "too_large": N_("Closed, it is {by} too large at the {line}."),
    "too_large_for": N_("Closed, it is {by} too large at the {line} for {body}."),
    "nothing_said": N_("Nothing is said of it that could be compared."),
    "no_trousers": N_("Trousers do not go on: its pole stands in the middle."),
    "no_pins": N_("It takes no pins."),
    "no_waist_shifts": N_("Its waist cannot be moved."),
}
_LONG: Final[dict[str, str]] = {
    "too_large": N_("Its {line} is {by} too long."),
    "too_large_for": N_("Its {line} is {by} too long for {body}."),
}


def reason_text(
    code: str,
    unit: AnyUnit,
    line: str = "",
    by_mm: float = 0.0,
    body: str = "",
    is_length: bool = False,
) -> str:
    """Say the reason of a code of the ranking.

    Parameters
    ----------
    line, by_mm, body, is_length
        Where it is worst, by how much, for whom, and whether that is a length, not a girth.

    Raises
    ------
    KeyError
        For no such code.
    """
    said = _LONG[code] if is_length and code in _LONG else _REASONS[code]
    return _(said).format(line=line_name(line), by=say_length(by_mm, unit), body=plain(body))


def reason_codes() -> frozenset[str]:
    """Return every code there is a reason for."""
    return frozenset(_REASONS)
