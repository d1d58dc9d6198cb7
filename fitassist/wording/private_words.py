# SPDX-License-Identifier: MIT
"""The same steps without a measure of the body: only what is left to do, and clicks.

A form whose dials print whole girths says the body's girth with every number; there a set is said
in clicks from where the dial stands.
"""

from __future__ import annotations

from typing import Any

from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.steps import Ask, Check, Instruction, Measure, SetDials
from fitassist.domain.units import AnyUnit
from fitassist.wording.fitting_words import number_cells, short_title, to_go_text
from fitassist.wording.instructions import UNREADABLE, detail, group_name, groups, title
from fitassist.wording.language import N_, _, capital, ngettext
from fitassist.wording.lengths import say_amount
from fitassist.wording.numbers import number_text
from fitassist.wording.places import dial_name, place_name, row_name

NEAR_MM = 75.0  # a way to go that is longer would come from half a number

_ASKS = {
    "reading_unlikely": N_("{place}: {amount} away from what was expected. Is that right?"),
    "symmetry": N_("{row}: left and right do not stand alike. Even them out?"),
    "number_unlikely": N_("{dial}: is the number right that was told?"),
    "reading_not_possible": N_("{place}: no form of this kind can read that. Keep it?"),
}
_COUNT = N_("Count the clicks from where each dial stands.")
_ON_THE_CARD = N_("The length stands on the person's page; it is not shown here.")


def prints_girths(form: Form) -> bool:
    """Say whether the numbers beside the dials are girths of the body."""
    return form.dial_meaning == DialMeaning.WHOLE_GIRTH


def private_title(step: Instruction, form: Form, unit: AnyUnit) -> str:
    """Return one line saying what to do, with no measure of the body in it."""
    if isinstance(step, Ask):
        return _asked(step, form, unit)
    if isinstance(step, Check):
        return title(_without_lengths(step), form, unit)
    if isinstance(step, SetDials):
        if prints_girths(form):
            return short_title(step, form, unit)
        return title(step, form, unit)
    return title(step, form, unit)


def private_cells(
    step: Instruction, form: Form, unit: AnyUnit, to_go_mm: float | None
) -> list[tuple[str, str]]:
    """Return what stands largest: clicks, the way still to go, or how each line ended."""
    if isinstance(step, Measure):
        if to_go_mm is None or step.target_mm is None:
            return []
        return [("", to_go_text(to_go_mm, unit))]
    if not isinstance(step, SetDials) or not prints_girths(form):
        return number_cells(step, form, unit)
    cells = []
    for group in (found := groups(step.turns, form)):
        turn, dial = group[0], form.dial(group[0].dial)
        action = _("open") if turn.action == "open" else _("close")
        smooth = dial is not None and dial.click is None
        if len(found) == 1 and not smooth:
            far = ngettext("{n} click", "{n} clicks", turn.clicks).format(n=turn.clicks)
            return [(action, far)]
        far = number_text(abs(turn.number - turn.start), form) if smooth else str(turn.clicks)
        how = _("{action} by") if smooth else _("{action}, clicks")
        name = f"{group_name(group)}: " if len(found) > 1 else ""
        cells.append((name + how.format(action=action), far))
    return cells


def private_detail(step: Instruction, form: Form, unit: AnyUnit) -> str:
    """Return what helps to do it, with no measure of the body in it."""
    if isinstance(step, Measure):
        bare = step.model_copy(update={"expect_mm": None, "target_mm": None})
        return detail(bare, form, unit)
    if isinstance(step, Check):
        bare_check = _without_lengths(step)
        said = detail(bare_check, form, unit)
        return f"{said} {_(_ON_THE_CARD)}" if bare_check != step else said
    if isinstance(step, SetDials) and prints_girths(form):
        # Numbers that cannot be read are not said; why they are not is another matter here.
        dials = tuple(dial.model_copy(update={"readable": False}) for dial in form.dials)
        said = detail(step, form.model_copy(update={"dials": dials}), unit)
        return said.replace(_(UNREADABLE), _(_COUNT))
    return detail(step, form, unit)


def typed_to_go(typed_mm: float, target_mm: float | None, unit: AnyUnit) -> str:
    """Return what a reading leaves to go, or an empty text while it is only half typed."""
    if target_mm is None or abs(target_mm - typed_mm) > NEAR_MM:
        return ""
    return to_go_text(target_mm - typed_mm, unit)


def _asked(step: Ask, form: Form, unit: AnyUnit) -> str:
    pattern = _ASKS.get(step.code)
    if pattern is None:
        bare = step.model_copy(update={"values": _no_numbers(step.values)})
        return title(bare, form, unit)
    values, facts = step.values, {"place": "", "amount": "", "row": "", "dial": ""}
    if isinstance(values.get("line"), str):
        facts["place"] = capital(place_name(values["line"], values.get("what", "girth")))
    mm, expected = values.get("mm"), values.get("expected_mm", values.get("expect_mm"))
    if isinstance(mm, int | float) and isinstance(expected, int | float):
        facts["amount"] = say_amount(mm - expected, unit)
    elif step.code == "reading_unlikely":
        return _("{place}: is that right?").format(**facts)
    if isinstance(values.get("row"), str):
        facts["row"] = capital(row_name(values["row"], form))
    if isinstance(values.get("dial"), str):
        facts["dial"] = capital(dial_name(values["dial"], form))
    return _(pattern).format(**facts)


def _without_lengths(step: Check) -> Check:
    return step.model_copy(update={"values": _no_numbers(step.values)})


def _no_numbers(values: dict[str, Any]) -> dict[str, Any]:
    """Leave out every number but those that only say how far apart two readings are."""
    apart = ("apart_mm", "amount_mm", "spread_mm")
    return {k: v for k, v in values.items() if not isinstance(v, int | float) or k in apart}
