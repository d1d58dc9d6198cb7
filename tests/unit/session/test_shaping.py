# SPDX-License-Identifier: MIT
"""Shape asks seams for the girth; the girths stay what they were."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import DialMeaning
from fitassist.domain.lines import Seam, What
from fitassist.domain.shaping import Shaping, proposed_setting
from fitassist.domain.steps import Finished, Measure, Note
from fitassist.geometry import best_gaps, form_outline, outline_readings
from fitassist.geometry.shape_prior import load_priors
from fitassist.planning.layout import Layout
from fitassist.session import events as ev
from fitassist.session.first_minute import first_minute
from fitassist.session.fitting import Fitting
from fitassist.session.shaping import _clicks, _sided, _within_lengths, shaping_for
from fitassist.wording import reasons
from fitassist.wording.shaping_words import SHAPING_REASONS
from tests.builders import a_form
from tests.unit.session.test_fitting import Log, answered, at_end

PRIORS = load_priors(Path(__file__).parents[3] / "resources" / "shape" / "prior.npz")
GIRTHS = {"bust": 940.0, "under_bust": 800.0, "waist": 720.0, "high_hip": 900.0, "hip": 980.0}


def a_whole_body(**more: float) -> Body:
    targets = [Target(line=line, value_mm=mm, spread_mm=5.0) for line, mm in GIRTHS.items()]
    for key, mm in more.items():
        line, _, what = key.partition("__")
        targets.append(Target(line=line, what=What(what), value_mm=mm, spread_mm=5.0))
    return Body(name="a body", targets=tuple(targets))


def shaped(body: Body, setting: str = "nearest_girth", **form: object) -> Shaping:
    return shaping_for(body, a_form(**form), Preferences(), PRIORS, setting)  # type: ignore[arg-type]


def test_offsets_of_a_row_are_level_in_sum_and_the_same_left_and_right():
    offsets = shaped(a_whole_body()).offsets
    for row in ("bust", "waist", "hip"):
        four = [offsets[f"{row}.{seam}"] for seam in Seam]
        assert sum(four) == pytest.approx(0.0, abs=0.1)
        assert offsets[f"{row}.left"] == offsets[f"{row}.right"]


def test_a_deeper_body_of_the_same_girths_opens_its_sides_more():
    # Mathematics of moved panels: side gaps add depth, centre gaps add breadth.
    flat = shaped(a_whole_body(hip__depth=225.0)).offsets
    deep = shaped(a_whole_body(hip__depth=280.0)).offsets
    assert deep["hip.left"] > flat["hip.left"] + 0.5


def test_shoulders_no_wider_than_the_bodys_keep_the_centre_seams_nearly_shut():
    # Common practice, no source: opening centre front or back also spreads the shoulders.
    body = a_whole_body()
    narrow = body.model_copy(
        update={
            "targets": (
                *body.targets,
                Target(line="shoulder_length", what=What.LENGTH, value_mm=118.0),
            )
        }
    )
    free = shaped(narrow).offsets
    held = shaped(narrow, shoulder_length_mm=118.0).offsets
    assert held["bust.front"] <= free["bust.front"]
    assert held["bust.left"] >= max(held["bust.front"], held["bust.back"])


def with_lengths(body: Body, **lengths: float) -> Body:
    more = tuple(Target(line=k, what=What.LENGTH, value_mm=mm) for k, mm in lengths.items())
    return body.model_copy(update={"targets": (*body.targets, *more)})


@pytest.mark.parametrize(
    ("seam", "key"), [("front", "bust_point_to_bust_point"), ("back", "across_back")]
)
def test_a_centre_seam_opens_no_wider_than_the_length_across_it_allows(seam, key):
    # A centre gap parts what lies left and right of it by just its own width (mathematics).
    body = with_lengths(a_whole_body(), **{key: 200.0})
    form = a_form().model_copy(update={f"{key}_mm": 200.0})
    row = next(r for r in form.rows if r.name == "bust")
    gaps = dict.fromkeys(Seam, 20.0)
    held = _within_lengths(body, form, row, dict(gaps))
    assert held[Seam(seam)] == 0.0
    assert sum(held.values()) == pytest.approx(80.0)  # the sides give it instead
    wider = form.model_copy(update={f"{key}_mm": 190.0})
    assert _within_lengths(body, wider, row, dict(gaps))[Seam(seam)] == 10.0


def test_the_shorter_of_two_shoulders_holds_the_centre_seams():
    body = with_lengths(a_whole_body(), shoulder_length_left=130.0, shoulder_length_right=122.0)
    form = a_form(shoulder_length_mm=120.0)
    row = next(r for r in form.rows if r.name == "bust")
    held = _within_lengths(body, form, row, dict.fromkeys(Seam, 20.0))
    # A quarter of each of two equal gaps is what a shoulder gains: 2 mm are 4 mm of either gap.
    assert held[Seam.FRONT] == held[Seam.BACK] == pytest.approx(4.0)


def test_centre_seams_open_the_neck_no_wider_than_the_bodys():
    # Our own model: half of both centre gaps reaches the neck. 10 mm of room are 20 mm of gaps.
    body = a_whole_body(neck__girth=370.0)
    row = next(r for r in a_form().rows if r.name == "bust")
    gaps = {Seam.FRONT: 30.0, Seam.LEFT: 5.0, Seam.BACK: 10.0, Seam.RIGHT: 5.0}

    def held(neck_mm: float | None, **lengths: float) -> dict[Seam, float]:
        form = a_form(closed={"neck": neck_mm})
        found = _within_lengths(with_lengths(body, **lengths), form, row, dict(gaps))
        assert sum(found.values()) == pytest.approx(50.0)  # the sides give it instead
        assert found[Seam.LEFT] == found[Seam.RIGHT]
        return found

    assert held(None) == held(350.0) == gaps  # not known, and 40 mm of gaps are let through
    assert (held(360.0)[Seam.FRONT], held(360.0)[Seam.BACK]) == pytest.approx((15.0, 5.0))
    assert held(380.0)[Seam.FRONT] == held(380.0)[Seam.BACK] == 0.0
    without = _within_lengths(a_whole_body(), a_form(closed={"neck": 380.0}), row, dict(gaps))
    assert without == gaps
    waist = next(r for r in a_form().rows if r.name == "waist")
    below = _within_lengths(body, a_form(closed={"neck": 380.0}), waist, dict(gaps))
    assert below == gaps  # the waist does not reach the neck


def test_a_neck_as_large_as_the_bodys_moves_the_girth_to_the_sides():
    body = a_whole_body(neck__girth=360.0)
    free = shaped(body, closed={"neck": 320.0}).offsets
    held = shaped(body, closed={"neck": 360.0}).offsets
    assert held["bust.front"] < free["bust.front"]
    assert held["bust.left"] > free["bust.left"]
    assert held["hip.front"] == free["hip.front"]


def test_a_larger_left_half_opens_the_left_side_more_by_the_difference():
    halves = a_whole_body(hip__left_half=500.0, hip__right_half=480.0)
    alike = a_whole_body(hip__left_half=492.0, hip__right_half=488.0)
    gaps = _sided(halves, "hip", dict.fromkeys(Seam, 15.0))
    assert gaps[Seam.LEFT] - gaps[Seam.RIGHT] == pytest.approx(20.0)
    assert sum(gaps.values()) == pytest.approx(60.0)
    assert min(_sided(halves, "hip", dict.fromkeys(Seam, 4.0)).values()) == 0.0  # shut, not below
    offsets = shaped(halves).offsets
    assert offsets["hip.left"] > offsets["hip.right"] + 5.0
    offsets = shaped(alike).offsets
    assert offsets["hip.left"] == offsets["hip.right"]


def test_room_for_padding_asks_for_no_more_girth_than_the_body_has():
    shaping = shaped(a_whole_body(), "room_for_padding")
    assert shaping.girths_mm
    for line, girth in shaping.girths_mm.items():
        assert girth <= GIRTHS[line] + 1e-6


def test_too_few_girths_go_by_girth_alone_and_say_so():
    body = Body(name="b", targets=(Target(line="bust", value_mm=940.0),))
    shaping = shaped(body)
    assert shaping.offsets == {}
    assert shaping.doubts


def test_frame_first_without_a_frame_keeps_the_bust_and_says_so_in_the_first_minute():
    body, form = a_whole_body(), a_form()  # the form has no upper chest and no under-bust
    shaping = shaping_for(body, form, Preferences(), PRIORS, "frame_first")
    assert shaping.left_to_padding == ()
    started = ev.FittingStarted(fitting_id="f", body=body, form=form, shaping=shaping)
    said = [reasons.note(one, "in") for one in Fitting(started, Log()).view().first_minute]
    assert any("the bust is set by its own girth instead" in text for text in said)


def test_every_doubt_of_shape_is_said_in_a_sentence_of_its_own():
    body = Body(name="b", targets=(Target(line="bust", value_mm=940.0),))
    for code in SHAPING_REASONS:
        shaping = Shaping(doubts=(code,))
        started = ev.FittingStarted(fitting_id="f", body=body, form=a_form(), shaping=shaping)
        (said,) = first_minute(started)
        text = reasons.note(said, "in")
        assert text.endswith(".")
        assert text != reasons.note(Note(code="step"), "in")


def test_every_refusal_of_an_outline_has_a_sentence_for_the_first_minute():
    raised = set()
    for module in (outline_readings, best_gaps, form_outline):
        source = Path(module.__file__ or "").read_text(encoding="utf-8")
        raised |= set(re.findall(r'raise FitError\(\s*"(\w+)"', source))
    unreached = {"form_gap_below_zero", "form_girth_misfit"}  # gaps found here are never below 0
    assert raised - unreached <= set(SHAPING_REASONS)
    assert len(raised) > 5


def test_frame_first_offers_itself_where_the_bust_stands_out_far():
    def chest(mm: float) -> Body:
        body = a_whole_body()
        extra = Target(line="upper_chest", value_mm=mm)
        return body.model_copy(update={"targets": (*body.targets, extra)})

    assert proposed_setting(chest(910.0)) == "nearest_girth"
    assert proposed_setting(chest(830.0)) == "frame_first"
    assert proposed_setting(a_whole_body()) == "nearest_girth"


def test_frame_first_sets_the_bust_row_by_the_under_bust():
    form = a_form(closed={"under_bust": 710.0})
    body = a_whole_body()
    shaping = shaping_for(body, form, Preferences(), PRIORS, "frame_first")
    assert shaping.left_to_padding == ("bust",)
    started = ev.FittingStarted(fitting_id="f", body=body, form=form, shaping=shaping)
    fitting = Fitting(started, Log())
    asked = set()
    for _ in range(60):
        now = fitting.instruction
        if isinstance(now, Finished):
            break
        if isinstance(now, Measure):
            asked.add(now.line)
        answered(fitting, lambda f, now=now: f.instruction != now)
    assert "under_bust" in asked
    assert "bust" not in asked
    assert fitting.view().numbers["bust.front"] > form.numbers()["bust.front"]


def test_frame_first_shapes_the_bust_row_by_the_frame_and_not_by_the_cups():
    # The under-bust sets that row, so its depth is what opens the row's sides (moved panels).
    form = a_form(closed={"under_bust": 710.0})

    def offsets(setting: str, **more: float) -> list[float]:
        body = a_whole_body(**more)
        found = shaping_for(body, form, Preferences(), PRIORS, setting).offsets  # type: ignore[arg-type]
        return [found[f"bust.{seam}"] for seam in Seam]

    deep = {"under_bust__depth": 230.0}
    assert offsets("frame_first", **deep)[1] > offsets("frame_first")[1] + 0.5
    assert offsets("frame_first") != offsets("nearest_girth")


def test_a_shaped_fitting_still_ends_good_enough_with_its_seams_as_wished():
    body = a_whole_body()
    form = a_form()
    shaping = shaping_for(body, form, Preferences(), PRIORS, "nearest_girth")
    fitting = Fitting(
        ev.FittingStarted(fitting_id="f", body=body, form=form, shaping=shaping), Log()
    )
    answered(fitting, at_end)
    done = fitting.instruction
    assert isinstance(done, Finished)
    assert done.verdict == "good_enough"
    for row in ("bust", "waist", "hip"):
        clicks = {s: done.dials[f"{row}.{s}"] / 0.25 for s in Seam}
        mean = np.mean(list(clicks.values()))
        for seam, value in clicks.items():
            assert value - mean == pytest.approx(shaping.offsets[f"{row}.{seam}"], abs=3.0)


@pytest.mark.parametrize("missing", [(), ("bust.front",)])
@pytest.mark.parametrize("meaning", list(DialMeaning))
def test_offsets_open_seams_by_what_the_planner_holds_a_click_to_open(missing, meaning):
    plain = a_form(dial_meaning=meaning)
    dials = tuple(d.model_copy(update={"missing": d.name in missing}) for d in plain.dials)
    form = plain.model_copy(update={"dials": dials})
    gaps = {Seam.FRONT: 9.0, Seam.LEFT: 4.0, Seam.RIGHT: 4.0, Seam.BACK: 1.0}
    offsets = _clicks(form, form.rows[0], gaps)
    layout = Layout.of(form, [("bust", What.GIRTH)])
    click_mm = dict(zip(layout.dials, layout.steps * layout.unit_mm * layout.shares, strict=True))
    opened = {name: clicks * click_mm[name] for name, clicks in offsets.items()}
    # Differences between seams are those of the gaps; offsets are kept to a hundredth of a click.
    assert opened["bust.left"] - opened["bust.back"] == pytest.approx(3.0, abs=0.1)
    assert opened["bust.left"] == pytest.approx(opened["bust.right"])
