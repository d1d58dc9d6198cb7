# SPDX-License-Identifier: MIT
"""The demonstration: an invented workroom, copied to a folder of its own each time it is shown.

The user's own files are never touched, and nothing done in the demonstration is kept.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fitassist.errors import BadFile, StorageFailed
from fitassist.files import resources_dir


def demo_folder() -> Path:
    """Return where the demonstration comes from."""
    return resources_dir() / "demo"


@contextmanager
def demo_profile() -> Iterator[Path]:
    """Give a fresh copy of the demonstration and remove it afterwards.

    Raises
    ------
    BadFile
        ``not_found`` if the program came without one.
    StorageFailed
        If there is no room for the copy.
    """
    source = demo_folder()
    if not source.is_dir():
        raise BadFile("not_found", path=str(source))
    try:
        place = tempfile.TemporaryDirectory(prefix="fitassist-demo-", ignore_cleanup_errors=True)
    except OSError as error:
        raise StorageFailed("write_failed", detail=error.strerror or "") from error
    with place as name:
        folder = Path(name) / "profile"
        try:
            # Contents only: the program may be installed where nothing can be written.
            shutil.copytree(source, folder, copy_function=shutil.copyfile)
        except OSError as error:
            raise StorageFailed("write_failed", detail=error.strerror or "") from error
        for inner in (folder, *folder.rglob("*")):
            inner.chmod(0o700 if inner.is_dir() else 0o600)
        yield folder
