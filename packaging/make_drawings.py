# SPDX-License-Identifier: MIT
"""Write every drawing of the program as SVG, from the curves of one figure.

Run ``python packaging/make_drawings.py [FOLDER]``; without a folder the project's own ones in
``resources`` are rebuilt. Only the standard library is needed.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from drawing_figures import (
    ARMPIT,
    BACK_NECK_Y,
    BODY,
    LINE_Y,
    NECK_SIDE,
    SHOULDER,
    SHOULDER_LINE,
    Curve,
    arc,
    neck_line,
    smooth,
)
from drawing_legs import LEG_SHEETS
from drawing_padding import PADDING_SHEETS
from drawing_parts import dial, lock
from drawing_sheets import (
    CARD,
    FINE,
    FLOOR_Y,
    THREAD,
    Sheet,
    body,
    both,
    form,
    icon,
    line,
    whole_body,
)

BUST_POINT = (86.0, LINE_Y["bust"] + 8)


def girth(name: str) -> Sheet:
    """Tape level all the way round at a line."""
    sheet, y = body("front"), LINE_Y[name]
    sheet.tape(BODY.level(y, "front", -0.8), behind=True)
    sheet.tape(BODY.level(y, "front"))
    return sheet


def neck_base_girth() -> Sheet:
    """Tape round the base of the neck."""
    sheet = body("front")
    sheet.tape(neck_line("front", -1), behind=True)
    sheet.tape(neck_line("front"))
    return sheet


def side_to_side(view: str, name: str) -> Sheet:
    """Tape over the front or the back only, from side to side."""
    sheet, y = body(view), LINE_Y[name]
    sheet.tape(BODY.level(y, view))
    for end in BODY.ends(y, view):
        sheet.tick(end, (1, 0))
    return sheet


def half(side: str, name: str) -> Sheet:
    """Tape from centre front round the body's own left or right to centre back."""
    sheet, y = body("front"), LINE_Y[name]
    sheet.path(line((0, -330), (0, 262)), "centre-front", stroke=FINE, dash="2 5")
    near, far = BODY.level(y, "front"), BODY.level(y, "front", -0.8)
    if side == "left":  # the body's left is on the right of the page when it faces the reader
        near, far = near.second_half(), far.second_half()
    else:
        near, far = near.first_half(), far.first_half()
    sheet.tape(far, behind=True)
    sheet.tape(near)
    for curve in (near, far):
        middle = min((curve.start, curve.end), key=lambda p: abs(p[0]))
        sheet.tick(middle, (1, 0))
    return sheet


def straight(view: str, start: tuple[float, float], end: tuple[float, float]) -> Sheet:
    """Tape straight between two points."""
    sheet = body(view)
    along = (end[0] - start[0], end[1] - start[1])
    sheet.tape(line(start, end))
    sheet.tick(start, along)
    sheet.tick(end, along)
    return sheet


def shoulder_length(side: str = "left") -> Sheet:
    """Tape along one of the body's own shoulders, from the neck to its end."""
    sheet = body("front")
    sheet.path(neck_line("front"), "neck-line", stroke=FINE)
    along, turn = Curve(NECK_SIDE, SHOULDER_LINE.pieces[2:]), 1 if side == "left" else -1
    sheet.tape(along if side == "left" else along.mirrored())
    for x, y in (NECK_SIDE, SHOULDER):
        sheet.tick((turn * x, y), (turn * 3, 1.6))
    return sheet


ARMHOLE = smooth([SHOULDER, (166, -300), (153, -260), ARMPIT])


def across_back() -> Sheet:
    """Tape over the back between the creases of the arms."""
    sheet, y = body("back"), -258.0
    both(sheet, ARMHOLE, "armhole", stroke=FINE, dash="2 5")
    sheet.tape(arc((-153, y), (153, y), 9))
    for x in (-153, 153):
        sheet.tick((x, y), (1, 0))
    return sheet


def bust_point_distance() -> Sheet:
    """Tape between the two bust points."""
    sheet = body("front")
    x, y = BUST_POINT
    sheet.tape(line((-x, y), (x, y)))
    for at in (-x, x):
        sheet.ring((at, y), 9, stroke=THREAD, px=2.5, fill=CARD)
    return sheet


def from_waist(name: str, x: float) -> Sheet:
    """Tape along the side from the waist line to another line."""
    sheet, y = body("side"), LINE_Y[name]
    for shown in ("waist", name):
        sheet.path(BODY.level(LINE_Y[shown], "side"), f"line-{shown}", stroke=FINE)
    down = y + 15.0 if y > 0 else y + 12.0
    sheet.tape(smooth([(2, 9), ((2 + x) / 2 + (2 if y > 0 else 0), (9 + down) / 2), (x, down)]))
    sheet.tick((2, 9), (0, 1))
    sheet.tick((x, down), (0, 1))
    return sheet


def waist_to_hip() -> Sheet:
    """Tape down the side from the waist line to the hip line."""
    sheet = body("side")
    for name in ("waist", "hip"):
        sheet.path(BODY.level(LINE_Y[name], "side"), f"line-{name}", stroke=FINE)
    sheet.tape(smooth([(2, 9), (6, 110), (10, 220)]))
    sheet.tick((2, 9), (0, 1))
    sheet.tick((10, 220), (0, 1))
    return sheet


PLUMB_X, PLUMB_TOP, PLUMB_END = 8.0, -222.0, 296.0  # hung from the middle of the armpit


def _plumb(sheet: Sheet, x: float, top: float) -> None:
    """Add a thread with a weight at its end, and a mark where it crosses each line of dials."""
    sheet.path(line((x, top), (x, PLUMB_END)), "plumb", stroke=THREAD, px=2)
    sheet.ring((x, top), 7, stroke=THREAD, px=2, fill=CARD)
    weight = f"M{x:g} {PLUMB_END - 22:g}L{x + 9:g} {PLUMB_END - 6:g}L{x:g} {PLUMB_END + 14:g}"
    sheet.path(weight + f"L{x - 9:g} {PLUMB_END - 6:g}Z", "weight", stroke=THREAD, px=2, fill=CARD)


def plumb_side() -> Sheet:
    """Ribbon hung plumb from the middle of the armpit: where front ends and back begins."""
    sheet = body("side")
    for name in DIAL_LINES:
        sheet.path(BODY.level(LINE_Y[name], "side"), f"line-{name}", stroke=FINE)
    _plumb(sheet, PLUMB_X, PLUMB_TOP)
    for name in DIAL_LINES:
        sheet.tick((PLUMB_X, LINE_Y[name] + 12), (0, 1), 11)
    return sheet


def plumb_centre() -> Sheet:
    """Thread hung plumb over the middle of the front."""
    sheet = body("front")
    for name in DIAL_LINES:
        sheet.path(BODY.level(LINE_Y[name], "front"), f"line-{name}", stroke=FINE)
    _plumb(sheet, 0.0, -334.0)
    for name in DIAL_LINES:
        low = BODY.level(LINE_Y[name], "front").middle()[1]
        sheet.tick((0.0, low), (0, 1), 11)
    return sheet


def wall_and_board(name: str) -> Sheet:
    """Back against a wall and one board in front: right only where the wall touches."""
    sheet, y, tall = body("side"), LINE_Y[name], 62.0
    wall = max(x for x, at in BODY.back.points() if at <= LINE_Y["hip"] + 90) + 2
    d = f"M{wall:g} -330L{wall + 12:g} -330L{wall + 12:g} 312L{wall:g} 312Z"
    sheet.path(d, "wall", stroke=FINE, px=1.5, fill=CARD)
    left = BODY.front.x_at(y)
    d = f"M{left - 14:g} {y - tall:g}L{left - 2:g} {y - tall:g}"
    d += f"L{left - 2:g} {y + tall:g}L{left - 14:g} {y + tall:g}Z"
    sheet.path(d, "board-left", stroke=THREAD, px=2, fill=CARD)
    sheet.tape(line((left + 4, y), (wall - 4, y)), behind=True)
    return sheet


def boards(view: str, name: str) -> Sheet:
    """Two flat boards on either side and the distance between them."""
    sheet, y, tall = body(view), LINE_Y[name], 62.0
    if view == "front" and name == "bust":  # the boards stand where the arms would hang
        sheet.items = [item for item in sheet.items if 'id="arm-' not in item]
        both(sheet, ARMHOLE, "armhole", stroke=FINE)
    left, right = (end[0] for end in BODY.ends(y, view))
    for x, away in ((left, -1), (right, 1)):
        x0, x1 = x + away * 2, x + away * 14
        d = f"M{x0:g} {y - tall:g}L{x1:g} {y - tall:g}L{x1:g} {y + tall:g}L{x0:g} {y + tall:g}Z"
        sheet.path(d, "board-left" if away < 0 else "board-right", stroke=THREAD, px=2, fill=CARD)
    sheet.tape(line((left + 4, y), (right - 4, y)), behind=True)
    return sheet


def shoulder_drop(side: str) -> Sheet:
    """Height from the level of the side of the neck down to the end of the body's own shoulder."""
    sheet = body("front")
    turn = 1 if side == "left" else -1
    x, top, bottom = turn * (SHOULDER[0] + 40), NECK_SIDE[1], SHOULDER[1]
    for name, (start, y) in (("neck", NECK_SIDE), ("shoulder", SHOULDER)):
        d = line((turn * start, y), (x + turn * 18, y))
        sheet.path(d, f"level-{name}", stroke=FINE, dash="5 4")
    sheet.tape(line((x, top), (x, bottom)))
    sheet.tick((x, top), (0, 1), 11)
    sheet.tick((x, bottom), (0, 1), 11)
    return sheet


def front_waist_length() -> Sheet:
    """Tape from the side of the neck over the bust point to the waist."""
    sheet = body("front")
    sheet.path(BODY.level(LINE_Y["waist"], "front"), "line-waist", stroke=FINE)
    end = (78.0, 9.0)
    sheet.tape(smooth([NECK_SIDE, (76, -280), BUST_POINT, (85, -80), end]))
    sheet.tick(NECK_SIDE, (16, 106))
    sheet.tick(end, (-1, 12))
    return sheet


def shoulder_to_bust() -> Sheet:
    """Tape from the side of the neck to the bust point."""
    sheet = body("front")
    sheet.tape(smooth([NECK_SIDE, (76, -280), BUST_POINT]))
    sheet.tick(NECK_SIDE, (16, 106))
    sheet.tick(BUST_POINT, (0, 1))
    return sheet


def above_floor(start: tuple[float, float]) -> Sheet:
    """Upright ruler from the floor to a height."""
    sheet = whole_body()
    x = 268.0
    sheet.path(line(start, (x, start[1])), "level", stroke=FINE, dash="5 4")
    sheet.tape(line((x, start[1]), (x, FLOOR_Y)))
    sheet.tick((x, start[1]), (0, 1), 24)
    sheet.tick((x, FLOOR_Y), (0, 1), 24)
    return sheet


def undergarment() -> Sheet:
    """Draw the body in its undergarment."""
    sheet = body("front")
    sheet.items = [item for item in sheet.items if "bust-curve" not in item]
    inner = smooth([(97, -212), (66, -178), (30, -146), (0, -136)])
    outer = smooth([(97, -212), (116, -188), (150, -178)])
    lower = smooth([(0, -120), (30, -112), (80, -95), (114, -104), (141, -112)])
    for name, curve in (("top-edge", inner), ("side-edge", outer), ("lower-edge", lower)):
        both(sheet, curve, name, stroke=THREAD, px=2)
    both(sheet, smooth([(97, -212), (98, -290), (92, -370)]), "strap", stroke=THREAD, px=2)
    sheet.path(BODY.level(122, "front"), "brief-top", stroke=THREAD, px=2)
    leg = smooth([(0, 284), (58, 260), (126, 222), (180, 190)])
    both(sheet, leg, "brief-leg", stroke=THREAD, px=2)
    return sheet


def marks() -> Sheet:
    """Draw the body with a narrow tape on each line and a pin at centre front and both sides."""
    sheet = body("front")
    sheet.path(line((0, -330), (0, 262)), "centre-front", stroke=FINE, dash="2 5")
    for name in ("bust", "waist", "hip"):
        curve = BODY.level(LINE_Y[name], "front")
        sheet.path(curve, f"line-{name}", stroke=THREAD, px=2)
        for x, y in (curve.start, curve.middle(), curve.end):
            sheet.path(line((x, y - 20), (x, y + 14)), stroke=THREAD, px=2)
            sheet.ring((x, y - 24), 6, stroke=THREAD, px=1.5, fill=CARD)
    return sheet


def torso_length() -> Sheet:
    """Draw the form's back with the length that is set roughly first."""
    sheet = form("back")
    sheet.items = [item for item in sheet.items if 'id="line-' not in item or "waist" in item]
    start, end = (62.0, BACK_NECK_Y + 4), (62.0, 11.0)
    sheet.tape(line(start, end))
    sheet.tick(start, (0, 1))
    sheet.tick(end, (0, 1))
    return sheet


def ribbon(gap: float) -> Sheet:
    """Draw the ends of a marked ribbon at centre front: apart if the gap is above zero."""
    sheet = Sheet((-190.0, -125.0, 380.0, 250.0))
    sheet.path(line((0, -115), (0, 115)), "seam-front", stroke=FINE)
    lift = 7.0 if gap < 0 else 0.0
    for name, side, shift in (("under", -1, -lift), ("over", 1, lift)):
        end, out = side * (gap / 2 - 26), side * 155
        top, low = shift - 15, shift + 15
        d = (
            f"M{out:g} {top - 22:g}C{side * 110:g} {top - 8:g} {side * 70:g} {top:g} "
            f"{end:g} {top:g}"
            f"L{end:g} {low:g}C{side * 70:g} {low:g} {side * 106:g} {low - 8:g} {out - side * 5:g} "
            f"{low - 20:g}"
        )
        sheet.path(d, f"ribbon-{name}", fill=CARD)
    for name, side, shift in (("under", -1, -lift), ("over", 1, lift)):
        mark = side * gap / 2
        sheet.path(
            line((mark, shift - 26), (mark, shift + 26)), f"mark-{name}", stroke=THREAD, px=3
        )
    both(sheet, smooth([(164, -115), (156, -40), (143, 30), (130, 115)]), "side")
    return sheet


DIAL_LINES = ("bust", "waist", "hip")
SHEETS: dict[str, Callable[[], Sheet]] = {
    **{f"form_{view}": (lambda view=view: form(view)) for view in ("front", "side", "back")},
    **{f"body_{view}": (lambda view=view: body(view)) for view in ("front", "side", "back")},
    **{f"{name}_girth": (lambda name=name: girth(name)) for name in LINE_Y},
    **{
        f"{place}_{view}": (lambda place=place, view=view: side_to_side(view, place))
        for place in DIAL_LINES
        for view in ("front", "back")
    },
    **{
        f"{place}_{side}_half": (lambda place=place, side=side: half(side, place))
        for place in DIAL_LINES
        for side in ("left", "right")
    },
    **{f"{place}_breadth": (lambda place=place: boards("front", place)) for place in DIAL_LINES},
    **{f"{place}_depth": (lambda place=place: boards("side", place)) for place in DIAL_LINES},
    # The same without a line of their own, for lines a user has named.
    "front_side_to_side": lambda: side_to_side("front", "bust"),
    "back_side_to_side": lambda: side_to_side("back", "bust"),
    "left_half": lambda: half("left", "waist"),
    "right_half": lambda: half("right", "waist"),
    "breadth": lambda: boards("front", "hip"),
    "depth": lambda: boards("side", "bust"),
    "shoulder_drop": lambda: shoulder_drop("left"),
    "neck_base_girth": neck_base_girth,
    "neck_girth": neck_base_girth,
    "back_neck_to_waist": lambda: straight("back", (0, BACK_NECK_Y + 4), (0, 12)),
    **dict.fromkeys(("shoulder_length", "shoulder_length_left"), shoulder_length),
    "shoulder_length_right": lambda: shoulder_length("right"),
    "across_back": across_back,
    "bust_point_distance": bust_point_distance,
    "bust_point_to_bust_point": bust_point_distance,
    "waist_to_hip": waist_to_hip,
    "waist_to_high_hip": lambda: from_waist("high_hip", 6.0),
    "waist_to_bust": lambda: from_waist("bust", 4.0),
    "plumb_side": plumb_side,
    "plumb_centre": plumb_centre,
    "wall_and_board": lambda: wall_and_board("hip"),
    "shoulder_drop_left": lambda: shoulder_drop("left"),
    "shoulder_drop_right": lambda: shoulder_drop("right"),
    "front_waist_length": front_waist_length,
    "shoulder_to_bust": shoulder_to_bust,
    "floor_to_shoulder": lambda: above_floor(NECK_SIDE),
    "floor_to_waist": lambda: above_floor((BODY.side.x_at(0), 0)),
    "check_undergarment": undergarment,
    "check_marks": marks,
    "check_torso_length": torso_length,
    "part_dial": dial,
    "part_lock": lock,
    "ribbon_apart": lambda: ribbon(84),
    "ribbon_overlap": lambda: ribbon(-84),
    **LEG_SHEETS,
    **PADDING_SHEETS,
}


def main(resources: Path) -> None:
    """Write all drawings and the icon below a folder."""
    drawings, icons = resources / "drawings", resources / "icon"
    for folder in (drawings, icons):
        folder.mkdir(parents=True, exist_ok=True)
    for name, make in SHEETS.items():
        (drawings / f"{name}.svg").write_text(make().text(), encoding="utf-8", newline="\n")
    (icons / "fitassist.svg").write_text(icon(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    own = Path(__file__).resolve().parent.parent / "resources"
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else own)
