# SPDX-License-Identifier: MIT
"""What stands on the fitting page beside the instruction itself: buttons, states, short numbers.

``say(key, **values)`` gives a sentence of the table; the functions put a view into words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.steps import (
    Ask,
    Check,
    Finished,
    Instruction,
    LineResult,
    Measure,
    SetDials,
    Turn,
)
from fitassist.domain.units import AnyUnit, Unit
from fitassist.wording.instructions import group_name, groups, title
from fitassist.wording.language import N_, _, capital, clicks_text, plain
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.places import line_name, place_name, row_name
from fitassist.wording.questions import choice

_TEXTS: Final[dict[str, str]] = {
    "page": N_("Fitting"),
    "empty": N_(
        "No fitting has begun. Choose a person and a form; the first step then stands here, large "
        "enough to be read from where you work."
    ),
    "empty_go": N_("Choose a form"),
    "getting_ready": N_("Getting ready…"),
    "getting_ready_why": N_("The first plan is being worked out; this takes a moment."),
    "not_ready": N_("The fitting could not begin."),
    "try_again": N_("Try again"),
    # answers
    "done": N_("Done (Enter)"),
    "choose_first": N_("{words} (Enter)"),
    "take": N_("Take it (Enter)"),
    "skip": N_("Skip"),
    "undo": N_("Undo"),
    "else": N_("Something else…"),
    "leave": N_("End here"),
    "exceptions": N_("Not all dials…"),
    "back": N_("Back"),
    "tape_reads": N_("The tape reads"),
    "ribbon": N_("Ribbon…"),
    "ribbon_apart": N_("Marks do not meet: form too large"),
    "ribbon_overlap": N_("Marks overlap: form too small"),
    "ribbon_meet": N_("Marks meet"),
    "ribbon_by": N_("by"),
    "ribbon_ask": N_("What the ribbon's marks do"),
    "ribbon_hint": N_(
        "A ribbon that does not stretch, marked at the length wanted, goes round in place of the "
        "tape."
    ),
    "new_fitting": N_("Begin another fitting"),
    "go_on_padding": N_("Go on with padding"),
    "measure_on": N_("Keep measuring anyway…"),
    # what is not as asked
    "exceptions_title": N_("Dials that do not stand where asked"),
    "why": N_("{dial}: how it stands"),
    "why_there": N_("as asked"),
    "why_stopped": N_("stopped at"),
    "why_stuck": N_("stuck at"),
    "why_skipped": N_("left at"),
    "why_hint": N_(
        "Stopped: it went no further, but may go back. Stuck: it does not turn at all, and plans "
        "go on without it. Left: you did not turn it, or not so far."
    ),
    "number_of": N_("Number where {dial} stands"),
    "number_range": N_("This dial goes from {least} to {greatest}."),
    "exceptions_done": N_("Done, but for these (Enter)"),
    # what nobody asked for
    "volunteer_title": N_("Something you did or saw"),
    "volunteer_kind": N_("What it is"),
    "volunteer_reading": N_("I measured"),
    "volunteer_dial": N_("I turned a dial"),
    "volunteer_free": N_("A dial turns again"),
    "volunteer_line": N_("Where"),
    "volunteer_which": N_("Which dial"),
    "volunteer_to": N_("It stands at now"),
    "volunteer_reads": N_("It reads"),
    "volunteer_free_it": N_("It turns again (Enter)"),
    "volunteer_stuck": N_("{dial} is stuck; the plan goes on without it."),
    # behind the instruction
    "next": N_("Next"),
    "next_none": N_("Nothing follows yet: it depends on this answer."),
    "next_done": N_("Nothing more is asked."),
    "never": N_("What this form cannot do"),
    "never_hide": N_("Put away"),
    "never_show": N_("What this form cannot do for this body"),
    "symmetry": N_("{row}: left stands at {left}, right at {right}."),
    "reordered": N_("The order has changed: {place} comes first now."),
    "stuck_again": N_("It turns again"),
    "step": N_("Step"),
    "sections": N_("Sections"),
    "lines": N_("Lines"),
    "lower": N_("What is shown below"),
    "chances": N_("Show chances"),
    "assumed": N_("Seen from above: ellipses of the right girth. The shape is only assumed."),
    "beside": N_("Beside the form (F11)"),
    "private": N_("Private (F9)"),
    "front": N_("front"),
    "back_side": N_("back"),
    "body": N_("body"),
    "form": N_("form"),
    # columns
    "col_line": N_("Line"),
    "col_state": N_("State"),
    "col_target": N_("Target"),
    "col_read": N_("Last reading"),
    "col_to_go": N_("Still to go"),
    "col_tolerance": N_("Tolerance"),
    "col_chance": N_("Chance"),
    "col_spread": N_("Spread"),
    "col_why": N_("To measure?"),
    "not_read": N_("none"),
    "unknown": N_("not known"),
    "by_padding": N_("by padding"),
}

_STATES: Final = {
    "good": N_("good"),
    "measure_again": N_("measure again"),
    "not_yet": N_("not yet"),
    "out_of_reach": N_("out of reach"),
}
# A shape for each state, so that none is told by colour alone.
_SHAPES: Final = {"good": "●", "measure_again": "◐", "not_yet": "○", "out_of_reach": "◇"}

SURE = 0.9  # chance from which a line that was left may be called good
_IN_CM_MM = 19.5  # from here an amount is said in cm, as in `say_amount`
_NOTHING_MM = 0.8  # less than half of 1/16 in: no tape shows it


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


def state_text(state: str) -> str:
    """Return the state of a line in words."""
    return _(_STATES[state])


def state_shape(state: str) -> str:
    """Return the shape that stands for a state beside its words."""
    return _SHAPES[state]


def amounts_unit(amounts_mm: Iterable[float | None], unit: AnyUnit) -> AnyUnit:
    """Return the unit in which amounts beside each other are all said.

    Whoever reads cm is told small amounts in mm; where one of them is 2 cm or more, all are in cm.
    """
    said = [abs(mm) for mm in amounts_mm if mm is not None]
    if unit != Unit.CM or max(said, default=0.0) >= _IN_CM_MM:
        return unit
    return Unit.MM


def to_go_text(to_go_mm: float | None, unit: AnyUnit, *, beside: AnyUnit | None = None) -> str:
    """Return how far a line still has to go: ``3/8 in to go``, ``stands out 1/4 in``.

    `beside` is what `amounts_unit` gave where several stand beside each other.
    """
    if to_go_mm is None:
        return _("not known")
    if abs(to_go_mm) < _NOTHING_MM:
        return _("at its target")
    pattern = _("{amount} to go") if to_go_mm > 0 else _("stands out {amount}")
    in_cm = beside == Unit.CM and unit == Unit.CM
    amount = say_length(abs(to_go_mm), unit) if in_cm else say_amount(to_go_mm, unit)
    return pattern.format(amount=amount)


def section_text(
    state: str, to_go_mm: float | None, unit: AnyUnit, *, beside: AnyUnit | None = None
) -> str:
    """Return what is written in the middle of a section: a state, or the way still to go."""
    if state in ("good", "measure_again"):
        return state_text(state)
    return to_go_text(to_go_mm, unit, beside=beside)


def tolerance_text(tolerance_mm: tuple[float, float], unit: AnyUnit) -> str:
    """Return how far off a line may end, in words: ``1/4 in either way``."""
    below, above = abs(tolerance_mm[0]), abs(tolerance_mm[1])
    if abs(below - above) < _NOTHING_MM / 4:
        return _("{amount} either way").format(amount=say_amount(above, unit))
    return _("{below} under, {above} over").format(
        below=say_amount(below, unit), above=say_amount(above, unit)
    )


def chance_text(chance: float | None) -> str:
    """Return a chance as a whole percentage, never as certainty."""
    if chance is None:
        return _("not known")
    if chance > 0.995:
        return _("over 99 %")
    return _("under 1 %") if chance < 0.005 else f"{100.0 * chance:.0f} %"


def choice_text(ask: Ask, name: str) -> str:
    """Return the words on the button of one choice."""
    return choice(name, ask.code)


def coming_title(kind: str, place: str, values: Mapping[str, object], form: Form) -> str:
    """Return one of the next things, short: ``Measure the waist``, ``Set the hip to 38 1/2``."""
    if kind == "measure":
        return _("Measure the {line}").format(line=line_name(place))
    if kind == "check":
        return title(Check(id=0, code=place), form, form.units)
    if not place:
        return _("Set dials")
    row, numbers = row_name(place, form), values.get("numbers")
    if isinstance(numbers, dict) and len(set(numbers.values())) == 1:
        number = number_text(float(next(iter(numbers.values()))), form)
        return _("Set the {row} to {number}").format(row=row, number=number)
    return _("Set the {row}").format(row=row)


def short_title(step: Instruction, form: Form, unit: AnyUnit) -> str:
    """Return what stands above the number; the number itself is in `number_cells`."""
    if not isinstance(step, SetDials):
        return title(step, form, unit)
    row = capital(row_name(step.row, form))
    found = groups(step.turns, form)
    text = f"{row}, {group_name(found[0])}" if len(found) == 1 else row
    return _("Turn back: {turns}").format(turns=text) if step.undoes is not None else text


def number_cells(step: Instruction, form: Form, unit: AnyUnit) -> list[tuple[str, str]]:
    """Return what stands largest, each number with the few words above it (may be empty)."""
    if isinstance(step, SetDials):
        found = groups(step.turns, form)
        many = len(found) > 1
        return [(group_name(g) if many else "", _move(g[0], form)) for g in found]
    if isinstance(step, Measure) and step.target_mm is not None:
        return [(_("to become"), say_length(step.target_mm, unit))]
    if isinstance(step, Finished):
        # No line that was steered is less likely than all together; one only compared may be.
        least = min(SURE, step.joint) if step.verdict == "good_enough" else SURE
        return [_result(line, unit, least) for line in step.lines]
    return []


def _move(turn: Turn, form: Form) -> str:
    """Return ``37 → 37 1/2``, or how far to turn where no number can be read."""
    dial = form.dial(turn.dial)
    if dial is not None and not dial.readable:
        far = (
            clicks_text(turn.clicks)
            if dial.click
            else number_text(abs(turn.number - turn.start), form)
        )
        return (
            _("open {far}").format(far=far)
            if turn.action == "open"
            else _("close {far}").format(far=far)
        )
    text = f"{number_text(turn.start, form)} → {number_text(turn.number, form)}"
    if form.dial_meaning == DialMeaning.PLAIN_TURNS:
        return _("{numbers} turns").format(numbers=text)
    return text


def _result(line: LineResult, unit: AnyUnit, least_chance: float) -> tuple[str, str]:
    place = capital(place_name(line.line, line.what))
    if line.left_for_padding_mm > 0:
        return place, _("pad {amount}").format(amount=say_amount(line.left_for_padding_mm, unit))
    if line.stands_out_mm > 0:
        return place, _("stands out {amount}").format(amount=say_amount(line.stands_out_mm, unit))
    if line.chance >= least_chance:
        return place, f"{state_shape('good')} {state_text('good')}"
    # The belief lies within, but nobody would put their hand in the fire for it.
    return place, f"{state_shape('measure_again')} {_('not sure')}"
