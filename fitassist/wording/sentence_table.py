# SPDX-License-Identifier: MIT
"""The sentences for the codes of ``FitError``: what is wrong, what is safe, what to do.

Words in braces are filled by ``fitassist.wording.sentences``.
"""

from __future__ import annotations

from fitassist.wording.choosing_sentences import CHOOSING_SENTENCES
from fitassist.wording.language import N_
from fitassist.wording.padding_sentences import PADDING_SENTENCES
from fitassist.wording.people_sentences import PEOPLE_SENTENCES
from fitassist.wording.sheet_sentences import SHEET_SENTENCES

KEPT = N_("What was entered before is safe.")
UNTOUCHED = N_("The file was left as it is.")
LOOK_UNIT = N_("Look at the number and at the unit.")
EXAMPLE = N_("Type it as 28 1/8, 28.125 in, 71.4 cm or 714 mm.")

SENTENCES: dict[str, tuple[str, ...]] = {
    # a typed length (fitassist.domain.units)
    "length_empty": (N_("There is no number yet."), EXAMPLE),
    "length_too_long_text": (
        N_("That text is too long for a length."),
        N_("Type the number alone."),
    ),
    "length_no_number": (N_("There is no number in {typed}."), EXAMPLE),
    "length_letters": (N_("{typed} is not a length."), EXAMPLE),
    "length_unknown_unit": (N_("The unit in {typed} is not known here."), N_("Use in, cm or mm.")),
    "length_mixed_units": (N_("{typed} mixes two units."), N_("Use one of in, cm or mm.")),
    "length_with_unit": (
        N_("A number beside a dial has no unit."),
        N_("Type it as it is printed there, for example 37 1/2."),
    ),
    "length_feet": (N_("Feet are not used here."), N_("Type inches, cm or mm.")),
    "length_two_numbers": (N_("There is more than one number in {typed}."), EXAMPLE),
    "length_separators": (
        N_("The points and commas in {typed} can be read in two ways."),
        N_("Use one point or comma, before the decimals only."),
    ),
    "length_not_understood": (N_("{typed} cannot be read as a length."), EXAMPLE),
    "length_zero_denominator": (N_("The lower part of a fraction cannot be 0."), EXAMPLE),
    "length_improper_fraction": (
        N_("The fraction in {typed} is one or more."),
        N_("Leave a space after the whole inches, for example 28 1/8."),
    ),
    "length_negative": (N_("A length cannot be below zero."), N_("Type it without the minus.")),
    "length_zero": (N_("A length of zero cannot be used."), N_("Type what the tape says.")),
    "length_too_small": (
        N_("{typed} is smaller than anything expected here: the least is {least}."),
        N_("Look at the number and at the unit."),
    ),
    "length_too_large": (
        N_("{typed} is larger than anything expected here: the most is {most}."),
        N_("Look at the number and at the unit."),
    ),
    "too_large": (
        N_("This file is larger than any of ours."),
        UNTOUCHED,
        N_("Look whether it is the right one."),
    ),
    # names
    "name_empty": (N_("There is no name that can be seen."), N_("Type any name you will know.")),
    "name_too_long": (
        N_("The name is too long: {length} characters, where {longest} fit."),
        N_("Shorten it."),
    ),
    "name_control": (
        N_("The name holds a hidden character that would disturb the text around it."),
        N_("Type the name instead of pasting it."),
    ),
    # describing a form
    "form_not_possible": (
        N_("That does not fit together with the rest of the form."),
        N_("Nothing has changed. Look at the neighbouring numbers."),
    ),
    "form_no_dial": (N_("There is no dial at that seam."), N_("Nothing has changed.")),
    "form_out_of_range": (
        N_("This dial goes from {least} to {greatest}."),
        N_("Nothing has changed. Look at the dial again."),
    ),
    "form_row_there": (N_("There is a row of dials at this line already."), N_("Change that one.")),
    "form_range_crossed": (
        N_("The closed number has to be below the open one."),
        N_("Nothing has changed. Look at both numbers."),
    ),
    "form_click": (
        N_("A click has to be larger than nothing and fit into the range."),
        N_("Nothing has changed. Look how far one click turns the dial."),
    ),
    "form_last_dial": (N_("A row needs at least one dial."), N_("Remove the row instead.")),
    "form_torso": (
        N_("The torso's shortest length has to be below its longest, and it stands in between."),
        N_("Nothing has changed. Look at the three lengths."),
    ),
    # outlines of body and form
    "outline_bad_reading": (N_("A reading at the {line} is no length of a torso."), LOOK_UNIT),
    "outline_too_few_girths": (
        N_("The outlines need {needed} girths; there are {known}."),
        N_("Measure bust, waist and hip all round."),
    ),
    "outline_breadth_depth_misfit": (
        N_("No outline at the {line} has this breadth, depth and girth together."),
        N_("The girth would lie above {least}."),
        N_("Measure the three again, breadth and depth between two flat boards."),
    ),
    "outline_parts_misfit": (
        N_("The parts at the {line} come to {sum}, the girth to {girth}."),
        N_("Measure them again from the same marks."),
    ),
    "outline_lengths_out_of_order": (
        N_("These lengths would put the {line} on the wrong side of its neighbour."),
        N_("Measure from the waist to both again."),
    ),
    "shape_prior_unreadable": (
        N_("The file of usual outlines that came with the program cannot be read."),
        N_("Your records are safe."),
        N_("Install the program again."),
    ),
    "form_gap_below_zero": (N_("A gap cannot be below zero."), N_("Look at the dial again.")),
    "form_girth_misfit": (
        N_("These gaps make a girth of about {opened}, far from {girth}."),
        N_("Look at the dial numbers and measure the form again."),
    ),
    "form_too_small": (
        N_("The form would have to open too far: it is {closed} closed, and {girth} is asked for."),
        N_("Choose a larger form."),
    ),
    # answers during a fitting
    "wrong_answer": (
        N_("That does not answer what is asked now."),
        N_("Nothing has changed. Answer the step that is shown."),
    ),
    "unknown_dial": (
        N_("This form has no dial called {dial}."),
        N_("Nothing has changed. Use a name from the form's description."),
    ),
    "unknown_line": (
        N_("Nothing is known here of a line called {line}."),
        N_("Nothing has changed. Use a line of the form or of the body."),
    ),
    "out_of_range": (
        N_("That cannot be so: it has to lie between {least} and {most}."),
        N_("Nothing has changed. Look at the number and at the unit."),
    ),
    "number_out_of_range": (
        N_("This dial goes from {least} to {greatest}."),
        N_("Nothing has changed. Look at the dial again."),
    ),
    "no_ribbon": (
        N_("There is no target here that a ribbon could be marked with."),
        N_("Nothing has changed. Read the tape instead."),
    ),
    "unknown_choice": (
        N_("{choice} is none of the answers offered."),
        N_("Nothing has changed. Take one of those shown."),
    ),
    "nothing_to_undo": (N_("There is nothing to take back."), N_("Go on with the step shown.")),
    "finished": (
        N_("This fitting has ended."),
        N_("All of it is kept. Begin a new fitting to go on."),
    ),
    "number_off_click": (
        N_("This dial does not hold at {number}: that lies between two of its clicks."),
        N_("Nothing has changed. Look at the dial, and give the nearest click."),
    ),
    # lines of a scripted session
    "line_too_long": (
        N_("The line is longer than {longest} bytes."),
        N_("Nothing has changed. Send a shorter one."),
    ),
    "line_not_text": (
        N_("The line is not UTF-8 text."),
        N_("Nothing has changed. Send one JSON object as UTF-8."),
    ),
    "line_not_json": (
        N_("The line is not well-formed JSON."),
        N_("Nothing has changed. Send one JSON object, each name in it once."),
    ),
    "line_not_object": (
        N_("The line is not a JSON object."),
        N_("Nothing has changed. Send one object in braces."),
    ),
    "answer_unknown": (
        N_("There is no such answer: {answer}."),
        N_("Nothing has changed. The description of the protocol lists them."),
    ),
    "answer_other_id": (
        N_("Number {number} is not what is open; {open} is."),
        N_("Nothing has changed. Repeat the id of the last instruction."),
    ),
    "answer_field_missing": (N_("{field} is missing."), N_("Nothing has changed. Add it.")),
    "answer_field_unknown": (
        N_("This answer has no field called {name}."),
        N_("Nothing has changed. Leave it out."),
    ),
    "answer_out_of_range": (
        N_("The number at {field} is too small or too large."),
        N_("Nothing has changed. Look at the number and at the unit."),
    ),
    "answer_bad_value": (
        N_("What stands at {field} cannot be used."),
        N_("Nothing has changed. Give it in the kind the protocol describes."),
    ),
    # beginning a fitting
    "nothing_measured": (
        N_("Nothing has been measured on this body yet, so the form has nothing to become."),
        N_("Measure at least one line first."),
    ),
    # keeping files
    "disk_full": (
        N_("The disk is full, so the last entry could not be kept."),
        KEPT,
        N_("Make room, then enter it again."),
    ),
    "no_permission": (
        N_("The system does not allow this file to be read or written."),
        KEPT,
        N_("Look at the rights of the file and its folder, or choose another folder."),
    ),
    "folder_gone": (
        N_("The folder of this file is not there any more."),
        KEPT,
        N_("Plug the disk in again or bring the folder back, then enter the last thing again."),
    ),
    "write_failed": (
        N_("The last entry could not be written."),
        KEPT,
        N_("Try once more; if it fails again, look at the disk."),
    ),
    "changed_elsewhere": (
        N_("Another program changed this file in the meantime."),
        N_("Both versions are kept."),
        N_("Close the file, open it again, and enter the last thing once more."),
    ),
    "open_elsewhere": (
        N_("This record is open in another window or on another computer."),
        N_("It can be looked at; nothing can be added here."),
        N_("Close it there to go on here."),
    ),
    "lock_taken": (
        N_("Another window took this record over."),
        KEPT,
        N_("Go on there, or close it there and open it here again."),
    ),
    "read_only": (
        N_("This record is open for looking only, so nothing can be added."),
        KEPT,
        N_("Close it elsewhere and open it again."),
    ),
    "bad_json": (
        N_("The file cannot be read: it is not well-formed."),
        UNTOUCHED,
        N_("Take an earlier copy of it."),
    ),
    "truncated": (
        N_("The end of the file is missing."),
        UNTOUCHED,
        N_("Take an earlier copy of it, or go on with what is there."),
    ),
    "foreign_file": (
        N_("This file is of another kind than is needed here."),
        UNTOUCHED,
        N_("Choose another file."),
    ),
    "newer_version": (
        N_("This file was written by a newer version of this program."),
        UNTOUCHED,
        N_("Use the newer version to open it."),
    ),
    "too_deep": (
        N_("This file is nested too deep to be one of ours."),
        UNTOUCHED,
        N_("Choose another file."),
    ),
    "bad_event": (
        N_("Something in this record cannot be understood."),
        UNTOUCHED,
        N_("Take an earlier copy of it, or open it with a newer version of this program."),
    ),
    "not_object": (
        N_("The file does not hold what is needed here."),
        UNTOUCHED,
        N_("Choose another file."),
    ),
    "duplicate_key": (
        N_("The file says the same thing twice: {field}."),
        UNTOUCHED,
        N_("Remove one of the two."),
    ),
    "not_finite": (
        N_("The file holds a number without an end."),
        UNTOUCHED,
        N_("Put it right, or take another copy of the file."),
    ),
    "missing_field": (
        N_("Something is missing in the file: {field}."),
        UNTOUCHED,
        N_("Add it, or take another copy of the file."),
    ),
    "bad_field": (
        N_("Something in the file cannot be used: {field} {why}."),
        UNTOUCHED,
        N_("Put it right, or take another copy of the file."),
    ),
    "bad_document": (
        N_("Something in this record cannot be understood."),
        UNTOUCHED,
        N_("Take an earlier copy of it, or open it with a newer version of this program."),
    ),
    "unknown_version": (
        N_("This file names a version that never was."),
        UNTOUCHED,
        N_("Take an earlier copy of it."),
    ),
    "already_exists": (
        N_("There is a file of that name already."),
        N_("It was left as it is."),
        N_("Choose another name."),
    ),
    "body_unknown": (
        N_("The record has no such body."),
        N_("Nothing has changed. Choose one of the bodies described in it."),
    ),
    "drawing_unreadable": (
        N_("A drawing that came with the program cannot be read."),
        N_("Your records are safe."),
        N_("Install the program again."),
    ),
    "document_missing": (
        N_("The main file of this record is gone; only its newest entries are there."),
        UNTOUCHED,
        N_("Bring the file back from the bin or from a backup beside it."),
    ),
    "bad_id": (
        N_("There is nothing kept under that name."),
        N_("Choose one of the list."),
    ),
    "bad_learned": (
        N_("What earlier fittings taught about this form cannot be understood."),
        UNTOUCHED,
        N_("Remove it from the form's file; the next fitting learns it anew."),
    ),
    "not_found": (N_("The file is not there: {path}."), N_("Look at its name and its folder.")),
    "symlink": (
        N_("The file only points to another one: {path}."),
        N_("Nothing was read or written. Choose the file it points to."),
    ),
    "not_a_file": (N_("That is not a file: {path}."), N_("Choose a file.")),
    "unreadable": (
        N_("The file cannot be read: {path}."),
        UNTOUCHED,
        N_("Look at the disk, then try again."),
    ),
    "catalogue_unreadable": (
        N_("The list of measurements that came with the program cannot be read."),
        N_("Your records are safe."),
        N_("Install the program again."),
    ),
    **CHOOSING_SENTENCES,
    **PADDING_SENTENCES,
    **PEOPLE_SENTENCES,
    **SHEET_SENTENCES,
}

# Why a field of a file cannot be used; the sentence above puts its name before it.
WHYS = {
    "wrong_type": N_("is of the wrong kind"),
    "not_allowed": N_("is none of the words allowed there"),
    "out_of_range": N_("is too small or too large"),
    "too_long": N_("is too long"),
    "blank": N_("is empty"),
    "too_many": N_("has too many entries"),
    "given_twice": N_("is given twice, in two units"),
    "same_name": N_("uses a name that is taken"),
    "unknown_line": N_("names a line that is not described"),
    "unknown_row": N_("names a row that is not described"),
    "unknown_seam": N_("names a seam other than front, left, back and right"),
    "unknown_dial": N_("names a dial that is not described"),
    "least_not_below_greatest": N_("has a least number that is not below the greatest"),
    "outside_range": N_("lies outside the range given for it"),
    "bad_click": N_("has a click that does not fit its range"),
    "inconsistent": N_("does not agree with the rest"),
}

GENERAL = (
    N_("Something went wrong that this version has no words for ({code})."),
    N_("What was entered before is safe."),
    N_("Try once more."),
)
