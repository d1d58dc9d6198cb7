# SPDX-License-Identifier: MIT
"""The looks as plain colours, and the arithmetic of how far two colours are apart for the eye."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


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

    @property
    def is_strong(self) -> bool:
        """Whether it is a look of high contrast, in which no line is faint."""
        return self.name.startswith("contrast")


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
    out="#EE7DBC",
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
    body="#00306F",
    form="#000000",
    pad="#512F00",
    out="#620041",
    good="#0F4314",
    fine="#3E3B31",
)
CONTRAST_DARK: Final = Palette(
    name="contrast_dark",
    page="#000000",
    card="#000000",
    ink="#FFFFFF",
    quiet="#E6E6E6",
    thread="#8FE3F0",
    body="#9FB3FF",
    form="#FFFFFF",
    pad="#E8DF6B",
    out="#FFB9E2",
    good="#A6EFAB",
    fine="#C4C7BB",
)


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
