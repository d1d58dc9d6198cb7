# SPDX-License-Identifier: MIT
"""A form as a JSON file: strict about what it means, keeping whatever it does not know.

The first half, down to `build`, reads any file of ours and is shared with `body_file`.
"""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Iterable
from typing import Any, NamedTuple, NoReturn, TypeVar

from pydantic import ValidationError

from fitassist.domain.form import Dial, Form, FormLine, KnownGirth, Row, Stand, Torso
from fitassist.domain.form_reach import MAX_PRINTED, MOST_ROWS, field_out_of_reach
from fitassist.domain.lines import Seam
from fitassist.domain.model import Model
from fitassist.domain.units import Unit, parse_length, short_number, to_mm
from fitassist.errors import BadFile, BadLength

FORM_FORMAT = "fitassist-form"
VERSION = 1
MAX_BYTES = 4 * 1024 * 1024
MAX_DEPTH = 64
MAX_NAME = 300  # characters
MAX_NOTE = 4000
MAX_MM = 3000.0  # no length round or along a torso is longer
_TOO_LARGE = 10**400  # a whole number; the largest float has 309 digits

FILE_CODES = (
    "bad_json", "not_object", "too_large", "too_deep", "duplicate_key", "not_finite",
    "foreign_file", "newer_version", "missing_field", "bad_field", "unreadable",
)  # fmt: skip
# What values["why"] of a bad_field can be, besides units.LENGTH_CODES.
FIELD_REASONS = (
    "wrong_type", "not_allowed", "out_of_range", "too_long", "blank", "too_many", "given_twice",
    "same_name", "unknown_line", "unknown_row", "unknown_seam", "unknown_dial",
    "least_not_below_greatest", "outside_range", "bad_click", "inconsistent",
)  # fmt: skip

Json = dict[str, Any]
M = TypeVar("M", bound=Model)


class LengthKey(NamedTuple):
    """A field that is a length: its key in the file's units; ``key_mm`` is the same in mm."""

    key: str
    signed: bool = False
    zero: bool = False


def refuse_field(field: str, why: str, **values: object) -> NoReturn:
    """Refuse a file for one field."""
    raise BadFile("bad_field", field, why=why, **values)


def read_object(text: str) -> Json:
    """Read a text as one JSON object without repeated keys or endless numbers.

    Raises `BadFile`: too_large, too_deep, duplicate_key, not_finite, bad_json, not_object.
    """
    if len(text) > MAX_BYTES or len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        raise BadFile("too_large", most_bytes=MAX_BYTES)
    try:
        data = json.loads(text.removeprefix("\ufeff"), object_pairs_hook=_without_repeats)
    except RecursionError:
        raise BadFile("too_deep", most=MAX_DEPTH) from None
    except json.JSONDecodeError as error:
        raise BadFile("bad_json", line=error.lineno, column=error.colno) from None
    except ValueError:  # a whole number of thousands of digits
        raise BadFile("not_finite") from None
    return checked_object(data)


def checked_object(data: object) -> Json:
    """Return the data if it is a JSON object of finite numbers and bounded depth."""
    if not isinstance(data, dict):
        raise BadFile("not_object")
    level: list[object] = [data]
    for _ in range(MAX_DEPTH):  # no recursion: the depth is what is being judged
        level = [inner for value in level for inner in _contents(value) if not _is_leaf(inner)]
        if not level:
            return data
    raise BadFile("too_deep", most=MAX_DEPTH)


def _is_leaf(value: object) -> bool:
    if isinstance(value, float):
        return math.isfinite(value)
    return (
        value is None
        or isinstance(value, str)
        or (isinstance(value, int) and abs(value) < _TOO_LARGE)
    )


def _contents(value: object) -> Iterable[object]:
    if isinstance(value, dict) and all(isinstance(key, str) for key in value):
        return value.values()
    if isinstance(value, list | tuple):
        return value
    raise BadFile("not_finite" if isinstance(value, int | float) else "bad_json")


def without_format(data: Json, wanted: str) -> Json:
    """Return the data without its format and version, refusing another format or a newer one."""
    kind, version = data.get("format", wanted), data.get("version", VERSION)
    if kind != wanted:
        raise BadFile("foreign_file", "format", format=str(kind)[:MAX_NAME], wanted=wanted)
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        refuse_field("version", "wrong_type")
    if version > VERSION:
        raise BadFile("newer_version", "version", version=version, known=VERSION)
    return {key: value for key, value in data.items() if key not in {"format", "version"}}


def unit_named(data: Json, key: str, allowed: tuple[str, ...], path: str = "") -> Unit | None:
    """Return the unit a field names, or None where it is absent."""
    value = data.get(key)
    if key not in data:
        return None
    if not isinstance(value, str) or value not in allowed:
        refuse_field(path + key, "not_allowed" if isinstance(value, str) else "wrong_type")
    return Unit(value)


def mm_of(value: object, unit: Unit | None, field: str, unit_field: str, kind: LengthKey) -> float:
    """Return the mm of a number or text; `unit` None means the file names none."""
    if isinstance(value, str):
        return _text_mm(value, unit, field, unit_field, kind)
    if isinstance(value, bool) or not isinstance(value, int | float):
        refuse_field(field, "wrong_type")
    if unit is None:
        raise BadFile("missing_field", unit_field)
    if abs(value) > MAX_MM:  # before it becomes a fraction; mm are the smallest unit
        refuse_field(field, "out_of_range")
    mm = to_mm(value, unit)
    if abs(mm) > MAX_MM or not (kind.signed or mm > 0 or (mm == 0 and kind.zero)):
        refuse_field(field, "out_of_range")
    return mm


def _text_mm(value: str, unit: Unit | None, field: str, unit_field: str, kind: LengthKey) -> float:
    size, zero = value.strip(), kind.zero or kind.signed
    below = kind.signed and size[:1] in {"-", "−"}
    units = [unit] if unit else list(Unit)
    try:
        readings = {
            parse_length(size[below:], meant, most_mm=MAX_MM, allow_zero=zero).mm for meant in units
        }
    except BadLength as error:
        refuse_field(field, error.code, text=value[:MAX_NAME])
    if len(readings) > 1:  # the text has no unit either
        raise BadFile("missing_field", unit_field)
    return -readings.pop() if below else readings.pop()


def in_mm(
    data: object, keys: tuple[LengthKey, ...], unit: Unit | None, path: str, unit_field: str
) -> Any:
    """Return an object with its lengths in mm under their ``_mm`` keys; anything else unchanged."""
    if not isinstance(data, dict):
        return data
    result = dict(data)
    for kind in keys:
        plain, exact = kind.key, f"{kind.key}_mm"
        if plain in data and exact in data:
            refuse_field(path + plain, "given_twice")
        key, meant = (plain, unit) if plain in data else (exact, Unit.MM)
        if key in data:
            value = result.pop(key)
            at = path + key, unit_field
            result[exact] = None if value is None else mm_of(value, meant, *at, kind)
    return result


def refuse_long(data: object, key: str, most: int, path: str = "") -> None:
    """Refuse a list longer than any form or body has, before time is spent on every entry."""
    value = data.get(key) if isinstance(data, dict) else None
    if isinstance(value, list | tuple | dict) and len(value) > most:
        refuse_field(path + key, "too_many")


def in_unit(data: Json, keys: tuple[LengthKey, ...], unit: Unit) -> Json:
    """Undo `in_mm`, keeping mm where a short decimal number would not give the same mm again."""
    result: Json = {}
    names = {f"{kind.key}_mm": kind.key for kind in keys}
    for key, value in data.items():
        number = short_number(value, unit) if key in names and value is not None else None
        if value is None or number is not None:
            result[names.get(key, key)] = number
        else:
            result[key] = value
    return result


# Of half a surrogate pair pydantic says json_invalid: no text that could be written again.
_CODES = {"missing": "missing_field", "json_invalid": "bad_json"}
_WHYS = {"enum": "not_allowed", "literal_error": "not_allowed", "value_error": "inconsistent"}
_WHYS["string_too_long"] = "too_long"


def build(model: type[M], data: Json, raw: Json) -> M:
    """Make a model of data; an error names the field as `raw`, the file's own object, has it."""
    try:
        # By way of JSON: strictly, yet lists may become tuples and words become choices.
        return model.model_validate_json(json.dumps(data), strict=True)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False, include_context=False)[0]
    field, kind = _path(first["loc"], raw), first["type"]
    if kind in _CODES:
        raise BadFile(_CODES[kind], field)
    bound = kind.startswith(("greater_than", "less_than", "finite"))
    refuse_field(field, "out_of_range" if bound else _WHYS.get(kind, "wrong_type"))


def _path(location: tuple[int | str, ...], raw: object) -> str:
    path = ""
    for part in location:
        if isinstance(part, int):
            path += f"[{part}]"
            raw = raw[part] if isinstance(raw, list | tuple) and part < len(raw) else None
        else:
            known = raw if isinstance(raw, dict) else {}
            key = part if part in known else part.removesuffix("_mm")
            path += f".{key}" if path else key
            raw = known.get(key)
    return path[:MAX_NAME]


def _without_repeats(pairs: list[tuple[str, Any]]) -> Json:
    data = dict(pairs)
    if len(data) != len(pairs):
        repeated, _ = Counter(key for key, _ in pairs).most_common(1)[0]
        raise BadFile("duplicate_key", repeated[:MAX_NAME])
    return data


_LINE = (LengthKey("height", signed=True), LengthKey("closed_girth"))
_KNOWN_GIRTH = (LengthKey("girth"),)
_NESTED = {
    "torso": (LengthKey("least"), LengthKey("greatest"), LengthKey("length")),
    "stand": (LengthKey("least"), LengthKey("greatest"), LengthKey("height")),
}
_FORM = (LengthKey("shoulder_length"),)
_MOST = {"lines": 64, "rows": MOST_ROWS, "dials": 64}
_MOST_GIRTHS = 100


class _Parts(Model):
    """The parts of a form, each sound in itself, before they are held against each other."""

    lines: tuple[FormLine, ...]
    rows: tuple[Row, ...]
    dials: tuple[Dial, ...]
    torso: Torso = Torso()
    stand: Stand = Stand()


def load_form_text(text: str) -> Form:
    """Read a form from the text of its file; raises `BadFile` with a code of ``FILE_CODES``."""
    return form_from_json(read_object(text))


def form_from_json(data: Json) -> Form:
    """Make a form of a JSON object of the format "fitassist-form", version 1.

    Parameters
    ----------
    data
        The object; it is not changed. A length is a number in the file's ``units`` or a text with
        a unit, or stands in mm under its key with ``_mm`` added.

    Returns
    -------
    Form
        With every field this version does not know, at every level.

    Raises
    ------
    BadFile
        With a code of ``FILE_CODES``, naming the field as in ``dials[3].least``.
    """
    raw = without_format(checked_object(data), FORM_FORMAT)
    unit = unit_named(raw, "units", ("in", "cm"))
    if unit is None and raw.get("dials"):
        # Dial numbers mean nothing without it, and a wrong guess would be wrong by 2.54.
        raise BadFile("missing_field", "units")
    inner = _form_in_mm(raw, unit)
    _refuse_misfits(build(_Parts, inner, raw))
    form = build(Form, inner, raw)
    _refuse_excesses(form)
    return form


def form_to_json(form: Form) -> Json:
    """Return the JSON object from which `form_from_json` makes an equal form."""
    data = form.model_dump(mode="json")
    unit = Unit(form.units)
    data = in_unit(data, _FORM, unit)
    data |= {key: in_unit(data[key], kinds, unit) for key, kinds in _NESTED.items()}
    data["lines"] = [
        in_unit(line, _LINE, unit)
        | {"girths": [in_unit(girth, _KNOWN_GIRTH, unit) for girth in line["girths"]]}
        for line in data["lines"]
    ]
    return {"format": FORM_FORMAT, "version": VERSION} | data


def _form_in_mm(raw: Json, unit: Unit | None) -> Json:
    for kind, most in _MOST.items():
        refuse_long(raw, kind, most)
    data: Json = in_mm(raw, _FORM, unit, "", "units")
    for key, kinds in _NESTED.items():
        if key in raw:
            data[key] = in_mm(raw[key], kinds, unit, f"{key}.", "units")
    lines = raw.get("lines")
    if isinstance(lines, list | tuple):
        data["lines"] = [_line_in_mm(x, unit, f"lines[{i}].") for i, x in enumerate(lines)]
    return data


def _line_in_mm(line: object, unit: Unit | None, path: str) -> Any:
    data = in_mm(line, _LINE, unit, path, "units")
    refuse_long(line, "girths", _MOST_GIRTHS, path)
    if isinstance(data, dict) and isinstance(data.get("girths"), list | tuple):
        girths = {f"{path}girths[{i}].": girth for i, girth in enumerate(data["girths"])}
        for place, girth in girths.items():
            refuse_long(girth, "numbers", _MOST_GIRTHS, place)
        data["girths"] = [in_mm(g, _KNOWN_GIRTH, unit, p, "units") for p, g in girths.items()]
    return data


def _refuse_misfits(parts: _Parts) -> None:
    """Refuse, field by field, what does not fit together; `Form` itself can only say that."""
    for kind in _MOST:
        _refuse_names(kind, [part.name for part in getattr(parts, kind)])
    lines = {line.name for line in parts.lines}
    for i, row in enumerate(parts.rows):
        if row.line not in lines:
            refuse_field(f"rows[{i}].line", "unknown_line")
    rows = {row.name for row in parts.rows}
    for i, dial in enumerate(parts.dials):
        _refuse_dial(dial, rows, f"dials[{i}].")
    for path, part in (("torso", parts.torso), ("stand", parts.stand)):
        if part.least_mm and part.greatest_mm and part.least_mm > part.greatest_mm:
            refuse_field(f"{path}.least", "least_not_below_greatest")


def _refuse_names(kind: str, names: list[str]) -> None:
    for i, name in enumerate(names):
        if not name.strip() or len(name) > MAX_NAME:
            refuse_field(f"{kind}[{i}].name", "too_long" if name.strip() else "blank")
        if name in names[:i]:
            refuse_field(f"{kind}[{i}].name", "same_name")


def _refuse_dial(dial: Dial, rows: set[str], path: str) -> None:
    if dial.row not in rows:
        refuse_field(path + "name", "unknown_row")
    if dial.name.rpartition(".")[2] not in set(Seam):
        refuse_field(path + "name", "unknown_seam")
    for key in ("least", "greatest", "number"):
        if abs(getattr(dial, key)) > MAX_PRINTED:
            refuse_field(path + key, "out_of_range")
    reach = dial.greatest - dial.least
    if reach <= 0:
        refuse_field(path + "least", "least_not_below_greatest")
    if not dial.least - 1e-6 <= dial.number <= dial.greatest + 1e-6:
        refuse_field(path + "number", "outside_range")
    if dial.click is not None and not reach / MAX_PRINTED <= dial.click <= reach:
        refuse_field(path + "click", "bad_click")


def _refuse_excesses(form: Form) -> None:
    """Refuse numbers and texts beyond what any form has."""
    if not 1 <= form.parts <= 64:
        refuse_field("parts", "out_of_range")
    if far := field_out_of_reach(form):
        refuse_field(far, "out_of_range")
    for field, most in (("name", MAX_NAME), ("opens", MAX_NOTE), ("overlaps", MAX_NOTE)):
        if len(getattr(form, field)) > most:
            refuse_field(field, "too_long")
    for i, line in enumerate(form.lines):
        for j, girth in enumerate(line.girths):
            _refuse_girth(girth, form, f"lines[{i}].girths[{j}].")


def _refuse_girth(girth: KnownGirth, form: Form, path: str) -> None:
    if len(girth.undergarment) > MAX_NAME:
        refuse_field(path + "undergarment", "too_long")
    known = {row.name for row in form.rows} | set(form.numbers())
    for name, number in girth.numbers.items():
        if name not in known or abs(number) > MAX_PRINTED:
            why = "out_of_range" if name in known else "unknown_dial"
            refuse_field(f"{path}numbers.{name[:MAX_NAME]}", why)
