# SPDX-License-Identifier: MIT
"""The ground all tests stand on: no screen, no network, no files of the user, always the same."""

from __future__ import annotations

import itertools
import os
import shutil
import socket
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

# Before anything can load Qt or ask for a folder.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["LC_ALL"] = "C.UTF-8"
os.environ["LANG"] = "C.UTF-8"
os.environ.pop("LANGUAGE", None)

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "ci",
    derandomize=True,
    deadline=None,
    max_examples=30,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))

FOLDER_VARIABLES = {
    "HOME": "home",
    "XDG_CONFIG_HOME": "config",
    "XDG_DATA_HOME": "data",
    "XDG_STATE_HOME": "state",
    "XDG_CACHE_HOME": "cache",
    "XDG_DOCUMENTS_DIR": "documents",
    "APPDATA": "roaming",
    "LOCALAPPDATA": "local",
}
SCREEN_PROGRAMS = ("Xvfb", "xauth", "xdotool")

_folder_numbers = itertools.count(1)


@pytest.fixture(scope="session")
def all_folders() -> Iterator[Path]:
    """One folder outside the project for what the program would keep for its user."""
    with tempfile.TemporaryDirectory(prefix="fitassist-tests-") as name:
        yield Path(name)


@pytest.fixture(autouse=True)
def own_folders(all_folders: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give each test folders of its own; they are made only when something is written."""
    folder = all_folders / str(next(_folder_numbers))
    for variable, name in FOLDER_VARIABLES.items():
        monkeypatch.setenv(variable, str(folder / name))
    return folder


@pytest.fixture(scope="session", autouse=True)
def no_network() -> Iterator[None]:
    """Let no test reach beyond this computer; sockets between its own processes are fine."""
    connect, connect_ex = socket.socket.connect, socket.socket.connect_ex
    local_families = {getattr(socket, "AF_UNIX", None)}

    def guarded_connect(self: socket.socket, address: Any) -> None:
        if self.family not in local_families:
            raise AssertionError(f"a test reached for the network: {address!r}")
        connect(self, address)

    def guarded_connect_ex(self: socket.socket, address: Any) -> int:
        if self.family not in local_families:
            raise AssertionError(f"a test reached for the network: {address!r}")
        return connect_ex(self, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", guarded_connect)
        patch.setattr(socket.socket, "connect_ex", guarded_connect_ex)
        yield


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave benchmarks to their own command, and say when the virtual screen is missing.

    With CI set nothing is skipped: there a missing screen must fail.
    """
    if "bench" not in (config.option.markexpr or ""):
        bench = [item for item in items if item.get_closest_marker("bench")]
        if bench:
            config.hook.pytest_deselected(items=bench)
            items[:] = [item for item in items if not item.get_closest_marker("bench")]
    missing = [name for name in SCREEN_PROGRAMS if shutil.which(name) is None]
    if missing and not os.environ.get("CI"):
        skip = pytest.mark.skip(reason=f"needs {', '.join(missing)} for a virtual screen")
        for item in items:
            if item.get_closest_marker("outside"):
                item.add_marker(skip)


def _grab_windows(folder: Path, test_name: str) -> list[Path]:
    """Save a picture of each window that is open just now."""
    widgets = sys.modules.get("PySide6.QtWidgets")
    if widgets is None or widgets.QApplication.instance() is None:
        return []
    saved = []
    plain = "".join(c if c.isalnum() or c in "-_" else "-" for c in test_name)[:80]
    for number, window in enumerate(widgets.QApplication.topLevelWidgets(), start=1):
        path = folder / f"{plain}-{number}.png"
        if window.isVisible() and window.grab().save(str(path)):
            saved.append(path)
    return saved


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Any:
    """Keep a picture of the open windows when a test fails."""
    report = yield
    cache = getattr(item.config, "cache", None)
    if report.failed and report.when == "call" and cache is not None:
        for path in _grab_windows(Path(cache.mkdir("screenshots")), item.name):
            report.sections.append(("window", str(path)))
    return report
