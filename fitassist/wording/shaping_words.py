# SPDX-License-Identifier: MIT
"""How the form is to be set, and what could not be told of its shape, in plain sentences."""

from __future__ import annotations

from typing import Final

from fitassist.domain.shaping import Setting
from fitassist.wording.language import N_, _

_TEXTS: Final[dict[str, str]] = {
    "title": N_("How the form is to be set"),
    "proposed": N_("{why} Proposed here: the bust is {amount} more than the upper chest."),
    "frame_missing": N_("Needs the upper chest or the under-bust, on the body and on the form."),
}

_SETTINGS: Final[dict[Setting, tuple[str, str]]] = {
    "nearest_girth": (
        N_("Nearest girth"),
        N_("Every line comes as near to its girth as the dials allow."),
    ),
    "room_for_padding": (
        N_("Room for padding"),
        N_("The form stands out past the body nowhere; padding fills the rest."),
    ),
    "frame_first": (
        N_("Frame first"),
        N_("Set by upper chest and under-bust; the cups are filled with padding."),
    ),
}

# What the outlines could not say, by code; the same form as the table in ``reasons``.
SHAPING_REASONS: Final[dict[str, tuple[str, ...]]] = {
    "outline_too_few_girths": (
        N_(
            "the form is set by girths alone: with three girths between bust and hip, its seams "
            "would follow the body's shape"
        ),
    ),
    "outline_bad_reading": (
        N_("the form is set by girths alone: one reading of the body is no length of a torso"),
    ),
    "outline_breadth_depth_misfit": (
        N_(
            "the form is set by girths alone: a breadth and a depth of the body do "
            "not go with its girth"
        ),
    ),
    "outline_parts_misfit": (
        N_("the form is set by girths alone: two parts of a girth of the body do not add up to it"),
    ),
    "outline_lengths_out_of_order": (
        N_(
            "the form is set by girths alone: the heights of the body's lines are "
            "in the wrong order"
        ),
    ),
    "form_outline_unknown": (
        N_(
            "the form is set by girths alone: no girth of the closed form is "
            "known, so neither is its shape"
        ),
    ),
    "form_too_small": (
        N_(
            "the form is set by girths alone at one line: the form would have to "
            "open by more than it can"
        ),
    ),
    "shape_prior_unreadable": (
        N_(
            "the form is set by girths alone: the file of torso shapes that came "
            "with the program is not readable"
        ),
    ),
    "shape_not_told": (
        N_("the form is set by girths alone: the shape of body and form could not be worked out"),
    ),
    "frame_lines_missing": (
        N_(
            "frame first needs the upper chest or the under-bust, on the body and on the form: "
            "the bust is set by its own girth instead"
        ),
    ),
    "breadth_depth_doubtful": (
        N_("a breadth and a depth of the body hardly go with its girth: its shape is less sure"),
    ),
    "parts_doubtful": (
        N_("two parts of a girth of the body hardly add up to it: its shape is less sure"),
    ),
    "readings_disagree": (
        N_("the readings of the body do not quite agree: its shape is less sure"),
    ),
    "unlike_bodies_known": (
        N_("the program knows few shapes near this one: it is shown as less sure"),
    ),
}


def say(key: str, **values: object) -> str:
    """Return the sentence of a key."""
    return _(_TEXTS[key]).format(**values)


def setting_name(setting: Setting) -> str:
    """Return what a setting is called."""
    return _(_SETTINGS[setting][0])


def setting_why(setting: Setting) -> str:
    """Return in one line what a setting does."""
    return _(_SETTINGS[setting][1])
