# SPDX-License-Identifier: MIT
"""How a body is carried and what a form does about it, in kind plain sentences.

Each code has its sentences from fullest to barest, as in ``reasons``; remedies are common practice,
no source.
"""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_

POSTURE_REASONS: Final[dict[str, tuple[str, ...]]] = {
    "stand_short": (
        N_("raise the base by {amount}: this stand ends that much short of the person's height"),
        N_("raise the base: this stand ends short of the person's height"),
    ),
    "stand_high": (
        N_(
            "at its lowest this stand is {amount} too high: mark hems from the waist, not from "
            "the floor"
        ),
        N_("this stand is too high at its lowest: mark hems from the waist"),
    ),
    "torso_short": (
        N_(
            "from back neck to waist this form ends {amount} short: mark the person's waist line "
            "on it, below the form's own"
        ),
        N_("from back neck to waist this form ends short: mark the waist lower on it"),
    ),
    "torso_front": (
        N_(
            "set the front of the torso by itself: from the side of the neck over the bust to the "
            "waist it is to read {amount}; let the sides follow between front and back"
        ),
        N_("set the front of the torso by itself, over the bust to the waist"),
    ),
    "rounded_back": (
        N_(
            "the upper back is softly rounded, by about {amount}: a little padding between the "
            "shoulder blades gives the form the same line"
        ),
        N_("the upper back is softly rounded: pad a little between the shoulder blades"),
    ),
    "sway_back": (
        N_(
            "the back is {amount} shorter than the straight way up: the waist dips in at the back, "
            "so mark the waist line there by its own length"
        ),
        N_("the waist dips in at the back: mark the waist line there by its own length"),
    ),
    "front_long": (
        N_(
            "an upright bearing, the front {amount} longer for the back than usual: pulled so, the "
            "upper half tips back by about {degrees}"
        ),
        N_("an upright bearing: pull the front of the torso longer than its back"),
    ),
    "front_long_one_piece": (
        N_(
            "an upright bearing, the front {amount} longer for the back than usual: this torso "
            "does not tip, so pad the upper chest by eye"
        ),
        N_("an upright bearing: pad the upper chest by eye"),
    ),
    "back_long": (
        N_(
            "a softly rounded back, {amount} longer for the front than usual: pulled so, the upper "
            "half tips forward by about {degrees}"
        ),
        N_("a softly rounded back: pull the back of the torso longer than its front"),
    ),
    "back_long_one_piece": (
        N_(
            "a softly rounded back, {amount} longer for the front than usual: this torso does not "
            "tip, so pad between the shoulder blades"
        ),
        N_("a softly rounded back: pad between the shoulder blades"),
    ),
    "higher_shoulder_left": (
        N_(
            "the body's left shoulder is {amount} higher: set the stand by the right one, and "
            "build the form's left shoulder up at its tip with a wedge of that height"
        ),
        N_("the body's left shoulder is higher: build the form's up with a wedge"),
    ),
    "higher_shoulder_right": (
        N_(
            "the body's right shoulder is {amount} higher: set the stand by the left one, and "
            "build the form's right shoulder up at its tip with a wedge of that height"
        ),
        N_("the body's right shoulder is higher: build the form's up with a wedge"),
    ),
    "longer_shoulder_left": (
        N_("the body's left shoulder is {amount} longer: mark each shoulder point on the form"),
        N_("the body's left shoulder is longer: mark both on the form"),
    ),
    "longer_shoulder_right": (
        N_("the body's right shoulder is {amount} longer: mark each shoulder point on the form"),
        N_("the body's right shoulder is longer: mark both on the form"),
    ),
    "bust_higher": (
        N_(
            "the body's bust lies {amount} higher than the form's: no dial changes that, so it is "
            "left to padding"
        ),
        N_("the body's bust lies higher than the form's: it is left to padding"),
    ),
    "bust_lower": (
        N_(
            "the body's bust lies {amount} lower than the form's: no dial changes that, so it is "
            "left to padding"
        ),
        N_("the body's bust lies lower than the form's: it is left to padding"),
    ),
    "hip_above_row": (
        N_(
            "the body is fullest {amount} above the form's row at the hip: measure the form there, "
            "and let padding round it off"
        ),
        N_("the body is fullest above the form's row at the hip: measure the form there"),
    ),
    "hip_below_row": (
        N_(
            "the body is fullest {amount} below the form's row at the hip: measure the form there, "
            "and let padding round it off"
        ),
        N_("the body is fullest below the form's row at the hip: measure the form there"),
    ),
    "hip_below_form": (
        N_(
            "the body is fullest {amount} below the lowest line of this form: take that girth on "
            "the person, and let a skirt hang free of the form there"
        ),
        N_("the body is fullest below this form: take that girth on the person"),
    ),
}

POSTURE_CHECKS: Final[dict[str, tuple[str, str]]] = {
    "wedge_left": (
        N_("Build up the form's left shoulder with a wedge"),
        N_("Thickest at the tip, nothing at the neck; the other shoulder stays as it is."),
    ),
    "wedge_left_to": (
        N_("Build up the form's left shoulder by {length} at its tip"),
        N_("A wedge, nothing at the neck; the other shoulder stays as it is."),
    ),
    "wedge_right": (
        N_("Build up the form's right shoulder with a wedge"),
        N_("Thickest at the tip, nothing at the neck; the other shoulder stays as it is."),
    ),
    "wedge_right_to": (
        N_("Build up the form's right shoulder by {length} at its tip"),
        N_("A wedge, nothing at the neck; the other shoulder stays as it is."),
    ),
}
