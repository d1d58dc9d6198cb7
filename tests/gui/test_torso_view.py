# SPDX-License-Identifier: MIT
"""The form as the person beside it sees it: turned, lit, and with left and right written on it."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.domain.lines import Seam, What
from fitassist.domain.ready_forms import ready_forms
from fitassist.files import resources_dir
from fitassist.gui import theme
from fitassist.gui.drawings import view_box
from fitassist.gui.form_figure import dial_spot, line_y
from fitassist.gui.torso_view import Label, TorsoView, side_labels
from tests.gui.pictures import pixels_of, shot

FORMS = resources_dir() / "forms"


def form_with(rows: list[Row], lines: list[FormLine], parts: int = 4) -> Form:
    dials = [
        Dial(name=f"{row.name}.{seam.value}", least=0, greatest=10, number=0)
        for row in rows
        for seam in Seam
    ]
    return Form(name="mine", parts=parts, lines=tuple(lines), rows=tuple(rows), dials=tuple(dials))


@pytest.fixture
def four_part_form() -> Form:
    heights = {"bust": 160.0, "ribs": 80.0, "waist": 0.0, "hip": -205.0}
    return form_with(
        [Row(name=name, line=name) for name in heights],
        [FormLine(name=name, height_mm=height) for name, height in heights.items()],
    )


def words_at(labels: tuple[Label, ...], left: bool, middle: float) -> set[str]:
    beside = [label for label in labels if "from" not in label.text.split()]
    return {label.text for label in beside if (label.where.center().x() < middle) == left}


def test_left_and_right_are_crossed_when_she_faces_you_and_straight_from_behind(
    qtbot, four_part_form
):
    # Two people face to face have their left hands at opposite sides; one behind the other do not.
    assert side_labels("front") == ("form's right (your left)", "form's left (your right)")
    assert side_labels("back") == ("form's left (your left)", "form's right (your right)")
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(280, 400)
    assert words_at(view.labels(), True, 140) == {"form's right (your left)"}
    assert words_at(view.labels(), False, 140) == {"form's left (your right)"}
    view.turn("back")
    assert words_at(view.labels(), True, 140) == {"form's left (your left)"}
    assert words_at(view.labels(), False, 140) == {"form's right (your right)"}


def test_a_left_dial_stands_on_the_side_that_says_left(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(280, 400)
    for seen in ("front", "back"):
        view.turn(seen)
        for side in ("left", "right"):
            spot = view.dial_at(seen, f"bust.{side}")
            assert spot is not None
            on_left = spot.x() < 140
            (said,) = words_at(view.labels(), on_left, 140)
            assert said.startswith(f"form's {side}")


@pytest.mark.parametrize(
    ("asked", "dials", "shown"),
    [
        ("front", ["bust.left", "bust.right"], ("front",)),
        ("back", ["bust.back"], ("back",)),
        ("front", ["bust.front", "bust.left", "bust.back", "bust.right"], ("front", "back")),
        ("front", ["bust.back"], ("front", "back")),
        ("auto", ["bust.back", "bust.left"], ("back",)),
        ("auto", ["bust.left"], ("front",)),
        ("side", ["bust.left"], ("side",)),
        ("front", ["bust.unknown", "nothing"], ("front",)),
    ],
)
def test_the_form_turns_so_that_every_dial_meant_is_seen(
    qtbot, four_part_form, asked, dials, shown
):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.show_dials(asked, dials)
    assert view.shown == shown
    for dial in set(dials) & {d.name for d in four_part_form.dials}:
        assert any(view.dial_at(seen, dial) for seen in shown)


def test_a_lit_dial_is_painted_in_thread_where_it_stands_and_only_there(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(280, 400)
    assert not pixels_of(shot(view), theme.LIGHT.thread)
    view.show_dials("front", ["hip.left"])
    lit = pixels_of(shot(view), theme.LIGHT.thread)
    spot = view.dial_at("front", "hip.left")
    assert lit
    assert spot is not None
    assert all(abs(x - spot.x()) < 16 and abs(y - spot.y()) < 16 for x, y in lit)
    view.clear()
    assert not pixels_of(shot(view), theme.LIGHT.thread)


def test_both_figures_show_the_lit_side_dials(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.DARK)
    qtbot.addWidget(view)
    view.resize(420, 400)
    view.show_dials("front", ["waist.left", "waist.back"])
    lit = pixels_of(shot(view), theme.DARK.thread)
    for seen in ("front", "back"):
        spot = view.dial_at(seen, "waist.left")
        assert spot is not None
        assert any(abs(x - spot.x()) < 12 and abs(y - spot.y()) < 12 for x, y in lit)


@pytest.mark.parametrize(
    ("what", "shown"),
    [
        (What.GIRTH, ("front",)),
        (What.FRONT, ("front",)),
        (What.BACK, ("back",)),
        (What.LEFT_HALF, ("front", "back")),
        (What.RIGHT_HALF, ("front", "back")),
        (What.BREADTH, ("front",)),
        (What.DEPTH, ("side",)),
    ],
)
def test_a_line_is_shown_from_where_the_tape_can_be_seen(qtbot, four_part_form, what, shown):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(420, 400)
    view.show_line("ribs", what)
    assert view.shown == shown
    assert pixels_of(shot(view), theme.LIGHT.thread)


def test_the_left_half_of_a_line_lies_on_the_forms_left_in_both_views(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(420, 400)
    view.show_line("hip", What.LEFT_HALF)
    lit = {x for x, _y in pixels_of(shot(view), theme.LIGHT.thread)}
    assert min(lit) >= 105 - 3  # centre of the front view
    assert max(lit) <= 315 + 3  # centre of the back view


def test_a_length_that_is_no_line_of_the_form_is_shown_where_it_runs(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(280, 400)
    view.show_line("back_neck_to_waist", What.LENGTH)
    assert view.shown == ("back",)
    assert pixels_of(shot(view), theme.LIGHT.thread)


def test_a_line_of_the_owners_own_lies_between_its_neighbours_by_height(four_part_form):
    bust, waist = line_y(four_part_form, "bust"), line_y(four_part_form, "waist")
    assert line_y(four_part_form, "ribs") == pytest.approx((bust + waist) / 2, abs=0.01)


def test_heights_above_the_floor_place_a_line_as_heights_above_the_waist_do(four_part_form):
    lines = [FormLine(name=x.name, height_mm=x.height_mm + 1040) for x in four_part_form.lines]
    above_floor = form_with(list(four_part_form.rows), lines)
    assert line_y(above_floor, "ribs") == pytest.approx(line_y(four_part_form, "ribs"))


def test_rows_without_any_height_still_have_places_of_their_own():
    names = ["bust", "ribs", "waist"]
    form = form_with([Row(name=n, line=n) for n in names], [FormLine(name=n) for n in names])
    ys = [line_y(form, name) for name in names]
    assert ys == sorted(ys)
    assert len(set(ys)) == 3


def test_the_two_rows_of_a_waist_that_parts_across_do_not_lie_on_each_other():
    rows = [
        Row(name="upper", line="waist", half="upper"),
        Row(name="lower", line="waist", half="lower"),
    ]
    form = form_with(rows, [FormLine(name="waist", height_mm=0)], parts=8)
    upper, lower = (dial_spot(form, "front", f"{row}.front") for row in ("upper", "lower"))
    assert upper is not None
    assert lower is not None
    assert lower.y() - upper.y() > 40


@pytest.mark.parametrize("key", sorted(ready_forms(FORMS)))
@pytest.mark.parametrize("size", [(180, 240), (420, 400), (40, 30)])
def test_every_ready_form_paints_at_any_size_without_a_complaint_of_qt(qtbot, key, size):
    form = ready_forms(FORMS)[key]
    view = TorsoView(form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(*size)
    for seen in ("front", "back", "side"):
        view.turn(seen)
        shot(view, 2.0)
    view.show_dials("front", [dial.name for dial in form.dials])
    shot(view)
    for line in form.lines:
        view.show_line(line.name)
        shot(view)


def test_every_dial_of_every_ready_form_has_a_place_inside_the_figure():
    for form in ready_forms(FORMS).values():
        for dial in form.dials:
            spots = [dial_spot(form, seen, dial.name) for seen in ("front", "back", "side")]
            found = [spot for spot in spots if spot is not None]
            assert found, dial.name
            assert all(view_box("form_front").contains(spot) for spot in found)


def test_the_proportions_are_kept_in_a_wide_and_in_a_tall_window(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    box = view_box("form_front")
    for width, height in ((900, 300), (200, 900)):
        view.resize(width, height)
        place = view.figure_rect("front")
        assert place.width() / place.height() == pytest.approx(box.width() / box.height())
        assert QRectF(view.rect()).contains(place)


@pytest.mark.parametrize("size", [(280, 400), (340, 420), (300, 260), (180, 240)])
@pytest.mark.parametrize("dials", [["bust.front"], ["bust.front", "bust.back"]])
def test_the_words_fit_their_room_and_keep_clear_of_each_other(qtbot, four_part_form, size, dials):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.show_dials("front", dials)
    if size[0] < view.minimumSizeHint().width():
        view.turn("front")
    view.resize(*size)
    metrics = QFontMetricsF(view.label_font())
    taken: list[QRectF] = []
    for label in view.labels():
        parts = label.text.replace(" (", "\n(").split("\n")
        width = max(metrics.horizontalAdvance(part) for part in parts)
        assert width <= label.where.width() + 0.5, label.text
        middle = label.where.center().x()
        words = QRectF(middle - width / 2, label.where.y(), width, len(parts) * metrics.height())
        assert words.bottom() <= view.height() + 1
        assert not any(words.intersects(other) for other in taken)
        taken.append(words)


def test_what_is_lit_is_also_said_in_words(qtbot, four_part_form):
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.show_dials("front", ["bust.left"])
    assert view.accessibleName() == "The form, from the front"
    assert "bust, form's left (your right" in view.accessibleDescription()
    view.show_dials("back", ["bust.left"])
    assert "bust, form's left (your left" in view.accessibleDescription()
    view.show_line("ribs")
    assert "ribs" in view.accessibleDescription()
    assert "bust" not in view.accessibleDescription()


def test_without_colours_of_its_own_the_view_wears_the_theme(qtbot, four_part_form):
    view = TorsoView(four_part_form)
    qtbot.addWidget(view)
    view.resize(280, 400)
    view.show_dials("front", ["bust.front"])
    assert pixels_of(shot(view), theme.palette().thread)


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_words_below_two_views_never_meet_at_any_size_of_type(qapp, qtbot, four_part_form, scale):
    theme.apply(qapp, "light", scale)
    view = TorsoView(four_part_form, theme.LIGHT)
    qtbot.addWidget(view)
    view.resize(290 if scale == 1.0 else 405, 320)
    view.show_dials("front", [f"bust.{seam}" for seam in Seam])
    wide = QFontMetricsF(view.label_font()).horizontalAdvance
    sides = [label for label in view.labels() if "(" in label.text]
    assert len(sides) == 4
    drawn = []
    for label in sides:
        half = max(wide(part) for part in label.text.replace(" (", "\n(").split("\n")) / 2
        middle = label.where.center().x()
        drawn.append((middle - half, middle + half))
    drawn.sort()
    assert drawn[0][0] >= 0
    assert drawn[-1][1] <= view.width()
    assert all(left[1] < right[0] for left, right in itertools.pairwise(drawn))
