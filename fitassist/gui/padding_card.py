# SPDX-License-Identifier: MIT
"""The card of a padding step, with a drawing of the form and the place where something is laid.

The drawing stands on the right where the words leave room for it, and goes where they need it.
"""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from fitassist.gui import theme
from fitassist.gui.drawings import DrawingView, drawing_names, view_box
from fitassist.gui.instruction_card import InstructionCard
from fitassist.session.padding_steps import Step
from fitassist.wording.padding_step_words import pair_text
from fitassist.wording.padding_words import place_text, strip_text
from fitassist.wording.places import line_name

LAID = ("piece", "stack", "wedge", "take_out", "put_in", "thin")
ON_A_LINE = ("wrap", "measure")
WORDS_WIDE = 520  # what the words keep for themselves before a drawing gets any room


def drawing_of(kind: str, place: str) -> str:
    """Return the drawing that shows where a step is done; empty if none does."""
    if kind in LAID:
        name = f"pad_{place}"
    elif kind == "strip":
        name = f"pad_strip_{place}"
    elif kind in ON_A_LINE:
        name = f"{place}_girth"
    else:
        return ""
    return name if name in drawing_names() else ""


def _said(kind: str, place: str) -> str:
    if kind == "strip":
        return strip_text(place)
    if kind in ON_A_LINE:
        return line_name(place)
    return pair_text(place) if kind in ("take_out", "put_in", "thin") else place_text(place)


class PaddingCard(InstructionCard):
    """An instruction with a drawing of its place beside the words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = ""
        self.picture = DrawingView("", parent=self)
        self.picture.hide()

    def show_place(self, step: Step | None) -> None:
        """Show where this step is done; None, or a step of no one place, shows no drawing."""
        self._drawing = drawing_of(step.kind, step.place) if step is not None else ""
        said = _said(step.kind, step.place) if step is not None and self._drawing else ""
        self.picture.show_drawing(self._drawing, said)
        self._place_picture()
        self.forget_fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the drawing at the right edge, as high as the card."""
        super().resizeEvent(event)
        self._place_picture()

    def _inside(self) -> QRectF:
        wide = self._picture_wide()
        return super()._inside().adjusted(0, 0, -(wide + theme.STEP) if wide else 0, 0)

    def _picture_wide(self) -> int:
        """Return how wide the drawing is; 0 where the words need all the room."""
        if not self._drawing:
            return 0
        box = view_box(self._drawing)
        wide = round((self.height() - 2 * theme.STEP) * box.width() / box.height())
        has_room = self.width() - wide >= WORDS_WIDE * max(theme.scale(), 1.0)
        return max(wide, 0) if has_room else 0

    def _place_picture(self) -> None:
        wide = self._picture_wide()
        self.picture.setVisible(wide > 0)
        left, high = self.width() - wide - 2 * theme.STEP, self.height() - 2 * theme.STEP
        self.picture.setGeometry(QRect(left, theme.STEP, wide, high))
