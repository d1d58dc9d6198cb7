# SPDX-License-Identifier: MIT
"""What stands on the padding page beside the step itself: notes, choices, cautions, empty states.

``say(key, **values)`` gives a sentence of the table.
"""

from __future__ import annotations

import math
from typing import Final

from fitassist.domain.lines import Seam
from fitassist.domain.units import AnyUnit, Unit, format_length
from fitassist.wording.language import N_, _, capital, plain
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.padding_words import place_text
from fitassist.wording.places import line_name, seam_name

_TEXTS: Final[dict[str, str]] = {
    "page": N_("Padding"),
    # before there is anything to lay
    "no_fitting": N_(
        "Padding begins where the dials end. Begin a fitting first: what is left for padding "
        "then stands here, piece by piece."
    ),
    "no_fitting_go": N_("Choose a form"),
    "getting_ready": N_("Getting ready…"),
    "getting_ready_why": N_("The fitting is being opened; this takes a moment."),
    "planning": N_("Working out the pieces…"),
    "planning_why": N_("This takes a second or two."),
    "cancel": N_("Cancel"),
    "cancelled": N_("The pieces were not worked out."),
    "cancelled_why": N_("Nothing has changed."),
    "work_out": N_("Work the pieces out"),
    "refused": N_("There is no plan for this."),
    "choose_other": N_("Choose another material"),
    "nothing": N_("Nothing is left to pad."),
    "nothing_why": N_(
        "Every line measured lies within its tolerance. To shape the form further with padding, "
        "begin the fitting anew with room for padding."
    ),
    "nothing_why_over": N_(
        "No line lacks girth. Where the form stands out past the body, padding cannot help; see "
        "above."
    ),
    "to_fitting": N_("To the fitting"),
    # lower part
    "shown": N_("What is shown below"),
    "tab_sections": N_("Sections"),
    "tab_sizes": N_("Sizes"),
    "tab_material": N_("Material"),
    "tab_cautions": N_("With care"),
    "steps": N_("Steps"),
    "map_name": N_("How thick the padding is to be, all round the form"),
    "sections_name": N_("Sections from above: form, body and padding"),
    "assumed": N_(
        "A number on the map is how many sheets. Shapes follow from the lengths measured, held "
        "middle on middle; the tape decides."
    ),
    "map_front": N_("centre front"),
    "map_back": N_("centre back"),
    "map_left": N_("form's left"),
    "map_right": N_("form's right"),
    "sheets": N_("sheets"),
    "out": N_("stands out"),
    "enough": N_("enough"),
    "body": N_("body"),
    "form": N_("form"),
    # notes
    "under_way": N_("The fitting has not ended: what the dials can still give is not padding."),
    "out_line": N_(
        "At the {line} the form is {by} larger than the body. Padding cannot take that away: "
        "close that row, or accept it."
    ),
    "out_place": N_(
        "At the {line}, {where}, the form stands out past the body by {by}. Padding cannot take "
        "that away: close the dials there, or accept it."
    ),
    "accept": N_("Accept"),
    "unsure": N_(
        "The form was not measured at: {lines}. One wrap of the tape there, on the fitting page, "
        "makes this surer."
    ),
    "girths_only": N_(
        "Only girths are known, so this says how many layers go all round, not where."
    ),
    "girths_only_few": N_(
        "Only girths are known, so this says how many layers go all round, not where. Measure "
        "three girths of the body to see more."
    ),
    "thicker": N_(
        "That takes {sheets} sheets on one another. A material that works {thickness} thick "
        "needs eight."
    ),
    "learned": N_("The tape says a sheet works {worked} thick, where {assumed} was assumed."),
    "learned_go": N_("Work it out anew"),
    "distortion": N_("Flat pieces stretch or shrink by at most {percent} % on the form."),
    "coming": N_("{before} off now, {after} after padding (root mean square)."),
    # choices
    "made_of": N_("Material"),
    "own": N_("another one"),
    "thickness": N_("One sheet works"),
    "thickness_why": N_("{thickness} all round adds {girth} to a girth."),
    "firm": N_(
        "Thin, firm sheets do best: high loft is pressed together under the cover, and nobody "
        "can say how thick it works (common practice)."
    ),
    "as_sold": N_("As sold {range} thick, before it is pressed (common practice, no source)."),
    "ready": N_(
        "Shoulder pads and cup fillings count as pieces of their own: pin them where a piece is "
        "asked for, and let the tape say the rest."
    ),
    "wrap": N_("Measure it instead"),
    "wrap_how": N_(
        "Measure the bare form at the waist, wrap the sheet round it so many times with the cover "
        "over it, and measure again."
    ),
    "wrap_bare": N_("Bare form reads"),
    "wrap_count": N_("Times round"),
    "wrap_wrapped": N_("Wrapped form reads"),
    "wrap_take": N_("Take it"),
    "wrap_told": N_("One sheet works {thickness} thick."),
    "manner": N_("Pieces are"),
    "manner_tidy": N_("tidy shapes"),
    "manner_free": N_("free shapes"),
    "manner_by_eye": N_("by eye, sizes only"),
    "manner_why": N_(
        "Tidy: ovals, crescents and bands, at most four a place. Free: cut along the map. "
        "By eye: how many layers, and how large."
    ),
    "carrier": N_("It is laid on"),
    "carrier_form": N_("the form itself"),
    "carrier_slip_on": N_("a slip-on"),
    "carrier_why": N_(
        "On a zipped slip-on one person's padding comes off whole, and goes into a bag with a "
        "label until the next time."
    ),
    "choose": N_("Use this"),
    # answers
    "done": N_("Done (Enter)"),
    "take": N_("Take it (Enter)"),
    "looks_right": N_("Looks right (Enter)"),
    "tape_reads": N_("The tape reads"),
    "skip": N_("Skip"),
    "undo": N_("Undo"),
    "looks_wrong": N_("Looks wrong here…"),
    "back": N_("Back"),
    "where": N_("Where?"),
    "what": N_("What does it look like?"),
    "too_full": N_("too full"),
    "too_flat": N_("too flat"),
    "ridge": N_("an edge shows"),
    "finished": N_("All of the padding is on."),
    "finished_why": N_("What was laid is in the record, and comes back with this person."),
    "read_only": N_("This record is open for looking only; nothing can be answered."),
    "step_of": N_("Step {number} of {count}"),
    "state_done": N_("done"),
    "state_skipped": N_("skipped"),
    "state_now": N_("now"),
    "sheets_page": N_("Printed sheets"),
    # what stands largest on the card
    "cell_sheets": N_("sheets"),
    "cell_size": N_("wide × high"),
    "cell_strip": N_("long × wide"),
    "cell_layers": N_("layers"),
    "cell_wanted": N_("wanted"),
    "cell_times": N_("times round"),
    "percent": N_("{percent} % done. This takes a second or two."),
    "no_sizes": N_("There is nothing to lay."),
}

CAUTIONS: Final = (
    N_("Put pins in flat, through the cloth only; where hands reach, take safety pins."),
    N_("Stitch layers to each other loosely: tight stitches press them thin."),
    N_("No hot iron, hot glue or solvent near a hard shell: it warps or melts."),
    N_("Search old padding for pins before hands go in."),
    N_("Count the pins before and after."),
    N_("Keep the edge of the armhole free, and let padding thin out towards it."),
    N_("Leave each strip loose on one side, so that the form can still open and close."),
)


def say(key: str, **values: object) -> str:
    """Return the sentence of a key, with the user's own words made plain.

    Raises
    ------
    KeyError
        No such sentence.
    """
    text = _(_TEXTS[key])
    return text.format(**{k: plain(v, 200) if isinstance(v, str) else v for k, v in values.items()})


def padding_keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


def cautions() -> tuple[str, ...]:
    """Return what to be careful with."""
    return tuple(_(text) for text in CAUTIONS)


def say_thickness(mm: float, unit: AnyUnit) -> str:
    """Say how thick a sheet is: always in mm, and the part of an inch beside it."""
    told = f"{mm:.1f}".rstrip("0").rstrip(".") + " mm"
    if Unit(unit) != Unit.IN:
        return told
    return _("{mm} ({inches} in)").format(mm=told, inches=format_length(mm, unit, denominator=16))


def standing_out_text(
    line: str, girth_mm: float, out_mm: float, share: float, unit: AnyUnit
) -> str:
    """Say where the form stands out past the body, and what can be done."""
    if girth_mm > 0.0:
        return say("out_line", line=line_name(line), by=say_amount(girth_mm, unit))
    where = way_round_text(share)
    return say("out_place", line=line_name(line), where=where, by=say_amount(out_mm, unit))


def way_round_text(share: float) -> str:
    """Say where a share of the way round from centre front over the form's left lies."""
    near = round(8 * (share % 1.0)) % 8
    seams = ("front", "", "left", "", "back", "", "right", "")
    if seams[near]:
        return _("at the {seam}").format(seam=seam_name(Seam(seams[near])))
    return _(
        {
            1: N_("between front and form's left"),
            3: N_("between back and form's left"),
            5: N_("between back and form's right"),
            7: N_("between front and form's right"),
        }[near]
    )


def unsure_text(lines: tuple[str, ...]) -> str:
    """Say at which lines the form's girth is only guessed."""
    return say("unsure", lines=", ".join(line_name(line) for line in lines))


def gap_text(mm: float, thickness_mm: float, unit: AnyUnit) -> str:
    """Say what is missing at a section: "3/8 in, 2 sheets" or "enough"."""
    sheets = round(mm / thickness_mm)
    if sheets < 1:
        return say("enough")
    one = _("1 sheet") if sheets == 1 else _("{n} sheets").format(n=sheets)
    return f"{say_amount(mm, unit)}, {one}"


def places_text(places: tuple[str, ...]) -> str:
    """Name one place, or both of a pair: "left and right cup" is said as both names."""
    return capital(_(" and ").join(place_text(place) for place in places))


def range_text(least_mm: float, most_mm: float, unit: AnyUnit) -> str:
    """Say between which thicknesses a material is sold."""
    if least_mm == most_mm:
        return say_thickness(least_mm, unit)
    return _("{least} to {most}").format(
        least=say_thickness(least_mm, unit), most=say_thickness(most_mm, unit)
    )


def padding_percent(share: float) -> str:
    """Say a share in whole per cent, and one that is not nothing as at least one."""
    return str(max(round(100.0 * share), 1 if share > 0.0005 else 0))


def girth_added(thickness_mm: float, unit: AnyUnit) -> str:
    """Say what one sheet all round adds to a girth (2 pi t)."""
    return say_length(2.0 * math.pi * thickness_mm, unit)
