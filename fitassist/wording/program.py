# SPDX-License-Identifier: MIT
"""What the program says about itself: starting, opening what is open elsewhere, going wrong."""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_, _, plain

_TEXTS: Final[dict[str, str]] = {
    "demo": N_("Demo: nothing here is kept"),
    "demo_with_form": N_("Demo: nothing here is kept · {form}"),
    # starting
    "usage": N_(
        "usage: fitassist [--profile FOLDER]   open your own fittings, or those in a folder\n"
        "       fitassist FILE                 open the description of a form\n"
        "       fitassist --demo               look round; nothing is kept\n"
        "       fitassist --scripted ...       a fitting over standard input and output\n"
        "       fitassist --version"
    ),
    "argument_unknown": N_("Fitassist does not know what {text} means."),
    "argument_no_folder": N_("After --profile there must be the name of a folder."),
    "argument_twice": N_("{text} was given twice."),
    "demo_with_profile": N_(
        "--demo keeps nothing, so it cannot be combined with --profile. Leave one of them out."
    ),
    "no_screen": N_(
        "There is no screen here to open a window on. "
        "Start Fitassist inside a desktop session; over ssh, use ssh -X."
    ),
    "screen_silent": N_(
        "The screen named by DISPLAY={text} does not answer. "
        "Start Fitassist inside a desktop session; over ssh, use ssh -X."
    ),
    "profile_unusable": N_(
        "Fitassist cannot keep anything in the folder {text}. {why} "
        "Choose another one with --profile FOLDER."
    ),
    "profile_is_file": N_(
        "{text} is a file, not a folder. Choose a folder with --profile FOLDER; "
        "a new one is made if need be."
    ),
    "profile_open": N_(
        "Other users of this computer can look into the folder {text}: measurements kept there are "
        "not yours alone. Nothing is lost. Give the folder to yourself only, or choose another one "
        "with --profile FOLDER, unless it is meant to be shared."
    ),
    "parts_missing": N_(
        "A part of the program is missing or damaged ({text}). "
        "Set it up anew with: python3 packaging/run.py"
    ),
    "not_started": N_(
        "Fitassist could not go on because of a fault of its own. Everything kept so far is safe. "
        "Where it happened stands, without names and measurements, in {text}."
    ),
    # opening
    "look_only": N_("Only look"),
    "take_over": N_("Take over here"),
    "open_again": N_("Open it again"),
    "settings_damaged": N_(
        "The settings could not be read, so the usual ones are in use. The old file is kept beside."
    ),
    "settings_unreadable": N_("The settings could not be read, so the usual ones are in use."),
    "journal_aside": N_(
        "Some of the last entries of this record could not be read. What could is here; the rest "
        "is kept beside the record in {text}."
    ),
    "form_not_kept": N_("Where the dials stand could not be kept with the form. {why}"),
    "form_elsewhere": N_(
        "The form's dials have been moved since this fitting was left. Set them back to the "
        "numbers of this fitting before going on, or begin a new fitting."
    ),
    # a fitting
    "under_way": N_("A fitting is under way for this person. Go on with it, or begin a new one?"),
    "go_on": N_("Go on with it"),
    "begin_anew": N_("Begin a new one"),
    # going wrong
    "wrong": N_("Something went wrong"),
    "wrong_text": N_(
        "Something went wrong inside the program. Every answer given so far is on disk. You can "
        "go on; if what you see looks odd, close the window and open it again."
    ),
    "wrong_details": N_("The details hold no names and no measurements."),
    "copy_details": N_("Copy details"),
    "wrong_go_on": N_("Go on"),
}


def say(key: str, **values: object) -> str:
    """Return the sentence of a key; a text is made plain first.

    Raises
    ------
    KeyError
        No such sentence.
    """
    said = _(_TEXTS[key])
    if not values:
        return said
    return said.format(**{k: plain(v, 200) for k, v in values.items()})


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)
