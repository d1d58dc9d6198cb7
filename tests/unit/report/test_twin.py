# SPDX-License-Identifier: MIT
"""The person's sheet as data: the format in the developers' notes, whole or without numbers."""

from __future__ import annotations

import json

import pytest

from fitassist.domain.lines import What
from fitassist.errors import FitError
from fitassist.report.sheets import SHEETS, Wanted, pages_of
from fitassist.report.twin import SheetTwin, twin_json, twin_of
from tests.unit.report.told import a_target, some_facts, some_padding, words_on


def test_the_twin_reads_back_as_it_was_and_says_its_format_and_version() -> None:
    twin = twin_of(some_facts(), some_padding())
    text = twin_json(twin)
    assert SheetTwin.model_validate_json(text) == twin
    told = json.loads(text)
    assert (told["format"], told["version"]) == ("fitassist-sheet", 1)
    assert told["person"] == "Zoë Quill"
    assert told["dials"]["bust.front"] == 34.0
    assert told["torso_mm"] == 405.0
    assert [line["end"] for line in told["lines"]] == ["within", "short", "over"]
    assert told["padding"][0]["place"] == some_padding().plan.pieces[0].place
    assert told["on_slip_on"] is True
    assert {one["line"] for one in told["balance"]} == {"bust", "waist", "hip"}


def test_a_twin_without_body_numbers_holds_no_length_of_the_body() -> None:
    more = [a_target("across_back", 360.0, What.LENGTH)]
    told = json.loads(twin_json(twin_of(some_facts(more=more), some_padding(), is_blind=True)))
    assert told["has_body_numbers"] is False
    for key in ("torso_mm", "stand_mm", "lines", "balance", "notes"):
        assert key not in told
    assert all("width_mm" not in piece for piece in told["padding"])
    assert told["dials"]


def test_without_a_fitting_there_is_no_twin() -> None:
    with pytest.raises(FitError, match="sheet_no_form"):
        twin_of(some_facts(form=None))


@pytest.mark.parametrize("key", SHEETS)
def test_every_sheet_can_be_made_or_says_what_it_wants(key) -> None:
    if key in ("cover", "hem"):
        with pytest.raises(FitError, match="sheet_not_told"):
            pages_of(Wanted(key), some_facts())
        return
    pages = pages_of(Wanted(key), some_facts(), some_padding())
    assert pages
    assert words_on(pages)
    if key == "templates":
        with pytest.raises(FitError, match="sheet_no_padding"):
            pages_of(Wanted(key), some_facts(), None)


def test_with_nobody_chosen_only_the_blank_sheet_can_be_made() -> None:
    for key in SHEETS:
        if key == "blank":
            assert pages_of(Wanted(key), None)
        else:
            with pytest.raises(FitError, match="sheet_nobody"):
                pages_of(Wanted(key), None)
