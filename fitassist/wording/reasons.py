# SPDX-License-Identifier: MIT
"""Why, in one short sentence: reasons for steps, notes said in passing, the ribbon's marks.

A reason carries a code and values (lengths in mm); nothing here raises: a code or a value this
version does not know leaves the sentence shorter.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from fitassist.domain.lines import What
from fitassist.domain.steps import Note, Reason
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, capital, inside, plain
from fitassist.wording.lengths import say_amount
from fitassist.wording.places import dial_name, line_name, place_name, row_name
from fitassist.wording.posture_words import POSTURE_REASONS
from fitassist.wording.shaping_words import SHAPING_REASONS

# Each code has its sentences from fullest to barest: the first whose facts are all there is said.
_REASONS: dict[str, tuple[str, ...]] = {
    # why to set
    "short": (
        N_("because the {line} is {amount} short"),
        N_("because the form is {amount} short there"),
        N_("because the form is short there"),
    ),
    "over": (
        N_("because the {line} is {amount} over"),
        N_("because the form is {amount} over there"),
        N_("because the form is over there"),
    ),
    "pulls": (
        N_("{row} first: turning it moves the {other} by about {amount}"),
        N_("{row} first: turning it moves the {other} too"),
        N_("first, because turning it moves other lines too"),
    ),
    "fine": (
        N_("a small correction of {amount}"),
        N_("a small correction"),
    ),
    "even": (N_("keeps left and right equal"),),
    "room": (
        N_("the {line} has room to give"),
        N_("there is room to give"),
    ),
    "part": (
        N_("part {part} of {parts}, a little at a time"),
        N_("a little at a time"),
    ),
    "undo_set": (N_("turns the dials back to where they stood"),),
    "begun": (N_("goes on with what was begun"),),
    "shape": (N_("brings front, back and sides nearer to the body's shape"),),
    "neighbour": (
        N_("keeps {row} and {other} from drifting too far apart"),
        N_("keeps two rows from drifting too far apart"),
    ),
    "too_far_apart": (
        N_("because {row} and {other} stand too far apart for the panels between them"),
        N_("because two rows stand too far apart for the panels between them"),
    ),
    # why (not) to measure
    "never_read": (
        N_("the {line} has not been measured yet"),
        N_("not measured yet"),
    ),
    "moved": (
        N_("turning may have moved the {line}: it is known to {amount} only"),
        N_("turning may have moved it: it is known to {amount} only"),
        N_("turning may have moved it since the last reading"),
    ),
    "confirm": (N_("this reading could change the verdict"),),
    "doubt": (
        N_("the last reading was {amount} away from what was expected"),
        N_("the last reading was unlikely"),
    ),
    "chance": (
        N_("the chance that it is within tolerance is {percent}"),
        N_("it is not yet sure to be within tolerance"),
    ),
    "not_needed": (
        N_("no need to measure the {line} again: it cannot have moved more than {at_most}"),
        N_("no need to measure it again: it cannot have moved more than {at_most}"),
        N_("no need to measure it again"),
    ),
    "asked": (N_("because you asked for it"),),
    # what comes next
    "reorder": (
        N_("the order follows the last reading: {row} comes first now"),
        N_("the order follows the last reading"),
    ),
    # what this form cannot do, and what to know about it
    "too_big": (
        N_(
            "even closed, this form is {amount} larger than the body at the {line}: choose another "
            "form, or go on and fit the {line} by eye"
        ),
        N_(
            "even closed, this form is larger than the body there: choose another form, or go on "
            "and fit that line by eye"
        ),
    ),
    "too_big_neck": (
        N_(
            "the neck of this form is {amount} larger than the body's and does not close: choose "
            "another form, or fit the neckline on the person"
        ),
        N_("the neck of this form is larger than the body's and does not close"),
    ),
    "too_big_shoulder_length": (
        N_(
            "the shoulder of this form is {amount} longer than the body's and cannot be shortened: "
            "mark the person's shoulder point on it and fit the sleeve to the mark"
        ),
        N_("the shoulder of this form is longer than the body's: mark the person's shoulder on it"),
    ),
    "too_big_torso_length": (
        N_(
            "from back neck to waist this form is {amount} longer than the body even at its "
            "shortest: mark the person's waist line on it, above the form's own"
        ),
        N_("this form is longer than the body from back neck to waist: mark the waist higher"),
    ),
    "dial_limit": (
        N_("the dials end {amount} short at the {line}: that much is left for padding"),
        N_("the dials end {amount} short there: that much is left for padding"),
        N_("the dials end short there: the rest is left for padding"),
    ),
    "symmetry": (
        N_("{row}: left and right stand at different numbers, though the body's halves are alike"),
        N_("left and right stand at different numbers, though the body's halves are alike"),
    ),
    "learned": (N_("what earlier fittings taught about this form is used here"),),
    "learned_more": (N_("this form is known better now: the next fitting starts from it"),),
    "stuck": (
        N_("{dial} is stuck: the plan goes on without it until you say it turns again"),
        N_("a dial is stuck: the plan goes on without it"),
    ),
}

# Cautions are whole sentences; all are common practice, no source.
_CAUTIONS = {
    "first_resistance": N_("Stop at the first resistance; never force a dial."),
    "fingers": N_("Keep fingers out of the seams when you close."),
    "press_panels": N_("When closing, press the panels together by hand as you turn."),
    "hold_torso": N_("Hold the torso before you free the height lock: it can drop."),
    "offset_post": N_("The pole stands off centre: the form can tip, so steady it as you turn."),
    "hanging": N_("The form hangs: steady it as you turn."),
    "bridge_gap": N_("Where a gap runs round the form, bridge it with card before you measure."),
    "lock": N_("Release the catch before you turn, and let it close after."),
    "breadths": N_("Read breadths and depths between two flat boards, not with the tape."),
}

# The same sentence under the name the core has for it.
_REASONS["too_big_girth"] = _REASONS["too_big"]
_REASONS["too_big_back_neck_to_waist"] = _REASONS["too_big_torso_length"]
_REASONS |= SHAPING_REASONS | POSTURE_REASONS

_LEAST_MM = 25.4 / 16.0

_NOT_SHORTENED = {
    "neck": "too_big_neck",
    "shoulder_length": "too_big_shoulder_length",
    "torso_length": "too_big_torso_length",
    "back_neck_to_waist": "too_big_torso_length",
}


def reason(why: Reason, unit: AnyUnit) -> str:
    """Return one reason as a sentence without a full stop; empty when there is none to give.

    Parameters
    ----------
    why
        The code and its values, lengths in mm.
    unit
        the user's.
    """
    patterns = _REASONS.get(why.code)
    if patterns is None:
        caution = _CAUTIONS.get(why.code)
        return _(caution).rstrip(".") if caution else ""
    facts = _facts(why.values, unit)
    for pattern in patterns:
        try:
            return capital(_(pattern).format(**facts))
        except KeyError:
            continue
    return ""


def note(said: Note, unit: AnyUnit) -> str:
    """Return a note in words, as whole sentences."""
    if said.code == "caution":
        known = _CAUTIONS.get(said.reason.code) or _CAUTIONS.get(
            str(said.reason.values.get("caution", ""))
        )
        return (
            _(known)
            if known
            else _stop(reason(said.reason, unit))
            or _("Go gently, and stop at the first resistance.")
        )
    values = dict(said.reason.values)
    if said.line:
        values.setdefault("line", said.line)
    if said.amount_mm is not None:
        values.setdefault("mm", said.amount_mm)
    code = said.reason.code
    if said.code == "too_big":
        code = _NOT_SHORTENED.get(said.line, "too_big")
    elif code not in _REASONS:
        code = "reorder" if said.code == "reordered" else said.code
    text = reason(Reason(code=code, values=values), unit)
    return _stop(text) or _general(said)


def coming(kind: Literal["set", "measure", "check"], place: str, why: Reason, unit: AnyUnit) -> str:
    """Return one of the next things with its reason: "Set the hip: the order follows ..."."""
    if kind == "check":
        text = capital(plain(place.replace("_", " "), 40))
    elif kind == "measure":
        text = _("Measure the {line}").format(line=line_name(place))
    else:
        text = _("Set the {row}").format(row=row_name(place))
    said = reason(why, unit)
    return _("{what}: {why}").format(what=text, why=inside(said)) if said else text


def ribbon(marks: Literal["apart", "overlap"], by_mm: float, unit: AnyUnit) -> str:
    """Return what a ribbon marked with the target says, never as a bare sign."""
    if by_mm == 0:
        return _("marks meet: the form is at its target")
    if marks == "apart":
        return _("marks do not meet by {amount}: form too large").format(
            amount=say_amount(by_mm, unit)
        )
    return _("marks overlap by {amount}: form too small").format(amount=say_amount(by_mm, unit))


def miss(to_go_mm: float, unit: AnyUnit) -> str:
    """Return how far a line is from its target, in words: short of it, or over."""
    pattern = _("{amount} short") if to_go_mm > 0 else _("{amount} over")
    return pattern.format(amount=say_amount(to_go_mm, unit))


def reason_codes() -> frozenset[str]:
    """Return every code that has a sentence here."""
    return frozenset(_REASONS) | frozenset(_CAUTIONS)


def _stop(text: str) -> str:
    return f"{text}." if text and not text.endswith((".", "!", "?")) else text


def _general(said: Note) -> str:
    if said.line:
        return _("{line}: look at this line.").format(line=capital(line_name(said.line)))
    return _("Something about this form is worth a look.")


def _facts(values: Mapping[str, object], unit: AnyUnit) -> dict[str, str]:
    """Return what a reason may speak of, in words."""
    facts: dict[str, str] = {}
    line, what = values.get("line"), values.get("what")
    if isinstance(line, str) and line:
        facts["line"] = place_name(line, _what(what))
    row = values.get("row", line)
    if isinstance(row, str) and row:
        facts["row"] = row_name(row)
    other = values.get("other", values.get("other_line"))
    if isinstance(other, str) and other:
        facts["other"] = line_name(other)
    dial = values.get("dial")
    if isinstance(dial, str) and dial:
        facts["dial"] = dial_name(dial)
    mm = _number(values.get("mm", values.get("amount_mm")))
    if mm is not None:
        facts["amount"] = say_amount(mm, unit)
        # "not more than less than 1/16" is no English: a bound is at least what one can see.
        facts["at_most"] = say_amount(max(abs(mm), _LEAST_MM), unit)
    degrees = _number(values.get("degrees"))
    if degrees is not None:
        facts["degrees"] = f"{degrees:.0f}°"
    chance = _number(values.get("chance"))
    if chance is not None:
        facts["percent"] = f"{100.0 * chance:.0f} %" if chance < 0.995 else _("over 99 %")
    for name, keys in (("part", ("part", "a")), ("parts", ("parts", "b"))):
        number = next((_number(values.get(key)) for key in keys if key in values), None)
        if number is not None:
            facts[name] = f"{number:.0f}"
    return facts


def _what(value: object) -> What:
    try:
        return What(str(value))
    except ValueError:
        return What.GIRTH


def _number(value: object) -> float | None:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return None
