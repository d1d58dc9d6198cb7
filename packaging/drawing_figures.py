# SPDX-License-Identifier: MIT
"""The one figure of all drawings, as curves: a body and a form from the front, side and back.

One unit is one millimetre of a middling person; y runs down and is 0 at the waist, so a height
above the waist is -y. Breadths and depths follow the mean of middling bodies in the project's own
set of synthetic outlines (bust 298 x 236 mm, waist 271 x 206, high hip 341 x 248), rounded by eye.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

Point = tuple[float, float]

# Where the named lines lie in every drawing.
LINE_Y = {
    "upper_chest": -236.0,
    "bust": -163.0,
    "under_bust": -88.0,
    "waist": 0.0,
    "high_hip": 105.0,
    "hip": 205.0,
}

# Right half (on the page) of the figure seen from the front; the left half is its mirror image.
NECK_SIDE = (60.0, -386.0)
SHOULDER = (181.0, -338.0)
ARMPIT = (149.0, -226.0)
NECK_PIT_Y = -338.0
BACK_NECK_Y = -378.0
HEM_Y = 312.0  # where the torso's lines end, just below the hip
TORSO_SIDE: list[Point] = [
    ARMPIT, (151, -163), (139, -88), (127, 0), (146, 62), (167, 120), (181, 205), (181, 262),
]  # fmt: skip
THIGH: list[Point] = [*TORSO_SIDE, (176, HEM_Y)]
# Shoulder and arm are one curve, so that nothing shows where one becomes the other.
SHOULDER_AND_ARM: list[Point] = [
    (51, -462), (50, -424), NECK_SIDE, (118, -361), SHOULDER, (210, -308), (222, -256), (224, -190),
    (228, -118),
]  # fmt: skip
SHOULDER_PIECES = 4  # pieces of it up to the end of the shoulder
ARM_INNER: list[Point] = [ARMPIT, (164, -176), (180, -118)]
LEG_OUTER: list[Point] = [
    *TORSO_SIDE, (168, 350), (150, 450), (129, 560), (127, 650), (122, 740), (100, 880), (90, 955),
    (98, 998), (110, 1020),
]  # fmt: skip
LEG_INNER: list[Point] = [
    (0, 290), (11, 380), (24, 470), (36, 570), (35, 650), (36, 740), (50, 880), (55, 955),
    (50, 998), (46, 1020),
]  # fmt: skip

# The figure from its own left side: it looks to the left of the page.
PROFILE_FRONT: list[Point] = [
    (-60, -462), (-50, -412), (-52, -352), (-72, -290), (-104, -225), (-131, -163), (-117, -100),
    (-101, -40), (-98, 0), (-110, 66), (-116, 120), (-112, 205), (-106, HEM_Y),
]  # fmt: skip
PROFILE_BACK: list[Point] = [
    (28, -462), (40, -420), (64, -374), (96, -318), (112, -250), (108, -163), (95, -70), (92, 0),
    (105, 70), (124, 140), (131, 205), (121, 265), (106, HEM_Y),
]  # fmt: skip


@dataclass
class Curve:
    """A smooth curve through points, as cubic pieces."""

    start: Point
    pieces: list[tuple[Point, Point, Point]] = field(default_factory=list)

    def d(self, *, move: bool = True) -> str:
        """Return the SVG path data; without the first move when it goes on from another curve."""
        head = f"M{_pair(self.start)}" if move else f"L{_pair(self.start)}"
        return head + "".join(f"C{_pair(a)} {_pair(b)} {_pair(c)}" for a, b, c in self.pieces)

    def mirrored(self) -> Curve:
        """Return the curve seen in a mirror at x = 0."""
        turn = [tuple((-p[0], p[1]) for p in piece) for piece in self.pieces]
        return Curve((-self.start[0], self.start[1]), turn)  # type: ignore[arg-type]

    def backwards(self) -> Curve:
        """Return the curve run from its end to its start."""
        knots = [self.start, *(piece[2] for piece in self.pieces)]
        pieces = [(b, a, knots[i]) for i, (a, b, _) in enumerate(self.pieces)]
        return Curve(knots[-1], pieces[::-1])

    def points(self, per_piece: int = 40) -> list[Point]:
        """Return points along the curve, close together."""
        found, start = [self.start], self.start
        for a, b, c in self.pieces:
            for i in range(1, per_piece + 1):
                t = i / per_piece
                found.append(tuple(_bezier(start[k], a[k], b[k], c[k], t) for k in (0, 1)))  # type: ignore[arg-type]
            start = c
        return found

    @property
    def end(self) -> Point:
        """The last point."""
        return self.pieces[-1][2] if self.pieces else self.start

    def middle(self) -> Point:
        """Return the point halfway along a curve of one piece."""
        return self.first_half().end

    def first_half(self) -> Curve:
        """Return the first half of a curve of one piece (halving as de Casteljau does)."""
        a, b, c = self.pieces[0]
        first, inner, last = _mid(self.start, a), _mid(a, b), _mid(b, c)
        left, right = _mid(first, inner), _mid(inner, last)
        return Curve(self.start, [(first, left, _mid(left, right))])

    def second_half(self) -> Curve:
        """Return the second half of a curve of one piece."""
        return self.backwards().first_half().backwards()

    def x_at(self, y: float) -> float:
        """Return x where the curve passes the height y (the nearest point of it)."""
        return min(self.points(), key=lambda point: abs(point[1] - y))[0]

    def between(self, top: float, bottom: float) -> list[Point]:
        """Return the points of the curve from one height down to another."""
        return [point for point in self.points() if top <= point[1] <= bottom]


def _mid(p: Point, q: Point) -> Point:
    return (p[0] + q[0]) / 2, (p[1] + q[1]) / 2


def _bezier(p: float, a: float, b: float, q: float, t: float) -> float:
    u = 1 - t
    return u * u * u * p + 3 * u * u * t * a + 3 * u * t * t * b + t * t * t * q


def _pair(point: Point) -> str:
    return " ".join(f"{round(value, 1) + 0.0:g}" for value in point)


def smooth(points: list[Point]) -> Curve:
    """Return the natural cubic spline through points, parameterised by chord length.

    Its curvature has no jumps, which is what the eye calls a calm line.
    """
    n = len(points)
    h = [max(1e-6, ((q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2) ** 0.5) for p, q in pairwise(points)]
    slopes = [_slopes([p[k] for p in points], h) for k in (0, 1)]
    pieces: list[tuple[Point, Point, Point]] = []
    for i in range(n - 1):
        p, q = points[i], points[i + 1]
        a = (p[0] + slopes[0][i] * h[i] / 3, p[1] + slopes[1][i] * h[i] / 3)
        b = (q[0] - slopes[0][i + 1] * h[i] / 3, q[1] - slopes[1][i + 1] * h[i] / 3)
        pieces.append((a, b, q))
    return Curve(points[0], pieces)


def _slopes(v: list[float], h: list[float]) -> list[float]:
    """Return the spline's first derivatives (tridiagonal equations, solved by elimination)."""
    n = len(v)
    low, mid, up, right = [0.0] * n, [2.0] * n, [1.0] * n, [0.0] * n
    right[0] = 3 * (v[1] - v[0]) / h[0]
    for i in range(1, n - 1):
        low[i], up[i], mid[i] = h[i], h[i - 1], 2 * (h[i - 1] + h[i])
        right[i] = 3 * (h[i] * (v[i] - v[i - 1]) / h[i - 1] + h[i - 1] * (v[i + 1] - v[i]) / h[i])
    low[-1] = 1.0
    right[-1] = 3 * (v[-1] - v[-2]) / h[-1]
    for i in range(1, n):
        share = low[i] / mid[i - 1]
        mid[i] -= share * up[i - 1]
        right[i] -= share * right[i - 1]
    found = [0.0] * n
    found[-1] = right[-1] / mid[-1]
    for i in range(n - 2, -1, -1):
        found[i] = (right[i] - up[i] * found[i + 1]) / mid[i]
    return found


def arc(left: Point, right: Point, drop: float) -> Curve:
    """Return a shallow bow from left to right whose middle hangs `drop` below its ends."""
    reach, deep = (right[0] - left[0]) * 0.22, drop * 4 / 3
    return Curve(
        left, [((left[0] + reach, left[1] + deep), (right[0] - reach, right[1] + deep), right)]
    )


def drop_at(y: float, half: float) -> float:
    """Return how far a level line bows when the eye is a little above the chest."""
    return half * (0.095 + 0.00012 * y)


@dataclass(frozen=True)
class Figure:
    """The curves that bound one figure: its right side on the page, and its profiles."""

    side: Curve
    front: Curve
    back: Curve

    def ends(self, y: float, view: str) -> tuple[Point, Point]:
        """Return where a level line at y meets the outline, left and right on the page."""
        if view == "side":
            return (self.front.x_at(y), y), (self.back.x_at(y), y)
        right = self.side.x_at(y)
        return (-right, y), (right, y)

    def level(self, y: float, view: str, share: float = 1.0) -> Curve:
        """Return the near half of a level line at y; the far half for a share below zero."""
        left, right = self.ends(y, view)
        return arc(left, right, share * drop_at(y, (right[0] - left[0]) / 2))


BODY = Figure(smooth(THIGH), smooth(PROFILE_FRONT), smooth(PROFILE_BACK))
FORM = Figure(
    smooth([*TORSO_SIDE, (178, 290)]),
    smooth([(-48, -452), (-46, -405), *PROFILE_FRONT[2:-1], (-107, 290)]),
    smooth([(42, -452), (47, -418), *PROFILE_BACK[2:-1], (113, 290)]),
)
_ARM = smooth(SHOULDER_AND_ARM)
SHOULDER_LINE = Curve(_ARM.start, _ARM.pieces[:SHOULDER_PIECES])
ARM_OUTER = Curve(SHOULDER_LINE.end, _ARM.pieces[SHOULDER_PIECES:])


def neck_line(view: str, share: float = 1.0) -> Curve:
    """Return the line round the base of the neck as seen; its far side for a share below zero."""
    if view == "side":
        front, back = BODY.front.x_at(NECK_PIT_Y), BODY.back.x_at(BACK_NECK_Y)
        return smooth([(front, NECK_PIT_Y), (4, -368), (back, BACK_NECK_Y)])
    x, y = NECK_SIDE
    if share < 0:
        return arc((-x, y), (x, y), -9)
    drop = (NECK_PIT_Y if view == "front" else BACK_NECK_Y + 4) - y
    return arc((-x, y), (x, y), drop)
