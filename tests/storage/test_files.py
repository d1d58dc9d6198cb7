# SPDX-License-Identifier: MIT
"""Where files live in the source tree, an installation and a frozen build."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

import pytest

from fitassist import files
from fitassist.errors import BadFile, StorageFailed
from fitassist.files import (
    make_folder,
    move_aside,
    profile_dir,
    read_file,
    remove_file,
    resources_dir,
)


def test_in_the_source_tree_resources_lie_beside_the_package() -> None:
    assert resources_dir() == Path(__file__).parents[2] / "resources"
    assert resources_dir().is_dir()


def test_a_frozen_build_has_them_inside(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(sys, "_MEIPASS", str(tmp_path), raising=False)
    assert resources_dir() == tmp_path / "resources"


def test_an_installation_has_them_in_its_shared_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(files, "__file__", str(tmp_path / "site-packages/fitassist/files.py"))
    monkeypatch.setattr(sys, "prefix", str(tmp_path))
    assert resources_dir() == tmp_path / "share" / "fitassist" / "resources"


def test_a_profile_given_is_used_and_made(tmp_path: Path) -> None:
    assert profile_dir(tmp_path / "a" / "b") == tmp_path / "a" / "b"
    assert (tmp_path / "a" / "b").is_dir()


@pytest.mark.skipif(sys.platform != "linux", reason="the place differs by system")
def test_the_usual_profile_follows_the_system(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # XDG Base Directory Specification 0.8: user data lie in $XDG_DATA_HOME.
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert profile_dir() == tmp_path / "fitassist"
    assert stat.S_IMODE((tmp_path / "fitassist").stat().st_mode) == 0o700


def test_a_folder_where_a_file_stands_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    for folder in (tmp_path / "file", tmp_path / "file" / "inner"):
        with pytest.raises(StorageFailed):
            make_folder(folder)


@pytest.mark.skipif(os.name == "nt", reason="no named pipes in folders there")
def test_a_pipe_in_the_place_of_a_file_does_not_block(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(BadFile) as caught:
        read_file(tmp_path / "pipe", 10)
    assert caught.value.code == "not_a_file"


def test_a_file_that_grows_while_it_is_read_is_still_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "file"
    path.write_bytes(b"x" * 11)
    short = tmp_path / "short"
    short.write_bytes(b"")
    about = short.stat()
    monkeypatch.setattr(os, "fstat", lambda _: about)
    with pytest.raises(BadFile) as caught:
        read_file(path, 10)
    assert caught.value.code == "too_large"


def test_a_file_that_may_not_be_read_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(13, "no")

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(BadFile) as caught:
        read_file(tmp_path / "x", 10)
    assert caught.value.code == "no_permission"


def test_moving_aside_never_writes_over_what_was_moved_before(tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    moved = []
    for text in ("one", "two"):
        path.write_text(text)
        moved.append(move_aside(path))
    assert [aside.read_text() for aside in moved] == ["one", "two"]
    with pytest.raises(StorageFailed):
        move_aside(path)


def test_removing_what_is_not_there_is_no_failure_but_a_folder_is(tmp_path: Path) -> None:
    remove_file(tmp_path / "none")
    with pytest.raises(StorageFailed):
        remove_file(tmp_path)
