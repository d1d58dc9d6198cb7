# SPDX-License-Identifier: MIT
"""Close views of the parts of a form that are too small to be seen on the whole one."""

from __future__ import annotations

from math import cos, radians, sin

from drawing_figures import arc, smooth
from drawing_sheets import CARD, FINE, THREAD, Sheet, both, line

DIAL_R = 74.0


def dial() -> Sheet:
    """Draw a dial over an open seam: its knob, the marks round it, the pointer, and the gap."""
    sheet = Sheet((-230.0, -190.0, 460.0, 380.0))
    both(sheet, smooth([(14, -185), (22, -110), (30, 0), (22, 110), (14, 185)]), "panel-edge")
    both(sheet, smooth([(206, -185), (198, 0), (206, 185)]), "side", stroke=FINE)
    sheet.path(arc((-196, 0), (-30, 0), 12), "line-left", stroke=FINE, dash="2 5")
    sheet.path(arc((30, 0), (196, 0), 12), "line-right", stroke=FINE, dash="2 5")
    sheet.ring((0, 0), DIAL_R, "dial", px=2, fill=CARD)
    for step in range(12):
        angle = radians(30 * step - 90)
        near, far = DIAL_R + 8, DIAL_R + (22 if step % 3 == 0 else 15)
        sheet.path(
            line((near * cos(angle), near * sin(angle)), (far * cos(angle), far * sin(angle))),
            f"mark-{step}",
            stroke=FINE,
        )
    at = radians(-30)
    end = (0.8 * DIAL_R * cos(at), 0.8 * DIAL_R * sin(at))
    sheet.path(line((0, 0), end), "pointer", stroke=THREAD, px=3)
    sheet.ring((0, 0), 11, "axle", fill=CARD)
    for side in (-1, 1):  # which way the panels go
        tip = (side * 178, -96)
        sheet.path(line((side * 128, -96), tip), stroke=THREAD, px=2)
        sheet.path(line(tip, (side * 164, -106)), stroke=THREAD, px=2)
        sheet.path(line(tip, (side * 164, -86)), stroke=THREAD, px=2)
    return sheet


def lock() -> Sheet:
    """Draw the lower edge of a torso on its pole, with the collar that holds its height."""
    sheet = Sheet((-190.0, -150.0, 380.0, 400.0))
    both(sheet, smooth([(150, -145), (152, -60), (146, 0)]), "side")
    sheet.path(arc((-146, 0), (146, 0), 26), "bottom")
    sheet.path(arc((-146, 0), (146, 0), -18), "bottom-far", stroke=FINE)
    for x in (-11, 11):
        sheet.path(line((x, 24), (x, 240)), "pole-left" if x < 0 else "pole-right")
    collar = "M-26 74C-26 66 26 66 26 74L26 112C26 120 -26 120 -26 112Z"
    sheet.path(collar, "collar", stroke=THREAD, px=2.5, fill=CARD)
    sheet.path(line((26, 93), (58, 93)), "screw", stroke=THREAD, px=2.5)
    sheet.ring((70, 93), 12, "grip", stroke=THREAD, px=2.5, fill=CARD)
    for tip, back in ((-40.0, 16.0), (40.0, -16.0)):  # up and down
        y = 160 + tip
        sheet.path(line((-58, 160), (-58, y)), stroke=FINE, px=2)
        sheet.path(line((-58, y), (-66, y + back)), stroke=FINE, px=2)
        sheet.path(line((-58, y), (-50, y + back)), stroke=FINE, px=2)
    return sheet
