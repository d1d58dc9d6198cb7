# SPDX-License-Identifier: MIT
"""What makes it a program like others: desktop entry, files it opens, notices, frozen recipes.

The files are held against the specifications' own checkers where those are installed:
desktop-file-validate and appstreamcli (freedesktop.org).
"""

from __future__ import annotations

import configparser
import importlib
import plistlib
import re
import shutil
import struct
import subprocess
import sys
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path
from types import ModuleType

import pytest

from fitassist import __version__

ROOT = Path(__file__).resolve().parent.parent
DESKTOP = ROOT / "packaging" / "desktop"
SYSTEMS = ("linux", "win32", "darwin")


@pytest.fixture
def parts(monkeypatch) -> dict[str, ModuleType]:
    """Load the modules of the frozen build the way Python does when one of them is started."""
    monkeypatch.syspath_prepend(str(ROOT / "packaging"))
    names = ("freeze_recipes", "freeze_package")
    return {name: __import__(name) for name in names}


def project() -> dict:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def entry() -> configparser.SectionProxy:
    read = configparser.ConfigParser(interpolation=None)
    read.optionxform = str  # type: ignore[assignment,method-assign]
    read.read(DESKTOP / "fitassist.desktop", encoding="utf-8")
    return read["Desktop Entry"]


@pytest.mark.skipif(not shutil.which("desktop-file-validate"), reason="its checker is not here")
def test_the_desktop_entry_is_valid():
    told = subprocess.run(
        ["desktop-file-validate", str(DESKTOP / "fitassist.desktop")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (told.returncode, told.stdout) == (0, "")


@pytest.mark.skipif(not shutil.which("appstreamcli"), reason="its checker is not here")
def test_the_description_for_software_centres_is_valid():
    told = subprocess.run(
        ["appstreamcli", "validate", "--no-net", str(DESKTOP / "fitassist.metainfo.xml")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stdout


def test_entry_description_and_association_name_the_same_things():
    meta = ET.parse(DESKTOP / "fitassist.metainfo.xml").getroot()
    mime = ET.parse(DESKTOP / "fitassist-mime.xml").getroot()
    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    kind = mime.find(f"{space}mime-type")
    assert kind is not None
    assert meta.findtext("launchable") == "fitassist.desktop"
    assert meta.findtext("provides/mediatype") == kind.get("type") == entry()["MimeType"].strip(";")
    assert meta.findtext("provides/binary") == entry()["TryExec"]
    assert entry()["Exec"].split() == ["fitassist", "%f"]
    assert (ROOT / "resources" / "icon" / f"{entry()['Icon']}.svg").is_file()
    assert project()["project"]["scripts"] == {"fitassist": "fitassist.app:main"}
    assert meta.findtext("project_license") == "MIT"


def test_installing_takes_every_resource_along():
    covered: set[Path] = set()
    for target, patterns in project()["tool"]["setuptools"]["data-files"].items():
        for pattern in patterns:
            for path in ROOT.glob(pattern):
                if target == f"share/fitassist/{path.parent.relative_to(ROOT).as_posix()}":
                    covered.add(path)
    every = {path for path in (ROOT / "resources").rglob("*") if path.is_file()}
    assert every - covered == set()


def test_every_work_that_is_carried_along_has_its_notice(parts):
    notices = (ROOT / "packaging" / "THIRD_PARTY.md").read_text(encoding="utf-8").lower()
    needed = [re.match(r"[\w-]+", one)[0] for one in project()["project"]["dependencies"]]
    for name in (*needed, *parts["freeze_package"].CARRIED, "geos", "qt 6", "openblas", "fonts"):
        assert name.lower() in notices, name


@pytest.mark.parametrize("system", SYSTEMS)
def test_each_recipe_names_files_that_are_there_and_a_program(parts, tmp_path, system):
    recipe = parts["freeze_recipes"].recipe_for(system, tmp_path)
    assert recipe.system == system
    assert Path(recipe.arguments[-1]).is_file()
    data = recipe.arguments[recipe.arguments.index("--add-data") + 1]
    source = data.rpartition(";" if system == "win32" else ":")[0]
    assert Path(source) == ROOT / "resources"
    assert recipe.is_tried == (system == "linux")
    plistlib.loads(plistlib.dumps(recipe.plist))


def test_a_system_without_a_recipe_is_refused(parts, tmp_path):
    with pytest.raises(KeyError):
        parts["freeze_recipes"].recipe_for("amiga", tmp_path)


def test_icons_for_other_systems_hold_the_picture_as_their_formats_want(parts):
    png = (ROOT / "resources" / "icon" / "fitassist.png").read_bytes()
    ico, icns = parts["freeze_recipes"].ico(png), parts["freeze_recipes"].icns(png)
    # ICO: reserved 0, type 1, one picture; its size and offset are the last two numbers.
    assert struct.unpack("<HHH", ico[:6]) == (0, 1, 1)
    size, offset = struct.unpack("<II", ico[14:22])
    assert ico[offset : offset + size] == png
    # ICNS: the whole length after the mark, then elements of type, length, content.
    assert icns[:4] == b"icns"
    assert struct.unpack(">I", icns[4:8])[0] == len(icns)
    assert icns[8:12] == b"ic08"
    assert icns[16:] == png


def test_icon_pictures_are_read_back_by_another_reader(parts, qapp):
    from PySide6.QtGui import QImage

    png = (ROOT / "resources" / "icon" / "fitassist.png").read_bytes()
    for make, kind in (("ico", "ICO"), ("icns", "ICNS")):
        image = QImage.fromData(getattr(parts["freeze_recipes"], make)(png), kind)
        assert (image.width(), image.height()) == (256, 256), make


def test_the_windows_association_is_well_formed(parts):
    text = parts["freeze_recipes"].WINDOWS_REGISTRY
    assert text.startswith("Windows Registry Editor Version 5.00\n\n")
    keys = re.findall(r"^\[(.+)\]$", text, re.MULTILINE)
    assert len(keys) == 3
    assert all(key.startswith("HKEY_CURRENT_USER\\Software\\Classes\\") for key in keys)
    assert f".{parts['freeze_recipes'].FORM_ENDING}" in keys[0]


def test_the_debian_control_file_has_its_fields(parts):
    control = parts["freeze_package"].debian_control(__version__, 1000, "amd64")
    fields = dict(line.split(": ", 1) for line in control.splitlines() if not line.startswith(" "))
    # Debian policy 5.3: the mandatory fields of a binary package.
    assert {"Package", "Version", "Architecture", "Maintainer", "Description"} <= set(fields)
    assert fields["Version"] == __version__


@pytest.mark.skipif(not shutil.which("dpkg-deb"), reason="only Debian packs its packages")
def test_a_debian_package_holds_program_launcher_and_desktop_files(parts, tmp_path):
    folder = tmp_path / "fitassist"
    folder.mkdir()
    (folder / "fitassist").write_text("#!/bin/sh\n", encoding="utf-8")
    package = tmp_path / "made.deb"
    parts["freeze_package"].make_deb(folder, package, __version__, tmp_path / "deb")
    told = subprocess.run(
        ["dpkg-deb", "--contents", str(package)], capture_output=True, text=True, check=True
    ).stdout
    for place in (
        "./opt/fitassist/fitassist", "./usr/bin/fitassist -> /opt/fitassist/fitassist",
        "./usr/share/applications/fitassist.desktop", "./usr/share/mime/packages/fitassist.xml",
        "./usr/share/icons/hicolor/256x256/apps/fitassist.png",
    ):  # fmt: skip
        assert place in told


def test_the_launcher_of_an_installation_is_this_program():
    module, _, name = project()["project"]["scripts"]["fitassist"].partition(":")
    found = getattr(importlib.import_module(module), name)
    assert found is sys.modules["fitassist.app"].main
