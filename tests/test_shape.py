# SPDX-License-Identifier: MIT
"""The shape of the project itself: sizes, names, licence lines, layers, and what loads what."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
CODE_FOLDERS = ("fitassist", "tests", "packaging")
TOP_LEVEL_NAMES = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "fitassist",
    "resources",
    "tests",
    "packaging",
}
MADE_FOLDERS = {"__pycache__", "build", "dist"}
MAX_FILE_LINES = 400
MAX_FUNCTION_LINES = 60
BANNED_STEMS = {"utils", "helpers", "common", "manager", "misc", "base"}
LICENCE_LINE = "# SPDX-License-Identifier: MIT"
TEXT_ENDINGS = {"", ".py", ".md", ".toml", ".json", ".jsonl", ".svg", ".txt", ".csv", ".yml"}
# Written in pieces, so that this file does not find itself.
MACHINE_PATH = re.compile(
    r"(?<![\w.~/])/(?:{})/\w|\b[A-Z]:\\{}\\".format("work|home|root|Users", "Users")
)
REGISTRY_HOST = re.compile("py" r"pi\.org|python" r"hosted\.|npm" r"js\.|index" "-url")


def _is_made(path: Path) -> bool:
    """Tell whether a path is something a tool left, not part of the project."""
    parts = path.relative_to(ROOT).parts
    return any(
        part in MADE_FOLDERS
        or part.endswith(".egg-info")
        or (part.startswith(".") and part not in {".ci", ".gitignore", ".gitattributes"})
        for part in parts
    )


def _project_files() -> list[Path]:
    tops = [path for path in ROOT.iterdir() if not _is_made(path)]
    found = [path for path in tops if path.is_file()]
    for top in tops:
        if top.is_dir():
            found += [path for path in top.rglob("*") if path.is_file() and not _is_made(path)]
    return sorted(found)


def _modules() -> list[Path]:
    found = [
        path
        for path in _project_files()
        if path.suffix == ".py" and path.relative_to(ROOT).parts[0] in CODE_FOLDERS
    ]
    assert len(found) > 10, "the modules were not found"
    return found


def _functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def _named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    sizes = {_named(p): len(p.read_text(encoding="utf-8").splitlines()) for p in _modules()}
    assert {name: size for name, size in sizes.items() if size > MAX_FILE_LINES} == {}


def test_no_function_is_longer_than_sixty_lines() -> None:
    too_long = {}
    for path in _modules():
        for function in _functions(path):
            length = (function.end_lineno or 0) - function.lineno + 1
            if length > MAX_FUNCTION_LINES:
                too_long[f"{_named(path)}:{function.name}"] = length
    assert too_long == {}


def test_every_module_opens_with_its_licence_and_a_docstring() -> None:
    wrong = []
    for path in _modules():
        text = path.read_text(encoding="utf-8")
        lines = text.splitlines() or [""]
        if lines[0].startswith("#!"):
            lines = lines[1:]
        if lines[0] != LICENCE_LINE or not ast.get_docstring(ast.parse(text)):
            wrong.append(_named(path))
    assert wrong == []


def test_no_module_has_a_name_that_says_nothing() -> None:
    assert [_named(path) for path in _modules() if path.stem in BANNED_STEMS] == []


def test_the_top_folder_holds_only_what_belongs_there() -> None:
    names = {path.name for path in ROOT.iterdir() if not _is_made(path)}
    assert {name for name in names if not name.startswith(".")} - TOP_LEVEL_NAMES == set()


@pytest.mark.parametrize("pattern", [MACHINE_PATH, REGISTRY_HOST], ids=["machine", "registry"])
def test_no_text_names_a_machine_path_or_a_package_registry(pattern: re.Pattern[str]) -> None:
    found = []
    for path in _project_files():
        if path.suffix in TEXT_ENDINGS:
            lines = path.read_text(encoding="utf-8").splitlines()
            found += [
                f"{_named(path)}:{number}: {line.strip()[:80]}"
                for number, line in enumerate(lines, start=1)
                if pattern.search(line)
            ]
    assert found == []


def test_the_patterns_for_machine_paths_and_registries_find_some() -> None:
    assert MACHINE_PATH.search("open('/ho" + "me/somebody/x')")
    assert MACHINE_PATH.search("see /wo" + "rk/there")
    assert not MACHINE_PATH.search("fitassist/wo" + "rk/here and ~/ho" + "me/x")
    assert REGISTRY_HOST.search("https://py" + "pi.org/simple")


def test_every_resource_file_loads_as_what_it_is() -> None:
    data = [p for p in _project_files() if p.relative_to(ROOT).parts[0] == "resources"]
    assert data, "no resources were found"
    for path in data:
        if path.suffix == ".json":
            json.loads(path.read_text(encoding="utf-8"))
        elif path.suffix == ".svg":
            assert ET.parse(path).getroot().tag == "{http://www.w3.org/2000/svg}svg", _named(path)
        elif path.suffix == ".png":
            assert path.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n", _named(path)


def _run_child(code: str) -> str:
    """Run `code` in a Python of its own, at the project's folder; return what it printed."""
    child = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=ROOT
    )
    assert child.returncode == 0, child.stdout + child.stderr
    return child.stdout


def test_the_layers_import_only_what_they_may() -> None:
    said = _run_child(
        "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports())"
    )
    assert "0 broken" in said


IMPORT_CORE_WITHOUT_QT = """
import importlib, pkgutil, sys

class NoQt:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"PySide6", "shiboken6", "pyqtgraph"}:
            raise ImportError(f"{name} is not to be had here")

sys.meta_path.insert(0, NoQt())
import fitassist
outer = ("fitassist.gui", "fitassist.app", "fitassist.__main__")
found = pkgutil.walk_packages(fitassist.__path__, "fitassist.", onerror=lambda name: None)
names = [m.name for m in found if not m.name.startswith(outer)]
for name in names:
    importlib.import_module(name)
print(len(names))
"""


def test_everything_but_the_window_works_where_qt_is_not_installed() -> None:
    assert int(_run_child(IMPORT_CORE_WITHOUT_QT)) > 10


def test_the_window_opens_without_waiting_for_the_heavy_mathematics() -> None:
    code = "import sys, fitassist.gui.main_window; print({'scipy', 'shapely'} & set(sys.modules))"
    assert _run_child(code).strip() == "set()"
