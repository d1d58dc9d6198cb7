# SPDX-License-Identifier: MIT
"""Questions and plain steps, in words: what is asked, what can be answered, what to look after."""

from __future__ import annotations

from collections.abc import Mapping

from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.steps import Ask, Check
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, capital, plain
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.places import dial_name, place_name, row_name
from fitassist.wording.posture_words import POSTURE_CHECKS

_ASKS = {
    "reading_unlikely": N_("{place} at {length}: is that right?"),
    "reading_unlikely_expected": N_("{place} at {length}, where {expected} was expected: right?"),
    "too_far_apart": N_("{place}: the readings differ by {amount}. Which one counts?"),
    "symmetry": N_("{row}: left stands at {left}, right at {right}. Even them out?"),
    "number_unlikely": N_("{dial} at {number}: is that right?"),
    "reading_not_possible": N_("{place} at {length}: no form of this kind can read that. Keep it?"),
}

_ASK_DETAILS = {
    "reading_unlikely": N_(
        "No dial is turned on its account before you answer. A tape off level, a wrong line or a "
        "slip of the key is the usual cause; measuring again costs least."
    ),
    "symmetry": N_("The body's halves are alike. Uneven dials are kept if you want them so."),
    "too_far_apart": N_("No dial is turned on their account before you answer."),
    "number_unlikely": N_("Look at the dial again; the plan goes on from the number you confirm."),
}

_CHOICES = {
    "keep": N_("Keep it"),
    "again": N_("Measure again"),
    "discard": N_("Leave it out"),
    "even": N_("Even them out"),
    "yes": N_("Yes"),
    "no": N_("No"),
    "leave": N_("End here"),
    "go_on": N_("Go on"),
    "stop": N_("Stop here"),
}

# Where a choice has other words than usual: "keep it" would keep dials, not what is known.
_CHOICES_OF = {("symmetry", "keep"): N_("The body is like this")}

_CHECKS = {
    "padding_off": (
        N_("Take off the padding the form still wears"),
        N_(
            "Piece by piece, the top one first, into a bag with its label. Count the pins out, and "
            "look for any left in the shell."
        ),
    ),
    "padding_off_slip_on": (
        N_("Take off the slip-on the form still wears"),
        N_(
            "Whole, with its padding, into a bag with its label. Look for pins left in the shell "
            "before you dress it again."
        ),
    ),
    "padding_on": (
        N_("Put this person's padding back on"),
        N_(
            "From the bag with their label, smallest piece first, centre lines on the marks. Then "
            "Padding says where the tape should look again."
        ),
    ),
    "padding_on_slip_on": (
        N_("Put this person's slip-on back on"),
        N_(
            "From the bag with their label, centre lines on the marks, without pulling it. Then "
            "Padding says where the tape should look again."
        ),
    ),
    "undergarment": (
        N_("Dress the form as the person was measured"),
        N_("The same undergarment each time: another one changes every girth."),
    ),
    "undergarment_named": (
        N_("Put on the undergarment: {undergarment}"),
        N_("The same undergarment each time: another one changes every girth."),
    ),
    "marks": (
        N_("Mark the lines on the form"),
        N_("Pin a narrow tape level round each line, and leave it on: every reading follows it."),
    ),
    "torso_length": (
        N_("Set the torso length, back neck to waist"),
        N_("Hold the torso with one hand before you free the height lock: it can drop."),
    ),
    "torso_length_to": (
        N_("Set the torso length, back neck to waist, to {length}"),
        N_("Hold the torso with one hand before you free the height lock: it can drop."),
    ),
    "shoulder_level": (
        N_("Bring the shoulder to the person's height above the floor"),
        N_("Hold the torso before you free the height lock."),
    ),
    "shoulder_level_to": (
        N_("Bring the shoulder to {length} above the floor"),
        N_("Hold the torso before you free the height lock."),
    ),
    "waist_level": (
        N_("Look that the waist line is level all round"),
        N_("Measure from the floor to the mark at front, sides and back: all four alike."),
    ),
    "waist_level_to": (
        N_("Bring the waist line to {length} above the floor"),
        N_("Hold the torso before you free the height lock; then look that the line is level."),
    ),
    "torso_again": (
        N_("Look that the torso has not slipped"),
        N_("Measure back neck to waist once more; turning dials can pull it."),
    ),
    "torso_again_to": (
        N_("Look that back neck to waist is still {length}"),
        N_("Measure it once more; turning dials can pull it."),
    ),
    "torso_check": (
        N_("Look that the torso has not slipped"),
        N_("Measure back neck to waist once more; turning dials can pull it."),
    ),
}

_CHECKS |= POSTURE_CHECKS

_OFFSET_POST = N_("The pole stands off centre and the form can tip: steady it with one hand.")
_HANGING_POST = N_("The form hangs and can swing: steady it with one hand.")


def choice(name: str, question: str = "") -> str:
    """Return the words on the button for one choice of a question, named by its code."""
    known = _CHOICES_OF.get((question, name), _CHOICES.get(name))
    return _(known) if known else capital(plain(name.replace("_", " "), 40))


def ask_title(ask: Ask, form: Form, unit: AnyUnit) -> str:
    """Return the question in one line."""
    key = ask.code
    facts = _facts(ask.values, form, unit)
    if key == "reading_unlikely" and "expected" in facts:
        key = "reading_unlikely_expected"
    pattern = _ASKS.get(key)
    if pattern is not None:
        try:
            return _(pattern).format(**facts)
        except KeyError:
            pass
    if "place" in facts:
        return _("{place}: please choose").format(place=facts["place"])
    return _("Please choose")


def ask_detail(ask: Ask) -> str:
    """Return what hangs on the answer, and what can be answered."""
    known = _ASK_DETAILS.get(ask.code)
    choices = _("Choose: {choices}.").format(
        choices=", ".join(choice(c, ask.code) for c in ask.choices)
    )
    return f"{_(known)} {choices}" if known else choices


def check_title(check: Check, unit: AnyUnit) -> str:
    """Return a plain step in one line."""
    garment = plain(check.values.get("undergarment", ""))
    length = _check_mm(check)
    if check.values.get("on") == "slip_on" and f"{check.code}_slip_on" in _CHECKS:
        return _(_CHECKS[f"{check.code}_slip_on"][0])
    if garment and check.code == "undergarment":
        return _(_CHECKS["undergarment_named"][0]).format(undergarment=garment)
    if length is not None and f"{check.code}_to" in _CHECKS:
        return _(_CHECKS[f"{check.code}_to"][0]).format(length=say_length(length, unit))
    known = _CHECKS.get(check.code)
    return _(known[0]) if known else capital(plain(check.code.replace("_", " ")))


def check_detail(check: Check, form: Form) -> str:
    """Return what to take care of in a plain step; empty for one this version does not know."""
    key = check.code
    if f"{key}_to" in _CHECKS and _check_mm(check) is not None:
        key = f"{key}_to"
    if check.values.get("on") == "slip_on" and f"{key}_slip_on" in _CHECKS:
        key = f"{key}_slip_on"
    known = _CHECKS.get(key)
    said = [_(known[1])] if known else []
    if check.code in {"shoulder_level", "waist_level", "torso_length"}:
        if form.post == "offset":
            said.append(_(_OFFSET_POST))
        elif form.post == "hanging":
            said.append(_(_HANGING_POST))
    return " ".join(said)


def _check_mm(check: Check) -> float | None:
    """Return the length or height a plain step is to bring about, if it is known."""
    own = {"shoulder_level": "floor_to_shoulder_mm", "waist_level": "floor_to_waist_mm"}
    return _mm(check.values, own.get(check.code, "mm"))


def _mm(values: Mapping[str, object], *names: str) -> float | None:
    """Return the first of these values that is a number."""
    for name in names:
        value = values.get(name)
        if isinstance(value, int | float) and not isinstance(value, bool):
            return float(value)
    return None


def _facts(values: Mapping[str, object], form: Form, unit: AnyUnit) -> dict[str, str]:
    """Return what a question may speak of, in words."""
    facts: dict[str, str] = {}
    line = values.get("line")
    if isinstance(line, str):
        facts["place"] = capital(place_name(line, _what(values.get("what"))))
    dial = values.get("dial")
    if isinstance(dial, str):
        facts["dial"] = capital(dial_name(dial, form))
    length, expected = _mm(values, "mm", "reading_mm"), _mm(values, "expect_mm", "expected_mm")
    if length is not None:
        facts["length"] = say_length(length, unit)
    if expected is not None:
        facts["expected"] = say_length(expected, unit)
    row = values.get("row")
    if isinstance(row, str):
        facts["row"] = capital(row_name(row, form))
    for name in ("number", "left", "right"):
        number = _mm(values, name)
        if number is not None:
            facts[name] = number_text(number, form)
    apart = _mm(values, "apart_mm", "amount_mm", "spread_mm")
    if apart is not None:
        facts["amount"] = say_amount(apart, unit)
    return facts


def _what(value: object) -> What:
    try:
        return What(str(value))
    except ValueError:
        return What.GIRTH
