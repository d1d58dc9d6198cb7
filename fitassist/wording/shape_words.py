# SPDX-License-Identifier: MIT
"""A body's shape in words: what is drawn, how sure it is, what would sharpen it, what is in doubt.

Lengths come in mm and are said in the user's unit. Left and right are the body's own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from fitassist.domain.units import AnyUnit
from fitassist.wording import lengths
from fitassist.wording.language import N_, _, capital, with_decimals
from fitassist.wording.places import line_name

_TEXTS: Final = {
    "heading": N_("Shape"),
    "nobody": N_("Nobody is chosen yet. Choose a person first."),
    "to_people": N_("Choose a person"),
    "no_body": N_("No body is described yet. Say a little about it, then take three girths."),
    "to_measurements": N_("Go to the measurements"),
    "empty": N_(
        "Three girths are enough to draw a body in the round: bust or chest, waist and hip. "
        "Still to be measured: {lines}."
    ),
    "measure_line": N_("Measure the {line}"),
    "after": N_("Drawn after"),
    "after_woman": N_("Women"),
    "after_man": N_("Men"),
    "after_any": N_("No assumption"),
    "after_any_why": N_(
        "After women and men alike, so the band is wider: for children, and whenever neither fits."
    ),
    "after_why": N_("Choose no assumption for children and whenever neither fits."),
    "outlines": N_("The six lines from above"),
    "outlines_how": N_(
        "Seen from above, front towards you, all at one scale. The band holds the body's outline "
        "nine times out of ten; half its width stands in the middle."
    ),
    "outlines_form": N_("Above it: how much less or more round the form is than the body."),
    "silhouettes": N_("Stacked by height"),
    "from_front": N_("from the front"),
    "from_left": N_("from the body's left"),
    "plumb": N_("The thin upright line in the side view hangs plumb."),
    "form_longer": N_("The form is drawn with its torso pulled {amount} longer, as the body asks."),
    "form_shorter": N_("The form is drawn with its torso set {amount} shorter, as the body asks."),
    "height": N_("Height that is looked at"),
    "height_how": N_("Arrow keys go up and down, Page Up and Page Down from line to line."),
    "front": N_("front"),
    "body": N_("body"),
    "form": N_("form"),
    "no_form": N_("No form is chosen, so the body stands alone."),
    "wider": N_(
        "The band is drawn {times} times as wide as the figures alone would have it: usual shapes "
        "were learned from computed bodies, and the girths of real people tell their shape less "
        "sharply."
    ),
    "sharper": N_("What would sharpen it most"),
    "sharper_none": N_("Nothing in the list of measurements would narrow the bands further."),
    "sharper_one": N_("narrows the band at the {line} by {share}"),
    "doubts": N_("Worth another look"),
    "look": N_("Look at it"),
    "in_band": N_("Nine times out of ten the outline lies within {band} of the one drawn."),
    "girth_between": N_("Its girth is not measured; it lies between {low} and {high}."),
    "body_here": N_("Body: {girth} round, {breadth} broad, {depth} deep."),
    "form_here": N_("Form: {girth} round, {breadth} broad, {depth} deep."),
    "form_less": N_("The form is {amount} less round than the body."),
    "form_more": N_("The form is {amount} more round than the body."),
    "form_same": N_("The form is as large round as the body."),
    "stands_out": N_("It stands out past the body by up to {amount} {sides}."),
    "room": N_("It leaves room of up to {amount}, most {sides}."),
    "room_round": N_("It leaves room of up to {amount} all round."),
    "form_not_here": N_("The form is not known at this height."),
    "less": N_("{amount} less"),
    "more": N_("{amount} more"),
    "same": N_("as large"),
    "band": N_("± {band}"),
    "home": N_("Measuring shape at home"),
    "look_again": N_("Look at the readings once more."),
    "unreadable": N_("The shape cannot be drawn. {why}"),
}

_NOTES: Final = {
    "outline_breadth_depth_misfit": N_(
        "{line}: no outline is this broad and deep and {girth_mm} round. Breadth and depth are "
        "left out of the picture until one of the three is changed."
    ),
    "outline_parts_misfit": N_(
        "{line}: the parts come to {sum_mm}, the whole round to {girth_mm}. The parts are left "
        "out of the picture until one of them is changed."
    ),
    "outline_lengths_out_of_order": N_(
        "{near_mm} and {far_mm} from the waist: the nearer line would lie further off. Both are "
        "left out of the picture until one is changed."
    ),
    "outline_bad_reading": N_("{line}: one reading is left out of the picture: {number}."),
    "breadth_depth_doubtful": N_(
        "{line}: breadth, depth and girth hardly go together, so the band is wider there."
    ),
    "parts_doubtful": N_(
        "{line}: the parts come to {sum_mm}, the whole round to {girth_mm}, so the band is wider "
        "there."
    ),
    "readings_disagree": N_(
        "The program has met few readings like these together, so all bands are drawn {times} "
        "times wider."
    ),
    "unlike_bodies_known": N_(
        "This shape lies outside what the outlines were learned from, so all bands are wider."
    ),
    "form_outline_unknown": N_(
        "The form's girths are not known, so it cannot be drawn. Its page has room for them."
    ),
    "heights_unclear": N_(
        "The heights of the lines contradict each other, so nothing is stacked by height."
    ),
    "heights_not_measured": N_(
        "How high the fullest places lie is not measured, so the form is drawn with its lines at "
        "the body's. Two lengths would tell."
    ),
    "above_row": N_(
        "The body's fullest place at the {line} lies {off_mm} above the form's row of dials: set "
        "the row to what the body measures at the row's height, and pad above it."
    ),
    "below_row": N_(
        "The body's fullest place at the {line} lies {off_mm} below the form's row of dials: set "
        "the row to what the body measures at the row's height, and pad below it."
    ),
    "below_form": N_(
        "The body's fullest place at the {line} lies {off_mm} below the lowest line of the form: "
        "dials cannot reach it, so padding has to hang down there."
    ),
}

# Picture and words, in the order in which they are done.
_HOME: Final = (
    (
        "plumb_side",
        N_(
            "Hang a ribbon from the middle of each armpit, a key at its end. Where it hangs is the "
            "side, on the body and on the form alike."
        ),
    ),
    (
        "plumb_centre",
        N_(
            "Hang a thread over the pit of the neck, and one from the bone at the base of the "
            "back neck: the middle of front and back."
        ),
    ),
    (
        "hip_front",
        N_("Tape level from ribbon to ribbon over the front, then over the back."),
    ),
    (
        "hip_depth",
        N_(
            "For breadth and depth a helper holds two flat boards upright, so that they just "
            "touch. Measure between them. Calipers press in and will not do."
        ),
    ),
    (
        "wall_and_board",
        N_(
            "A wall can stand in for one board, but only where the body touches it at that "
            "height: at the seat or the shoulder blades, never at the waist."
        ),
    ),
)

_SHARES: Final = (
    (0.10, N_("a tenth")),
    (0.20, N_("a fifth")),
    (0.25, N_("a quarter")),
    (1 / 3, N_("a third")),
    (0.40, N_("two fifths")),
    (0.50, N_("half")),
    (0.60, N_("three fifths")),
    (2 / 3, N_("two thirds")),
    (0.75, N_("three quarters")),
)
_SIDES: Final = {
    frozenset(("front", "left", "back", "right")): N_("all round"),
    frozenset(("left", "right")): N_("at the sides"),
    frozenset(("front", "back")): N_("in front and behind"),
    frozenset(("front", "left", "right")): N_("in front and at the sides"),
    frozenset(("back", "left", "right")): N_("behind and at the sides"),
    frozenset(("front", "back", "left")): N_("in front, behind and at the left side"),
    frozenset(("front", "back", "right")): N_("in front, behind and at the right side"),
    frozenset(("front",)): N_("in front"),
    frozenset(("back",)): N_("behind"),
    frozenset(("left",)): N_("at the left side"),
    frozenset(("right",)): N_("at the right side"),
    frozenset(("front", "left")): N_("in front and at the left side"),
    frozenset(("front", "right")): N_("in front and at the right side"),
    frozenset(("back", "left")): N_("behind and at the left side"),
    frozenset(("back", "right")): N_("behind and at the right side"),
}
_HELD = "\u00a0"  # a space at which no line is broken
_LEAST_SAID_MM = 1.0  # less than this is no difference a tape could show


def length(mm: float, unit: AnyUnit) -> str:
    """Say how long something is, never broken at the end of a line."""
    return lengths.say_length(mm, unit).replace(" ", _HELD)


def amount(mm: float, unit: AnyUnit) -> str:
    """Say by how much, never broken at the end of a line."""
    return lengths.say_amount(mm, unit).replace(" ", _HELD)


def say(key: str, **values: object) -> str:
    """Return a sentence of the page; lengths and names of lines go in as they are."""
    return _(_TEXTS[key]).format(**values) if values else _(_TEXTS[key])


def keys() -> tuple[str, ...]:
    """Return the keys of all sentences of the page."""
    return tuple(_TEXTS)


def note_codes() -> frozenset[str]:
    """Return every code that can be noted beside the outlines."""
    return frozenset(_NOTES)


def note_text(code: str, line: str, values: Mapping[str, float], unit: AnyUnit) -> str:
    """Return what is said beside the outlines for a code, its line and its lengths in mm."""
    facts = {
        name: amount(mm, unit) if name == "off_mm" else length(mm, unit)
        for name, mm in values.items()
        if name.endswith("_mm")
    }
    if "times" in values:
        facts["times"] = times_text(values["times"])
    if "number" in values:
        facts["number"] = length(values["number"], unit)
    pattern = _(_NOTES[code])
    name = line_name(line)
    facts["line"] = capital(name) if pattern.startswith("{line}") else name
    return pattern.format(**facts)


def times_text(times: float) -> str:
    """Return how many times, with one decimal where it needs one: ``1.2``, ``2``."""
    return f"{times:.0f}" if abs(times - round(times)) < 0.05 else with_decimals(times)


def share_text(left: float) -> str:
    """Return by what part a band narrows of which a share is left: ``half``, ``a third``."""
    narrower = 1.0 - left
    return _(min(_SHARES, key=lambda one: abs(one[0] - narrower))[1])


def sides_text(sides: Sequence[str]) -> str:
    """Return where something is most: ``at the sides``, ``in front and behind``."""
    return _(_SIDES[frozenset(sides)])


def home_steps() -> tuple[tuple[str, str], ...]:
    """Return how shape is measured at home: a drawing's name and its words, in order."""
    return tuple((picture, _(text)) for picture, text in _HOME)


def kinds() -> tuple[tuple[str, str], ...]:
    """Return whose outlines can be drawn after, with their words."""
    return tuple((kind, say(f"after_{kind}")) for kind in ("woman", "man", "any"))


def place_text(line: str, height_mm: float, unit: AnyUnit, between: Sequence[str] = ()) -> str:
    """Return which height is looked at: ``Bust, 6 1/2 in above the waist``."""
    if line == "waist":
        return capital(line_name(line))
    if between:
        upper, lower = (line_name(name) for name in between)
        name = _("Between {upper} and {lower}").format(upper=upper, lower=lower)
    else:
        name = capital(line_name(line))
    far = length(abs(height_mm), unit)
    where = _("{name}, {length} above the waist") if height_mm > 0 else _(
        "{name}, {length} below the waist"
    )  # fmt: skip
    return where.format(name=name, length=far)


def size_text(key: str, girth_mm: float, breadth_mm: float, depth_mm: float, unit: AnyUnit) -> str:
    """Return how large a body or a form is at one height; `key` is body_here or form_here."""
    facts = {"girth": girth_mm, "breadth": breadth_mm, "depth": depth_mm}
    return say(key, **{name: length(mm, unit) for name, mm in facts.items()})


def difference_text(less_mm: float, unit: AnyUnit, short: bool = False) -> str:
    """Return how much less round a form is than a body; below zero: more."""
    if abs(less_mm) < _LEAST_SAID_MM:
        return say("same" if short else "form_same")
    which = "less" if less_mm > 0 else "more"
    return say(which if short else f"form_{which}", amount=amount(less_mm, unit))
