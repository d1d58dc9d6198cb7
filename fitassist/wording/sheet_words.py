# SPDX-License-Identifier: MIT
"""What stands on printed sheets and on the page that makes them."""

from __future__ import annotations

from typing import Final

from fitassist.domain.units import AnyUnit, Unit, format_length
from fitassist.wording.language import N_, _, plain
from fitassist.wording.page_of_sheets import PAGE_OF_SHEETS
from fitassist.wording.person_sheet_words import PERSON_SHEET
from fitassist.wording.sewing_words import SEWING

LONGEST_NOTE = 2000  # characters of a note that are printed

_SHEETS: Final[dict[str, str]] = {
    "page_of": N_("Page {number} of {pages}"),
    "all_in_in": N_("All lengths in inches."),
    "all_in_cm": N_("All lengths in centimetres."),
    "all_in_mm": N_("All lengths in millimetres."),
    "someone": N_("no name"),
    "not_measured": N_("not measured"),
    "missing_letters": N_(
        "Some letters of the words on this sheet cannot be drawn with the fonts here: {letters}"
    ),
    "no_fonts": N_("No font is installed on this computer, so no words can be printed."),
    # ribbons
    "ribbons_title": N_("Ribbons of {name}"),
    "ribbons_lead": N_(
        "Cut each ribbon from something that does not stretch. Leave {tail} beyond both end marks, "
        "draw a line across at every mark, and write the name on it. All distances run from the "
        "start mark; left and right are the wearer's own."
    ),
    "ribbons_girths": N_("Girths: start and end meet at centre front"),
    "ribbons_lengths": N_("Lengths"),
    "ribbons_quarters": N_(
        "Where front and back, or the two halves, were not measured apart, the marks stand at the "
        "quarters and at the half."
    ),
    "ribbons_use": N_("On the form"),
    "ribbons_use_1": N_("Lay the ribbon level, start mark at the middle of the front gap."),
    "ribbons_use_2": N_(
        "Marks that overlap: the form is smaller by the overlap. Marks apart: larger by the gap."
    ),
    "ribbons_use_3": N_(
        "The marks between tell where front, back and halves differ although the girth is right."
    ),
    "col_ribbon": N_("Ribbon"),
    "col_whole": N_("Start to end"),
    "col_left_side": N_("Left side"),
    "col_centre_back": N_("Half: centre back"),
    "col_right_side": N_("Right side"),
    "col_half": N_("Half"),
    "col_cut": N_("Cut"),
    "col_write": N_("Write here"),
    "mark_start": N_("start, centre front"),
    "mark_end": N_("end, centre front"),
    "mark_left_side": N_("left side"),
    "mark_centre_back": N_("centre back"),
    "mark_right_side": N_("right side"),
    "mark_from": N_("start, {place}"),
    "mark_to": N_("end, {place}"),
    "mark_half": N_("half"),
    "at_shoulder": N_("shoulder at the neck"),
    "at_bust": N_("bust point"),
    "at_back_neck": N_("back neck"),
    "at_waist": N_("waist line"),
    "strip": N_("{name}, {length}"),
    "strip_write": N_("read: ________  on: ________"),
    "strips_title": N_("Ribbons at true size"),
    "strips_lead": N_(
        "Cut along the lines and join the strips of a ribbon where the crosses meet. Lay each on a "
        "ribbon and copy the marks: paper alone tears."
    ),
    "blank_title": N_("Ribbon first, numbers later"),
    "blank_lead": N_(
        "For measuring with ribbons alone: no tape round the body, no number said aloud. The "
        "numbers are read from the ribbons afterwards."
    ),
    "blank_1": N_("Cut a ribbon that does not stretch for each line, a hand longer than needed."),
    "blank_2": N_("Draw a start mark a thumb's width from one end. Write the line's name there."),
    "blank_3": N_(
        "Lay it round the line, start mark at centre front, as firm as a belt that does not press."
    ),
    "blank_4": N_(
        "Mark on it: the wearer's left side, centre back, right side, and where it meets the start."
    ),
    "blank_5": N_("Do the next line. Keep all ribbons of a person together in one bag."),
    "blank_6": N_("Later, alone: lay each ribbon along a tape and write what stands at the marks."),
    "blank_7": N_("Type the distances from start to end into the measurements of this person."),
    "col_end": N_("End"),
    "blank_on": N_("Person: ______________________    Date: ______________    By: ______________"),
}
_TEXTS: Final = {**_SHEETS, **PERSON_SHEET, **SEWING, **PAGE_OF_SHEETS}


def words(key: str, **values: object) -> str:
    """Return the words of a key, with the user's own words made plain.

    Raises
    ------
    KeyError
        No such words.
    """
    text = _(_TEXTS[key])
    if not values:
        return text
    return text.format(**{k: plain(v, 200) if isinstance(v, str) else v for k, v in values.items()})


def word_keys() -> tuple[str, ...]:
    """Return every key there are words for."""
    return tuple(_TEXTS)


def note_text(text: str) -> str:
    """Return a user's note fit to be printed: its lines kept, nothing hidden in them."""
    lines = [plain(line, LONGEST_NOTE) for line in text[:LONGEST_NOTE].splitlines()]
    return "\n".join(line for line in lines if line)


def bare_length(mm: float, unit: AnyUnit) -> str:
    """Return a distance to lay out with a ruler without its unit, to 1/16 in or 1 mm."""
    return short_length(mm, unit).rpartition(" ")[0]


def short_length(mm: float, unit: AnyUnit) -> str:
    """Say a distance to lay out with a ruler: to 1/16 in or 1 mm, without words for its sign."""
    if Unit(unit) == Unit.IN:
        return f"{format_length(mm, unit, denominator=16)} in"
    return f"{format_length(mm, unit)} {Unit(unit).value}"
