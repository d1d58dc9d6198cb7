# SPDX-License-Identifier: MIT
"""From a plan to what is painted of it: the map's regions, the sections, and the same in words."""

from __future__ import annotations

import numpy as np

from fitassist.domain.lines import Seam
from fitassist.domain.units import AnyUnit
from fitassist.gui.padding_map import MapPicture
from fitassist.gui.padding_sections import SHOWN, PaddedSection
from fitassist.padding.contours import map_regions
from fitassist.padding.gap import GapMap
from fitassist.padding.places import nearest_place
from fitassist.padding.strips import LEAST_GAP_MM
from fitassist.session.padding_work import STANDS_OUT_MM, PaddingWork
from fitassist.wording.language import capital
from fitassist.wording.padding_page_words import gap_text, say
from fitassist.wording.padding_words import place_text
from fitassist.wording.places import line_name

PREFERRED = ("bust", "waist", "hip")


def map_picture(work: PaddingWork, thickness_mm: float) -> MapPicture | None:
    """Return the map of a plan, its regions as for another thickness of one sheet."""
    if work.plan is None:
        return None
    gap = work.plan.gap
    surface = gap.surface
    known = surface.z_mm[surface.is_known]
    widest: dict[Seam, float] = {}
    for line in surface.lines:
        for seam, mm in work.task.gaps_mm.get(line, {}).items():
            if mm >= LEAST_GAP_MM:
                widest[seam] = max(widest.get(seam, 0.0), mm)
    least_out = max(STANDS_OUT_MM, work.task.ignored_mm)
    return MapPicture(
        regions=map_regions(gap, thickness_mm, least_out),
        low_mm=float(known[0]),
        high_mm=float(known[-1]),
        round_mm=surface.width_mm,
        lines=tuple(zip(surface.lines, surface.level_z_mm.tolist(), strict=True)),
        gaps_mm=widest,
    )


def map_words(work: PaddingWork, picture: MapPicture) -> str:
    """Say what a map shows: each numbered region with its place."""
    if work.plan is None:
        return ""
    surface = work.plan.gap.surface
    said = []
    for region in picture.regions:
        if region.label_at is None:
            continue
        share, z = region.label_at
        place = capital(place_text(nearest_place(share, z, surface)))
        what = f"{region.sheets} {say('sheets')}" if region.sheets else say("out")
        said.append(f"{place}: {what}.")
    return " ".join(dict.fromkeys(said)) or say("enough")


def padded_sections(work: PaddingWork, unit: AnyUnit) -> tuple[PaddedSection, ...]:
    """Return the sections that are drawn, from the top: bust, waist and hip where they are."""
    if work.plan is None:
        return ()
    gap = work.plan.gap
    lines = gap.surface.lines
    wanted = [line for line in PREFERRED if line in lines]
    wanted += [line for line in lines if line not in wanted]
    shown = [line for line in reversed(lines) if line in wanted[:SHOWN]]
    return tuple(_section(work, gap, lines.index(line), unit) for line in shown)


def _section(work: PaddingWork, gap: GapMap, at: int, unit: AnyUnit) -> PaddedSection:
    assert work.plan is not None
    surface = gap.surface
    form, normals = surface.level_points_mm[at], surface.level_normals[at]
    row = int(np.abs(surface.z_mm - surface.level_z_mm[at]).argmin())
    laid = work.plan.outcome.laid_mm[row]
    missing = float(np.maximum(gap.level_gap_mm[at], 0.0).max())
    words = gap_text(missing, work.plan.thickness_mm, unit)
    out = float(-gap.level_gap_mm[at].min())
    if words == say("enough") and out > max(STANDS_OUT_MM, work.task.ignored_mm):
        words = say("out")
    line = surface.lines[at]
    return PaddedSection(
        line,
        form,
        form + laid[:, None] * normals,
        form + gap.level_gap_mm[at][:, None] * normals,
        words,
    )


def section_words(sections: tuple[PaddedSection, ...]) -> tuple[str, ...]:
    """Return one sentence for each section."""
    return tuple(f"{capital(line_name(one.line))}: {one.words}" for one in sections)
