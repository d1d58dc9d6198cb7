# SPDX-License-Identifier: MIT
"""What a form has taught, for whom it was set last, and what it remembers of single dials."""

from __future__ import annotations

from typing import Final

from fitassist.domain.form import Dial, Form
from fitassist.domain.form_memory import LastFitted
from fitassist.domain.taught import TaughtRow
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, capital, ngettext, plain, with_decimals
from fitassist.wording.lengths import say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.people_words import day_text, month_text
from fitassist.wording.places import dial_name, row_name

_TEXTS: Final[dict[str, str]] = {
    "fold": N_("What this form has taught"),
    "for_whom": N_("For whom it was set last"),
    "nobody": N_("It was not set for anybody yet."),
    "scales": N_("How much the dials give"),
    "lessons": N_("Teach it by a few readings…"),
    "nothing": N_("Nothing yet. Each girth read in a fitting teaches how this form opens."),
    "off": N_(
        "That is surely more than 15 % off what is printed. Fittings go by what was measured."
    ),
    "forget": N_("Forget what it has taught"),
    "forget_why": N_(
        "All readings of past fittings on this form are left out for good; the next fitting takes "
        "more readings. The records of people and the girths noted with the form stay."
    ),
    "forget_yes": N_("Forget it"),
    "forget_no": N_("Keep it"),
    "dials": N_("Dials that would not turn"),
    "no_dials": N_("None. All dials turned as far as they were asked to."),
    "again": N_("It turns again"),
    "notes": N_("Your notes on single dials"),
    "copy": N_("Make a copy of this form"),
    "copy_learned": N_("The copy knows what this form has taught"),
    "copy_why": N_("Two forms of one kind open differently; as a rule each learns for itself."),
}


def say(key: str) -> str:
    """Return the sentence of a key. Raises KeyError for no such key."""
    return _(_TEXTS[key])


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


def row_text(row: TaughtRow, form: Form, unit: AnyUnit) -> str:
    """Say how much a row gives: "... about 0.9 of what they print, from 23 readings, ..."."""
    name = row_name(row.row, form)
    if row.turn_mm is None:
        said = _("The {row} dials give about {gain} of what they print, {source}.")
    else:
        said = _("One turn of all {row} dials gives about {length}, {source}.")
    length = say_length(row.turn_mm or 0.0, unit)
    gain = with_decimals(row.gain, 2 if abs(row.gain - 1) < 0.05 else 1)
    return capital(said.format(row=name, gain=gain, length=length, source=_source(row)))


def _source(row: TaughtRow) -> str:
    """Say what it rests on: "from 23 readings, the last in March 2026"."""
    said = ngettext("from {n} reading", "from {n} readings", row.readings)
    if row.last_at:
        said = ngettext(
            "from {n} reading, in {month}", "from {n} readings, the last in {month}", row.readings
        )
    return said.format(n=row.readings, month=month_text(row.last_at[:10]))


def wearer_text(last: LastFitted, name: str | None, form: Form) -> str:
    """Say for whom a form was set last; a name of None: the record is not there any more."""
    who = plain(name) if name else _("somebody whose record is not here")
    day = day_text(last.at[:10]) if last.at else _("an unknown day")
    if not last.finished:
        said = _("Being set for {who} since {day}; that fitting has not come to its end.")
    elif last.still_stands(form.numbers()):
        said = _("Set for {who} since {day}.")
    else:
        said = _("Set for {who} on {day}; dials were turned since.")
    return said.format(who=who, day=day)


def met_text(dial: Dial, form: Form) -> str:
    """Say what a fitting met at a dial; an empty text where it turned as asked."""
    parts = []
    if dial.stuck:
        parts.append(_("would not turn"))
    if dial.stopped_above is not None:
        number = number_text(dial.stopped_above, form)
        parts.append(_("would not open beyond {number}").format(number=number))
    if dial.stopped_below is not None:
        number = number_text(dial.stopped_below, form)
        parts.append(_("would not close beyond {number}").format(number=number))
    if not parts:
        return ""
    return _("{dial}: {what}").format(
        dial=capital(dial_name(dial.name, form)), what=", ".join(parts)
    )


def copy_name(name: str) -> str:
    """Return what a copy of a form is called."""
    return _("{name} (copy)").format(name=plain(name, 50))
