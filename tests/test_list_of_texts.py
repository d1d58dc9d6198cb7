# SPDX-License-Identifier: MIT
"""The list of all words holds what can be seen, typed, pressed and found on disk."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def lister() -> Iterator[ModuleType]:
    sys.path.insert(0, str(ROOT / "packaging"))
    try:
        spec = importlib.util.spec_from_file_location(
            "list_texts", ROOT / "packaging" / "list_texts.py"
        )
        assert spec is not None
        assert spec.loader is not None
        made = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(made)
        yield made
    finally:
        sys.path.remove(str(ROOT / "packaging"))


@pytest.fixture(scope="module")
def listed(lister) -> tuple[tuple[str, str, str], ...]:
    return lister.everything()


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("text", "Stop at the first resistance; never force a dial."),
        ("text", "Bust or chest"),
        ("state", "good_enough"),
        ("state", "measure_again"),
        ("code", "never_read"),
        ("error", "nothing_measured"),
        ("command", "--scripted"),
        ("command", "python packaging/run.py"),
        ("answer", "volunteer"),
        ("key", "F11"),
        ("key", "enter (done)"),
        ("place", "fitting"),
        ("file", "resources/drawings/bust_girth.svg"),
        ("file", "settings.json"),
        ("class", "FittingPage"),
        ("module", "fitassist.planning.plan"),
    ],
)
def test_each_kind_of_word_is_listed(listed, kind: str, text: str) -> None:
    assert text in {said for what, _place, said in listed if what == kind}


def test_every_page_of_the_window_is_listed(listed) -> None:
    from fitassist.gui.main_window import PLACES

    assert {text for kind, _place, text in listed if kind == "place"} == set(PLACES)


def test_one_command_prints_the_list_a_line_each(lister, capsys) -> None:
    assert lister.main(["--kind", "place"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines
    assert all(line.split("\t")[0] == "place" and line.count("\t") == 2 for line in lines)
    assert lister.main(["--what"]) == 2
