# SPDX-License-Identifier: MIT
"""Tables of forms on offer, in every writing a spreadsheet makes, and hostile ones."""

from __future__ import annotations

import csv
import io

import pandas
import pytest

from fitassist.choosing.table import MOST_BYTES, MOST_ROWS, read_table
from fitassist.errors import BadFile

INCH_MM = 25.4


def one(text: str, unit: str = "cm", encoding: str = "utf-8"):
    table = read_table(text.encode(encoding), unit)
    assert table.complaints == ()
    (candidate,) = table.candidates
    return candidate


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_separators_and_encodings_are_told_apart(separator, encoding):
    text = (
        separator.join(["Name", "Bust", "Waist"]) + "\n" + separator.join(["Größe", "84-107", "64"])
    )
    found = one(text, encoding=encoding)
    assert found.name == "Größe"
    assert (found.girths_mm["bust"].least_mm, found.girths_mm["bust"].greatest_mm) == (840, 1070)
    assert not found.girths_mm["waist"].turns


@pytest.mark.parametrize(
    ("cell", "unit", "least", "greatest"),
    [
        ("84-107", "cm", 840, 1070),
        ("84,5 – 107,5", "cm", 845, 1075),
        ("84.5 to 107", "cm", 845, 1070),
        ("840-1070 mm", "in", 840, 1070),
        ("33 1/2-41", "in", 33.5 * INCH_MM, 41 * INCH_MM),
        ("33 - 41 1/2 in", "cm", 33 * INCH_MM, 41.5 * INCH_MM),
        ("33-41 in", "cm", 33 * INCH_MM, 41 * INCH_MM),
        ('33"-41"', "cm", 33 * INCH_MM, 41 * INCH_MM),
        ("90", "cm", 900, 900),
    ],
)
def test_a_range_in_a_cell_is_read_in_any_writing(cell, unit, least, greatest):
    found = one(f"name;bust\nx;{cell}", unit).girths_mm["bust"]
    assert (found.least_mm, found.greatest_mm) == pytest.approx((least, greatest))


def test_a_range_may_stand_in_two_columns_and_a_unit_in_one_of_its_own():
    found = one("form,unit,Chest from,chest to,hips least,hips greatest\nx,in,33,41,35,43", "cm")
    assert found.girths_mm["bust"].greatest_mm == pytest.approx(41 * INCH_MM)
    assert found.girths_mm["hip"].least_mm == pytest.approx(35 * INCH_MM)


def test_words_and_lengths_are_understood():
    head = "name,for,post,pins,waist moves,shoulder,torso,height,inside leg"
    found = one(head + "\nx,men,suspended,no,yes,12.5,40-44,120-150,76")
    assert (found.made_for, found.post, found.takes_pins, found.waist_shifts) == (
        "man", "hanging", False, True,
    )  # fmt: skip
    assert found.lengths_mm["back_neck_to_waist"].greatest_mm == 440
    assert set(found.lengths_mm) == {
        "shoulder_length", "back_neck_to_waist", "floor_to_shoulder", "inside_leg",
    }  # fmt: skip


def test_a_cell_that_is_not_clear_is_told_by_row_and_column_and_the_rest_is_taken():
    head = "name;bust;waist least;waist greatest;post;colour\n"
    text = head + "a;x;70;60;sideways;red\nb;84-107;;80;;\n;1"
    table = read_table(text.encode(), "cm")
    assert [c.name for c in table.candidates] == ["a", "b"]
    assert [(c.row, c.column, c.code) for c in table.complaints] == [
        (2, "bust", "length_no_number"),
        (2, "waist least", "least_not_below_greatest"),
        (2, "post", "not_allowed"),
        (3, "waist greatest", "no_least"),
        (4, "name", "blank"),
    ]
    assert table.passed_over == ("colour",)
    assert table.candidates[1].girths_mm.keys() == {"bust"}


@pytest.mark.parametrize("writer", ["csv", "pandas"])
def test_tables_written_by_others_come_through_quotes_line_breaks_and_all(writer):
    rows = [("name", "bust", "waist"), ('A "fine", form', "84-107", "64-87"), ("=1+1", "90", "70")]
    if writer == "csv":
        out = io.StringIO()
        csv.writer(out).writerows(rows)
        text = out.getvalue()
    else:
        text = pandas.DataFrame(rows[1:], columns=list(rows[0])).to_csv(index=False)
    table = read_table(text.encode(), "cm")
    assert [c.name for c in table.candidates] == ['A "fine", form', "=1+1"]
    assert table.candidates[0].girths_mm["waist"].greatest_mm == 870


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "no_table"),
        (b"bust,waist\n1,2", "no_table"),
        (b"\x00\x01\x02name", "unreadable"),
        (b"x" * (MOST_BYTES + 1), "too_large"),
        (b"name,bust\n" + b"a,90\n" * (MOST_ROWS + 5), "too_many"),
    ],
    ids=["empty", "no names", "no text", "large", "long"],
)
def test_what_is_no_table_of_forms_is_refused(data, code):
    with pytest.raises(BadFile) as caught:
        read_table(data, "cm")
    assert caught.value.code == code
