# SPDX-License-Identifier: MIT
"""A body and its targets as a JSON file, read as strictly as a form's (see `form_file`)."""

from __future__ import annotations

from typing import Any

from fitassist.domain.body import Body
from fitassist.domain.form_file import (
    MAX_MM,
    MAX_NAME,
    VERSION,
    Json,
    LengthKey,
    build,
    checked_object,
    in_mm,
    mm_of,
    read_object,
    refuse_field,
    refuse_long,
    unit_named,
    without_format,
)
from fitassist.domain.units import Unit, short_number
from fitassist.errors import BadFile

BODY_FORMAT = "fitassist-body"
MAX_TARGETS = 200
LEAST_WIDTH_MM = 0.01  # of a tolerance; chances within a narrower one are no numbers any more

_TARGET = (LengthKey("value"), LengthKey("spread", zero=True))
_TOLERANCE = LengthKey("tolerance", signed=True)


def load_body_text(text: str) -> Body:
    """Read a body from the text of its file; raises `BadFile` with a code of ``FILE_CODES``."""
    return body_from_json(read_object(text))


def body_from_json(data: Json) -> Body:
    """Make a body of a JSON object of the format "fitassist-body", version 1.

    Parameters
    ----------
    data
        The object; it is not changed. ``value``, ``spread`` and both sides of ``tolerance`` are
        numbers in the target's ``unit`` or texts with a unit, or stand in mm under keys with
        ``_mm`` added. A tolerance is [below, above], below being a negative number as a rule.

    Returns
    -------
    Body
        With every field this version does not know, at every level.

    Raises
    ------
    BadFile
        Naming the field, as in ``targets[2].value``.
    """
    raw = without_format(checked_object(data), BODY_FORMAT)
    inner = dict(raw)
    refuse_long(raw, "targets", MAX_TARGETS)
    if isinstance(raw.get("targets"), list | tuple):
        inner["targets"] = [
            _target_in_mm(target, f"targets[{i}].") for i, target in enumerate(raw["targets"])
        ]
    body = build(Body, inner, raw)
    _refuse_misfits(body)
    return body


def body_to_json(body: Body) -> Json:
    """Return the JSON object from which `body_from_json` makes an equal body."""
    data = body.model_dump(mode="json")
    data["targets"] = [_target_in_unit(target) for target in data["targets"]]
    return {"format": BODY_FORMAT, "version": VERSION} | data


def _target_in_mm(target: object, path: str) -> Any:
    if not isinstance(target, dict):
        return target
    unit = unit_named(target, "unit", tuple(Unit), path)
    data = in_mm(target, _TARGET, unit, path, path + "unit")
    data.pop("unit", None)
    if "text" not in data and isinstance(target.get("value"), str):
        data["text"] = target["value"]
    if "tolerance" in target and "tolerance_mm" in target:
        refuse_field(path + "tolerance", "given_twice")
    key, meant = ("tolerance", unit) if "tolerance" in target else ("tolerance_mm", Unit.MM)
    refuse_long(data, key, 2, path)
    sides = data.pop(key, None)
    if isinstance(sides, list | tuple):
        sides = [
            mm_of(side, meant, f"{path}{key}[{i}]", path + "unit", _TOLERANCE)
            for i, side in enumerate(sides)
        ]
    data["tolerance_mm"] = sides
    return data


def _refuse_misfits(body: Body) -> None:
    texts = {"name": body.name, "undergarment": body.undergarment}
    seen = set()
    for i, target in enumerate(body.targets):
        path = f"targets[{i}]."
        texts[path + "line"], texts[path + "text"] = target.line, target.text
        if not target.line.strip():
            refuse_field(path + "line", "blank")
        if (target.line, target.what) in seen:
            refuse_field(path + "line", "same_name")
        seen.add((target.line, target.what))
        if target.tolerance_mm is not None:
            refuse_tolerance(target.tolerance_mm, path + "tolerance")
    for field, text in texts.items():
        if len(text) > MAX_NAME:
            raise BadFile("bad_field", field, why="too_long")


def refuse_tolerance(sides: tuple[float, float], field: str) -> None:
    """Refuse a tolerance in mm whose sides are swapped, beyond any body or all but one."""
    below, above = sides
    if not below < above:
        refuse_field(field, "least_not_below_greatest")
    if above - below < LEAST_WIDTH_MM or max(-below, above) > MAX_MM:
        refuse_field(field, "out_of_range")


def _target_in_unit(target: Json) -> Json:
    """Write a target in inches if it stands on a sixteenth, else in cm, else in mm; exactly."""
    lengths = [target["value_mm"], target["spread_mm"], *(target["tolerance_mm"] or ())]
    known = [mm for mm in lengths if mm is not None]

    def say(mm: float | None, unit: Unit) -> float | None:
        return None if mm is None else short_number(mm, unit)

    unit = Unit.CM
    inches = short_number(target["value_mm"], Unit.IN)
    if inches is not None and (inches * 16).is_integer():
        unit = Unit.IN
    if any(short_number(mm, unit) is None for mm in known):
        unit = Unit.MM
    value, spread, *sides = lengths if unit is Unit.MM else [say(mm, unit) for mm in lengths]
    rest = {k: v for k, v in target.items() if k not in {"value_mm", "spread_mm", "tolerance_mm"}}
    written = {"value": value, "unit": unit.value, "spread": spread, "tolerance": sides or None}
    return {"line": rest.pop("line"), "what": rest.pop("what")} | written | rest
