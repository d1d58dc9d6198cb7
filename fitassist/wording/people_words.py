# SPDX-License-Identifier: MIT
"""Many people: the list, bringing in and taking out, taking together, earlier states, copies."""

from __future__ import annotations

from typing import Final

from fitassist.errors import FitError
from fitassist.wording.language import N_, _, ngettext, plain
from fitassist.wording.sentences import sentence

_TEXTS: Final[dict[str, str]] = {
    # the list
    "search": N_("Search by name or tag"),
    "column.name": N_("Name"),
    "column.tags": N_("Tags"),
    "column.measured": N_("Last measured"),
    "column.fitted": N_("Last fitted"),
    "column.fitting": N_("Fitting"),
    "under_way": N_("under way"),
    "finished": N_("finished"),
    "unreadable": N_("cannot be read"),
    "which": N_("Which people"),
    "which.in_use": N_("In use"),
    "which.away": N_("Not in use"),
    "which.all": N_("All"),
    "reading": N_("Reading the records: {done} of {all}"),
    "counted": N_("{shown} of {all}"),
    "bring_in": N_("Bring in a table…"),
    "take_out_all": N_("Take all out…"),
    # one person
    "history": N_("History…"),
    "nobody": N_("Choose somebody in the list."),
    "measured_on": N_("Last measured {day}"),
    "never_measured": N_("Not measured yet"),
    "fitted_on": N_("Last fitted {day}: {state}"),
    "never_fitted": N_("Not fitted yet"),
    "tags": N_("Tags, with commas between"),
    "keep_tags": N_("Keep the tags"),
    "put_away": N_("Put away"),
    "bring_back": N_("Bring back"),
    "put_away_why": N_("Put away, a person is left out of the daily list; nothing is removed."),
    "copy": N_("Duplicate…"),
    "copy_first": N_("{name} (copy)"),
    "copy_make": N_("Make the copy"),
    "copy_why": N_("Bodies, readings, notes and tags are copied; fittings stay with the first."),
    "together": N_("Take together…"),
    "states": N_("Earlier states…"),
    "take_out": N_("Take out…"),
    "back": N_("Back to the list"),
    "copies_here": N_("Another version of this record lies beside it: {n}."),
    "copies_look": N_("Look at them side by side"),
    "holds": N_("A second record was taken into this one; it is kept until you say so."),
    "holds_confirm": N_("Right: remove the second"),
    "holds_apart": N_("Take apart again"),
    "apart_done": N_("There are two records again. What was entered since is an earlier state."),
    "confirm_done": N_("The second record is removed."),
    # taking together
    "together.heading": N_("Two records, one person"),
    "together.why": N_(
        "Everything in the second record is added to {name}. Nothing is lost: both stay as they "
        "were, until you confirm."
    ),
    "together.choose": N_("The second record"),
    "together.make": N_("Take them together"),
    "together.name": N_("The name stays {name}; {other} is put into the notes."),
    "together.bodies": N_("One body from now on: {names}"),
    "together.added": N_("Bodies that come along: {names}"),
    "together.comes": N_("Comes along: {what}"),
    "together.same": N_("In both already: {what}"),
    "together.nothing": N_("Choose the second record in the list."),
    "also_named": N_("Also kept as: {name}"),
    # earlier states
    "states.heading": N_("Earlier states of {name}"),
    "states.why": N_(
        "Going back puts an earlier state in the place of the present one. The present one becomes "
        "an earlier state itself, so that you can come back."
    ),
    "states.none": N_("There are no earlier states yet. Each change of a record leaves one."),
    "states.restore": N_("Go back to this"),
    "states.restored": N_("{name} is as of {day} again. What was there before is now the newest."),
    "states.list": N_("Earlier states"),
    "states.changed": N_("Last entry"),
    "states.holds": N_("What it holds"),
    "states.kept": N_("Kept on"),
    # copies in conflict
    "copies.heading": N_("Versions of {name} side by side"),
    "copies.why": N_(
        "Two computers changed this record at once, and the program that copies files between them "
        "kept both. Whatever you choose, the other version becomes an earlier state."
    ),
    "copies.list": N_("Versions beside the record"),
    "copies.here": N_("This record"),
    "copies.other": N_("The other version"),
    "copies.file": N_("File"),
    "copies.differ": N_("Where they differ"),
    "copies.keep": N_("Keep this record"),
    "copies.use": N_("Use the other version"),
    "copies.both": N_("Take both together"),
    "copies.settled": N_("Settled. The version not used is an earlier state now."),
    "copies.fitting": N_(
        "One fitting was gone on with on both computers. The form stands as only one of them says: "
        "compare the numbers beside its dials before you choose. Both stay kept."
    ),
    "copies.same": N_("Everything in the other version is in this record too."),
    "copies.reading": N_("{measurement} ({body})"),
    "copies.column.line": N_("Reading"),
    "none_here": N_("none"),
    # taking out
    "out.heading": N_("Take people out"),
    "out.one": N_("Only {name}"),
    "out.all": N_("All people"),
    "out.whom": N_("Whom"),
    "out.kind": N_("As"),
    "out.csv": N_("Table (CSV)"),
    "out.json": N_("JSON"),
    "out.csv_why": N_(
        "One row for each body with what counts now, for spreadsheets. Cells that a spreadsheet "
        "could take for a formula get an apostrophe in front."
    ),
    "out.json_why": N_("Every body with all its readings, for programs; lengths in mm."),
    "out.names": N_("With names, tags and notes"),
    "out.make": N_("Choose a file and write"),
    "out.done": N_("{n} written to {file}."),
    "out.failed": N_("{name} could not be read and is left out."),
    "out.progress": N_("{done} of {all}"),
    "out.stop": N_("Stop"),
    "out.stopped": N_("Stopped; nothing was written."),
    "out.numbered": N_("Person {n}"),
    "head.name": N_("Name"),
    "head.tags": N_("Tags"),
    "head.notes": N_("Notes"),
    "head.body": N_("Body"),
    "head.undergarment": N_("Undergarment"),
    "head.date": N_("Date"),
}


def say(key: str, **values: object) -> str:
    """Return the sentence of a key; a text is made plain first. Raises KeyError for no such key."""
    said = _(_TEXTS[key])
    return said.format(**{k: plain(v, 120) for k, v in values.items()}) if values else said


def keys() -> tuple[str, ...]:
    """Return every key there is a sentence for."""
    return tuple(_TEXTS)


_MONTHS = (
    N_("January"),
    N_("February"),
    N_("March"),
    N_("April"),
    N_("May"),
    N_("June"),
    N_("July"),
    N_("August"),
    N_("September"),
    N_("October"),
    N_("November"),
    N_("December"),
)


def month_text(day: str, with_year: bool = True) -> str:
    """Return the month of YYYY-MM-DD in words: "March 2026"; the text itself if it is no day."""
    try:
        year, month = int(day[:4]), int(day[5:7])
        name = _(_MONTHS[month - 1]) if month >= 1 else ""
    except (ValueError, IndexError):
        name, year = "", 0
    if not name:
        return day or _("on an unknown day")
    return _("{month} {year}").format(month=name, year=year) if with_year else name


def day_text(day: str) -> str:
    """Return YYYY-MM-DD in words: "4 March 2026"."""
    if len(day) < 10 or not day[8:10].isdigit():
        return month_text(day)
    return _("{day} {month}").format(day=int(day[8:10]), month=month_text(day))


def moment_text(at: str) -> str:
    """Return a time, UTC, ISO 8601, as day and time: "4 March 2026, 10:42 UTC"."""
    if len(at) < 16:
        return day_text(at[:10])
    return _("{day}, {time} UTC").format(day=day_text(at[:10]), time=at[11:16])


def held_text(error: FitError) -> str:
    """Say where a record is open, as far as its lock tells; else the usual sentence."""
    host, user = error.values.get("host"), error.values.get("user")
    if error.code != "open_elsewhere" or not host:
        return sentence(error)
    where = _("This record is open on the computer {host}, by {user}.") if user else _(
        "This record is open on the computer {host}."
    )  # fmt: skip
    rest = _("It can be looked at; nothing can be added here. Close it there to go on here.")
    return f"{where.format(host=plain(host, 40), user=plain(user, 40))} {rest}"


def people_text(n: int) -> str:
    """Return a number of people: "1 person", "14 people"."""
    return ngettext("{n} person", "{n} people", n).format(n=n)


def readings_text(n: int) -> str:
    """Return a number of readings."""
    return ngettext("{n} reading", "{n} readings", n).format(n=n)


def fittings_text(n: int) -> str:
    """Return a number of fittings."""
    return ngettext("{n} fitting", "{n} fittings", n).format(n=n)


def bodies_text(n: int) -> str:
    """Return a number of bodies."""
    return ngettext("{n} body", "{n} bodies", n).format(n=n)


def holds_text(n_bodies: int, n_readings: int, n_fittings: int) -> str:
    """Say what a state of a record holds: "1 body, 12 readings, 2 fittings"."""
    return ", ".join((bodies_text(n_bodies), readings_text(n_readings), fittings_text(n_fittings)))
