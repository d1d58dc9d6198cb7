# SPDX-License-Identifier: MIT
"""Pages that are read: nothing runs out of them, words break, tables carry their heads on."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from fitassist.report.flow import EDGE_MM, TEXT_MM, Column, Flow, Foot, roughly
from fitassist.report.page import Text
from fitassist.report.paper import A4, LETTER, ROLL

FOOT = Foot("below", lambda number, pages: f"{number}/{pages}")
COLUMNS = [Column("name", 2.0), Column("figure", 1.0, True), Column("write", 1.0, is_written=True)]


@settings(max_examples=60)
@given(st.text(max_size=300), st.sampled_from([A4, LETTER, ROLL]))
def test_no_line_is_wider_than_the_page_and_no_letter_is_lost(text, paper) -> None:
    flow = Flow(paper)
    lines = flow.wrapped(text, TEXT_MM)
    assert all(roughly(line, TEXT_MM) <= flow.width_mm for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@settings(max_examples=30)
@given(st.integers(0, 120))
def test_a_long_table_goes_on_with_its_head_and_inside_the_edges(count) -> None:
    flow = Flow(A4)
    flow.table(COLUMNS, [[f"row {n}", "1", ""] for n in range(count)], row_mm=9.0)
    pages = flow.pages(FOOT)
    heads = [[i.text for i in p.items if isinstance(i, Text)].count("name") for p in pages]
    assert heads == [1] * len(pages)
    said = [i.text for p in pages for i in p.items if isinstance(i, Text)]
    assert [text for text in said if text.startswith("row")] == [f"row {n}" for n in range(count)]
    for page in pages:
        for item in page.items:
            if isinstance(item, Text):
                assert EDGE_MM - 0.1 <= item.at[1] <= page.height_mm - EDGE_MM + 2.1
    assert [i.text for i in pages[-1].items if isinstance(i, Text)][
        -1
    ] == f"{len(pages)}/{len(pages)}"


def test_a_heading_is_not_left_alone_at_the_foot_of_a_page() -> None:
    flow = Flow(A4)
    flow.space(flow.room_mm - 22.0)
    flow.heading("what follows")
    flow.paragraph("this")
    first, second = flow.pages(FOOT)
    assert "what follows" not in [i.text for i in first.items if isinstance(i, Text)]
    assert "what follows" in [i.text for i in second.items if isinstance(i, Text)]


def test_words_that_are_too_long_for_their_room_are_set_smaller() -> None:
    flow = Flow(A4)
    size = flow.fitted("x" * 40, 60.0, 4.0)
    assert roughly("x" * 40, size) <= 60.0 + 1e-9
    assert flow.fitted("x", 60.0, 4.0) == 4.0
