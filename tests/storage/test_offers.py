# SPDX-License-Identifier: MIT
"""Forms on offer are kept as they were entered, and a file that is spoilt is never written over."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.choosing.candidate import Candidate, Range
from fitassist.errors import BadFile, StorageFailed
from fitassist.storage.offers import FILE_NAME, FORMAT, MOST, Offers, read_offers

ONE = Candidate(
    name="Linden & <b>Sons</b>, small",
    made_for="woman",
    girths_mm={"bust": Range(least_mm=840.0, greatest_mm=1041.4)},
    lengths_mm={"back_neck_to_waist": Range(least_mm=400.0, greatest_mm=400.0)},
    post="offset",
    takes_pins=False,
)


def test_nothing_kept_yet_is_an_empty_list(tmp_path):
    assert Offers(tmp_path).load() == ()


def test_what_is_kept_comes_back_as_it_was(tmp_path):
    Offers(tmp_path).save([ONE, ONE.model_copy(update={"name": "Ж 裁縫", "takes_pins": None})])
    again = Offers(tmp_path).load()
    assert again[0] == ONE
    assert (again[1].name, again[1].takes_pins) == ("Ж 裁縫", None)


def test_a_spoilt_file_is_told_and_kept_beside_when_others_are_saved(tmp_path):
    path = tmp_path / FILE_NAME
    path.write_bytes(b'{"format": "fitassist-forms-on-offer", "ver')
    with pytest.raises(BadFile):
        Offers(tmp_path).load()
    assert path.read_bytes().endswith(b'"ver')
    Offers(tmp_path).save([ONE])
    assert Offers(tmp_path).load() == (ONE,)
    aside = [p for p in tmp_path.iterdir() if p != path]
    assert [p.read_bytes()[-4:] for p in aside] == [b'"ver']


def test_more_than_can_be_compared_is_refused_and_nothing_is_written(tmp_path):
    Offers(tmp_path).save([ONE])
    with pytest.raises(BadFile) as caught:
        Offers(tmp_path).save([ONE] * (MOST + 1))
    assert caught.value.code == "too_many"
    assert Offers(tmp_path).load() == (ONE,)


def test_a_folder_that_is_gone_is_told(tmp_path):
    with pytest.raises(StorageFailed):
        Offers(tmp_path / "gone").save([ONE])


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        ([], "foreign_file"),
        ({"format": "other"}, "foreign_file"),
        ({"format": FORMAT, "version": 2, "candidates": []}, "newer_version"),
        ({"format": FORMAT, "version": True, "candidates": []}, "unknown_version"),
        ({"format": FORMAT, "version": 1}, "bad_document"),
        ({"format": FORMAT, "version": 1, "candidates": [{"name": ""}]}, "bad_document"),
        ({"format": FORMAT, "version": 1, "candidates": [{}] * (MOST + 1)}, "too_many"),
        (
            {
                "format": FORMAT,
                "version": 1,
                "candidates": [
                    {"name": "a", "girths_mm": {"bust": {"least_mm": 9, "greatest_mm": 3}}}
                ],
            },
            "bad_document",
        ),
    ],
)
def test_what_is_no_list_of_forms_on_offer_is_refused_by_its_fault(raw, code):
    with pytest.raises(BadFile) as caught:
        read_offers(json.dumps(raw).encode())
    assert caught.value.code == code


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data):
    try:
        read_offers(data)
    except BadFile:
        pass
    else:
        pytest.fail("bytes by chance are no list of forms")
