# SPDX-License-Identifier: MIT
"""How much is missing between form and body, and where the form stands out past the body.

The gap is measured along the outward normal of the form's hull, because padding grows that way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitassist.errors import FitError
from fitassist.padding.surface import (
    Floats,
    Section,
    Surface,
    along_height,
    build_surface,
    tape_hull,
)

DIRECTIONS = 720
MOST_GAP_MM = 250.0  # farther apart, form and body were not given in the same place


@dataclass(frozen=True)
class GapMap:
    """Signed gaps on the grid of the surface.

    Attributes
    ----------
    gap_mm
        Shape (rows, COLUMNS): positive where padding is missing, negative where the form stands
        out past the body.
    ignored_mm
        Tolerance or uncertainty below which nothing is made of either.
    body_girth_mm
        Shape (lines,), taut-tape girth of the body at the given heights.
    """

    surface: Surface
    gap_mm: Floats
    level_gap_mm: Floats
    ignored_mm: float
    body_girth_mm: Floats

    @property
    def thickness_mm(self) -> Floats:
        """Padding wanted, never below zero, shape (rows, COLUMNS)."""
        return np.where(self.gap_mm >= max(self.ignored_mm, 1e-9), self.gap_mm, 0.0)

    @property
    def stands_out_mm(self) -> Floats:
        """How far the form stands out past the body, shape (rows, COLUMNS); no padding helps."""
        return np.where(-self.gap_mm >= max(self.ignored_mm, 1e-9), -self.gap_mm, 0.0)

    @property
    def is_two_sided(self) -> bool:
        """Whether left and right differ by more than what is ignored anywhere."""
        mirrored = np.roll(self.level_gap_mm[:, ::-1], 1, axis=1)
        return bool(np.abs(self.level_gap_mm - mirrored).max() > max(self.ignored_mm, 0.5))


def measure_gap(
    sections: Sequence[Section], ignored_mm: float = 0.0, margin_mm: float = 0.0
) -> GapMap:
    """Return the gaps between form and body, smooth between the given heights.

    Raises
    ------
    FitError
        As ``build_surface``; also ``padding_far_apart`` (value: line) when body and form do not
        lie in one another, ``padding_ignored`` when ``ignored_mm`` is below zero.
    """
    if not 0.0 <= ignored_mm < MOST_GAP_MM:
        raise FitError("padding_ignored", field="ignored_mm")
    surface = build_surface(sections, margin_mm)
    ordered = sorted(sections, key=lambda section: section.z_mm)
    bodies = [tape_hull(section.body_mm, section.line) for section in ordered]
    gaps = []
    for number, (section, body) in enumerate(zip(ordered, bodies, strict=True)):
        gap = normal_gap(surface.level_points_mm[number], surface.level_normals[number], body)
        if not np.abs(gap).max() <= MOST_GAP_MM:
            raise FitError("padding_far_apart", line=section.line)
        gaps.append(gap)
    level = np.stack(gaps)
    girths = [np.hypot(*(np.roll(body, -1, axis=0) - body).T).sum() for body in bodies]
    return GapMap(
        surface=surface,
        gap_mm=along_height(surface.level_z_mm, level, surface.z_mm),
        level_gap_mm=level,
        ignored_mm=ignored_mm,
        body_girth_mm=np.array(girths),
    )


def normal_gap(points_mm: Floats, normals: Floats, body_mm: Floats) -> Floats:
    """Return how far along each normal the body's outline is met first, outwards positive.

    Parameters
    ----------
    points_mm, normals
        Shape (n, 2).
    body_mm
        Convex outline, shape (k, 2), not repeated at the end.

    Returns
    -------
    Shape (n,), mm; where a normal misses the outline, infinity.
    """
    start, step = body_mm, np.roll(body_mm, -1, axis=0) - body_mm
    away = start[None] - points_mm[:, None]
    cross = normals[:, None, 0] * step[None, :, 1] - normals[:, None, 1] * step[None, :, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (away[..., 0] * step[None, :, 1] - away[..., 1] * step[None, :, 0]) / cross
        share = (away[..., 0] * normals[:, None, 1] - away[..., 1] * normals[:, None, 0]) / cross
    met = np.where((share >= -1e-9) & (share <= 1.0 + 1e-9), far, np.inf)
    nearest = np.argmin(np.abs(met), axis=1)
    return np.asarray(met[np.arange(len(met)), nearest])


def padded_girth(points_mm: Floats, laid_mm: Floats) -> Floats:
    """Return what a taut tape reads round a form with padding on it.

    Padding of thickness t at a point reaches a circle of radius t about it; the tape follows the
    hull of all circles, whose length is the integral of its support function over all directions
    (Cauchy). So uniform padding adds exactly 2 pi t on any convex section (Steiner).

    Parameters
    ----------
    points_mm
        Shape (rows, n, 2), or (n, 2).
    laid_mm
        Shape (rows, n), or (n,), not below zero.
    """
    turn = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    toward = np.stack([np.cos(turn), np.sin(turn)])
    reach = points_mm @ toward + laid_mm[..., None]
    return np.asarray(reach.max(axis=-2).mean(axis=-1) * 2.0 * np.pi)
