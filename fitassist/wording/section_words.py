# SPDX-License-Identifier: MIT
"""What the sections are drawn from, in words: which shapes are known, how surely, which assumed."""

from __future__ import annotations

from typing import Final

from fitassist.domain.units import AnyUnit
from fitassist.wording.language import N_, _, with_decimals
from fitassist.wording.lengths import say_amount

_TEXTS: Final[dict[str, str]] = {
    "known": N_(
        "Seen from above, as worked out from the readings. The body lies in its band nine times "
        "out of ten; the band is drawn {times} times wider than worked out, since real bodies "
        "vary more than those it was learned from."
    ),
    "known_disagree": N_(
        "Seen from above, as worked out from the readings. The body lies in its band nine times "
        "out of ten; the band is drawn {times} times wider than worked out, since real bodies "
        "vary more than those it was learned from and these readings do not quite agree."
    ),
    "form_only": N_(
        "Seen from above: the form as worked out from its closed girths; the body as ellipses of "
        "the right girth, only assumed."
    ),
    "some": N_("Where too little is known stands an ellipse of the right girth, and says so."),
    "ellipse": N_("{what} (ellipse)"),
    "within": N_("body known to about {amount} all round"),
    "assumed_body": N_("the body's shape is only assumed"),
}


def shape_note(
    is_body_known: bool, has_ellipses: bool, times: float, do_disagree: bool = False
) -> str:
    """Return what the sections are drawn from.

    Parameters
    ----------
    is_body_known
        Whether an outline of the body is known at one line or more.
    has_ellipses
        Whether some other shape is only assumed.
    times
        How many times wider than worked out bands are drawn.
    do_disagree
        Whether they are partly so because readings disagree.
    """
    if not is_body_known:
        return _(_TEXTS["form_only"])
    known = _(_TEXTS["known_disagree" if do_disagree else "known"])
    said = known.format(times=with_decimals(times))
    return f"{said} {_(_TEXTS['some'])}" if has_ellipses else said


def as_ellipse(what: str) -> str:
    """Return a name with a mark that its shape is assumed."""
    return _(_TEXTS["ellipse"]).format(what=what)


def band_text(band_mm: float, unit: AnyUnit) -> str:
    """Return how surely the body's outline is known; 0 mm: it is an ellipse."""
    if band_mm <= 0.0:
        return _(_TEXTS["assumed_body"])
    return _(_TEXTS["within"]).format(amount=say_amount(band_mm, unit))
