# SPDX-License-Identifier: MIT
"""How many ways there are to walk round a form: the search for the best one looks at them all."""

from __future__ import annotations

from fitassist.domain.form import Form

MAX_PRINTED = 10_000.0  # no dial prints a larger number or has more clicks
MOST_ROWS = 8  # the named lines and one more
# Of 0, 1, ... walks at each row, all combinations. Six rows of eight inches, two at a time, have
# 15,625; none of the forms described to us has more than 625.
MOST_WAYS = 20_000
USUAL_TURN = {"in": 2.0, "cm": 5.0}  # printed numbers in one go, where the form says nothing


def field_out_of_reach(form: Form) -> str:
    """Return the field that makes a form too long a way from closed to open; empty if none does."""
    turn = USUAL_TURN[form.units] if form.largest_turn is None else form.largest_turn
    if not 0 < turn <= MAX_PRINTED:
        return "largest_turn"
    widest: dict[str, float] = {}
    for dial in form.dials:
        if not dial.missing:
            widest[dial.row] = max(widest.get(dial.row, 0.0), dial.greatest - dial.least)
    ways = 1.0  # a float: the turns of a hostile file are no whole number that fits
    for reach in widest.values():
        ways *= 1.0 + max(1.0, reach / turn)
    if not ways <= MOST_WAYS:
        return "largest_turn" if form.largest_turn else _widest_dial(form)
    return ""


def _widest_dial(form: Form) -> str:
    reaches = [dial.greatest - dial.least for dial in form.dials]
    return f"dials[{reaches.index(max(reaches))}].greatest"
