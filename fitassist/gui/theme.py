# SPDX-License-Identifier: MIT
"""Paper, ink and thread: the palettes, the type and the style sheet made from them.

Colours are plain text here; nothing of Qt is made before an application exists. A page that draws
asks ``palette()`` when it paints and listens for ``QEvent.PaletteChange``.
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QFont, QFontDatabase, QFontMetrics
from PySide6.QtWidgets import QApplication, QWidget

from fitassist.gui.measures import (
    GREATEST_SCALE,
    HALF,
    HEADING_PT,
    INSTRUCTION_PT,
    LABEL_PT,
    LARGE_SCALE,
    LEAST_SCALE,
    MARGIN,
    NUMBER_PT,
    STEP,
    TARGET,
    TARGET_BESIDE_FORM,
    TEXT_PT,
)
from fitassist.gui.palettes import (
    CONTRAST,
    CONTRAST_DARK,
    DARK,
    LIGHT,
    Palette,
    blend,
    contrast,
    luminance,
)
from fitassist.gui.style_sheet import qt_palette, style_sheet

__all__ = [
    "CONTRAST", "CONTRAST_DARK", "DARK", "GREATEST_SCALE", "HALF", "HEADING_PT",
    "INSTRUCTION_PT", "LABEL_PT", "LARGE_SCALE", "LEAST_SCALE", "LIGHT", "LOOKS", "MARGIN",
    "NAMES", "NUMBER_PT", "STEP", "TARGET", "TARGET_BESIDE_FORM", "TEXT_PT", "Palette", "apply",
    "at_most", "blend", "characters", "choose", "contrast", "exactly", "interface_font",
    "is_large", "luminance", "palette", "points", "scale", "wide",
]  # fmt: skip

LOOKS: Final = (LIGHT, DARK, CONTRAST, CONTRAST_DARK)
NAMES: Final = ("system", *(look.name for look in LOOKS))

_PALETTES: Final = {look.name: look for look in LOOKS}
_current: Palette = LIGHT
_scale: float = 1.0


def palette() -> Palette:
    """Return the palette in use."""
    return _current


def scale() -> float:
    """Return the font scale in use; 1 is 11 point text."""
    return _scale


def points(size_pt: float) -> float:
    """Return a size of type at the scale in use, in points."""
    return size_pt * _scale


def choose(name: str, system_dark: bool, system_contrast: bool) -> Palette:
    """Return the palette a name means, given what the system asks for."""
    if name in _PALETTES:
        return _PALETTES[name]
    if system_contrast:
        return CONTRAST_DARK if system_dark else CONTRAST
    return DARK if system_dark else LIGHT


def apply(app: QApplication, name: str = "system", font_scale: float = 1.0) -> Palette:
    """Dress the whole application; ``system`` goes on following the desktop's light and dark."""
    follower = app.findChild(_Follower)
    if follower is None:
        follower = _Follower(app)
    follower.follow(name, font_scale)
    return _current


def wide(width_px: int) -> int:
    """Return a width that grows with the type, though less than it."""
    return round(width_px * (2 + _scale) / 3)


def at_most(widget: QWidget, width_px: int) -> None:
    """Let a widget be at most so wide, and wider where the type grows, also later."""
    widget.setProperty("most_px", width_px)
    widget.setMaximumWidth(wide(width_px))


def exactly(widget: QWidget, width_px: int) -> None:
    """Make a widget just so wide, and wider where the type grows, also later."""
    widget.setProperty("just_px", width_px)
    widget.setFixedWidth(wide(width_px))


def characters(count: int) -> int:
    """Return the width of so many figures in the type of the text, in pixels."""
    return QFontMetrics(QApplication.font()).horizontalAdvance("0") * count


def is_large() -> bool:
    """Say whether the type is so large that things stand below each other."""
    return _scale > LARGE_SCALE


def interface_font(font_scale: float) -> QFont:
    """Return the system's sans at text size, its figures all of one width."""
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    font.setPointSizeF(TEXT_PT * font_scale)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


class _Follower(QObject):
    """Keeps an application dressed when the desktop turns dark or light."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._app = app
        self._name = "system"
        self._font_scale = 1.0
        self._worn: tuple[Palette, float] | None = None
        app.styleHints().colorSchemeChanged.connect(self._dress)
        if hasattr(app.styleHints(), "accessibility"):
            wishes = app.styleHints().accessibility()
            wishes.contrastPreferenceChanged.connect(self._dress)

    def follow(self, name: str, font_scale: float) -> None:
        """Take a name and a scale, and dress."""
        self._name = name if name in NAMES else "system"
        self._font_scale = min(max(font_scale, LEAST_SCALE), GREATEST_SCALE)
        self._dress()

    def _dress(self) -> None:
        global _current, _scale
        hints = self._app.styleHints()
        chosen = choose(
            self._name,
            system_dark=hints.colorScheme() == Qt.ColorScheme.Dark,
            system_contrast=_wants_contrast(self._app),
        )
        if self._worn == (chosen, self._font_scale):
            return
        self._worn = (chosen, self._font_scale)
        _current, _scale = chosen, self._font_scale
        self._app.setStyle("Fusion")
        self._app.setPalette(qt_palette(chosen))
        self._app.setFont(interface_font(self._font_scale))
        self._app.setStyleSheet(style_sheet(chosen, self._font_scale))
        for widget in self._app.topLevelWidgets():
            QApplication.sendEvent(widget, QEvent(QEvent.Type.ApplicationPaletteChange))
        for widget in self._app.allWidgets():
            _fit_anew(widget)


def _fit_anew(widget: QWidget) -> None:
    """Widen what was given a width, and let layouts forget the sizes of smaller type."""
    most, just = widget.property("most_px"), widget.property("just_px")
    if most:
        widget.setMaximumWidth(wide(most))
    if just:
        widget.setFixedWidth(wide(just))
    layout = widget.layout()
    if layout is not None:
        layout.invalidate()
    widget.updateGeometry()


def _wants_contrast(app: QApplication) -> bool:
    hints = app.styleHints()
    if not hasattr(hints, "accessibility"):  # Qt before 6.10 does not tell
        return False
    return bool(hints.accessibility().contrastPreference() == Qt.ContrastPreference.HighContrast)
