# SPDX-License-Identifier: MIT
"""Tables as spreadsheets write them: letters, separators, heads, units, and hostile ones."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.measurements import load_catalogue
from fitassist.domain.units import Unit
from fitassist.errors import BadFile
from fitassist.session.column_guess import guess_columns, looks_like_heads, split_unit
from fitassist.session.people_table import MOST_COLUMNS, read_table
from fitassist.wording.import_words import HEAD_WORDS

CATALOGUE = load_catalogue(Path(__file__).parents[3] / "resources" / "measurements.json")
ROWS = [["Name", "Waist", "Größe"], ["Bärbel Żak", "71,4", "eins"], ["José", "28 1/8", "zwei"]]


def written(rows, separator: str = ";") -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\r\n").writerows(rows)
    return out.getvalue()


@pytest.mark.parametrize("separator", [";", "\t", ","])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_what_the_standard_library_wrote_is_read_as_it_was(encoding, separator) -> None:
    table = read_table(written(ROWS, separator).encode(encoding))
    assert [list(row) for row in table.rows] == ROWS
    assert table.separator == separator


def test_old_western_letters_are_known_for_what_they_are() -> None:
    rows = [["Name", "Taille"], ["Zoë Müller", "70"], ["François", "71"]]
    table = read_table(written(rows).encode("cp1252"))
    assert table.encoding == "cp1252"
    assert [list(row) for row in table.rows] == rows
    assert read_table(b"Name;x\n\x81\x8d;1\n").rows[1][1] == "1"  # bytes unused in cp1252


def test_a_guess_can_be_overruled() -> None:
    data = written(ROWS).encode("utf-8")
    assert read_table(data, separator=",").separator == ","
    assert "Ã¤" in read_table(data, encoding="cp1252").rows[1][0]
    with pytest.raises(BadFile) as caught:
        read_table(b"Name;\xe4\n", encoding="utf-8")
    assert caught.value.code == "table_letters"


@given(
    st.lists(
        st.lists(
            st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\r\n\x00")),
            min_size=2,
            max_size=4,
        ).filter(lambda row: any(cell.strip() for cell in row)),
        min_size=1,
        max_size=6,
    )
)
def test_any_cells_come_back_by_the_same_separator(rows) -> None:
    table = read_table(written(rows).encode("utf-8-sig"), "utf-8", ";")
    assert [list(row) for row in table.rows] == rows


def test_a_table_of_pandas_is_read_cell_by_cell() -> None:
    frame = pd.DataFrame({"Name": ["Ada", 'B "the" E', "c;d"], "Waist (cm)": [71.4, 80.0, 65.25]})
    table = read_table(frame.to_csv(index=False, sep=";", decimal=",").encode())
    assert table.rows[2][0] == 'B "the" E'
    assert table.rows[3] == ("c;d", "65,25")


def test_what_is_no_table_is_refused_by_name() -> None:
    for data, code in {
        b"": "table_empty",
        b"\n \n;;\n": "table_empty",
        b'Name;x\n"' + b"a" * 200_000: "table_cut",
        (";" * MOST_COLUMNS + "x\n").encode(): "table_columns",
    }.items():
        with pytest.raises(BadFile) as caught:
            read_table(data, "utf-8", ";")
        assert caught.value.code == code, data[:20]
    assert csv.field_size_limit() == 131_072  # as the standard library has it


def test_a_hundred_thousand_rows_are_read_whole() -> None:
    data = written([["Name", "Waist"], *([f"P {n}", "70"] for n in range(100_000))]).encode()
    table = read_table(data)
    assert len(table.rows) == 100_001
    assert table.rows[-1] == ("P 99999", "70")


@pytest.mark.parametrize(
    ("head", "found"),
    [
        ("Waist (cm)", ("waist", Unit.CM)),
        ("Hips [in]", ("hips", Unit.IN)),
        ('BUST "', ("bust", Unit.IN)),
        ("under_bust_mm", ("under bust", Unit.MM)),
        ("High hip, inches:", ("high hip", Unit.IN)),
        ("Waist", ("waist", None)),
        ("Skin", ("skin", None)),
        ("cm", ("cm", None)),
    ],
)
def test_a_head_tells_its_unit(head, found) -> None:
    assert split_unit(head) == found


def test_columns_are_guessed_from_heads_and_figures() -> None:
    heads = ["Full name", "Waist", "Hips mm", "Bust or chest", "Colour", "waist", "Measured on"]
    rows = [["Ada", "28 1/8", "982", "98,1", "red", "x", "2026-01-01"]] * 3
    columns = guess_columns(heads, rows, CATALOGUE, HEAD_WORDS, Unit.CM)
    assert [one.meaning for one in columns] == ["name", "waist", "hip", "bust", "", "", "date"]
    assert [one.unit for one in columns] == [None, Unit.IN, Unit.MM, Unit.CM, None, None, None]


def test_a_first_row_of_figures_is_no_head() -> None:
    assert looks_like_heads(["Name", "71"], CATALOGUE, HEAD_WORDS)
    assert looks_like_heads(["Wer", "Was"], CATALOGUE, HEAD_WORDS)
    assert not looks_like_heads(["Ada", "71,4"], CATALOGUE, HEAD_WORDS)
