# SPDX-License-Identifier: MIT
"""What sheets tell of padding is what the record says was chosen, laid and changed since."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from fitassist.domain.steps import Check
from fitassist.errors import FitError
from fitassist.geometry.shape_prior import ShapePriors, load_priors
from fitassist.padding.materials import Material
from fitassist.report.padding_facts import Padding, padding_of, piece_facts
from fitassist.report.paper import A4
from fitassist.report.person_sheet import person_pages
from fitassist.report.sheets import Wanted, pages_of
from fitassist.report.twin import twin_of
from fitassist.session import events as ev
from fitassist.session.padding_work import base_place
from fitassist.session.person import body_for_fitting, fold_person
from tests.builders import a_form
from tests.unit.report.told import a_record, catalogue, some_facts, some_padding, words_on

FELT = Material(key="felt", name="felt", least_mm=5, most_mm=5, width_mm=1800, mark="own choice")
CHOSEN = ev.PaddingChosen(material="felt", thickness_mm=5.0, carrier="slip_on")


@cache
def priors() -> ShapePriors:
    return load_priors(Path(__file__).resolve().parents[3] / "resources" / "shape" / "prior.npz")


def record(*more: ev.Event) -> tuple[ev.Recorded, ...]:
    """A body on a form that stays three inches and more too small."""
    body = body_for_fitting(fold_person(a_record()), "a", catalogue())
    form = a_form(closed={"bust": 800.0, "waist": 610.0, "hip": 850.0}, opened=0.0)
    started = ev.FittingStarted(fitting_id="f", body_id="a", body=body, form=form)
    return a_record(started, ev.Advised(instruction=Check(id=1, code="marks")), *more)


def test_nothing_is_told_before_padding_was_chosen_or_without_a_fitting() -> None:
    assert padding_of(record(), "a", priors()) is None
    assert padding_of(a_record(), "a", priors()) is None
    assert padding_of(a_record(CHOSEN), "a", priors()) is None


def test_pieces_follow_from_the_record_with_their_material_and_how_they_are_held() -> None:
    padding = padding_of(record(CHOSEN), "a", priors(), [FELT])
    assert padding is not None
    assert (padding.material, padding.is_slip_on, padding.thickness_mm) == ("felt", True, 5.0)
    pieces = piece_facts(padding)
    assert pieces
    assert [piece.number for piece in pieces] == list(range(1, len(pieces) + 1))
    assert pages_of(Wanted("templates"), some_facts(), padding)


def test_a_layer_taken_out_since_is_not_told_any_more() -> None:
    before = padding_of(record(CHOSEN), "a", priors())
    place = base_place(piece_facts(before)[0].place)
    fewer = ev.LayerChanged(step="s", place=place, layers=-1)
    after = padding_of(record(CHOSEN, fewer), "a", priors())

    def sheets(padding: Padding | None) -> int:
        return sum(p.plies for p in piece_facts(padding) if base_place(p.place) == place)

    assert sheets(after) < sheets(before)


def test_a_piece_of_no_sheets_is_left_out_and_the_others_are_numbered_anew() -> None:
    padding = some_padding()
    pieces = piece_facts(padding)
    fewer = piece_facts(replace(padding, plies={0: 0}))
    assert len(fewer) == len(pieces) - 1
    assert [piece.number for piece in fewer] == list(range(1, len(pieces)))


def test_where_only_girths_are_known_sheets_go_all_round_and_no_template_is_drawn() -> None:
    padding = padding_of(record(CHOSEN), "a", None)
    assert padding is not None
    assert padding.plan is None
    assert {line for line, _sheets in padding.wraps} >= {"bust", "hip"}
    with pytest.raises(FitError, match="sheet_no_pieces"):
        pages_of(Wanted("templates"), some_facts(), padding)


def test_what_the_tape_read_over_the_padding_is_on_the_sheet_but_not_without_numbers() -> None:
    read = ev.PaddedRead(step="s", line="bust", mm=902.0)
    padding = padding_of(record(CHOSEN, read), "a", priors())
    assert padding.read_mm == {"bust": 902.0}
    said = words_on(person_pages(some_facts(), A4, "cm", padding=padding))
    assert "Measured over the padding: bust 90.2 cm." in said
    blind = words_on(person_pages(some_facts(), A4, "cm", padding=padding, is_blind=True))
    assert "90.2" not in blind
    assert twin_of(some_facts(), padding).padded_mm == {"bust": 902.0}
    assert twin_of(some_facts(), padding, is_blind=True).padded_mm is None
