# SPDX-License-Identifier: MIT
"""What the page of sheets says."""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_

PAGE_OF_SHEETS: Final[dict[str, str]] = {
    "sheets_heading": N_("Sheets"),
    "sheets_list": N_("Sheets that can be printed"),
    "sheet_person": N_("The person's sheet"),
    "sheet_person_why": N_(
        "Two pages that bring this person back: dials, settings, results, padding, balance lines."
    ),
    "sheet_hanging": N_("To hang beside the form"),
    "sheet_hanging_why": N_("One large page for whoever sets the form to this person again."),
    "sheet_ribbons": N_("Ribbons, to cut by a table"),
    "sheet_ribbons_why": N_(
        "How long each ribbon is and where its marks stand, with room to write."
    ),
    "sheet_strips": N_("Ribbons at true size"),
    "sheet_strips_why": N_("Strips to cut out, on several pages that are joined."),
    "sheet_blank": N_("Ribbon first, numbers later"),
    "sheet_blank_why": N_("For measuring a body with ribbons alone; the numbers come afterwards."),
    "sheet_balance": N_("Balance lines"),
    "sheet_balance_why": N_(
        "Where narrow tape goes on the finished form: centres, levels, sides, armholes."
    ),
    "sheet_templates": N_("Padding templates"),
    "sheet_templates_why": N_("Every piece at true size, after a page to test the printer."),
    "sheet_cover": N_("Cover"),
    "sheet_cover_why": N_(
        "What to cut from a knit, how far each line is stretched, how it is sewn."
    ),
    "sheet_hem": N_("Hem"),
    "sheet_hem_why": N_("What to set the marker to at front, sides and back."),
    "sheets_paper": N_("Paper"),
    "sheets_units": N_("Lengths in"),
    "sheets_paper_A4": N_("A4"),
    "sheets_paper_A3": N_("A3"),
    "sheets_paper_Letter": N_("Letter"),
    "sheets_paper_roll": N_("Roll"),
    "sheets_blind": N_("Without body numbers"),
    "sheets_save": N_("Save as PDF…"),
    "sheets_print": N_("Print…"),
    "sheets_data": N_("Save as data…"),
    "sheets_data_why": N_("The same as JSON, for other programs."),
    "sheets_before": N_("Previous page"),
    "sheets_after": N_("Next page"),
    "sheets_larger": N_("Larger"),
    "sheets_whole": N_("Whole page"),
    "sheets_preview": N_("{title}, page {number} of {pages}"),
    "sheets_planning": N_("The padding is being worked out; the sheet follows in a moment."),
    "sheets_saved": N_("Saved as {name}."),
    "sheets_printed": N_("Sent to the printer. At 100 %, without fitting to the page."),
    "sheets_copies": N_(
        "What is saved or printed lies outside this program's folder: erasing a person does not "
        "erase it."
    ),
    "sheets_save_title": N_("Save the sheet as PDF"),
    "sheets_data_title": N_("Save the sheet as data"),
    "sheets_pdf_filter": N_("PDF (*.pdf)"),
    "sheets_json_filter": N_("JSON (*.json)"),
    "sheets_to_people": N_("Choose a person"),
    "sheets_file_person": N_("person sheet"),
    "sheets_file_hanging": N_("beside the form"),
    "sheets_file_ribbons": N_("ribbons"),
    "sheets_file_strips": N_("ribbons at true size"),
    "sheets_file_blank": N_("ribbon first"),
    "sheets_file_balance": N_("balance lines"),
    "sheets_file_templates": N_("padding templates"),
    "sheets_file_cover": N_("cover"),
    "sheets_file_hem": N_("hem"),
    # cover
    "ask_cover_test": N_(
        "Fold the knit, across its grain. Hold {rest} of the fold between two pins, pull until it "
        "gives no more, and read how long it is now."
    ),
    "ask_rest": N_("At rest"),
    "ask_stretched": N_("Stretched"),
    "ask_stretch": N_("It gives {percent} %."),
    "ask_manner": N_("Shape"),
    "ask_rectangle": N_("Rectangle"),
    "ask_tube": N_("Plain tube"),
    "ask_drafted": N_("Drafted"),
    "ask_ease": N_("Cut smaller by"),
    "ask_neck": N_("Neck of the form (may be empty)"),
    "ask_knit": N_("Thickness of the knit (may be empty)"),
    # hem
    "ask_waist": N_("Waist of the person above the floor, as measured"),
    "ask_form_waist": N_("Waist of the form above the floor"),
    "ask_shoe": N_("Shoes higher than then by"),
    "ask_hem_manner": N_("The hem"),
    "ask_level": N_("Level"),
    "ask_lengths": N_("By lengths"),
    "ask_worn": N_("Above the floor, worn"),
    "ask_front": N_("Front, from the waist"),
    "ask_side": N_("Sides, from the waist"),
    "ask_back": N_("Back, from the waist"),
}
