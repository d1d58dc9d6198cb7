# SPDX-License-Identifier: MIT
"""What sheets tell of a padding plan: pieces in the order of laying, small enough to print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from fitassist.geometry.shape_prior import ShapePriors
from fitassist.padding.materials import Material
from fitassist.padding.plan import PaddingPlan
from fitassist.padding.shoulder import ShoulderWedge
from fitassist.report.facts import last_of_body
from fitassist.report.page import Point
from fitassist.session.events import PaddingChosen, Recorded
from fitassist.session.padding import padding_task
from fitassist.session.padding_work import Watch, plan_work


@dataclass(frozen=True)
class Padding:
    """What is laid on the form, what it is made of, and how it is held.

    Attributes
    ----------
    plan
        Pieces with shapes; None where only girths were known.
    wraps
        Sheets all round by line, where there is no plan.
    wedge
        Place and sheets of the wedge for the higher shoulder.
    thickness_mm
        Of one sheet, as it works.
    plies
        Sheets of a piece by its place in the plan, where the tape led to other than planned.
    read_mm
        What the tape last read over the padding, by line.
    """

    plan: PaddingPlan | None
    thickness_mm: float
    material: str = ""
    is_slip_on: bool = False
    wraps: tuple[tuple[str, int], ...] = ()
    wedge: tuple[str, ShoulderWedge] | None = None
    plies: Mapping[int, int] = field(default_factory=dict)
    read_mm: Mapping[str, float] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is to be laid."""
        pieces = self.plan is not None and bool(self.plan.pieces or self.plan.strips)
        return not (pieces or self.wraps or self.wedge)


def last_padding_choice(events: Sequence[Recorded], body_id: str = "") -> PaddingChosen | None:
    """Return what was chosen for the last fitting of a body, or None."""
    found = last_of_body(events, body_id)
    return found[2].choice if found is not None else None


def padding_of(
    events: Sequence[Recorded],
    body_id: str = "",
    priors: ShapePriors | None = None,
    materials: Sequence[Material] = (),
    watch: Watch | None = None,
) -> Padding | None:
    """Return what was chosen to be laid after the last fitting of a body; None: nothing yet.

    Parameters
    ----------
    watch
        Is told which share of the plan is done, and may raise to stop it.

    Raises
    ------
    FitError
        As ``plan_padding`` does.
    """
    found = last_of_body(events, body_id)
    if found is None or found[2].choice is None:
        return None
    started, view, laid = found
    choice = laid.choice
    assert choice is not None
    work = plan_work(padding_task(started, view, priors), choice, started.body, watch)
    named = next((one.name for one in materials if one.key == choice.material), "")
    return Padding(
        plan=work.plan,
        thickness_mm=work.working_mm(laid),
        material=named,
        is_slip_on=choice.carrier == "slip_on",
        wraps=tuple((wrap.line, wrap.sheets) for wrap in work.wraps),
        wedge=work.wedge,
        plies=work.changed_plies({n: p.plies for n, p in enumerate(work.pieces)}, laid.changed),
        read_mm={one.line: one.mm for one in laid.readings},
    )


@dataclass(frozen=True)
class PieceFact:
    """One piece as a sheet shows it.

    Attributes
    ----------
    number
        Of laying, from 1, over all places.
    ring_mm
        The flat outline, x right and y down about its middle; of a split piece the first part's.
    parts
        Into how many it is split.
    mirrors
        Place of the piece it is the mirror image of; empty if none.
    """

    number: int
    place: str
    layer: int
    plies: int
    width_mm: float
    height_mm: float
    ring_mm: tuple[Point, ...]
    parts: int
    mirrors: str


def piece_facts(padding: Padding | None) -> tuple[PieceFact, ...]:
    """Return the pieces, place after place, what is laid first going first."""
    plan = padding.plan if padding is not None else None
    if plan is None:
        return ()
    found: list[PieceFact] = []
    for index, (piece, flats) in enumerate(zip(plan.pieces, plan.shapes, strict=True)):
        plies = padding.plies.get(index, piece.plies) if padding is not None else piece.plies
        if plies <= 0:
            continue
        ring = flats[0].outline_mm * [1.0, -1.0]
        width, height = piece.size_mm
        found.append(
            PieceFact(
                number=len(found) + 1,
                place=piece.place,
                layer=piece.order,
                plies=plies,
                width_mm=width,
                height_mm=height,
                ring_mm=tuple((float(x), float(y)) for x, y in np.asarray(ring)[:-1]),
                parts=len(flats),
                mirrors=piece.mirrors,
            )
        )
    return tuple(found)


def one_sided(pieces: Sequence[PieceFact]) -> tuple[str, ...]:
    """Return the places of pieces that lie on one side and have no mirror image."""
    mirrored = {piece.mirrors for piece in pieces if piece.mirrors}
    mirrored |= {piece.place for piece in pieces if piece.mirrors}
    sided = {piece.place for piece in pieces if piece.place.startswith(("left_", "right_"))}
    return tuple(sorted(sided - mirrored))
