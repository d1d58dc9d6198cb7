# SPDX-License-Identifier: MIT
"""What the sheets about balance lines, cover and hem say."""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_

SEWING: Final[dict[str, str]] = {
    "figure_front": N_("front"),
    "figure_side": N_("side"),
    "figure_back": N_("back"),
    # balance lines
    "balance_title": N_("Balance lines of {name}"),
    "balance_lead": N_(
        "Lay narrow tape, 3 to 6 mm (1/8 to 1/4 in), on the finished form, over padding and cover. "
        "Pin it flat, look at it from two steps away, then fix it."
    ),
    "balance_centres": N_("Centres and levels"),
    "balance_cf": N_(
        "Centre front: in the middle of the front gap, from the neck to the lower edge, plumb."
    ),
    "balance_cb": N_("Centre back: the same in the middle of the back gap."),
    "balance_level": N_(
        "Bust, waist and hip: level all round. Set a marker to the height and turn the form."
    ),
    "balance_distances": N_("Distances"),
    "balance_sides_how": N_(
        "Each side line runs through these points; where front and back stand open differently, "
        "it leaves the seam. Left and right are the form's own."
    ),
    "balance_col_line": N_("Line"),
    "balance_col_cf": N_("CF, from each edge of the gap"),
    "balance_col_cb": N_("CB, from each edge of the gap"),
    "balance_col_height": N_("From the waist"),
    "balance_col_left": N_("Left side, from CF"),
    "balance_col_left_off": N_("of the left gap's middle"),
    "balance_col_right": N_("Right side, from CF"),
    "balance_col_right_off": N_("of the right gap's middle"),
    "balance_behind": N_("{mm} behind"),
    "balance_before": N_("{mm} before"),
    "balance_on_seam": N_("on it"),
    "balance_up": N_("{mm} up"),
    "balance_down": N_("{mm} down"),
    "balance_guessed": N_("Front and back were not measured apart at {lines}: {how}"),
    "balance_by_shape": N_("the side is where the outlines drawn from the girths put it."),
    "balance_by_half": N_("the side is put half-way round each half."),
    "balance_no_gap": N_(
        "The dials of this form print turns, so how wide a gap is has to be measured on it."
    ),
    "balance_rest": N_("Neck, shoulders, armholes"),
    "balance_neck": N_("Neck: round the base, {mm} in all, a little higher behind than in front."),
    "balance_neck_plain": N_("Neck: round the base, a little higher behind than in front."),
    "balance_shoulder": N_(
        "Shoulders: along the top edge from the neck tape outwards, {mm} long on each side."
    ),
    "balance_shoulder_plain": N_(
        "Shoulders: along the top edge from the neck tape to the end of the shoulder."
    ),
    "balance_armhole": N_(
        "Armholes: from the end of the shoulder, through a point {mm} from centre back at the "
        "middle of the blade."
    ),
    "balance_armhole_plain": N_(
        "Armholes: from the end of the shoulder round the edge of the armhole plate."
    ),
    "balance_underarm": N_(
        "Under the arm they cross the side line {mm} below the plate (common practice)."
    ),
    "balance_points": N_("Bust points: on the bust line, {mm} from centre front on each side."),
    "balance_points_plain": N_("Bust points: on the bust line, where it stands out most."),
    # hem
    "hem_title": N_("Hem of {name}"),
    "hem_lead": N_(
        "Set the marker beside the form to these heights above the floor the form stands on. "
        "Lengths run along the cloth from the lower edge of the waist tape."
    ),
    "hem_col_place": N_("Place"),
    "hem_col_length": N_("Length of cloth"),
    "hem_col_worn": N_("Above the floor, worn"),
    "hem_col_marker": N_("Set the marker to"),
    "hem_front": N_("Front"),
    "hem_side": N_("Sides"),
    "hem_back": N_("Back"),
    "hem_by": N_("Reckoned with"),
    "hem_waist": N_("Waist of the person above the floor, without shoes: {mm}"),
    "hem_shoe": N_("Shoes lift by: {mm}"),
    "hem_form": N_("Waist of the form above the floor: {mm}"),
    "hem_hip": N_(
        "Over the hip the cloth follows the body: {mm} below the waist it stands out by {out}."
    ),
    "hem_no_hip": N_("The cloth is taken to hang plumb from the waist."),
    "hem_same": N_("The form stands as high as the person in these shoes."),
    "hem_other": N_(
        "The form stands {mm} {which} than the person in these shoes; the marker makes up for it."
    ),
    "hem_higher": N_("higher"),
    "hem_lower": N_("lower"),
    "hem_steps_1": N_("Let the garment hang on the form for a night if it is cut on the bias."),
    "hem_steps_2": N_("Turn the form past the marker; do not walk the marker round the form."),
    "hem_steps_3": N_("Between front, side and back let the line run evenly."),
    "hem_blank": N_("When marked: date ____________   by ____________"),
}
