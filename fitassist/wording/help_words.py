# SPDX-License-Identifier: MIT
"""What stands around pages of help, and the screens of the first start."""

from __future__ import annotations

from typing import Final

from fitassist.wording.help_topic import Picture, Topic, lit
from fitassist.wording.language import N_, _, plain

_TEXTS: Final[dict[str, str]] = {
    "page": N_("Help"),
    "search": N_("Search the help"),
    "list": N_("Pages of help"),
    "none": N_("Nothing holds these words. Try one word, or a part of it."),
    "back": N_("Back to {place}"),
    "tour": N_("The first screens"),
    "how": N_("How (F1)"),
    "how_close": N_("Close"),
    "how_more": N_("More in Help"),
    "tour_of": N_("{number} of {many}"),
    "tour_next": N_("Next (Enter)"),
    "tour_back": N_("Back"),
    "tour_leave": N_("Leave (Esc)"),
    "tour_begin": N_("Begin (Enter)"),
}

TOUR: Final[tuple[Topic, ...]] = (
    Topic(
        "tour_form",
        N_("A form that becomes one person"),
        (
            N_(
                "An adjustable form opens at its seams when its dials are turned. Fitassist says "
                "which dials to set to which numbers, until the form is the double of one person."
            ),
            N_("You can leave these screens at any time; Help shows them again."),
        ),
        (lit("form_front", "seam-front", "seam-left", "seam-right"),),
    ),
    Topic(
        "tour_measure",
        N_("First the person is measured"),
        (
            N_(
                "Four measurements are enough to begin. A drawing shows where the tape goes. Type "
                "what it reads, in inches or centimetres."
            ),
        ),
        (Picture("bust_girth"), Picture("back_neck_to_waist")),
    ),
    Topic(
        "tour_describe",
        N_("Then the form is described, once"),
        (
            N_(
                "Begin from a form that is most like yours and copy the number beside each dial. "
                "Left and right are the form's own."
            ),
        ),
        (Picture("part_dial"), lit("form_front", "line-bust", "line-waist", "line-hip")),
    ),
    Topic(
        "tour_fit",
        N_("One step at a time"),
        (
            N_(
                "Set these dials, wrap the tape here, or stop: one step stands there, large enough "
                "to be read from the form. Do it, press Enter. How explains each step."
            ),
            N_("F11 shows the step alone, and a small numeric pad is enough to answer."),
        ),
        (lit("form_front", "line-waist", "seam-front"), Picture("waist_girth")),
    ),
    Topic(
        "tour_care",
        N_("With care"),
        (
            N_(
                "Never force a dial. Keep fingers out of the seams when closing. Hold the torso "
                "before you free the height lock."
            ),
            N_("Everything stays on this computer, and each answer is kept at once."),
        ),
        (Picture("part_lock"),),
    ),
)


def say(key: str, **values: object) -> str:
    """Return the sentence of a key, with the user's own words made plain.

    Raises
    ------
    KeyError
        No such sentence.
    """
    text = _(_TEXTS[key])
    if not values:
        return text
    return text.format(**{k: plain(v) if isinstance(v, str) else v for k, v in values.items()})


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)
