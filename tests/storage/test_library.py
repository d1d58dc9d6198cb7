# SPDX-License-Identifier: MIT
"""All people and forms of one folder: listed, even if damaged; erased, really; never led astray."""

from __future__ import annotations

import itertools
import os
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.errors import BadFile, StorageFailed
from fitassist.session.events import FittingLeft, FittingStarted, PersonNamed, Undone
from fitassist.storage.library import Library
from tests.storage.disks import FailingDisk, clock, everything_in, note

SAMPLE = Path(__file__).parents[1] / "data" / "records"
BAD_IDS = ["", ".", "..", "../x", "a/b", "a\\b", "/etc/x", "A", "a.b", "con", "com1", "a" * 65]
BAD_IDS += ["\x00", "a\n", "-a", "ä", "~", "a b"]


def ids() -> Iterator[str]:
    return (f"{number:016x}" for number in itertools.count(1))


@pytest.fixture
def library(tmp_path: Path) -> Library:
    return Library(tmp_path / "profile", clock, ids().__next__)


def a_form(name: str = "Form in the corner") -> Form:
    seams = ("front", "left", "back", "right")
    return Form(
        name=name,
        lines=(FormLine(name="bust"),),
        rows=(Row(name="bust", line="bust"),),
        dials=tuple(
            Dial(name=f"bust.{seam}", least=34, greatest=41, click=0.25, number=35)
            for seam in seams
        ),
    )


def a_fitting() -> FittingStarted:
    body = Body(name="everyday", targets=(Target(line="bust", value_mm=940),))
    return FittingStarted(fitting_id="f", body=body, form=a_form())


# ---- people


def test_people_are_listed_by_their_last_name_with_what_is_open(tmp_path: Path) -> None:
    times = (f"2026-01-{day:02d}T00:00:00Z" for day in itertools.count(1))
    library = Library(tmp_path, times.__next__, ids().__next__)
    assert library.people() == ()
    anna = library.create_person("Ann")
    anna.append([PersonNamed(name="Anna / ../../x")])
    anna.append([a_fitting()])
    berta = library.create_person("Berta 裁縫")
    berta.append([a_fitting(), FittingLeft()])
    carla = library.create_person("Carla")
    carla.append([a_fitting(), FittingLeft(), Undone(undone_seq=3)])
    for record in (anna, berta):
        record.close()
    listed = library.people()  # Carla is still open: her journal counts too
    assert [(entry.id[-1], entry.name, entry.n_events) for entry in listed] == [
        ("3", "Carla", 4),
        ("2", "Berta 裁縫", 3),
        ("1", "Anna / ../../x", 3),
    ]
    assert [entry.has_open_fitting for entry in listed] == [True, False, True]
    assert [entry.problem for entry in listed] == [None] * 3
    assert listed[0].changed_at > listed[1].changed_at > listed[2].changed_at
    carla.append([FittingLeft()])
    assert library.people()[0].has_open_fitting is False
    carla.close()


def test_a_created_person_is_on_disk_with_the_name_at_once(library: Library) -> None:
    record = library.create_person("Anna")
    assert record.id == "0000000000000001"
    watcher = library.open_person(record.id, read_only=True)
    assert watcher.read_only
    assert [item.event for item in watcher.events] == [PersonNamed(name="Anna")]
    record.close()


def test_damaged_records_are_listed_with_their_problem_and_hide_nobody(
    library: Library, tmp_path: Path
) -> None:
    library.create_person("Anna").close()
    folder = tmp_path / "profile" / "people"
    good = next(folder.glob("*.json")).read_bytes()
    for name, data in {
        "a1.json": good[:-30],
        "a2.json": b"[]",
        "a3.json": good.replace(b'"version":1', b'"version":9'),
        "a4.json": good.replace(b"person_named", b"person_sung"),
        "a5.journal": b"",
        "Not An Id.json": good,
        ".hidden.json": good,
        "a6.txt": good,
    }.items():
        (folder / name).write_bytes(data)
    (folder / "a7.json").mkdir()
    (folder / "a8.json").symlink_to(folder / "a1.json")
    before = everything_in(tmp_path)
    listed = {entry.id: entry for entry in library.people()}
    problems = {name: entry.problem.code for name, entry in listed.items() if entry.problem}
    assert problems == {
        "a1": "truncated",
        "a2": "foreign_file",
        "a3": "newer_version",
        "a4": "bad_event",
        "a5": "document_missing",
        "a7": "not_a_file",
        "a8": "symlink",
    }
    assert listed["0000000000000001"].name == "Anna"
    assert listed["a1"].name == "a1"
    assert everything_in(tmp_path) == before


@pytest.mark.parametrize("bad", BAD_IDS)
def test_an_id_can_never_lead_out_of_the_folder(library: Library, bad: str) -> None:
    library.create_person("Anna").close()
    for act in (
        library.open_person,
        library.erase_person,
        library.backups,
        library.load_form,
        lambda name: library.restore_person(name, 1),
    ):
        with pytest.raises(BadFile) as caught:
            act(bad)
        assert caught.value.code == "bad_id"
    if bad:  # an empty one asks for a new form
        with pytest.raises(BadFile):
            library.save_form(bad, a_form())


def test_a_record_that_is_a_link_out_of_the_folder_is_never_followed(
    library: Library, tmp_path: Path
) -> None:
    record = library.create_person("Anna")
    record.close()
    outside = tmp_path / "outside.json"
    record.path.rename(outside)
    record.path.symlink_to(outside)
    before = outside.read_bytes()
    for read_only in (True, False):
        with pytest.raises(BadFile) as caught:
            library.open_person(record.id, read_only=read_only)
        assert caught.value.code == "symlink"
    library.erase_person(record.id)
    assert outside.read_bytes() == before
    assert library.people() == ()


def test_a_journal_that_is_a_link_is_never_written_through(
    library: Library, tmp_path: Path
) -> None:
    record = library.create_person("Anna")
    outside = tmp_path / "outside"
    outside.write_bytes(b"")
    record.path.with_suffix(".journal").symlink_to(outside)
    with pytest.raises(StorageFailed) as caught:
        record.append([note("secret")])
    assert caught.value.code == "changed_elsewhere"
    assert outside.read_bytes() == b""


def test_erasing_leaves_no_byte_of_the_person_and_no_other_person_touched(
    library: Library, tmp_path: Path
) -> None:
    secret = "Theodora-Unmistakable"
    other = library.create_person("Berta")
    other.close()
    record = library.create_person(secret)
    for number in range(3):
        record.append([note(f"{secret} {number}")])
        record.close()
        record = library.open_person(record.id)
    record.append([note(secret)])
    journal = record.path.with_suffix(".journal")
    journal.with_name(journal.name + ".aside-1").write_text(secret)
    (record.path.parent / f".{record.path.name}.0123.new").write_text(secret)
    lock = record.path.with_suffix(".lock")
    lock.unlink()  # the program died
    berta = other.path.read_bytes()
    assert secret.encode() in b"".join(everything_in(tmp_path).values())
    library.erase_person(record.id)
    assert not [path for path in record.path.parent.iterdir() if record.id in path.name]
    left = everything_in(tmp_path)
    assert secret.encode() not in b"".join(left.values())
    assert [Path(name).name for name in left] == [other.path.name]
    assert other.path.read_bytes() == berta
    assert [entry.name for entry in library.people()] == ["Berta"]


def test_a_person_open_elsewhere_is_not_erased(library: Library, tmp_path: Path) -> None:
    record = library.create_person("Anna")
    record.append([note("here")])
    before = everything_in(tmp_path)
    with pytest.raises(StorageFailed) as caught:
        library.erase_person(record.id)
    assert caught.value.code == "open_elsewhere"
    assert everything_in(tmp_path) == before
    record.append([note("still here")])
    record.close()


def test_a_new_person_never_takes_the_file_of_another(tmp_path: Path) -> None:
    same = iter(["aa", "aa", "bb"])
    library = Library(tmp_path, clock, same.__next__)
    library.create_person("first").close()
    second = library.create_person("second")
    assert second.id == "bb"
    second.close()
    stuck = Library(tmp_path, clock, lambda: "aa")
    with pytest.raises(StorageFailed) as caught:
        stuck.create_person("third")
    assert caught.value.code == "already_exists"


def test_ids_are_drawn_at_random_and_tell_nothing_of_the_name(tmp_path: Path) -> None:
    library = Library(tmp_path, clock)
    made = [library.create_person("Anna") for _ in range(3)]
    for record in made:
        record.close()
        assert len(record.id) == 16
        assert set(record.id) <= set("0123456789abcdef")
    assert len({record.id for record in made}) == 3


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps private folders by other means")
def test_the_folders_made_are_private(library: Library, tmp_path: Path) -> None:
    library.create_person("Anna").close()
    library.save_form("", a_form())
    for name in ("profile", "profile/people", "profile/forms"):
        assert stat.S_IMODE((tmp_path / name).stat().st_mode) == 0o700


def test_a_profile_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    library = Library(tmp_path / "file", clock)
    with pytest.raises(StorageFailed) as caught:
        library.create_person("Anna")
    assert caught.value.code in {"folder_gone", "write_failed"}
    assert library.people() == ()


def test_an_erasing_that_was_refused_half_way_can_be_done_again(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(BadFile) as unknown:
        library.erase_person("aa")
    assert unknown.value.code == "not_found"
    record = library.create_person("Anna")
    record.append([note("one")])
    record.close()

    def refuse(_: Path) -> None:
        raise PermissionError(13, "no")

    with monkeypatch.context() as patch:
        patch.setattr(shutil, "rmtree", refuse)
        with pytest.raises(StorageFailed) as caught:
            library.erase_person(record.id)
    assert caught.value.code == "no_permission"
    assert [entry.name for entry in library.people()] == ["Anna"]
    library.erase_person(record.id)
    assert library.people() == ()


# ---- forms


def test_a_form_comes_back_as_it_was_saved(library: Library) -> None:
    assert library.forms() == ()
    form = a_form("Größe 8, 裁縫")
    form_id = library.save_form("", form)
    assert library.load_form(form_id) == form
    turned = form.at({"bust.front": 36.5})
    assert library.save_form(form_id, turned) == form_id
    assert library.load_form(form_id) == turned
    library.save_form("", a_form("Another"))
    assert [entry.name for entry in library.forms()] == ["Another", "Größe 8, 裁縫"]


def test_damaged_forms_are_listed_with_their_problem(library: Library, tmp_path: Path) -> None:
    library.save_form("good", a_form())
    folder = tmp_path / "profile" / "forms"
    (folder / "cut.json").write_bytes((folder / "good.json").read_bytes()[:-30])
    (folder / "bytes.json").write_bytes(b"\xff\xfe")
    (folder / "link.json").symlink_to(folder / "good.json")
    shutil.copy(SAMPLE / "person_v1.json", folder / "person.json")
    listed = {entry.id: entry.problem.code if entry.problem else "" for entry in library.forms()}
    assert listed.pop("good") == ""
    assert listed.pop("link") == "symlink"
    assert listed.pop("person") == "foreign_file"
    assert listed == {"cut": "bad_json", "bytes": "bad_json"}
    with pytest.raises(BadFile) as caught:
        library.load_form("none")
    assert caught.value.code == "not_found"


def test_a_form_that_cannot_be_saved_leaves_the_earlier_one(tmp_path: Path) -> None:
    disk = FailingDisk(written_before_failing=10)
    library = Library(tmp_path, clock, ids().__next__, disk)
    library.save_form("f", a_form("before"))
    disk.fail("write", error=28)
    with pytest.raises(StorageFailed) as caught:
        library.save_form("f", a_form("after"))
    assert caught.value.code == "disk_full"
    assert library.load_form("f").name == "before"
