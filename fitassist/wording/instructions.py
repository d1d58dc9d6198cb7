# SPDX-License-Identifier: MIT
"""What to do next, in words: a short title and the detail below it.

Turns are said as *open* or *close* to a number this form shows, and in its clicks; never as
clockwise, which depends on where one stands. Users' own text is always plain text.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from fitassist.domain.form import Dial, DialMeaning, Form
from fitassist.domain.lines import Seam, What
from fitassist.domain.steps import Ask, Check, Finished, Instruction, Measure, SetDials, Turn
from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, capital, clicks_text, count_word, ngettext
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.numbers import number_text
from fitassist.wording.places import place_name, row_name, seam_name
from fitassist.wording.questions import ask_detail, ask_title, check_detail, check_title

_NEAR = 1e-6

_HOW_TO_MEASURE = {
    What.GIRTH: N_("Keep the tape level on the marks, all the way round, taut but not tight."),
    What.FRONT: N_("Keep the tape level on the marks, from side seam to side seam over the front."),
    What.BACK: N_("Keep the tape level on the marks, from side seam to side seam over the back."),
    What.LEFT_HALF: N_(
        "Keep the tape level on the marks, from centre front to centre back over the form's left: "
        "your right as you face it."
    ),
    What.RIGHT_HALF: N_(
        "Keep the tape level on the marks, from centre front to centre back over the form's right: "
        "your left as you face it."
    ),
    What.BREADTH: N_("Hold two flat boards against the sides and measure between them, level."),
    What.DEPTH: N_("Hold two flat boards against front and back and measure between them, level."),
    What.LENGTH: N_("Lay the tape from mark to mark, following the form."),
}

UNREADABLE = N_("The numbers cannot be read there: count from where the dial stands.")

_VERDICTS = {
    "good_enough": N_("Good enough: the form stands as wanted"),
    "as_near_as_dials_go": N_("As near as the dials go: the rest is padding"),
    "too_big": N_("This form is larger than the body, even closed"),
    "left": N_("Left here, before the end"),
}
_NOTHING_TO_PAD = N_("As near as the dials go")
_GOOD_BUT = N_("Good enough wherever a dial reaches")


def title(instruction: Instruction, form: Form, unit: AnyUnit) -> str:
    """Return one line saying what to do, e.g. "Bust, both sides: from 37 to 37 1/2".

    Parameters
    ----------
    instruction
        Any instruction of a fitting.
    form
        The form it is for; its numbers, clicks and rows are the ones spoken of.
    unit
        the user's, for lengths. Dial numbers stay as the form prints them.
    """
    match instruction:
        case SetDials():
            return _set_title(instruction, form)
        case Measure():
            return _("Measure the {place}").format(place=place_name(*_place(instruction)))
        case Ask():
            return ask_title(instruction, form, unit)
        case Check():
            return check_title(instruction, unit)
        case Finished():
            return _(_verdict_of(instruction))


def _verdict_of(end: Finished) -> str:
    """Return the verdict on the lines with dials, and do not hide another that is off."""
    short = any(one.left_for_padding_mm > 0 for one in end.lines)
    off = short or any(one.stands_out_mm > 0 for one in end.lines)
    if end.verdict == "as_near_as_dials_go" and not short:
        return _NOTHING_TO_PAD
    return _GOOD_BUT if end.verdict == "good_enough" and off else _VERDICTS[end.verdict]


def detail(instruction: Instruction, form: Form, unit: AnyUnit) -> str:
    """Return what helps to do it: clicks, whose left, what to take care of, what to expect."""
    match instruction:
        case SetDials():
            return " ".join(_set_detail(instruction, form))
        case Measure():
            return " ".join(_measure_detail(instruction, form, unit))
        case Ask():
            return ask_detail(instruction)
        case Check():
            return check_detail(instruction, form)
        case Finished():
            return _finished_detail(instruction, unit)


def groups(turns: Sequence[Turn], form: Form) -> list[tuple[Turn, ...]]:
    """Return the turns put together by what is done: same action, same numbers, same clicks."""
    found: dict[tuple[object, ...], list[Turn]] = {}
    for turn in turns:
        dial = form.dial(turn.dial)
        readable = dial is None or dial.readable
        key = (turn.action, turn.start, turn.number, turn.clicks, readable)
        found.setdefault(key, []).append(turn)
    return [tuple(group) for group in found.values()]


def group_name(turns: Iterable[Turn]) -> str:
    """Return what the dials of a group are called together: "both sides", "front and back"."""
    seams = [Seam(turn.dial.rpartition(".")[2]) for turn in turns]
    there = set(seams)
    if len(there) == len(Seam):
        return _("all four")
    if there == {Seam.LEFT, Seam.RIGHT}:
        return _("both sides")
    if there == {Seam.FRONT, Seam.BACK}:
        return _("front and back")
    if {Seam.LEFT, Seam.RIGHT} < there:
        other = next(iter(there - {Seam.LEFT, Seam.RIGHT}))
        return _("{seam} and both sides").format(seam=seam_name(other))
    names = [seam_name(seam) for seam in dict.fromkeys(seams)]
    if len(names) == 1:
        return names[0]
    return _("{some} and {last}").format(some=", ".join(names[:-1]), last=names[-1])


def _set_title(step: SetDials, form: Form) -> str:
    parts = [f"{group_name(group)}: {_way(group[0], form)}" for group in groups(step.turns, form)]
    text = f"{capital(row_name(step.row, form))}, {'; '.join(parts)}"
    if step.undoes is not None:
        return _("Turn back: {turns}").format(turns=text)
    return text


def _way(turn: Turn, form: Form) -> str:
    """From which number to which; or, where no number can be read, how far."""
    dial = form.dial(turn.dial)
    if dial is not None and not dial.readable:
        how = _("open {far}") if turn.action == "open" else _("close {far}")
        return how.format(far=_how_far(turn, dial, form))
    pattern = (
        _("from {start} to {number} turns")
        if form.dial_meaning == DialMeaning.PLAIN_TURNS
        else _("from {start} to {number}")
    )
    return pattern.format(
        start=number_text(turn.start, form), number=number_text(turn.number, form)
    )


def _how_far(turn: Turn, dial: Dial, form: Form) -> str:
    if dial.click:
        return clicks_text(turn.clicks)
    return _("by {amount}").format(amount=number_text(abs(turn.number - turn.start), form))


def _set_detail(step: SetDials, form: Form) -> list[str]:
    found = groups(step.turns, form)
    said = [_move(group, form, named=len(found) > 1) for group in found]
    said += [hint for group in found for hint in [_where_it_is(group[0], form)] if hint]
    if any(_unreadable(turn, form) for turn in step.turns):
        said.append(_(UNREADABLE))
    said += _whose_hand(found)
    if step.part[1] > 1:
        said.append(
            _("Part {part} of {parts}: a little at a time.").format(
                part=step.part[0], parts=step.part[1]
            )
        )
    if form.lock:
        said.append(_("Release the catch before you turn, and let it close after."))
    actions = {turn.action for turn in step.turns}
    if "open" in actions:
        said.append(_("Stop at the first resistance; never force a dial."))
    if "close" in actions:
        if any(_can_be_passed(turn, form) for turn in step.turns):
            said.append(
                _("Close a little past the number, then open to it, so that slack lies one way.")
            )
        said.append(
            _("Press the panels together by hand as you close; keep fingers out of the seams.")
        )
    return list(dict.fromkeys(said))


def _can_be_passed(turn: Turn, form: Form) -> bool:
    """Whether a dial being closed can go a click beyond its number and be opened back to it."""
    dial = form.dial(turn.dial)
    return turn.action == "close" and dial is not None and turn.number - dial.step >= dial.least


def _move(group: tuple[Turn, ...], form: Form, named: bool) -> str:
    """Open or close, and how many clicks."""
    turn = group[0]
    dial = form.dial(turn.dial)
    action = _("open") if turn.action == "open" else _("close")
    if dial is not None and dial.click is None:
        far = number_text(abs(turn.number - turn.start), form)
        text = _("{action} by {far}").format(action=action, far=far)
    else:
        text = _("{action}, {clicks}").format(action=action, clicks=clicks_text(turn.clicks))
    if len(group) > 1:
        text = _("{move} each").format(move=text)
    if named:
        text = _("{dials}: {move}").format(dials=group_name(group), move=text)
    return capital(text) + "."


def _where_it_is(turn: Turn, form: Form) -> str:
    """How to find a number that is not printed: from the nearest whole one."""
    dial = form.dial(turn.dial)
    if dial is None or not dial.readable:
        return ""
    below = math.floor(turn.number + _NEAR)
    rest = turn.number - below
    if rest < _NEAR:
        return ""
    number = number_text(turn.number, form)
    if dial.click is None:
        if abs(rest - 0.5) > _NEAR:
            return ""
        start, end = (below, below + 1) if turn.action == "open" else (below + 1, below)
        return _("{number} is half-way from {start} to {end}.").format(
            number=number, start=start, end=end
        )
    whole, far, words = below, rest, _("{number} is {clicks} past {whole}.")
    if turn.action == "close":
        whole, far, words = below + 1, 1 - rest, _("{number} is {clicks} back from {whole}.")
    clicks = far / dial.click
    if abs(clicks - round(clicks)) > 1e-3:
        return ""
    return words.format(number=number, clicks=clicks_text(round(clicks)), whole=whole)


def _unreadable(turn: Turn, form: Form) -> bool:
    dial = form.dial(turn.dial)
    return dial is not None and not dial.readable


def _whose_hand(found: list[tuple[Turn, ...]]) -> list[str]:
    """Say whose left it is, wherever left and right are not treated alike."""
    every = {Seam(turn.dial.rpartition(".")[2]) for group in found for turn in group}
    behind = Seam.BACK in every and Seam.FRONT not in every
    for group in found:
        here = {Seam(turn.dial.rpartition(".")[2]) for turn in group}
        if (Seam.LEFT in here) != (Seam.RIGHT in here):
            if behind:
                return [_("From behind, the form's left is your left.")]
            if Seam.LEFT in every:
                return [_("The form's left is your right as you face it.")]
            return [_("The form's right is your left as you face it.")]
    return []


def _place(step: Measure) -> tuple[str, What]:
    return step.line, step.what


def _measure_detail(step: Measure, form: Form, unit: AnyUnit) -> list[str]:
    said = [_(_HOW_TO_MEASURE[step.what])]
    halves = {row.half for row in form.rows}
    if step.line == "waist" and {"upper", "lower"} <= halves and step.what != What.LENGTH:
        said.append(
            _("Bridge a gap between the halves with a strip of card, so the tape runs flat.")
        )
    expected = _expected(step, unit)
    if expected:
        said.append(expected)
    if step.target_mm is not None:
        said.append(_("It is to become {length}.").format(length=say_length(step.target_mm, unit)))
    return said


def _expected(step: Measure, unit: AnyUnit) -> str:
    """Where the reading should fall 19 times in 20: two spreads either way."""
    if step.expect_mm is None:
        return ""
    middle = say_length(step.expect_mm, unit)
    either_way = 2.0 * (step.spread_mm or 0.0)
    least = say_length(step.expect_mm - either_way, unit)
    greatest = say_length(step.expect_mm + either_way, unit)
    if least == greatest:
        return _("It should read about {length}.").format(length=middle)
    return _("It should read between {least} and {greatest}.").format(
        least=least, greatest=greatest
    )


def _finished_detail(end: Finished, unit: AnyUnit) -> str:
    said = [
        _("{readings}, {turns}, {walks} round the form.").format(
            readings=ngettext("{n} reading", "{n} readings", end.readings).format(
                n=count_word(end.readings)
            ),
            turns=ngettext("{n} turn of a dial", "{n} turns of dials", end.turns).format(
                n=count_word(end.turns)
            ),
            walks=ngettext("{n} walk", "{n} walks", end.walks).format(n=count_word(end.walks)),
        )
    ]
    for result in end.lines:
        place = capital(place_name(result.line, result.what))
        if result.left_for_padding_mm > 0:
            said.append(
                _("{place}: {amount} left for padding.").format(
                    place=place, amount=say_amount(result.left_for_padding_mm, unit)
                )
            )
        if result.stands_out_mm > 0:
            said.append(
                _("{place}: stands out past the body by {amount}.").format(
                    place=place, amount=say_amount(result.stands_out_mm, unit)
                )
            )
    return " ".join([capital(said[0]), *said[1:]])
