# SPDX-License-Identifier: MIT
"""The sheet of a hem: what to set the marker to at front, sides and back."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fitassist.domain.lines import What
from fitassist.domain.units import AnyUnit, Unit
from fitassist.geometry.hem import PLACES, HemPlace, hem_marks, level_lengths
from fitassist.report.facts import Facts
from fitassist.report.flow import QUIET, Column, Flow, Foot, Measure, roughly
from fitassist.report.page import Page
from fitassist.report.paper import A4, Paper
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.sheet_words import bare_length, words

SAME_MM = 1.0


@dataclass(frozen=True)
class HemWanted:
    """What a hem is to be, mm.

    Attributes
    ----------
    lengths_mm
        Along the cloth by place; empty: level at ``worn_mm`` above the floor.
    waist_mm, form_waist_mm
        Above the floor: of the person as measured, and of the form.
    """

    waist_mm: float
    form_waist_mm: float
    shoe_mm: float = 0.0
    lengths_mm: tuple[tuple[HemPlace, float], ...] = ()
    worn_mm: float = 0.0


def over_the_hip(facts: Facts) -> tuple[float, dict[HemPlace, float]]:
    """Return how far the hip lies below the waist, and how far it stands out past it by place.

    From breadth and depth where they were measured, else as if both were circles (our model).
    Depth says nothing of how front and back share it, so each gets half.
    """
    below = facts.length_mm("waist_to_hip") or 0.0
    waist, hip = facts.girth_mm("waist"), facts.girth_mm("hip")
    if not below or not waist or not hip:
        return 0.0, {}
    even = max((hip - waist) / (2.0 * math.pi), 0.0)

    def half(what: What) -> float:
        at_hip, at_waist = (facts.targets.get((line, what)) for line in ("hip", "waist"))
        if at_hip is None or at_waist is None:
            return even
        return max((at_hip.value_mm - at_waist.value_mm) / 2.0, 0.0)

    side, deep = half(What.BREADTH), half(What.DEPTH)
    return below, {"front": deep, "side": side, "back": deep}


def hem_pages(
    facts: Facts,
    wanted: HemWanted,
    paper: Paper = A4,
    unit: AnyUnit = "in",
    measure: Measure = roughly,
) -> list[Page]:
    """Return the sheet of a hem.

    Raises
    ------
    FitError
        As ``hem_marks`` and ``level_lengths`` do.
    """
    below, out = over_the_hip(facts)
    lengths = dict(wanted.lengths_mm) or level_lengths(
        wanted.worn_mm, wanted.waist_mm, wanted.shoe_mm, below, out
    )
    marks = hem_marks(lengths, wanted.waist_mm, wanted.form_waist_mm, wanted.shoe_mm, below, out)
    name = facts.person or words("someone")
    flow = Flow(paper, measure)
    flow.title(words("hem_title", name=name))
    flow.paragraph(words("hem_lead"))
    flow.paragraph(words(f"all_in_{Unit(unit).value}"))
    heads = ("place", "length", "worn", "marker")
    columns = [Column(words(f"hem_col_{head}"), 1.0, head != "place") for head in heads]
    rows = [
        [
            words(f"hem_{mark.place}"),
            *(bare_length(mm, unit) for mm in (mark.length_mm, mark.worn_mm, mark.marker_mm)),
        ]
        for mark in marks
    ]
    flow.table(columns, rows, size_mm=5.2, row_mm=11.0)
    flow.steps([words(f"hem_steps_{number}") for number in (1, 2, 3)])
    flow.heading(words("hem_by"))
    for text in _reckoned(wanted, below, out, unit):
        flow.paragraph(text, grey=QUIET)
    flow.space(6.0)
    flow.paragraph(words("hem_blank"))
    foot = Foot(
        words("hem_title", name=name),
        lambda number, pages: words("page_of", number=number, pages=pages),
    )
    return flow.pages(foot)


def _reckoned(
    wanted: HemWanted, below: float, out: dict[HemPlace, float], unit: AnyUnit
) -> list[str]:
    said = [
        words("hem_waist", mm=say_length(wanted.waist_mm, unit)),
        words("hem_shoe", mm=say_amount(wanted.shoe_mm, unit)),
        words("hem_form", mm=say_length(wanted.form_waist_mm, unit)),
    ]
    off = wanted.form_waist_mm - wanted.waist_mm - wanted.shoe_mm
    if abs(off) < SAME_MM:
        said.append(words("hem_same"))
    else:
        which = words("hem_higher" if off > 0 else "hem_lower")
        said.append(words("hem_other", mm=say_amount(off, unit), which=which))
    if not below:
        return [*said, words("hem_no_hip")]
    most = max(out[place] for place in PLACES)
    return [*said, words("hem_hip", mm=say_length(below, unit), out=say_amount(most, unit))]
