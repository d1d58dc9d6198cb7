# SPDX-License-Identifier: MIT
"""The page on which forms on offer are compared before one is bought, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from fitassist.choosing.candidate import Candidate, Range
from fitassist.choosing.covering import Cover
from fitassist.choosing.judging import BodyJudged, Judged, LineJudged
from fitassist.choosing.table import Complaint
from fitassist.domain.units import AnyUnit
from fitassist.wording.choice_words import reason_text
from fitassist.wording.language import N_, _, capital, ngettext, plain
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.places import line_name
from fitassist.wording.sentence_table import WHYS

_WORDS: Final = {
    "open": N_("Choose a form to buy…"),
    "heading": N_("Which form to buy"),
    "back": N_("Back to your forms"),
    "why": N_(
        "Enter what boxes and shops say. Closed, a form must be no larger than the body: dials and "
        "padding add, nothing takes away."
    ),
    "whom": N_("For whom"),
    "whom_none": N_("Nobody has been measured yet."),
    "search": N_("Search by name"),
    "needs": N_("What it has to allow"),
    "need.trousers": N_("Trousers go on"),
    "need.pins": N_("It takes pins"),
    "need.waist_shifts": N_("Its waist can be moved"),
    "shoes": N_("Height of the shoes"),
    "offers": N_("Forms, the best first"),
    "none": N_("No form on offer is entered yet."),
    "own": N_("Compare my own forms too"),
    "yours": N_("{name} (yours)"),
    "add": N_("Enter a form…"),
    "change": N_("Change…"),
    "remove": N_("Remove"),
    "removed": N_("{name} is removed from the list."),
    "put_back": N_("Put back"),
    "bring_in": N_("Bring in a table…"),
    "file_kinds": N_("Tables (*.csv *.tsv *.txt)"),
    "nobody": N_("Tick somebody to see what each form could do for them."),
    "place": N_("{number}. {name}"),
    "picture": N_("From closed to fully open, and where the bodies are"),
    "cover.heading": N_("The fewest forms that serve everybody"),
    "cover.for": N_("{form}: {people}"),
    "cover.nobody": N_("None of these forms serves {people}."),
    "cover.many": N_("This is worked out for up to {most} forms at a time."),
    "complaints.more": N_("and {n} more"),
    "editor.unfinished": N_("What was entered is not kept yet."),
    "editor.go_on": N_("Go on with it"),
    "editor.new": N_("A form on offer"),
    "editor.name": N_("What it is called"),
    "editor.made_for": N_("Made for"),
    "editor.post": N_("Its pole"),
    "editor.pins": N_("Takes pins"),
    "editor.waist_shifts": N_("Waist can be moved"),
    "editor.closed": N_("Closed"),
    "editor.open": N_("Fully open"),
    "editor.hint": N_(
        "Leave empty what is not said. Where nothing turns, the first number is enough."
    ),
    "editor.keep": N_("Keep this form"),
    "editor.leave": N_("Not now"),
    "editor.name_missing": N_("It needs a name. Nothing has been kept yet."),
    "editor.order": N_("Fully open must be no less than closed."),
    "editor.closed_missing": N_("Enter what it measures closed as well."),
    "made_for.woman": N_("Women"),
    "made_for.man": N_("Men"),
    "made_for.child": N_("Children"),
    "made_for.legs": N_("Legs"),
    "made_for.any": N_("Anybody"),
    "post.centre": N_("In the middle"),
    "post.offset": N_("Offset"),
    "post.hanging": N_("None, it hangs"),
    "post.unknown": N_("Not said"),
    "known.yes": N_("Yes"),
    "known.no": N_("No"),
    "known.unknown": N_("Not said"),
    "not_said": N_("not said"),
    "made_for_other": N_("It is made for a body of another kind."),
    "not_said_needs": N_("Not said of it: {needs}."),
    "height": N_("Height with shoes"),
    "column.line": N_("Line"),
    "column.range": N_("The form"),
    "column.body": N_("The body"),
    "column.outcome": N_("What that means"),
}
_NEEDS: Final = {
    "trousers": N_("whether trousers go on"),
    "pins": N_("whether it takes pins"),
    "waist_shifts": N_("whether its waist can be moved"),
}
# The shape comes first, so that an outcome is told by more than its colour.
_SHAPES: Final = {"reached": "●", "padded": "◐", "short": "○", "too_large": "✕", "unsaid": "–"}
_OUTCOMES: Final = {
    "reached": N_("reached"),
    "padded": N_("{by} left to padding"),
    "short": N_("{by} short; no padding makes it longer"),
    "too_large": N_("{by} too large, even closed"),
    "unsaid": N_("not said of this form"),
}
_TOO_LONG: Final = N_("{by} too long, even at its shortest")


def say(key: str, **values: object) -> str:
    """Return words of the page."""
    return _(_WORDS[key]).format(**{k: plain(str(v), 400) for k, v in values.items()})


def keys() -> tuple[str, ...]:
    """Return every key there are words for."""
    return tuple(_WORDS)


def shape(outcome: str) -> str:
    """Return the sign of an outcome."""
    return _SHAPES[outcome]


def outcome_text(line: LineJudged, unit: AnyUnit) -> str:
    """Say what a range means for one body."""
    too_long = line.is_length and line.outcome == "too_large"
    said = _(_TOO_LONG if too_long else _OUTCOMES[line.outcome])
    return f"{shape(line.outcome)} {said.format(by=say_amount(line.by_mm, unit))}"


def range_text(found: Range | None, unit: AnyUnit) -> str:
    """Say a range, or one length where nothing turns."""
    if found is None:
        return say("not_said")
    if not found.turns:
        return say_length(found.least_mm, unit)
    least = say_length(found.least_mm, unit).removesuffix(f" {unit}")  # said once, at the end
    return _("{least} to {greatest}").format(
        least=least, greatest=say_length(found.greatest_mm, unit)
    )


def served_text(one: Judged) -> str:
    """Say how many of the bodies a form serves."""
    many = len(one.bodies)
    return ngettext("serves {n} of {many} body", "serves {n} of {many} bodies", many).format(
        n=len(one.served), many=many
    )


def reason_of(one: Judged, unit: AnyUnit) -> str:
    """Say in one line why a form has its place."""
    worst = one.worst
    if worst is None:
        return reason_text(one.reason, unit)
    body, line = worst
    return reason_text(one.reason, unit, line.line, line.by_mm, body.body, line.is_length)


def remarks(one: Judged) -> tuple[str, ...]:
    """Say what else is to be known of a form: what is not said, and for whom it is made."""
    found = []
    if one.unsaid:
        found.append(say("not_said_needs", needs=", ".join(_(_NEEDS[name]) for name in one.unsaid)))
    if any(body.is_made_for_other for body in one.bodies):
        found.append(say("made_for_other"))
    return tuple(found)


def rows_of(body: BodyJudged, unit: AnyUnit) -> list[tuple[str, str, str, str]]:
    """Return line, range, body and outcome for every line of one body, the height last."""
    lines = [*body.lines, *([body.height] if body.height is not None else [])]
    return [
        (
            say("height") if line is body.height else capital(line_name(line.line)),
            range_text(line.range, unit),
            say_length(line.target_mm, unit),
            outcome_text(line, unit),
        )
        for line in lines
    ]


def cover_text(cover: Cover, names: Sequence[str], people: Sequence[str]) -> tuple[str, ...]:
    """Say which forms to have and whom each serves."""
    said = []
    for form in cover.chosen:
        whom = [people[i] for i, one in enumerate(cover.of_body) if one == form]
        said.append(say("cover.for", form=names[form], people=", ".join(whom)))
    if cover.unserved:
        whom = [people[i] for i in cover.unserved]
        said.append(say("cover.nobody", people=", ".join(whom)))
    return tuple(said)


def brought_in_text(count: int, passed_over: Sequence[str]) -> str:
    """Say how many forms a table brought, and which columns meant nothing."""
    said = ngettext("{n} form was brought in.", "{n} forms were brought in.", count).format(n=count)
    if passed_over:
        left = ", ".join(plain(column) for column in passed_over)
        said += " " + _("Columns left out: {columns}.").format(columns=left)
    return said


def complaint_text(one: Complaint) -> str:
    """Say which cell could not be understood, and why."""
    why = WHYS.get(one.code)
    if why is None:
        said = _("Row {row}, {column}: “{text}” is no length or range and was left out.")
    else:
        said = _("Row {row}, {column}: “{text}” was left out; it {why}.")
    return said.format(
        row=one.row,
        column=plain(one.column),
        text=plain(one.text),
        why=_(why) if why else "",
    )


def name_of(candidate: Candidate, is_own: bool) -> str:
    """Return what a form is called in the list, and whether it is one's own."""
    return say("yours", name=candidate.name) if is_own else plain(candidate.name)


def body_name(person: str, body: str) -> str:
    """Return how one body of a person is called; an empty body: the only one."""
    if not body:
        return plain(person)
    return _("{person}, {body}").format(person=plain(person), body=plain(body))
