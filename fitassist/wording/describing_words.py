# SPDX-License-Identifier: MIT
"""Describing a form one question at a time, in words."""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_, _, plain

_WORDS: Final = {
    "open": N_("Describe it step by step…"),
    "where": N_("{number} of about {many}"),
    "next": N_("Next (Enter)"),
    "back": N_("Back"),
    "skip": N_("Skip"),
    "leave": N_("Leave (Esc)"),
    "finish": N_("Done (Enter)"),
    "kept": N_("Every answer is kept with the form at once; leave and go on whenever you like."),
    # the questions
    "name": N_("What do you call this form?"),
    "name.why": N_("So that it can be told from others in the workroom."),
    "units": N_("Which unit are its numbers in?"),
    "units.why": N_("Look at the numbers beside the dials. About 34 is inches, about 86 is cm."),
    "units.in": N_("Inches"),
    "units.cm": N_("Centimetres"),
    "meaning": N_("What do the numbers beside the dials say?"),
    "meaning.why": N_("Closed, do the bust dials show the girth of the form, or zero?"),
    "meaning.whole_girth": N_("The girth of the form"),
    "meaning.seam_gap": N_("How wide the gap is"),
    "meaning.plain_turns": N_("Nothing; turns are counted"),
    "parts": N_("How many hard panels has it?"),
    "parts.why": N_("Look whether a line runs all round at the waist and parts it in two."),
    "parts.four": N_("Four, from top to bottom"),
    "parts.eight": N_("Eight: four above, four below"),
    "parts.one": N_("One shell; nothing opens"),
    "neck": N_("Is there a dial at the neck?"),
    "neck.why": N_("Mostly one, at the centre back."),
    "neck.yes": N_("Yes"),
    "neck.no": N_("No"),
    "seams": N_("Where do bust, waist and hip open by dials?"),
    "seams.why": N_("Walk round it once. Left and right are the form's own."),
    "seams.four": N_("Front, back and both sides"),
    "seams.centres": N_("Front and back"),
    "seams.sides": N_("Both sides"),
    "range": N_("{row}: what is printed from closed to fully open?"),
    "range.why": N_(
        "The least and the greatest number, and how far one click turns. Leave the click empty if "
        "the dial turns smoothly."
    ),
    "range.least": N_("Closed"),
    "range.greatest": N_("Fully open"),
    "range.click": N_("One click"),
    "girth": N_("{row}: close all its dials. What does the tape say?"),
    "girth.why": N_("Once round over the bare shell, level, taut but not tight."),
    "girth.length": N_("The tape reads"),
    "post": N_("Where is the pole?"),
    "post.why": N_("Over a pole in the middle no trousers go on."),
    "post.centre": N_("In the middle"),
    "post.offset": N_("Offset"),
    "post.hanging": N_("None, it hangs"),
    "torso": N_("Can its torso be pulled longer?"),
    "torso.why": N_("Hold it with one hand before you free the lock: it can drop."),
    "torso.none": N_("No"),
    "torso.one": N_("Yes, as one"),
    "torso.front_back_sides": N_("Yes, front, back and sides apart"),
    "lesson": N_("Set every {row} dial to {number}. What does the tape say at the {line}?"),
    "lesson.why": N_(
        "All other dials closed. Of all single readings this one is expected to teach most about "
        "how the form opens. Stop at the first resistance; never force a dial."
    ),
    "done": N_("That is enough to begin."),
    "done.why": N_(
        "The rest of the form's page may stay empty. A first fitting teaches the program more, and "
        "fewer readings are asked for from then on."
    ),
    "done.skipped": N_("Close all dials again, or say under the form where they stand."),
}


def say(key: str, **values: object) -> str:
    """Return words of a question."""
    return _(_WORDS[key]).format(**{name: plain(str(one)) for name, one in values.items()})


def keys() -> tuple[str, ...]:
    """Return every key there are words for."""
    return tuple(_WORDS)
