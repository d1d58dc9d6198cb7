# SPDX-License-Identifier: MIT
"""The sentences for what can go wrong with sheets, covers and hems."""

from __future__ import annotations

from fitassist.wording.language import N_

SHEET_SENTENCES: dict[str, tuple[str, ...]] = {
    "sheet_nobody": (
        N_("Nobody is chosen, so there is nothing to print."),
        N_("Choose a person first."),
    ),
    "sheet_nothing_measured": (
        N_("Nothing of this body was measured yet."),
        N_("Take bust, waist and hip first, then come back."),
    ),
    "sheet_no_ribbon": (
        N_("No girth was measured that a ribbon could hold."),
        N_("Print the sheet for taking ribbons first instead."),
    ),
    "sheet_no_form": (
        N_("No form was set to this body yet."),
        N_("Begin a fitting first; this sheet tells how it ended."),
    ),
    "sheet_no_padding": (
        N_("There is no padding plan for this fitting."),
        N_("Plan the padding first."),
    ),
    "sheet_no_pieces": (
        N_("This padding goes all the way round, so there is no piece to draw."),
        N_("With breadths and depths measured, the shape of pieces can be worked out."),
    ),
    "sheet_not_told": (
        N_("Some of what this sheet needs is not filled in yet."),
        N_("Fill in the fields above the page."),
    ),
    "sheet_not_written": (
        N_("The file could not be written: {detail}."),
        N_("Close it where it is open, or choose another folder or name."),
    ),
    "sheet_no_printer": (
        N_("No printer is set up on this computer."),
        N_("Save the sheet as a PDF and print it elsewhere at 100 %."),
    ),
    "sheet_not_printed": (
        N_("The printer did not take the pages."),
        N_("Look whether it is on, or save the sheet as a PDF."),
    ),
    "hem_height": (
        N_("The waist cannot stand so high or so low above the floor."),
        N_("Measure from the floor to the waist line, plumb."),
    ),
    "hem_shoe": (N_("Shoes cannot lift anybody so far."), N_("Type the height of the heel.")),
    "hem_length": (
        N_("A hem cannot hang so near the waist or so far from it."),
        N_("Look at the length and at its unit."),
    ),
    "hem_below_floor": (
        N_("This hem would lie {mm} below the floor."),
        N_("Shorten the length, or raise the stand."),
    ),
    "cover_neck": (
        N_("A neck cannot be so wide or so narrow."),
        N_("Measure the form's neck where the tube is to sit."),
    ),
    "cover_no_neck": (
        N_("Neither the neck of the form nor that of the body was measured."),
        N_("Fill in the neck of the form."),
    ),
    "cover_pinned_too_much": (
        N_("At the {line} {mm} would have to be pinned out of the rectangle: it would sit askew."),
        N_("Draft the centre back seam instead."),
    ),
    "cover_neck_low": (
        N_("The lines of this form do not lie below its neck one after another."),
        N_("Look at the heights of its lines and at back neck to waist."),
    ),
}
