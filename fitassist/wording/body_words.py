# SPDX-License-Identifier: MIT
"""Measuring a body, in words: questions about readings, how they were taken, averages.

Every question is about the tape and the keys, never about the body, and keep is always an answer.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from fitassist.domain.plausibility import Question
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, capital, inside, ngettext, plain
from fitassist.wording.lengths import say_amount, say_length

_QUESTIONS: Final = {
    "outside_usual": N_("{first} {first_mm}: right as it stands?"),
    "slip_unit": N_("{first} {first_mm}: or is {instead_mm} meant, in the other unit?"),
    "slip_digits": N_("{first} {first_mm}: or is {instead_mm} meant, two digits swapped?"),
    "slip_tenfold": N_("{first} {first_mm}: or is {instead_mm} meant, the point one place on?"),
    "waist_over_hip": N_("{first} {first_mm}, {second} {second_mm}: right as they stand?"),
    "waist_hip_ratio": N_("{first} {first_mm}, {second} {second_mm}: right as they stand?"),
    "bust_under_bust": N_("{first} {first_mm}, {second} {second_mm}: right as they stand?"),
    "halves_sum": N_(
        "The two halves come to {together_mm}, the whole round was {first_mm}. Keep both?"
    ),
    "front_back_sum": N_(
        "Front and back come to {together_mm}, the whole round was {first_mm}. Keep both?"
    ),
    "boards_too_wide": N_(
        "With these boards a tape all round reads at least {least_mm}; it read {first_mm}. Keep?"
    ),
    "boards_too_narrow": N_(
        "With these boards a tape all round reads at most {most_mm}; it read {first_mm}. Keep?"
    ),
    "part_over_whole": N_("{first} {first_mm}, the whole round {second_mm}: right as they stand?"),
    "drop_over_length": N_("{first} {first_mm}, {second} {second_mm}: right way round?"),
    "shoulder_slope": N_("{first} {first_mm}, {second} {second_mm}: right as they stand?"),
    "heights_swapped": N_("{first} {first_mm}, {second} {second_mm}: right way round?"),
    "lengths_swapped": N_("{first} {first_mm}, {second} {second_mm}: right way round?"),
    "repeats_apart": N_("{first} was read from {least_mm} to {most_mm}. Do all of them count?"),
}

_LIKELIER: Final = {
    "whole": N_("The parts agree with each other, so look at the whole round first."),
    "part": N_("{likelier} is the likelier slip, so look at it first."),
}

_HOWS: Final = {
    "helped": N_("With a helper"),
    "alone": N_("Alone"),
    "card": N_("From an old card"),
    "clothed": N_("Over clothes"),
}
_DEPTHS: Final = {"quick": N_("Quick"), "good": N_("Good"), "full": N_("Full")}
_DEPTH_NOTES: Final = {
    "quick": N_("The least a fitting needs."),
    "good": N_("A few more lines round the body; the form follows it better."),
    "full": N_("Halves, boards and heights too; worth it for a close cover."),
}
_KINDS: Final = {
    "woman": N_("Woman"),
    "man": N_("Man"),
    "child": N_("Child"),
    "other": N_("Not said"),
}


def body_question(question: Question, labels: Mapping[str, str], unit: AnyUnit) -> str:
    """Return a question about readings, with what the measurements are called on this body."""
    names = [labels.get(key, key.replace("_", " ")) for key in question.keys]
    facts: dict[str, str] = {}
    for place, name, key in zip(("first", "second", "third"), names, question.keys, strict=False):
        facts[place] = capital(name) if place == "first" else inside(name)
        if key in question.values:
            facts[f"{place}_mm"] = say_length(question.values[key], unit)
    meant_in = _other(unit) if question.code == "slip_unit" else unit
    for key, value in question.values.items():
        if key.endswith("_mm"):
            facts[key] = say_length(value, meant_in if key == "instead_mm" else unit)
    asked = _(_QUESTIONS[question.code]).format(**facts)
    if not question.likelier:
        return asked
    which = "whole" if question.likelier == question.keys[0] else "part"
    likelier = labels.get(question.likelier, question.likelier.replace("_", " "))
    return f"{asked} {_(_LIKELIER[which]).format(likelier=capital(likelier))}"


def _other(unit: AnyUnit) -> AnyUnit:
    """Return the unit a length was meant in if it was not meant in this one."""
    return "cm" if unit == "in" else "in"


def how_text(how: str) -> str:
    """Return how a reading was taken."""
    return _(_HOWS[how])


def hows() -> tuple[tuple[str, str], ...]:
    """Return every way a reading can be taken, with its words."""
    return tuple((key, _(text)) for key, text in _HOWS.items())


def depths() -> tuple[tuple[str, str], ...]:
    """Return the depths of measuring, with their words."""
    return tuple((key, _(text)) for key, text in _DEPTHS.items())


def depth_note(depth: str, count: int) -> str:
    """Return what a depth is for and how many readings it asks for."""
    many = ngettext("{n} measurement.", "{n} measurements.", count).format(n=count)
    return f"{_(_DEPTH_NOTES[depth])} {many}"


def kinds() -> tuple[tuple[str, str], ...]:
    """Return the kinds of body, with their words."""
    return tuple((key, _(text)) for key, text in _KINDS.items())


def average_text(count: int, mm: float, spread_mm: float, unit: AnyUnit) -> str:
    """Return several readings taken together: ``3 readings, 38 1/2 in ± 1/8 in``."""
    several = ngettext("{n} reading", "{n} readings", count).format(n=count)
    return f"{several}, {say_length(mm, unit)} ± {say_amount(spread_mm, unit)}"


def reading_text(mm: float, text: str, how: str, unit: AnyUnit) -> str:
    """Return one reading as a line: what it comes to, what was typed, how it was taken."""
    length = say_length(mm, unit)
    typed = plain(text, 30)
    said = length if not typed or typed in length else f"{length} ({typed})"
    return said if how == "helped" else f"{said}, {inside(how_text(how))}"
