# SPDX-License-Identifier: MIT
"""The sentences for what can be wrong with padding, a cover and their templates."""

from __future__ import annotations

from fitassist.wording.language import N_

SAME = N_("Nothing has changed.")

PADDING_SENTENCES: dict[str, tuple[str, ...]] = {
    "padding_outline": (
        N_("There is no usable outline of body and form at the {line}."),
        N_("Measure there, or leave that line out."),
    ),
    "padding_too_few_lines": (
        N_("Padding needs the outlines at two lines or more."),
        N_("Measure at one more line."),
    ),
    "padding_same_height": (
        N_("The {line} lies at the same height as another line."),
        N_("Look at the two heights."),
    ),
    "padding_far_apart": (
        N_("At the {line} the body and the form are too far apart to be padded."),
        N_("Look at the numbers of that line."),
    ),
    "padding_ignored": (
        N_("What may be ignored cannot be below zero."),
        N_("Give the tolerance as a length."),
    ),
    "padding_thickness": (
        N_("The thickness of one sheet has to be more than zero and less than 4 in (10 cm)."),
        N_("Measure it by wraps round the form, under the cover."),
    ),
    "padding_too_thick": (
        N_("One sheet is {thickness} thick, and at most {gap} is missing anywhere."),
        N_("Use a thinner material, or leave the form as it is."),
    ),
    "padding_too_many_layers": (
        N_("That would take {layers} sheets on one another; more than {most} do not lie well."),
        N_("Use a thicker material, or open the form further."),
    ),
    "padding_wraps": (
        N_("The thickness is measured with 1 to {most} wraps."),
        N_("Type how many times the sheet goes round."),
    ),
    "padding_wrap_girth": (
        N_("From these two girths no sheet gets a thickness that can be."),
        N_("Measure the bare form and the wrapped form once more, at the same line."),
    ),
    "padding_gap": (
        N_("The gap at the {seam} seam is not one a form can have."),
        N_("Measure it with a ruler, across the open seam."),
    ),
    "padding_shoulder": (
        N_("These shoulders cannot be built up with a wedge."),
        N_("Look at the length, the width and the two slopes; the lower shoulder is the steeper."),
    ),
    "padding_too_wide": (
        N_("A piece is {piece} wide, and the material is {width} wide."),
        N_("Use a wider material, or join two widths first."),
    ),
    "padding_no_piece": (
        N_("There is no piece to print: nothing is missing anywhere."),
        N_("The form needs no padding."),
    ),
    "paper_too_small": (
        N_("This paper is too small for the marks of a template."),
        N_("Take A4, Letter or larger."),
    ),
    "paper_too_many_pages": (
        N_("That would be {pages} pages; {most} are the most."),
        N_("Use larger paper or a roll."),
    ),
    "cover_no_stretch": (
        N_("A fabric that gives less than {least} % across cannot be pulled over as one piece."),
        N_("Take a knit; test it on a fold, across the grain."),
    ),
    "cover_ease": (
        N_("The cover has to be cut smaller than the form, and by less than 60 %."),
        N_("3 to 8 % is usual."),
    ),
    "cover_height": (
        N_("This height is not one a cover can have."),
        N_("Measure along the form from the neck to the lower edge."),
    ),
    "cover_overstretched": (
        N_("At the {line} this knit would be stretched by {strain} %, and {most} % is the most."),
        N_("Take a knit that gives more, or shape the seam instead of cutting one rectangle."),
    ),
    "cover_loose": (
        N_("At the {line} the cover would hang loose by {mm}."),
        N_("Cut it smaller, or shape the seam instead of cutting one rectangle."),
    ),
}
