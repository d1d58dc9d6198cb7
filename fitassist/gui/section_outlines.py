# SPDX-License-Identifier: MIT
"""What a section shows: true outlines of body and form where they are known, else ellipses.

All in the frame of ``geometry.sections``: x to the form's left, y to its back, mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fitassist.domain.body import Body
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.geometry import form_outline
from fitassist.geometry.sections import (
    USUAL_BREADTH_PER_DEPTH,
    Points,
    SectionOutline,
    body_section,
    form_section,
)
from fitassist.gui.section_facts import seam_gaps
from fitassist.session.view import LineView

if TYPE_CHECKING:
    from fitassist.session.shaping import KnownOutlines

_TO_BACK: Points = np.array([1.0, -1.0])  # outlines have y to the front


@dataclass(frozen=True)
class DrawnSection:
    """One line as it is drawn.

    Attributes
    ----------
    view
        What is known of it.
    section
        The form, or None where nothing is known of its girth.
    body
        Closed curve, (n, 2), mm.
    band
        Inner and outer edge of where the body lies 9 times in 10, or None for an ellipse.
    band_mm
        Half its width, averaged round the body; 0 for an ellipse.
    body_is_ellipse, form_is_ellipse
        Whether the shape is only assumed.
    """

    view: LineView
    section: SectionOutline | None
    body: Points
    band: tuple[Points, Points] | None = None
    band_mm: float = 0.0
    body_is_ellipse: bool = True
    form_is_ellipse: bool = True

    def curves(self) -> tuple[Points, ...]:
        """Return every curve nothing may be written across."""
        form = (self.section.hull,) if self.section is not None else ()
        return (self.body, *(self.band or ()), *form)


class SectionMaker:
    """Makes the sections of one fitting; bodies stay as they are, the form moves.

    Parameters
    ----------
    form, body
        As they were when the fitting began.
    outlines
        What is known of their shapes; None: nothing.
    """

    def __init__(self, form: Form, body: Body, outlines: KnownOutlines | None) -> None:
        self._form, self._body = form, body
        self._of_body = outlines.body if outlines is not None else None
        self._of_form = outlines.form if outlines is not None else None
        self._bands: dict[str, tuple[Points, Points]] = {}

    @property
    def wider(self) -> float:
        """How many times wider than worked out bands are drawn; 1 without any."""
        from fitassist.geometry.outline import REAL_PEOPLE

        return REAL_PEOPLE * self._of_body.widened if self._of_body is not None else 1.0

    @property
    def do_disagree(self) -> bool:
        """Whether bands are wider partly because readings of the body disagree."""
        return self._of_body is not None and self._of_body.widened > 1.05

    def drawn(self, view: LineView, numbers: Mapping[str, float]) -> DrawnSection:
        """Return a line with the dials at `numbers`."""
        section, form_is_ellipse = self._form_section(view, numbers)
        level = self._of_body.levels.get(view.line) if self._of_body is not None else None
        if level is None:
            body = body_section(view.target_mm, self._flatness(view.line))
            return DrawnSection(view, section, body, form_is_ellipse=form_is_ellipse)
        if view.line not in self._bands:
            inner, outer = level.band()
            self._bands[view.line] = (inner * _TO_BACK, outer * _TO_BACK)
        return DrawnSection(
            view,
            section,
            level.points * _TO_BACK,
            self._bands[view.line],
            level.band_mm(),
            False,
            form_is_ellipse,
        )

    def _form_section(
        self, view: LineView, numbers: Mapping[str, float]
    ) -> tuple[SectionOutline | None, bool]:
        """Return the form cut and opened by its dials, and whether it is only an ellipse."""
        if not view.predicted_mm:
            return None, True
        gaps = seam_gaps(self._form, view.line, numbers)
        level = self._of_form.levels.get(view.line) if self._of_form is not None else None
        if level is not None:
            try:
                found = form_outline.form_section(level.points, gaps, view.predicted_mm)
            except FitError:  # gaps and girth do not go together: nothing truer than an ellipse
                pass
            else:
                a, b, c, d = (panel * _TO_BACK for panel in found.panels)
                return SectionOutline((a, b, c, d), found.hull * _TO_BACK), False
        return form_section(view.predicted_mm, gaps, self._flatness(view.line)), True

    def _flatness(self, line: str) -> float:
        """Return breadth over depth: as measured on the body, or else as usual."""
        broad = self._body.target(line, What.BREADTH)
        deep = self._body.target(line, What.DEPTH)
        if broad is None or deep is None:
            return USUAL_BREADTH_PER_DEPTH
        return broad.value_mm / deep.value_mm
