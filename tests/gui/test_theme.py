# SPDX-License-Identifier: MIT
"""Colours are readable by the WCAG 2 formula, whatever the look; the type grows with the scale."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QFont, QPalette
from PySide6.QtWidgets import QPushButton

from fitassist.gui import theme
from fitassist.gui.theme import CONTRAST, CONTRAST_DARK, DARK, LIGHT, LOOKS, Palette, contrast
from fitassist.settings import Settings

by_name = pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)


def test_black_on_white_is_twenty_one_to_one():
    # WCAG 2.2, definition of contrast ratio: "can range from 1 to 21".
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


def test_a_middle_grey_has_the_luminance_of_the_srgb_curve():
    # IEC 61966-2-1: linear = ((v + 0.055) / 1.055) ** 2.4; 0x80 gives 0.21586.
    assert theme.luminance("#808080") == pytest.approx(0.21586, abs=1e-5)
    # The three primaries weigh 0.2126, 0.7152 and 0.0722 (WCAG 2.2, relative luminance).
    assert theme.luminance("#FF0000") == pytest.approx(0.2126)
    assert theme.luminance("#00FF00") == pytest.approx(0.7152)
    assert theme.luminance("#0000FF") == pytest.approx(0.0722)


@by_name
@pytest.mark.parametrize("paper", ["page", "card"])
def test_text_to_be_followed_meets_the_strictest_level(look: Palette, paper: str):
    # WCAG 2.2, success criterion 1.4.6 (AAA): 7 to 1.
    assert contrast(look.ink, getattr(look, paper)) >= 7


@by_name
@pytest.mark.parametrize("paper", ["page", "card"])
@pytest.mark.parametrize("role", ["quiet", "thread", "body", "pad", "out", "good"])
def test_other_words_meet_the_usual_level(look: Palette, paper: str, role: str):
    # WCAG 2.2, success criterion 1.4.3 (AA): 4.5 to 1.
    assert contrast(getattr(look, role), getattr(look, paper)) >= 4.5


@by_name
@pytest.mark.parametrize("paper", ["page", "card"])
@pytest.mark.parametrize("role", ["fine", "form", "thread"])
def test_lines_and_edges_of_controls_can_be_seen(look: Palette, paper: str, role: str):
    # WCAG 2.2, success criterion 1.4.11: 3 to 1.
    assert contrast(getattr(look, role), getattr(look, paper)) >= 3


@by_name
def test_text_on_a_pressed_or_chosen_control_stays_readable(look: Palette):
    assert contrast(look.ink, theme.blend(look.card, look.thread, 0.20)) >= 7
    assert contrast(look.card, look.thread) >= 4.5
    assert contrast(look.card, theme.blend(look.thread, look.ink, 0.25)) >= 4.5


@pytest.mark.parametrize("look", [CONTRAST, CONTRAST_DARK], ids=lambda look: look.name)
def test_high_contrast_is_seven_to_one_in_every_word_and_line(look: Palette):
    for role in ("ink", "quiet", "thread", "body", "pad", "out", "good", "fine"):
        assert contrast(getattr(look, role), look.page) >= 7


def test_every_look_can_be_chosen_in_the_settings():
    for name in theme.NAMES:
        assert Settings(theme=name).theme == name


def test_the_system_decides_unless_a_look_was_chosen():
    assert theme.choose("system", system_dark=True, system_contrast=False) is DARK
    assert theme.choose("system", system_dark=False, system_contrast=False) is LIGHT
    assert theme.choose("system", system_dark=False, system_contrast=True) is CONTRAST
    assert theme.choose("system", system_dark=True, system_contrast=True) is CONTRAST_DARK
    assert theme.choose("light", system_dark=True, system_contrast=True) is LIGHT


def test_dressing_changes_colours_and_size_of_everything(qtbot, qapp):
    button = QPushButton("Start")
    qtbot.addWidget(button)
    theme.apply(qapp, "light", 1.0)
    button.ensurePolished()
    small: QSize = button.sizeHint()
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == LIGHT.page
    theme.apply(qapp, "dark", 2.0)
    button.ensurePolished()
    assert theme.palette() is DARK
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == DARK.page
    assert button.sizeHint().width() > small.width()
    assert button.palette().color(QPalette.ColorRole.ButtonText).name().upper() == DARK.ink
    theme.apply(qapp, "light", 1.0)
    assert qapp.font().pointSizeF() == pytest.approx(11)


def test_buttons_are_at_least_thirty_six_pixels_high(qtbot, qapp):
    theme.apply(qapp, "light", 1.0)
    for role in ("", "primary", "link", "place", "choice"):
        button = QPushButton("Open")
        qtbot.addWidget(button)
        button.setProperty("role", role)
        button.ensurePolished()
        assert button.sizeHint().height() >= theme.TARGET, role


def test_figures_are_all_of_one_width():
    assert theme.interface_font(1.0).featureTags() == [QFont.Tag("tnum")]
