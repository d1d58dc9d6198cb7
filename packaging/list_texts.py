# SPDX-License-Identifier: MIT
"""List every visible text, state, command and file name: ``python packaging/list_texts.py``.

One item a line, ``kind<TAB>where<TAB>text``, sorted; for a reading of all words at once, against
originality and for one voice. ``--kind text`` (or ``command``, ``key``, ``place``, ``file``, ...)
leaves the others out.
"""

from __future__ import annotations

import ast
import json
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from make_catalogue import ROOT, template

Item = tuple[str, str, str]
SOURCE = ROOT / "fitassist"
CODE_NAMES = {"code", "kind", "state", "verdict", "reason"}
Node = TypeVar("Node", bound=ast.AST)


def texts() -> Iterator[Item]:
    """Give every sentence, with the files it stands in."""
    for message in template():
        if message.id:
            said = [message.id] if isinstance(message.id, str) else list(message.id)
            places = ",".join(sorted({place for place, _line in message.locations}))
            for text in said:
                yield "text", places, text


@cache
def _modules() -> tuple[tuple[str, ast.Module], ...]:
    return tuple(
        (path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8")))
        for path in sorted(SOURCE.rglob("*.py"))
    )


def _constants() -> Iterator[tuple[str, str]]:
    """Give every text constant with the file it stands in."""
    for place, module in _modules():
        for node in ast.walk(module):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield place, node.value


def _nodes(kind: type[Node]) -> Iterator[tuple[str, Node]]:
    for place, module in _modules():
        for node in ast.walk(module):
            if isinstance(node, kind):
                yield place, node


def choices() -> Iterator[Item]:
    """Give the words of every closed choice: states, kinds, verdicts, in files and protocol."""
    for place, node in _nodes(ast.Subscript):
        if getattr(node.value, "id", "") == "Literal":
            for inner in ast.walk(node.slice):
                if isinstance(inner, ast.Constant) and isinstance(inner.value, str):
                    yield "state", place, inner.value
    for place, made in _nodes(ast.ClassDef):
        if any(getattr(base, "id", "") in ("StrEnum", "Enum") for base in made.bases):
            for statement in made.body:
                if isinstance(statement, ast.Assign) and isinstance(statement.value, ast.Constant):
                    yield "state", place, str(statement.value.value)


def codes() -> Iterator[Item]:
    """Give the codes of reasons, questions and steps."""
    for place, node in _nodes(ast.keyword):
        value = node.value.value if isinstance(node.value, ast.Constant) else None
        if node.arg in CODE_NAMES and isinstance(value, str):
            yield "code", place, value


def errors() -> Iterator[Item]:
    """Give the code of every error that is raised."""
    for place, module in _modules():
        for node in ast.walk(module):
            if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and node.exc.args:
                first = node.exc.args[0]
                if isinstance(first, ast.Constant) and re.fullmatch(r"[a-z_]+", str(first.value)):
                    yield "error", place, str(first.value)


def keys() -> Iterator[Item]:
    """Give the keys that do something, as they are written down."""
    from fitassist.gui.keypad import DEFAULT_KEYS

    for action, key in DEFAULT_KEYS.items():
        yield "key", "fitassist/gui/keypad.py", f"{key} ({action})"
    for place, text in _constants():
        if re.fullmatch(r"(Ctrl\+\S+|F\d{1,2})", text):
            yield "key", place, text


def commands() -> Iterator[Item]:
    """Give what can be typed on a command line, and what a script may answer."""
    for place, text in _constants():
        if re.fullmatch(r"--[a-z][a-z-]+", text):
            yield "command", place, text
    for path in sorted((ROOT / "packaging").glob("*.py")):
        if '__name__ == "__main__"' in path.read_text(encoding="utf-8"):
            yield "command", "packaging", f"python packaging/{path.name}"
    answers = (SOURCE / "scripted" / "answers.py").read_text(encoding="utf-8")
    for word in sorted(set(re.findall(r'"([a-z_]+)"', answers))):
        yield "answer", "fitassist/scripted/answers.py", word


def places() -> Iterator[Item]:
    """Give the pages of the window."""
    from fitassist.gui.main_window import PLACES

    for place in PLACES:
        yield "place", "fitassist/gui/main_window.py", place


def files() -> Iterator[Item]:
    """Give the name of every file the program brings, and of those it writes."""
    for path in sorted((ROOT / "resources").rglob("*")):
        if path.is_file():
            yield "file", "resources", path.relative_to(ROOT).as_posix()
    for place, text in _constants():
        if re.fullmatch(r"[\w-]*\.?[\w-]+\.(json|journal|lock|log|pdf|csv|svg|mo|npz)", text):
            yield "file", place, text


def names() -> Iterator[Item]:
    """Give the names of people, forms, lines and materials in what the program brings."""
    for path in sorted((ROOT / "resources").rglob("*.json")):
        place = path.relative_to(ROOT).as_posix()
        for value in _named(json.loads(path.read_text(encoding="utf-8"))):
            yield "name", place, value


def _named(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in ("name", "undergarment", "notes", "parts") and isinstance(inner, str):
                yield inner
            yield from _named(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _named(inner)


def modules() -> Iterator[Item]:
    """Give the names of packages, modules and what they call their classes."""
    for place, module in _modules():
        yield "module", place, place.removesuffix(".py").replace("/", ".")
        for node in module.body:
            if isinstance(node, ast.ClassDef):
                yield "class", place, node.name


PARTS = (texts, choices, codes, errors, keys, commands, places, files, names, modules)


@cache
def everything() -> tuple[Item, ...]:
    """Return all of it, each once, sorted."""
    return tuple(sorted({item for part in PARTS for item in part() if item[2].strip()}))


def main(arguments: list[str]) -> int:
    """Print the list; return the exit code."""
    if arguments and (len(arguments) != 2 or arguments[0] != "--kind"):
        print(__doc__)
        return 2
    for kind, place, text in everything():
        if not arguments or kind == arguments[1]:
            print(kind, place, json.dumps(text, ensure_ascii=False), sep="\t")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
