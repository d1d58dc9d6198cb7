# SPDX-License-Identifier: MIT
"""Every sheet there is, by its name, made from one description of what is wanted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.report.balance_lines import balance_pages
from fitassist.report.cover_sheet import CoverWanted, cover_pages
from fitassist.report.facts import Facts
from fitassist.report.flow import Measure, roughly
from fitassist.report.hanging_sheet import hanging_pages
from fitassist.report.hem_sheet import HemWanted, hem_pages
from fitassist.report.padding_facts import Padding
from fitassist.report.page import Page, Text
from fitassist.report.paper import A4, Paper
from fitassist.report.person_sheet import person_pages
from fitassist.report.ribbons import blank_pages, ribbon_pages, strip_pages
from fitassist.report.templates import template_pages

SheetKey = Literal[
    "person", "hanging", "ribbons", "strips", "blank", "balance", "cover", "templates", "hem"
]
SHEETS: Final[tuple[SheetKey, ...]] = (
    "person", "hanging", "ribbons", "strips", "blank", "balance", "templates", "cover", "hem",
)  # fmt: skip
BLIND: Final = ("person", "hanging")  # can be made without body numbers
PADDED: Final = ("person", "hanging", "templates")  # tell of padding
NEWEST: Final = ("ribbons", "strips", "hem")  # go by the readings of today


@dataclass(frozen=True)
class Wanted:
    """One sheet as it is wanted."""

    key: SheetKey
    paper: Paper = A4
    unit: AnyUnit = "in"
    is_blind: bool = False
    cover: CoverWanted | None = None
    hem: HemWanted | None = None


def pages_of(
    wanted: Wanted,
    facts: Facts | None,
    padding: Padding | None = None,
    fronts: Mapping[str, float] | None = None,
    measure: Measure = roughly,
) -> list[Page]:
    """Return the pages of a sheet.

    Parameters
    ----------
    facts
        None: nobody is chosen; only the blank sheet can be made then.

    Raises
    ------
    FitError
        What the sheet itself raises; ``sheet_nobody``, ``sheet_no_padding``, ``sheet_no_pieces``,
        ``sheet_not_told``.
    """
    paper, unit = wanted.paper, wanted.unit
    if wanted.key == "blank":
        return blank_pages(paper, measure)
    if facts is None:
        raise FitError("sheet_nobody")
    if wanted.key in ("cover", "hem"):
        return _sewing(wanted, facts, measure)
    match wanted.key:
        case "person":
            return person_pages(facts, paper, unit, measure, padding, fronts, wanted.is_blind)
        case "hanging":
            return hanging_pages(facts, paper, unit, measure, padding, wanted.is_blind)
        case "ribbons":
            return ribbon_pages(facts, paper, unit, measure)
        case "strips":
            return strip_pages(facts, paper, unit, measure)
        case "balance":
            return balance_pages(facts, paper, unit, measure, fronts)
        case _:
            return _templates(wanted, padding)


def _templates(wanted: Wanted, padding: Padding | None) -> list[Page]:
    if padding is None:
        raise FitError("sheet_no_padding")
    if padding.plan is None:
        raise FitError("sheet_no_pieces")
    return template_pages(padding.plan, wanted.paper, padding.wedge, wanted.unit)


def _sewing(wanted: Wanted, facts: Facts, measure: Measure) -> list[Page]:
    paper, unit = wanted.paper, wanted.unit
    if wanted.key == "cover" and wanted.cover is not None:
        return cover_pages(facts, wanted.cover, paper, unit, measure)
    if wanted.key == "hem" and wanted.hem is not None:
        return hem_pages(facts, wanted.hem, paper, unit, measure)
    raise FitError("sheet_not_told")


def texts_of(pages: Sequence[Page]) -> list[str]:
    """Return all words on pages, in the order they were set."""
    return [
        item.text
        for page in pages
        for item in (*page.items, *page.clipped)
        if isinstance(item, Text)
    ]
