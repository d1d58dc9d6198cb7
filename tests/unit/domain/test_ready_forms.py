# SPDX-License-Identifier: MIT
"""The form descriptions that come along can be read, make sense, and are all different."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from fitassist.domain.form import Form
from fitassist.domain.form_file import MAX_BYTES, form_from_json, form_to_json
from fitassist.domain.lines import LEG_LINES, NAMED_LINES
from fitassist.domain.ready_forms import ready_forms
from fitassist.errors import BadFile

FOLDER = Path(__file__).parents[3] / "resources" / "forms"
STEMS = ["eight_parts_split_across", "four_parts_whole_height", "no_dials_padded_up"]


@pytest.fixture(scope="module")
def forms() -> dict[str, Form]:
    return ready_forms(FOLDER)


def test_every_description_is_found_by_the_name_of_its_file(forms):
    assert [stem for stem in forms if stem in STEMS] == STEMS
    assert len({form.name for form in forms.values()}) == len(forms)


@pytest.mark.parametrize("stem", STEMS)
def test_a_description_has_all_named_lines_from_the_neck_down(forms, stem):
    form = forms[stem]
    assert tuple(line.name for line in form.lines) == NAMED_LINES
    heights = [line.height_mm for line in form.lines]
    assert heights == sorted(heights, reverse=True)
    assert form.line("waist").height_mm == 0
    assert form.line("hip").height_mm == -203.2  # 8 in


@pytest.mark.parametrize("stem", STEMS)
def test_dials_start_closed_and_a_closed_form_measures_its_least_number(forms, stem):
    form = forms[stem]
    for dial in form.dials:
        line = form.line(next(row.line for row in form.rows if row.name == dial.row))
        assert dial.number == dial.least
        assert line.closed_girth_mm == float(Fraction(dial.least) * Fraction(254, 10))
        # a whole number of clicks from closed to open
        assert ((dial.greatest - dial.least) / dial.click).is_integer()


@pytest.mark.parametrize("stem", STEMS)
def test_a_description_is_read_back_from_what_the_program_writes(forms, stem):
    assert form_from_json(json.loads(json.dumps(form_to_json(forms[stem])))) == forms[stem]


def test_four_parts_open_over_their_whole_height_at_four_seams_of_three_rows(forms):
    form = forms["four_parts_whole_height"]
    assert (form.parts, len(form.dials)) == (4, 12)
    assert [(row.name, row.half) for row in form.rows] == [
        ("bust", "whole"),
        ("waist", "whole"),
        ("hip", "whole"),
    ]


def test_eight_parts_are_split_across_pull_longer_and_have_a_neck_dial(forms):
    form = forms["eight_parts_split_across"]
    assert {row.half for row in form.rows} == {"upper", "lower"}
    assert [dial.name for dial in form.dials if dial.row == "neck"] == ["neck.back"]
    assert form.torso.greatest_mm > form.torso.least_mm


def test_a_form_without_dials_is_only_padded(forms):
    form = forms["no_dials_padded_up"]
    assert (form.rows, form.dials) == ((), ())
    assert all(line.closed_girth_mm for line in form.lines)


def test_a_form_with_legs_hangs_so_that_trousers_can_go_on_and_has_a_thigh(forms):
    form = forms["legs_no_dials_padded_up"]
    assert form.post == "hanging"
    assert [line.name for line in form.lines] == [*NAMED_LINES, *LEG_LINES]
    assert form.line("thigh").height_mm < form.line("hip").height_mm


def test_other_files_of_the_folder_are_left_alone(tmp_path):
    (tmp_path / "notes.txt").write_text("not a form", encoding="utf-8")
    assert ready_forms(tmp_path) == {}


def test_a_folder_that_is_not_there_is_refused_by_name(tmp_path):
    with pytest.raises(BadFile) as caught:
        ready_forms(tmp_path / "nowhere")
    assert (caught.value.code, caught.value.values["file"]) == ("unreadable", "nowhere")


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"\xff\xfe", "unreadable"),
        (b"{", "bad_json"),
        (b'{"name": 3}', "missing_field"),
        (b" " * (MAX_BYTES + 1), "too_large"),
    ],
    ids=["not text", "cut short", "no form", "large"],
)
def test_a_file_that_cannot_be_read_is_named(tmp_path, content, code):
    (tmp_path / "mine.json").write_bytes(content)
    with pytest.raises(BadFile) as caught:
        ready_forms(tmp_path)
    assert (caught.value.code, caught.value.values["file"]) == (code, "mine.json")
