# SPDX-License-Identifier: MIT
"""Render the icon's SVG to the 256 pixel PNG that desktops ask for.

Run ``python packaging/make_icon_png.py [TARGET]`` after the icon has been drawn anew.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

FOLDER = Path(__file__).resolve().parent.parent / "resources" / "icon"


def main(target: Path) -> None:
    """Write the icon as a PNG with a clear background."""
    app = QGuiApplication(sys.argv[:1])
    image = QImage(256, 256, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(str(FOLDER / "fitassist.svg")).render(painter)
    painter.end()
    if not image.save(str(target)):
        raise SystemExit(f"could not write {target.name}")
    del app


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER / "fitassist.png")
