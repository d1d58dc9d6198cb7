# SPDX-License-Identifier: MIT
"""A table of forms that cannot be used is answered in words, with nothing left to guess."""

from __future__ import annotations

import pytest

from fitassist.choosing.table import MOST_ROWS, read_table
from fitassist.errors import BadFile
from fitassist.wording.sentences import sentence


def test_a_table_without_names_of_forms_says_what_its_first_row_needs() -> None:
    with pytest.raises(BadFile) as caught:
        read_table(b"colour,bust\nred,86\n", "cm")
    said = sentence(caught.value)
    assert "first row" in said
    assert "Nothing was brought in." in said


def test_a_table_that_is_too_long_says_how_many_forms_it_may_hold() -> None:
    rows = b"name\n" + b"form\n" * (MOST_ROWS + 1)
    with pytest.raises(BadFile) as caught:
        read_table(rows, "cm")
    assert str(MOST_ROWS) in sentence(caught.value).replace(",", "")
