# SPDX-License-Identifier: MIT
"""Padding by eye: for each place only how many layers and how large, smallest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitassist.padding.pieces import Piece


@dataclass(frozen=True)
class Stack:
    """The layers of a place.

    Attributes
    ----------
    sizes_mm
        Width round the form and height of each layer in the order of laying.
    """

    place: str
    sizes_mm: tuple[tuple[float, float], ...]


def stacks(pieces: Sequence[Piece], feather_mm: float = 0.0) -> tuple[Stack, ...]:
    """Return the layers by place; plies count as layers, each a feather smaller than the next."""
    by_place: dict[str, list[tuple[float, float]]] = {}
    for piece in sorted(pieces, key=lambda one: one.order):
        width, height = piece.size_mm
        for ply in reversed(range(piece.plies)):
            less = 2.0 * feather_mm * ply
            by_place.setdefault(piece.place, []).append(
                (max(width - less, 0.0), max(height - less, 0.0))
            )
    return tuple(
        Stack(place, tuple(sorted(sizes, key=lambda size: size[0] * size[1])))
        for place, sizes in by_place.items()
    )
