# SPDX-License-Identifier: MIT
"""What the operating system must bring along for Qt, and the sentence that says what is missing.

Standard library only. Each library is really loaded, not looked up by name, so a broken or
foreign one counts as missing too. Other systems than Linux bring all of this with them.
"""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

# Direct needs of QtCore, QtGui, QtWidgets and QtNetwork of PySide6-Essentials 6.11.3, read from
# the libraries' own headers (readelf -d); the package names are those of Debian and Ubuntu.
QT_LIBRARIES = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
}
# The same for the plugin that draws on an X display.
XCB_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libX11-xcb.so.1": "libx11-xcb1",
}
# Programs the test under a virtual screen starts, and the packages that bring them.
SCREEN_PROGRAMS = {
    "Xvfb": "xvfb",
    "xvfb-run": "xvfb",
    "xauth": "xauth",
    "xdotool": "xdotool",
    "openbox": "openbox",
    "pdftotext": "poppler-utils",
}
# Releases from before the 64-bit time change renamed libglib2.0-0 (Debian 13, Ubuntu 24.04).
OLD_RELEASES = {"bullseye", "bookworm", "focal", "jammy"}

# Runs in the project's own Python: only a window system that really answers counts.
WINDOW_PROBE = "from PySide6.QtWidgets import QApplication; QApplication(['probe'])"


def can_load(soname: str) -> bool:
    """Tell whether the shared library `soname` really loads."""
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def missing_libraries(wanted: Iterable[str], load: Callable[[str], bool] = can_load) -> list[str]:
    """Name the libraries of the table `wanted` that do not load; none outside Linux."""
    if not sys.platform.startswith("linux"):
        return []
    return [soname for soname in wanted if not load(soname)]


def missing_programs(find: Callable[[str], str | None] = shutil.which) -> list[str]:
    """Name the programs for the test under a virtual screen that are not installed."""
    return [name for name in SCREEN_PROGRAMS if find(name) is None]


def release_facts(path: str = "/etc/os-release") -> dict[str, str]:
    """Read the keys of an os-release file; empty when there is none."""
    try:
        lines = Path(path).read_text(encoding="utf-8").splitlines()
    except OSError:
        return {}
    pairs = (line.partition("=") for line in lines if "=" in line and not line.startswith("#"))
    return {key.strip(): value.strip().strip("\"'") for key, _, value in pairs}


def packages_for(names: Iterable[str], facts: Mapping[str, str]) -> list[str]:
    """Name the packages that bring the libraries or programs `names` on this release, in order."""
    table = {**QT_LIBRARIES, **XCB_LIBRARIES, **SCREEN_PROGRAMS}
    code_name = facts.get("UBUNTU_CODENAME") or facts.get("VERSION_CODENAME", "")
    packages: list[str] = []
    for name in names:
        package = table[name]
        if package == "libglib2.0-0" and code_name not in OLD_RELEASES:
            package = "libglib2.0-0t64"
        if package not in packages:
            packages.append(package)
    return packages


def apt_command(packages: Iterable[str]) -> str:
    """Write the command that installs `packages`, with sudo for whoever is not root."""
    sudo = "" if hasattr(os, "geteuid") and os.geteuid() == 0 else "sudo "
    return f"{sudo}apt-get update && {sudo}apt-get install -y {' '.join(packages)}"


def missing_sentence(
    names: list[str], facts: Mapping[str, str], has_apt: bool, more_packages: Iterable[str] = ()
) -> str:
    """Say which libraries or programs are missing and what brings them.

    Parameters
    ----------
    names
        Libraries and programs of the tables above.
    facts
        The keys of the os-release file.
    has_apt
        Whether apt-get is there to bring them.
    more_packages
        What will be asked for next, so that one command brings all.
    """
    lacks = f"This computer lacks parts that are needed: {', '.join(names)}.\n"
    packages = [*packages_for(names, facts), *more_packages]
    if has_apt:
        return f"{lacks}This command brings them:\n  {apt_command(packages)}"
    return (
        f"{lacks}Install the packages that bring them with your system's package tool; "
        f"on Debian they are called {' '.join(packages)}."
    )


def complaint_of(names: list[str], more_packages: Iterable[str] = ()) -> str:
    """Say that `names` are missing on this computer; empty when the list is."""
    if not names:
        return ""
    has_apt = shutil.which("apt-get") is not None
    return missing_sentence(names, release_facts(), has_apt, more_packages)


def library_complaint(xcb: bool, more_packages: Iterable[str] = ()) -> str:
    """Say which libraries Qt needs and this computer lacks; empty when none.

    Parameters
    ----------
    xcb
        Whether a window on an X display is wanted as well.
    more_packages
        What will be asked for next, so that one command brings all.
    """
    wanted = {**QT_LIBRARIES, **XCB_LIBRARIES} if xcb else QT_LIBRARIES
    return complaint_of(missing_libraries(wanted), more_packages)


def missing_for_screen() -> list[str]:
    """Name what the tests under a virtual screen lack: libraries and programs."""
    return missing_libraries(XCB_LIBRARIES) + missing_programs()


def chosen_platform(environ: Mapping[str, str]) -> str:
    """Tell the window system Qt will use: x11, wayland, none, or own when one was asked for."""
    if environ.get("QT_QPA_PLATFORM"):
        return "own"
    if not sys.platform.startswith("linux"):
        return "own"
    if environ.get("WAYLAND_DISPLAY"):
        return "wayland"
    return "x11" if environ.get("DISPLAY") else "none"


def display_complaint(environ: Mapping[str, str]) -> str:
    """Say that there is no screen to open a window on; empty when there is one."""
    if chosen_platform(environ) != "none":
        return ""
    return (
        "There is no screen here to open a window on (no DISPLAY, no WAYLAND_DISPLAY).\n"
        "Run the command in a terminal inside a desktop session; over ssh, use `ssh -X`."
    )


def window_complaint(python: Path) -> str:
    """Open and close Qt's connection to the screen in a child; say what it met, or nothing."""
    found = subprocess.run(
        [str(python), "-c", WINDOW_PROBE], capture_output=True, text=True, check=False
    )
    if found.returncode == 0:
        return ""
    said = [line.strip() for line in found.stderr.splitlines() if line.strip()]
    if any("could not connect to display" in line for line in said):
        return (
            f"The screen named by DISPLAY={os.environ.get('DISPLAY', '')} does not answer.\n"
            "Run the command in a terminal inside a desktop session; over ssh, use `ssh -X`."
        )
    libraries = library_complaint(xcb=True)
    if libraries:
        return libraries
    return "Qt could not open a window here. It said:\n  " + "\n  ".join(said[-6:])
