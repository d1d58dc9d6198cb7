# SPDX-License-Identifier: MIT
"""How a frozen build is made on each system: what goes in, what stays out, how it is packed.

Only the recipe for Linux has been run. Those for Windows and macOS are checked for being well
formed, and have never been tried.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NAME = "fitassist"
BUNDLE_ID = "org.example.fitassist"  # the same name as in desktop/fitassist.metainfo.xml
FORM_ENDING = "fitassist-form"

# Parts of Python's shelf the program never loads.
LEFT_OUT = (
    "tkinter", "OpenGL", "PySide6.QtQml", "PySide6.QtQuick", "PySide6.QtTest",
    "pyqtgraph.opengl", "pyqtgraph.examples", "matplotlib", "IPython", "pandas", "pytest",
    "hypothesis", "mypy", "babel", "colorspacious", "setuptools", "pip",
)  # fmt: skip

# Plugins for screens that are no desktops, for networks, and for a foreign look; and the
# libraries that only those need (seen with readelf -d).
PRUNED_LINUX = (
    "_internal/PySide6/Qt/plugins/egldeviceintegrations",
    "_internal/PySide6/Qt/plugins/generic",
    "_internal/PySide6/Qt/plugins/networkinformation",
    "_internal/PySide6/Qt/plugins/tls",
    "_internal/PySide6/Qt/plugins/platformthemes/libqgtk3.so",
    "_internal/PySide6/Qt/plugins/platforms/libqeglfs.so",
    "_internal/PySide6/Qt/plugins/platforms/libqlinuxfb.so",
    "_internal/PySide6/Qt/plugins/platforms/libqminimalegl.so",
    "_internal/PySide6/Qt/plugins/platforms/libqvkkhrdisplay.so",
    "_internal/PySide6/Qt/plugins/platforms/libqvnc.so",
    "_internal/*libQt6EglFS*",
    "_internal/PySide6/Qt/lib/libQt6EglFS*",
    "_internal/libgtk-3.so.0",
    "_internal/libgdk-3.so.0",
    "_internal/libgdk_pixbuf-2.0.so.0",
    "_internal/libatk*.so.0",
    "_internal/libatspi.so.0",
    "_internal/libepoxy.so.0",
    "_internal/libcairo-gobject.so.2",
    "_internal/libcairo.so.2",
    "_internal/libpango*.so.0",
)
KEPT_TRANSLATIONS = ("qtbase_de.qm", "qtbase_es.qm", "qtbase_fr.qm")


@dataclass(frozen=True)
class Recipe:
    """One system: arguments of PyInstaller, what is pruned, how the folder is packed."""

    system: str  # as sys.platform has it
    arguments: tuple[str, ...]
    program: str  # inside the folder of the build
    packed: str  # ending of the archive
    is_tried: bool
    pruned: tuple[str, ...] = ()
    plist: dict[str, object] = field(default_factory=dict)


def common_arguments(separator: str) -> tuple[str, ...]:
    """Return the arguments for every system; data are given as source, separator, place."""
    left_out = [part for name in LEFT_OUT for part in ("--exclude-module", name)]
    return (
        "--noconfirm", "--clean", "--name", NAME, "--paths", str(ROOT),
        "--collect-submodules", "fitassist",
        "--add-data", f"{ROOT / 'resources'}{separator}resources",
        *left_out,
    )  # fmt: skip


def recipe_for(system: str, made: Path) -> Recipe:
    """Return the recipe for a system.

    Parameters
    ----------
    system
        As ``sys.platform`` names it: linux, win32 or darwin.
    made
        Where icons made for the build are to be found.

    Raises
    ------
    KeyError
        There is no recipe for that system.
    """
    start = str(ROOT / "packaging" / "frozen_start.py")
    recipes = {
        "linux": Recipe(
            "linux", (*common_arguments(":"), start), NAME, ".tar.xz", True, PRUNED_LINUX
        ),
        "win32": Recipe(
            "win32",
            (*common_arguments(";"), "--windowed", "--icon", str(made / "fitassist.ico"), start),
            f"{NAME}.exe", ".zip", False,
        ),
        "darwin": Recipe(
            "darwin",
            (*common_arguments(":"), "--windowed", "--icon", str(made / "fitassist.icns"),
             "--osx-bundle-identifier", BUNDLE_ID, start),
            f"{NAME}.app/Contents/MacOS/{NAME}", ".zip", False, plist=MAC_FACTS,
        ),
    }  # fmt: skip
    return recipes[system]


# What macOS reads of a program: its files and that it draws sharply on fine screens.
MAC_FACTS: dict[str, object] = {
    "CFBundleDisplayName": "Fitassist",
    "NSHighResolutionCapable": True,
    "CFBundleDocumentTypes": [
        {
            "CFBundleTypeName": "Description of a dress form",
            "CFBundleTypeExtensions": [FORM_ENDING],
            "CFBundleTypeRole": "Editor",
            "LSHandlerRank": "Owner",
        }
    ],
}


def ico(png: bytes) -> bytes:
    """Return a Windows icon of one 256 pixel picture (ICO holds PNG since Windows Vista)."""
    head = struct.pack("<HHH", 0, 1, 1)
    entry = struct.pack("<BBBBHHII", 0, 0, 0, 0, 1, 32, len(png), len(head) + 16)
    return head + entry + png


def icns(png: bytes) -> bytes:
    """Return a macOS icon of one 256 pixel picture (type ic08 holds PNG)."""
    element = b"ic08" + struct.pack(">I", 8 + len(png)) + png
    return b"icns" + struct.pack(">I", 8 + len(element)) + element


# Associates the ending of form descriptions for the user who runs it; %PROGRAM% is filled in.
WINDOWS_REGISTRY = """Windows Registry Editor Version 5.00

[HKEY_CURRENT_USER\\Software\\Classes\\.{ending}]
@="Fitassist.Form"

[HKEY_CURRENT_USER\\Software\\Classes\\Fitassist.Form]
@="Description of a dress form"

[HKEY_CURRENT_USER\\Software\\Classes\\Fitassist.Form\\shell\\open\\command]
@="\\"%PROGRAM%\\" \\"%1\\""
""".replace("{ending}", FORM_ENDING)
