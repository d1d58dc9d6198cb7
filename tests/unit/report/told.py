# SPDX-License-Identifier: MIT
"""Facts and records for tests of sheets; invented round numbers."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Stand, Torso
from fitassist.domain.lines import Seam, What
from fitassist.domain.measurements import Catalogue, load_catalogue
from fitassist.padding.plan import plan_padding
from fitassist.padding.surface import Section
from fitassist.report.facts import Facts, LineFact
from fitassist.report.padding_facts import Padding
from fitassist.report.page import Page, Text
from fitassist.session import events as ev
from tests.builders import a_form
from tests.unit.padding.shells import ellipse

HEIGHTS = (("hip", -200.0), ("waist", 0.0), ("bust", 160.0))
GIRTHS = {"bust": 900.0, "waist": 700.0, "hip": 950.0}


def a_target(line: str, mm: float, what: What = What.GIRTH) -> Target:
    return Target(line=line, what=what, value_mm=mm)


def some_facts(
    name: str = "Zoë Quill",
    numbers: dict[str, float] | None = None,
    more: Sequence[Target] = (),
    **changed: object,
) -> Facts:
    """Facts of a body fitted on a form of twelve dials, one line of which is short."""
    form = a_form(
        torso=Torso(parts="one", least_mm=380.0, greatest_mm=430.0, length_mm=400.0),
        stand=Stand(least_mm=1200.0, greatest_mm=1500.0, height_mm=1350.0),
    )
    form = form.at(numbers or {})
    girths = tuple(a_target(line, mm) for line, mm in GIRTHS.items())
    body = Body(name="everyday", undergarment="soft bra", targets=(*girths, *more))
    offs = {"bust": -1.0, "waist": -12.0, "hip": 10.0}
    ends = {"bust": "within", "waist": "short", "hip": "over"}
    lines = tuple(
        LineFact(
            line=line,
            target_mm=mm,
            tolerance_mm=(-6.35, 6.35),
            now_mm=mm + offs[line],
            spread_mm=2.0,
            was_read=line == "bust",
            end=ends[line],
        )
        for line, mm in GIRTHS.items()
    )
    told = {
        "person": name,
        "body": body,
        "form": form,
        "date": "2026-03-07",
        "verdict": "as_near_as_dials_go",
        "lines": lines,
        "torso_mm": 405.0,
        "stand_mm": 1360.0,
        "notes": "Second act: the heavy cloak.",
    }
    return Facts(**{**told, **changed})


@cache
def some_padding() -> Padding:
    parts = [Section(n, z, ellipse(140, 95), ellipse(152, 112)) for n, z in HEIGHTS]
    gaps = {line: {Seam.FRONT: 15.0} for line, _z in HEIGHTS}
    return Padding(plan_padding(parts, 6.0, gaps_mm=gaps), 6.0, "felt", is_slip_on=True)


@cache
def catalogue() -> Catalogue:
    root = Path(__file__).resolve().parents[3]
    return load_catalogue(root / "resources" / "measurements.json")


def a_record(*more: ev.Event) -> tuple[ev.Recorded, ...]:
    """A person with one measured body, and whatever happened after that."""
    first: list[ev.Event] = [
        ev.PersonNamed(name="Zoë Quill"),
        ev.NotesChanged(text="Second act"),
        ev.BodyDescribed(body_id="a", name="everyday", undergarment="soft bra"),
        *(ev.MeasurementTaken(body_id="a", measurement=k, mm=mm) for k, mm in GIRTHS.items()),
        ev.MeasurementTaken(body_id="a", measurement="back_neck_to_waist", mm=405.0),
    ]
    return tuple(
        ev.Recorded(seq=n, at=f"2026-03-07T09:{n:02d}:00Z", event=event)
        for n, event in enumerate([*first, *more], start=1)
    )


def words_on(pages: Sequence[Page]) -> str:
    """All words of pages, one after another, as they are read."""
    texts = [i.text for p in pages for i in (*p.items, *p.clipped) if isinstance(i, Text)]
    return " ".join(texts)
