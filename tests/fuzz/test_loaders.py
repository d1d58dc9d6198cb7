# SPDX-License-Identifier: MIT
"""Spoilt and hostile bytes at every way in: understood, or refused by name, and quickly."""

from __future__ import annotations

import random
import time
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitassist.domain import body_file, form_file
from fitassist.errors import BadFile, FitError
from fitassist.scripted.lines import LONGEST_LINE
from fitassist.settings import FILE_NAME, load_settings
from fitassist.storage import library, record
from tests.fuzz import run
from tests.fuzz.loaders import LOADERS, MemoryDisk
from tests.fuzz.mutators import spoil
from tests.fuzz.run import REGRESSIONS, SLOWEST_S, cases, try_case

CASES = 400  # of each way in; the long form has 200,000

HOSTILE = {
    "nothing": b"",
    "one bracket": b"[",
    "brackets without end": b"[" * 100_000,
    "objects without end": b'{"a":' * 100_000,
    "brackets closed": b"[" * 5000 + b"]" * 5000,
    "brackets in a text": b'{"format": "' + b"[" * 5000 + b'"}',
    "a quote and no end": b'"' + b"\\" * 99_999,
    "quotes without end": b'{"a":"' * 20_000,
    "a number of a hundred thousand digits": b'{"version": ' + b"9" * 100_000 + b"}",
    "a large exponent": b'{"version": 1e999999999}',
    "not a number": b'{"version": NaN}',
    "a key twice": b'{"version": 1, "version": 2}',
    "half a character": b'{"version": "\\ud800"}',
    "no text": b"\x00\xff\xfe" * 1000,
    "utf-16": '{"version": 1}'.encode("utf-16"),
    "a picture": b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR",
    "many keys": b"{" + b",".join(b'"k%d":0' % i for i in range(20_000)) + b"}",
    "many entries": b'{"events":[' + b"0," * 50_000 + b"0]}",
    "a version beyond numbers": b'{"version": ' + b"9" * 300 + b"}",
    "true for one": b'{"version": true}',
}


@pytest.mark.parametrize("name", LOADERS)
def test_the_examples_that_are_spoilt_are_sound(name: str) -> None:
    for seed in LOADERS[name].seeds():
        assert try_case(LOADERS[name], seed) == "understood"


@pytest.mark.parametrize("name", LOADERS)
def test_spoilt_bytes_are_understood_or_refused(name: str) -> None:
    loader, found = LOADERS[name], set()
    for data in cases(loader, seed=2026, count=CASES):
        start = time.process_time()
        found.add(try_case(loader, data))
        assert time.process_time() - start < SLOWEST_S
    assert "understood" in found
    # What is wrong with settings and journals is told by what they return.
    # A table is refused for few reasons: a cell that says nothing is no fault of the table.
    few = 3 if name.endswith("_table") else 1 if name in ("settings", "journal") else 5
    assert len(found) >= few, found


@pytest.mark.parametrize("name", LOADERS)
@settings(max_examples=25)
@given(chance=st.randoms(use_true_random=False), seed=st.integers(0, 7))
def test_any_bytes_made_of_sound_ones_are_understood_or_refused(
    name: str, chance: random.Random, seed: int
) -> None:
    seeds = LOADERS[name].seeds()
    try_case(LOADERS[name], spoil(seeds[seed % len(seeds)], chance))


@pytest.mark.parametrize("name", LOADERS)
def test_hostile_bytes_cost_little_time_and_memory(name: str) -> None:
    loader = LOADERS[name]
    try_case(loader, loader.seeds()[0])  # what is read once is no cost of the bytes
    for what, data in HOSTILE.items():
        tracemalloc.start()
        start = time.process_time()
        try:
            try_case(loader, data)
        finally:
            peak = tracemalloc.get_traced_memory()[1]
            tracemalloc.stop()
        assert time.process_time() - start < SLOWEST_S, what
        assert peak < 40 * len(data) + 4_000_000, what


@pytest.mark.parametrize(
    "path", sorted(REGRESSIONS.glob("*/*.case")), ids=lambda path: f"{path.parent.name}-{path.stem}"
)
def test_what_once_failed_is_understood_or_refused(path: Path) -> None:
    try_case(LOADERS[path.parent.name], path.read_bytes())


def test_there_are_cases_that_once_failed() -> None:
    assert {path.parent.name for path in REGRESSIONS.glob("*/*.case")} <= set(LOADERS)
    assert len(list(REGRESSIONS.glob("*/*.case"))) >= 4


def test_the_long_form_says_what_fails(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The runner itself sees a loader that fails otherwise than by refusing."""
    loader = LOADERS["line"]
    assert run.main(["--loader", "line", "--cases", "50"]) == 0

    def faulty(data: bytes) -> object:
        return loader.load(data) if data in loader.seeds() else data[10**9]

    monkeypatch.setitem(LOADERS, "line", run.Loader(loader.seeds, faulty))
    assert run.main(["--loader", "line", "--cases", "50"]) == 1
    assert "FAILED IndexError at test_loaders.py" in capsys.readouterr().out


# ---- sizes that are claimed or real


def test_each_file_has_a_size_beyond_which_it_is_not_read(tmp_path: Path) -> None:
    """Sparse files: they claim gigabytes and take no room."""
    for name in ("settings.json", "form.json", "a1.json", "a1.journal"):
        with (tmp_path / name).open("wb") as file:
            file.truncate(8 * 2**30)
    tracemalloc.start()
    assert load_settings(tmp_path, MemoryDisk()).problem == "settings_unreadable"
    (tmp_path / "forms").mkdir()
    (tmp_path / "form.json").rename(tmp_path / "forms" / "f.json")
    kept = library.Library(tmp_path, lambda: "")
    assert [entry.problem.code for entry in kept.forms() if entry.problem] == ["too_large"]
    with pytest.raises(BadFile) as caught:
        record.Record.open(tmp_path / "a1.json", lambda: "", read_only=True)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert caught.value.code == "too_large"
    assert peak < 1_000_000
    text = " " * (form_file.MAX_BYTES + 1)
    for load in (form_file.load_form_text, body_file.load_body_text):
        with pytest.raises(FitError) as refused:
            load(text)
        assert refused.value.code == "too_large"
    long = b'{"to":7,"answer":"' + b"x" * LONGEST_LINE + b'"}'
    assert try_case(LOADERS["line"], long) != "understood"


def test_settings_that_could_not_be_written_again_are_kept_aside(tmp_path: Path) -> None:
    """Fields of a later version are kept; these could be read once and never again."""
    for text in (
        '{"later": 1e999}',
        '{"later": "\\ud800"}',
        '{"\\udc00": 1}',
        '{"later": ' + "[" * 900 + "]" * 900 + "}",
        '{"default_tolerance_mm": [6, -6]}',
        '{"default_tolerance_mm": [0, 0]}',
        '{"line_tolerance_mm": {"hip": [-1e308, 1e308]}}',
    ):
        (tmp_path / FILE_NAME).write_text(text)
        found = load_settings(tmp_path, MemoryDisk())
        assert found.problem == "settings_damaged", text
        assert found.aside is not None
        assert found.aside.read_text() == text
