# SPDX-License-Identifier: MIT
"""Forms and bodies that are valid, or nearly, and unlike anything real: each by a name."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

Json = dict[str, Any]
SEAMS = ("front", "left", "back", "right")
ROWS = ("bust", "waist", "hip")


def plain_form() -> Json:
    """Return a form of three rows and twelve dials; invented round numbers."""
    least = dict(zip(ROWS, (33.0, 25.0, 35.0), strict=True))
    return {
        "format": "fitassist-form",
        "version": 1,
        "name": "a form",
        "units": "in",
        "lines": [{"name": row, "closed_girth": n} for row, n in least.items()],
        "rows": [{"name": row, "line": row} for row in ROWS],
        "dials": [
            {"name": f"{row}.{seam}", "least": n, "greatest": n + 8, "click": 0.25, "number": n}
            for row, n in least.items()
            for seam in SEAMS
        ],
    }


def plain_body() -> Json:
    """Return a body of three girths that form can become."""
    girths = {"bust": 37, "waist": 28, "hip": 39}
    return {
        "format": "fitassist-body",
        "version": 1,
        "name": "a body",
        "targets": [{"line": line, "value": n, "unit": "in"} for line, n in girths.items()],
    }


def _each_dial(**fields: Any) -> Callable[[Json, Json], None]:
    def change(form: Json, _body: Json) -> None:
        for dial in form["dials"]:
            dial.update(fields)

    return change


def _each_target(**fields: Any) -> Callable[[Json, Json], None]:
    def change(_form: Json, body: Json) -> None:
        for target in body["targets"]:
            if "value_mm" in fields:
                target.pop("value", None)
            target.update(fields)

    return change


def _whole_form(**fields: Any) -> Callable[[Json, Json], None]:
    return lambda form, _body: form.update(fields)


def _preferences(**fields: Any) -> Callable[[Json, Json], None]:
    return lambda _form, body: body.update(preferences=fields)


def _each_line(**fields: Any) -> Callable[[Json, Json], None]:
    def change(form: Json, _body: Json) -> None:
        for line in form["lines"]:
            line.update(fields)

    return change


def _rows(number: int, seams: int = 4) -> Callable[[Json, Json], None]:
    """As many rows at as many lines, targets for all."""

    def change(form: Json, body: Json) -> None:
        names = [f"r{i}" for i in range(number)]
        form["lines"] = [{"name": name, "closed_girth": 30.0} for name in names]
        form["rows"] = [{"name": name, "line": name} for name in names]
        form["dials"] = [
            {"name": f"{name}.{s}", "least": 30, "greatest": 38, "click": 0.25, "number": 30}
            for name in names
            for s in SEAMS[:seams]
        ]
        body["targets"] = [{"line": name, "value": 34, "unit": "in"} for name in names]

    return change


def _rows_on_one_line(number: int) -> Callable[[Json, Json], None]:
    def change(form: Json, body: Json) -> None:
        _rows(number)(form, body)
        for row in form["rows"]:
            row["line"] = "r0"

    return change


def _girths(number: int, mm: float = 900.0) -> Callable[[Json, Json], None]:
    """So many girths noted on every line."""

    def change(form: Json, _body: Json) -> None:
        for line in form["lines"]:
            start = 33.0 + {"bust": 0, "waist": -8, "hip": 2}[line["name"]]
            line["girths"] = [
                {"girth_mm": mm, "numbers": {line["name"]: start + i % 8}} for i in range(number)
            ]

    return change


def _learned(fittings: int, entries: int, **reading: Any) -> Callable[[Json, Json], None]:
    """So many past fittings, each of so many entries: turns and readings by turns."""

    def change(form: Json, _body: Json) -> None:
        read = {"line": "bust", "mm": 900.0} | reading
        start = {dial["name"]: dial["number"] for dial in form["dials"]}
        turns = [{"numbers": {"bust.left": 33.0 + i % 8}} for i in range(8)]
        form["learned"] = {
            "version": 1,
            "fittings": [
                {
                    "start": start,
                    "entries": [read if i % 2 else turns[i // 2 % 8] for i in range(entries)],
                }
                for _ in range(fittings)
            ],
        }

    return change


def _without(key: str, **others: Any) -> Callable[[Json, Json], None]:
    return lambda form, _body: form.update({key: []} | others)


def _range(least: float, greatest: float, **fields: Any) -> Callable[[Json, Json], None]:
    return _each_dial(least=least, greatest=greatest, number=least, **fields)


def _both(*changes: Callable[[Json, Json], None]) -> Callable[[Json, Json], None]:
    def change(form: Json, body: Json) -> None:
        for one in changes:
            one(form, body)

    return change


CHANGES: dict[str, Callable[[Json, Json], None]] = {
    "click of a millionth": _each_dial(click=1e-6),
    "click of a millionth in a range of a billion": _range(0, 1e9, click=1e-6),
    "click of a ten-thousandth of the range": _each_dial(click=8e-4),
    "click of a thousandth of a small range": _range(33, 33.01, click=1e-5),
    "click of the whole range": _each_dial(click=8.0),
    "click that is no share of the range": _each_dial(click=0.3),
    "smooth dials in a tiny range": _range(33, 33 + 1e-9, click=None),
    "range of next to nothing": _range(33, 33 + 1e-12, click=1e-12),
    "range of one ulp": _range(33, 33.00000000000001, click=None),
    "range to the largest number": _range(0, 1e4, click=1),
    "range to the largest number, smooth": _range(0, 1e4, click=None),
    "range from below zero": _range(-1e4, 1e4, click=2),
    "numbers off the clicks": _each_dial(greatest=43, number=36.123456789),
    "turns of a thousandth": _whole_form(largest_turn=1e-3),
    "turns next to nothing": _whole_form(largest_turn=1e-300),
    "turns of ten thousand": _whole_form(largest_turn=1e4),
    "plain turns": _whole_form(dial_meaning="plain_turns"),
    "plain turns to the largest number": _both(
        _whole_form(dial_meaning="plain_turns"), _range(0, 1e4, click=1)
    ),
    "plain turns, a hundred": _both(
        _whole_form(dial_meaning="plain_turns"), _range(0, 100, click=0.25)
    ),
    "gaps": _whole_form(dial_meaning="seam_gap"),
    "gaps in cm to the largest number": _both(
        _whole_form(dial_meaning="seam_gap", units="cm"), _range(0, 1e4, click=1)
    ),
    "six rows": _rows(6),
    "eight rows": _rows(8),
    "twelve rows": _rows(12),
    "sixty-four rows": _rows(64),
    "sixty-four rows of one dial": _rows(64, 1),
    "eight rows on one line": _rows_on_one_line(8),
    "sixty-four rows on one line": _rows_on_one_line(64),
    "rows without dials": _without("dials"),
    "dials without rows": _without("rows"),
    "no lines at all": _without("lines", rows=[], dials=[]),
    "all dials missing": _each_dial(missing=True),
    "no dial readable": _each_dial(readable=False),
    "heights equal": _each_line(height=10.0),
    "heights next to equal": lambda form, _body: [
        line.update(height=10 + i * 1e-13) for i, line in enumerate(form["lines"])
    ],
    "heights far apart": lambda form, _body: [
        line.update(height_mm=h) for line, h in zip(form["lines"], (3e3, 0, -3e3), strict=True)
    ],
    "closed girths next to nothing": _each_line(closed_girth_mm=1e-9, closed_girth=None),
    "closed girths tiny": lambda form, _body: [
        (line.pop("closed_girth"), line.update(closed_girth_mm=1e-9)) for line in form["lines"]
    ],
    "closed girths huge": lambda form, _body: [
        (line.pop("closed_girth"), line.update(closed_girth_mm=3e3)) for line in form["lines"]
    ],
    "closed girths beyond numbers": lambda form, _body: [
        (line.pop("closed_girth"), line.update(closed_girth_mm=1e308)) for line in form["lines"]
    ],
    "no closed girths": lambda form, _body: [line.pop("closed_girth") for line in form["lines"]],
    "a hundred noted girths": _girths(100),
    "five hundred noted girths": _girths(500),
    "noted girths beyond numbers": _girths(3, 1e308),
    "noted girths huge": _girths(3, 3e3),
    "noted girths tiny": _girths(3, 1e-9),
    "a fitting learned": _learned(1, 40),
    "thirty fittings learned": _learned(30, 60),
    "thirty fittings of four hundred entries learned": _learned(30, 400),
    "three thousand fittings learned": _learned(3000, 4),
    "thousands of entries learned": _learned(1, 5000),
    "learned readings beyond numbers": _learned(1, 40, mm=1e308),
    "learned readings below zero": _learned(1, 40, mm=-1e308),
    "learned readings of zero": _learned(1, 40, mm=0.0),
    "learned spreads next to nothing": _learned(1, 40, spread_mm=1e-300),
    "learned spreads of zero": _learned(1, 40, spread_mm=0.0),
    "learned readings vouched for": _learned(1, 200, vouched=True, mm=1500.0),
    "learned readings of lengths": _learned(1, 40, what="length"),
    "learned numbers beyond numbers": _whole_form(
        learned={
            "fittings": [
                {
                    "start": {"bust.left": 1e308},
                    "entries": [
                        {"numbers": {"bust.left": -1e308, "x": 1.0}},
                        {"line": "bust", "mm": 900.0},
                    ],
                }
            ]
        }
    ),
    "learned without sense": _whole_form(learned={"fittings": 7}),
    "learned by a newer version": _whole_form(learned={"version": 99}),
    "learned by no version": _whole_form(learned={"version": -(10**30)}),
    "targets tiny": _each_target(value_mm=1e-4),
    "targets of a kilometre": _each_target(value_mm=1e6),
    "targets of three metres": _each_target(value_mm=3e3),
    "targets of one millimetre": _each_target(value_mm=1.0),
    "spreads of zero": _each_target(spread=0),
    "spreads of a billion": _each_target(spread_mm=1e9),
    "spreads of three metres": _each_target(spread_mm=3e3),
    "tolerance inverted": _each_target(tolerance_mm=[6.0, -6.0]),
    "tolerance zero": _each_target(tolerance_mm=[0, 0]),
    "tolerance next to zero": _each_target(tolerance_mm=[-1e-300, 1e-300]),
    "tolerance of an ulp": _each_target(tolerance_mm=[0.0, 5e-324]),
    "tolerance all above": _each_target(tolerance_mm=[5.0, 6.0]),
    "tolerance of metres": _each_target(tolerance_mm=[-3e3, 3e3]),
    "two hundred targets": lambda _form, body: body.update(
        targets=[{"line": f"x{i}", "value": 30, "unit": "in"} for i in range(200)]
    ),
    "every kind of target": lambda _form, body: body.update(
        targets=[
            {"line": line, "what": what, "value": 19 + i * 3, "unit": "in"}
            for line in ROWS
            for i, what in enumerate(
                ("girth", "front", "back", "left_half", "right_half", "breadth", "depth", "length")
            )
        ]
    ),
    "halves unlike": lambda _form, body: body["targets"].extend(
        {"line": line, "what": what, "value_mm": mm}
        for line in ROWS
        for what, mm in (("left_half", 3e3), ("right_half", 1e-4))
    ),
    "preferences: tolerance inverted": _preferences(default_tolerance_mm=[9, -9]),
    "preferences: tolerance zero": _preferences(
        default_tolerance_mm=[0, 0], line_tolerance_mm={"hip": [0, 0]}
    ),
    "preferences: tolerance beyond numbers": _preferences(
        default_tolerance_mm=[-1e308, 1e308], line_tolerance_mm={"hip": [-1e308, 1e308]}
    ),
    "preferences: padded tolerance inverted": _preferences(
        padding_follows=True, padded_tolerance_mm=[5, -5]
    ),
    "preferences: tape next to nothing": _preferences(tape_spread_mm=1e-300),
    "preferences: tape of a thousandth": _preferences(tape_spread_mm=1e-3),
    "preferences: cover thicker than the body": _both(
        _preferences(cover_mm=30), _each_target(value_mm=50.0)
    ),
    "torso turned over": _whole_form(torso={"parts": "one", "least": 5, "greatest": 4}),
    "names that look like markup": lambda form, body: (
        form.update(name="<b>&amp;%s{0}\u202e", opens="<script>", overlaps="\x00\x1b[31m"),
        body.update(name="<img src=x>'\"\u2066", undergarment="\x07" * 200),
    ),
    "lines named like markup": lambda form, body: (
        form.update(
            lines=[{"name": "<b>{0}%s"}],
            rows=[{"name": "a.b.c", "line": "<b>{0}%s"}],
            dials=[{"name": "a.b.c.left", "least": 1, "greatest": 9, "number": 1}],
        ),
        body.update(targets=[{"line": "<b>{0}%s", "value": 30, "unit": "in"}]),
    ),
}
NAMES = tuple(CHANGES)


def pair(name: str) -> tuple[Json, Json]:
    """Return the form and the body of that name."""
    form, body = plain_form(), plain_body()
    CHANGES[name](form, body)
    return copy.deepcopy(form), copy.deepcopy(body)
