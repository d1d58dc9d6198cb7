# SPDX-License-Identifier: MIT
"""The sentences for what can go wrong with a table of forms on offer."""

from __future__ import annotations

from fitassist.wording.language import N_

CHOOSING_SENTENCES: dict[str, tuple[str, ...]] = {
    "no_table": (
        N_("This is no table of forms: its first row has to name the columns, one of them Name."),
        N_("Nothing was brought in. Put the names of the columns in the first row."),
    ),
    "too_many": (
        N_("There are more forms in this table than the {most} that are compared at once."),
        N_("Nothing was brought in. Take out those that cannot be meant."),
    ),
}
