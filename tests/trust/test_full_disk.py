# SPDX-License-Identifier: MIT
"""A disk that is really full, and a folder that really may not be written to.

Both need rights of the system (to mount a small disk, to become somebody else). Where these are
missing the tests are skipped and say so; ``test_failing_calls`` then stands for them by injection.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from fitassist.errors import StorageFailed
from fitassist.settings import Settings, load_settings, save_settings
from tests.trust.sessions import Session

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs mount and users of a Unix")
ROOM = 256 * 1024
NOBODY = 65534


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of its own with room for 256 KB."""
    folder = tmp_path / "small"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={ROOM},mode=0700", "tmpfs", str(folder)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True).returncode:
        pytest.skip("no right to mount a small disk here: only injected failures are tested")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def fill(disk: Path, leave: int) -> Path:
    """Fill the disk but for so many bytes, and return the file to remove."""
    ballast = disk / "ballast"
    about = os.statvfs(disk)
    ballast.write_bytes(b"x" * (about.f_bavail * about.f_frsize - leave))
    return ballast


@pytest.mark.parametrize("room_left", [0, 4096])
def test_a_disk_that_fills_up_in_a_fitting_says_so_and_keeps_what_it_acknowledged(
    tmp_path: Path, small_disk: Path, room_left: int
) -> None:
    session = Session(tmp_path, small_disk / "p.json")
    filled: list[Path] = []

    def before(acknowledged: int) -> None:
        if acknowledged == 2 and not filled:
            filled.append(fill(small_disk, room_left))

    code, person, lines = session.run(14, before=before, restless=True)
    errors = [line for line in lines if line["kind"] == "error"]
    assert errors, "the disk was full"
    assert {(line["code"], line["state"]) for line in errors} == {("not_kept", "unchanged")}
    assert "full" in errors[0]["text"]
    assert code == 3
    assert 2 <= len(person.facts) < 14
    assert session.kept() == person.facts
    # Still full: it opens for looking, and after a tidying-up it goes on.
    filled[0].unlink()
    code, later, _lines = session.run(3, restless=True)
    assert (code, len(later.facts), later.refused) == (3, 3, [])
    assert session.kept() == person.facts + later.facts


def test_room_made_while_the_program_waits_is_enough(tmp_path: Path, small_disk: Path) -> None:
    session = Session(tmp_path, small_disk / "p.json")
    filled: list[Path] = []

    def before(acknowledged: int) -> None:
        if acknowledged == 1 and not filled:
            filled.append(fill(small_disk, 0))
        elif filled and filled[0].exists() and acknowledged == len_at_refusal():
            filled[0].unlink()

    asked: list[int] = []

    def len_at_refusal() -> int:
        """The number of answers taken, once it has not risen since the time before."""
        asked.append(len(session.kept()))
        return asked[-1] if asked[-2:-1] == asked[-1:] else -1

    code, person, _lines = session.run(13, before=before, restless=True)
    assert (code, len(person.facts)) == (3, 13)
    assert person.refused
    assert session.kept() == person.facts


def test_a_full_disk_leaves_the_old_settings(small_disk: Path) -> None:
    save_settings(small_disk, Settings(units="cm"))
    fill(small_disk, 0)
    with pytest.raises(StorageFailed) as caught:
        save_settings(small_disk, Settings(units="in", last_person="x"))
    assert caught.value.code == "disk_full"
    assert load_settings(small_disk).settings.units == "cm"
    assert sorted(path.name for path in small_disk.iterdir()) == ["ballast", "settings.json"]


@pytest.fixture
def as_nobody() -> Iterator[Path]:
    """A folder of somebody whom permissions bind; root is bound by none."""
    with tempfile.TemporaryDirectory(prefix="fitassist-nobody-") as name:
        folder = Path(name)
        if os.geteuid() != 0:
            yield folder
            return
        os.chown(folder, NOBODY, NOBODY)
        os.seteuid(NOBODY)
        try:
            yield folder
        finally:
            os.seteuid(0)


def test_a_folder_that_may_not_be_written_to_is_said_and_loses_nothing(as_nobody: Path) -> None:
    (as_nobody / "kept").mkdir(mode=0o700)
    session = Session(as_nobody, as_nobody / "kept" / "p.json")
    session.run(1)  # everything the program needs is loaded and a first document is there

    def before(acknowledged: int) -> None:
        (as_nobody / "kept").chmod(0o700 if person_refused() else 0o500)

    refused: list[int] = []

    def person_refused() -> bool:
        # The first write after the change is refused; then the owner puts it right.
        refused.append(1)
        return len(refused) > 1

    code, person, lines = session.run(2, before=before)
    (as_nobody / "kept").chmod(0o700)
    # The journal is gone after a clean close, so the folder must take a new one.
    errors = [line["code"] for line in lines if line["kind"] == "error"]
    assert errors == ["not_kept"]
    assert (code, len(person.facts)) == (3, 2)
    assert len(session.kept()) == 3


def test_a_record_that_may_not_be_read_is_refused_and_untouched(as_nobody: Path) -> None:
    session = Session(as_nobody, as_nobody / "p.json")
    session.run(1)
    data = session.person.read_bytes()
    session.person.chmod(0)
    code, _person, lines = session.run(1)
    session.person.chmod(0o600)
    assert (code, [line["kind"] for line in lines]) == (2, ["error"])
    assert session.person.read_bytes() == data
    assert not session.person.with_suffix(".lock").exists()
