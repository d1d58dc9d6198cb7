# SPDX-License-Identifier: MIT
"""What lengths say of how a body is carried, and what of it no dial of this form can follow.

Found once for a body and a form; said in the first minute, or asked as a plain step at the end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.steps import Note, Reason
from fitassist.geometry.posture import arc_rise_mm, stand_setting, tip_rad, wedge_mm
from fitassist.geometry.sections import USUAL_BREADTH_PER_DEPTH, semi_axes
from fitassist.session.shape_form import set_heights, torso_set_mm

# Front (side of neck over the bust point to the waist) less back (neck to waist): outside of these
# a body is carried otherwise than usual. Own choice, from memory of the trade, wide on purpose.
USUAL_BALANCE_MM = {"woman": (10.0, 90.0)}
OTHERS_BALANCE_MM = (-40.0, 60.0)
# A back that stands out farther than this from the straight way up is called rounded, one shorter
# than the straight way by more than that is hollow above the waist. Own choices, no source.
ROUNDED_RISE_MM = 80.0
HOLLOW_MM = 20.0
WORTH_MM = 6.0  # a quarter inch: less is not seen under a garment (own choice)
OFF_ROW_MM = 15.0  # a tape half an inch off a row still follows it (own choice)
USUAL_SHOULDER_MM = 125.0  # only where it was not measured; wedges do not depend on it


@dataclass(frozen=True)
class Carriage:
    """How a body is carried, as its lengths tell: what to say of it, and the tip of its upper half.

    ``tip_rad`` is below zero where it tips to the front, 0 where only the back curves.
    """

    note: Note
    tip_rad: float


def carriage(body: Body, form: Form | None) -> Carriage | None:
    """Return how a body is carried; None where its lengths tell nothing beyond the usual.

    Without a form only the body's own back is spoken of, for the rest says what a torso can do.
    """
    found = _carried(body, form or Form(name="", lines=(), rows=(), dials=()))
    if not found or (form is None and "degrees" in found[0].reason.values):
        return None
    tip = math.radians(float(str(found[0].reason.values.get("degrees", 0.0))))
    return Carriage(found[0], -tip if found[0].reason.code.startswith("back_long") else tip)


def posture_notes(body: Body, form: Form) -> tuple[Note, ...]:
    """Return what lengths of a body ask of this form beside its dials, the stand first."""
    found = (*_stand(body, form), *_torso(body, form), *_carried(body, form))
    return (*found, *_shoulders(body), *_places(body, form))


def wedge_of(body: Body) -> float:
    """Return what the left shoulder's tip is to be built up by; below zero: the right one's."""
    sides = []
    for side in ("left", "right"):
        drop = _length(body, f"shoulder_drop_{side}")
        long = _length(body, f"shoulder_length_{side}") or _length(body, "shoulder_length")
        if drop is None:
            return 0.0
        sides.append((drop, max(long or USUAL_SHOULDER_MM, drop)))
    wedge = wedge_mm(sides[0], sides[1])
    return wedge if abs(wedge) >= WORTH_MM else 0.0


def _length(body: Body, key: str) -> float | None:
    target = body.target(key, What.LENGTH)
    return target.value_mm if target is not None else None


def _note(code: str, line: str = "", **values: float) -> Note:
    facts: dict[str, object] = {"line": line, **values} if line else dict(values)
    return Note(code="step", line=line, reason=Reason(code=code, values=facts))


def _stand(body: Body, form: Form) -> tuple[Note, ...]:
    """Say what a stand that does not reach asks for; from the waist where there is no shoulder."""
    wanted, waist = _length(body, "floor_to_shoulder"), _length(body, "floor_to_waist")
    torso = torso_set_mm(form, body)
    if wanted is None and waist is not None and torso is not None:
        wanted = waist + torso
    if wanted is None:
        return ()
    least = form.stand.least_mm if form.stand.least_mm is not None else -math.inf
    greatest = form.stand.greatest_mm if form.stand.greatest_mm is not None else math.inf
    setting = stand_setting(wanted, least, greatest)
    if setting.raise_mm >= WORTH_MM:
        return (_note("stand_short", mm=setting.raise_mm),)
    if setting.over_mm >= WORTH_MM:
        return (_note("stand_high", mm=setting.over_mm),)
    return ()


def _torso(body: Body, form: Form) -> tuple[Note, ...]:
    found = []
    back, there = _length(body, "back_neck_to_waist"), torso_set_mm(form, body)
    if back is not None and there is not None and back - there >= WORTH_MM:
        found.append(_note("torso_short", mm=back - there))
    front = _length(body, "front_waist_length")
    if form.torso.parts == "front_back_sides" and front is not None:
        found.append(_note("torso_front", mm=front))
    return tuple(found)


def _carried(body: Body, form: Form) -> tuple[Note, ...]:
    """Say how the back is carried, where its lengths tell."""
    back, front = _length(body, "back_neck_to_waist"), _length(body, "front_waist_length")
    shoulder, waist = _length(body, "floor_to_shoulder"), _length(body, "floor_to_waist")
    if back is None:
        return ()
    if shoulder is not None and waist is not None and shoulder > waist:
        straight = shoulder - waist
        rise = arc_rise_mm(back, straight)
        if rise > ROUNDED_RISE_MM:
            return (_note("rounded_back", mm=rise),)
        if straight - back > HOLLOW_MM:
            return (_note("sway_back", mm=straight - back),)
    if front is None:
        return ()
    low, high = USUAL_BALANCE_MM.get(body.kind, OTHERS_BALANCE_MM)
    beyond = max(front - back - high, 0.0) - max(low - (front - back), 0.0)
    if abs(beyond) < WORTH_MM:
        return ()
    code = "front_long" if beyond > 0 else "back_long"
    tip = abs(math.degrees(tip_rad(beyond, 0.0, _waist_depth(body))))
    if form.torso.parts != "front_back_sides":
        code += "_one_piece"
    return (_note(code, mm=abs(beyond), degrees=tip),)


def _waist_depth(body: Body) -> float:
    deep, girth = body.target("waist", What.DEPTH), body.target("waist")
    if deep is not None:
        return deep.value_mm
    return 2.0 * semi_axes(girth.value_mm if girth else 750.0, USUAL_BREADTH_PER_DEPTH)[1]


def _shoulders(body: Body) -> tuple[Note, ...]:
    found = []
    wedge = wedge_of(body)
    if wedge:
        code = "higher_shoulder_left" if wedge > 0 else "higher_shoulder_right"
        found.append(_note(code, mm=abs(wedge)))
    left, right = (_length(body, f"shoulder_length_{side}") for side in ("left", "right"))
    if left is not None and right is not None and abs(left - right) >= WORTH_MM:
        code = "longer_shoulder_left" if left > right else "longer_shoulder_right"
        found.append(_note(code, mm=abs(left - right)))
    return tuple(found)


def _places(body: Body, form: Form) -> tuple[Note, ...]:
    """Say where the body's fullest places lie off the form's; no dial moves them up or down."""
    heights, rows = set_heights(form, body), {row.line for row in form.rows}
    found = []
    bust, hip = _length(body, "waist_to_bust"), _length(body, "waist_to_hip")
    if bust is not None and "bust" in heights:
        off = bust - heights["bust"]
        if abs(off) > OFF_ROW_MM:
            found.append(_note("bust_higher" if off > 0 else "bust_lower", "bust", mm=abs(off)))
    if hip is not None and "hip" in heights:
        off = -hip - heights["hip"]
        if -hip < min(heights.values()) - OFF_ROW_MM:
            found.append(_note("hip_below_form", "hip", mm=-off))
        elif abs(off) > OFF_ROW_MM and "hip" in rows:
            code = "hip_above_row" if off > 0 else "hip_below_row"
            found.append(_note(code, "hip", mm=abs(off)))
    return tuple(found)
