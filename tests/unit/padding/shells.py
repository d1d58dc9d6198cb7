# SPDX-License-Identifier: MIT
"""Forms to be padded: a slim shell of four panels, opened as far as the body allows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fitassist.padding.gap import normal_gap
from fitassist.padding.surface import Section, columns_of, normals_of, tape_hull
from tests.virtual.outlines import LINES, load_bodies

ROOM_MM = 2.0  # how far the shell may stand out; below the tolerance of 1/8 in


def ellipse(a: float, b: float, points: int = 400) -> np.ndarray:
    turn = np.linspace(0.0, 2.0 * np.pi, points, endpoint=False)
    return np.column_stack([a * np.sin(turn), b * np.cos(turn)])


def _opened(shell: np.ndarray, across: float, deep: float) -> np.ndarray:
    """Move the panels apart: front and back gaps part the sides, side gaps part front and back."""
    return shell + np.sign(shell) * [across / 2, deep / 2]


def slim_shell(body: np.ndarray, shell: np.ndarray) -> np.ndarray:
    """The largest hull of the opened shell that stands out nowhere beyond ROOM_MM.

    A shell too large even when closed is taken in a smaller size.
    """
    middle = np.array([0.0, (body[:, 1].max() + body[:, 1].min()) / 2])
    shell = shell - [0.0, (shell[:, 1].max() + shell[:, 1].min()) / 2]
    best, most = None, 0.0
    for size in (1.0, 0.95, 0.9, 0.85, 0.8, 0.7):
        for across in np.arange(0.0, 200.0, 12.0):
            for deep in np.arange(0.0, 200.0, 12.0):
                tried = _opened(size * shell, across, deep) + middle
                columns = columns_of(tape_hull(tried), 72)
                gap = normal_gap(columns, normals_of(columns), tape_hull(body))
                length = np.hypot(*np.diff(tried, axis=0).T).sum()
                if gap.min() >= -ROOM_MM and length > most:
                    best, most = tried, length
                elif gap.min() < -ROOM_MM:
                    break
        if best is not None:
            return best
    raise AssertionError("no shell fits")


def shell_and_body(number: int) -> Sequence[Section]:
    """Sections of a body and of the slimmest tenth's mean outline opened inside it."""
    bodies = load_bodies()
    alike = bodies.of_sex(bodies.sex[number])
    girths = bodies.girth_mm[alike].mean(axis=1)
    slim = alike[girths <= np.quantile(girths, 0.1)]
    return [
        Section(
            line=line,
            z_mm=float(bodies.height_mm[number, i]),
            form_mm=slim_shell(
                bodies.outline_mm[number, i], bodies.outline_mm[slim, i].mean(axis=0)
            ),
            body_mm=bodies.outline_mm[number, i],
        )
        for i, line in enumerate(LINES)
    ]
