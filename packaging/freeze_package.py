# SPDX-License-Identifier: MIT
"""What is done with a frozen folder: pruned, licences added, packed, made a Debian package of."""

from __future__ import annotations

import lzma
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from importlib import metadata
from pathlib import Path

from freeze_recipes import KEPT_TRANSLATIONS, NAME, ROOT, Recipe

DESKTOP = ROOT / "packaging" / "desktop"
ICONS = ROOT / "resources" / "icon"
CARRIED = (
    "PySide6-Essentials", "shiboken6", "pyqtgraph", "numpy", "scipy", "shapely", "contourpy",
    "pydantic", "pydantic-core", "annotated-types", "typing-inspection", "typing-extensions",
    "platformdirs", "pyinstaller",
)  # fmt: skip
SYSTEM_LICENCES = Path("/usr/share/common-licenses")
# Libraries that must come from the system, since they belong to its drivers; Debian's names.
NEEDS = (
    "libc6 (>= 2.34)", "libgl1", "libegl1", "libfontconfig1", "libxkbcommon0", "libdbus-1-3",
    "libglib2.0-0 | libglib2.0-0t64",
)  # fmt: skip


def prune(folder: Path, recipe: Recipe) -> None:
    """Take away what the program never loads."""
    for pattern in recipe.pruned:
        for path in folder.glob(pattern):
            shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()
    for translations in folder.glob("**/Qt/translations"):
        for path in translations.iterdir():
            if path.name not in KEPT_TRANSLATIONS:
                path.unlink()
    for link in folder.rglob("*"):  # what pointed to something taken away
        if link.is_symlink() and not link.exists():
            link.unlink()


def add_licences(folder: Path) -> list[str]:
    """Put the notices and every licence file there is beside the program; return what has none."""
    target = folder / "licences"
    target.mkdir(exist_ok=True)
    shutil.copy(ROOT / "packaging" / "THIRD_PARTY.md", folder / "THIRD_PARTY.md")
    shutil.copy(ROOT / "packaging" / "LICENSE", folder / "LICENSE")
    without = []
    for name in CARRIED:
        found = [
            path
            for path in metadata.files(name) or []
            if any(word in path.name.upper() for word in ("LICENSE", "LICENCE", "COPYING"))
        ]
        for path in found:
            source = Path(str(path.locate()))
            if source.is_file():
                shutil.copy(source, target / f"{name}-{path.name}")
        if not found:
            without.append(name)
    for name in ("LGPL-3", "GPL-3", "GPL-2", "LGPL-2.1"):
        if (SYSTEM_LICENCES / name).is_file():
            shutil.copy(SYSTEM_LICENCES / name, target / name)
    return without


def pack(folder: Path, archive: Path) -> int:
    """Pack a folder and return the size in bytes."""
    archive.unlink(missing_ok=True)
    if archive.suffix == ".zip":
        with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as file:
            for path in sorted(folder.rglob("*")):
                file.write(path, Path(folder.name) / path.relative_to(folder))
    else:
        with (
            lzma.open(archive, "wb", preset=3) as stream,
            tarfile.open(fileobj=stream, mode="w") as tar,
        ):
            tar.add(folder, arcname=folder.name, filter=_nobodys)
    return archive.stat().st_size


def _nobodys(entry: tarfile.TarInfo) -> tarfile.TarInfo:
    entry.uid = entry.gid = 0
    entry.uname = entry.gname = "root"
    return entry


def debian_control(version: str, installed_kb: int, architecture: str) -> str:
    """Return the control file of the Debian package."""
    return (
        f"Package: {NAME}\n"
        f"Version: {version}\n"
        f"Architecture: {architecture}\n"
        "Maintainer: the Fitassist authors <fitassist@example.org>\n"
        "Section: misc\n"
        "Priority: optional\n"
        f"Installed-Size: {installed_kb}\n"
        f"Depends: {', '.join(NEEDS)}\n"
        "Recommends: libxcb-cursor0\n"
        "Description: set an adjustable dress form to one person\n"
        " Says which dials of an adjustable dress form to set to which numbers, asks for\n"
        " measurements where one is worth taking, and tells what is left for padding.\n"
    )


def installed_files() -> dict[str, Path]:
    """Return where each file of the desktop goes below ``/usr``."""
    return {
        "share/applications/fitassist.desktop": DESKTOP / "fitassist.desktop",
        "share/metainfo/org.example.fitassist.metainfo.xml": DESKTOP / "fitassist.metainfo.xml",
        "share/mime/packages/fitassist.xml": DESKTOP / "fitassist-mime.xml",
        "share/icons/hicolor/256x256/apps/fitassist.png": ICONS / "fitassist.png",
        "share/icons/hicolor/scalable/apps/fitassist.svg": ICONS / "fitassist.svg",
        "share/doc/fitassist/copyright": ROOT / "packaging" / "THIRD_PARTY.md",
    }


def make_deb(folder: Path, target: Path, version: str, work: Path) -> int | None:
    """Make a Debian package of a frozen folder; return its size, or None without dpkg-deb."""
    if shutil.which("dpkg-deb") is None:
        return None
    shutil.rmtree(work, ignore_errors=True)
    shutil.copytree(folder, work / "opt" / NAME, symlinks=True)
    for place, source in installed_files().items():
        path = work / "usr" / place
        path.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(source, path)
        path.chmod(0o644)
    command = work / "usr" / "bin" / NAME
    command.parent.mkdir(parents=True)
    command.symlink_to(f"/opt/{NAME}/{NAME}")
    size = sum(path.lstat().st_size for path in work.rglob("*") if path.is_file())
    architecture = subprocess.run(
        ["dpkg", "--print-architecture"], capture_output=True, text=True, check=True
    ).stdout.strip()
    control = work / "DEBIAN" / "control"
    control.parent.mkdir()
    control.write_text(debian_control(version, size // 1024, architecture), encoding="utf-8")
    for path in (work, *work.rglob("*")):
        if path.is_dir() and not path.is_symlink():
            path.chmod(0o755)
    target.unlink(missing_ok=True)
    subprocess.run(
        ["dpkg-deb", "--root-owner-group", "-Zxz", "-z3", "--build", str(work), str(target)],
        check=True, stdout=subprocess.DEVNULL, env={**os.environ, "LC_ALL": "C"},
    )  # fmt: skip
    shutil.rmtree(work)
    return target.stat().st_size


def add_desktop_files(folder: Path, system: str, registry: str) -> None:
    """Put what ties a folder to the desktop beside the program, for whoever only unpacks it."""
    if system == "linux":
        for place, source in installed_files().items():
            if place.startswith("share/doc"):
                continue
            path = folder / place
            path.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, path)
    elif system == "win32":
        (folder / "associate.reg").write_text(registry, encoding="utf-16")


def is_current_system(recipe: Recipe) -> bool:
    """Tell whether a recipe is the one of the system this runs on."""
    return sys.platform.startswith(recipe.system)
