# SPDX-License-Identifier: MIT
"""The steps of padding in words: a title that is read from two metres, and a detail under it.

What a step needs comes as its kind, its place and plain values, lengths in mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from fitassist.domain.form import Form
from fitassist.domain.lines import Seam
from fitassist.domain.units import AnyUnit, Unit
from fitassist.wording.language import N_, _, capital, ngettext
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.padding_words import place_text, size_text
from fitassist.wording.places import line_name, row_name, seam_name

_TITLES: Final[dict[str, str]] = {
    "search": N_("Search the old padding for pins"),
    "slip_on": N_("Put the slip-on on the form"),
    "strip": N_("Bridge the {seam} gap"),
    "card": N_("Lay card over the gap between the halves"),
    "wedge": N_("Build up the {place}"),
    "piece_1": N_("Pin piece 1, {place}"),
    "piece": N_("Pin piece {number} over piece {before}, {place}"),
    "stack": N_("{place}: {layers}"),
    "wrap": N_("Wrap the {line}, {times} round"),
    "measure": N_("Measure the {line}"),
    "take_out": N_("Take out one layer from underneath, {place}"),
    "put_in": N_("Put one more layer underneath, {place}"),
    "thin": N_("Thin the edge, {place}"),
    "dial": N_("Close the {row} by one click"),
    "dial_seam": N_("Close the {row}, {seam}, by one click"),
    "cover": N_("Pull the cover over"),
    "look": N_("Look at it from the side"),
    "closes": N_("Does a woven garment close without strain?"),
    "plumb": N_("Does it hang plumb?"),
    "sides": N_("Do its side seams fall straight?"),
    "bag": N_("Take the slip-on off whole, bag it, label it"),
    "count": N_("Count the pins"),
}
_DETAILS: Final[dict[str, str]] = {
    "search": N_(
        "Press last time's padding flat with a magnet or a board before hands go in. Count the "
        "pins you begin with."
    ),
    "slip_on": N_(
        "Zip it. Everything is pinned or stitched to it, and nothing to the form, so that it comes "
        "off whole."
    ),
    "strip": N_(
        "A strip {length} long and {width} wide, flush with the panels. Fix it to one side of the "
        "seam only, so that the form can still open and close."
    ),
    "card": N_("Thin card bridges it under the padding. Fix it to the upper half only."),
    "wedge": N_("{sheets}, {width} wide. From the tip to the neck: {lengths}, the shortest first."),
    "one_sheet": N_("1 sheet"),
    "sheets": N_("{n} sheets, each one under it a little smaller"),
    "sized": N_("{sheets}, {size}."),
    "middle": N_("Its middle lies {across}, {up}."),
    "thin_edge": N_("Thin its edge out."),
    "stack": N_("{sizes}. Smallest first, each pinned over the last, edges thinned out."),
    "wrap": N_("The cover goes over it. {left} of girth is left, less than a sheet gives."),
    "wrap_even": N_("Ends butted, not lapped."),
    "expect": N_("About {expected} is expected; {goal} is wanted."),
    "early": N_(
        "More goes over it. About {expected} is expected: this tells how thick a sheet works."
    ),
    "wanted": N_("{goal} is wanted."),
    "over": N_("The {line} reads {by} too much; one layer there is about {effect}."),
    "short": N_("The {line} reads {by} too little; one layer there is about {effect}."),
    "out_look": N_("It looked too full there. The top layer stays; then measure or look again."),
    "in_look": N_("It looked too flat there. A small one, next to the form."),
    "thin": N_("Lift it, tear its edge thinner outwards, and lay the smaller ones further in."),
    "proof": N_("The garment is held there. Then let it hang once more."),
    "dial": N_(
        "No padding lies there. Dials are turned on the fitting page: tell it the number, and "
        "come back."
    ),
    "cover": N_("It presses the padding together a little; that is reckoned with."),
    "look": N_("Beside the person or a mirror, from two metres. Too full, too flat, an edge?"),
    "closes": N_("One known to fit this person, or a test garment."),
    "plumb": N_("From the side: its hem as far from the floor in front as behind."),
    "sides": N_("They hang from under the arm straight to the floor."),
    "bag": N_("On the label: the name, the date, the form, and the numbers of the dials."),
    "count": N_("As many in the padding and the cushion together as you began with."),
}
_SAYS: Final[dict[str, str]] = {
    "yes": N_("Yes (Enter)"),
    "strains_bust": N_("strains at the bust"),
    "strains_waist": N_("strains at the waist"),
    "strains_hip": N_("strains at the hip"),
    "away_front": N_("swings away in front"),
    "away_back": N_("swings away behind"),
    "forward": N_("swing to the front"),
    "backward": N_("swing to the back"),
}
ANSWERS: Final[Mapping[str, tuple[str, ...]]] = {
    "closes": ("yes", "strains_bust", "strains_waist", "strains_hip"),
    "plumb": ("yes", "away_front", "away_back"),
    "sides": ("yes", "forward", "backward"),
}
_PAIRS: Final = ("cup", "side", "shoulder_blade", "front_hip", "hip", "seat", "shoulder")
NEAR_MM = 8.0  # closer to a line than this, a middle is said to lie on it


def says_text(says: str) -> str:
    """Return what an answer of the proof is called."""
    return _(_SAYS[says])


def pair_text(base: str) -> str:
    """Name a place without its side: "left and right cup", "tummy"."""
    if base not in _PAIRS:
        known = place_text(base)
        return line_name(base) if known == base.replace("_", " ") else known
    left, right = place_text(f"left_{base}"), place_text(f"right_{base}")
    return _("{left} and {right}").format(left=left, right=right)


def title_of(kind: str, place: str, values: Mapping[str, Any], form: Form | None = None) -> str:
    """Return what is to be done, in a few words."""
    if kind == "proof":
        return _(_TITLES[place])
    if kind == "piece":
        number = values["number"]
        key = "piece_1" if number == 1 else "piece"
        return _(_TITLES[key]).format(number=number, before=number - 1, place=place_text(place))
    if kind == "stack":
        count = len(values["sizes_mm"])
        layers = ngettext("{n} layer", "{n} layers", count).format(n=count)
        return capital(_(_TITLES[kind]).format(place=place_text(place), layers=layers))
    if kind in ("take_out", "put_in", "thin"):
        return _(_TITLES[kind]).format(place=pair_text(place))
    if kind == "dial":
        seam = values.get("seam", "")
        key = "dial_seam" if seam else "dial"
        said = seam_name(Seam(seam)) if seam else ""
        return _(_TITLES[key]).format(row=row_name(place, form), seam=said)
    times = ngettext("once", "{n} times", values.get("sheets", 1)).format(n=values.get("sheets", 1))
    return _(_TITLES[kind]).format(
        place=place_text(place), line=line_name(place), seam=_seam(kind, place), times=times
    )


def _seam(kind: str, place: str) -> str:
    if kind != "strip":
        return ""
    short = {
        "front": N_("front"), "left": N_("left"), "back": N_("back"), "right": N_("right"),
    }  # fmt: skip
    return _(short[place])


def detail_of(
    kind: str,
    place: str,
    values: Mapping[str, Any],
    unit: AnyUnit,
    *,
    expected_mm: float | None = None,
    goal_mm: float | None = None,
    sheets: int | None = None,
    line_heights: Sequence[tuple[str, float]] = (),
    round_mm: float = 0.0,
) -> str:
    """Return how it is done, in one to three short sentences.

    Parameters
    ----------
    expected_mm, goal_mm
        What the tape should read, and what it is to read in the end.
    sheets
        How many sheets a piece has by what is known now.
    line_heights, round_mm
        Lines of the form with their heights, and its girth, to say where a middle lies.
    """
    if kind == "measure":
        return _measure(values, unit, expected_mm, goal_mm)
    if kind == "piece":
        return _piece(values, unit, sheets or int(values["plies"]), line_heights, round_mm)
    if kind == "stack":
        sizes = ", ".join(
            size_text(wide, high, unit, with_unit=False) for wide, high in values["sizes_mm"]
        )
        return _(_DETAILS[kind]).format(sizes=f"{sizes} {Unit(unit).value}")
    if kind == "strip":
        length, width = (say_length(values[k], unit) for k in ("length_mm", "width_mm"))
        return _(_DETAILS[kind]).format(length=length, width=width)
    if kind == "wedge":
        lengths = ", ".join(say_length(one, unit) for one in values["lengths_mm"])
        count = len(values["lengths_mm"])
        told = ngettext("{n} sheet", "{n} sheets", count).format(n=count)
        width = say_length(values["width_mm"], unit)
        return _(_DETAILS[kind]).format(sheets=told, width=width, lengths=lengths)
    if kind == "wrap":
        left = values["left_mm"]
        key = "wrap" if left > 1.0 else "wrap_even"
        return _(_DETAILS[key]).format(left=say_amount(left, unit))
    if kind in ("take_out", "put_in"):
        return _change(kind, values, unit)
    return _(_DETAILS[place if kind == "proof" else kind])


def _measure(
    values: Mapping[str, Any], unit: AnyUnit, expected_mm: float | None, goal_mm: float | None
) -> str:
    expected = say_length(expected_mm, unit) if expected_mm is not None else ""
    goal = say_length(goal_mm, unit) if goal_mm is not None else ""
    if values.get("early") and expected:
        return _(_DETAILS["early"]).format(expected=expected)
    if expected and goal:
        return _(_DETAILS["expect"]).format(expected=expected, goal=goal)
    return _(_DETAILS["wanted"]).format(goal=goal) if goal else ""


def _change(kind: str, values: Mapping[str, Any], unit: AnyUnit) -> str:
    if values.get("proof"):
        return _(_DETAILS["proof"])
    if values.get("look"):
        return _(_DETAILS["out_look" if kind == "take_out" else "in_look"])
    return _(_DETAILS["over" if kind == "take_out" else "short"]).format(
        line=line_name(values["line"]),
        by=say_amount(values["off_mm"], unit),
        effect=say_amount(values["effect_mm"], unit),
    )


def _piece(
    values: Mapping[str, Any],
    unit: AnyUnit,
    sheets: int,
    line_heights: Sequence[tuple[str, float]],
    round_mm: float,
) -> str:
    told = _(_DETAILS["one_sheet"] if sheets == 1 else _DETAILS["sheets"]).format(n=sheets)
    size = size_text(values["width_mm"], values["height_mm"], unit)
    parts = [_(_DETAILS["sized"]).format(sheets=told, size=size)]
    if line_heights and values["kind"] != "wrap":
        across = _across(values["share"], round_mm, unit)
        up = _up(values["z_mm"], line_heights, unit)
        parts.append(_(_DETAILS["middle"]).format(across=across, up=up))
    return " ".join([*parts, _(_DETAILS["thin_edge"])])


def _across(share: float, round_mm: float, unit: AnyUnit) -> str:
    """Say how far left or right of centre front or centre back a middle lies."""
    share = share % 1.0
    is_front = share < 0.25 or share > 0.75
    off = share if share < 0.25 else (share - 1.0 if is_front else share - 0.5)
    mm = off * round_mm
    centre = _("centre front") if is_front else _("centre back")
    if abs(mm) < NEAR_MM:
        return _("on {centre}").format(centre=centre)
    is_left = mm > 0 if is_front else mm < 0
    pattern = (
        _("{by} to the form's left of {centre}")
        if is_left
        else _("{by} to the form's right of {centre}")
    )
    return pattern.format(by=say_length(abs(mm), unit), centre=centre)


def _up(z_mm: float, line_heights: Sequence[tuple[str, float]], unit: AnyUnit) -> str:
    line, height = min(line_heights, key=lambda pair: abs(pair[1] - z_mm))
    off = z_mm - height
    if abs(off) < NEAR_MM:
        return _("on the {line}").format(line=_("{line} line").format(line=line_name(line)))
    pattern = _("{by} above the {line} line") if off > 0 else _("{by} below the {line} line")
    return pattern.format(by=say_length(abs(off), unit), line=line_name(line))
