# SPDX-License-Identifier: MIT
"""Preferences: kept whole, never in the way, never the reason a program does not start."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from fitassist.domain.body import Preferences
from fitassist.errors import StorageFailed
from fitassist.settings import Settings, Window, load_settings, save_settings
from tests.storage.disks import FailingDisk, QuickDisk, everything_in


def test_settings_come_back_as_they_were_saved(tmp_path: Path) -> None:
    settings = Settings(
        units="cm",
        theme="dark",
        confidence=0.9,
        line_tolerance_mm={"waist": (-3.0, 3.0)},
        font_scale=1.5,
        last_person="00ff",
        last_page="fitting",
        window=Window(left=-20, top=3, width=900, height=700, maximized=True),
    )
    save_settings(tmp_path, settings)
    assert load_settings(tmp_path) == (settings, "", None)


def test_without_a_file_there_are_defaults_and_no_problem(tmp_path: Path) -> None:
    assert load_settings(tmp_path) == (Settings(), "", None)
    assert everything_in(tmp_path) == {}


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"[]",
        b"\xff",
        b'{"units":"ell"}',
        b'{"confidence":2}',
        b'{"confidence":NaN}',
        b'{"font_scale":1e999}',
        b'{"window":{"width":1.5}}',
        b'{"x":NaN}',
        b"[" * 100_000,
    ],
)
def test_a_damaged_file_is_kept_aside_and_said(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "settings.json").write_bytes(data)
    settings, problem, aside = load_settings(tmp_path)
    assert (settings, problem) == (Settings(), "settings_damaged")
    assert aside is not None
    assert everything_in(tmp_path) == {aside.name: data}
    assert load_settings(tmp_path).problem == ""  # said once
    save_settings(tmp_path, settings)
    (tmp_path / "settings.json").write_bytes(b"again")
    assert load_settings(tmp_path).aside not in (None, aside)


def test_a_damaged_file_that_cannot_be_moved_still_gives_defaults(tmp_path: Path) -> None:
    (tmp_path / "settings.json").write_bytes(b"{")
    disk = FailingDisk()
    disk.fail("replace")
    assert load_settings(tmp_path, disk) == (Settings(), "settings_damaged", None)
    assert everything_in(tmp_path) == {"settings.json": b"{"}


def test_settings_that_are_no_plain_file_give_defaults(tmp_path: Path) -> None:
    (tmp_path / "settings.json").mkdir()
    assert load_settings(tmp_path) == (Settings(), "settings_unreadable", None)


def test_fields_of_a_newer_program_are_kept(tmp_path: Path) -> None:
    (tmp_path / "settings.json").write_text('{"units":"cm","of_later":[1],"window":{"screen":2}}')
    settings = load_settings(tmp_path).settings
    save_settings(tmp_path, settings.model_copy(update={"theme": "light"}))
    saved = json.loads((tmp_path / "settings.json").read_text())
    assert saved["of_later"] == [1]
    assert saved["window"]["screen"] == 2
    assert (saved["units"], saved["theme"]) == ("cm", "light")


def test_settings_that_cannot_be_saved_leave_the_old_ones(tmp_path: Path) -> None:
    save_settings(tmp_path, Settings(units="cm"))
    disk = FailingDisk(written_before_failing=5)
    disk.fail("write", error=28)
    with pytest.raises(StorageFailed) as caught:
        save_settings(tmp_path, Settings(), disk)
    assert caught.value.code == "disk_full"
    assert load_settings(tmp_path).settings.units == "cm"


def test_the_preferences_of_a_fitting_are_built_from_the_settings() -> None:
    settings = Settings(
        units="cm",
        confidence=0.8,
        default_tolerance_mm=(-5, 4),
        line_tolerance_mm={"bust": (-1, 2)},
        cover_mm=2,
        tape_spread_mm=4,
        padding_follows=True,
        opposite_equal=True,
        checks=True,
    )
    assert settings.preferences(Preferences) == Preferences(
        units="cm",
        confidence=0.8,
        default_tolerance_mm=(-5, 4),
        line_tolerance_mm={"bust": (-1, 2)},
        cover_mm=2,
        tape_spread_mm=4,
        padding_follows=True,
        opposite_equal=True,
        checks=True,
    )
    assert settings.preferences(Preferences, cover_mm=0).cover_mm == 0
    assert Settings().preferences(Preferences) == Preferences(checks=True)


@given(
    st.dictionaries(
        st.sampled_from([*Settings.model_fields, "x"]),
        st.none() | st.integers() | st.floats() | st.text() | st.lists(st.integers()),
    )
)
def test_any_settings_that_load_can_be_saved_and_used(
    tmp_path_factory: pytest.TempPathFactory, values: dict[str, object]
) -> None:
    folder = tmp_path_factory.mktemp("profile")
    (folder / "settings.json").write_text(json.dumps(values))
    settings = load_settings(folder, QuickDisk()).settings
    save_settings(folder, settings, QuickDisk())
    assert load_settings(folder).settings == settings
    assert settings.preferences(Preferences).confidence == settings.confidence


def test_settings_are_never_changed_in_place() -> None:
    with pytest.raises(ValidationError):
        Settings().units = "cm"  # type: ignore[misc]
