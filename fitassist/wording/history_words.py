# SPDX-License-Identifier: MIT
"""Readings through time, in words about the tape and the form; never about the body."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from fitassist.domain.form import Form
from fitassist.domain.tape_error import FACTOR, Day, LineHistory, Matter, TapeError
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, ngettext, plain
from fitassist.wording.lengths import say_length
from fitassist.wording.padding_words import place_text
from fitassist.wording.people_words import day_text, month_text
from fitassist.wording.places import dial_name

_TEXTS: Final[dict[str, str]] = {
    "heading": N_("Readings of {name} by day"),
    "why": N_(
        "Two days differ only where the tape differs by more than it does by itself. The later "
        "readings set the form once you say so."
    ),
    "list": N_("Lines and their readings"),
    "body": N_("Body"),
    "column.line": N_("Line"),
    "column.days": N_("By day, the last first"),
    "column.difference": N_("Last two days"),
    "column.matter": N_("Whether it matters"),
    "none": N_("Nothing has been measured yet."),
    "anew": N_("Measure this body anew"),
    "anew_done": N_(
        "From now on, a new reading of a line takes the place of the earlier ones; they stay here."
    ),
    "only_last": N_("Count only the last day"),
    "only_last_done": N_("Only the readings of the last day count now; the others stay here."),
    "one_day": N_("one day only"),
}
_MATTERS: Final[dict[Matter, str]] = {
    "within_tape": N_("as good as the same: within the tape's own error"),
    "may_be_tape": N_("may be the tape alone; measure once more"),
    "change": N_("a change: more than the tape's own error"),
    "unknown": N_("not known how far the tape is off here; repeat a reading to find out"),
}


def say(key: str, **values: object) -> str:
    """Return the sentence of a key; a text is made plain first. Raises KeyError for no such key."""
    said = _(_TEXTS[key])
    return said.format(**{k: plain(v, 120) for k, v in values.items()}) if values else said


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


def matter_text(matter: Matter) -> str:
    """Say whether two days differ."""
    return _(_MATTERS[matter])


def day_reading_text(day: Day, unit: AnyUnit) -> str:
    """Say what was read on a day: "4 March 2026: 29 1/4 in (2 readings)"."""
    when = day_text(day.day) if day.day else _("on an unknown day")
    length = say_length(day.mm, unit)
    if day.n < 2:
        return _("{day}: {length}").format(day=when, length=length)
    return ngettext(
        "{day}: {length} ({n} reading)", "{day}: {length} ({n} readings)", day.n
    ).format(day=when, length=length, n=day.n)


def difference_text(change_mm: float, unit: AnyUnit) -> str:
    """Say how far the last reading lies from the one before, as the tape tells it."""
    length = say_length(abs(change_mm), unit)
    if change_mm > 0:
        return _("the tape reads {length} more").format(length=length)
    if change_mm < 0:
        return _("the tape reads {length} less").format(length=length)
    return _("the same")


def tape_text(tape: TapeError | None, unit: AnyUnit) -> str:
    """Say how large a difference must be, and where that comes from."""
    if tape is None:
        return _(
            "For this kind of distance there are too few repeats of yours, and nothing published "
            "was found. Take the reading twice on one day, of a few people."
        )
    least = say_length(FACTOR * tape.least_mm, unit)
    most = say_length(FACTOR * tape.most_mm, unit)
    if tape.source == "own":
        return ngettext(
            "By {n} repeat of yours, two readings of the same length differ by up to {least}, "
            "nineteen times in twenty.",
            "By {n} repeats of yours, two readings of the same length differ by up to {least}, "
            "nineteen times in twenty.",
            tape.freedom,
        ).format(n=tape.freedom, least=least)
    return _(
        "Published repeats of waist, hip and neck girths (Barrios and others, 2016) differ, "
        "nineteen times in twenty, by no more than {least} at best and {most} at worst. "
        "Readings repeated on one day tell it of your own tape."
    ).format(least=least, most=most)


def touches_text(form: Form | None, line: str, places: Sequence[str]) -> str:
    """Say which dials and which padding a line has to do with; empty if neither."""
    said = []
    if form is not None:
        rows = {row.name for row in form.rows if row.line == line}
        dials = [dial_name(d.name, form) for d in form.dials if d.name.rpartition(".")[0] in rows]
        if dials:
            names = "; ".join(dials)
            said.append(_("Dials of {form}: {dials}.").format(form=plain(form.name), dials=names))
    if places:
        names = ", ".join(place_text(place) for place in places)
        said.append(_("Padding there: {places}.").format(places=names))
    return " ".join(said)


def detail_text(line: LineHistory, unit: AnyUnit, touches: str) -> str:
    """Say everything about one line, a sentence a line."""
    said = []
    if line.since_first_mm is not None:
        whole = difference_text(line.since_first_mm, unit)
        said.append(
            _("Since the first day {difference}: {matter}.").format(
                difference=whole, matter=matter_text(line.since_first)
            )
        )
    said.append(tape_text(line.tape, unit))
    if line.matter in ("change", "may_be_tape") and touches:
        said.append(touches)
    return "\n".join(said)


def reminder_text(last_measured: str, today: str, months: int = 6) -> str:
    """Say when somebody was last measured, if that is some months ago; else nothing.

    A day that lies ahead, by a clock set back since, is not spoken of.
    """
    try:
        then = int(last_measured[:4]) * 12 + int(last_measured[5:7])
        now = int(today[:4]) * 12 + int(today[5:7])
    except ValueError:
        return ""
    if now - then < months:
        return ""
    year_too = last_measured[:4] != today[:4]
    return _("Last measured in {month}.").format(month=month_text(last_measured, year_too))
