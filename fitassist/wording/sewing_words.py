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
    "hem_front": N_("Centre front"),
    "hem_side": N_("Sides"),
    "hem_back": N_("Centre back"),
    "hem_by": N_("Reckoned with"),
    "hem_waist": N_("Waist of the person above the floor, as it was measured: {mm}"),
    "hem_shoe": N_("The shoes worn now are higher by: {mm}"),
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
    # cover
    "cover_title": N_("Cover of {name}"),
    "cover_lead": N_(
        "A thin knit over form and padding, pulled snug. It may add no size that the fitting did "
        "not allow for."
    ),
    "cover_test": N_("The knit"),
    "cover_tested": N_(
        "Tested on a fold, across the grain: {rest} gave {stretched}, a stretch of {stretch}. "
        "Half of that, {most}, may be used (common practice)."
    ),
    "cover_cut": N_("Cut"),
    "cover_rectangle": N_(
        "One rectangle, {width} round the form and {height} high, seam allowances and lower hem in "
        "it. The knit gives round the form."
    ),
    "cover_drafted": N_(
        "One piece on the fold, from the pattern on the sheets that follow; add {seam} at every "
        "seam. The knit gives round the form."
    ),
    "cover_neck_tube": N_("A neck tube, {width} round and {height} long; it is folded in half."),
    "cover_which_neck": N_("Its girth goes by the form's own neck, measured where the tube sits."),
    "cover_base_of_neck": N_(
        "Its girth goes by the body's base of the neck; if the form's neck is narrower, measure "
        "that and print again."
    ),
    "cover_disc": N_(
        "For pins, on top of the neck: a disc of knit {disc} across over {layers} discs of foam "
        "{foam} across, each {thick} thick (common practice)."
    ),
    "cover_adds": N_("This knit adds {mm} to every girth; the fitting allowed for {allowed}."),
    "cover_adds_too_much": N_(
        "This knit adds {mm} to every girth, and the fitting allowed for {allowed}: take a thinner "
        "one, or set the thickness of the cover before the next fitting."
    ),
    "cover_strain": N_("How far it is stretched"),
    "cover_col_line": N_("Line"),
    "cover_col_girth": N_("Form"),
    "cover_col_cover": N_("Cover"),
    "cover_col_taken": N_("Taken out at centre back"),
    "cover_col_strain": N_("Stretched by"),
    "cover_col_most": N_("At most"),
    "cover_fabric": N_("Fabric needed"),
    "cover_col_width": N_("Width of the fabric"),
    "cover_col_length": N_("Length needed"),
    "cover_sew": N_("Sew"),
    "cover_rectangle_1": N_(
        "Put the rectangle round the form wrong side out, its open edges at centre back."
    ),
    "cover_rectangle_2": N_(
        "Pin it snug down centre back, a hand apart, by the table: more at the waist, less below."
    ),
    "cover_rectangle_3": N_("Pin the shoulders along the top edge, from the neck outwards."),
    "cover_rectangle_4": N_(
        "Take it off, stitch along the pins with a seam that gives, trim, cut the neck, turn it."
    ),
    "cover_drafted_1": N_("Join the sheets, cut the pattern, lay its straight edge to the fold."),
    "cover_drafted_2": N_("Sew the shoulders from the neck to the end and on down to the side."),
    "cover_drafted_3": N_("Pin centre back on the form, wrong side out, and correct what drags."),
    "cover_drafted_4": N_("Stitch centre back with a seam that gives, trim, turn it."),
    "cover_tube_1": N_("Sew the rectangle to a tube, right side in, with a seam that gives."),
    "cover_tube_2": N_("Pull it over from above, wrong side out, the seam at centre back."),
    "cover_tube_3": N_("Pin the shoulders along the top edge, from the neck outwards."),
    "cover_tube_4": N_("Take it off, stitch the shoulders, trim, cut the neck, turn it."),
    "cover_tube": N_("Sew the tube to the neck edge, stretched evenly, and fold its end inwards."),
    "cover_edge": N_(
        "Leave the lower edge straight and open, so that dials and padding can be reached later."
    ),
    "cover_cushion": N_("Gather the disc over the foam and fix it on top of the neck."),
    "cover_at_front": N_("centre front"),
    "cover_at_back": N_("centre back"),
    "cover_gives": N_("gives most"),
    "cover_pattern": N_("Half a cover at true size"),
    "cover_pattern_how": N_(
        "Seam allowances are not in it. The shoulder and the edge below it are one seam, trimmed "
        "on the form."
    ),
    "cover_fold": N_("centre front, on the fold"),
    "cover_edge_open": N_("lower edge, left open"),
    "cover_cut_one": N_("cover, cut 1 on the fold"),
    "cover_shoulder": N_("shoulder"),
    "cover_side": N_("to the side"),
    "cover_sew_on": N_("sewn together"),
    "cover_back_seam": N_("centre back seam at the right edge"),
}
