# SPDX-License-Identifier: MIT
"""Pieces laid flat: exact on cylinder and cone, and wrong on a sphere by as much as is known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import dblquad
from shapely.geometry import Point, Polygon, box

from fitassist.padding.flatten import flatten
from fitassist.padding.surface import Section, build_surface
from tests.unit.padding.shells import ellipse


def surface_of(radius_at, heights):
    parts = []
    for z in heights:
        ring = ellipse(radius_at(z), radius_at(z), 1440)
        parts.append(Section(f"{z:.1f}", float(z), ring, ring))
    return build_surface(parts)


def test_a_piece_on_a_cylinder_is_cut_as_wide_and_high_as_it_lies() -> None:
    surface = surface_of(lambda _z: 140.0, (0.0, 100.0, 200.0))
    (flat,) = flatten(surface, box(100.0, 40.0, 220.0, 130.0))
    size = np.ptp(flat.outline_mm, axis=0)
    assert size == pytest.approx([120.0, 90.0], rel=1e-3)
    assert flat.distortion < 1e-3
    assert abs(flat.area_error) < 1e-3


def test_a_whole_ring_of_a_cone_is_the_sector_of_its_development() -> None:
    # Right circular cone, radius 150 at the bottom and 90 at 160 mm: slant lengths from the apex
    # 400 and 240 / 0.936..., a ring between heights has area pi (r1 + r2) slant (school geometry).
    r1, r2, h = 150.0, 90.0, 160.0
    surface = surface_of(lambda z: r1 + (r2 - r1) * z / h, np.linspace(0.0, h, 9))
    width = surface.width_mm
    (flat,) = flatten(surface, box(0.0, 0.0, width / 4, h))
    slant = float(np.hypot(h, r1 - r2))
    area = np.pi * (r1 + r2) * slant / 4
    assert Polygon(flat.outline_mm).area == pytest.approx(area, rel=2e-3)
    assert flat.distortion < 4e-3
    apex = slant * r1 / (r1 - r2)
    angle = 2.0 * np.pi * r1 / apex / 4  # of the developed quarter
    chord = 2.0 * apex * np.sin(angle / 2)
    assert np.ptp(flat.outline_mm[:, 0]) == pytest.approx(chord, rel=2e-3)


@pytest.mark.parametrize("middle_deg", [0.0, 25.0])
def test_a_cap_of_a_sphere_is_too_large_by_what_the_polyconic_map_says(middle_deg) -> None:
    # Area scale of the polyconic projection of a sphere (map projection textbooks, from memory):
    # (1 - cos^2(lat) cos(lon sin(lat))) / sin^2(lat).
    radius = 200.0
    heights = radius * np.sin(np.radians(np.linspace(-55.0, 65.0, 61)))
    surface = surface_of(lambda z: np.sqrt(radius**2 - z**2), heights)
    half_lon, half_lat = np.radians(22.0), np.radians(18.0)
    middle = np.radians(middle_deg)
    low, high = radius * np.sin([middle - half_lat, middle + half_lat])
    across = half_lon / (2.0 * np.pi) * surface.width_mm
    flats = flatten(surface, box(-across, low, across, high))

    def scale(lon, lat):
        sine = np.sin(lat) ** 2
        if sine < 1e-6:
            return 1.0 + lon**2 / 2
        return (1.0 - np.cos(lat) ** 2 * np.cos(lon * np.sin(lat))) / sine

    parts = len(flats)
    half = half_lon / parts  # of each strip about its own middle
    area, _ = dblquad(
        lambda lon, lat: scale(lon, lat) * np.cos(lat) * radius**2,
        middle - half_lat, middle + half_lat, -half, half,
    )  # fmt: skip
    got = np.mean([Polygon(flat.outline_mm).area for flat in flats])
    true = 2.0 * half * radius**2 * (np.sin(middle + half_lat) - np.sin(middle - half_lat))
    assert area > true * 1.001
    assert got == pytest.approx(area, rel=4e-3)
    # Told: on the cells of the grid, which reach less far than the outline's edge.
    assert flats[0].area_error == pytest.approx(area / true - 1.0, abs=0.012)


def test_what_cannot_lie_flat_is_split_and_then_lies_flatter() -> None:
    radius = 130.0
    heights = radius * np.sin(np.radians(np.linspace(-60.0, 60.0, 41)))
    surface = surface_of(lambda z: np.sqrt(radius**2 - z**2), heights)
    small = flatten(surface, Point(0.0, 0.0).buffer(30.0))
    assert len(small) == 1
    large = flatten(surface, Point(0.0, 0.0).buffer(110.0))
    assert len(large) > 1
    assert {piece.parts for piece in large} == {len(large)}
    assert max(piece.distortion for piece in large) < 0.08
