# SPDX-License-Identifier: MIT
"""From the object on a line to an answer of the core: checked for shape, not for sense."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal, cast

from fitassist.domain.answers import (
    Answer,
    Choose,
    DialException,
    Done,
    Free,
    Leave,
    Ribbon,
    Skip,
    TapeReading,
    Undo,
    VolunteeredDial,
    VolunteeredReading,
    Why,
)
from fitassist.domain.lines import What
from fitassist.domain.units import Unit, parse_length
from fitassist.scripted.refusals import Refused

_MM = {"in": 25.4, "cm": 10.0, "mm": 1.0}
_LARGEST = 1e6  # of any number on a line; what is sensible is for the core to say
_MOST_EXCEPTIONS = 100


def read_answer(found: dict[str, Any], open_id: int) -> Answer:
    """Return the answer a line gives to the instruction that is open.

    Parameters
    ----------
    found
        The object on the line.
    open_id
        The id the program gave to the instruction it waits for.

    Raises
    ------
    FitError
        With the field in question: no such answer, another id, a field missing, unknown or of
        another kind.
    """
    name = found.get("answer")
    if name is None:
        raise Refused("answer_field_missing", "answer")
    reader = _READERS.get(name) if isinstance(name, str) else None
    if reader is None:
        raise Refused("answer_unknown", "answer", answer=name)
    to = found.get("to")
    if to is None and "to" not in found:
        if name != "free":  # a dial can be freed whatever is open
            raise Refused("answer_field_missing", "to")
    elif type(to) is not int:
        raise Refused("answer_bad_value", "to")
    elif to != open_id:
        raise Refused("answer_other_id", "to", number=to, open=open_id)
    fields = {key: value for key, value in found.items() if key not in {"to", "answer"}}
    answer = reader(fields)
    if fields:
        raise Refused("answer_field_unknown", next(iter(fields)), name=next(iter(fields)))
    return answer


def _done(fields: dict[str, Any]) -> Answer:
    given = fields.pop("except", [])
    if not isinstance(given, list) or len(given) > _MOST_EXCEPTIONS:
        raise Refused("answer_bad_value", "except")
    return Done(exceptions=tuple(_exception(one) for one in given))


def _exception(given: object) -> DialException:
    if not isinstance(given, dict):
        raise Refused("answer_bad_value", "except")
    fields = dict(given)
    found = DialException(
        dial=_text(fields, "dial"),
        number=_number(fields, "number"),
        why=cast(Why, _one_of(fields, "why", ("stopped", "stuck", "skipped"))),
    )
    if fields:
        raise Refused("answer_field_unknown", next(iter(fields)), name=next(iter(fields)))
    return found


def _reading(fields: dict[str, Any]) -> Answer:
    mm, text = _length(fields, "value")
    return TapeReading(mm=mm, text=text)


def _ribbon(fields: dict[str, Any]) -> Answer:
    marks = cast(Literal["apart", "overlap"], _one_of(fields, "marks", ("overlap", "apart")))
    by_mm, text = _length(fields, "by", zero=True)
    return Ribbon(marks=marks, by_mm=by_mm, text=text)


def _volunteer(fields: dict[str, Any]) -> Answer:
    if "dial" in fields:
        return VolunteeredDial(dial=_text(fields, "dial"), number=_number(fields, "number"))
    line = _text(fields, "line")
    what = What(_one_of(fields, "what", tuple(What))) if "what" in fields else What.GIRTH
    mm, text = _length(fields, "value")
    return VolunteeredReading(line=line, what=what, mm=mm, text=text)


def _choose(fields: dict[str, Any]) -> Answer:
    return Choose(choice=_text(fields, "choice"))


def _free(fields: dict[str, Any]) -> Answer:
    return Free(dial=_text(fields, "dial"))


_READERS: dict[str, Callable[[dict[str, Any]], Answer]] = {
    "done": _done,
    "reading": _reading,
    "ribbon": _ribbon,
    "volunteer": _volunteer,
    "choose": _choose,
    "free": _free,
    "skip": lambda _fields: Skip(),
    "undo": lambda _fields: Undo(),
    "leave": lambda _fields: Leave(),
}


def _take(fields: dict[str, Any], name: str) -> object:
    if name not in fields:
        raise Refused("answer_field_missing", name)
    return fields.pop(name)


def _text(fields: dict[str, Any], name: str) -> str:
    value = _take(fields, name)
    if not isinstance(value, str) or not value:
        raise Refused("answer_bad_value", name)
    return value


def _one_of(fields: dict[str, Any], name: str, allowed: tuple[str, ...]) -> str:
    value = _text(fields, name)
    if value not in allowed:
        raise Refused("answer_bad_value", name)
    return value


def _number(fields: dict[str, Any], name: str) -> float:
    value = _take(fields, name)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Refused("answer_bad_value", name)
    if abs(value) > _LARGEST:
        raise Refused("answer_out_of_range", name)
    return float(value)


def _length(fields: dict[str, Any], name: str, zero: bool = False) -> tuple[float, str]:
    """Return a length in mm and as it was written; without a unit it is in mm, as all output is."""
    unit = _one_of(fields, "unit", tuple(_MM)) if "unit" in fields else "mm"
    value = fields.get(name)
    if isinstance(value, str):
        fields.pop(name)
        length = parse_length(value, Unit(unit), allow_zero=zero, field=name)
        return length.mm, value
    number = _number(fields, name)
    mm = number * _MM[unit]
    if mm < 0.0 or (mm == 0.0 and not zero):
        raise Refused("answer_out_of_range", name)
    return mm, f"{number:.10g} {unit}"
