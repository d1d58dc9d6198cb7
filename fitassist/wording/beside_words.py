# SPDX-License-Identifier: MIT
"""What is said in the view that is read from beside the form, and answered by numbered keys.

``say(key, **values)`` gives a sentence of the table; the functions put a step into its few words.
"""

from __future__ import annotations

from typing import Final

from fitassist.domain.form import Form
from fitassist.domain.steps import Instruction, SetDials
from fitassist.domain.units import AnyUnit
from fitassist.wording.fitting_words import number_cells
from fitassist.wording.instructions import group_name, groups
from fitassist.wording.language import N_, _, ngettext, plain
from fitassist.wording.numbers import number_text

_TEXTS: Final[dict[str, str]] = {
    "view": N_("Beside the form"),
    "private": N_("Private view: no measure of the body is shown or spoken"),
    # what a key does
    "key_done": N_("done"),
    "key_apart": N_("marks do not meet"),
    "key_overlap": N_("marks overlap"),
    "key_skip": N_("skip"),
    "key_undo": N_("undo"),
    "key_again": N_("say again"),
    "key_else": N_("something else, all keys"),
    "key_dials": N_("not all dials stand so"),
    "key_type": N_("type the reading"),
    "key_take": N_("take it"),
    "key_erase": N_("erase"),
    "key_gap": N_("gap: 38+5/8"),
    "key_star": N_("eighths: 38*5 is 38 5/8"),
    "key_back": N_("go back"),
    "key_choose": N_("choose"),
    "key_new": N_("begin another fitting"),
    "cap_enter": N_("Enter"),
    "cap_backspace": N_("Backspace"),
    "cap_digits": N_("0-9"),
    "keys": N_("Keys"),
    # numbered answers
    "else_title": N_("Something else"),
    "else_reading": N_("I measured another line"),
    "else_dial": N_("I turned a dial"),
    "else_free": N_("A dial turns again"),
    "else_dials": N_("Not all dials stand as asked"),
    "else_private": N_("Private view"),
    "else_open": N_("Show measures again"),
    "else_end": N_("End the fitting here"),
    "else_leave": N_("Leave this view"),
    "else_new": N_("Begin another fitting"),
    "end_title": N_("End the fitting here?"),
    "end_yes": N_("End here"),
    "more": N_("more"),
    "which_line": N_("Where did you measure?"),
    "which_row": N_("A dial of which row?"),
    "which_dial": N_("Which dial?"),
    "which_free": N_("Which dial turns again?"),
    "odd_title": N_("Which dial does not stand as asked?"),
    "odd_done": N_("done, but for these"),
    "odd_why": N_("{dial}: what happened?"),
    "odd_stopped": N_("It stopped at a number"),
    "odd_stuck": N_("It is stuck"),
    "odd_skipped": N_("I left it"),
    "odd_there": N_("It stands as asked after all"),
    "odd_as": N_("{dial}: {why}"),
    "odd_at": N_("{dial}: {why} {number}"),
    # typing
    "tape_reads": N_("the tape reads"),
    "apart_by": N_("do not meet, by (0: they meet)"),
    "overlap_by": N_("overlap, by (0: they meet)"),
    "stands_at": N_("it stands at"),
    "empty_is": N_("Enter alone: it has not moved from {number}."),
    "empty_is_private": N_("Enter alone: it has not moved."),
    "hidden": N_("What is typed is not shown."),
    "from_to": N_("{dials}: {action}, from {start} to"),
    "one_from_to": N_("{action}, from {start} to"),
    "open": N_("open"),
    "close": N_("close"),
    # what is said back
    "type_first": N_("Type what the tape reads, then Enter."),
    "no_key": N_("That key does nothing here; {other} shows all keys."),
    "only_tape": N_("That key is for the ribbon, when a line is measured."),
    "no_undo": N_("There is nothing to take back."),
    "no_skip": N_("This cannot be passed over; please choose."),
    "at_end": N_("Nothing more is asked. {other} shows what else there is."),
    "not_aloud": N_("Spoken steps are off: the settings turn them on."),
    "no_voice": N_("No voice was found on this computer; steps are not spoken."),
    "progress": N_("{good} of {all} lines good"),
    "keys_clash": N_(
        "The keys that were kept had two meanings or are on no numeric pad; the usual ones are in "
        "use. Choose again what you want otherwise."
    ),
    "key_taken": N_("{other} is used already: {action}. Give that another key first."),
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


def cap(key: str) -> str:
    """Return what stands on a key."""
    return say(f"cap_{key}") if f"cap_{key}" in _TEXTS else key


def beside_cells(step: Instruction, form: Form, unit: AnyUnit) -> list[tuple[str, str]]:
    """Return what stands largest: of a set only where to, its start in the words above it."""
    if not isinstance(step, SetDials):
        return number_cells(step, form, unit)
    found = groups(step.turns, form)
    cells = []
    for group, usual in zip(found, number_cells(step, form, unit), strict=True):
        turn, dial = group[0], form.dial(group[0].dial)
        if dial is not None and not dial.readable:
            cells.append(usual)
            continue
        action, start = say(turn.action), number_text(turn.start, form)
        label = (
            say("from_to", dials=group_name(group), action=action, start=start)
            if len(found) > 1
            else say("one_from_to", action=action, start=start)
        )
        cells.append((label, number_text(turn.number, form)))
    return cells


def progress_text(good: int, lines: int, readings: int, turns: int) -> str:
    """Return how far a fitting has come: lines that are good, readings taken, turns made."""
    return "\n".join(
        (
            say("progress", good=good, all=lines),
            ngettext("{n} reading", "{n} readings", readings).format(n=readings),
            ngettext("{n} turn of a dial", "{n} turns of dials", turns).format(n=turns),
        )
    )
