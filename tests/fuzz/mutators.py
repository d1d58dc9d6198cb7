# SPDX-License-Identifier: MIT
"""How a sound file is spoilt: bytes, words of JSON, or its structure; every choice is the chance's.

Nothing here knows any of the formats, so a new field of a format is spoilt like the others.
"""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Callable, Sequence
from typing import Any

_TOKEN = re.compile(
    rb'"(?:[^"\\]|\\.)*"|-?\d[\d.eE+-]*|true|false|null|[\[\]{}:,]|\s+|.', re.DOTALL
)

# Values that programs trip over. 1e400 and a number of 400 digits are no floats.
ODD_TOKENS = (
    b"NaN", b"-Infinity", b"1e400", b"-1e400", b"1e308", b"-1e308", b"5e-324", b"-0.0", b"0",
    b"-1", b"1" * 400, b"9" * 5000, b"9007199254740993", b"true", b"null", b"[]", b"{}", b'""',
    b'"\\ud800"', b'"\\u0000"', b'"\\u202e"', b'"../../x"', b'"<b>&lt;"', b'"1e3 mm"', b'"-0 in"',
    b"[" * 70, b"]" * 70, b'{"a":' * 70, b"\xff", b"\xef\xbb\xbf", b"\x00", b'"1 1/0 in"',
)  # fmt: skip
ODD_VALUES: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 2**63, 10**400, -(10**30), 0.0, -0.0, 1e308, -1e308, 5e-324, 1e-9,
    0.1, 1e9, "", " ", "x" * 5000, "\x00", "\u202e", "..", "../x", "/", "NaN", "1e999", "12 1/2 in",
    "1/0", "<b>x</b>", "{0}%s", [], {}, [[]], [None], {"": None}, "girth", "bust", "bust.left",
)  # fmt: skip


LONGEST = 200_000  # bytes; sizes beyond any limit have tests of their own


def _pick(chance: random.Random, values: Sequence[Any]) -> Any:
    return values[chance.randrange(len(values))]


def spoil(data: bytes, chance: random.Random) -> bytes:
    """Return the bytes with a few things changed; most are still JSON, so that more is reached."""
    for _ in range(chance.randrange(4)):
        grown = _structure(data, chance)
        data = grown if len(grown) < LONGEST else data
    if chance.randrange(4) == 0:
        data = _tokens(data, chance)
    if chance.randrange(4) == 0:
        data = _bytes(data, chance)
    return data


def _bytes(data: bytes, chance: random.Random) -> bytes:
    start = chance.randrange(len(data) + 1)
    end = min(len(data), start + chance.randrange(1, 24))
    way = chance.randrange(5)
    if way == 0:
        return data[:start] + bytes([chance.randrange(256)]) + data[start + 1 :]
    if way == 1:
        return data[:start] + data[end:]
    if way == 2:
        return data[:end] + data[start:]
    if way == 3:
        return data[:start] + _pick(chance, ODD_TOKENS) + data[start:]
    return data[:start]


def _tokens(data: bytes, chance: random.Random) -> bytes:
    tokens = _TOKEN.findall(data)
    if not tokens:
        return _pick(chance, ODD_TOKENS)
    one, other = chance.randrange(len(tokens)), chance.randrange(len(tokens))
    if chance.randrange(2):
        tokens[one], tokens[other] = tokens[other], tokens[one]
    else:
        tokens[one] = _pick(chance, ODD_TOKENS)
    return b"".join(tokens)


def _structure(data: bytes, chance: random.Random) -> bytes:
    """Change the object of one line, or of all lines together."""
    lines = data.splitlines(keepends=True) or [b""]
    at = chance.randrange(len(lines))
    for start, end in ((0, len(lines)), (at, at + 1)):
        try:
            value = json.loads(b"".join(lines[start:end]))
        except (ValueError, RecursionError):
            continue
        changed = _change(value, chance)
        try:
            text = json.dumps(changed, ensure_ascii=bool(chance.randrange(2)))
        except (ValueError, RecursionError):
            return data
        said = text.encode("utf-8", "replace") + (b"\n" if lines[end - 1][-1:] == b"\n" else b"")
        return b"".join([*lines[:start], said, *lines[end:]])
    return _tokens(data, chance)


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every (container, key) of a value."""
    found: list[tuple[Any, Any]] = []
    todo = [value]
    while todo and len(found) < 5000:
        one = todo.pop()
        keys = list(one) if isinstance(one, dict) else range(len(one)) if _is_list(one) else ()
        for key in keys:
            found.append((one, key))
            todo.append(one[key])
    return found


def _is_list(value: Any) -> bool:
    return isinstance(value, list)


def _change(value: Any, chance: random.Random) -> Any:
    value = copy.deepcopy(value)
    places = _places(value)
    if not places:
        return _pick(chance, ODD_VALUES)
    container, key = _pick(chance, places)
    _CHANGES[chance.randrange(len(_CHANGES))](container, key, places, chance)
    return value


def _replace(container: Any, key: Any, _places: Any, chance: random.Random) -> None:
    container[key] = _pick(chance, ODD_VALUES)


def _remove(container: Any, key: Any, _places: Any, _chance: random.Random) -> None:
    del container[key]


def _copy(container: Any, key: Any, places: Any, chance: random.Random) -> None:
    """Put here what stands elsewhere."""
    there, other = _pick(chance, places)
    container[key] = copy.deepcopy(there[other])


def _rename(container: Any, key: Any, places: Any, chance: random.Random) -> None:
    """Give a value a key in use elsewhere, or an odd one."""
    if not isinstance(container, dict):
        container.insert(key, copy.deepcopy(container[key]))
        return
    keys = [k for c, k in places if isinstance(c, dict)]
    container[_pick(chance, [*keys, "", "kind", "x" * 400])] = container.pop(key)


def _wrap(container: Any, key: Any, _places: Any, chance: random.Random) -> None:
    inner = container[key]
    for _ in range(_pick(chance, (1, 2, 60, 70, 200))):
        inner = [inner] if chance.randrange(2) else {"a": inner}
    container[key] = inner


def _multiply(container: Any, key: Any, _places: Any, chance: random.Random) -> None:
    inner = container[key]
    if isinstance(inner, list):
        container[key] = inner * _pick(chance, (2, 3, 70))
    elif isinstance(inner, str):
        container[key] = inner * _pick(chance, (2, 400))
    elif isinstance(inner, int | float) and not isinstance(inner, bool):
        factor = _pick(chance, (-1, 0, 1e-6, 10, 1e6, 25.4))
        container[key] = float(inner) * factor if abs(inner) < 1e300 else -inner
    else:
        container[key] = [inner, inner]


_CHANGES: tuple[Callable[[Any, Any, Any, random.Random], None], ...] = (
    _replace, _replace, _replace, _remove, _copy, _copy, _rename, _wrap, _multiply, _multiply,
)  # fmt: skip
