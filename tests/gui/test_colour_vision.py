# SPDX-License-Identifier: MIT
"""Colours that mean different things stay apart for eyes that see fewer colours, in every look.

Simulation: Machado, Oliveira and Fernandes 2009 as in the library colorspacious; distance:
CAM02-UCS (Luo, Cui, Li 2006) from the same library. A distance of about 1 is just seen side by
side; 10 is told apart at a glance (our own choice of a limit). No colour stands alone: dash,
hatch, dots and words say the same.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import wcag_contrast_ratio
from colorspacious import cspace_convert, deltaE

from fitassist.gui.palettes import Palette, contrast
from fitassist.gui.theme import LOOKS

AT_A_GLANCE = 10.0
KINDS = ("protanomaly", "deuteranomaly", "tritanomaly")
# What is drawn in one picture and must not be taken for another. Body and form differ in dash and
# fill besides; padding and standing out in hatch and dots.
TOGETHER = ("body", "form", "pad", "out", "fine")

by_look = pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)


def rgb(colour: str) -> np.ndarray:
    """Channels 0 to 1 of ``#RRGGBB``: (3,)."""
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255


def seen(colour: str, kind: str) -> np.ndarray:
    """The colour as somebody without one kind of cone sees it: (3,), 0 to 1."""
    space = {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}
    return np.clip(cspace_convert(rgb(colour), space, "sRGB1"), 0, 1)


@by_look
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_drawn_together_is_told_apart_with_any_eyes(look: Palette, kind: str) -> None:
    near = {}
    for one, other in combinations(TOGETHER, 2):
        apart = deltaE(seen(getattr(look, one), kind), seen(getattr(look, other), kind))
        if apart < AT_A_GLANCE:
            near[(one, other)] = round(float(apart), 1)
    assert near == {}


def test_the_simulation_takes_red_and_green_for_one_another() -> None:
    # A red and a green of like lightness: far apart for most, near each other for a deuteranope.
    red, green = "#B24B32", "#6B7A21"
    usual = deltaE(rgb(red), rgb(green))
    simulated = deltaE(seen(red, "deuteranomaly"), seen(green, "deuteranomaly"))
    assert simulated < usual / 2


@by_look
def test_contrasts_are_what_a_colour_library_says(look: Palette) -> None:
    # wcag-contrast-ratio, a library of its own authors, against our formula.
    for role in ("ink", "quiet", "thread", "body", "form", "pad", "out", "good", "fine"):
        for paper in ("page", "card"):
            one, other = getattr(look, role), getattr(look, paper)
            theirs = wcag_contrast_ratio.rgb(tuple(rgb(one)), tuple(rgb(other)))
            assert contrast(one, other) == pytest.approx(theirs, rel=1e-3), (role, paper)


@by_look
def test_the_library_too_calls_instructions_and_words_readable(look: Palette) -> None:
    for paper in ("page", "card"):
        under = tuple(rgb(getattr(look, paper)))
        ink = wcag_contrast_ratio.rgb(tuple(rgb(look.ink)), under)
        assert wcag_contrast_ratio.passes_AAA(ink)  # 7 to 1
        for role in ("quiet", "thread", "body", "pad", "out", "good"):
            words = wcag_contrast_ratio.rgb(tuple(rgb(getattr(look, role))), under)
            assert wcag_contrast_ratio.passes_AA(words), role  # 4.5 to 1
