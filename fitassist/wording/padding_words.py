# SPDX-License-Identifier: MIT
"""What is printed on templates and said of padding by eye."""

from __future__ import annotations

from collections.abc import Sequence

from fitassist.domain.units import AnyUnit, Unit, format_length
from fitassist.wording.language import N_, _, ngettext
from fitassist.wording.lengths import say_length
from fitassist.wording.places import line_name

_PLACES = {
    "all_round": N_("all round"),
    "left_cup": N_("left cup"),
    "right_cup": N_("right cup"),
    "left_side": N_("left side"),
    "right_side": N_("right side"),
    "left_shoulder_blade": N_("left shoulder blade"),
    "right_shoulder_blade": N_("right shoulder blade"),
    "rounded_back": N_("rounded back"),
    "midriff": N_("midriff"),
    "small_of_back": N_("small of the back"),
    "tummy": N_("tummy"),
    "left_front_hip": N_("left front hip"),
    "right_front_hip": N_("right front hip"),
    "left_hip": N_("left hip"),
    "right_hip": N_("right hip"),
    "left_seat": N_("left seat"),
    "right_seat": N_("right seat"),
    "left_shoulder": N_("left shoulder"),
    "right_shoulder": N_("right shoulder"),
}
_CENTRES = {
    "centre_front": N_("centre front"),
    "centre_back": N_("centre back"),
    "left_side": N_("left side"),
    "right_side": N_("right side"),
}
_SEAMS = {
    "front": N_("front gap"),
    "left": N_("left gap"),
    "back": N_("back gap"),
    "right": N_("right gap"),
}
_PRINTED = {
    "up": N_("up"),
    "full_size": N_("Print at 100 %, without fitting to the page."),
    "measure": N_("Measure both squares with your ruler before cutting."),
    "square_mm": N_("100 mm"),
    "square_in": N_("4 in"),
    "join": N_("Lay the sheets over one another until the crosses meet, then tape them."),
    "feather": N_("Thin each edge from the dashed line outwards."),
    "overview": N_("Sheets and pieces"),
    "one_side": N_("Fix to one side of the seam only."),
    "mirror": N_("and its mirror image"),
    "wedge_tip": N_("tip of the shoulder"),
}


def place_text(place: str) -> str:
    """Return the name of a place of padding."""
    known = _PLACES.get(place)
    return _(known) if known else place.replace("_", " ")


def mark_text(name: str) -> str:
    """Return the name of a line or a centre line that crosses a piece."""
    known = _CENTRES.get(name)
    return _(known) if known else line_name(name)


def strip_text(seam: str) -> str:
    """Return the name of the strip over an open seam."""
    return _(_SEAMS[seam])


def layer_text(layer: int, layers: int, plies: int) -> str:
    """Say which layer a piece is and how many to cut: "layer 2 of 4, cut 3"."""
    if plies == 1:
        return _("layer {layer} of {layers}").format(layer=layer, layers=layers)
    return _("layer {layer} of {layers}, cut {plies}").format(
        layer=layer, layers=layers, plies=plies
    )


def part_text(part: int, parts: int) -> str:
    """Say which part of a split piece this is."""
    return _("part {part} of {parts}").format(part=part, parts=parts)


def cut_text(width_mm: float, length_mm: float, unit: AnyUnit) -> str:
    """Say how much of a material all pieces take: "On material 137.0 cm wide: 42.0 cm"."""
    said = _("On material {width} wide all sheets take {length}, strips included.")
    width = say_length(width_mm, unit)
    if Unit(unit) == Unit.IN:  # materials are sold by whole inches
        width = f"{format_length(width_mm, unit, denominator=1)} in"
    return said.format(width=width, length=say_length(length_mm, unit))


def distortion_text(share: float) -> str:
    """Say how far a flat shape differs from the form it is to lie on."""
    return _("eased by up to {percent} %").format(percent=round(100.0 * share))


def printed(key: str) -> str:
    """Return a fixed sentence of a printed page."""
    return _(_PRINTED[key])


def by_eye_text(place: str, sizes_mm: Sequence[tuple[float, float]], unit: AnyUnit) -> str:
    """Say the layers of a place: "left cup: 3 layers, 5 × 4, 6 1/2 × 5, 8 × 6 in".

    Inches are told to the half, which is what padding laid by eye can hold; cm to the half too.
    """
    layers = ngettext("{n} layer", "{n} layers", len(sizes_mm)).format(n=len(sizes_mm))
    sizes = ", ".join(size_text(wide, high, unit, with_unit=False) for wide, high in sizes_mm)
    return f"{place_text(place)}: {layers}, {sizes} {Unit(unit).value}"


def size_text(width_mm: float, height_mm: float, unit: AnyUnit, with_unit: bool = True) -> str:
    """Say how wide and high a piece is: "6 1/2 × 5 in"."""
    said = f"{_to_half(width_mm, unit)} × {_to_half(height_mm, unit)}"
    return f"{said} {Unit(unit).value}" if with_unit else said


def _to_half(mm: float, unit: AnyUnit) -> str:
    if Unit(unit) == Unit.IN:
        return format_length(mm, unit, denominator=2)
    step = 5.0
    return format_length(round(mm / step) * step, unit)
