# SPDX-License-Identifier: MIT
"""A padding plan with all that following it needs: what to lay, and what the tape should read."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from fitassist.domain.body import Body
from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.padding.girth_book import GirthBook, Reading
from fitassist.padding.pieces import Kind, Piece
from fitassist.padding.plan import Manner, PaddingPlan, plan_padding
from fitassist.padding.shoulder import ShoulderWedge, shoulder_wedge
from fitassist.session.events import PaddingChosen
from fitassist.session.padding import LineShort, PaddingTask
from fitassist.session.padding_state import PaddingState

# Shoulders that differ by less are called alike (own choice: two readings of a drop are as unsure).
SHOULDERS_DIFFER_MM = 6.0
WEDGE_WIDTH_MM = 110.0  # over the shoulder, front to back (common practice, no source)
STANDS_OUT_MM = 3.0  # radial; more than this no cover hides

Watch = Callable[[float], None]


@dataclass(frozen=True)
class Wrap:
    """Sheets all round at one line, where nothing but its girth is known."""

    line: str
    sheets: int
    left_mm: float  # of girth, that no whole sheet gives


@dataclass(frozen=True)
class StandsOut:
    """Where the form is larger than the body; no padding takes that away.

    Attributes
    ----------
    girth_mm
        By how much its tape is surely over there; 0 where only the outline stands out.
    out_mm
        How far the outline stands out at worst; 0 where only the girth is known.
    share
        Where that is, as a share of the way round.
    """

    line: str
    girth_mm: float
    out_mm: float
    share: float


@dataclass(frozen=True)
class PaddingWork:
    """One person's padding on one form: the task, what was chosen, and the plan."""

    task: PaddingTask
    choice: PaddingChosen
    plan: PaddingPlan | None = None
    wraps: tuple[Wrap, ...] = ()
    wedge: tuple[str, ShoulderWedge] | None = None  # place, and its sheets

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All pieces, in the order of the plan."""
        return self.plan.pieces if self.plan is not None else ()

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to lay."""
        return not (self.pieces or self.wraps or self.wedge)

    @cached_property
    def keys(self) -> tuple[str, ...]:
        """A name for each piece that stays the same while the plan does."""
        seen: dict[str, int] = {}
        found = []
        for piece in self.pieces:
            key = f"{piece.place}:{piece.order}"
            seen[key] = seen.get(key, 0) + 1
            found.append(key if seen[key] == 1 else f"{key}:{seen[key]}")
        return tuple(found)

    @cached_property
    def book(self) -> GirthBook | None:
        """What the tape should read with any of the pieces laid."""
        if self.plan is None:
            return None
        return GirthBook(self.plan.gap.surface, self.pieces, self.plan.feather_mm)

    def plies(self, laid: frozenset[str], state: PaddingState) -> dict[int, int]:
        """Return how many sheets of each piece lie once these were laid, changes included."""
        told = {one.step: one.sheets for one in state.laid}
        return self.changed_plies(
            {
                number: told.get(key, self.pieces[number].plies)
                for number, key in enumerate(self.keys)
                if key in laid or f"{self.pieces[number].place}:all" in laid
            },
            state.changed,
        )

    def changed_plies(self, plies: dict[int, int], changed: Mapping[str, int]) -> dict[int, int]:
        """Take layers out from underneath at a place, or put them in there; pairs alike."""
        for number in sorted(plies, key=lambda n: self.pieces[n].order):
            base = base_place(self.pieces[number].place)
            more = changed.get(base, 0)
            if more == 0:
                continue
            same = [n for n in plies if base_place(self.pieces[n].place) == base]
            mine = [n for n in same if self.pieces[n].place == self.pieces[number].place]
            mine.sort(key=lambda n: self.pieces[n].order)
            if number != mine[0]:
                continue
            left = more
            for n in mine if left < 0 else mine[:1]:
                now = max(plies[n] + left, 0)
                left -= now - plies[n]
                plies[n] = now
        return plies

    def laid_now(self, state: PaddingState) -> dict[int, int]:
        """Return how many sheets of each piece lie now."""
        return self.plies(frozenset(one.step for one in state.laid), state)

    def readings(self, state: PaddingState) -> list[Reading]:
        """Return the readings that tell how thick a sheet works, with what lay then."""
        if self.book is None:
            return []
        found = []
        for one in state.readings:
            then = PaddingState(
                laid=tuple(piece for piece in state.laid if piece.step in one.laid),
                changes=tuple(c for c, seq in zip(state.changes, state.change_seqs, strict=True)
                              if seq < one.seq),
            )  # fmt: skip
            reading = self.book.reading(one.line, one.mm, self.plies(one.laid, then))
            if reading is not None:
                found.append(reading)
        return found

    def working_mm(self, state: PaddingState) -> float:
        """Return the working thickness of a sheet as readings have shown it, or as chosen."""
        if self.book is None:
            return self.choice.thickness_mm
        assumed = self.choice.thickness_mm
        return self.book.working_thickness(self.readings(state), assumed) or assumed

    def girths(self, state: PaddingState) -> dict[str, float]:
        """Return what the tape should read at each line with what lies there now."""
        if self.book is None:
            return {one.line: one.form_mm for one in self.task.lines}
        return self.book.girths(self.book.sheets(self.laid_now(state)), self.working_mm(state))

    def lines_of(self, number: int) -> tuple[str, ...]:
        """Return the lines a piece lies on."""
        book = self.book
        return tuple(n for n in book.lines if book.touches(number, n)) if book else ()


def base_place(place: str) -> str:
    """Return a place without its side: "left_cup" and "right_cup" are both "cup"."""
    for side in ("left_", "right_"):
        if place.startswith(side):
            return place.removeprefix(side)
    return place


def plan_work(
    task: PaddingTask, choice: PaddingChosen, body: Body, watch: Watch | None = None
) -> PaddingWork:
    """Return the plan for a task; girths alone become sheets all round.

    Raises
    ------
    FitError
        As ``plan_padding``.
    """
    wedge = shoulder_of(body, choice.thickness_mm)
    if not task.sections:
        return PaddingWork(
            task, choice, wraps=wraps_of(task.lines, choice.thickness_mm), wedge=wedge
        )
    manner = Manner.FREE if choice.manner == "free" else Manner.TIDY
    plan = plan_padding(
        task.sections,
        choice.thickness_mm,
        manner=manner,
        ignored_mm=task.ignored_mm,
        armhole=task.armhole,
        gaps_mm=task.gaps_mm,
        watch=watch,
    )
    return PaddingWork(task, choice, plan, wedge=wedge)


def wraps_of(lines: tuple[LineShort, ...], thickness_mm: float) -> tuple[Wrap, ...]:
    """Return sheets all round at each line that is short: n of them add 2 pi n t (Steiner)."""
    one = 2.0 * math.pi * thickness_mm
    found = []
    for line in lines:
        sheets = round(line.wanted_mm / one)
        if sheets > 0:
            found.append(Wrap(line.line, sheets, line.wanted_mm - sheets * one))
    return tuple(found)


def shoulder_of(body: Body, thickness_mm: float) -> tuple[str, ShoulderWedge] | None:
    """Return the wedge of the higher shoulder, where both drops were measured and differ."""
    told = [body.target(f"shoulder_drop_{side}", What.LENGTH) for side in ("left", "right")]
    length = body.target("shoulder_length", What.LENGTH)
    if told[0] is None or told[1] is None or length is None:
        return None
    left, right = told[0].value_mm, told[1].value_mm
    if abs(left - right) < SHOULDERS_DIFFER_MM or max(left, right) >= length.value_mm:
        return None
    slopes = [math.degrees(math.asin(drop / length.value_mm)) for drop in (left, right)]
    try:
        wedge = shoulder_wedge(
            length.value_mm, max(slopes), min(slopes), thickness_mm, WEDGE_WIDTH_MM
        )
    except FitError:
        return None
    place = "left_shoulder" if left < right else "right_shoulder"
    return (place, wedge) if wedge.lengths_mm else None


def standing_out(work: PaddingWork) -> tuple[StandsOut, ...]:
    """Return where the form stands out past the body, from the top."""
    over = {one.line: one.over_mm for one in work.task.lines if one.over_mm > 0.0}
    if work.plan is None:
        return tuple(StandsOut(line, mm, 0.0, 0.0) for line, mm in over.items())
    gap = work.plan.gap
    found = []
    for line, row in reversed(list(zip(gap.surface.lines, gap.level_gap_mm, strict=True))):
        out, at = float(-row.min()), int(row.argmin())
        told = work.task.line(line)
        is_out = out > max(STANDS_OUT_MM, work.task.ignored_mm)
        if line in over or (is_out and told is not None and told.is_sure):
            found.append(StandsOut(line, over.get(line, 0.0), max(out, 0.0), at / len(row)))
    return tuple(found)


__all__ = ["Kind", "PaddingWork", "StandsOut", "Wrap", "base_place", "plan_work", "standing_out"]
