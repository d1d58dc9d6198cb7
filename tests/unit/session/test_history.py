# SPDX-License-Identifier: MIT
"""Readings through time: what is more than the tape does by itself, by whose figures."""

from __future__ import annotations

import statistics
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitassist.domain.measurements import load_catalogue
from fitassist.domain.tape_error import FACTOR, TapeError, matters, tape_error
from fitassist.session.events import (
    BodyDescribed,
    Event,
    MeasurementBrought,
    MeasurementTaken,
    MeasuringBegan,
    Recorded,
)
from fitassist.session.history import body_history, pooled, repeats_of
from fitassist.session.person import fold_person
from fitassist.wording import history_words, people_words

CATALOGUE = load_catalogue(Path(__file__).parents[3] / "resources" / "measurements.json")
BODY = BodyDescribed(body_id="b", name="Everyday")


def took(mm: float, key: str = "waist") -> MeasurementTaken:
    return MeasurementTaken(body_id="b", measurement=key, mm=mm)


def told(mm: float, day: str, counts: bool = False) -> MeasurementBrought:
    return MeasurementBrought(body_id="b", measurement="waist", mm=mm, taken_on=day, counts=counts)


def person(*dated: tuple[str, Event]):
    events = [("2020-01-01", BODY), *dated]
    return fold_person(
        [Recorded(seq=i, at=f"{day}T08:00:00Z", event=e) for i, (day, e) in enumerate(events, 1)]
    )


def waist(state, repeats=None):
    lines = body_history(state.bodies["b"], CATALOGUE, repeats or {})
    return next(line for line in lines if line.measurement.key == "waist")


def test_a_difference_is_judged_by_the_published_range_until_there_are_own_repeats() -> None:
    # Barrios et al. 2016;16:49 (abstract): duplicate TEM of waist, hip and neck 2.0 to 19.3 mm.
    # sqrt(2) * 1.96 * TEM (from memory): 5.54 and 53.5 mm, worked by hand.
    tape = tape_error("large_girth", {}, CATALOGUE)
    assert tape is not None
    assert tape.source == "published"
    said = {5.5: "within_tape", 5.6: "may_be_tape", 53.4: "may_be_tape", 53.6: "change"}
    assert {mm: matters(mm, tape) for mm in said} == said
    assert {mm: matters(-mm, tape) for mm in said} == said


def test_where_nothing_was_published_nothing_is_called_a_change() -> None:
    for sort in ("length", "breadth", "depth", "height", "part_girth"):
        tape = tape_error(sort, {}, CATALOGUE)
        assert tape is None
        assert matters(100.0, tape) == "unknown"
        assert "nothing published" in history_words.tape_text(tape, "cm")


def test_own_repeats_count_once_there_are_enough_of_them() -> None:
    few, many = {"waist": (9, 36.0)}, {"waist": (6, 24.0), "hip": (4, 16.0)}
    assert tape_error("large_girth", few, CATALOGUE).source == "published"
    own = tape_error("large_girth", many, CATALOGUE)
    assert own == TapeError(2.0, 2.0, "own", 10)  # sqrt(40 / 10)
    assert tape_error("length", many, CATALOGUE) is None


@given(st.lists(st.tuples(st.floats(600, 900), st.floats(600, 900)), min_size=1, max_size=8))
def test_the_own_error_is_that_of_the_formula_for_pairs(pairs) -> None:
    # TEM = sqrt(sum of squared differences / 2N): Gupta & Zakaria, eq. 2.2.
    dated = [(f"2026-01-{day:02}", took(mm)) for day, pair in enumerate(pairs, 1) for mm in pair]
    freedom, squares = repeats_of(person(*dated))["waist"]
    expected = sqrt(sum((a - b) ** 2 for a, b in pairs) / (2 * len(pairs)))
    assert freedom == len(pairs)
    assert sqrt(squares / freedom) == pytest.approx(expected, abs=1e-9)


def test_repeats_of_several_people_are_taken_together() -> None:
    assert pooled([{"waist": (1, 2.0)}, {"waist": (2, 3.0), "hip": (1, 1.0)}]) == {
        "waist": (3, 5.0),
        "hip": (1, 1.0),
    }


def test_unchanged_lengths_are_called_a_change_once_in_twenty_times() -> None:
    # The meaning of the factor, by mathematics: the difference of two normal readings of spread
    # TEM exceeds it with probability 5 %.
    share = 2 * (1 - statistics.NormalDist(0, sqrt(2)).cdf(FACTOR))
    assert share == pytest.approx(0.05, abs=1e-4)


def test_days_stand_in_order_and_the_last_two_are_compared() -> None:
    state = person(
        ("2026-03-01", took(700)),
        ("2026-03-01", took(702)),
        ("2026-09-01", took(760)),
        ("2026-09-01", told(690, "2025-10-02")),
    )
    line = waist(state)
    assert [(d.day, d.mm, d.n) for d in line.days] == [
        ("2025-10-02", 690, 1),
        ("2026-03-01", 701, 2),
        ("2026-09-01", 760, 1),
    ]
    assert line.change_mm == 59
    assert line.matter == "change"
    assert (line.since_first_mm, line.since_first) == (70, "change")
    assert [d.counts for d in line.days] == [False, True, True]


def test_a_clock_set_back_changes_no_order() -> None:
    state = person(("2026-03-01", took(700)), ("1970-01-01", took(750)), ("2026-03-02", took(701)))
    line = waist(state)
    assert [d.mm for d in line.days] == [700, 750, 701]
    assert line.change_mm == -49
    assert history_words.reminder_text("2026-03-02", "1970-01-02") == ""


def test_measured_anew_a_new_reading_takes_the_place_of_the_old_line_by_line() -> None:
    began = MeasuringBegan(body_id="b")
    state = person(
        ("2026-03-01", took(700)),
        ("2026-03-01", took(950, "hip")),
        ("2026-09-01", began),
        ("2026-09-01", took(720)),
    )
    body = state.bodies["b"]
    assert [r.mm for r in body.readings["waist"]] == [720]
    assert [r.mm for r in body.readings["hip"]] == [950]
    assert [r.mm for r in body.past["waist"]] == [700]
    only = MeasuringBegan(body_id="b", after_seq=2, measurements=("waist",))
    state = person(("2026-03-01", took(700)), ("2026-09-01", took(720)), ("2026-09-01", only))
    assert [r.mm for r in state.bodies["b"].readings["waist"]] == [720]


def test_the_words_speak_of_the_tape_and_judge_nobody() -> None:
    matters_all = ("within_tape", "may_be_tape", "change", "unknown")
    keys = history_words.keys()
    fixed = [history_words.say(key) for key in keys if key != "heading"]
    every = [*map(history_words.matter_text, matters_all), *fixed]
    every += [history_words.difference_text(mm, "cm") for mm in (30, -30, 0)]
    for word in ("gain", "lost", "loss", "weight", "fat", "slim", "health", "bigger", "smaller"):
        assert not any(word in text.lower().split() for text in every), word


def test_a_reminder_names_the_month_and_only_after_half_a_year() -> None:
    assert history_words.reminder_text("2026-03-04", "2026-08-30") == ""
    assert history_words.reminder_text("2026-03-04", "2026-09-01") == "Last measured in March."
    assert history_words.reminder_text("2025-03-04", "2026-09-01") == "Last measured in March 2025."
    assert history_words.reminder_text("", "2026-09-01") == ""


def test_days_are_said_in_words() -> None:
    assert people_words.day_text("2026-03-04") == "4 March 2026"
    assert people_words.moment_text("2026-03-04T10:42:00+00:00") == "4 March 2026, 10:42 UTC"
    for odd in ("", "unknown", "2026-13-01", "9999"):
        assert isinstance(people_words.day_text(odd), str)
