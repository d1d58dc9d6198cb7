# SPDX-License-Identifier: MIT
"""Paper, ink and thread: the palettes, the type and the style sheet made from them.

Colours are plain text here; nothing of Qt is made before an application exists. A page that draws
asks ``palette()`` when it paints and listens for ``QEvent.PaletteChange``.
"""

from __future__ import annotations

from dataclasses import dataclass
from string import Template
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetrics, QPalette
from PySide6.QtWidgets import QApplication, QWidget

STEP: Final = 8  # spacing goes in steps of this many pixels
HALF: Final = 4  # inside a control
MARGIN: Final = 24  # round a page and between groups
TARGET: Final = 36  # least height of what can be pressed
TARGET_BESIDE_FORM: Final = 48

TEXT_PT: Final = 11.0
LABEL_PT: Final = 10.0
HEADING_PT: Final = 15.0
INSTRUCTION_PT: Final = 34.0
NUMBER_PT: Final = 56.0

LARGE_SCALE: Final = 1.3
LEAST_SCALE: Final = 0.75
GREATEST_SCALE: Final = 2.5


@dataclass(frozen=True)
class Palette:
    """The colours of one look, by what they say; ``#RRGGBB`` each."""

    name: str
    page: str
    card: str
    ink: str
    quiet: str
    thread: str
    body: str
    form: str
    pad: str
    out: str
    good: str
    fine: str

    @property
    def is_dark(self) -> bool:
        """Whether light ink lies on dark paper."""
        return luminance(self.page) < luminance(self.ink)


LIGHT: Final = Palette(
    name="light",
    page="#F7F4EE",
    card="#FFFFFF",
    ink="#23272B",
    quiet="#5A6068",
    thread="#1F5F6B",
    body="#0B5FA5",
    form="#23272B",
    pad="#8A4B00",
    out="#9B1D5A",
    good="#2C6E31",
    fine="#8C8577",
)
DARK: Final = Palette(
    name="dark",
    page="#1B1E21",
    card="#24282C",
    ink="#F1EEE8",
    quiet="#B4B9BF",
    thread="#7CC4CF",
    body="#7DB8F0",
    form="#F1EEE8",
    pad="#F0B060",
    out="#F09AC0",
    good="#8FD694",
    fine="#7A8088",
)
CONTRAST: Final = Palette(
    name="contrast",
    page="#FFFFFF",
    card="#FFFFFF",
    ink="#000000",
    quiet="#1A1A1A",
    thread="#003E4A",
    body="#00336B",
    form="#000000",
    pad="#552B00",
    out="#6B0038",
    good="#0F4314",
    fine="#3A3A3A",
)
NAMES: Final = ("system", "light", "dark", "contrast")

_PALETTES: Final = {p.name: p for p in (LIGHT, DARK, CONTRAST)}
_current: Palette = LIGHT
_scale: float = 1.0


def luminance(colour: str) -> float:
    """Return the relative luminance of ``#RRGGBB`` (WCAG 2, 0 to 1)."""

    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[i : i + 2], 16)) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the WCAG 2 contrast ratio of two colours ``#RRGGBB``, 1 to 21."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def blend(under: str, over: str, share: float) -> str:
    """Return ``over`` laid on ``under`` with the given share, 0 to 1."""
    channels = []
    for i in (1, 3, 5):
        low, high = int(under[i : i + 2], 16), int(over[i : i + 2], 16)
        channels.append(round(low + (high - low) * share))
    return "#{:02X}{:02X}{:02X}".format(*channels)


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
    if system_contrast and not system_dark:
        return CONTRAST
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


def qt_palette(colours: Palette) -> QPalette:
    """Return the Qt palette, for everything the style sheet does not name."""
    role = QPalette.ColorRole
    made = QPalette()
    for which, colour in (
        (role.Window, colours.page),
        (role.WindowText, colours.ink),
        (role.Base, colours.card),
        (role.AlternateBase, blend(colours.card, colours.fine, 0.08)),
        (role.Text, colours.ink),
        (role.PlaceholderText, colours.quiet),
        (role.Button, colours.card),
        (role.ButtonText, colours.ink),
        (role.BrightText, colours.card),
        (role.Highlight, colours.thread),
        (role.HighlightedText, colours.card),
        (role.Accent, colours.thread),
        (role.Link, colours.thread),
        (role.LinkVisited, colours.thread),
        (role.ToolTipBase, colours.card),
        (role.ToolTipText, colours.ink),
        (role.Light, colours.card),
        (role.Midlight, blend(colours.page, colours.fine, 0.3)),
        (role.Mid, colours.fine),
        (role.Dark, colours.fine),
        (role.Shadow, colours.fine),
    ):
        made.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(colours.quiet))
    return made


def style_sheet(colours: Palette, font_scale: float) -> str:
    """Return the style sheet of a palette at a font scale."""
    return Template(_SHEET).substitute(
        page=colours.page,
        card=colours.card,
        ink=colours.ink,
        quiet=colours.quiet,
        thread=colours.thread,
        fine=colours.fine,
        hover=blend(colours.card, colours.thread, 0.10),
        pressed=blend(colours.card, colours.thread, 0.20),
        soft=blend(colours.page, colours.thread, 0.12),
        primary_hover=blend(colours.thread, colours.ink, 0.25),
        hair=blend(colours.page, colours.fine, 0.45),
        label_pt=f"{LABEL_PT * font_scale:.2f}",
        heading_pt=f"{HEADING_PT * font_scale:.2f}",
        title_pt=f"{TEXT_PT * font_scale:.2f}",
        inside=TARGET - 2 * HALF - 2,
        half=HALF,
        step=STEP,
    )


_SHEET = """
QMainWindow, QDialog, QWidget[role="page"] { background: $page; }
QLabel { background: transparent; color: $ink; }
QLabel[role="heading"] { font-size: ${heading_pt}pt; font-weight: 600; }
QLabel[role="title"] { font-size: ${title_pt}pt; font-weight: 600; }
QLabel[role="label"] { font-size: ${label_pt}pt; color: $quiet; }
QLabel[role="quiet"] { color: $quiet; }
QLabel[role="error"] { font-size: ${label_pt}pt; color: $ink; }
QLabel[role="note"] { font-size: ${label_pt}pt; color: $quiet; }
QFrame[role="card"] { background: $card; border: 1px solid $hair; border-radius: ${half}px; }
QFrame[role="ask"] { background: $card; border: 1px solid $hair; border-left: 4px solid $thread;
  border-radius: 2px; }
QFrame[role="strip"] { background: $card; border: none; border-bottom: 1px solid $fine; }
QFrame[role="bar"] { background: $page; border: none; border-bottom: 1px solid $hair; }
QLineEdit, QPlainTextEdit { background: $card; color: $ink; border: 1px solid $fine;
  border-radius: ${half}px; padding: ${half}px ${step}px;
  selection-background-color: $thread; selection-color: $card; placeholder-text-color: $quiet; }
QLineEdit { min-height: ${inside}px; }
QLineEdit:focus, QPlainTextEdit:focus { border: 2px solid $thread; padding: 3px 7px; }
QLineEdit[readOnly="true"], QLineEdit:disabled { background: $page; color: $quiet; }
QPushButton { background: $card; color: $ink; border: 1px solid $fine; border-radius: ${half}px;
  padding: ${half}px 15px; min-height: ${inside}px; }
QPushButton:hover { background: $hover; }
QPushButton:pressed { background: $pressed; }
QPushButton:focus { border: 2px solid $thread; padding: 3px 14px; outline: none; }
QPushButton:disabled { color: $quiet; border-color: $hair; background: $page; }
QPushButton:checked { background: $pressed; border: 2px solid $thread; padding: 3px 14px; }
QPushButton[role="primary"] { background: $thread; color: $card; border: 1px solid $thread;
  font-weight: 600; }
QPushButton[role="primary"]:hover { background: $primary_hover; }
QPushButton[role="primary"]:focus { border: 2px solid $ink; }
QPushButton[role="primary"]:disabled { background: $page; color: $quiet; border-color: $hair; }
QPushButton[role="link"] { background: transparent; border: 1px solid transparent; color: $thread;
  padding: ${half}px ${step}px ${half}px 2px; text-align: left; }
QPushButton[role="link"]:hover { background: $hover; }
QPushButton[role="link"]:focus { border: 2px solid $thread; padding: 3px 7px 3px 1px; }
QPushButton[role="link"]:disabled { color: $quiet; }
QPushButton[role="fold"], QPushButton[role="fold"]:checked { background: transparent;
  border: 1px solid transparent; color: $ink; padding: ${half}px ${step}px ${half}px 2px;
  text-align: left; font-weight: 600; }
QPushButton[role="fold"]:hover { background: $hover; }
QPushButton[role="fold"]:focus { border: 2px solid $thread; padding: 3px 7px 3px 1px; }
QPushButton[role="begin"] { text-align: left; padding: ${half}px ${step}px; }
QPushButton[role="begin"]:focus { padding: 3px 7px; }
QPushButton[role="place"] { background: transparent; border: none; border-radius: 0;
  border-bottom: 3px solid transparent; padding: ${half}px 12px; color: $quiet; }
QPushButton[role="place"]:hover { color: $ink; border-bottom-color: $hair; }
QPushButton[role="place"]:checked { background: transparent; color: $ink; padding: ${half}px 12px;
  border: none; border-bottom: 3px solid $thread; }
QPushButton[role="place"]:focus { background: $soft; }
QPushButton[role="choice"] { border-radius: 0; margin-left: -1px; }
QPushButton[role="choice"][end="first"] { margin-left: 0; }
QListView { background: $card; color: $ink; border: 1px solid $hair; border-radius: ${half}px;
  outline: none; }
QListView:focus { border: 2px solid $thread; }
QListView::item { min-height: ${inside}px; padding: ${half}px ${step}px; }
QListView::item:hover { background: $hover; }
QListView::item:selected { background: $pressed; color: $ink; }
QScrollArea, QScrollArea > QWidget > QWidget[role="page"] { background: $page; border: none; }
QCheckBox { background: transparent; color: $ink; spacing: ${step}px; min-height: 36px; }
QCheckBox::indicator { width: 10px; height: 10px; padding: 3px; border: 1px solid $fine;
  border-radius: 3px; background: $card; }
QCheckBox::indicator:checked { background: $thread; background-clip: content;
  background-origin: content; border: 1px solid $thread; }
QCheckBox::indicator:focus { border: 2px solid $thread; padding: 2px; }
QCheckBox:focus { color: $thread; }
QScrollBar:vertical { background: transparent; width: 14px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 14px; margin: 0; }
QScrollBar::handle { background: $fine; border-radius: 3px; margin: 4px; }
QScrollBar::handle:vertical { min-height: 40px; }
QScrollBar::handle:horizontal { min-width: 40px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QToolTip { background: $card; color: $ink; border: 1px solid $fine; padding: ${half}px; }
"""
