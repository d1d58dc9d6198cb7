# SPDX-License-Identifier: MIT
"""What is said when people cannot be brought in, taken together or gone back to."""

from __future__ import annotations

from fitassist.wording.language import N_

NOTHING = N_("Nothing has changed.")

PEOPLE_SENTENCES: dict[str, tuple[str, ...]] = {
    "merge_under_way": (
        N_("A fitting is under way for {name}, and the other record has fittings of its own."),
        NOTHING,
        N_("Go on with that fitting to its end, or choose the two the other way round."),
    ),
    "same_person": (N_("That is the same record."), NOTHING, N_("Choose another one.")),
    "nothing_taken_in": (
        N_("There is no second record that could be brought back."),
        NOTHING,
        N_("Look among the earlier states instead."),
    ),
    "table_empty": (N_("There is nothing in this file."), N_("Choose another file.")),
    "table_letters": (
        N_("The letters of this file cannot be read this way."),
        N_("Nothing was brought in. Choose another way of reading the letters."),
    ),
    "table_cut": (
        N_("From row {row} on the table runs together: a quotation mark is missing."),
        N_("Nothing was brought in. Put the mark right, or choose another separator."),
    ),
    "table_rows": (
        N_("There are more than {most} rows."),
        N_("Nothing was brought in. Divide the table into several files."),
    ),
    "table_columns": (
        N_("There are more than {most} columns."),
        N_("Nothing was brought in. Choose another separator, or leave columns out of the file."),
    ),
    "table_no_name": (
        N_("No column is taken for the name yet."),
        N_("Choose the one that holds the names."),
    ),
    "table_name_known": (
        N_("{name} is kept here already."),
        N_("The row is left out."),
    ),
    "table_name_twice": (
        N_("{n} people called {name} are kept here, and the row could mean any of them."),
        N_("The row is left out."),
    ),
    "table_too_long": (
        N_("The text is longer than {longest} characters."),
        N_("It is left out."),
    ),
    "table_date": (
        N_("{text} is no day of the calendar."),
        N_("The readings are kept without a day. Write it as 2026-03-25."),
    ),
}
