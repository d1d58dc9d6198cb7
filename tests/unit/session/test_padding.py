# SPDX-License-Identifier: MIT
"""What is left for padding after the dials, how it is laid step by step, and what comes of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from fitassist.domain.body import Body, Target
from fitassist.domain.lines import What
from fitassist.geometry.shape_prior import load_priors
from fitassist.padding.girth_book import Reading
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.session.padding import PaddingTask, padding_task
from fitassist.session.padding_fixes import all_steps
from fitassist.session.padding_state import PaddingState, fold_padding, without_padding
from fitassist.session.padding_steps import Step, current
from fitassist.session.padding_work import PaddingWork, plan_work, standing_out, wraps_of
from tests.builders import a_body, a_form

PRIORS = load_priors(Path(__file__).parents[3] / "resources" / "shape" / "prior.npz")
GIRTHS = {"bust": 940.0, "under_bust": 800.0, "waist": 720.0, "high_hip": 900.0, "hip": 980.0}
SHEET_MM = 4.0
CHOICE = ev.PaddingChosen(material="low_loft", thickness_mm=SHEET_MM)


def a_whole_body(**girths: float) -> Body:
    told = {**GIRTHS, **girths}
    targets = tuple(Target(line=n, value_mm=mm, spread_mm=3.0) for n, mm in told.items())
    return Body(name="a body", targets=targets)


def a_task(body: Body, **form: object) -> PaddingTask:
    fitting = Fitting.start(body, a_form(**form))  # type: ignore[arg-type]
    return padding_task(fitting.started, fitting.view(), PRIORS)


@pytest.fixture(scope="module")
def work() -> PaddingWork:
    """A body some 5 to 8 cm larger than the form stands, all of its lines measured."""
    return plan_work(a_task(a_whole_body()), CHOICE, a_whole_body())


class Walk:
    """Does what is asked, on record, with a form on which a sheet works so thick."""

    def __init__(self, work: PaddingWork, true_mm: float) -> None:
        self.work, self.true_mm = work, true_mm
        self.log: list[ev.Recorded] = []

    @property
    def state(self) -> PaddingState:
        return fold_padding(self.log)

    @property
    def steps(self) -> list[Step]:
        return all_steps(self.work, self.state, a_form())

    @property
    def step(self) -> Step | None:
        return current(self.steps)

    def tell(self, event: ev.Event) -> None:
        self.log.append(ev.Recorded(seq=len(self.log) + 1, event=event))

    def truth(self, line: str) -> float:
        book = self.work.book
        assert book is not None
        return book.girths(book.sheets(self.work.laid_now(self.state)), self.true_mm)[line]

    def answer(self) -> None:
        step = self.step
        assert step is not None
        if step.kind == "piece":
            sheets = step.values["plies"]
            self.tell(ev.PieceLaid(step=step.id, place=step.place, sheets=sheets))
        elif step.kind == "measure":
            mm = self.truth(step.place)
            self.tell(ev.PaddedRead(step=step.id, line=step.place, mm=mm))
        elif step.kind in ("take_out", "put_in"):
            layers = -1 if step.kind == "take_out" else 1
            told = {"step": step.id, "place": step.place, "layers": layers}
            self.tell(ev.LayerChanged.model_validate(told))
        elif step.kind == "proof":
            self.tell(ev.ProofAnswered(question=step.place, answer="yes"))
        else:
            self.tell(ev.PaddingStepDone(step=step.id))

    def until(self, there: Callable[[Step], bool]) -> Step:
        for _ in range(200):
            step = self.step
            assert step is not None
            if there(step):
                return step
            self.answer()
        raise AssertionError("the steps do not come there")


# -- what is left ------------------------------------------------------------------------------


def test_where_only_two_girths_are_known_padding_goes_all_round_and_says_why():
    task = a_task(a_body(bust=940.0, waist=640.0 + 25.4))
    assert (task.why, task.sections) == ("outline_too_few_girths", ())
    assert [one.line for one in task.lines if one.wanted_mm > 0.0] == ["bust"]


@pytest.mark.parametrize(("sheets", "thickness"), [(1, 3.2), (2, 12.7), (5, 4.0)])
def test_sheets_all_round_are_as_many_as_steiner_says(sheets, thickness):
    # FACTS 3 row 1 (COMPUTED, Steiner): n sheets of t add 2 pi n t, whatever the section.
    task = a_task(a_body(bust=940.0, waist=700.0))
    short = 2.0 * math.pi * thickness * sheets
    (line,) = [one for one in task.lines if one.line == "bust"]
    line = type(line)(**{**line.__dict__, "short_mm": short + 1.0})
    (wrap,) = wraps_of((line,), thickness)
    assert (wrap.sheets, wrap.left_mm) == (sheets, pytest.approx(1.0))


def test_what_lies_within_tolerance_is_left_alone():
    girths = {"bust": 866.0, "waist": 666.0, "hip": 906.0}
    body = a_whole_body(**girths, under_bust=770.0, high_hip=800.0)
    fitting = Fitting.start(body, a_form())
    seen = {v.line: v for v in fitting.view().lines}
    near = a_whole_body(
        **{n: (seen[n].predicted_mm or 0.0) + 4.0 for n in girths},
        under_bust=770.0,
        high_hip=800.0,
    )
    task = padding_task(fitting.started.model_copy(update={"body": near}), fitting.view(), PRIORS)
    assert not any(one.wanted_mm for one in task.lines if one.line in girths)


def test_a_form_larger_than_the_body_is_said_to_stand_out_and_gets_nothing_there():
    body = a_whole_body(waist=600.0)
    work = plan_work(a_task(body), CHOICE, body)
    waist = work.task.line("waist")
    assert waist is not None
    assert waist.over_mm > 40.0
    assert waist.wanted_mm == 0.0
    assert "waist" in [one.line for one in standing_out(work)]
    assert work.book is not None
    assert work.plan is not None
    every = {n: piece.plies for n, piece in enumerate(work.pieces)}
    bare = work.book.girths(work.book.sheets({}), SHEET_MM)["waist"]
    assert work.book.girths(work.book.sheets(every), SHEET_MM)["waist"] - bare < math.pi * SHEET_MM


def test_every_sure_line_comes_to_its_girth_within_half_a_sheet_all_round(work):
    # The bound that padding is to keep: max(tolerance, pi t) at each line.
    assert work.book is not None
    every = {n: piece.plies for n, piece in enumerate(work.pieces)}
    girths = work.book.girths(work.book.sheets(every), SHEET_MM)
    for line in ("bust", "waist", "hip"):
        told = work.task.line(line)
        assert told is not None
        assert told.is_sure
        assert abs(girths[line] - told.goal_mm) <= max(6.35, math.pi * SHEET_MM)


def test_lines_the_form_was_never_described_or_measured_at_are_named(work):
    assert "high_hip" in work.task.unsure
    assert "bust" not in work.task.unsure


# -- the steps ---------------------------------------------------------------------------------


def test_strips_come_first_and_within_a_place_the_smallest_lies_next_to_the_form(work):
    steps = all_steps(work, PaddingState(), a_form())
    kinds = [one.kind for one in steps]
    assert kinds[0] == "search"
    assert kinds.index("strip") < kinds.index("piece")
    assert kinds[-1] == "count"
    by_place: dict[str, list[float]] = {}
    for one in steps:
        if one.kind == "piece":
            (number,) = one.values["numbers"]
            by_place.setdefault(one.place, []).append(work.pieces[number].outline.area)
    assert len(by_place) >= 3
    assert all(areas == sorted(areas) for areas in by_place.values())
    assert all(len(areas) <= 4 for areas in by_place.values())


def test_each_line_is_measured_once_all_that_lies_on_it_is_laid(work):
    steps = all_steps(work, PaddingState(), a_form())
    for at, step in enumerate(steps):
        if step.id.startswith("measure:"):
            later = [n for one in steps[at:] for n in one.values.get("numbers", ())]
            assert not any(step.place in work.lines_of(n) for n in later)


def test_a_walk_on_a_sheet_as_assumed_ends_with_every_line_in_bounds(work):
    walk = Walk(work, SHEET_MM)
    while walk.step is not None:
        walk.answer()
    for line in ("bust", "waist", "hip"):
        told = work.task.line(line)
        assert told is not None
        assert abs(walk.truth(line) - told.goal_mm) <= max(6.35, math.pi * SHEET_MM)
    assert {one.about for one in walk.state.proof} == {"closes", "plumb", "sides"}


def test_readings_tell_how_thick_a_sheet_works(work):
    walk = Walk(work, 5.0)
    walk.until(lambda step: step.kind == "measure")
    assert work.working_mm(walk.state) == SHEET_MM
    walk.answer()
    assert work.working_mm(walk.state) == pytest.approx(5.0, abs=0.05)


def test_one_sheet_all_round_tells_its_thickness_as_steiner_does(work):
    # FACTS 3 row 1 (COMPUTED, Steiner), the other way round: t = added girth / (2 pi n).
    book = work.book
    assert book is not None
    bare = book.girths(book.sheets({}), SHEET_MM)["waist"]
    all_round = np.full(book.sheets({}).shape[1], 3.0)
    read = Reading("waist", bare + 2.0 * math.pi * 3 * 5.2, all_round)
    assert book.working_thickness([read], SHEET_MM) == pytest.approx(5.2, abs=0.01)


def test_too_much_takes_one_layer_out_from_underneath_and_measures_again(work):
    walk = Walk(work, 6.5)
    step = walk.until(lambda step: step.kind == "take_out")
    before = walk.truth(step.values["line"])
    sheets = work.laid_now(walk.state)
    walk.answer()
    again = walk.step
    assert again is not None
    assert (again.kind, again.place) == ("measure", step.values["line"])
    assert walk.truth(again.place) == pytest.approx(
        before - step.values["effect_mm"] * 6.5 / work.working_mm(walk.state), abs=2.0
    )
    after = work.laid_now(walk.state)
    gone = [n for n in sheets if after[n] < sheets[n]]
    # Underneath: of what lies at that place, the smallest.
    for number in gone:
        same = [n for n in sheets if work.pieces[n].place == work.pieces[number].place]
        assert work.pieces[number].order == min(work.pieces[n].order for n in same)


def test_what_looks_wrong_comes_before_anything_else(work):
    walk = Walk(work, SHEET_MM)
    walk.until(lambda step: step.kind == "measure")
    walk.tell(ev.PaddingLooked(place="cup", looks="ridge"))
    step = walk.step
    assert step is not None
    assert (step.kind, step.place) == ("thin", "cup")
    walk.answer()
    assert walk.step is not None
    assert walk.step.kind == "measure"


def test_a_garment_that_strains_leads_to_a_layer_there_and_is_asked_of_again(work):
    walk = Walk(work, SHEET_MM)
    walk.until(lambda step: step.kind == "proof")
    walk.tell(ev.ProofAnswered(question="closes", answer="strains_bust"))
    step = walk.step
    assert step is not None
    assert step.kind == "take_out"
    lying = [n for n in work.laid_now(walk.state) if step.place in work.pieces[n].place]
    assert any("bust" in work.lines_of(n) for n in lying)
    walk.answer()
    assert walk.step is not None
    assert (walk.step.kind, walk.step.place) == ("proof", "closes")


def test_where_no_padding_lies_the_proof_leads_to_a_dial():
    body = a_body(bust=940.0, waist=700.0)
    walk = Walk(plan_work(a_task(body), CHOICE, body), SHEET_MM)
    walk.tell(ev.ProofAnswered(question="closes", answer="strains_hip"))
    (step,) = [one for one in walk.steps if one.kind == "dial"]
    assert step.place == "hip"


def test_sizes_by_eye_are_one_step_a_place(work):
    choice = CHOICE.model_copy(update={"manner": "by_eye"})
    eye = PaddingWork(work.task, choice, work.plan)
    steps = all_steps(eye, PaddingState(), a_form())
    stacks = [one for one in steps if one.kind == "stack"]
    assert {one.place for one in stacks} == {piece.place for piece in work.pieces}
    laid = frozenset(one.id for one in stacks)
    every = {n: piece.plies for n, piece in enumerate(work.pieces)}
    assert eye.plies(laid, PaddingState()) == every


def test_a_higher_shoulder_gets_a_wedge_on_its_own_side():
    drops = {"shoulder_length": 125.0, "shoulder_drop_left": 40.0, "shoulder_drop_right": 56.0}
    lengths = tuple(Target(line=n, what=What.LENGTH, value_mm=mm) for n, mm in drops.items())
    body = a_whole_body()
    body = body.model_copy(update={"targets": (*body.targets, *lengths)})
    work = plan_work(a_task(body), CHOICE, body)
    assert work.wedge is not None
    place, wedge = work.wedge
    assert place == "left_shoulder"
    assert wedge.tip_mm == pytest.approx(16.0)  # by how much its drop is less


# -- the record --------------------------------------------------------------------------------


def recorded(*events: ev.Event) -> list[ev.Recorded]:
    return [ev.Recorded(seq=i, event=event) for i, event in enumerate(events, start=1)]


def test_what_is_undone_of_padding_does_not_count():
    laid = ev.PieceLaid(step="left_cup:1", place="left_cup")
    log = recorded(CHOICE, laid, ev.PaddedRead(line="bust", mm=900.0), ev.Undone(undone_seq=2))
    state = fold_padding(log)
    assert state.laid == ()
    assert state.read("bust") == 900.0
    assert state.last_seq == 3


def test_a_fitting_is_folded_as_if_nothing_had_been_laid():
    body, form = a_body(), a_form()
    plain: list[ev.Recorded] = []

    def keep(events: object) -> list[ev.Recorded]:
        new = [ev.Recorded(seq=len(plain) + i, event=e) for i, e in enumerate(events, start=1)]
        plain.extend(new)
        return new

    started = Fitting.start(body, form).started
    before = Fitting(started, keep)
    laid = recorded(CHOICE, ev.PieceLaid(step="left_cup:1", place="left_cup"))
    end = plain[-1].seq
    mixed = [
        *plain,
        *(ev.Recorded(seq=end + one.seq, event=one.event) for one in laid),
        ev.Recorded(seq=end + 3, event=ev.Undone(undone_seq=end + 2)),
    ]
    assert without_padding(mixed) == tuple(plain)
    after = Fitting(started, keep, without_padding(mixed))
    assert after.view() == before.view()
