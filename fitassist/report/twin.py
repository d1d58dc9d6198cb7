# SPDX-License-Identifier: MIT
"""The sheet of a person as JSON, format ``fitassist-sheet`` version 1, for other programs.

Lengths are in mm; dial numbers are as the form prints them. Fields that are not known are left
out, as is every length of the body in a copy without body numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from fitassist.domain.lines import What
from fitassist.domain.model import Model
from fitassist.errors import FitError
from fitassist.report.balance_lines import balance_of
from fitassist.report.facts import Facts, LineEnd
from fitassist.report.padding_facts import Padding, piece_facts


class TwinForm(Model):
    """Which form it is about."""

    name: str
    units: Literal["in", "cm"]
    dial_meaning: str


class TwinLine(Model):
    """How a line ended."""

    line: str
    what: What
    target_mm: float
    tolerance_mm: tuple[float, float]
    form_mm: float | None = None
    was_read: bool
    end: LineEnd


class TwinPiece(Model):
    """A piece of padding, in the order of laying."""

    place: str
    layer: int
    plies: int
    parts: int
    mirrors: str | None = None
    width_mm: float | None = None
    height_mm: float | None = None


class TwinBalance(Model):
    """Where tapes lie at a line."""

    line: str
    above_waist_mm: float | None = None
    front_gap_mm: float | None = None
    back_gap_mm: float | None = None
    left_side_from_front_mm: float
    right_side_from_front_mm: float


class SheetTwin(Model):
    """The whole file."""

    format: Literal["fitassist-sheet"] = "fitassist-sheet"
    version: Literal[1] = 1
    person: str
    body: str
    undergarment: str
    form: TwinForm
    date: str | None = None
    verdict: str | None = None
    dials: dict[str, float]
    stuck: tuple[str, ...] = ()
    has_body_numbers: bool
    torso_mm: float | None = None
    stand_mm: float | None = None
    lines: tuple[TwinLine, ...] | None = None
    padding_thickness_mm: float | None = None
    material: str | None = None
    on_slip_on: bool | None = None
    padding: tuple[TwinPiece, ...] = ()
    wraps: dict[str, int] | None = None
    padded_mm: dict[str, float] | None = None
    balance: tuple[TwinBalance, ...] | None = None
    notes: str | None = None


def twin_of(
    facts: Facts,
    padding: Padding | None = None,
    fronts: Mapping[str, float] | None = None,
    is_blind: bool = False,
) -> SheetTwin:
    """Return what the person's sheet says, as data.

    Raises
    ------
    FitError
        ``sheet_no_form`` where nothing was fitted yet.
    """
    form = facts.form
    if form is None:
        raise FitError("sheet_no_form")
    known = SheetTwin(
        person=facts.person,
        body=facts.body.name,
        undergarment=facts.body.undergarment,
        form=TwinForm(name=form.name, units=form.units, dial_meaning=form.dial_meaning.value),
        date=facts.date or None,
        verdict=facts.verdict or None,
        dials=form.numbers(),
        stuck=facts.stuck,
        has_body_numbers=not is_blind,
        padding_thickness_mm=padding.thickness_mm if padding else None,
        material=(padding.material or None) if padding else None,
        on_slip_on=padding.is_slip_on if padding else None,
        padding=_pieces(padding, is_blind),
        wraps=dict(padding.wraps) if padding is not None and padding.wraps else None,
    )
    if is_blind:
        return known
    numbers = {
        "torso_mm": facts.torso_mm,
        "stand_mm": facts.stand_mm,
        "lines": _lines(facts),
        "balance": _balance(facts, fronts),
        "notes": facts.notes or None,
        "padded_mm": _padded(padding),
    }
    return known.model_copy(update=numbers)


def twin_json(twin: SheetTwin) -> bytes:
    """Return a twin as a UTF-8 JSON text, what is not known left out."""
    return (twin.model_dump_json(exclude_none=True, indent=1) + "\n").encode("utf-8")


def _lines(facts: Facts) -> tuple[TwinLine, ...]:
    return tuple(
        TwinLine(
            line=one.line,
            what=one.what,
            target_mm=_tenth(one.target_mm),
            tolerance_mm=(_tenth(one.tolerance_mm[0]), _tenth(one.tolerance_mm[1])),
            form_mm=None if one.now_mm is None else _tenth(one.now_mm),
            was_read=one.was_read,
            end=one.end,
        )
        for one in facts.lines
    )


def _pieces(padding: Padding | None, is_blind: bool) -> tuple[TwinPiece, ...]:
    return tuple(
        TwinPiece(
            place=piece.place,
            layer=piece.layer,
            plies=piece.plies,
            parts=piece.parts,
            mirrors=piece.mirrors or None,
            width_mm=None if is_blind else _tenth(piece.width_mm),
            height_mm=None if is_blind else _tenth(piece.height_mm),
        )
        for piece in piece_facts(padding)
    )


def _balance(facts: Facts, fronts: Mapping[str, float] | None) -> tuple[TwinBalance, ...]:
    return tuple(
        TwinBalance(
            line=one.line,
            above_waist_mm=None if one.above_waist_mm is None else _tenth(one.above_waist_mm),
            front_gap_mm=None if one.front_gap_mm is None else _tenth(one.front_gap_mm),
            back_gap_mm=None if one.back_gap_mm is None else _tenth(one.back_gap_mm),
            left_side_from_front_mm=_tenth(one.left.from_front_mm),
            right_side_from_front_mm=_tenth(one.right.from_front_mm),
        )
        for one in balance_of(facts, fronts)
    )


def _padded(padding: Padding | None) -> dict[str, float] | None:
    if padding is None or not padding.read_mm:
        return None
    return {line: _tenth(mm) for line, mm in padding.read_mm.items()}


def _tenth(mm: float) -> float:
    return round(mm, 1)
