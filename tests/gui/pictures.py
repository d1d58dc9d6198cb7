# SPDX-License-Identifier: MIT
"""What the tests of drawings look at: widgets as pictures, and pictures as numbers."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget


def shot(view: QWidget, ratio: float = 1.0) -> QImage:
    image = QImage(view.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    view.render(image, QPoint(0, 0))
    return image


def channels(image: QImage) -> np.ndarray:
    """Red, green, blue and alpha of each pixel: (height, width, 4)."""
    plain = image.convertToFormat(QImage.Format.Format_RGBA8888)
    flat = np.frombuffer(plain.constBits(), np.uint8).copy()  # the image does not outlive us
    return flat.reshape(plain.height(), plain.bytesPerLine())[:, : 4 * plain.width()].reshape(
        plain.height(), plain.width(), 4
    )


def pixels_of(image: QImage, colour: str) -> set[tuple[int, int]]:
    wanted = QColor(colour).getRgb()[:3]
    ys, xs = np.nonzero((channels(image)[:, :, :3] == wanted).all(axis=2))
    return set(zip(xs.tolist(), ys.tolist(), strict=True))
