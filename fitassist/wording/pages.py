# SPDX-License-Identifier: MIT
"""What stands on the pages about people, measurements, forms and settings: one table of sentences.

``say(key, **values)`` gives a sentence in the tongue in use. A user's own text goes in through
``values`` and is made plain first.
"""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_, _, plain

_TEXTS: Final[dict[str, str]] = {
    # the window
    "window.title": N_("Fitassist"),
    "window.title_person": N_("{name} - Fitassist"),
    "window.nobody": N_("Nobody chosen"),
    "window.no_form": N_("no form chosen"),
    "window.places": N_("Places"),
    "place.people": N_("People"),
    "place.measurements": N_("Measurements"),
    "place.shape": N_("Shape"),
    "place.form": N_("Form"),
    "place.fitting": N_("Fitting"),
    "place.padding": N_("Padding"),
    "place.sheets": N_("Sheets"),
    "place.settings": N_("Settings"),
    "place.help": N_("Help"),
    "strip.read_only": N_(
        "This record is open elsewhere, so nothing can be added here. You can look at everything."
    ),
    "strip.dismiss": N_("Put away"),
    "strip.try_again": N_("Try again"),
    # people
    "people.heading": N_("People"),
    "people.list": N_("People kept here"),
    "people.new": N_("New person"),
    "people.name": N_("Name"),
    "people.create": N_("Begin the record"),
    "people.cancel": N_("Not now"),
    "people.open": N_("Open"),
    "people.erase": N_("Erase…"),
    "people.erase_ask": N_(
        "Erase {name}? All measurements and fittings of {name}, earlier states and other versions "
        "are removed for good. This cannot be undone."
    ),
    "people.erase_yes": N_("Erase for good"),
    "people.erase_no": N_("Keep"),
    "people.none_found": N_("Nobody by that name."),
    "people.empty": N_(
        "Nobody here yet. Begin with the person whose double the form is to become: "
        "a name is enough, the measurements come next."
    ),
    "people.damaged": N_("{name}: cannot be read, left untouched"),
    # measurements
    "measure.nobody": N_("Nobody is chosen yet. Choose a person first."),
    "measure.to_people": N_("Choose a person"),
    "measure.bodies": N_("Body"),
    "measure.another_body": N_("Another body"),
    "measure.change_body": N_("Change…"),
    "measure.under": N_("Worn while measuring: {undergarment}"),
    "measure.under_none": N_("Worn while measuring: not noted"),
    "measure.depth": N_("How much to measure"),
    "measure.how": N_("How it is measured"),
    "measure.again": N_("Again"),
    "measure.another": N_("another reading"),
    "measure.helper": N_("needs a helper"),
    "measure.helper_why": N_("Ask somebody to help: reaching for the tape moves the body."),
    "measure.readings": N_("Readings that count"),
    "measure.withdraw": N_("Leave out"),
    "measure.next": N_("Next: the form"),
    "measure.not_kept": N_("Not kept yet. {why}"),
    "measure.name_notes": N_("Name and notes"),
    "measure.notes": N_("Notes"),
    "measure.keep_notes": N_("Keep the notes"),
    "measure.rename": N_("Keep the name"),
    "ask.keep": N_("Keep"),
    "ask.change": N_("Change"),
    # a body
    "body.first": N_("Say a little about the body that will be measured; all of it can change."),
    "body.another_why": N_(
        "The same person in other clothes is another body: in a corset, with pads, and so on."
    ),
    "body.change_why": N_("The readings stay as they are."),
    "body.name": N_("Name for these measurements"),
    "body.kind": N_("Which usual figures to check against"),
    "body.under": N_("Undergarment worn while measuring"),
    "body.under_example": N_("for example: the everyday bra"),
    "body.begin": N_("Begin measuring"),
    "body.change": N_("Keep this"),
    "body.everyday": N_("Everyday"),
    "body.corset": N_("In a corset"),
    "body.pads": N_("With pads"),
    # a form
    "form.heading": N_("Form"),
    "form.list": N_("Your forms"),
    "form.empty": N_(
        "No form yet. Begin from the one in the list that is most like yours: "
        "everything about it can be changed."
    ),
    "form.begin_from": N_("Begin from"),
    "form.blank": N_("A form of another kind"),
    "form.blank_name": N_("My form"),
    "form.own_name": N_("What you call it"),
    "form.now": N_("Where do the dials stand now?"),
    "form.now_why": N_(
        "Read each number off the form, seam by seam; left and right are the form's."
    ),
    "form.no_dials": N_("This form has no dials. It becomes the body by padding alone."),
    "form.all_closed": N_("All of them are closed"),
    "form.range_clicks": N_("{least} to {greatest}, clicks of {click}"),
    "form.range_smooth": N_("{least} to {greatest}, turns smoothly"),
    "form.start": N_("Start the fitting"),
    "form.no_body": N_("Before a fitting, enter the measurements of a person."),
    "form.for_body": N_("For {person}: {body}"),
    "form.dials": N_("Dials: what is printed and how they turn"),
    "form.units": N_("Numbers are printed in"),
    "form.units_in": N_("inches"),
    "form.units_cm": N_("centimetres"),
    "form.meaning": N_("A number means"),
    "form.meaning_whole": N_("the whole girth"),
    "form.meaning_gap": N_("this one gap"),
    "form.meaning_turns": N_("turns only"),
    "form.row": N_("Row"),
    "form.least": N_("Closed"),
    "form.greatest": N_("Fully open"),
    "form.click": N_("Click (empty: smooth)"),
    "form.states": N_(
        "Press a seam to change what is there. Dial: it turns. Worn: it turns, but its numbers "
        "cannot be read. Follows: the seam opens without a dial of its own. None: it stays shut."
    ),
    "form.state_dial": N_("dial"),
    "form.state_worn": N_("worn"),
    "form.state_follows": N_("follows"),
    "form.state_none": N_("none"),
    "form.remove_row": N_("Remove"),
    "form.add_row": N_("Add a row at"),
    "form.largest_turn": N_("Largest turn in one go (may be empty)"),
    "form.girths": N_("Girths and heights, if you know them"),
    "form.girths_why": N_(
        "All of it may stay empty; the fitting measures what it needs. A girth read now counts "
        "with the numbers above."
    ),
    "form.height": N_("Height from the waist"),
    "form.closed_girth": N_("Girth when closed"),
    "form.girth_now": N_("Girth as it stands now"),
    "form.known": N_("{length} with the dials at {numbers}"),
    "form.known_forget": N_("Leave out"),
    "form.below": N_("(below the waist)"),
    "form.torso": N_("Torso, shoulders and stand"),
    "form.torso_parts": N_("The torso pulls longer"),
    "form.torso_none": N_("not at all"),
    "form.torso_one": N_("in one piece"),
    "form.torso_parted": N_("front, back and sides apart"),
    "form.torso_least": N_("Back neck to waist, shortest"),
    "form.torso_greatest": N_("Back neck to waist, longest"),
    "form.torso_now": N_("Back neck to waist, now"),
    "form.shoulder": N_("Shoulder length, closed"),
    "form.stand_least": N_("Shoulder above the floor, lowest"),
    "form.stand_greatest": N_("Shoulder above the floor, highest"),
    "form.stand_now": N_("Shoulder above the floor, now"),
    "form.post": N_("The pole stands"),
    "form.post_centre": N_("in the middle"),
    "form.post_offset": N_("off centre"),
    "form.post_hanging": N_("it hangs"),
    "form.post_unknown": N_("not noted"),
    "form.handling": N_("Handling and notes"),
    "form.parts": N_("Parts it is made of"),
    "form.lock": N_("A catch must be released before a dial turns"),
    "form.opens": N_("Which way opens"),
    "form.overlaps": N_("What overlaps what"),
    "form.set_first": N_("Set first"),
    "form.set_upper": N_("the upper half"),
    "form.set_lower": N_("the lower half"),
    "form.error.form_range_crossed": N_("The closed number must be below the open one."),
    "form.error.form_click": N_("A click must be larger than nothing and fit into the range."),
    "form.error.form_last_dial": N_("A row needs at least one dial; remove the row instead."),
    "form.error.form_row_there": N_("There is a row at this line already."),
    "form.error.form_torso": N_("The shortest must be below the longest, and now in between."),
    "form.error.form_not_possible": N_("That does not fit together with the rest of the form."),
    # settings
    "settings.units": N_("Units"),
    "settings.units_why": N_(
        "What a bare number means and what is shown first. The other unit can always be typed."
    ),
    "settings.theme": N_("Look"),
    "settings.theme_why": N_(
        "As the system, or always the same; high contrast draws all at its strongest."
    ),
    "settings.theme_system": N_("as the system"),
    "settings.theme_light": N_("light"),
    "settings.theme_dark": N_("dark"),
    "settings.theme_contrast": N_("high contrast, light"),
    "settings.theme_contrast_dark": N_("high contrast, dark"),
    "settings.language": N_("Language"),
    "settings.language_why": N_("What the program speaks; it changes with the next start."),
    "settings.language_system": N_("as the system"),
    "settings.font_scale": N_("Size of type"),
    "settings.font_scale_why": N_("Larger type; what no longer fits can be scrolled to."),
    "settings.confidence": N_("How sure before it is called good"),
    "settings.confidence_why": N_(
        "A higher figure asks for more readings before a line counts as good."
    ),
    "settings.in_100": N_("{n} in 100"),
    "settings.tolerance": N_("How near each line should come"),
    "settings.tolerance_hip": N_("How near the hip should come"),
    "settings.tolerance_why": N_("A new fitting begins with these; one under way keeps its own."),
    "settings.below": N_("below"),
    "settings.above": N_("above"),
    "settings.cover_mm": N_("Thickness of the cover"),
    "settings.cover_mm_why": N_(
        "What goes over the form at the end, all round; the form is set smaller by it."
    ),
    "settings.tape_spread_mm": N_("Usual spread of one wrap of the tape"),
    "settings.tape_spread_mm_why": N_(
        "How far readings on the form scatter; your own readings tell more as you go on."
    ),
    "settings.padding_follows": N_("The form will be padded afterwards"),
    "settings.padding_follows_why": N_("Then a line may stay smaller, but hardly larger."),
    "settings.opposite_equal": N_("Always set opposite dials alike"),
    "settings.opposite_equal_why": N_(
        "Left as right and front as back, even if it fits less well."
    ),
    "settings.checks": N_("Show the plain steps too"),
    "settings.checks_why": N_("Undergarment, marks, torso length and stand, each as a step."),
    "settings.speak": N_("Read the steps aloud"),
    "settings.speak_why": N_(
        "Where the computer has a voice: each step is read, and what was typed is repeated."
    ),
    "settings.remind_measured": N_("Say when somebody was last measured"),
    "settings.remind_measured_why": N_(
        "In the list of people, where that is half a year ago or more: the month, no more."
    ),
    "settings.beside_figure_mm": N_("Figures beside the form"),
    "settings.beside_figure_mm_why": N_(
        "How high the numbers stand on a 14-inch screen in the view that F11 opens; on a larger "
        "screen they are larger."
    ),
    "settings.keypad": N_("Keys beside the form"),
    "settings.keypad_why": N_(
        "What the keys of a numeric pad do while no number is being typed. Alone or in two: one "
        "may turn and call out what the tape reads while the other types."
    ),
    "settings.reset": N_("Set all of it back"),
    "settings.too_much": N_("That is more than makes sense here; nothing has changed."),
    # fields
    "number.between": N_("This dial holds at {below} and at {above}, not in between; look again."),
    "number.range": N_("This dial goes from {least} to {greatest}."),
}


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


def form_refusal(code: str) -> str:
    """Return why a change of a form was refused."""
    key = f"form.error.{code}"
    return say(key if key in _TEXTS else "form.error.form_not_possible")


def page_keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)
