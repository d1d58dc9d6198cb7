# SPDX-License-Identifier: MIT
"""The form as the person beside it sees it, with the dials or the line meant in thread.

It turns when she is sent to the back, and shows front and back together when a set needs both.
Left and right of the form are written on it, and everything shown is also said in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fitassist.domain.form import Form
from fitassist.domain.lines import NAMED_LINES, Seam, What
from fitassist.gui import theme
from fitassist.gui.drawings import Colours, colour, fitted, paint_drawing, view_box
from fitassist.gui.form_figure import (
    LENGTHS,
    SEAMS,
    Shown,
    dial_spot,
    has_split,
    row_path,
    seam_piece,
    shows,
    tape_paths,
)
from fitassist.wording.language import N_, _, capital
from fitassist.wording.places import dial_name, place_name

View = Literal["front", "back", "side", "auto"]

LINE_PX = 1.5
LIT_PX = 3.0
DIAL_PX = 4.0
LIT_DIAL_PX = 7.0
GAP_PX = 8.0
LEAST_LABEL_PT = 9.0  # large type gives way down to this before words would meet
_LABEL_Y, _FOOT_Y = 330.0, 446.0  # below the hem of the form; where its foot begins

_TITLES: dict[Shown, str] = {
    "front": N_("from the front"),
    "back": N_("from the back"),
    "side": N_("from the form's left side"),
}
_FACING = {
    Seam.LEFT: N_("form's left (your right)"),
    Seam.RIGHT: N_("form's right (your left)"),
}
_BEHIND = {
    Seam.LEFT: N_("form's left (your left)"),
    Seam.RIGHT: N_("form's right (your right)"),
}


@dataclass(frozen=True)
class Label:
    """Words on the drawing and the room in whose middle they stand."""

    text: str
    where: QRectF


def side_labels(view: Shown) -> tuple[str, str]:
    """Return what stands at the left and at the right of a view, for somebody looking at it."""
    at_left, _middle, at_right = SEAMS[view]
    if view == "side":
        return _("front"), _("back")
    words = _FACING if view == "front" else _BEHIND
    return _(words[at_left]), _(words[at_right])


def _lines(label: str) -> list[str]:
    """Break a label: whose hand it is goes on a line of its own."""
    return label.replace(" (", "\n(", 1).split("\n")


class TorsoView(QWidget):
    """Shows one form from one side, or from the front and the back together."""

    def __init__(
        self, form: Form, colours: Colours | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._form = form
        self._colours = colours
        self._views: tuple[Shown, ...] = ("front",)
        self._dials: frozenset[str] = frozenset()
        self._line = ""
        self._what = What.GIRTH
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._say()

    # --- what is shown ------------------------------------------------------------------------

    @property
    def shown(self) -> tuple[Shown, ...]:
        """The views side by side, from the left."""
        return self._views

    def set_form(self, form: Form) -> None:
        """Show another form, or the same with other lines and dials."""
        self._form = form
        self.clear()

    def set_colours(self, colours: Colours | None) -> None:
        """Use these colours; None: those of the theme."""
        self._colours = colours
        self.update()

    def turn(self, view: Shown) -> None:
        """Show the form from this side, with what is lit kept."""
        self._show((view,))

    def clear(self) -> None:
        """Light nothing."""
        self._dials, self._line = frozenset(), ""
        self._show(self._views[:1])

    def show_dials(self, view: View, dials: Sequence[str]) -> None:
        """Light dials, seen from `view`; front and back together where one view hides some.

        Parameters
        ----------
        view
            Where the person stands; ``auto`` takes the back if only back dials are meant.
        dials
            Names of dials, as ``row.seam``; unknown ones are left out.
        """
        known = {dial.name for dial in self._form.dials}
        self._dials, self._line = frozenset(dials) & known, ""
        seams = {Seam(dial.rpartition(".")[2]) for dial in self._dials}
        if view == "auto":
            view = "back" if Seam.BACK in seams and Seam.FRONT not in seams else "front"
        hidden = any(not shows(view, seam) for seam in seams)
        self._show(("front", "back") if hidden else (view,))

    def show_line(self, line: str, what: What = What.GIRTH, view: View = "auto") -> None:
        """Light a line where the tape goes, as what is to be measured there.

        Parameters
        ----------
        line
            A line of the form, or one of the usual lines or lengths.
        what
            What is measured; it decides the view unless `view` says where the person stands.
        view
            Where the person stands, for a tape that can be seen from anywhere.
        """
        self._dials, self._line, self._what = frozenset(), line, what
        usual: tuple[Shown, ...] = ("front",) if view == "auto" else (view,)
        if line in LENGTHS:
            usual = (LENGTHS[line][0],)
        views: dict[What, tuple[Shown, ...]] = {
            What.FRONT: ("front",),
            What.BACK: ("back",),
            What.LEFT_HALF: ("front", "back"),
            What.RIGHT_HALF: ("front", "back"),
            What.DEPTH: ("side",),
        }
        self._show(views.get(what, usual))

    def _show(self, views: tuple[Shown, ...]) -> None:
        self._views = views
        self._say()
        self.updateGeometry()
        self.update()

    def _say(self) -> None:
        """Put what is shown into words for those who do not see it."""
        seen = _(" and ").join(_(_TITLES[view]) for view in self._views)
        self.setAccessibleName(_("The form, {view}").format(view=seen))
        parts: list[str] = []
        for view in self._views:
            left, right = side_labels(view)
            parts.append(_("{view}: at the left {left}, at the right {right}.").format(
                view=capital(_(_TITLES[view])), left=left, right=right))  # fmt: skip
        if self._dials:
            # Whose hand a side is at is said only where there is one answer.
            behind = self._views[0] == "back" if self._views[0] != "side" else None
            behind = None if len(self._views) > 1 else behind
            names = [
                dial_name(dial.name, self._form, behind)
                for dial in self._form.dials
                if dial.name in self._dials
            ]
            parts.append(_("Dials meant: {dials}.").format(dials="; ".join(names)))
        elif self._line:
            place = place_name(self._line, self._what)
            parts.append(_("Line meant: {line}.").format(line=place))
        self.setAccessibleDescription(" ".join(parts))

    # --- where it is shown --------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return a size at which labels and figure stand at ease."""
        return QSize(280 if len(self._views) == 1 else 400, 420)

    def minimumSizeHint(self) -> QSize:
        """Return the least size at which dials can be told apart."""
        return QSize(180 if len(self._views) == 1 else 300, 240)

    def figure_rect(self, view: Shown) -> QRectF:
        """Return where the drawing of a view stands, in pixels."""
        place = self._roomy(view)
        if self._fits_beside_pole(view, place):
            return place
        below = min(2 * self._high() + 4, self._figure_room(view).height())
        return fitted(view_box(f"form_{view}"), self._figure_room(view).adjusted(0, 0, 0, -below))

    def _roomy(self, view: Shown) -> QRectF:
        """Return where the drawing stands if no words have to go below it."""
        return fitted(view_box(f"form_{view}"), self._figure_room(view))

    def _figure_room(self, view: Shown) -> QRectF:
        return self._cell(view).adjusted(GAP_PX, self._high() + GAP_PX, -GAP_PX, -GAP_PX)

    def _fits_beside_pole(self, view: Shown, place: QRectF) -> bool:
        """Say whether the side labels fit between hem and foot of a figure at this place."""
        scale = place.height() / view_box(f"form_{view}").height()
        wide = QFontMetricsF(self.label_font())
        longest = max(
            wide.horizontalAdvance(text) for label in side_labels(view) for text in _lines(label)
        )
        between = (_FOOT_Y - _LABEL_Y) * scale
        return longest < self._cell(view).width() / 2 - 14 and between > 2 * self._high()

    def _high(self) -> float:
        return QFontMetricsF(self.label_font()).height()

    def label_font(self) -> QFont:
        """Return the theme's label font, smaller where two views are squeezed."""
        font = QFont(self.font())
        font.setPointSizeF(theme.LABEL_PT * theme.scale())
        metrics = QFontMetricsF(font)
        longest = max(
            metrics.horizontalAdvance(text)
            for view in self._views
            for label in side_labels(view)
            for text in _lines(label)
        )
        room = self.width() / len(self._views) / 2 - 8
        least = min(0.75, LEAST_LABEL_PT / font.pointSizeF())
        font.setPointSizeF(font.pointSizeF() * min(1.0, max(least, room / longest)))
        return font

    def _cell(self, view: Shown) -> QRectF:
        width = self.width() / len(self._views)
        return QRectF(self._views.index(view) * width, 0, width, self.height())

    def _to_pixels(self, view: Shown) -> QTransform:
        box, place = view_box(f"form_{view}"), self.figure_rect(view)
        scale = place.width() / box.width()
        return QTransform(
            scale, 0, 0, scale, place.x() - box.x() * scale, place.y() - box.y() * scale
        )

    def dial_at(self, view: Shown, dial: str) -> QPointF | None:
        """Return where a dial stands in a view, in pixels; None where it cannot be seen."""
        spot = dial_spot(self._form, view, dial)
        return None if spot is None else self._to_pixels(view).map(spot)

    def labels(self) -> tuple[Label, ...]:
        """Return the words on the drawing with their places in pixels."""
        found: list[Label] = []
        for view in self._views:
            cell, change = self._cell(view), self._to_pixels(view)
            high = self._high()
            title = QRectF(cell.x(), 2, cell.width(), high)
            found.append(Label(_(_TITLES[view]), title))
            place, half = self.figure_rect(view), cell.width() / 2
            # Beside the pole, below the side that is meant, there is nothing else.
            top, gap = change.map(QPointF(0, _LABEL_Y)).y(), 7.0
            if not self._fits_beside_pole(view, self._roomy(view)):
                top, gap = place.bottom() + 4, 2.0
            room = QRectF(cell.x() + 2, top, half - 2 - gap, 3 * high)
            left, right = side_labels(view)
            found.append(Label(left, room))
            found.append(Label(right, room.translated(half + gap - 2, 0)))
        return tuple(found)

    # --- painting -----------------------------------------------------------------------------

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew when the theme has changed."""
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()
        super().changeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the figures, what is lit on them, and the words."""
        colours: Colours = self._colours if self._colours is not None else theme.palette()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for view in self._views:
            self._paint_figure(painter, view, colours)
        painter.setPen(QColor(colour(colours, "quiet")))
        painter.setFont(self.label_font())
        flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextDontClip
        for label in self.labels():
            painter.drawText(label.where, int(flags), "\n".join(_lines(label.text)))
        painter.end()

    def _paint_figure(self, painter: QPainter, view: Shown, colours: Colours) -> None:
        hidden = {f"line-{line}" for line in NAMED_LINES if line != "neck"}
        if not has_split(self._form):
            hidden |= {"split-1", "split-2"}
        paint_drawing(painter, f"form_{view}", self.figure_rect(view), colours, hidden=hidden)
        change = self._to_pixels(view)
        fine, thread, card = (QColor(colour(colours, role)) for role in ("fine", "thread", "card"))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(_pen(fine, LINE_PX))
        for row in self._form.rows:
            painter.drawPath(change.map(row_path(self._form, view, row)))
        self._paint_dials(painter, view, fine, thread, card)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        self._paint_line(painter, view, thread)

    def _paint_dials(
        self, painter: QPainter, view: Shown, fine: QColor, thread: QColor, card: QColor
    ) -> None:
        change = self._to_pixels(view)
        # Those that are lit come last, so that no other dial covers them.
        for dial in sorted(self._form.dials, key=lambda dial: dial.name in self._dials):
            spot = dial_spot(self._form, view, dial.name)
            lit = dial.name in self._dials
            if spot is None or (dial.missing and not lit):
                continue
            if lit:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(_pen(thread, LIT_PX))
                painter.drawPath(change.map(seam_piece(view, dial.seam, spot.y())))
            painter.setPen(_pen(thread if lit else fine, LIT_PX if lit else LINE_PX))
            painter.setBrush(card)
            radius = LIT_DIAL_PX if lit else DIAL_PX
            painter.drawEllipse(change.map(spot), radius, radius)

    def _paint_line(self, painter: QPainter, view: Shown, thread: QColor) -> None:
        if not self._line:
            return
        change = self._to_pixels(view)
        near, far = tape_paths(self._form, view, self._line, self._what)
        painter.setPen(_pen(thread, LIT_PX))
        painter.drawPath(change.map(near))
        if self._what != What.GIRTH or self._line in LENGTHS:
            for end in (near.pointAtPercent(0), near.pointAtPercent(1)):
                _paint_tick(painter, change.map(end), upright=self._line not in LENGTHS)
        pen = _pen(thread, LIT_PX)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([2.0, 1.6])
        painter.setPen(pen)
        painter.drawPath(change.map(far))


def _paint_tick(painter: QPainter, at: QPointF, *, upright: bool) -> None:
    reach = QPointF(0, 7) if upright else QPointF(7, 0)
    painter.drawLine(at - reach, at + reach)


def _pen(ink: QColor, px: float) -> QPen:
    pen = QPen(ink, px)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen
