# SPDX-License-Identifier: MIT
"""Small forms and bodies for tests; invented round numbers."""

from __future__ import annotations

from collections.abc import Mapping

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.domain.lines import Seam, What

CLOSED_MM = {"bust": 840.0, "waist": 640.0, "hip": 880.0}
LEAST = {"bust": 33.0, "waist": 25.0, "hip": 35.0}
QUARTER_INCH = (-6.35, 6.35)


def a_form(
    parts: int = 8,
    closed: Mapping[str, float | None] | None = None,
    opened: float = 1.0,
    **fields: object,
) -> Form:
    """Return a form of three rows and twelve dials, standing `opened` above closed."""
    closed = {**CLOSED_MM, **(closed or {})}
    lines = tuple(FormLine(name=name, closed_girth_mm=girth) for name, girth in closed.items())
    rows = tuple(Row(name=name, line=name) for name in LEAST)
    dials = tuple(
        Dial(
            name=f"{row}.{seam}",
            least=least,
            greatest=least + 8.0,
            click=0.25,
            number=least + opened,
        )
        for row, least in LEAST.items()
        for seam in Seam
    )
    return Form(
        name="a form",
        parts=parts,
        lines=lines,
        rows=rows,
        dials=dials,
        **fields,  # type: ignore[arg-type]
    )


def a_body(**girths_mm: float) -> Body:
    """Return a body of whole girths with a tolerance of a quarter of an inch."""
    girths = girths_mm or {"bust": 900.0, "waist": 700.0, "hip": 950.0}
    return Body(
        name="a body",
        targets=tuple(
            Target(line=line, what=What.GIRTH, value_mm=mm, tolerance_mm=QUARTER_INCH)
            for line, mm in girths.items()
        ),
    )
