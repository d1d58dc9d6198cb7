# SPDX-License-Identifier: MIT
"""Help for each kind of instruction of a fitting: how it is done, and why it is asked.

What is said about handling a form or a tape is common practice, no source.
"""

from __future__ import annotations

from typing import Final

from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check, Finished, Instruction, Measure, SetDials
from fitassist.wording.help_topic import Picture, Topic, lit
from fitassist.wording.language import N_

STEPS: Final[tuple[Topic, ...]] = (
    Topic(
        "how_set",
        N_("How to set dials"),
        (
            N_(
                "The large number is where the dial is to stand, read beside it on the form. The "
                "first number is where it should stand now."
            ),
            N_("Turn opposite dials in turn, a little each, so that the panels open evenly."),
            N_("To open, stop at the first resistance: the panel may be held by the next row."),
            N_(
                "To close, press the panels together by hand as you turn, and keep fingers out of "
                "the seams. Go a little past the number and come back to it, so that the slack "
                "always lies the same way."
            ),
            N_("Where numbers are worn away, count clicks from where the dial stands."),
            N_("One that would not go? Press Not all dials and say where it stands."),
        ),
        (lit("part_dial"),),
    ),
    Topic(
        "how_girth",
        N_("How to measure a girth"),
        (
            N_("Lay the tape on the marks, level all the way round; look from the side."),
            N_("Taut but not tight: it should slide, and not press into the padding or the cover."),
            N_("Read where the tape meets its own zero, at eye height."),
            N_(
                "Type what it reads, as it is. The program knows what it expects and asks if the "
                "reading is far from that; measuring again is always a good answer."
            ),
        ),
        (Picture("bust_girth"),),
    ),
    Topic(
        "how_part",
        N_("How to measure front or back, left or right"),
        (
            N_(
                "Front and back go from side seam to side seam; halves go from centre front to "
                "centre back. Mark both ends with a pin first."
            ),
            N_("Keep the tape level and on the marks, and do not follow a gap into the form."),
            N_("Left and right are the form's own. From the front, its left is at your right."),
        ),
        (Picture("front_side_to_side"), Picture("left_half")),
    ),
    Topic(
        "how_boards",
        N_("How to measure a breadth or a depth"),
        (
            N_(
                "Hold two flat boards or books upright against both sides, or against front and "
                "back, and measure between them with a ruler or the tape pulled straight."
            ),
            N_("Keep both boards level at the line and do not press."),
            N_("A breadth and a depth tell how a girth is shared between front and sides."),
        ),
        (Picture("breadth"), Picture("depth")),
    ),
    Topic(
        "how_length",
        N_("How to measure a length"),
        (
            N_("Lay the tape from mark to mark along the form, without pulling."),
            N_("Back neck to waist begins at the base of the back neck."),
        ),
        (Picture("back_neck_to_waist"),),
    ),
    Topic(
        "how_ribbon",
        N_("How to use a ribbon in place of the tape"),
        (
            N_(
                "Mark a ribbon that does not stretch with the length the line is to become. Wrap "
                "it once. No numbers need to be read."
            ),
            N_("Marks that do not meet say the form is larger by the gap; marks that overlap, "
               "smaller by the overlap. Type how much, or that they meet."),
        ),
        (Picture("ribbon_apart"), Picture("ribbon_overlap")),
    ),
    Topic(
        "how_ask",
        N_("Why the program asks"),
        (
            N_(
                "A reading or a number was far from what was expected. Nothing is changed on its "
                "account before you answer."
            ),
            N_(
                "The usual causes are a tape off level, a neighbouring line, or a slip of a key. "
                "Measure again if you can; keep it if it is as it stands."
            ),
        ),
    ),
    Topic(
        "how_undergarment",
        N_("The same undergarment"),
        (
            N_(
                "Dress the form as the person was measured. Another undergarment changes every "
                "girth, and the form would be set to the wrong body."
            ),
        ),
        (Picture("check_undergarment"),),
    ),
    Topic(
        "how_marks",
        N_("Marking the lines"),
        (
            N_(
                "Pin a narrow tape round the form at each line, level with the floor all the way, "
                "and leave it on. Every reading is taken along it."
            ),
            N_("Measure from the floor at front, both sides and back to find it level."),
            N_("Pin through the seams only where the panels stay together."),
        ),
        (Picture("check_marks"),),
    ),
    Topic(
        "how_changeover",
        N_("Padding off, padding on"),
        (
            N_(
                "Girths are read over the bare shell in its undergarment, so the padding of the "
                "fitting before comes off first. On a slip-on it comes off whole."
            ),
            N_(
                "One bag for each person, with a label: who, which form, how many pieces. Laid "
                "back in the same order, it needs next to no measuring."
            ),
            N_("Count the pins out and in, and run a hand over the shell before dressing it."),
        ),
        (Picture("pad_all_round"),),
    ),
    Topic(
        "how_torso",
        N_("Torso length and height"),
        (
            N_(
                "Hold the torso with one hand before you free the lock: it can drop. Let go only "
                "once the lock holds again."
            ),
            N_(
                "Back neck to waist is measured at the back, straight down. Look at it once more "
                "at the end: turning dials can pull it."
            ),
            N_("Bring shoulder and waist to the person's height above the floor, level all round."),
        ),
        (Picture("check_torso_length"), Picture("floor_to_shoulder")),
    ),
    Topic(
        "how_ended",
        N_("How a fitting ends"),
        (
            N_(
                "Good enough: each line lies within what was asked for, with the chance that was "
                "asked for."
            ),
            N_("As near as the dials go: the rest is told for each line and is left for padding."),
            N_(
                "The form is larger than the body: closed as far as it goes, it still stands out "
                "past the body. Mark the lines on it, or take a smaller form."
            ),
            N_("You can measure on, begin another fitting, or go on with padding."),
        ),
    ),
)  # fmt: skip

_PARTS = (What.FRONT, What.BACK, What.LEFT_HALF, What.RIGHT_HALF)
_CHECKS: Final = {
    "undergarment": "how_undergarment",
    "marks": "how_marks",
    "padding_off": "how_changeover",
    "padding_on": "how_changeover",
}


def topic_of(step: Instruction) -> Topic:
    """Return the help for an instruction."""
    match step:
        case SetDials():
            key = "how_set"
        case Measure(what=What.BREADTH | What.DEPTH):
            key = "how_boards"
        case Measure(what=What.LENGTH):
            key = "how_length"
        case Measure():
            key = "how_part" if step.what in _PARTS else "how_girth"
        case Ask():
            key = "how_ask"
        case Check():
            key = _CHECKS.get(step.code, "how_torso")
        case Finished():
            key = "how_ended"
    return next(topic for topic in STEPS if topic.key == key)
