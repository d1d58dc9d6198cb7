# SPDX-License-Identifier: MIT
"""The parts of a form, each with its drawing, and the words used here, each explained once."""

from __future__ import annotations

from typing import Final

from fitassist.wording.help_topic import Picture, Topic, lit
from fitassist.wording.language import N_

PARTS: Final[tuple[Topic, ...]] = (
    Topic(
        "part_panels",
        N_("Panels and seams"),
        (
            N_(
                "The torso is made of panels: four from top to bottom, or eight where it is also "
                "split across. They part at the seams, at front, left, back and right."
            ),
            N_("Where panels part, the girth grows by the gap; under a cover it is bridged."),
        ),
        (lit("form_front", "seam-front", "seam-left", "seam-right"), lit("form_back", "seam-back")),
    ),
    Topic(
        "part_dial",
        N_("Dials, numbers and clicks"),
        (
            N_(
                "A dial moves two panels apart or together. The number printed beside it says how "
                "far; on most forms it is the whole girth if all dials of the row stand there."
            ),
            N_("A click is the smallest turn that holds by itself."),
        ),
        (Picture("part_dial"),),
    ),
    Topic(
        "part_row",
        N_("Rows and lines"),
        (
            N_("The dials at one line are a row: at bust, waist, hip, sometimes at the neck."),
            N_("A line is a level place round the torso, whether there are dials or not."),
        ),
        (lit("form_front", "line-bust", "line-waist", "line-hip"),),
    ),
    Topic(
        "part_torso",
        N_("A torso that pulls longer"),
        (
            N_(
                "Some forms part at the waist, so that the upper half can be raised. The torso's "
                "length, back neck to waist, is then set by hand before anything else."
            ),
        ),
        (lit("form_side", "split-1", "split-2"),),
    ),
    Topic(
        "part_pole",
        N_("Pole, base and height lock"),
        (
            N_(
                "The torso slides on a pole that stands on a base. A lock holds its height; hold "
                "the torso before you free it."
            ),
            N_("Where the pole stands off centre the form can tip; some forms hang instead."),
        ),
        (Picture("part_lock"), lit("form_front", "pole-left", "pole-right", "foot")),
    ),
    Topic(
        "part_neck",
        N_("Neck, shoulder and armhole"),
        (
            N_(
                "The neck ends in a cap. A form's shoulder can seldom be shortened: where it is "
                "longer than the person's, mark the person's shoulder point on it."
            ),
        ),
        (lit("form_front", "neck", "neck-mirrored", "cap", "shoulder", "shoulder-mirrored",
             "armhole", "armhole-mirrored"),),
    ),
)  # fmt: skip

# The words that differ between countries, as they are used here.
GLOSSARY: Final[tuple[tuple[str, str], ...]] = (
    (N_("form"), N_("The torso on its pole that becomes a person's double.")),
    (N_("pole and base"), N_("What a form stands on.")),
    (N_("test garment"), N_("A first version in plain cloth, to try the fit.")),
    (N_("padding and layers"), N_("Soft sheets laid on the form, and each one of them.")),
    (N_("stretch knit"), N_("A knitted fabric that gives in its width; covers are made of it.")),
    (N_("neck tube"), N_("The upright end of a cover, pulled over the neck.")),
    (N_("trousers (pants)"), N_("What is worn on both legs; forms end above them.")),
    (N_("upper chest"), N_("The line round the body high under the arms, above the bust.")),
    (N_("back neck"), N_("The base of the neck at the back, where the bone can be felt.")),
    (N_("line"), N_("A place round the body or the form: the bust line, the waist line.")),
    (N_("level"), N_("Lying like a water surface: the same height all the way round.")),
    (N_("stands out past the body"), N_("The form is larger than the body at that place.")),
    (N_("workroom"), N_("Wherever you work, and everything that is kept in one folder.")),
    (N_("person"), N_("Whoever the form is to become the double of.")),
    (N_("body"), N_("One person in one set of clothes, as measured.")),
    (N_("girth"), N_("The length of a taut tape all the way round.")),
    (N_("reading"), N_("What the tape says at one wrap.")),
    (N_("spread"), N_("How far readings of the same thing scatter.")),
    (N_("target"), N_("What the finished form should measure at a line.")),
    (N_("tolerance"), N_("How far from its target a line may end.")),
    (N_("set, open, close"), N_("What is done with a dial: to its number, wider, narrower.")),
    (N_("section"), N_("Body and form seen from above, as if cut at one line.")),
)
