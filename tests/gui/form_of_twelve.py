# SPDX-License-Identifier: MIT
"""A form of twelve dials and a body for it; needs nothing but the words of the domain."""

from __future__ import annotations

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import Dial, Form, FormLine, Row, Stand, Torso
from fitassist.domain.lines import Seam
from fitassist.session import events as ev

CLOSED_MM = {"bust": 889.0, "waist": 711.2, "hip": 939.8}  # 35, 28 and 37 in
LEAST = {"bust": 35.0, "waist": 28.0, "hip": 37.0}
GOAL_MM = {"bust": 927.1, "waist": 742.95, "hip": 971.55}


def a_form(**changes: object) -> Form:
    dials = tuple(
        Dial(name=f"{row}.{seam}", least=least, greatest=least + 6, click=0.25, number=least)
        for row, least in LEAST.items()
        for seam in Seam
    )
    form = Form(
        name="A form of twelve dials",
        lines=tuple(FormLine(name=n, closed_girth_mm=mm) for n, mm in CLOSED_MM.items()),
        rows=tuple(Row(name=name, line=name) for name in LEAST),
        dials=dials,
        torso=Torso(parts="one", least_mm=380.0, greatest_mm=440.0, length_mm=380.0),
        stand=Stand(),
    )
    return form.model_copy(update=changes)


def a_body(**goals_mm: float) -> Body:
    goals = {**GOAL_MM, **goals_mm}
    targets = tuple(Target(line=line, value_mm=mm) for line, mm in goals.items())
    return Body(name="Everyday", undergarment="everyday bra", targets=targets)


def started(**preferences: object) -> ev.FittingStarted:
    return ev.FittingStarted(
        fitting_id="one", body=a_body(), form=a_form(), preferences=Preferences(**preferences)
    )
