# SPDX-License-Identifier: MIT
"""What a user is told when something goes wrong: what is wrong, what is safe, what to do.

One table from the codes of ``FitError`` to sentences; ``sentence`` never raises, because it is
said when something else already has.
"""

from __future__ import annotations

from pathlib import PurePath
from string import Formatter
from typing import TypeGuard

from fitassist.domain.units import AnyUnit
from fitassist.errors import BadFile, BadLength, FitError, StorageFailed
from fitassist.wording.language import N_, _, capital, plain
from fitassist.wording.lengths import say_length
from fitassist.wording.numbers import decimal_text
from fitassist.wording.places import dial_name, line_name
from fitassist.wording.sentence_table import GENERAL, KEPT, SENTENCES, UNTOUCHED, WHYS


def sentence(error: FitError, unit: AnyUnit = "in") -> str:
    """Return what is wrong, what is safe and what to do, in plain short words.

    Parameters
    ----------
    error
        Its code chooses the sentence, its values fill it; lengths in mm.
    unit
        the user's.
    """
    parts = SENTENCES.get(error.code)
    if parts is None:
        parts = _general(error)
    facts = _facts(error, unit)
    return " ".join(said for part in parts if (said := _fill(_(part), facts)))


def sentence_codes() -> frozenset[str]:
    """Return every code that has a sentence of its own."""
    return frozenset(SENTENCES)


def _general(error: FitError) -> tuple[str, ...]:
    if isinstance(error, BadLength):
        return (N_("This length cannot be used ({code})."), N_("Look at the number and the unit."))
    if isinstance(error, BadFile):
        return (N_("This file cannot be used ({code})."), UNTOUCHED, N_("Choose another file."))
    if isinstance(error, StorageFailed):
        return (N_("The last entry could not be kept ({code})."), KEPT, N_("Try once more."))
    return GENERAL


def _fill(pattern: str, facts: dict[str, str]) -> str:
    """Fill a pattern; a fact that is not there is called "this", so that the rest can be said."""
    wanted = {name for _text, name, _spec, _conv in Formatter().parse(pattern) if name}
    missing = {name: facts.get(name) or _("this") for name in wanted}
    return capital(pattern.format(**missing))


def _facts(error: FitError, unit: AnyUnit) -> dict[str, str]:
    """Return what a sentence may speak of, in words."""
    facts = {name: _fact(error, name, unit) for name in error.values}
    facts |= {"code": plain(error.code), "field": facts.get("field") or plain(error.field)}
    for name in [name for name in facts if name.endswith("_mm") or name == "mm"]:
        facts.setdefault(name.removesuffix("_mm"), facts[name])
    if "text" in facts:
        facts["typed"] = plain(error.values["text"], 30)
    if "why" in facts:
        why = WHYS.get(str(error.values["why"]))
        facts["why"] = _(why) if why else _("cannot be read")
    spoken = [facts[name] for name in ("value", "number", "mm", "typed") if name in facts]
    return facts | ({"value": spoken[0]} if spoken else {})


def _fact(error: FitError, name: str, unit: AnyUnit) -> str:
    value = error.values[name]
    if _is_number(value):
        return say_length(value, unit) if name.endswith("mm") else decimal_text(value)
    if name == "line":
        return line_name(str(value))
    if name == "path":
        return plain(PurePath(str(value)).name, 60)  # folders say nothing a user can act on
    if name == "dial" and error.code != "unknown_dial":
        return dial_name(str(value))
    return plain(value, 40)


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e12
