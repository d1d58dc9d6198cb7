#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes resources/pictures/screenshot.png: the demonstration's fitting page, in the light look."""

from __future__ import annotations

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QTimer  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from fitassist.app.start import make_workroom, tear_down  # noqa: E402
from fitassist.app.workroom import Workroom  # noqa: E402
from fitassist.demo import demo_profile  # noqa: E402
from fitassist.gui import theme  # noqa: E402

SIZE = (1366, 768)
PICTURE = ROOT / "resources" / "pictures" / "screenshot.png"
LOOK_MS = 20
SETTLE_MS = 600  # what moves or is drawn later has come to rest by then
PATIENCE_MS = 30_000


def wait_for_fitting(room: Workroom) -> None:
    """Let the window work until the first step stands on the page."""
    loop = QEventLoop()
    QTimer.singleShot(PATIENCE_MS, loop.quit)

    def look() -> None:
        bridge = room.room.bridge
        if bridge is not None and bridge.is_ready and room.window.place == "fitting":
            QTimer.singleShot(SETTLE_MS, loop.quit)
        else:
            QTimer.singleShot(LOOK_MS, look)

    look()
    loop.exec()


def main() -> int:
    """Open the demonstration, take the picture, close it."""
    app = QApplication(sys.argv[:1])
    with demo_profile() as profile:
        room = make_workroom(app, profile, is_demo=True)
        theme.apply(app, "light", 1.0)
        room.begin()
        room.window.resize(*SIZE)
        room.window.show()
        wait_for_fitting(room)
        PICTURE.parent.mkdir(parents=True, exist_ok=True)
        is_saved = room.window.grab().save(str(PICTURE))
        tear_down(app, room)
    if is_saved:
        print(f"{PICTURE.relative_to(ROOT)}: {PICTURE.stat().st_size} bytes")
    return 0 if is_saved else 1


if __name__ == "__main__":
    sys.exit(main())
