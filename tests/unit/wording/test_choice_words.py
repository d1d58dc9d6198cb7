# SPDX-License-Identifier: MIT
"""Every reason the ranking can give is said in one line: place, length and body."""

from __future__ import annotations

import pytest

from fitassist.choosing.candidate import Candidate, Range
from fitassist.choosing.judging import Needs, judged
from fitassist.domain.body import Body, Target
from fitassist.domain.lines import What
from fitassist.wording.choice_words import reason_codes, reason_text


def a_body(name: str = "Street", waist: float = 750.0) -> Body:
    target = Target(line="waist", what=What.GIRTH, value_mm=waist)
    length = Target(line="shoulder_length", what=What.LENGTH, value_mm=120.0)
    return Body(name=name, targets=(target, length))


def offered(least: float = 700.0, greatest: float = 800.0, **more: object) -> Candidate:
    girths = {"waist": Range(least_mm=least, greatest_mm=greatest)}
    return Candidate(name="One", girths_mm=girths, **more)


def said(candidate: Candidate, *bodies: Body, needs: Needs | None = None) -> str:
    """Say the reason the ranking itself gives."""
    one = judged(candidate, bodies, needs)
    if one.worst is None:
        return reason_text(one.reason, "cm")
    body, line = one.worst
    return reason_text(one.reason, "cm", line.line, line.by_mm, body.body, line.is_length)


# Lengths worked by hand: 800 - 750 = 50 mm, 750 - 720 = 30 mm, 135 - 120 = 15 mm.
SHOULDER = {"shoulder_length": Range(least_mm=135.0, greatest_mm=135.0)}
CASES = {
    "all_reached": (said(offered(), a_body()), "reach every line"),
    "padded": (said(offered(700, 720), a_body()), "waist: 3.0 cm of girth"),
    "too_large": (said(offered(800, 900), a_body()), "5.0 cm too large at the waist."),
    "too_large_for": (
        said(offered(800, 900), a_body("A", 820.0), a_body("B")),
        "5.0 cm too large at the waist for B.",
    ),
    "too_long": (
        said(offered(lengths_mm=SHOULDER), a_body()),
        "length is 1.5 cm too long.",
    ),
    "nothing_said": (said(Candidate(name="One"), a_body()), "Nothing is said"),
    "no_trousers": (
        said(offered(post="centre"), a_body(), needs=Needs(trousers=True)),
        "pole stands in the middle",
    ),
    "no_pins": (said(offered(takes_pins=False), a_body(), needs=Needs(pins=True)), "no pins"),
    "no_waist_shifts": (
        said(offered(waist_shifts=False), a_body(), needs=Needs(waist_shifts=True)),
        "waist cannot be moved",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_the_reason_for_a_place_is_said(case: str) -> None:
    text, part = CASES[case]
    assert part in text
    assert text.endswith(".")


def test_no_reason_is_left_unchecked() -> None:
    assert reason_codes() == set(CASES) - {"too_long"}


def test_a_name_of_a_body_is_only_text() -> None:
    text = reason_text("too_large_for", "in", "hip", 25.4, "<b>\nA</b>")
    assert "<b> A</b>" in text
    assert "1 in" in text
