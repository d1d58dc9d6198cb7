# SPDX-License-Identifier: MIT
"""The project's line drawings: loaded as text, recoloured by the theme, lit, painted at any size.

A drawing is trusted no further than it needs to be: only plain paths and circles are let through.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import lru_cache
from typing import Protocol
from xml.etree import ElementTree

from PySide6.QtCore import QByteArray, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath, QPaintEvent
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.errors import BadFile
from fitassist.files import resources_dir
from fitassist.gui import theme

FOLDER = resources_dir() / "drawings"
SVG = "{http://www.w3.org/2000/svg}"
ALLOWED = {SVG + tag for tag in ("svg", "g", "path", "circle")}
PLACEHOLDERS = {
    "#000001": "ink", "#000002": "fine", "#000003": "thread", "#000004": "card", "#000005": "pad",
}  # fmt: skip
LIT_PX = 3.0

ElementTree.register_namespace("", SVG[1:-1])


class Roles(Protocol):
    """What the drawings need of a theme: colours as hex strings."""

    @property
    def ink(self) -> str: ...  # noqa: D102
    @property
    def fine(self) -> str: ...  # noqa: D102
    @property
    def thread(self) -> str: ...  # noqa: D102
    @property
    def card(self) -> str: ...  # noqa: D102
    @property
    def pad(self) -> str: ...  # noqa: D102


Colours = Roles | Mapping[str, str]


def colour(colours: Colours, role: str) -> str:
    """Return the hex colour of a role, from a theme's palette or a plain mapping."""
    found = colours[role] if isinstance(colours, Mapping) else getattr(colours, role)
    return str(found)


def drawing_names() -> tuple[str, ...]:
    """Return the names of all drawings there are, in order."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.svg")))


@lru_cache(maxsize=64)
def drawing_text(name: str) -> str:
    """Return a drawing as it is stored, with placeholder colours.

    Raises
    ------
    BadFile
        ``drawing_unreadable`` if it is missing or holds more than paths and circles.
    """
    try:
        text = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadFile("drawing_unreadable", drawing=name) from error
    parse_drawing(text, name)
    return text


def parse_drawing(text: str, name: str = "") -> ElementTree.Element:
    """Return the root element of a drawing; entities, scripts, text and links are refused.

    Raises
    ------
    BadFile
        ``drawing_unreadable``.
    """
    # A document type is the only door to entities, so it is refused before anything is parsed.
    if "<!DOCTYPE" in text.upper() or "<!ENTITY" in text.upper():
        raise BadFile("drawing_unreadable", drawing=name)
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        raise BadFile("drawing_unreadable", drawing=name) from error
    for element in root.iter():
        links = [key for key in element.attrib if key.endswith("href") or key.startswith("on")]
        prose = (element.text or "").strip() + (element.tail or "").strip()
        if element.tag not in ALLOWED or links or prose:
            raise BadFile("drawing_unreadable", drawing=name)
    return root


def view_box(name: str) -> QRectF:
    """Return the box of a drawing in its own units (mm of a middling person)."""
    return QRectF(*_view_box(name))


@lru_cache(maxsize=64)
def _view_box(name: str) -> tuple[float, float, float, float]:
    x, y, w, h = (float(v) for v in parse_drawing(drawing_text(name)).attrib["viewBox"].split())
    return x, y, w, h


@lru_cache(maxsize=256)
def coloured_text(
    text: str,
    colours: tuple[tuple[str, str], ...],
    lit: frozenset[str] = frozenset(),
    hidden: frozenset[str] = frozenset(),
    unit_per_px: float = 1.0,
) -> str:
    """Return a drawing with theme colours, lit and hidden elements, and widths kept in pixels.

    Parameters
    ----------
    text
        SVG with placeholder colours; stroke widths and dashes in pixels.
    colours
        Pairs of role and hex colour.
    lit, hidden
        Element ids drawn in thread and thickened, and ids left out.
    unit_per_px
        Drawing units in one pixel at the size it will be painted.
    """
    root = parse_drawing(text)
    by_role = dict(colours)
    for parent in list(root.iter()):
        for element in list(parent):
            if element.get("id") in hidden:
                parent.remove(element)
    for element in root.iter():
        for key in ("stroke", "fill"):
            role = PLACEHOLDERS.get(element.get(key, ""))
            if role:
                element.set(key, by_role[role])
        width = float(element.get("stroke-width", "0"))
        if element.get("id") in lit:
            element.set("stroke", by_role["thread"])
            width = max(LIT_PX, width)
        if width:
            element.set("stroke-width", f"{width * unit_per_px:.4g}")
        if dash := element.get("stroke-dasharray"):
            # Qt counts dashes in stroke widths of the file, so both grow by the same share.
            scaled = (f"{float(part) * unit_per_px:.4g}" for part in dash.split())
            element.set("stroke-dasharray", " ".join(scaled))
    return ElementTree.tostring(root, encoding="unicode")


def role_pairs(colours: Colours) -> tuple[tuple[str, str], ...]:
    """Return the roles the drawings use as hashable pairs."""
    return tuple((role, colour(colours, role)) for role in PLACEHOLDERS.values())


def fitted(box: QRectF, inside: QRectF) -> QRectF:
    """Return the largest rectangle of the box's proportions centred inside another."""
    scale = min(inside.width() / box.width(), inside.height() / box.height())
    size = box.size() * scale
    return QRectF(
        inside.center() - QPointF(size.width() / 2, size.height() / 2), size
    )  # centred, never stretched


def paint_drawing(
    painter: QPainter,
    name: str,
    where: QRectF,
    colours: Colours,
    lit: Collection[str] = (),
    hidden: Collection[str] = (),
) -> QRectF:
    """Paint a drawing centred in a rectangle, its proportions kept; return where it landed."""
    box = view_box(name)
    place = fitted(box, where)
    if place.width() <= 0:
        return place
    text = coloured_text(
        drawing_text(name), role_pairs(colours), frozenset(lit), frozenset(hidden),
        round(box.width() / place.width(), 4),
    )  # fmt: skip
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(QByteArray(text.encode())).render(painter, place)
    painter.restore()
    return place


@lru_cache(maxsize=128)
def _image(
    name: str, colours: tuple[tuple[str, str], ...], lit: frozenset[str], width: int, height: int,
    ratio: float,
) -> QImage:  # fmt: skip
    image = QImage(
        QSize(round(width * ratio), round(height * ratio)),
        QImage.Format.Format_ARGB32_Premultiplied,
    )
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    paint_drawing(painter, name, QRectF(0, 0, width, height), dict(colours), lit)
    painter.end()
    return image


def drawing_image(
    name: str, size: QSize, colours: Colours, *, lit: Collection[str] = (), ratio: float = 1.0
) -> QImage:
    """Return a drawing as a transparent image of `size` logical pixels (kept for the next time)."""
    return _image(name, role_pairs(colours), frozenset(lit), size.width(), size.height(), ratio)


@lru_cache(maxsize=256)
def element_path(name: str, element_id: str) -> QPainterPath:
    """Return the curve of one path of a drawing, in the drawing's units; empty if there is none."""
    for element in parse_drawing(drawing_text(name)).iter(SVG + "path"):
        if element.get("id") == element_id:
            return _path(element.get("d", ""))
    return QPainterPath()


def _path(d: str) -> QPainterPath:
    """Read path data made of absolute M, L, C and Z only, which is all our drawings use."""
    path = QPainterPath()
    for letter, numbers in re.findall(r"([MLCZ])([^MLCZ]*)", d):
        v = [float(number) for number in numbers.split()]
        points = [QPointF(x, y) for x, y in zip(v[::2], v[1::2], strict=True)]
        if letter == "M":
            path.moveTo(points[0])
        elif letter == "L":
            path.lineTo(points[0])
        elif letter == "C":
            path.cubicTo(*points)
        else:
            path.closeSubpath()
    return path


class DrawingView(QWidget):
    """Shows one drawing as large as it fits; its description says the same in words."""

    def __init__(
        self,
        name: str,
        colours: Colours | None = None,
        description: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._name = name
        self._colours = colours
        self._lit: frozenset[str] = frozenset()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setAccessibleName(description)

    def show_drawing(self, name: str, description: str = "", lit: Collection[str] = ()) -> None:
        """Show another drawing, or other parts of it lit; an empty name shows nothing."""
        self._name = name
        self._lit = frozenset(lit)
        self.setAccessibleName(description)
        self.updateGeometry()
        self.update()

    def set_colours(self, colours: Colours | None) -> None:
        """Use these colours; None: those of the theme."""
        self._colours = colours
        self.update()

    def sizeHint(self) -> QSize:
        """Return a size in the drawing's proportions, 240 pixels high."""
        if not self._name:
            return QSize(160, 240)
        box = view_box(self._name)
        return QSize(round(240 * box.width() / box.height()), 240)

    def minimumSizeHint(self) -> QSize:
        """Return half of the size it would like."""
        return self.sizeHint() / 2

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the drawing from its curves, so that it is crisp at any device ratio."""
        if self._name:
            colours: Colours = self._colours if self._colours is not None else theme.palette()
            painter = QPainter(self)
            paint_drawing(painter, self._name, QRectF(self.rect()), colours, self._lit)
            painter.end()
