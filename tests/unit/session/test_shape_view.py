# SPDX-License-Identifier: MIT
"""A body in the round and a form beside it: what is drawn, what is said, what is left out."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from fitassist.domain.body import Body, Target
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.measurements import Catalogue, load_catalogue
from fitassist.domain.ready_forms import ready_forms
from fitassist.geometry.shape_prior import OUTLINE_LINES, ShapePriors, load_priors
from fitassist.session.shape_form import row_gaps
from fitassist.session.shape_view import ShapeView, shape_view

RESOURCES = Path(__file__).resolve().parents[3] / "resources"
GIRTHS = {"bust": 985.0, "waist": 800.0, "hip": 1040.0}


@cache
def priors() -> ShapePriors:
    return load_priors(RESOURCES / "shape" / "prior.npz")


@cache
def catalogue() -> Catalogue:
    return load_catalogue(RESOURCES / "measurements.json")


@cache
def a_form(name: str = "eight_parts_split_across") -> Form:
    return ready_forms(RESOURCES / "forms")[name]


def a_body(*more: tuple[str, What, float], kind: str = "woman", **girths: float) -> Body:
    told = [(line, What.GIRTH, mm) for line, mm in {**GIRTHS, **girths}.items()]
    return Body.model_validate(
        {
            "name": "Everyday",
            "kind": kind,
            "targets": [
                Target(line=line, what=what, value_mm=mm, spread_mm=5.0)
                for line, what, mm in (*told, *more)
            ],
        }
    )


def seen(body: Body, form: Form | None = None, kind: str | None = None) -> ShapeView:
    return shape_view(body, form, priors(), catalogue(), kind)  # type: ignore[arg-type]


def noted(view: ShapeView) -> set[str]:
    return {note.code for note in view.notes}


def length(points: np.ndarray) -> float:
    return float(np.hypot(*(np.roll(points, -1, axis=0) - points).T).sum())


def test_three_girths_give_six_outlines_with_bands_round_them() -> None:
    view = seen(a_body())
    assert [section.line for section in view.lines] == list(OUTLINE_LINES)
    for section in view.lines:
        assert section.is_measured == (section.line in GIRTHS)
        assert length(section.inner) < length(section.body) < length(section.outer)
        # A convex band of even width w on each side is longer by 2 pi w (Steiner).
        wider = (length(section.outer) - length(section.inner)) / (4.0 * math.pi)
        assert wider == pytest.approx(section.band_mm, rel=0.02)
    by_line = {section.line: section for section in view.lines}
    for line, mm in GIRTHS.items():
        assert by_line[line].girth_mm == pytest.approx(mm, abs=3.0)


@pytest.mark.parametrize("there", [{}, {"bust": 900.0}, {"bust": 900.0, "hip": 1000.0}])
def test_fewer_than_three_girths_say_what_to_measure(there: dict[str, float]) -> None:
    targets = tuple(Target(line=line, value_mm=mm) for line, mm in there.items())
    view = seen(Body(name="x", targets=targets), a_form())
    assert not view.lines
    assert view.missing[0] == ("waist" if there else "bust")
    assert set(view.missing).isdisjoint(there)


def test_another_reading_narrows_what_it_was_said_to_narrow() -> None:
    before = seen(a_body())
    best = before.sharper[0]
    section = next(s for s in before.lines if s.line == best.line)
    mm = {What.DEPTH: section.depth_mm, What.BREADTH: section.breadth_mm}[best.what]
    after = seen(a_body((best.line, best.what, mm)))
    then = next(s for s in after.lines if s.line == best.line)
    assert then.band_mm / section.band_mm == pytest.approx(best.left_at_line, abs=0.06)
    assert then.band_mm < 0.7 * section.band_mm
    assert best.key not in {one.key for one in after.sharper}


def test_only_what_can_be_measured_is_proposed_and_front_and_back_count_once() -> None:
    for body in (a_body(), a_body(("hip", What.DEPTH, 255.0), ("waist", What.DEPTH, 215.0))):
        told = seen(body).sharper
        assert 0 < len(told) <= 3
        assert all(catalogue().get(one.key) is not None for one in told)
        assert len({(one.line, one.what) for one in told}) == len(told)


@pytest.mark.parametrize("kind", ["child", "other"])
def test_children_and_others_are_drawn_with_no_assumption_and_a_wider_band(kind: str) -> None:
    woman, other = seen(a_body()), seen(a_body(kind=kind))
    assert (woman.kind, other.kind) == ("woman", "any")
    for one, wider in zip(woman.lines, other.lines, strict=True):
        assert wider.band_mm > one.band_mm
    assert seen(a_body(kind=kind), kind="woman").kind == "woman"


IMPOSSIBLE = [
    # 2 sqrt(500^2 + 500^2) is more than any girth of 1040; 2 (250 + 200) is less.
    ([("hip", What.BREADTH, 500.0), ("hip", What.DEPTH, 500.0)], "outline_breadth_depth_misfit"),
    ([("hip", What.BREADTH, 250.0), ("hip", What.DEPTH, 200.0)], "outline_breadth_depth_misfit"),
    ([("waist", What.LEFT_HALF, 300.0), ("waist", What.RIGHT_HALF, 310.0)], "outline_parts_misfit"),
    ([("waist", What.FRONT, 790.0)], "outline_parts_misfit"),
    (
        [("waist_to_high_hip", What.LENGTH, 210.0), ("waist_to_hip", What.LENGTH, 110.0)],
        "outline_lengths_out_of_order",
    ),
    ([("bust", What.DEPTH, 20.0)], "outline_bad_reading"),
]  # fmt: skip


@pytest.mark.parametrize(("told", "code"), IMPOSSIBLE)
def test_what_cannot_be_true_is_left_out_and_said(
    told: list[tuple[str, What, float]], code: str
) -> None:
    view = seen(a_body(*told))
    (note,) = (note for note in view.notes if note.code == code)
    assert set(note.keys) == {
        one.key
        for one in catalogue().measurements
        if (one.line, one.what) in {(line, what) for line, what, _mm in told}
    }
    plain = seen(a_body())
    for one, other in zip(view.lines, plain.lines, strict=True):
        assert np.allclose(one.body, other.body)


def test_all_that_cannot_be_true_at_once_still_gives_a_picture() -> None:
    view = seen(a_body(*(one for told, _code in IMPOSSIBLE for one in told)), a_form())
    assert len(view.lines) == len(OUTLINE_LINES)
    assert {code for _told, code in IMPOSSIBLE} <= noted(view)


def test_a_closed_form_measures_what_it_says_and_open_dials_make_it_larger() -> None:
    form = a_form()
    shut = {s.line: s.form for s in seen(a_body(), form).lines}
    wide = form.at({dial.name: dial.number + 4.0 for dial in form.dials if dial.row == "bust"})
    opened = {s.line: s.form for s in seen(a_body(), wide).lines}
    for line in ("bust", "waist", "hip"):
        known = form.line(line)
        assert known is not None
        assert known.closed_girth_mm is not None
        assert shut[line] is not None
        assert shut[line].girth_mm == pytest.approx(known.closed_girth_mm, abs=3.0)
        # By another library: the taut tape is the hull of the panels (Qhull).
        hull = ConvexHull(np.concatenate(shut[line].panels))
        assert hull.area == pytest.approx(shut[line].girth_mm, rel=1e-6)
    more = opened["bust"].girth_mm - shut["bust"].girth_mm
    assert 0.75 * 4.0 * 25.4 < more < 1.05 * 4.0 * 25.4
    assert opened["hip"].girth_mm == pytest.approx(shut["hip"].girth_mm, abs=4.0)  # the other half


def test_gaps_are_read_off_the_dials_and_a_missing_one_follows_its_row() -> None:
    form = a_form()
    row = next(row for row in form.rows if row.name == "bust")
    opened = form.at({"bust.front": 37.0, "bust.left": 36.0})
    gaps = row_gaps(opened, row)
    # A number names the whole girth: of 2 in more each of four seams gives a quarter.
    assert gaps["front"] == pytest.approx(2.0 * 25.4 / 4.0)
    assert gaps["left"] == pytest.approx(1.0 * 25.4 / 4.0)
    assert gaps["back"] == 0.0
    dials = tuple(d.model_copy(update={"missing": d.name == "bust.back"}) for d in opened.dials)
    without = opened.model_copy(update={"dials": dials})
    assert row_gaps(without, row)["back"] == pytest.approx(3.0 / 3.0 * 25.4 / 4.0)


def test_where_the_form_is_larger_it_is_said_to_stand_out_and_where() -> None:
    form = a_form()
    wide = form.at({d.name: d.greatest for d in form.dials if d.row == "waist"})
    waist = next(s for s in seen(a_body(), wide).lines if s.line == "waist")
    assert waist.form is not None
    assert waist.form.girth_mm > waist.girth_mm + 60.0
    # A girth larger by 2 pi t stands out by t on average (Steiner), and somewhere by more.
    assert waist.form.room.stands_out_mm > (waist.form.girth_mm - waist.girth_mm) / (2 * math.pi)
    assert waist.form.room.stands_out_at
    bust = next(s for s in seen(a_body(), form).lines if s.line == "bust")
    assert bust.form is not None
    assert bust.form.room.stands_out_at == ()
    assert bust.form.room.room_mm > 5.0


def test_heights_between_two_lines_are_convex_and_between_them_in_girth() -> None:
    view = seen(a_body(), a_form())
    assert view.stack is not None
    heights = view.stack.heights_mm
    for low, high in zip(view.lines[1:], view.lines, strict=False):
        middle = view.stack.at((low.height_mm + high.height_mm) / 2.0)
        assert min(low.girth_mm, high.girth_mm) - 1.0 <= middle.girth_mm
        assert middle.girth_mm <= max(low.girth_mm, high.girth_mm) + 1.0
        assert ConvexHull(middle.body).area == pytest.approx(length(middle.body), rel=1e-6)
        assert middle.form is not None
    for section in view.lines:
        assert view.stack.at(section.height_mm).girth_mm == pytest.approx(section.girth_mm, abs=0.5)
    assert view.stack.at(1e4).height_mm == heights[-1]


def test_silhouettes_go_through_the_lines_and_hold_the_band() -> None:
    view = seen(a_body(), a_form())
    assert view.silhouettes is not None
    body, inner, outer = (
        view.silhouettes.body, view.silhouettes.inner, view.silhouettes.outer,
    )  # fmt: skip
    assert view.silhouettes.form is not None
    for section in view.lines:
        at = int(np.abs(body.height_mm - section.height_mm).argmin())
        across = body.left_mm[at] - body.right_mm[at]
        assert across == pytest.approx(section.breadth_mm, abs=1e-6)
        assert inner.left_mm[at] < body.left_mm[at] < outer.left_mm[at]
        assert inner.front_mm[at] < body.front_mm[at] < outer.front_mm[at]


@pytest.mark.parametrize(
    ("key", "mm", "line", "code"),
    [
        # The form's bust line lies 6 1/2 in above its waist, its hip, the lowest line, 8 in below.
        ("waist_to_bust", 125.0, "bust", "below_row"),
        ("waist_to_bust", 205.0, "bust", "above_row"),
        ("waist_to_hip", 165.0, "hip", "above_row"),
        ("waist_to_hip", 250.0, "hip", "below_form"),
    ],
)
def test_a_fullest_place_off_its_row_is_said_once_its_height_was_measured(
    key: str, mm: float, line: str, code: str
) -> None:
    view = seen(a_body((key, What.LENGTH, mm)), a_form())
    (note,) = (note for note in view.notes if note.line == line)
    assert note.code == code
    known = a_form().line(line)
    assert known is not None
    assert known.height_mm is not None
    off = abs(abs(known.height_mm) - mm)
    assert note.values["off_mm"] == pytest.approx(off, abs=12.0)  # less what is usual pulls it back
    assert note.keys == (key,)


def test_heights_not_measured_say_nothing_of_rows_but_that_they_would() -> None:
    view = seen(a_body(), a_form())
    (note,) = (note for note in view.notes if note.code == "heights_not_measured")
    assert set(note.keys) == {"waist_to_bust", "waist_to_hip"}
    assert not {"above_row", "below_row", "below_form"} & noted(view)
    assert view.silhouettes is not None
    assert view.silhouettes.form is not None
    assert np.allclose(view.silhouettes.form.height_mm, view.silhouettes.body.height_mm)


def test_a_form_that_says_nothing_of_its_girths_is_said_to_be_unknown() -> None:
    form = a_form()
    lines = tuple(line.model_copy(update={"closed_girth_mm": None}) for line in form.lines)
    form = form.model_copy(update={"lines": lines, "dial_meaning": "seam_gap"})
    view = seen(a_body(), form)
    assert "form_outline_unknown" in noted(view)
    assert all(section.form is None for section in view.lines)


def test_what_a_form_taught_and_cannot_be_read_is_passed_over() -> None:
    spoilt = a_form().model_copy(update={"learned": {"version": 99}})
    for section in seen(a_body(), spoilt).lines:
        assert section.form is not None


def carried(
    back_mm: float, front_mm: float | None = None, straight_mm: float | None = None
) -> Body:
    lengths = {"back_neck_to_waist": back_mm, "front_waist_length": front_mm}
    if straight_mm is not None:
        lengths |= {"floor_to_waist": 1030.0, "floor_to_shoulder": 1030.0 + straight_mm}
    return a_body(*((k, What.LENGTH, mm) for k, mm in lengths.items() if mm is not None))


def test_how_a_body_is_carried_is_told_beside_its_silhouette() -> None:
    # Front less back of 10 to 90 mm counts as usual: 120 mm tips back, minus 20 mm to the front.
    form = a_form()
    assert seen(carried(400.0, 450.0), form).carriage is None
    upright, rounded = (seen(carried(400.0, mm), form).carriage for mm in (520.0, 380.0))
    assert upright is not None
    assert rounded is not None
    assert upright.tip_rad > 0.0 > rounded.tip_rad
    assert upright.note.reason.code.startswith("front_long")
    depth = next(s.depth_mm for s in seen(a_body()).lines if s.line == "waist")
    # 30 mm over the depth of the waist, which is guessed from its girth where it was not measured.
    assert math.tan(upright.tip_rad) == pytest.approx(30.0 / depth, rel=0.2)


def test_only_the_bodys_own_back_is_told_where_there_is_no_form() -> None:
    assert seen(carried(400.0, 520.0)).carriage is None
    dipped = seen(carried(400.0, straight_mm=430.0)).carriage
    assert dipped is not None
    assert (dipped.note.reason.code, dipped.tip_rad) == ("sway_back", 0.0)


def test_a_torso_pulled_longer_takes_the_forms_upper_half_up() -> None:
    form = a_form()
    standing = form.torso.length_mm
    bust, waist = form.line("bust"), form.line("waist")
    assert standing is not None
    assert bust is not None
    assert waist is not None
    assert bust.height_mm is not None
    assert waist.height_mm is not None
    there = ("waist_to_bust", What.LENGTH, bust.height_mm - waist.height_mm + 40.0)
    hip = ("waist_to_hip", What.LENGTH, 200.0)
    level = seen(a_body(there, hip, ("back_neck_to_waist", What.LENGTH, standing)), form)
    longer = seen(a_body(there, hip, ("back_neck_to_waist", What.LENGTH, standing + 40.0)), form)
    both = (level, longer)
    assert (level.pulled_mm, longer.pulled_mm) == pytest.approx((0.0, 40.0))
    assert "above_row" in noted(level)
    assert "above_row" not in noted(longer)  # pulled so, the row lies where the body is fullest
    at = [dict(zip(v.stack.form.lines, v.stack.form.heights_mm, strict=True)) for v in both]  # type: ignore[union-attr]
    assert at[0]["bust"] == pytest.approx(bust.height_mm - waist.height_mm)
    assert at[1]["bust"] - at[0]["bust"] == pytest.approx(40.0)
    assert at[1]["hip"] == pytest.approx(at[0]["hip"])  # below the waist all stays
    for view, lines in zip(both, at, strict=True):
        assert view.silhouettes is not None
        assert view.silhouettes.form is not None
        assert view.silhouettes.form.height_mm[-1] == pytest.approx(lines["upper_chest"])
