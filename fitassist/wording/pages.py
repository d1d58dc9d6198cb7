# SPDX-License-Identifier: MIT
"""What stands on the pages about people, measurements, forms and settings: one table of sentences.

``say(key, **values)`` gives a sentence in the tongue in use. A user's own text goes in through
``values`` and is made plain first.
"""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_, _, ngettext, plain

_TEXTS: Final[dict[str, str]] = {
    # the window
    "window.title": N_("Fitassist"),
    "window.title_person": N_("{name} - Fitassist"),
    "window.nobody": N_("Nobody chosen"),
    "window.no_form": N_("no form chosen"),
    "window.person_form": N_("{person}, {form}"),
    "window.places": N_("Places"),
    "place.people": N_("People"),
    "place.measurements": N_("Measurements"),
    "place.form": N_("Form"),
    "place.fitting": N_("Fitting"),
    "place.settings": N_("Settings"),
    "strip.read_only": N_(
        "This record is open elsewhere, so nothing can be added here. You can look at everything."
    ),
    "strip.dismiss": N_("Put away"),
    "strip.try_again": N_("Try again"),
    # people
    "people.heading": N_("People"),
    "people.search": N_("Search by name"),
    "people.list": N_("People kept here"),
    "people.new": N_("New person"),
    "people.name": N_("Name"),
    "people.create": N_("Begin the record"),
    "people.cancel": N_("Not now"),
    "people.open": N_("Open"),
    "people.erase": N_("Erase..."),
    "people.erase_ask": N_(
        "Erase {name}? All measurements and fittings of {name} are removed for good. "
        "This cannot be undone."
    ),
    "people.erase_yes": N_("Erase for good"),
    "people.erase_no": N_("Keep"),
    "people.none_found": N_("Nobody by that name."),
    "people.empty": N_(
        "Nobody here yet. Begin with the person whose double the form is to become: "
        "a name is enough, the measurements come next."
    ),
    "people.name_missing": N_("A name is needed; any name you will know again."),
    "people.damaged": N_("{name}: cannot be read, left untouched"),
    # measurements
    "measure.nobody": N_("Nobody is chosen yet. Choose a person first."),
    "measure.to_people": N_("Choose a person"),
    "measure.bodies": N_("Body"),
    "measure.another_body": N_("Another body"),
    "measure.change_body": N_("Change..."),
    "measure.under": N_("Worn while measuring: {undergarment}"),
    "measure.under_none": N_("Worn while measuring: not noted"),
    "measure.depth": N_("How much to measure"),
    "measure.how": N_("How the tape is held"),
    "measure.again": N_("Again"),
    "measure.another": N_("another reading"),
    "measure.helper": N_("with a helper"),
    "measure.helper_why": N_("Ask somebody to help: reaching for the tape moves the body."),
    "measure.readings": N_("Readings that count"),
    "measure.withdraw": N_("Does not count"),
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
    "body.name": N_("Called"),
    "body.kind": N_("Which usual figures to check against"),
    "body.under": N_("Undergarment worn while measuring"),
    "body.under_example": N_("for example: the everyday bra"),
    "body.begin": N_("Begin measuring"),
    "body.change": N_("Keep this"),
    "body.everyday": N_("Everyday"),
    "body.corset": N_("In a corset"),
    "body.pads": N_("With pads"),
    # fields
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


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


def readings_text(count: int) -> str:
    """Return "one reading", "3 readings"."""
    return ngettext("{n} reading", "{n} readings", count).format(n=count)
