# SPDX-License-Identifier: MIT
"""Sheets to draw on, and the two figures drawn on them: the body and the form.

Colours are placeholders that the program replaces by the theme's; stroke widths are pixels at
normal size and are kept at any size.
"""

from __future__ import annotations

from drawing_figures import (
    ARM_INNER,
    ARM_OUTER,
    ARMPIT,
    BODY,
    FORM,
    HEM_Y,
    LEG_INNER,
    LEG_OUTER,
    LINE_Y,
    NECK_SIDE,
    SHOULDER_LINE,
    Curve,
    Point,
    arc,
    drop_at,
    neck_line,
    smooth,
)

INK, FINE, THREAD, CARD = "#000001", "#000002", "#000003", "#000004"
TAPE_PX = 2.5
FLOOR_Y = 1022.0
BODY_BOX = (-250.0, -480.0, 500.0, 812.0)
FLOOR_BOX = (-330.0, -480.0, 660.0, 1520.0)
FORM_BOX = (-205.0, -488.0, 410.0, 982.0)


class Sheet:
    """One drawing in the making."""

    def __init__(self, box: tuple[float, float, float, float]) -> None:
        self.box = box
        self.items: list[str] = []

    def path(
        self,
        d: str | Curve,
        name: str = "",
        *,
        stroke: str = INK,
        px: float = 1.5,
        dash: str = "",
        fill: str = "",
    ) -> None:
        """Add a path; `px` and `dash` are in pixels at normal size."""
        text = d.d() if isinstance(d, Curve) else d
        parts = [f'id="{name}" ' if name else "", f'd="{text}"', f' stroke="{stroke}"']
        if stroke != "none":
            parts.append(f' stroke-width="{px:g}"')
        parts += [f' stroke-dasharray="{dash}"' if dash else "", f' fill="{fill}"' if fill else ""]
        self.items.append(f"<path {''.join(parts)}/>")

    def ring(self, at: Point, radius: float, name: str = "", *, stroke: str = INK, px: float = 1.5,
             fill: str = "none") -> None:  # fmt: skip
        """Add a circle."""
        key = f'id="{name}" ' if name else ""
        self.items.append(
            f'<circle {key}cx="{at[0]:g}" cy="{at[1]:g}" r="{radius:g}" stroke="{stroke}" '
            f'stroke-width="{px:g}" fill="{fill}"/>'
        )

    def tape(self, d: str | Curve, *, behind: bool = False) -> None:
        """Add a tape, dashed where it runs behind the figure."""
        name = "tape-behind" if behind else "tape"
        count = sum(f'id="{name}' in item for item in self.items)
        name += f"-{count + 1}" if count else ""
        self.path(d, name, stroke=THREAD, px=TAPE_PX, dash="5 5" if behind else "")

    def tick(self, at: Point, along: Point, half: float = 15) -> None:
        """Add an end mark square to the direction of the tape."""
        size = (along[0] ** 2 + along[1] ** 2) ** 0.5
        nx, ny = -along[1] / size * half, along[0] / size * half
        self.path(
            line((at[0] - nx, at[1] - ny), (at[0] + nx, at[1] + ny)), stroke=THREAD, px=TAPE_PX
        )

    def text(self) -> str:
        """Return the SVG document."""
        x, y, w, h = self.box
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{x:g} {y:g} {w:g} {h:g}" '
            f'width="{w:g}" height="{h:g}" fill="none" stroke-linecap="round" '
            'stroke-linejoin="round">'
        )
        return "\n".join(["<!-- SPDX-License-Identifier: MIT -->", head, *self.items, "</svg>", ""])


def line(start: Point, end: Point) -> str:
    """Return the path data of a straight line."""
    return f"M{start[0]:.4g} {start[1]:.4g}L{end[0]:.4g} {end[1]:.4g}"


def both(sheet: Sheet, curve: Curve, name: str = "", **kwargs: object) -> None:
    """Add a curve and its mirror image."""
    sheet.path(curve, name, **kwargs)  # type: ignore[arg-type]
    sheet.path(curve.mirrored(), name and f"{name}-mirrored", **kwargs)  # type: ignore[arg-type]


def body(view: str, box: tuple[float, float, float, float] = BODY_BOX) -> Sheet:
    """Draw the body seen from the front, back or its own left side, open at the ends."""
    sheet = Sheet(box)
    if view == "side":
        sheet.path(BODY.front, "outline-front")
        sheet.path(BODY.back, "outline-back")
        arm = smooth([(-32, -118), (-37, -190), (-38, -262), (-22, -314), (12, -332), (45, -314),
                      (58, -262), (54, -190), (48, -118)])  # fmt: skip
        sheet.path(arm, "arm", stroke=FINE)
        return sheet
    both(sheet, ARM_OUTER, "arm-outer")
    both(sheet, smooth(ARM_INNER), "arm-inner")
    both(sheet, SHOULDER_LINE, "shoulder")
    both(sheet, BODY.side, "side")
    _body_details(sheet, view)
    return sheet


def _body_details(sheet: Sheet, view: str) -> None:
    """Add the few fine lines that tell front from back."""
    if view == "front":
        curve = smooth([(132, -142), (114, -114), (82, -103), (48, -112), (26, -134)])
        both(sheet, curve, "bust-curve", stroke=FINE)
        both(sheet, smooth([(17, -334), (52, -344), (112, -341)]), "collar-bone", stroke=FINE)
        sheet.path(line((0, 284), (0, HEM_Y)), "legs", stroke=FINE)
        return
    sheet.path(smooth([(0, -340), (0, -150), (0, 20)]), "spine", stroke=FINE)
    both(sheet, smooth([(116, -262), (98, -222), (56, -214)]), "shoulder-blade", stroke=FINE)
    sheet.path(line((0, 168), (0, HEM_Y)), "seat", stroke=FINE)
    both(sheet, smooth([(4, 268), (46, 284), (104, 274)]), "seat-curve", stroke=FINE)


def whole_body() -> Sheet:
    """Draw the body from the front standing on the floor."""
    sheet = body("front", FLOOR_BOX)
    left_out = ('id="side', 'id="legs')
    sheet.items = [item for item in sheet.items if not any(name in item for name in left_out)]
    both(sheet, smooth(LEG_OUTER), "side")
    both(sheet, smooth(LEG_INNER), "leg-inner")
    sheet.path(line((-300, FLOOR_Y), (300, FLOOR_Y)), "floor", stroke=FINE)
    return sheet


# --- the form -------------------------------------------------------------------------------------

FORM_NECK = smooth([(47, -452), (48, -424), NECK_SIDE])
FORM_SHOULDER = smooth([NECK_SIDE, (118, -360), (172, -341)])
FORM_ARMHOLE = smooth([(172, -341), (181, -334), (179, -322), (163, -288), (151, -252), ARMPIT])
FORM_BOTTOM_Y = 290.0
SPLIT_Y = (26.0, 38.0)  # an upper and a lower half part here, a little below the waist dials


def form(view: str) -> Sheet:
    """Draw the form with its seams and every named line; dials are added where they are known."""
    sheet = Sheet(FORM_BOX)
    _stand(sheet)
    if view == "side":
        _form_side(sheet)
    else:
        _form_front(sheet, view)
    for name in ("neck", *LINE_Y):
        curve = neck_line(view) if name == "neck" else FORM.level(LINE_Y[name], view)
        sheet.path(curve, f"line-{name}", stroke=FINE)
    for number, y in enumerate(SPLIT_Y, 1):
        sheet.path(FORM.level(y, view), f"split-{number}")
    return sheet


def _stand(sheet: Sheet) -> None:
    """Add the pole and its foot, shortened."""
    for x in (-9, 9):
        sheet.path(line((x, 300), (x, 446)), f"pole-{'left' if x < 0 else 'right'}")
    foot = "M-9 440C-16 456 -128 452 -128 470C-128 486 128 486 128 470C128 452 16 456 9 440"
    sheet.path(foot, "foot", fill=CARD)


def _cap(sheet: Sheet, half: float, y: float, x: float = 0) -> None:
    """Close the neck with a cap and a small knob."""
    knob = f"M{x - 9:g} {y - 11:g}C{x - 14:g} {y - 34:g} {x + 14:g} {y - 34:g} {x + 9:g} {y - 11:g}"
    sheet.path(knob, "knob", fill=CARD)
    left, right = (x - half, y), (x + half, y)
    rim = arc(left, right, -12).d() + arc(left, right, 8).backwards().d(move=False)
    sheet.path(rim + "Z", "cap", fill=CARD)


def _form_front(sheet: Sheet, view: str) -> None:
    right = [FORM_NECK, FORM_SHOULDER, FORM_ARMHOLE, FORM.side]
    bottom = arc((-178, FORM_BOTTOM_Y), (178, FORM_BOTTOM_Y), drop_at(FORM_BOTTOM_Y, 178))
    shape = right[0].d() + "".join(curve.d(move=False) for curve in right[1:])
    shape += bottom.backwards().d(move=False)
    shape += "".join(c.mirrored().backwards().d(move=False) for c in reversed(right))
    sheet.path(shape + "Z", "outline", stroke="none", fill=CARD)
    _cap(sheet, 47, -452)
    for name, curve in (
        ("neck", FORM_NECK),
        ("shoulder", FORM_SHOULDER),
        ("armhole", FORM_ARMHOLE),
    ):
        both(sheet, curve, name)
    sheet.path(bottom, "bottom")
    # Seen from the front the form's left is on the right of the page; from the back it is not.
    on_right, on_left = ("left", "right") if view == "front" else ("right", "left")
    sheet.path(FORM.side, f"seam-{on_right}")
    sheet.path(FORM.side.mirrored(), f"seam-{on_left}")
    middle = neck_line(view).middle()
    end = FORM_BOTTOM_Y + drop_at(FORM_BOTTOM_Y, 178)
    sheet.path(line(middle, (0, end)), f"seam-{view}", stroke=FINE)


def _form_side(sheet: Sheet) -> None:
    front, back = FORM.front, FORM.back
    left, right = front.pieces[-1][2], back.pieces[-1][2]
    bottom = arc(left, right, drop_at(FORM_BOTTOM_Y, (right[0] - left[0]) / 2))
    shape = front.d() + bottom.d(move=False) + back.backwards().d(move=False)
    sheet.path(shape + "Z", "outline", stroke="none", fill=CARD)
    _cap(sheet, 45, -452, -3)
    sheet.path(front, "seam-front")
    sheet.path(back, "seam-back")
    sheet.path(bottom, "bottom")
    hole = Curve((8, -336), [
        ((44, -336), (50, -300), (48, -276)), ((46, -246), (34, -222), (8, -222)),
        ((-18, -222), (-32, -246), (-34, -276)), ((-36, -306), (-26, -336), (8, -336)),
    ])  # fmt: skip
    sheet.path(smooth([(4, -368), (6, -352), (8, -336)]), "shoulder", stroke=FINE)
    sheet.path(hole, "armhole")
    end = FORM_BOTTOM_Y + drop_at(FORM_BOTTOM_Y, (right[0] - left[0]) / 2)
    sheet.path(smooth([(8, -222), (6, -100), (4, 0), (6, 120), (8, end)]), "seam-left", stroke=FINE)


# --- the icon -------------------------------------------------------------------------------------

PAPER, DEEP = "#F7F4EE", "#1F5F6B"


def icon() -> str:
    """Return the program's icon: a form whose centre front seam opens at a dial."""
    right = [FORM_SHOULDER, FORM_ARMHOLE, FORM.side]
    bottom = arc((-178, FORM_BOTTOM_Y), (178, FORM_BOTTOM_Y), 34)
    shape = arc((-NECK_SIDE[0], NECK_SIDE[1]), NECK_SIDE, 52).d()
    shape += "".join(curve.d(move=False) for curve in right) + bottom.backwards().d(move=False)
    shape += "".join(c.mirrored().backwards().d(move=False) for c in reversed(right)) + "Z"
    seam = (
        "M0 -340C20 -190 24 -90 24 0C24 90 20 190 0 330"
        "C-20 190 -24 90 -24 0C-24 -90 -20 -190 0 -340Z"
    )
    return "\n".join(
        [
            "<!-- SPDX-License-Identifier: MIT -->",
            '<svg xmlns="http://www.w3.org/2000/svg" width="256" height="256" '
            'viewBox="0 0 256 256">',
            f'<path d="M56 8L200 8C230 8 248 26 248 56L248 200C248 230 230 248 200 248L56 248'
            f'C26 248 8 230 8 200L8 56C8 26 26 8 56 8Z" fill="{DEEP}"/>',
            '<g transform="translate(128 135) scale(0.285)">',
            f'<path d="{shape}" fill="{PAPER}"/>',
            f'<path d="{seam}" fill="{DEEP}"/>',
            f'<circle cx="0" cy="0" r="54" fill="{PAPER}" stroke="{DEEP}" stroke-width="24"/>',
            f'<path d="M0 0L0 -30" stroke="{DEEP}" stroke-width="20" stroke-linecap="round"/>',
            "</g>",
            "</svg>",
            "",
        ]
    )
